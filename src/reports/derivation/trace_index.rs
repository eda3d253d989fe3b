//! What the trace and the movements are asked for over and over, found once: the entries of a lot and of a shelf, the finishes of a batch, the lot
//! of a line.
//!
//! A derivation asks for these at each of its steps; looked for in the whole trace each time, a book of twice the size would take four times as
//! long. Everything is an index into the lists themselves, in their order, which is that of the events.

use std::collections::BTreeMap;

use chrono::Datelike;
use rustc_hash::FxHashMap;

use crate::costing::{CostedBook, Finish, Flow, LotMade, Movement, OutputItem, Posting, ShelfEntry, StockLot, Trace};
use crate::events::Output;
use crate::names::{BatchId, PlaceId, ThingId};
use crate::sources::Span;

type Indices = Vec<u32>;

/// What is found in a trace.
#[derive(Debug, Default)]
pub(super) struct TraceIndex {
    of_lot: FxHashMap<u32, Indices>,
    changes_of_lot: FxHashMap<u32, Indices>,
    of_shelf: FxHashMap<(ThingId, PlaceId), Indices>,
    lot_of_line: FxHashMap<(u32, Span, ThingId), u32>,
    finishes: FxHashMap<BatchId, Indices>,
    last_finish: FxHashMap<BatchId, u32>,
    straight: FxHashMap<BatchId, Indices>,
    given_up: FxHashMap<BatchId, Indices>,
    lots_of_thing: FxHashMap<ThingId, Indices>,
    stock_of_thing: BTreeMap<ThingId, Indices>,
    /// Of each thing, the batches' outputs of it: the batch, and which of its outputs.
    outputs: FxHashMap<ThingId, Vec<(u32, u32)>>,
    sold_of_order: FxHashMap<u32, Indices>,
    postings_of_order: FxHashMap<u32, Indices>,
    gone_in_year: BTreeMap<i32, Indices>,
}

impl TraceIndex {
    /// Goes through a trace once, and through the book's movements.
    pub(super) fn of(trace: &Trace, costed: &CostedBook) -> Self {
        let mut index = Self::default();
        for (at, entry) in (0u32..).zip(&trace.entries) {
            index.of_lot.entry(entry.lot).or_default().push(at);
            index.of_shelf.entry((entry.thing, entry.place)).or_default().push(at);
            if entry.quantity.is_zero() {
                index.changes_of_lot.entry(entry.lot).or_default().push(at);
            }
        }
        for lot in trace.lots.iter().filter(|lot| lot.origin.batch.is_some()) {
            index.lot_of_line.entry((lot.origin.event, lot.line, lot.thing)).or_insert(lot.origin.number);
        }
        for (at, finish) in (0u32..).zip(&trace.finishes) {
            index.finishes.entry(finish.batch).or_default().push(at);
            index.last_finish.insert(finish.batch, at);
        }
        for (at, lot) in (0u32..).zip(&trace.lots) {
            index.lots_of_thing.entry(lot.thing).or_default().push(at);
        }
        for (at, lot) in (0u32..).zip(&costed.stock) {
            index.stock_of_thing.entry(lot.thing).or_default().push(at);
        }
        for (batch, account) in (0u32..).zip(&costed.batches) {
            for (at, output) in (0u32..).zip(&account.outputs) {
                if let Output::Thing(thing) = output.what {
                    index.outputs.entry(thing).or_default().push((batch, at));
                }
            }
        }
        for (at, posting) in (0u32..).zip(&costed.postings) {
            if let Some(order) = posting.order {
                index.postings_of_order.entry(order).or_default().push(at);
            }
        }
        for (at, movement) in (0u32..).zip(&costed.movements) {
            if let Some(batch) = movement.batch
                && movement.thing.is_none()
                && matches!(movement.flow, Flow::Bought | Flow::Opened)
            {
                index.straight.entry(batch).or_default().push(at);
            }
            match (movement.flow, movement.order, movement.batch) {
                (Flow::Sold, Some(order), _) => index.sold_of_order.entry(order).or_default().push(at),
                (Flow::Scrapped, _, Some(batch)) if movement.thing.is_none() => {
                    index.given_up.entry(batch).or_default().push(at);
                }
                _ => {}
            }
            if !movement.flow.comes_in() {
                index.gone_in_year.entry(movement.date.year()).or_default().push(at);
            }
        }
        index
    }

