//! The schedules beside the form: sales tax by account and period, self-employment tax, the bridge from margins, the cut-off list.

use crate::units::Fixed6;
use crate::year::SourceNote;

/// A sales tax account over a period.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TaxPeriod {
    /// Whose; empty for the one account without a name.
    pub to: String,
    /// `2026-Q1`, or `2026`.
    pub period: String,
    /// Owed when the period began, over all earlier ones.
    pub owed_before: Fixed6,
    /// Collected by the shop.
    pub collected: Fixed6,
    /// Given back.
    pub refunded: Fixed6,
    /// Paid over.
    pub paid_over: Fixed6,
    /// Allowance kept.
    pub allowed: Fixed6,
    /// Owed at the period's end, over all earlier ones.
    pub owed: Fixed6,
    /// Collected by channels: a memo.
    pub by_channels: Fixed6,
}

/// A line of the schedule for self-employment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScheduleSum {
    /// As printed.
    pub number: String,
    /// Its label.
    pub label: String,
    /// Its stable name.
    pub name: String,
    /// The figure, in the sheet's unit.
    pub printed: Fixed6,
    /// From printed lines, rounded to the cent instead.
    pub cents: Fixed6,
    /// How it comes about.
    pub rule: ScheduleRule,
}

/// How a line of the schedule comes about from others.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ScheduleRule {
    /// In words, with its rate: `12.4% of the smaller of lines 6 and 9`.
    pub how: String,
    /// The lines from which it is figured, by stable name; true where they are added, false where they are taken off.
    pub from: Vec<(&'static str, bool)>,
    /// Whether it is no more than these added up.
    pub adds: bool,
    /// Whether it is the net profit of the form.
    pub is_profit: bool,
    /// Where its rate stands.
    pub source: Option<SourceNote>,
}

/// A line of the bridge, to six digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BridgeSum {
    /// What.
    pub name: String,
    /// How much, with its sign.
    pub amount: Fixed6,
    /// What it is made of: these add up to it. Empty for the last line, the net profit, which the steps before add up to.
    pub parts: Vec<BridgePart>,
}

/// A part of a step of the bridge, to six digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BridgePart {
    /// What, in words.
    pub says: String,
    /// How much, with the sign that it has in its step.
    pub amount: Fixed6,
    /// Where it is told.
    pub of: BridgeOf,
}

/// Where a part of a step of the bridge is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BridgeOf {
    /// With the line of the form that has this index.
    Line(usize),
    /// With the margins: what sales brought in, less fees and postage.
    Sales,
    /// With the margins: the paid cost of what was sold.
    GoodsSold,
    /// With the margins: packing.
    Packing,
    /// With the cost of goods.
    CostOfGoods,
    /// Nowhere else.
    Itself,
}

/// A part of the cut-off list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutOff {
    /// What it lists.
    pub name: String,
    /// Its rows, in words and figures.
    pub rows: Vec<String>,
    /// What is said where it has no rows.
    pub empty: String,
}
