//! A batch's account: what it collected, what it gave, and what is still on the bench.
//!
//! The engine adds to it entry by entry; reports read it. Everything here is exact; nothing is a unit cost.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::{CostVector, Issue};
use crate::events::Output;
use crate::names::{BatchId, StepId, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// Where a batch stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum BatchState {
    NotBegun,
    OnTheBench,
    Done,
    GivenUp,
}

/// Goods used by a batch.
#[derive(Clone, Debug, PartialEq)]
pub struct UsedItem {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The thing; wear of steps included.
    pub thing: ThingId,
    /// How much.
    pub quantity: Decimal,
    /// Its cost.
    pub vector: CostVector,
    /// The pieces, in [`CostedBook::trace`](crate::costing::CostedBook), where that is kept.
    pub issue: Issue,
    /// Whether computed from the step's wear rather than written.
    pub by_step: bool,
    /// The line.
    pub line: Span,
}

/// Time spent on a batch.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeItem {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The step.
    pub step: StepId,
    /// Minutes.
    pub minutes: Fixed6,
    /// Whether the owner's.
    pub own: bool,
    /// Its cost: own time at the owner's rate, or what the hired hour cost.
    pub cost: Fixed6,
    /// Overhead applied for it.
    pub overhead: Fixed6,
    /// The line.
    pub line: Span,
}

/// Good pieces that left the batch together.
#[derive(Clone, Debug, PartialEq)]
pub struct OutputItem {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// What.
    pub what: Output,
    /// Good pieces.
    pub quantity: Decimal,
    /// Their cost.
    pub vector: CostVector,
    /// The line.
    pub line: Span,
}

/// Pieces lost.
#[derive(Clone, Debug, PartialEq)]
pub struct LossItem {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// What; `None` for a batch that made nothing.
    pub what: Option<Output>,
    /// How many.
    pub quantity: Decimal,
    /// Whether charged off.
    pub charged_off: bool,
    /// Their cost: zero for a normal loss.
    pub vector: CostVector,
    /// The line.
    pub line: Span,
}

/// Material kept.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptItem {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// What.
    pub thing: ThingId,
    /// How much.
    pub quantity: Decimal,
    /// Its cost.
    pub vector: CostVector,
    /// The line.
    pub line: Span,
}

/// A batch.
#[derive(Clone, Debug, PartialEq)]
pub struct BatchAccount {
    /// Which.
    pub batch: BatchId,
    /// Where it stands.
    pub state: BatchState,
    /// The first day; `None` where it was named but nothing was put to it.
    pub started: Option<NaiveDate>,
    /// The day on which it was done or given up.
    pub finished: Option<NaiveDate>,
    /// What it aims at.
    pub aims: Vec<(Output, Decimal)>,
    /// All that it collected so far; zero where no journal is kept.
    pub collected: CostVector,
    /// What is on the bench: collected less what left.
    pub on_the_bench: CostVector,
    /// The line of the good pieces that left it last.
    pub last_made: Option<Span>,
    /// The line of the pieces that were lost last.
    pub last_lost: Option<Span>,
    /// Goods used.
    pub used: Vec<UsedItem>,
    /// Time.
    pub time: Vec<TimeItem>,
    /// Good pieces.
    pub outputs: Vec<OutputItem>,
    /// Lost pieces.
    pub losses: Vec<LossItem>,
    /// Kept material.
    pub kept: Vec<KeptItem>,
}