    /// The entries of a lot.
    pub(super) fn of_lot<'a>(&self, trace: &'a Trace, lot: u32) -> Vec<&'a ShelfEntry> {
        found(self.of_lot.get(&lot)).iter().filter_map(|at| trace.entries.get(*at as usize)).collect()
    }

    /// By which entries before one of them the cost of a lot changed of which nothing moved.
    pub(super) fn changes_of_lot<'a>(&self, trace: &'a Trace, lot: u32, before: usize) -> Vec<&'a ShelfEntry> {
        let changes = found(self.changes_of_lot.get(&lot)).iter().map(|at| *at as usize).take_while(|at| *at < before);
        changes.filter_map(|at| trace.entries.get(at)).collect()
    }

    /// Which entries moved onto a shelf or off it.
    pub(super) fn of_shelf(&self, shelf: (ThingId, PlaceId)) -> &[u32] {
        found(self.of_shelf.get(&shelf))
    }

    /// The number of the lot that a line of an event made.
    pub(super) fn lot_of_line(&self, event: u32, line: Span, thing: ThingId) -> Option<u32> {
        self.lot_of_line.get(&(event, line, thing)).copied()
    }

    /// The finish that a batch had by an event, and its place in the trace.
    pub(super) fn finish<'a>(&self, trace: &'a Trace, batch: BatchId, event: u32) -> Option<(usize, &'a Finish)> {
        let finishes = found(self.finishes.get(&batch));
        let before = finishes.partition_point(|at| trace.finishes.get(*at as usize).is_some_and(|one| one.event < event));
        let at = *finishes.get(before)? as usize;
        trace.finishes.get(at).filter(|one| one.event == event).map(|one| (at, one))
    }

    /// The finishes of a batch from one place in the trace up to another.
    pub(super) fn finishes<'a>(
        &self,
        trace: &'a Trace,
        batch: BatchId,
        from: usize,
        until: usize,
    ) -> impl Iterator<Item = &'a Finish> {
        let finishes = found(self.finishes.get(&batch));
        let [from, until] = [from, until].map(|place| finishes.partition_point(|at| (*at as usize) < place));
        finishes.get(from..until).unwrap_or_default().iter().filter_map(|at| trace.finishes.get(*at as usize))
    }

    /// The last finish of a batch, and its place in the trace.
    pub(super) fn last_finish<'a>(&self, trace: &'a Trace, batch: BatchId) -> Option<(usize, &'a Finish)> {
        let at = *self.last_finish.get(&batch)? as usize;
        trace.finishes.get(at).map(|finish| (at, finish))
    }

    /// The lots of a thing.
    pub(super) fn lots<'a>(&self, trace: &'a Trace, thing: ThingId) -> impl Iterator<Item = &'a LotMade> {
        found(self.lots_of_thing.get(&thing)).iter().filter_map(|at| trace.lots.get(*at as usize))
    }

    /// What is on hand of a thing.
    pub(super) fn stock<'a>(&self, costed: &'a CostedBook, thing: ThingId) -> impl Iterator<Item = &'a StockLot> {
        found(self.stock_of_thing.get(&thing)).iter().filter_map(|at| costed.stock.get(*at as usize))
    }

    /// The things of which there is any.
    pub(super) fn things_on_hand(&self) -> impl Iterator<Item = ThingId> {
        self.stock_of_thing.keys().copied()
    }

    /// What the batches gave of a thing.
    pub(super) fn outputs<'a>(&self, costed: &'a CostedBook, thing: ThingId) -> impl Iterator<Item = &'a OutputItem> {
        let outputs = self.outputs.get(&thing).map_or(&[][..], Vec::as_slice);
        outputs.iter().filter_map(|(batch, at)| costed.batches.get(*batch as usize)?.outputs.get(*at as usize))
    }

    /// What was scrapped of a batch when it was given up.
    pub(super) fn given_up<'a>(&self, costed: &'a CostedBook, batch: BatchId) -> impl Iterator<Item = &'a Movement> {
        found(self.given_up.get(&batch)).iter().filter_map(|at| costed.movements.get(*at as usize))
    }

    /// What was sold with an order, or came back of it.
    pub(super) fn sold_of<'a>(&self, costed: &'a CostedBook, order: u32) -> impl Iterator<Item = &'a Movement> {
        found(self.sold_of_order.get(&order)).iter().filter_map(|at| costed.movements.get(*at as usize))
    }

    /// The money that belongs to an order.
    pub(super) fn postings_of<'a>(&self, costed: &'a CostedBook, order: u32) -> impl Iterator<Item = &'a Posting> {
        found(self.postings_of_order.get(&order)).iter().filter_map(|at| costed.postings.get(*at as usize))
    }

    /// What went out of the goods in a year.
    pub(super) fn gone_in<'a>(&self, costed: &'a CostedBook, year: i32) -> impl Iterator<Item = &'a Movement> {
        found(self.gone_in_year.get(&year)).iter().filter_map(|at| costed.movements.get(*at as usize))
    }

    /// What was bought straight for a batch, or was on its bench when the book began, from one event to another, both included.
    pub(super) fn straight<'a>(
        &self,
        costed: &'a CostedBook,
        batch: BatchId,
        first: u32,
        last: u32,
    ) -> impl Iterator<Item = &'a Movement> {
        let movements = found(self.straight.get(&batch));
        let event = |at: &u32| costed.movements.get(*at as usize).map_or(u32::MAX, |one| one.event);
        let (from, until) =
            (movements.partition_point(|at| event(at) < first), movements.partition_point(|at| event(at) <= last));
        movements.get(from..until).unwrap_or_default().iter().filter_map(|at| costed.movements.get(*at as usize))
    }
}

fn found(indices: Option<&Indices>) -> &[u32] {
    indices.map_or(&[], Vec::as_slice)
}
