//! A payment: what each of its sums is for.
//!
//! A sum that settles a bill is never an expense; which bill, the engine looks up.

use chrono::NaiveDate;

use crate::events::Settlement;
use crate::names::{ExpenseId, HelperId, LabelId, PatternId, Target};
use crate::sources::Span;
use crate::units::Fixed6;

/// What a payment is for.
#[derive(Clone, Debug, PartialEq)]
pub enum PaidFor {
    /// An expense.
    Expense {
        /// Which.
        expense: ExpenseId,
        /// For what.
        on: Option<Target>,
        /// Paid ahead for a later day.
        meant_for: Option<NaiveDate>,
    },
    /// A receipt of the supplier in the head.
    Receipt(LabelId),
    /// A purchase without a number, by its day.
    BoughtOn(NaiveDate),
    /// Sales tax paid over, with the allowance kept.
    SalesTax {
        /// Whose; `None` for the shop's own account.
        to: Option<LabelId>,
        /// The allowance.
        allowed: Fixed6,
    },
    /// Hired time owed, to a defined helper or a name.
    Helper {
        /// The helper, where defined.
        helper: Option<HelperId>,
        /// The name.
        name: LabelId,
    },
    /// Royalty owed for a pattern.
    Royalty(PatternId),
}

/// A line of a payment.
#[derive(Clone, Debug, PartialEq)]
pub struct PaidLine {
    /// How much.
    pub money: Fixed6,
    /// What for.
    pub what: PaidFor,
    /// The receipt, day or name that says so, without quotes; the whole line where there is none.
    pub named: Span,
    /// Memo, without quotes.
    pub memo: Span,
    /// The line.
    pub span: Span,
}

/// A payment made (`paid`).
#[derive(Clone, Debug, PartialEq)]
pub struct Paid {
    /// To whom.
    pub to: LabelId,
    /// The receipt in its head.
    pub receipt: Option<LabelId>,
    /// Its lines.
    pub lines: Vec<PaidLine>,
    /// How it is settled (an expense may be billed now and paid later).
    pub settlement: Settlement,
}
