//! Where goods came from: from a lot to its purchase or its batch, and from a batch to the lots that it used.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{DEEPEST, Tree};
use crate::costing::{Flow, Made};
use crate::names::BatchId;
use crate::reports::period::money_text;
use crate::reports::{TraceKind, TraceStep};
use crate::sources::Span;

impl Tree<'_, '_> {
    /// A lot, and below it what it was made of.
    pub(super) fn whence_lot(&mut self, number: u32, depth: usize) -> Option<TraceStep> {
        let quantity = self.of.trace.lot(number)?.quantity;
        self.whence_pieces(number, quantity, depth)
    }

    fn whence_pieces(&mut self, number: u32, quantity: Decimal, depth: usize) -> Option<TraceStep> {
        let of = self.of;
        let lot = of.trace.lot(number)?;
        let mut step = of.lot_step(lot, quantity);
        if !self.lots.insert(number) || depth >= DEEPEST {
            step.above = matches!(lot.made, Made::Finished(_) | Made::Kept(_));
            return Some(step);
        }
        if let Made::Finished(batch) | Made::Kept(batch) = lot.made {
            if self.batches.contains(&batch) {
                step.above = true;
            } else {
                step.steps = self.whence_batch(batch, depth.saturating_add(1));
            }
        }
        Some(step)
    }

    /// The lots that a batch used, each once, and what was paid straight for it.
    pub(super) fn whence_batch(&mut self, batch: BatchId, depth: usize) -> Vec<TraceStep> {
        let of = self.of;
        self.batches.insert(batch);
        let Some(account) = of.books.costed.batches.get(batch.index()) else { return Vec::new() };
        let mut used: BTreeMap<u32, Decimal> = BTreeMap::new();
        for piece in account.used.iter().flat_map(|used| of.trace.pieces(used.issue)) {
            let sum = used.entry(piece.lot).or_default();
            *sum = sum.saturating_sub(piece.quantity);
        }
        let mut steps: Vec<TraceStep> =
            used.into_iter().filter_map(|(lot, quantity)| self.whence_pieces(lot, quantity, depth)).collect();
        for number in of.index.straight_to(batch) {
            let Some(movement) = of.books.costed.movements.get(*number as usize) else { continue };
            let Some(paid) = movement.vector.paid() else { continue };
            let words =
                if movement.flow == Flow::Opened { "already in it when the book began" } else { "bought straight for it" };
            steps.push(TraceStep {
                kind: TraceKind::Purchase,
                says: format!("{} {words} on {}", money_text(of.books.book, paid), movement.date),
                figure: None,
                date: Some(movement.date.to_string()),
                quantity: None,
                unit: None,
                above: false,
                at: of.at(movement.line),
                steps: Vec::new(),
            });
        }
        steps
    }

    /// The lots of which an order's pieces were, those that came back taken off.
    pub(super) fn whence_order(&mut self, order: u32) -> Vec<TraceStep> {
        let of = self.of;
        let Some(mut step) = of.order_step(order, None, Span::default()) else { return Vec::new() };
        let mut sold: BTreeMap<u32, Decimal> = BTreeMap::new();
        for piece in of.index.sold_of_order(order).iter().flat_map(|issue| of.trace.pieces(*issue)) {
            let sum = sold.entry(piece.lot).or_default();
            *sum = sum.saturating_sub(piece.quantity);
        }
        step.steps = sold.into_iter().filter_map(|(lot, quantity)| self.whence_pieces(lot, quantity, 1)).collect();
        vec![step]
    }
}
