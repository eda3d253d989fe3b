//! Everything that a trace reaches, each once: a walk from lot to batch to lot, backwards and forwards, that takes as long as what it reaches.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::Traced;
use super::asked::Asked;
use super::whither::how_it_left;
use crate::costing::{LinkedPiece, LinkedTo};
use crate::events::Output;
use crate::names::BatchId;
use crate::reports::period::quantity_text;
use crate::reports::{MadeOfBatch, ReachedBatch, ReachedGone, ReachedOrder, ReachedSource, ReachedStock};

/// What was reached.
#[derive(Debug, Default)]
pub(super) struct Reach {
    /// Lots backwards, those that are asked about among them.
    pub(super) before: BTreeSet<u32>,
    /// Lots forwards, those that are asked about among them.
    pub(super) after: BTreeSet<u32>,
    /// Batches backwards.
    pub(super) batches_before: BTreeSet<BatchId>,
    /// Batches forwards.
    pub(super) batches_after: BTreeSet<BatchId>,
    /// Of each batch backwards, how many of its uses are reached: those by the day of the last piece that was reached of it.
    uses: BTreeMap<BatchId, usize>,
    /// Of each batch forwards, how many of its lots, from the first, are not reached: those made before the first thing that was reached went into it.
    not_after: BTreeMap<BatchId, usize>,
}

impl Reach {
    /// Walks both ways from what is asked about.
    pub(super) fn of(of: &Traced<'_>, asked: &Asked) -> Self {
        let mut reach = Self::default();
        let mut queue: VecDeque<u32> = VecDeque::new();
        match asked {
            Asked::Lots(lots) => {
                queue.extend(lots);
                reach.backwards(of, queue.clone(), None);
                reach.forwards(of, queue, None);
            }
            Asked::Batch(batch) => {
                reach.backwards(of, VecDeque::new(), Some(*batch));
                reach.forwards(of, VecDeque::new(), Some(*batch));
            }
            Asked::Orders(orders) => {
                for order in orders {
                    queue.extend(of.index.sold_with(*order).map(|(lot, _)| lot));
                }
                reach.backwards(of, queue, None);
            }
        }
        reach
    }

    /// Walks backwards alone, from a batch.
    pub(super) fn before(of: &Traced<'_>, batch: BatchId) -> Self {
        let mut reach = Self::default();
        reach.backwards(of, VecDeque::new(), Some(batch));
        reach
    }

    fn backwards(&mut self, of: &Traced<'_>, mut lots: VecDeque<u32>, batch: Option<BatchId>) {
        let mut batches: VecDeque<(BatchId, NaiveDate)> = batch.map(|batch| (batch, NaiveDate::MAX)).into_iter().collect();
        loop {
            if let Some(number) = lots.pop_front() {
                if self.before.insert(number) {
                    let lot = of.links.lot(number);
                    batches.extend(lot.and_then(|lot| Some((lot.of_batch()?, lot.origin.date))));
                }
            } else if let Some((batch, day)) = batches.pop_front() {
                self.batches_before.insert(batch);
                let (uses, reached) = (of.index.uses_until(batch, day), self.uses.entry(batch).or_default());
                if uses > *reached {
                    lots.extend(of.index.uses(batch, *reached..uses).map(|piece| piece.lot));
                    *reached = uses;
                }
            } else {
                return;
            }
        }
    }

    fn forwards(&mut self, of: &Traced<'_>, mut lots: VecDeque<u32>, batch: Option<BatchId>) {
        let mut batches: VecDeque<(BatchId, NaiveDate)> = batch.map(|batch| (batch, NaiveDate::MIN)).into_iter().collect();
        loop {
            if let Some(number) = lots.pop_front() {
                if self.after.insert(number) {
                    let to_batch = |to| if let Some(LinkedTo::Batch(batch)) = to { Some(batch) } else { None };
                    batches.extend(of.index.of_lot(number).filter_map(|(to, entry)| Some((to_batch(to)?, entry.date))));
                }
            } else if let Some((batch, day)) = batches.pop_front() {
                self.batches_after.insert(batch);
                let (before, reached) = (of.index.lots_before(batch, day), self.not_after.entry(batch).or_insert(usize::MAX));
                if before < *reached {
                    lots.extend(of.index.lots_of_batch(batch).take(*reached).skip(before));
                    *reached = before;
                }
            } else {
                return;
            }
        }
    }

