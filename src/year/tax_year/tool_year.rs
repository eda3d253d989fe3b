//! A tool in a tax year: what is recovered of it, over its life, and what it brought when it went.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::ToolId;
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::{Feed, Step};

/// How a tool's year came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToolYear {
    /// Which.
    pub tool: ToolId,
    /// Its index among the book's tools; of a row that tells of several, that of the first.
    pub account: u32,
    /// The line at which it came.
    pub line: Span,
    /// In use from; the day it came where the book doesn't say.
    pub in_use_from: NaiveDate,
    /// How many.
    pub count: Decimal,
    /// Which of its line it is, from 1, and how many of that line have rows of their own: `(1, 1)` where the line has one row.
    pub of_line: (u32, u32),
    /// Landed cost of all of them.
    pub cost: Fixed6,
    /// Business part, in percent.
    pub business_use: Decimal,
    /// How its cost is recovered, in words, with the table, bonus and section 179 that apply.
    pub method: String,
    /// Recovered in earlier years.
    pub before: Fixed6,
    /// This year's section 179 as the limits allow it, what was carried into the year included, to the cent.
    pub section_179: Fixed6,
    /// Of section 179, carried to later years.
    pub carried: Fixed6,
    /// This year's other amount, to the cent.
    pub amount: Fixed6,
    /// Left after this year, of the business part.
    pub left: Fixed6,
    /// Where it stands; `None` where nothing is included.
    pub feed: Option<Feed>,
    /// Whether the form asks for it instead of having a line: then nothing of its cost is in a figure, and a gain is not known.
    pub asked: bool,
    /// Sold or thrown out this year.
    pub disposed: Option<ToolGone>,
    /// The ten steps, in their order.
    pub steps: Vec<ToolStep>,
    /// What it recovers year by year over its whole life, if nothing changes; empty where the book doesn't say how.
    pub life: Vec<ToolLifeYear>,
}

/// A tool that left the shop, for the list of sold tools: on no line of the form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ToolGone {
    /// The day.
    pub date: NaiveDate,
    /// What it fetched; zero where it was thrown out.
    pub proceeds: Fixed6,
    /// Of that, the business part.
    pub business_proceeds: Fixed6,
    /// Business part of its cost.
    pub business_cost: Fixed6,
    /// Recovered by then, this year's part too.
    pub recovered: Fixed6,
    /// Business part of what it fetched, less that of its cost, plus what was recovered; below zero: a loss. `None` where the business
    /// part changed, which is asked.
    pub gain: Option<Fixed6>,
}

/// What one of the ten steps says of a tool's year.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToolStep {
    /// Which.
    pub step: Step,
    /// What it says; empty where it does not apply.
    pub how: String,
    /// Its amount; `None` where it has none.
    pub amount: Option<Fixed6>,
}

/// A year of a tool's life, to the cent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ToolLifeYear {
    /// The year.
    pub year: i32,
    /// At once: as supplies, de minimis, or under section 179 before its limits.
    pub at_once: Fixed6,
    /// Bonus.
    pub bonus: Fixed6,
    /// By the table, less what the year of sale takes off.
    pub table: Fixed6,
    /// What the later years recover.
    pub left: Fixed6,
}
