//! A sale: its goods and incomes, what the buyer pays on top, and how it was paid.
//!
//! Prices are looked up; the channel's fees and share are worked out by the engine.

use rust_decimal::Decimal;

use crate::events::{Settlement, StockLine};
use crate::names::{ChannelId, IncomeId, LabelId, PlaceId, Target, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// Goods sold.
#[derive(Clone, Debug, PartialEq)]
pub struct SoldLine {
    /// The thing.
    pub thing: ThingId,
    /// How many (less what was brought back).
    pub quantity: Decimal,
    /// The named lot.
    pub lot: Option<LabelId>,
    /// Goods value of the line at the prices that the shop gets (wholesale already halved) or that the customer pays (consignment),
    /// with sales tax where prices include it.
    pub value: Fixed6,
    /// Value at list prices of the day, where there is one.
    pub list_value: Option<Fixed6>,
    /// The line.
    pub span: Span,
}

/// Income of a sale without goods.
#[derive(Clone, Debug, PartialEq)]
pub struct IncomeLine {
    /// Which.
    pub income: IncomeId,
    /// How much.
    pub money: Fixed6,
    /// For what.
    pub on: Option<Target>,
    /// The line.
    pub span: Span,
}

/// Sales tax on a sale.
#[derive(Clone, Debug, PartialEq)]
pub struct TaxLine {
    /// How much: on top of the prices, or within them.
    pub money: Fixed6,
    /// Whose; `None` for the shop's own account.
    pub to: Option<LabelId>,
    /// Whether it is within the prices.
    pub included: bool,
    /// Whether the channel collects it: a memo only.
    pub by_channel: bool,
    /// The line (the head where the channel's prices include it).
    pub span: Span,
}

/// How the buyers of a fair paid.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Tender {
    /// Cash.
    pub cash: Option<Fixed6>,
    /// Card.
    pub card: Option<Fixed6>,
    /// Check.
    pub check: Option<Fixed6>,
    /// More in the tin than sold (negative: less).
    pub over: Fixed6,
}

/// A sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Sold {
    /// The channel; `None` for goods given in a swap.
    pub channel: Option<ChannelId>,
    /// From where the goods leave.
    pub place: PlaceId,
    /// The order.
    pub order: Option<LabelId>,
    /// The buyer.
    pub buyer: Option<LabelId>,
    /// Goods.
    pub lines: Vec<SoldLine>,
    /// Work without goods.
    pub incomes: Vec<IncomeLine>,
    /// Discount as a positive sum.
    pub discount: Fixed6,
    /// Shipping charged.
    pub shipping: Fixed6,
    /// Sales tax.
    pub taxes: Vec<TaxLine>,
    /// Postage paid.
    pub postage: Fixed6,
    /// Packing used.
    pub packing: Vec<StockLine>,
    /// `fee`: replaces the channel's fees.
    pub fee: Option<Fixed6>,
    /// `extra fee`, the sum of them.
    pub extra_fees: Fixed6,
    /// Tender.
    pub tender: Tender,
    /// `settled`, checked: what reaches the shop, and where it stands.
    pub settled: Option<(Fixed6, Span)>,
    /// How it is settled.
    pub settlement: Settlement,
}
