//! The lines of a tax year's form, with the sums that flow into them and the entries that make those.

use chrono::NaiveDate;

use crate::names::{ExpenseId, IncomeId};
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::{Feed, Says};

/// One entry's part of a sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// The day on which it counts.
    pub date: NaiveDate,
    /// How much, to six digits, with the sign that it has in its sum.
    pub amount: Fixed6,
    /// The event's index in the log; `None` for a figure of the year's start or end.
    pub event: Option<u32>,
    /// The entry's line; empty where there is none.
    pub span: Span,
}

/// What a sum is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum SumOf {
    Feed(Feed),
    Expense(ExpenseId),
    Income(IncomeId),
}

/// A sum that flows into a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sum {
    /// What it is of.
    pub of: SumOf,
    /// In words: `material bought`, an expense's title.
    pub name: String,
    /// How much it adds to its line, to six digits.
    pub amount: Fixed6,
    /// What its items come to before a share or limit was applied; the same as `amount` where there is none.
    pub whole: Fixed6,
    /// The share or limit in words; empty where there is none.
    pub share: String,
    /// What it is made of.
    pub items: Vec<Item>,
}

/// A line of the form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TaxLine {
    /// As printed: `27b`.
    pub number: String,
    /// Its stable name.
    pub name: String,
    /// The part of the form.
    pub part: String,
    /// Its label.
    pub label: String,
    /// Exact to the cent: of a line that is fed its sums, rounded once; of one that adds, the cents of those.
    pub cents: Fixed6,
    /// As it goes on the form: to the dollar or the cent. A line that adds adds printed lines.
    pub printed: Fixed6,
    /// Whether the form wants a list of what it is made of.
    pub itemized: bool,
    /// Whether it is a working, which is not on the form.
    pub working: bool,
    /// The lines that it adds (true) or subtracts, as indices.
    pub adds: Vec<(bool, usize)>,
    /// Its sums.
    pub sums: Vec<Sum>,
}

/// What a box of the form says, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoxAnswer {
    /// As printed.
    pub number: String,
    /// Its label.
    pub label: String,
    /// What it wants.
    pub says: Says,
    /// The answer.
    pub answer: String,
}
