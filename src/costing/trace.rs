//! The trace: what made each lot, of which lots each issue was taken, and how a batch's cost was shared.
//!
//! Built as the engine runs, where it is asked for ([`CostOptions::keep_trace`](crate::costing::CostOptions)). Together with the movements, which name their
//! issue, it answers what made any cost: from a figure to the movements, from these to the lots, from a lot to the purchase or the batch,
//! from the batch to what it used. Numbers only; the words are the reports' matter.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::fault::{Costed, OrFault};
use crate::costing::ledger::Now;
use crate::costing::shelf::Lot;
use crate::costing::{Amounts, CostVector, LotOrigin, Pieces};
use crate::events::Output;
use crate::names::{BatchId, LabelId, PlaceId, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// How a lot came to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Made {
    /// There when the book began.
    Opened,
    /// Put in by the owner.
    Contributed,
    /// From the bin, or free.
    Found,
    /// More than was booked: at the newest lot's cost.
    CountedMore,
    /// Issued without a record, at the last known cost.
    Unrecorded,
    /// Bought: the line's price, and its shares of what the bill says for all lines.
    Bought {
        /// The line's own price.
        price: Fixed6,
        /// Its share of the discount, which is taken off.
        discount: Fixed6,
        /// Its share of the sales tax.
        sales_tax: Fixed6,
        /// Its share of the freight.
        freight: Fixed6,
    },
    /// Finished in a batch.
    Finished(BatchId),
    /// Kept of what a batch used.
    Kept(BatchId),
}

/// A lot that is new: what the engine is told of it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct NewLot {
    pub(crate) thing: ThingId,
    pub(crate) place: PlaceId,
    pub(crate) quantity: Decimal,
    pub(crate) code: Option<LabelId>,
    pub(crate) batch: Option<BatchId>,
    pub(crate) line: Span,
    pub(crate) made: Made,
}

/// A lot as it came.
#[derive(Clone, Debug, PartialEq)]
pub struct LotMade {
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
    /// Its cost when it came.
    pub cost: Amounts,
    /// How.
    pub made: Made,
}

/// What moved onto a shelf, off it, or in its cost: a part of one lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ShelfEntry {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// What.
    pub thing: ThingId,
    /// Where.
    pub place: PlaceId,
    /// The lot's number.
    pub lot: u32,
    /// How much came; below zero: went. Zero where only the cost changed: by a supplier's credit, or where a pool was parted into its lots.
    pub quantity: Decimal,
    /// Its cost, with the sign of what came.
    pub cost: Amounts,
}

/// Entries that belong together: the pieces of one issue.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Issue {
    /// The first one's index.
    pub first: u32,
    /// How many.
    pub count: u32,
}

/// What of a finish goes to one product.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FinishPart {
    /// The product or tool.
    pub what: Output,
    /// How many.
    pub quantity: Decimal,
    /// The weight of one.
    pub weight: Decimal,
    /// Whether they were charged off.
    pub charged_off: bool,
    /// What they took of the bench.
    pub share: Amounts,
}

/// A finish of a batch: what was on the bench, and how it was shared.
#[derive(Clone, Debug, PartialEq)]
pub struct Finish {
    /// The batch.
    pub batch: BatchId,
    /// The event's index.
    pub event: u32,
    /// What was on the bench before.
    pub bench: Amounts,
    /// What of it was taken.
    pub taken: Amounts,
    /// Weighted pieces made and charged off now.
    pub given: Decimal,
    /// Weighted pieces still to come.
    pub to_come: Decimal,
    /// How much of those is still to be worked, in percent.
    pub rest_worked: Decimal,
    /// Each product with its pieces.
    pub parts: Vec<FinishPart>,
}

/// The trace of a book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// Every lot, in the order of arrival.
    pub lots: Vec<LotMade>,
    /// What moved on the shelves, in the order in which it happened.
    pub entries: Vec<ShelfEntry>,
    /// The batches' finishes, in the order in which they happened.
    pub finishes: Vec<Finish>,
}

impl Trace {
    /// The lot of a number.
    #[must_use]
    pub fn lot(&self, number: u32) -> Option<&LotMade> {
        self.lots.get(usize::try_from(number.checked_sub(1)?).ok()?)
    }

    /// The entries of an issue.
    #[must_use]
    pub fn pieces(&self, issue: Issue) -> &[ShelfEntry] {
        let first = issue.first as usize;
        self.entries.get(first..first.saturating_add(issue.count as usize)).unwrap_or_default()
    }

    /// Writes down by how much the cost of each lot changes where a pool is parted into its lots.
    pub(crate) fn part_pool<'l>(
        &mut self,
        now: Now,
        (thing, place): (ThingId, PlaceId),
        lots: impl Iterator<Item = &'l Lot>,
    ) -> Costed<()> {
        let mut change: BTreeMap<u32, Amounts> = BTreeMap::new();
        for entry in self.entries.iter().filter(|entry| (entry.thing, entry.place) == (thing, place)) {
            let cost = change.entry(entry.lot).or_default();
            *cost = cost.minus(&entry.cost).or_fault()?;
        }
        // Lots that are gone left at the average: what that was above or below their own cost is no longer theirs.
        for lot in lots {
            let cost = change.entry(lot.origin.number).or_default();
            *cost = cost.plus(&Amounts::of(&lot.vector).or_fault()?).or_fault()?;
        }
        for (lot, cost) in change.into_iter().filter(|(_, cost)| !cost.is_nothing()) {
            let (date, event, line, quantity) = (now.date, now.event, Span::default(), Decimal::ZERO);
            self.entries.push(ShelfEntry { date, event, line, thing, place, lot, quantity, cost });
        }
        Ok(())
    }

    /// Writes down pieces that went off a shelf, or onto one.
    pub(crate) fn move_pieces(
        &mut self,
        now: Now,
        line: Span,
        (thing, place): (ThingId, PlaceId),
        pieces: &[Pieces],
        went: bool,
    ) -> Costed<Issue> {
        let first = u32::try_from(self.entries.len()).ok().or_fault()?;
        for piece in pieces {
            let quantity = if went { -piece.quantity } else { piece.quantity };
            self.move_piece(now, line, (thing, place), (piece.lot.number, quantity), &piece.vector)?;
        }
        Ok(Issue { first, count: u32::try_from(pieces.len()).ok().or_fault()? })
    }

    /// Writes down so much of a lot that came onto a shelf; below zero: that went. Of what went, and of what nothing came or went, the cost is
    /// handed in as it is, without a sign.
    pub(crate) fn move_piece(
        &mut self,
        now: Now,
        line: Span,
        (thing, place): (ThingId, PlaceId),
        (lot, quantity): (u32, Decimal),
        vector: &CostVector,
    ) -> Costed<()> {
        let mut cost = Amounts::of(vector).or_fault()?;
        if quantity.is_sign_negative() {
            cost = cost.negated().or_fault()?;
        }
        self.entries.push(ShelfEntry { date: now.date, event: now.event, line, thing, place, lot, quantity, cost });
        Ok(())
    }
}
