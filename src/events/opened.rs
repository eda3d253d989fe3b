//! What was there when the book began, what the owner put in, and what was found.
//!
//! Values are paid cost; hours are the owner's, where they are known.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::{BatchId, HelperId, LabelId, PatternId, PlaceId, ThingId, ToolId};
use crate::sources::Span;
use crate::units::Fixed6;

/// `opened`, `contributed`, `found`.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// Which of the three.
    pub how: OpenedHow,
    /// Where the goods are.
    pub place: PlaceId,
    /// Goods.
    pub lines: Vec<OpenedLine>,
    /// Tools.
    pub tools: Vec<OpenedTool>,
    /// Money on batches that were on the bench.
    pub on_batches: Vec<(BatchId, Fixed6, Span)>,
    /// Money owed by buyers and channels.
    pub owed_by: Vec<OpenDebt>,
    /// Money owed to suppliers and helpers.
    pub owed_to: Vec<OpenDebt>,
}

/// How goods came without being bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the verbs")]
pub enum OpenedHow {
    Opened,
    Contributed,
    Found,
}

/// Goods that were there, put in, or found.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenedLine {
    /// The thing.
    pub thing: ThingId,
    /// How much.
    pub quantity: Decimal,
    /// Paid cost, all of it materials; zero for `found`.
    pub value: Fixed6,
    /// Own minutes in it, where they were said.
    pub minutes: Option<Fixed6>,
    /// The lot's code.
    pub lot: Option<LabelId>,
    /// What is said of its price, `at 5.90` or `for 11.50`; empty if nothing.
    pub price: Span,
    /// Certificate, without quotes; empty if none.
    pub certificate: Span,
    /// The line.
    pub span: Span,
}

/// A tool that was there, or was put in.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenedTool {
    /// The tool.
    pub tool: ToolId,
    /// How many.
    pub count: Decimal,
    /// Its cost.
    pub value: Fixed6,
    /// Recovered in earlier years.
    pub already_recovered: Fixed6,
    /// The line.
    pub span: Span,
}

/// An open debt when the book began.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenDebt {
    /// Who.
    pub party: LabelId,
    /// The defined helper that is owed to, where the party is one.
    pub helper: Option<HelperId>,
    /// The pattern whose royalty is owed, where the party is one.
    pub pattern: Option<PatternId>,
    /// How much.
    pub money: Fixed6,
    /// The receipt's or order's name.
    pub reference: Option<LabelId>,
    /// The day of the purchase or sale, where it has no name and the book says its day.
    pub of_day: Option<NaiveDate>,
    /// The line.
    pub span: Span,
}
