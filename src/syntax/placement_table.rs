//! The one table of which line may stand in which entry or definition, as data with the trade's words.
//!
//! The reference prints it ([`placement_table_markdown`](super::placement_table_markdown)), the check applies it, and the
//! general message for an unread line lists from it what belongs there.

use crate::syntax::{DefinitionWord, Verb};

use DefinitionWord as D;
use LineKind as L;
use Verb as V;

/// A kind of line, as the table knows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[rustfmt::skip]
pub(crate) enum LineKind {
    Item, Used, UsedAsPlanned, Took, TookAsPlanned, Made, MadeNothing, Lost, Kept, SharedByPrice, SharedByCount, AimsAt,
    NothingElse, PackedWith, Gave, Got, MoneyFor, MoneyForHome, MoneyOnBatch, OwedBy, OwedTo, ForReceipt, ForBought, ForOrder, ForSold,
    ForSalesTax, MoneyOff, To, Freight, Shipping, Discount, SalesTax, TaxIncluded, Postage, Fee, ExtraFee, FeeBack, Refunded,
    Credit, Cash, Card, Check, Over, Short, Total, Settled, Paid, Unpaid, Available, Gross, Net, Seal, Note, Expected, File, Receipt,
    ExchangeRate,
    Currency, CostingFifo, CostingAverage, OwnerTime, OverheadRate, OverheadFromExpenses, TaxForm, CashBasis, AccrualBasis,
    StockAsInventory, StockAsSupplies, WholeDollars, Cents, ShortStockError, ShortStockWarning, SalesTaxTo, HomeWorkshop,
    HoursPerWeek, DeMinimis, WagesElsewhere, Home, Wears, Indirect, MeasuredIn, TalliedExactly, TalliedBySurfaceMeasure,
    ReorderAt, AsWear, AsPacking, FromMaterial, Conversion, Line, Needs, Takes, Price, Pattern, ForChildren, Allows, Royalty,
    PaidLater, Contractor, Employee, Costs, ChannelFee, PaysLater, Consignment, Wholesale, TaxCollected, PricesInclude, FormLine,
    BusinessUse, CountsAsOverhead, CountsAsHouseCost, InUseFrom, RecoveredOver, ExpensedAtOnce, Section179, NoBonus, MidQuarter,
    Lasts,
}

/// A row of the table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LineRow {
    /// The kind of line.
    pub(crate) kind: LineKind,
    /// The words that it begins with, or what it is.
    pub(crate) words: &'static str,
    /// An example.
    pub(crate) form: &'static str,
    /// The kind that answers the same question: two different kinds of one slot exclude each other.
    pub(crate) slot: LineKind,
    /// Where it may stand more than once.
    pub(crate) repeats: Blocks,
    /// Where it may stand.
    pub(crate) blocks: Blocks,
}

/// A set of entries and definitions.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Blocks {
    verbs: u32,
    definitions: u16,
}

impl Blocks {
    /// No block.
    pub(crate) const NONE: Self = Self { verbs: 0, definitions: 0 };
    /// Every entry, and no definition.
    const EVERY_ENTRY: Self = Self { verbs: u32::MAX, definitions: 0 };
    /// Every block.
    const ALL: Self = Self { verbs: u32::MAX, definitions: u16::MAX };

    /// These entries and definitions.
    pub(crate) const fn of(verbs: &[Verb], definitions: &[DefinitionWord]) -> Self {
        let mut set = Self::NONE;
        let mut at = 0;
        while at < verbs.len() {
            set.verbs |= 1 << (verbs[at] as u32);
            at += 1;
        }
        at = 0;
        while at < definitions.len() {
            set.definitions |= 1 << (definitions[at] as u16);
            at += 1;
        }
        set
    }

    /// Whether an entry is one of them.
    pub(crate) const fn has_verb(self, verb: Verb) -> bool {
        self.verbs & (1 << (verb as u32)) != 0
    }

