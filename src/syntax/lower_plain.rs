//! Words that are a line's whole meaning: from their spelling to the enums of the tree.

use crate::sources::Span;
use crate::syntax::errors::Unread;
use crate::syntax::lower_leaf::Leaves;
use crate::syntax::{ListWord, MoneyWord, Plain};

/// The word before a list.
pub(crate) fn list_word(leaves: Leaves<'_>, span: Span) -> Result<ListWord, Unread> {
    Ok(match leaves.text(span) {
        "used" => ListWord::Used,
        "took" => ListWord::Took,
        "made" => ListWord::Made,
        "lost" => ListWord::Lost,
        "kept" => ListWord::Kept,
        "needs" => ListWord::Needs,
        "takes" => ListWord::Takes,
        "wears" => ListWord::Wears,
        "gave" => ListWord::Gave,
        "got" => ListWord::Got,
        other if other.starts_with("aims") => ListWord::AimsAt,
        other if other.starts_with("packed") => ListWord::PackedWith,
        _ => return Err(Unread::Slip),
    })
}

/// The word before a sum; the commonest are lowered apart.
pub(crate) fn money_word(leaves: Leaves<'_>, span: Span) -> Result<MoneyWord, Unread> {
    Ok(match leaves.text(span) {
        "settled" => MoneyWord::Settled,
        "cash" => MoneyWord::Cash,
        "card" => MoneyWord::Card,
        "check" => MoneyWord::Check,
        "over" => MoneyWord::Over,
        "short" => MoneyWord::Short,
        "credit" => MoneyWord::Credit,
        "refunded" => MoneyWord::Refunded,
        "gross" => MoneyWord::Gross,
        "net" => MoneyWord::Net,
        "price" => MoneyWord::Price,
        other if other.starts_with("extra") => MoneyWord::ExtraFee,
        other if other.starts_with("fee") => MoneyWord::FeeBack,
        other if other.starts_with("wages") => MoneyWord::WagesElsewhere,
        _ => return Err(Unread::Slip),
    })
}

/// Words alone, with one blank between them.
pub(crate) fn plain(words: &str) -> Option<Plain> {
    Some(match words {
        "unpaid" => Plain::Unpaid,
        "nothing else" => Plain::NothingElse,
        "made nothing" => Plain::MadeNothing,
        "used as planned" => Plain::UsedAsPlanned,
        "took as planned" => Plain::TookAsPlanned,
        "shared by price" => Plain::SharedByPrice,
        "shared by count" => Plain::SharedByCount,
        "costing fifo" => Plain::CostingFifo,
        "costing average" => Plain::CostingAverage,
        "overhead from expenses" => Plain::OverheadFromExpenses,
        "cash basis" => Plain::CashBasis,
        "accrual basis" => Plain::AccrualBasis,
        "stock kept as inventory" => Plain::StockAsInventory,
        "stock kept as supplies" => Plain::StockAsSupplies,
        "whole dollars" => Plain::WholeDollars,
        "cents" => Plain::Cents,
        "short stock is an error" => Plain::ShortStockError,
        "short stock is a warning" => Plain::ShortStockWarning,
        "home" => Plain::Home,
        "indirect" => Plain::Indirect,
        "tallied exactly" => Plain::TalliedExactly,
        "tallied by surface measure" => Plain::TalliedBySurfaceMeasure,
        "as wear" => Plain::AsWear,
        "as packing" => Plain::AsPacking,
        "contractor" => Plain::Contractor,
        "employee" => Plain::Employee,
        "paid later" => Plain::PaidLater,
        "pays later" => Plain::PaysLater,
        "sales-tax collected by channel" => Plain::SalesTaxCollectedByChannel,
        "counts as overhead" => Plain::CountsAsOverhead,
        "counts as house cost" => Plain::CountsAsHouseCost,
        "expensed at once" => Plain::ExpensedAtOnce,
        "no bonus" => Plain::NoBonus,
        "mid-quarter" => Plain::MidQuarter,
        "de minimis elected" => Plain::DeMinimisElected,
        _ => return None,
    })
}
