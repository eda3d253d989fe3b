//! Work on a batch: what it used, who worked how long, what it made, lost and kept.
//!
//! Quantities are in the thing's own unit; what is `as planned` is left to the engine, which knows the batch's past.

use rust_decimal::Decimal;

use crate::names::{BatchId, HelperId, LabelId, PlaceId, StepId, Target, ThingId, ToolId};
use crate::sources::Span;
use crate::units::Fixed6;

/// Goods of a line, from a lot if one is named.
#[derive(Clone, Debug, PartialEq)]
pub struct StockLine {
    /// The thing.
    pub thing: ThingId,
    /// How much.
    pub quantity: Decimal,
    /// The named lot (a lot's code or a batch's name).
    pub lot: Option<LabelId>,
    /// Memo, without quotes.
    pub memo: Span,
    /// The line.
    pub span: Span,
}

/// Who worked, and what the work costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Worker {
    /// The owner, at the owner's rate of the day (full view only); `None` where the shop states none.
    Owner(Option<Decimal>),
    /// Hired.
    Hired {
        /// The helper, where defined.
        helper: Option<HelperId>,
        /// The name.
        name: LabelId,
        /// What is owed for this line, to the currency's digits.
        pay: Fixed6,
        /// Whether it is owed until paid.
        paid_later: bool,
        /// Whether an employee.
        employee: bool,
    },
}

/// Time worked.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeLine {
    /// Minutes.
    pub minutes: Fixed6,
    /// At what.
    pub step: StepId,
    /// By whom.
    pub worker: Worker,
    /// On what, in `worked`; `None` in a batch entry and for general work. `on PRODUCT` has been looked up: its one open batch,
    /// else the product itself.
    pub on: Option<Target>,
    /// The line.
    pub span: Span,
}

/// What a batch makes, loses or aims at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Output {
    /// A product or material.
    Thing(ThingId),
    /// A tool.
    Tool(ToolId),
}

/// Good pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct MadeLine {
    /// What.
    pub what: Output,
    /// How many.
    pub quantity: Decimal,
    /// Weight of a piece where `share` is said.
    pub share: Option<Decimal>,
    /// How far the rest is worked, in parts of a hundred; 100 where not said.
    pub rest_worked: Decimal,
    /// Whether the list price is known on that day, for `shared by price`.
    pub list_price: Option<Decimal>,
    /// The line.
    pub span: Span,
}

/// Pieces lost.
#[derive(Clone, Debug, PartialEq)]
pub struct LostLine {
    /// What.
    pub what: Output,
    /// How many.
    pub quantity: Decimal,
    /// Whether charged off: a named loss; else the good pieces bear it.
    pub charged_off: bool,
    /// Memo, without quotes.
    pub memo: Span,
    /// The line.
    pub span: Span,
}

/// Material kept for later.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptLine {
    /// What.
    pub thing: ThingId,
    /// How much.
    pub quantity: Decimal,
    /// What it is worth, for the whole line; zero where not said.
    pub worth: Fixed6,
    /// Whether that was said.
    pub worth_said: bool,
    /// The line.
    pub span: Span,
}

/// How several outputs share a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum OutputSharing {
    BySharesOrSingle,
    ByPrice,
    ByCount,
}

/// A `built`, `started`, `continued` or `finished` entry.
#[derive(Clone, Debug, PartialEq)]
pub struct BatchWork {
    /// The batch.
    pub batch: BatchId,
    /// Where its goods come from and go to.
    pub place: PlaceId,
    /// What it aims at (`started`).
    pub aims: Vec<(Output, Decimal, Span)>,
    /// What was used.
    pub used: Vec<StockLine>,
    /// `used as planned` or `made … as planned`; the line.
    pub used_as_planned: Option<Span>,
    /// Time taken.
    pub took: Vec<TimeLine>,
    /// `took as planned` or `made … as planned`; the line.
    pub took_as_planned: Option<Span>,
    /// Good pieces.
    pub made: Vec<MadeLine>,
    /// `made nothing`; the line.
    pub made_nothing: Option<Span>,
    /// Lost pieces.
    pub lost: Vec<LostLine>,
    /// Kept material.
    pub kept: Vec<KeptLine>,
    /// How outputs share it.
    pub sharing: OutputSharing,
    /// Whether this entry ends the batch whatever was aimed at: a `built` entry, or `nothing else`.
    pub ends: bool,
    /// The owner's rate of the day, for times as planned.
    pub owner_rate: Option<Decimal>,
}
