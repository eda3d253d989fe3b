//! Where goods went: from a lot to the batches, orders and places, and from a batch to what it made.

use rust_decimal::Decimal;

use super::{DEEPEST, Tree};
use crate::costing::{Flow, LinkedPiece, LinkedTo};
use crate::events::EventKind;
use crate::names::BatchId;
use crate::reports::period::quantity_text;
use crate::reports::{TraceKind, TraceStep};

impl Tree<'_, '_> {
    /// A lot, and below it where its pieces went and what is left.
    pub(super) fn whither_lot(&mut self, number: u32, depth: usize) -> Option<TraceStep> {
        let of = self.of;
        let lot = of.links.lot(number)?;
        let mut step = of.lot_step(lot, lot.quantity);
        if !self.lots.insert(number) || depth >= DEEPEST {
            step.above = true;
            return Some(step);
        }
        for (to, entry) in of.index.of_lot(number) {
            let moved = match to {
                Some(LinkedTo::Batch(batch)) => self.used_by_batch(batch, entry, depth),
                Some(LinkedTo::Order(order)) => {
                    of.order_step(order, Some((-entry.quantity, entry.thing, entry.date)), entry.line)
                }
                Some(LinkedTo::Flow(flow)) => self.by_flow(flow, entry),
                None if entry.quantity.is_sign_negative() => self.taken_to_place(entry),
                // It came: as a new lot, or to the other place of the same move.
                None => None,
            };
            step.steps.extend(moved);
        }
        for left in of.left_of(number) {
            let place = &of.books.book.place(left.place).named.name;
            step.steps.push(TraceStep {
                kind: TraceKind::Left,
                says: format!("{} left at {place}", of.much(left.quantity, left.thing)),
                figure: Some(format!("stock/{}", of.names.thing(left.thing))),
                date: None,
                quantity: Some(quantity_text(left.quantity)),
                unit: Some(of.unit(left.thing).to_owned()),
                above: false,
                at: None,
                steps: Vec::new(),
            });
        }
        Some(step)
    }

    /// What a batch made or kept, and where that went.
    pub(super) fn whither_batch(&mut self, batch: BatchId, depth: usize) -> Vec<TraceStep> {
        self.batches.insert(batch);
        let lots: Vec<u32> = self.of.index.lots_of_batch(batch).collect();
        lots.into_iter().filter_map(|lot| self.whither_lot(lot, depth.saturating_add(1))).collect()
    }

    fn used_by_batch(&mut self, batch: BatchId, entry: &LinkedPiece, depth: usize) -> Option<TraceStep> {
        let of = self.of;
        let name = &of.books.book.batch(batch).name;
        let says = format!("{} used on {} by batch {name}", of.much(-entry.quantity, entry.thing), entry.date);
        let mut step = of.batch_step(batch, says, entry.line);
        step.date = Some(entry.date.to_string());
        step.quantity = Some(quantity_text(-entry.quantity));
        step.unit = Some(of.unit(entry.thing).to_owned());
        if self.batches.contains(&batch) || depth >= DEEPEST {
            step.above = true;
        } else {
            step.steps = self.whither_batch(batch, depth.saturating_add(1));
        }
        Some(step)
    }

    fn by_flow(&self, flow: Flow, entry: &LinkedPiece) -> Option<TraceStep> {
        let words = if entry.quantity.is_sign_negative() { how_it_left(flow)? } else { "came back" };
        Some(self.moved(TraceKind::Gone, entry, words.to_owned()))
    }

    fn taken_to_place(&self, entry: &LinkedPiece) -> Option<TraceStep> {
        let event = self.of.books.log.events.get(entry.event as usize)?;
        let EventKind::Moved(moved) = &event.kind else { return None };
        let place = &self.of.books.book.place(moved.to).named.name;
        Some(self.moved(TraceKind::Place, entry, format!("taken to {place}")))
    }

    fn moved(&self, kind: TraceKind, entry: &LinkedPiece, words: String) -> TraceStep {
        let of = self.of;
        let quantity: Decimal = entry.quantity.abs();
        TraceStep {
            kind,
            says: format!("{} {words} on {}", of.much(quantity, entry.thing), entry.date),
            figure: None,
            date: Some(entry.date.to_string()),
            quantity: Some(quantity_text(quantity)),
            unit: Some(of.unit(entry.thing).to_owned()),
            above: false,
            at: of.at(entry.line),
            steps: Vec::new(),
        }
    }
}

/// How goods left that were not sold; `None` for what is no leaving.
pub(super) fn how_it_left(flow: Flow) -> Option<&'static str> {
    Some(match flow {
        Flow::PackingUsed => "used to pack",
        Flow::UsedInShop => "used in the shop",
        Flow::MadeForShop => "made for the shop",
        Flow::TakenHome => "taken home",
        Flow::Sample => "given as a sample",
        Flow::Gift => "given away",
        Flow::Donated => "donated",
        Flow::Scrapped => "scrapped",
        Flow::Missing => "missing in a count",
        Flow::SentBack | Flow::PriceDifference => "sent back to its supplier",
        Flow::AbnormalLoss => "lost",
        Flow::Opened
        | Flow::Bought
        | Flow::Contributed
        | Flow::Time
        | Flow::Royalty
        | Flow::Overhead
        | Flow::Unrecorded
        | Flow::Credited
        | Flow::Sold => return None,
    })
}
