//! What the trace is asked for over and over, found once: where a piece went that left a shelf, what a batch made, what an
//! order took.

use rustc_hash::FxHashMap;

use crate::costing::{CostedBook, Flow, Issue, Made, ShelfEntry, Trace};
use crate::names::BatchId;

/// Where an entry of a shelf belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Belongs {
    /// Used by a batch.
    Batch(BatchId),
    /// Sold with an order; where pieces came, back from it.
    Order(u32),
    /// Another flow.
    Flow(Flow),
}

/// The index.
#[derive(Debug, Default)]
pub(super) struct FlowIndex {
    of_lot: FxHashMap<u32, Vec<u32>>,
    belongs: FxHashMap<u32, Belongs>,
    lots_of_batch: FxHashMap<BatchId, Vec<u32>>,
    sold_of_order: FxHashMap<u32, Vec<Issue>>,
    straight: FxHashMap<BatchId, Vec<u32>>,
}

impl FlowIndex {
    /// Goes once through the trace, the movements and the batches.
    pub(super) fn of(trace: &Trace, costed: &CostedBook) -> Self {
        let mut index = Self::default();
        for (at, entry) in (0u32..).zip(&trace.entries) {
            if !entry.quantity.is_zero() {
                index.of_lot.entry(entry.lot).or_default().push(at);
            }
        }
        for lot in &trace.lots {
            if let Made::Finished(batch) | Made::Kept(batch) = lot.made {
                index.lots_of_batch.entry(batch).or_default().push(lot.origin.number);
            }
        }
        for (at, movement) in (0u32..).zip(&costed.movements) {
            if let Some(batch) = movement.batch
                && movement.thing.is_none()
                && matches!(movement.flow, Flow::Bought | Flow::Opened)
            {
                index.straight.entry(batch).or_default().push(at);
            }
            let belongs = match (movement.flow, movement.order) {
                (Flow::Sold, Some(order)) => {
                    index.sold_of_order.entry(order).or_default().push(movement.issue);
                    Belongs::Order(order)
                }
                (flow, _) => Belongs::Flow(flow),
            };
            index.note(movement.issue, belongs);
        }
        for account in &costed.batches {
            for used in &account.used {
                index.note(used.issue, Belongs::Batch(account.batch));
            }
        }
        index
    }

    fn note(&mut self, issue: Issue, belongs: Belongs) {
        for at in issue.first..issue.first.saturating_add(issue.count) {
            self.belongs.insert(at, belongs);
        }
    }

    /// The entries of a lot that moved pieces, with their places in the trace.
    pub(super) fn of_lot<'t>(&self, trace: &'t Trace, lot: u32) -> Vec<(u32, &'t ShelfEntry)> {
        let found = self.of_lot.get(&lot).map_or(&[][..], Vec::as_slice);
        found.iter().filter_map(|at| Some((*at, trace.entries.get(*at as usize)?))).collect()
    }

    /// Where an entry belongs; `None` for what came onto a shelf for the first time, or moved between places.
    pub(super) fn belongs(&self, at: u32) -> Option<Belongs> {
        self.belongs.get(&at).copied()
    }

    /// The lots that a batch made or kept.
    pub(super) fn lots_of_batch(&self, batch: BatchId) -> &[u32] {
        self.lots_of_batch.get(&batch).map_or(&[], Vec::as_slice)
    }

    /// The issues that were sold with an order, or came back from it.
    pub(super) fn sold_of_order(&self, order: u32) -> &[Issue] {
        self.sold_of_order.get(&order).map_or(&[], Vec::as_slice)
    }

    /// The movements that were bought straight for a batch, or lay in it when the book began.
    pub(super) fn straight_to(&self, batch: BatchId) -> &[u32] {
        self.straight.get(&batch).map_or(&[], Vec::as_slice)
    }
}
