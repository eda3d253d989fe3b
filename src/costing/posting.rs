//! Postings: money of the shop's dealings by account (revenue, fees, expenses), each with its event and line.
//!
//! Sums that were split over lines have six digits.

use chrono::NaiveDate;

use crate::names::{ChannelId, ExpenseId, HelperId, IncomeId, PatternId, Target, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// What a sum of money is, from the shop's side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Account {
    /// Goods sold at net price without sales tax, discount already off.
    Goods,
    /// Shipping charged to a buyer.
    ShippingCharged,
    /// Refunds and allowances (a positive sum that lowers revenue).
    Refund,
    /// Income without goods.
    Income(IncomeId),
    /// Fees of a channel.
    Fee,
    /// A consignee's share.
    Commission,
    /// Fees given back (a positive sum).
    FeeBack,
    /// Postage paid for an order or shipment.
    Postage,
    /// An expense.
    Expense(ExpenseId),
    /// Hired hours outside batches.
    HiredTime {
        /// The helper, where defined.
        helper: Option<HelperId>,
        /// Whether an employee.
        employee: bool,
    },
    /// A licence without limit: an expense when bought.
    Licence(PatternId),
    /// Till over (positive) or short (negative).
    TillOver,
    /// Allowance kept of sales tax.
    TaxAllowance,
    /// Paid cost of packing used, split over an order's lines, for margins only: the same sum is in the movements ([`Flow::PackingUsed`](crate::costing::Flow::PackingUsed)).
    Packing,
}

/// A sum of money in one account.
#[derive(Clone, Debug, PartialEq)]
pub struct Posting {
    /// The day of its entry.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// What it is.
    pub account: Account,
    /// How much. What was split over lines has six digits; the parts sum to the sum that was entered.
    pub money: Fixed6,
    /// The thing of the order's line over which it was split.
    pub thing: Option<ThingId>,
    /// The channel.
    pub channel: Option<ChannelId>,
    /// For what, where the entry says so.
    pub on: Option<Target>,
    /// The order's index, for what belongs to one.
    pub order: Option<u32>,
    /// The bill by which it is settled; `None`: settled on its own day. A refund has its order's bill where it lowers what the buyer still
    /// owes, and none where it was paid out. A fee fixed by a deposit has none.
    pub bill: Option<u32>,
    /// The day it is meant for, where it was paid ahead.
    pub meant_for: Option<NaiveDate>,
}

impl Posting {
    /// The day to which it belongs under accrual, in margins and as overhead: the later day it is meant for, or else its own.
    #[must_use]
    pub fn belongs_to(&self) -> NaiveDate {
        self.meant_for.map_or(self.date, |day| day.max(self.date))
    }
}
