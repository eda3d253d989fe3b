//! Money that came in: for orders, or as an income.
//!
//! A sum for an order is a deposit or settles it, which the engine knows.

use chrono::NaiveDate;

use crate::names::{ChannelId, IncomeId, LabelId};
use crate::sources::Span;
use crate::units::Fixed6;

/// What money received is for.
#[derive(Clone, Debug, PartialEq)]
pub enum ReceivedFor {
    /// An income without goods.
    Income(IncomeId),
    /// Orders, filled as named, each with its place, without quotes.
    Orders(Vec<(LabelId, Span)>),
    /// Sales of a day without an order, in the order of that day.
    SoldOn(NaiveDate),
}

/// A line of money received.
#[derive(Clone, Debug, PartialEq)]
pub struct ReceivedLine {
    /// How much.
    pub money: Fixed6,
    /// What for.
    pub what: ReceivedFor,
    /// The line.
    pub span: Span,
}

/// Money received.
#[derive(Clone, Debug, PartialEq)]
pub struct Received {
    /// From whom.
    pub from: LabelId,
    /// `via`: it is what the buyer paid, and the channel's fees count today.
    pub via: Option<ChannelId>,
    /// Its lines.
    pub lines: Vec<ReceivedLine>,
}
