//! Why a figure is what it is: its derivation as a tree, down to the entries.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::ReportHead;
use crate::reports::figure_text::ToldText;

/// How the steps below a step belong to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WhyRule {
    /// They add up to it.
    SumOf,
    /// It is a part of the one below.
    PartOf,
    /// It is the one below divided by the units.
    PerUnit,
    /// It is figured from those below as its words say.
    Figured,
    /// It is said by an entry; nothing is below.
    Said,
    /// What is below stands further up, where it was reached before.
    Above,
    /// More is below than was asked for.
    Deeper,
}

/// What the amounts of a derivation are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WhyMeasure {
    /// Money: paid and full cost.
    PaidAndFull,
    /// Money: one amount, the same in `paid` and `full`.
    Money,
    /// Minutes, the same in `paid` and `full`.
    Minutes,
    /// Pieces or another unit of goods, the same in `paid` and `full`.
    Units,
}

/// A place in the book.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WhyPlace {
    /// The file, below the book's folder.
    pub file: String,
    /// The line, counted from 1.
    pub line: usize,
    /// The line's text.
    pub text: String,
}

/// A step of a derivation.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WhyStep {
    /// What it is, in words, with its numbers.
    pub says: String,
    /// Paid cost, to six digits; or the one amount that is shown.
    #[schemars(with = "ToldText")]
    pub paid: String,
    /// Full cost, to six digits; or the one amount that is shown.
    #[schemars(with = "ToldText")]
    pub full: String,
    /// What its amounts are, where they are not what the report's are.
    pub measure: Option<WhyMeasure>,
    /// The unit that is counted, where they are units: `ea`, `bf`, `mi`.
    pub unit: Option<String>,
    /// How the steps below belong to it.
    pub rule: WhyRule,
    /// The name of the figure for which it stands, at which it is told in full: `batch/PC-021`.
    pub figure: Option<String>,
    /// The month of which it is the sum, where a long list is told by months; a site tells it on a page of its own.
    #[serde(skip)]
    pub month: Option<String>,
    /// The line of the book that says it.
    pub at: Option<WhyPlace>,
    /// What it is made of.
    pub steps: Vec<WhyStep>,
}

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WhyReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// The figure's name: `cost/pull-cart/2026`.
    pub figure: String,
    /// The figure in one sentence.
    pub answer: String,
    /// What the amounts of its steps are.
    pub measure: WhyMeasure,
    /// Its derivation.
    pub steps: Vec<WhyStep>,
}
