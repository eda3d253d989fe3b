//! The links between lots, batches and orders: what following goods asks for, in a small form.
//!
//! Kept as the engine runs, where it is asked for ([`CostOptions::keep_links`](crate::costing::CostOptions)) and the whole [`Trace`](crate::costing::Trace)
//! is not. No costs but what was paid straight for a batch: numbers in flat lists, so that a question to a large book costs little more than
//! checking it. No journal is needed beside them.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::fault::{Costed, OrFault};
use crate::costing::ledger::Now;
use crate::costing::{BatchAccount, Flow, Issue, LotMade, LotOrigin, Made, ShelfEntry, Trace};
use crate::events::Output;
use crate::names::{BatchId, PlaceId, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// A lot as it came.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LinkedLot {
    /// Which: its number is its place in the list, from one.
    pub origin: LotOrigin,
    /// The line that brought it.
    pub line: Span,
    /// What.
    pub thing: ThingId,
    /// Where it came to.
    pub place: PlaceId,
    /// How much.
    pub quantity: Decimal,
    /// How.
    pub came: Came,
}

impl LinkedLot {
    /// The batch that finished it, or of which it was kept; `None` for what came from outside.
    #[must_use]
    pub fn of_batch(&self) -> Option<BatchId> {
        match self.came {
            Came::Finished(batch) | Came::Kept(batch) => Some(batch),
            Came::Opened | Came::Contributed | Came::Found | Came::CountedMore | Came::Unrecorded | Came::Bought => None,
        }
    }
}

/// How a lot came to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Came {
    /// There when the book began.
    Opened,
    /// Put in by the owner.
    Contributed,
    /// From the bin, or free.
    Found,
    /// More than was booked.
    CountedMore,
    /// Issued without a record.
    Unrecorded,
    /// Bought.
    Bought,
    /// Finished in a batch.
    Finished(BatchId),
    /// Kept of what a batch used.
    Kept(BatchId),
}

impl From<Made> for Came {
    fn from(made: Made) -> Self {
        match made {
            Made::Opened => Self::Opened,
            Made::Contributed => Self::Contributed,
            Made::Found => Self::Found,
            Made::CountedMore => Self::CountedMore,
            Made::Unrecorded => Self::Unrecorded,
            Made::Bought { .. } => Self::Bought,
            Made::Finished(batch) => Self::Finished(batch),
            Made::Kept(batch) => Self::Kept(batch),
        }
    }
}

/// Pieces of one lot that moved onto a shelf or off it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LinkedPiece {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// What.
    pub thing: ThingId,
    /// The lot's number.
    pub lot: u32,
    /// How much came; below zero: went.
    pub quantity: Decimal,
}

/// Where the pieces of an issue went, or whence they came back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkedTo {
    /// Used by a batch.
    Batch(BatchId),
    /// Sold with an order, by its index; where pieces came, back from it.
    Order(u32),
    /// Another flow.
    Flow(Flow),
}

/// An issue, and where its pieces went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// The pieces.
    pub issue: Issue,
    /// Where they went.
    pub to: LinkedTo,
}

/// What was bought straight for a batch, or lay in it when the book began.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StraightCost {
    /// The batch.
    pub batch: BatchId,
    /// [`Flow::Bought`] or [`Flow::Opened`].
    pub flow: Flow,
    /// The day.
    pub date: NaiveDate,
    /// The line.
    pub line: Span,
    /// Its paid cost; `None` where it is too large to be added up.
    pub paid: Option<Fixed6>,
}

/// Good pieces of a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LinkedOutput {
    /// The batch.
    pub batch: BatchId,
    /// The product or tool.
    pub what: Output,
    /// How many.
    pub quantity: Decimal,
    /// The day.
    pub date: NaiveDate,
}

/// The links of a book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Links {
    /// Every lot, in the order of arrival.
    pub lots: Vec<LinkedLot>,
    /// What moved on the shelves, in the order in which it happened.
    pub pieces: Vec<LinkedPiece>,
    /// Where issues went, in the order in which they happened. Of two with the same pieces the later says it.
    pub links: Vec<Link>,
    /// What was put straight to batches.
    pub straight: Vec<StraightCost>,
    /// What batches gave.
    pub outputs: Vec<LinkedOutput>,
}

impl Links {
    /// The links of batches alone, where the whole trace was kept: every lot, what batches used and what they gave. Nothing of orders.
    /// `None` where there are more pieces than can be numbered.
    #[must_use]
    pub fn of_batches(trace: &Trace, batches: &[BatchAccount]) -> Option<Self> {
        let mut links = Self::default();
        for lot in &trace.lots {
            let LotMade { origin, line, thing, place, quantity, made, .. } = *lot;
            links.lots.push(LinkedLot { origin, line, thing, place, quantity, came: made.into() });
        }
        for account in batches {
            let batch = account.batch;
            for used in &account.used {
                let first = u32::try_from(links.pieces.len()).ok()?;
                links.pieces.extend(trace.pieces(used.issue).iter().map(|entry| {
                    let ShelfEntry { date, event, line, thing, lot, quantity, .. } = *entry;
                    LinkedPiece { date, event, line, thing, lot, quantity }
                }));
                links.link(Issue { first, count: used.issue.count }, LinkedTo::Batch(batch));
            }
            let given = account.outputs.iter();
            links.outputs.extend(given.map(|one| LinkedOutput { batch, what: one.what, quantity: one.quantity, date: one.date }));
        }
        Some(links)
    }

    /// The lot of a number.
    #[must_use]
    pub fn lot(&self, number: u32) -> Option<&LinkedLot> {
        self.lots.get(usize::try_from(number.checked_sub(1)?).ok()?)
    }

    /// The pieces of an issue.
    #[must_use]
    pub fn pieces(&self, issue: Issue) -> &[LinkedPiece] {
        let first = issue.first as usize;
        self.pieces.get(first..first.saturating_add(issue.count as usize)).unwrap_or_default()
    }

    /// Writes down pieces of lots that went off a shelf, or onto one: the lots' numbers, and how much of each, below zero where it went.
    pub(crate) fn move_pieces(
        &mut self,
        now: Now,
        line: Span,
        thing: ThingId,
        pieces: impl ExactSizeIterator<Item = (u32, Decimal)>,
    ) -> Costed<Issue> {
        let first = u32::try_from(self.pieces.len()).ok().or_fault()?;
        let count = u32::try_from(pieces.len()).ok().or_fault()?;
        let (date, event) = (now.date, now.event);
        self.pieces.extend(pieces.map(|(lot, quantity)| LinkedPiece { date, event, line, thing, lot, quantity }));
        Ok(Issue { first, count })
    }

    /// Writes down where an issue went; nothing where it has no pieces.
    pub(crate) fn link(&mut self, issue: Issue, to: LinkedTo) {
        if issue.count > 0 {
            self.links.push(Link { issue, to });
        }
    }
}