    /// Whether a definition is one of them.
    pub(crate) const fn has_definition(self, word: DefinitionWord) -> bool {
        self.definitions & (1 << (word as u16)) != 0
    }

    /// Whether some definition is one of them.
    pub(crate) const fn has_some_definition(self) -> bool {
        self.definitions != 0
    }

    /// The words of the blocks, entries first.
    pub(crate) fn words(self) -> impl Iterator<Item = &'static str> {
        let verbs = VERBS.iter().filter(move |(_, verb)| self.has_verb(*verb)).map(|(word, _)| *word);
        let definitions = DEFINITIONS.iter().filter(move |(_, word)| self.has_definition(*word)).map(|(word, _)| *word);
        verbs.chain(definitions)
    }
}

/// The verbs with their words, in the order of the reference.
#[rustfmt::skip]
pub(crate) const VERBS: [(&str, Verb); 31] = [
    ("opened", V::Opened), ("changed", V::Changed), ("bought", V::Bought), ("paid", V::Paid), ("built", V::Built),
    ("started", V::Started), ("continued", V::Continued), ("finished", V::Finished), ("worked", V::Worked), ("sold", V::Sold),
    ("sent", V::Sent), ("brought-back", V::BroughtBack), ("returned", V::Returned), ("sent-back", V::SentBack),
    ("credited", V::Credited), ("received", V::Received), ("counted", V::Counted), ("took-home", V::TookHome), ("gave", V::Gave),
    ("scrapped", V::Scrapped), ("used-up", V::UsedUp), ("found", V::Found), ("contributed", V::Contributed),
    ("swapped", V::Swapped), ("drove", V::Drove), ("odometer", V::Odometer), ("retired", V::Retired),
    ("statement", V::Statement), ("noted", V::Noted), ("answered", V::Answered), ("closed", V::Closed),
];

/// The definitions with their words, in the order of the reference.
#[rustfmt::skip]
pub(crate) const DEFINITIONS: [(&str, DefinitionWord); 13] = [
    ("shop", D::Shop), ("choices", D::Choices), ("place", D::Place), ("step", D::Step), ("material", D::Material),
    ("product", D::Product), ("line", D::Line), ("pattern", D::Pattern), ("helper", D::Helper), ("channel", D::Channel),
    ("expense", D::Expense), ("income", D::Income), ("tool", D::Tool),
];

/// Every word that begins a block, those of definitions first.
pub(crate) const HEADS: [&str; DEFINITIONS.len() + VERBS.len()] = {
    let mut words = [""; DEFINITIONS.len() + VERBS.len()];
    let mut at = 0;
    while at < words.len() {
        words[at] = if at < DEFINITIONS.len() { DEFINITIONS[at].0 } else { VERBS[at - DEFINITIONS.len()].0 };
        at += 1;
    }
    words
};

/// The word of a verb.
pub(crate) fn verb_word(verb: Verb) -> &'static str {
    VERBS.iter().find(|(_, known)| *known == verb).map_or("", |(word, _)| word)
}

/// The word of a definition.
pub(crate) fn definition_word(word: DefinitionWord) -> &'static str {
    DEFINITIONS.iter().find(|(_, known)| *known == word).map_or("", |(word, _)| word)
}

/// The row of a kind of line.
pub(crate) fn line_row(kind: LineKind) -> &'static LineRow {
    // A test holds the rows and the kinds in the same order.
    &LINES[kind as usize]
}

const BATCH: &[Verb] = &[V::Built, V::Started, V::Continued, V::Finished];
#[rustfmt::skip]
const STOCK: &[Verb] = &[
    V::Opened, V::Bought, V::Worked, V::Sold, V::Sent, V::BroughtBack, V::Returned, V::SentBack, V::Counted, V::TookHome, V::Gave,
    V::Scrapped, V::UsedUp, V::Found, V::Contributed,
];

