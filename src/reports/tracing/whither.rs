//! Where goods went: from a lot to the batches, orders and places, and from a batch to what it made.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::{DEEPEST, Traced, Tree};
use crate::costing::{Flow, LinkedOutput, LinkedPiece, LinkedTo};
use crate::events::{EventKind, Output};
use crate::names::{BatchId, ThingId, ToolId};
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
            let figure = format!("stock/{}", of.names.thing(left.thing));
            step.steps.push(left_step(of, left.quantity, left.thing, figure, &format!("left at {place}")));
        }
        Some(step)
    }

    /// A batch that is asked about: what it made or kept, where that went, and what is in it while it is open.
    pub(super) fn whither_asked_batch(&mut self, batch: BatchId) -> Vec<TraceStep> {
        let mut steps = self.whither_batch(batch, NaiveDate::MIN, 0).unwrap_or_default();
        let of = self.of;
        let name = of.names.batch(batch);
        for (lot, (quantity, day)) in of.in_open_batch(batch) {
            let Some(lot) = of.links.lot(lot) else { continue };
            let at = format!("of lot {} on the bench {}", of.names.lot(lot.origin.number), of.in_batch(batch, day));
            steps.push(left_step(of, quantity, lot.thing, format!("batch/{name}"), &at));
        }
        steps
    }

    /// What a batch made or kept on a day and later, and where that went; nothing where the very same was told before.
    fn whither_batch(&mut self, batch: BatchId, day: NaiveDate, depth: usize) -> Option<Vec<TraceStep>> {
        let of = self.of;
        let (lots, outputs) = (of.index.lots_before(batch, day), of.index.outputs_before(batch, day));
        if !self.batches.insert((batch, lots.saturating_add(outputs))) {
            return None;
        }
        let lots = of.index.lots_of_batch(batch).skip(lots);
        let mut steps: Vec<TraceStep> = lots.filter_map(|lot| self.whither_lot(lot, depth.saturating_add(1))).collect();
        steps.extend(of.index.outputs(batch).skip(outputs).filter_map(|output| match output.what {
            Output::Tool(tool) => Some(tool_step(of, output, tool)),
            Output::Thing(_) => None,
        }));
        Some(steps)
    }

    fn used_by_batch(&mut self, batch: BatchId, entry: &LinkedPiece, depth: usize) -> Option<TraceStep> {
        let of = self.of;
        let name = &of.books.book.batch(batch).name;
        let open = match (of.is_open(batch), of.index.outputs(batch).next()) {
            (false, _) => "",
            (true, None) => ", which is on the bench",
            (true, Some(_)) => ", which is on the bench, a part of it done",
        };
        let (quantity, day) = (quantity_text(-entry.quantity), entry.date.to_string());
        let says = [&of.so_much(&quantity, entry.thing), " used on ", &day, " by batch ", name, open].concat();
        let mut step = of.batch_step(batch, says, entry.line);
        (step.date, step.quantity) = (Some(day), Some(quantity));
        step.unit = Some(of.unit(entry.thing).to_owned());
        match if depth >= DEEPEST { None } else { self.whither_batch(batch, entry.date, depth.saturating_add(1)) } {
            Some(steps) => step.steps = steps,
            None => step.above = true,
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
        TraceStep { kind, ..gone_step(self.of, entry, entry.quantity.abs(), &words) }
    }
}

/// That so much of what moved left, and how.
pub(super) fn gone_step(of: &Traced<'_>, entry: &LinkedPiece, quantity: Decimal, words: &str) -> TraceStep {
    TraceStep {
        kind: TraceKind::Gone,
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

/// A jig or fixture that a batch made.
fn tool_step(of: &Traced<'_>, made: &LinkedOutput, tool: ToolId) -> TraceStep {
    let (quantity, name) = (quantity_text(made.quantity), &of.books.book.tool(tool).named.name);
    TraceStep {
        kind: TraceKind::Left,
        says: format!("{quantity} {name} made on {} as a tool of the shop", made.date),
        figure: None,
        date: Some(made.date.to_string()),
        quantity: Some(quantity),
        unit: Some("ea".to_owned()),
        above: false,
        at: of.at(of.books.book.tool(tool).named.span),
        steps: Vec::new(),
    }
}

/// What is left of a thing, and where: at a place, or in a batch that is not done.
fn left_step(of: &Traced<'_>, quantity: Decimal, thing: ThingId, figure: String, at: &str) -> TraceStep {
    TraceStep {
        kind: TraceKind::Left,
        says: format!("{} {at}", of.much(quantity, thing)),
        figure: Some(figure),
        date: None,
        quantity: Some(quantity_text(quantity)),
        unit: Some(of.unit(thing).to_owned()),
        above: false,
        at: None,
        steps: Vec::new(),
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
