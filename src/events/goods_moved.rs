//! Goods that move without a purchase or a sale: between places, back from a buyer or to a supplier, counted, given away.
//!
//! Quantities are in the thing's own unit.

use rust_decimal::Decimal;

use crate::events::StockLine;
use crate::names::{ChannelId, LabelId, PlaceId, Target, ThingId};
use crate::sources::Span;
use crate::syntax::GaveAs;
use crate::units::Fixed6;

/// Goods moved between places.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// From.
    pub from: PlaceId,
    /// To.
    pub to: PlaceId,
    /// Goods.
    pub lines: Vec<StockLine>,
    /// Postage.
    pub postage: Fixed6,
    /// Packing used.
    pub packing: Vec<StockLine>,
}

/// What becomes of a piece that a buyer returned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum ReturnFate {
    BackToStock,
    Scrapped,
    LeftWithBuyer,
}

/// A returned line.
#[derive(Clone, Debug, PartialEq)]
pub struct ReturnedLine {
    /// The thing.
    pub thing: ThingId,
    /// How many.
    pub quantity: Decimal,
    /// Refunded for the line.
    pub refunded: Fixed6,
    /// What becomes of it.
    pub fate: ReturnFate,
    /// The named lot or batch.
    pub lot: Option<LabelId>,
    /// The line.
    pub span: Span,
}

/// Goods or money back to a buyer.
#[derive(Clone, Debug, PartialEq)]
pub struct Returned {
    /// The order; else the channel's last sales of the thing.
    pub order: Option<LabelId>,
    /// The channel.
    pub channel: Option<ChannelId>,
    /// Where the goods come to.
    pub place: PlaceId,
    /// Goods.
    pub lines: Vec<ReturnedLine>,
    /// Refunds without goods.
    pub refunds: Vec<(Fixed6, Span)>,
    /// Shipping given back.
    pub shipping: Fixed6,
    /// Sales tax given back, in all.
    pub sales_tax: Fixed6,
    /// The same line by line, with whose it says that it is; `None` where it says nothing: it comes from where the order's tax went.
    pub taxes: Vec<(Fixed6, Option<LabelId>)>,
    /// The shop's account on the day, for a sale whose tax is on none; `None` for the one without a name.
    pub tax_to: Option<LabelId>,
    /// Fees given back to the shop.
    pub fee_back: Fixed6,
}

impl Returned {
    /// What is refunded for goods and shipping, without sales tax. `None` on overflow.
    #[must_use]
    pub fn refunded(&self) -> Option<Fixed6> {
        let goods = self.lines.iter().map(|line| line.refunded);
        Fixed6::checked_sum(goods.chain(self.refunds.iter().map(|(money, _)| *money)).chain([self.shipping]))
    }

    /// All that the buyer gets back. `None` on overflow.
    #[must_use]
    pub fn back_to_the_buyer(&self) -> Option<Fixed6> {
        self.refunded()?.checked_add(self.sales_tax)
    }
}

/// A line of goods sent back.
#[derive(Clone, Debug, PartialEq)]
pub struct SentBackLine {
    /// The goods.
    pub goods: StockLine,
    /// Refunded for the line.
    pub refunded: Fixed6,
    /// Whether as credit.
    pub as_credit: bool,
}

/// Goods back to a supplier.
#[derive(Clone, Debug, PartialEq)]
pub struct SentBack {
    /// To whom.
    pub supplier: LabelId,
    /// The receipt.
    pub receipt: Option<LabelId>,
    /// From where.
    pub place: PlaceId,
    /// Its lines.
    pub lines: Vec<SentBackLine>,
    /// Sales tax that comes back too.
    pub sales_tax: Fixed6,
}

/// A supplier's credit.
#[derive(Clone, Debug, PartialEq)]
pub struct Credited {
    /// By whom.
    pub supplier: LabelId,
    /// The receipt.
    pub receipt: Option<LabelId>,
    /// Sum, thing and line.
    pub lines: Vec<(Fixed6, ThingId, Span)>,
}

/// A count.
#[derive(Clone, Debug, PartialEq)]
pub struct Counted {
    /// Where.
    pub place: PlaceId,
    /// What was there.
    pub lines: Vec<StockLine>,
    /// Whether what isn't listed is gone.
    pub nothing_else: bool,
}

/// Why goods left without a sale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the verbs")]
pub enum LeftHow {
    TookHome,
    Gave(GaveAs),
    Scrapped,
    UsedUp,
}

/// A line of goods that left.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftLine {
    /// The goods.
    pub goods: StockLine,
    /// What it was worth, where said (for the whole line).
    pub worth: Option<Fixed6>,
}

/// Goods that left without a sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// How.
    pub how: LeftHow,
    /// From where.
    pub place: PlaceId,
    /// To whom, in `gave`.
    pub to: Option<LabelId>,
    /// For what, in `used-up`.
    pub on: Option<Target>,
    /// Goods.
    pub lines: Vec<LeftLine>,
}