    /// Lots that went into a batch only after what was reached of it was made, each once, and by none of it otherwise.
    pub(super) fn used_later(&self, of: &Traced<'_>, batch: BatchId) -> BTreeSet<u32> {
        let reached = self.uses.get(&batch).copied().unwrap_or_default();
        of.index.uses(batch, reached..usize::MAX).map(|piece| piece.lot).filter(|lot| !self.before.contains(lot)).collect()
    }

    /// Lots that came from outside, by their day.
    pub(super) fn sources(&self, of: &Traced<'_>) -> Vec<ReachedSource> {
        let lots = self.before.iter().filter_map(|number| of.links.lot(*number));
        let from_outside = lots.filter(|lot| lot.of_batch().is_none());
        from_outside
            .map(|lot| {
                let purchase @ (supplier, receipt, certificate) = of.purchase(lot);
                ReachedSource {
                    date: lot.origin.date.to_string(),
                    came: of.came(lot, purchase),
                    supplier: supplier.map(str::to_owned),
                    receipt: receipt.map(str::to_owned),
                    thing: of.thing(lot.thing).to_owned(),
                    lot: of.names.lot(lot.origin.number).to_owned(),
                    quantity: quantity_text(lot.quantity),
                    unit: of.unit(lot.thing).to_owned(),
                    certificate: certificate.map(str::to_owned),
                }
            })
            .collect()
    }

    /// Batches, those before first, each by its first day.
    pub(super) fn batches(&self, of: &Traced<'_>) -> Vec<ReachedBatch> {
        let mut told = BTreeSet::new();
        let mut list = Vec::new();
        for batches in [&self.batches_before, &self.batches_after] {
            let mut accounts: Vec<_> = batches
                .iter()
                .filter(|batch| told.insert(**batch))
                .filter_map(|batch| of.books.costed.batches.get(batch.index()))
                .collect();
            accounts.sort_by_key(|account| (account.started, account.batch));
            for account in accounts {
                let mut made: BTreeMap<&str, Decimal> = BTreeMap::new();
                for output in of.index.outputs(account.batch) {
                    let name = match output.what {
                        Output::Thing(thing) => of.thing(thing),
                        Output::Tool(tool) => of.books.book.tool(tool).named.name.as_str(),
                    };
                    let sum = made.entry(name).or_default();
                    *sum = sum.saturating_add(output.quantity);
                }
                let made = made
                    .into_iter()
                    .map(|(thing, quantity)| MadeOfBatch { thing: thing.to_owned(), quantity: quantity_text(quantity) });
                list.push(ReachedBatch {
                    name: of.books.book.batch(account.batch).name.clone(),
                    made: made.collect(),
                    started: account.started.map(|day| day.to_string()),
                    finished: account.finished.map(|day| day.to_string()),
                });
            }
        }
        list
    }

    /// Goods of orders, by day: what was sold of each lot, and what came back.
    pub(super) fn orders(&self, of: &Traced<'_>) -> Vec<ReachedOrder> {
        let mut sold: BTreeMap<(u32, u32), (Decimal, Decimal)> = BTreeMap::new();
        for number in &self.after {
            for (to, entry) in of.index.of_lot(*number) {
                let Some(LinkedTo::Order(order)) = to else { continue };
                let (out, back) = sold.entry((order, *number)).or_default();
                let sum = if entry.quantity.is_sign_negative() { out } else { back };
                *sum = sum.saturating_add(entry.quantity.abs());
            }
        }
        let mut list = Vec::new();
        for ((order, number), (out, back)) in sold {
            list.extend(order_of(of, order, number, (out, back)));
        }
        list.sort_by(|a, b| (&a.date, &a.order, &a.lot).cmp(&(&b.date, &b.order, &b.lot)));
        list
    }