/// A row that may stand once.
const fn once(
    kind: LineKind,
    words: &'static str,
    form: &'static str,
    verbs: &[Verb],
    definitions: &[DefinitionWord],
) -> LineRow {
    LineRow { kind, words, form, slot: kind, repeats: Blocks::NONE, blocks: Blocks::of(verbs, definitions) }
}

/// A row that may stand as often as wanted.
const fn many(
    kind: LineKind,
    words: &'static str,
    form: &'static str,
    verbs: &[Verb],
    definitions: &[DefinitionWord],
) -> LineRow {
    let blocks = Blocks::of(verbs, definitions);
    LineRow { kind, words, form, slot: kind, repeats: blocks, blocks }
}

/// The same row, which may stand in every entry.
const fn in_every_entry(row: LineRow) -> LineRow {
    LineRow { blocks: Blocks::EVERY_ENTRY, ..row }
}

/// The same row, where another kind answers the same question.
const fn or(row: LineRow, slot: LineKind) -> LineRow {
    LineRow { slot, ..row }
}

/// The same row, which may stand more than once in these entries only.
const fn many_in(row: LineRow, verbs: &[Verb]) -> LineRow {
    LineRow { repeats: Blocks::of(verbs, &[]), ..row }
}

/// Every kind of line, in the order of [`LineKind`].
#[rustfmt::skip]
pub(crate) static LINES: [LineRow; 117] = [
    many(L::Item, "an item", "2 pull-cart", STOCK, &[]),
    many(L::Used, "used", "used 5.2 bf red-oak, 24 wheel-40", BATCH, &[]),
    once(L::UsedAsPlanned, "used as planned", "used as planned", BATCH, &[]),
    many(L::Took, "took", "took 1h 48m cutting", BATCH, &[]),
    once(L::TookAsPlanned, "took as planned", "took as planned", BATCH, &[]),
    many(L::Made, "made", "made 6 pull-cart", BATCH, &[]),
    or(once(L::MadeNothing, "made nothing", "made nothing \"both tries burnt\"", BATCH, &[]), L::Made),
    many(L::Lost, "lost", "lost 1 pull-cart \"split at the axle hole\"", BATCH, &[]),
    many(L::Kept, "kept", "kept 0.6 bf oak-offcut worth 1.20", BATCH, &[]),
    once(L::SharedByPrice, "shared by price", "shared by price", BATCH, &[]),
    or(once(L::SharedByCount, "shared by count", "shared by count", BATCH, &[]), L::SharedByPrice),
    many(L::AimsAt, "aims at", "aims at 20 village-set", &[V::Started], &[]),
    once(L::NothingElse, "nothing else", "nothing else", &[V::Finished, V::Counted], &[]),
    many(L::PackedWith, "packed with", "packed with 1 box-small", &[V::Sold, V::Sent], &[]),
    many(L::Gave, "gave", "gave 2 bird-house at 38.00", &[V::Swapped], &[]),
    many(L::Got, "got", "got 9 bf walnut", &[V::Swapped], &[]),
    many(L::MoneyFor, "a sum for an expense or income", "18.40 for shop-supplies", &[V::Bought, V::Paid, V::Sold, V::Received], &[]),
    many(L::MoneyForHome, "a sum for home", "6.49 for home", &[V::Bought], &[]),
    many(L::MoneyOnBatch, "a sum on a batch", "3.50 on batch JIG-1", &[V::Opened, V::Bought], &[]),
    many(L::OwedBy, "a sum owed by", "88.20 owed by gift-shop for order \"G-11\"", &[V::Opened], &[]),
    many(L::OwedTo, "a sum owed to", "40.00 owed to ridgeline-lumber for receipt \"A-1100\"", &[V::Opened], &[]),
    many(L::ForReceipt, "a sum for a receipt", "600.00 for receipt \"A-1182\"", &[V::Paid], &[]),
    many(L::ForBought, "a sum for a purchase of a day", "150.52 for bought 2026-06-05", &[V::Paid], &[]),
    many(L::ForOrder, "a sum for an order", "60.00 for order \"C-07\"", &[V::Received], &[]),
    many(L::ForSold, "a sum for a sale of a day", "151.20 for sold 2026-05-31", &[V::Received], &[]),
    many(L::ForSalesTax, "a sum for sales-tax", "48.90 for sales-tax to ny-state, allowed 0.74", &[V::Paid], &[]),
    many(L::MoneyOff, "a sum off", "5.00 off wheel-40", &[V::Credited], &[]),
    once(L::To, "to", "to \"J. in Dover\"", &[V::Sold], &[]),
    once(L::Freight, "freight", "freight 18.00 shared by value", &[V::Bought], &[]),
    or(once(L::Shipping, "shipping", "shipping 9.50", &[V::Bought, V::Sold, V::Returned], &[]), L::Freight),
    once(L::Discount, "discount", "discount 5.00", &[V::Bought, V::Sold], &[]),
    many_in(once(L::SalesTax, "sales-tax", "sales-tax 8.40", &[V::Bought, V::Sold, V::Returned, V::SentBack], &[]), &[V::Sold, V::Returned]),
    or(many(L::TaxIncluded, "sales-tax included", "sales-tax 6% included", &[V::Sold], &[]), L::TaxIncluded),
    once(L::Postage, "postage", "postage 7.85", &[V::Sold, V::Sent], &[]),
    once(L::Fee, "fee", "fee 8.56", &[V::Sold], &[]),
    many(L::ExtraFee, "extra fee", "extra fee 3.00 \"tags\"", &[V::Sold], &[]),
    once(L::FeeBack, "fee back", "fee back 1.26", &[V::Returned], &[]),
    once(L::Refunded, "refunded", "refunded 10.00 \"a scratch\"", &[V::Returned], &[]),
    once(L::Credit, "credit", "credit 22.90", &[V::Bought], &[]),
    once(L::Cash, "cash", "cash 200.00", &[V::Sold], &[]),
    once(L::Card, "card", "card 397.00", &[V::Sold], &[]),
    once(L::Check, "check", "check 50.00", &[V::Sold], &[]),
    once(L::Over, "over", "over 4.00", &[V::Sold], &[]),
    or(once(L::Short, "short", "short 4.00", &[V::Sold], &[]), L::Over),
    once(L::Total, "total", "total 276.90", &[V::Bought, V::Paid, V::Sold], &[]),
    once(L::Settled, "settled", "settled 151.20", &[V::Sold], &[]),
    many_in(once(L::Paid, "paid", "paid 600.00 on 2026-03-02", &[V::Bought, V::Paid, V::Sold], &[]), &[V::Bought, V::Sold]),
    or(once(L::Unpaid, "unpaid", "unpaid", &[V::Bought, V::Paid, V::Sold], &[]), L::Paid),
    once(L::Available, "available", "available 2026-03-21", &[V::Sold], &[]),
    once(L::Gross, "gross", "gross 4312.40", &[V::Statement], &[]),
    once(L::Net, "net", "net 8214.33", &[V::Closed], &[]),
    once(L::Seal, "seal", "seal \"…\"", &[V::Closed], &[]),
    LineRow { kind: L::Note, words: "note", form: "note \"…\"", slot: L::Note, repeats: Blocks::ALL, blocks: Blocks::ALL },
    LineRow { kind: L::Expected, words: "expected", form: "expected \"why\"", slot: L::Expected, repeats: Blocks::NONE, blocks: Blocks::EVERY_ENTRY },
    LineRow { kind: L::File, words: "file", form: "file \"receipts/A-1182.pdf\"", slot: L::File, repeats: Blocks::ALL, blocks: Blocks::ALL },
    in_every_entry(once(L::Receipt, "receipt", "receipt \"A-1182\"", &[], &[])),
    in_every_entry(once(L::ExchangeRate, "1 EUR =", "1 EUR = 1.0842", &[], &[])),
    once(L::Currency, "currency", "currency USD", &[], &[D::Shop]),
    once(L::CostingFifo, "costing fifo", "costing fifo", &[], &[D::Shop]),
    or(once(L::CostingAverage, "costing average", "costing average", &[], &[D::Shop]), L::CostingFifo),
    once(L::OwnerTime, "owner time", "owner time 24.00 per h", &[], &[D::Shop]),
    once(L::OverheadRate, "overhead", "overhead 3.50 per h", &[], &[D::Shop]),
    or(once(L::OverheadFromExpenses, "overhead from expenses", "overhead from expenses", &[], &[D::Shop]), L::OverheadRate),
    once(L::TaxForm, "tax form", "tax form us-schedule-c", &[], &[D::Shop]),
    once(L::CashBasis, "cash basis", "cash basis", &[], &[D::Shop]),
    or(once(L::AccrualBasis, "accrual basis", "accrual basis", &[], &[D::Shop]), L::CashBasis),
    once(L::StockAsInventory, "stock kept as inventory", "stock kept as inventory", &[], &[D::Shop]),
    or(once(L::StockAsSupplies, "stock kept as supplies", "stock kept as supplies", &[], &[D::Shop]), L::StockAsInventory),
    once(L::WholeDollars, "whole dollars", "whole dollars", &[], &[D::Shop]),
    or(once(L::Cents, "cents", "cents", &[], &[D::Shop]), L::WholeDollars),
    once(L::ShortStockError, "short stock is an error", "short stock is an error", &[], &[D::Shop]),
    or(once(L::ShortStockWarning, "short stock is a warning", "short stock is a warning", &[], &[D::Shop]), L::ShortStockError),
    once(L::SalesTaxTo, "sales-tax to", "sales-tax to ny-state", &[], &[D::Shop]),
    once(L::HomeWorkshop, "home workshop", "home workshop 200 sq ft, simplified", &[], &[D::Shop]),
    once(L::HoursPerWeek, "hours", "hours 12 per week", &[], &[D::Shop]),
    once(L::DeMinimis, "de minimis elected", "de minimis elected", &[], &[D::Choices]),
    once(L::WagesElsewhere, "wages elsewhere", "wages elsewhere 31000.00", &[], &[D::Choices]),
    once(L::Home, "home", "home", &[], &[D::Place]),
    many(L::Wears, "wears", "wears 1 blade-no7 per 40 min", &[], &[D::Step]),
    once(L::Indirect, "indirect", "indirect", &[], &[D::Step]),
    once(L::MeasuredIn, "measured in", "measured in bf", &[], &[D::Material]),
    once(L::TalliedExactly, "tallied exactly", "tallied exactly", &[], &[D::Material]),
    or(once(L::TalliedBySurfaceMeasure, "tallied by surface measure", "tallied by surface measure", &[], &[D::Material]), L::TalliedExactly),
    once(L::ReorderAt, "reorder at", "reorder at 20 bf", &[], &[D::Material]),
    once(L::AsWear, "as wear", "as wear", &[], &[D::Material]),
    or(once(L::AsPacking, "as packing", "as packing", &[], &[D::Material]), L::AsWear),
    once(L::FromMaterial, "from", "from red-oak", &[], &[D::Material]),
    many(L::Conversion, "1 UNIT =", "1 bag = 50 ea", &[], &[D::Material]),
    once(L::Line, "line", "line rolling-toys", &[], &[D::Product]),
    many(L::Needs, "needs", "needs 0.80 bf red-oak, 4 wheel-40", &[], &[D::Product]),
    many(L::Takes, "takes", "takes 18 min cutting, 12 min sanding", &[], &[D::Product]),
    once(L::Price, "price", "price 42.00", &[], &[D::Product]),
    once(L::Pattern, "pattern", "pattern cart-pattern", &[], &[D::Product]),
    once(L::ForChildren, "for children from", "for children from 3 years", &[], &[D::Product]),
    once(L::Allows, "allows", "allows 50 ea for sale", &[], &[D::Pattern]),
    once(L::Royalty, "royalty", "royalty 0.50 per ea", &[], &[D::Pattern]),
    once(L::PaidLater, "paid later", "paid later", &[], &[D::Pattern, D::Helper]),
    once(L::Contractor, "contractor", "contractor", &[], &[D::Helper]),
    or(once(L::Employee, "employee", "employee", &[], &[D::Helper]), L::Contractor),
    once(L::Costs, "costs", "costs 18.00 per h", &[], &[D::Helper]),
    many(L::ChannelFee, "fee", "fee 3% of total", &[], &[D::Channel]),
    once(L::PaysLater, "pays later", "pays later", &[], &[D::Channel]),
    once(L::Consignment, "consignment", "consignment 40%", &[], &[D::Channel]),
    or(once(L::Wholesale, "wholesale", "wholesale 50%", &[], &[D::Channel]), L::Consignment),
    once(L::TaxCollected, "sales-tax collected by channel", "sales-tax collected by channel", &[], &[D::Channel]),
    once(L::PricesInclude, "prices include sales-tax", "prices include sales-tax 6%", &[], &[D::Channel]),
    once(L::FormLine, "form line", "form line 25", &[], &[D::Expense, D::Income]),
    once(L::BusinessUse, "business use", "business use 60%", &[], &[D::Expense, D::Tool]),
    once(L::CountsAsOverhead, "counts as overhead", "counts as overhead", &[], &[D::Expense]),
    or(once(L::CountsAsHouseCost, "counts as house cost", "counts as house cost", &[], &[D::Expense]), L::CountsAsOverhead),
    once(L::InUseFrom, "in use from", "in use from 2026-03-02", &[], &[D::Tool]),
    once(L::RecoveredOver, "recovered over", "recovered over 7 years", &[], &[D::Tool]),
    or(once(L::ExpensedAtOnce, "expensed at once", "expensed at once", &[], &[D::Tool]), L::RecoveredOver),
    or(once(L::Section179, "expensed under section 179", "expensed under section 179", &[], &[D::Tool]), L::RecoveredOver),
    once(L::NoBonus, "no bonus", "no bonus", &[], &[D::Tool]),
    once(L::MidQuarter, "mid-quarter", "mid-quarter", &[], &[D::Tool]),
    once(L::Lasts, "lasts", "lasts 10 years", &[], &[D::Tool]),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rows_stand_in_the_order_of_their_kinds() {
        for (at, row) in LINES.iter().enumerate() {
            assert_eq!(row.kind as usize, at, "{}", row.words);
        }
    }

    #[test]
    fn every_entry_and_definition_has_its_word_and_at_least_a_note() {
        for (word, verb) in VERBS {
            assert_eq!(verb_word(verb), word);
            assert!(line_row(LineKind::Note).blocks.has_verb(verb));
        }
        for (word, definition) in DEFINITIONS {
            assert_eq!(definition_word(definition), word);
            assert!(line_row(LineKind::File).blocks.has_definition(definition));
        }
    }

    #[test]
    fn an_entry_of_a_batch_is_one_that_says_what_was_used() {
        for (word, verb) in VERBS {
            assert_eq!(line_row(LineKind::Used).blocks.has_verb(verb), verb.is_of_a_batch(), "{word}");
        }
    }

    #[test]
    fn every_word_that_begins_a_block_stands_once() {
        let mut words = HEADS.to_vec();
        words.sort_unstable();
        words.dedup();
        assert_eq!((words.len(), HEADS[0], HEADS[DEFINITIONS.len()]), (44, "shop", "opened"));
    }

    #[test]
    fn a_set_of_blocks_tells_its_words() {
        let words: Vec<_> = line_row(LineKind::PackedWith).blocks.words().collect();
        assert_eq!(words, ["sold", "sent"]);
    }
}
