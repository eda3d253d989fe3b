//! Where goods came from: from a lot to its purchase or its batch, and from a batch to the lots that it used.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::{DEEPEST, Tree};
use crate::costing::Flow;
use crate::names::BatchId;
use crate::reports::period::money_text;
use crate::reports::{TraceKind, TraceStep};
use crate::sources::Span;

impl Tree<'_, '_> {
    /// A lot, and below it what it was made of.
    pub(super) fn whence_lot(&mut self, number: u32, depth: usize) -> Option<TraceStep> {
        let quantity = self.of.links.lot(number)?.quantity;
        self.whence_pieces(number, quantity, depth)
    }

    fn whence_pieces(&mut self, number: u32, quantity: Decimal, depth: usize) -> Option<TraceStep> {
        let of = self.of;
        let lot = of.links.lot(number)?;
        let mut step = of.lot_step(lot, quantity);
        if !self.lots.insert(number) || depth >= DEEPEST {
            step.above = lot.of_batch().is_some();
            return Some(step);
        }
        if let Some(batch) = lot.of_batch() {
            match self.whence_batch(batch, lot.origin.date, depth.saturating_add(1)) {
                Some(steps) => step.steps = steps,
                None => step.above = true,
            }
        }
        Some(step)
    }

    /// The lots that a batch used by the end of a day, each once, and what was paid straight for it by then; nothing where the very same was told
    /// before.
    pub(super) fn whence_batch(&mut self, batch: BatchId, day: NaiveDate, depth: usize) -> Option<Vec<TraceStep>> {
        let of = self.of;
        let (uses, straight) = (of.index.uses_until(batch, day), of.index.straight_until(batch, day));
        if !self.batches.insert((batch, uses.saturating_add(straight))) {
            return None;
        }
        let mut used: BTreeMap<u32, Decimal> = BTreeMap::new();
        for piece in of.index.uses(batch, 0..uses) {
            let sum = used.entry(piece.lot).or_default();
            *sum = sum.saturating_sub(piece.quantity);
        }
        let mut steps: Vec<TraceStep> =
            used.into_iter().filter_map(|(lot, quantity)| self.whence_pieces(lot, quantity, depth)).collect();
        for cost in of.index.straight_to(batch).take(straight) {
            let Some(paid) = cost.paid else { continue };
            let words = if cost.flow == Flow::Opened { "already in it when the book began" } else { "bought straight for it" };
            steps.push(TraceStep {
                kind: TraceKind::Purchase,
                says: format!("{} {words} on {}", money_text(of.books.book, paid), cost.date),
                figure: None,
                date: Some(cost.date.to_string()),
                quantity: None,
                unit: None,
                above: false,
                at: of.at(cost.line),
                steps: Vec::new(),
            });
        }
        Some(steps)
    }

    /// The lots of which an order's pieces were, those among them that came back later.
    pub(super) fn whence_order(&mut self, order: u32) -> Vec<TraceStep> {
        let of = self.of;
        let Some(mut step) = of.order_step(order, None, Span::default()) else { return Vec::new() };
        let mut sold: BTreeMap<u32, Decimal> = BTreeMap::new();
        for (lot, quantity) in of.index.sold_with(order) {
            let sum = sold.entry(lot).or_default();
            *sum = sum.saturating_add(quantity);
        }
        step.steps = sold.into_iter().filter_map(|(lot, quantity)| self.whence_pieces(lot, quantity, 1)).collect();
        vec![step]
    }
}