    /// What is on hand, by place and lot: on the shelves, and in batches that are not done.
    pub(super) fn on_hand(&self, of: &Traced<'_>, asked: &Asked) -> Vec<ReachedStock> {
        let left = self.after.iter().flat_map(|number| of.left_of(*number));
        let mut list: Vec<ReachedStock> = left
            .map(|lot| ReachedStock {
                place: of.books.book.place(lot.place).named.name.clone(),
                thing: of.thing(lot.thing).to_owned(),
                lot: of.names.lot(lot.origin.number).to_owned(),
                quantity: quantity_text(lot.quantity),
                unit: of.unit(lot.thing).to_owned(),
                batch: None,
            })
            .collect();
        for batch in &self.batches_after {
            // Of a batch that is asked about, all that is in it; else what was reached of it.
            let is_asked = *asked == Asked::Batch(*batch);
            for (number, (quantity, day)) in of.in_open_batch(*batch) {
                let Some(lot) = of.links.lot(number).filter(|_| is_asked || self.after.contains(&number)) else { continue };
                list.push(ReachedStock {
                    place: of.on_the_bench(*batch, day).to_owned(),
                    thing: of.thing(lot.thing).to_owned(),
                    lot: of.names.lot(number).to_owned(),
                    quantity: quantity_text(quantity),
                    unit: of.unit(lot.thing).to_owned(),
                    batch: Some(of.books.book.batch(*batch).name.clone()),
                });
            }
        }
        list.sort_by(|a, b| (&a.batch, &a.place, &a.thing, &a.lot).cmp(&(&b.batch, &b.place, &b.thing, &b.lot)));
        list
    }

    /// What left otherwise, by day.
    pub(super) fn gone(&self, of: &Traced<'_>) -> Vec<ReachedGone> {
        let mut list = Vec::new();
        for number in &self.after {
            for (to, entry) in of.index.of_lot(*number) {
                let Some(LinkedTo::Flow(flow)) = to else { continue };
                let Some(how) = how_it_left(flow).filter(|_| entry.quantity.is_sign_negative()) else { continue };
                list.push(gone_of(of, entry, entry.quantity.abs(), how));
            }
        }
        list.sort_by(|a, b| (&a.date, &a.lot).cmp(&(&b.date, &b.lot)));
        list
    }
}

/// Goods of an order of one lot: how much was sold, and how much of it came back.
pub(super) fn order_of(of: &Traced<'_>, order: u32, number: u32, (out, back): (Decimal, Decimal)) -> Option<ReachedOrder> {
    let (account, lot) = of.books.costed.orders.get(order as usize).zip(of.links.lot(number))?;
    Some(ReachedOrder {
        date: account.date.to_string(),
        order: of.names.order(order).to_owned(),
        channel: account.channel.map(|id| of.books.book.channel(id).named.name.clone()),
        buyer: of.label(account.buyer).map(str::to_owned),
        thing: of.thing(lot.thing).to_owned(),
        lot: of.names.lot(number).to_owned(),
        sold: quantity_text(out),
        came_back: quantity_text(back),
        unit: of.unit(lot.thing).to_owned(),
    })
}

/// So much of what moved that left without a sale.
pub(super) fn gone_of(of: &Traced<'_>, entry: &LinkedPiece, quantity: Decimal, how: &str) -> ReachedGone {
    ReachedGone {
        date: entry.date.to_string(),
        how: how.to_owned(),
        thing: of.thing(entry.thing).to_owned(),
        lot: of.names.lot(entry.lot).to_owned(),
        quantity: quantity_text(quantity),
        unit: of.unit(entry.thing).to_owned(),
    }
}
