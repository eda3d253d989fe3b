//! From the lines and words of the syntax tree to the kinds that the placement table knows.

use crate::syntax::placement_table::LineKind;
use crate::syntax::{DetailKind, Figure, ListWord, MoneyWord, Plain, Purpose, Reference};

/// The kind of a line.
pub(crate) fn line_kind(detail: &DetailKind) -> LineKind {
    use DetailKind as D;
    use LineKind as L;
    match detail {
        D::Items(word, _) => list_kind(*word),
        D::Money { purpose, .. } => purpose_kind(purpose),
        D::Sum(word, ..) => sum_kind(*word),
        D::Plain(plain) => plain_kind(*plain),
        D::Freight { shipping: false, .. } => L::Freight,
        D::Freight { shipping: true, .. } => L::Shipping,
        D::Discount(..) => L::Discount,
        D::SalesTax { figure: Figure::Money(_), .. } => L::SalesTax,
        D::SalesTax { figure: Figure::Percent(_), .. } => L::TaxIncluded,
        D::Paid { .. } => L::Paid,
        D::Available(_) => L::Available,
        D::To(_) => L::To,
        D::Note(_) => L::Note,
        D::Expected(_) => L::Expected,
        D::File(_) => L::File,
        D::Receipt(_) => L::Receipt,
        D::Seal(_) => L::Seal,
        D::ExchangeRate { .. } => L::ExchangeRate,
        D::Currency(_) => L::Currency,
        D::OwnerTime(_) => L::OwnerTime,
        D::OverheadRate(_) => L::OverheadRate,
        D::TaxForm(_) => L::TaxForm,
        D::SalesTaxTo(_) => L::SalesTaxTo,
        D::HomeWorkshop { .. } => L::HomeWorkshop,
        D::HoursPerWeek(_) => L::HoursPerWeek,
        D::MeasuredIn(_) => L::MeasuredIn,
        D::ReorderAt(_) => L::ReorderAt,
        D::FromMaterial(_) => L::FromMaterial,
        D::Conversion { .. } => L::Conversion,
        D::Line(_) => L::Line,
        D::Pattern(_) => L::Pattern,
        D::ForChildren { .. } => L::ForChildren,
        D::Allows(_) => L::Allows,
        D::Royalty(_) => L::Royalty,
        D::Costs(_) => L::Costs,
        D::Fee(..) => L::ChannelFee,
        D::PricesInclude(_) => L::PricesInclude,
        D::Consignment(_) => L::Consignment,
        D::Wholesale(_) => L::Wholesale,
        D::FormLine(_) => L::FormLine,
        D::BusinessUse(_) => L::BusinessUse,
        D::InUseFrom(_) => L::InUseFrom,
        D::RecoveredOver(_) => L::RecoveredOver,
        D::Section179(_) => L::Section179,
        D::Lasts(_) => L::Lasts,
    }
}

fn list_kind(word: ListWord) -> LineKind {
    match word {
        ListWord::Bare => LineKind::Item,
        ListWord::Used => LineKind::Used,
        ListWord::Took => LineKind::Took,
        ListWord::Made => LineKind::Made,
        ListWord::Lost => LineKind::Lost,
        ListWord::Kept => LineKind::Kept,
        ListWord::AimsAt => LineKind::AimsAt,
        ListWord::PackedWith => LineKind::PackedWith,
        ListWord::Gave => LineKind::Gave,
        ListWord::Got => LineKind::Got,
        ListWord::Needs => LineKind::Needs,
        ListWord::Takes => LineKind::Takes,
        ListWord::Wears => LineKind::Wears,
    }
}

fn purpose_kind(purpose: &Purpose) -> LineKind {
    match purpose {
        Purpose::For(_) => LineKind::MoneyFor,
        Purpose::ForHome => LineKind::MoneyForHome,
        Purpose::OnBatch(_) => LineKind::MoneyOnBatch,
        Purpose::OwedBy(..) => LineKind::OwedBy,
        Purpose::OwedTo(..) => LineKind::OwedTo,
        Purpose::Settles(references) => match references.first() {
            Some(Reference::Order(_)) => LineKind::ForOrder,
            Some(Reference::Bought(..)) => LineKind::ForBought,
            Some(Reference::Sold(..)) => LineKind::ForSold,
            Some(Reference::Receipt(_)) | None => LineKind::ForReceipt,
        },
        Purpose::SalesTax { .. } => LineKind::ForSalesTax,
        Purpose::Off(_) => LineKind::MoneyOff,
    }
}

fn sum_kind(word: MoneyWord) -> LineKind {
    match word {
        MoneyWord::Total => LineKind::Total,
        MoneyWord::Settled => LineKind::Settled,
        MoneyWord::Postage => LineKind::Postage,
        MoneyWord::Fee => LineKind::Fee,
        MoneyWord::ExtraFee => LineKind::ExtraFee,
        MoneyWord::FeeBack => LineKind::FeeBack,
        MoneyWord::Cash => LineKind::Cash,
        MoneyWord::Card => LineKind::Card,
        MoneyWord::Check => LineKind::Check,
        MoneyWord::Over => LineKind::Over,
        MoneyWord::Short => LineKind::Short,
        MoneyWord::Credit => LineKind::Credit,
        MoneyWord::Refunded => LineKind::Refunded,
        MoneyWord::Gross => LineKind::Gross,
        MoneyWord::Net => LineKind::Net,
        MoneyWord::Price => LineKind::Price,
        MoneyWord::WagesElsewhere => LineKind::WagesElsewhere,
    }
}

fn plain_kind(plain: Plain) -> LineKind {
    use LineKind as L;
    use Plain as P;
    match plain {
        P::Unpaid => L::Unpaid,
        P::NothingElse => L::NothingElse,
        P::MadeNothing => L::MadeNothing,
        P::UsedAsPlanned => L::UsedAsPlanned,
        P::TookAsPlanned => L::TookAsPlanned,
        P::SharedByPrice => L::SharedByPrice,
        P::SharedByCount => L::SharedByCount,
        P::CostingFifo => L::CostingFifo,
        P::CostingAverage => L::CostingAverage,
        P::OverheadFromExpenses => L::OverheadFromExpenses,
        P::CashBasis => L::CashBasis,
        P::AccrualBasis => L::AccrualBasis,
        P::StockAsInventory => L::StockAsInventory,
        P::StockAsSupplies => L::StockAsSupplies,
        P::WholeDollars => L::WholeDollars,
        P::Cents => L::Cents,
        P::ShortStockError => L::ShortStockError,
        P::ShortStockWarning => L::ShortStockWarning,
        P::Home => L::Home,
        P::Indirect => L::Indirect,
        P::TalliedExactly => L::TalliedExactly,
        P::TalliedBySurfaceMeasure => L::TalliedBySurfaceMeasure,
        P::AsWear => L::AsWear,
        P::AsPacking => L::AsPacking,
        P::Contractor => L::Contractor,
        P::Employee => L::Employee,
        P::PaidLater => L::PaidLater,
        P::PaysLater => L::PaysLater,
        P::SalesTaxCollectedByChannel => L::TaxCollected,
        P::CountsAsOverhead => L::CountsAsOverhead,
        P::CountsAsHouseCost => L::CountsAsHouseCost,
        P::ExpensedAtOnce => L::ExpensedAtOnce,
        P::NoBonus => L::NoBonus,
        P::MidQuarter => L::MidQuarter,
        P::DeMinimisElected => L::DeMinimis,
    }
}
