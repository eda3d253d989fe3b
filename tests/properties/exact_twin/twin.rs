//! The twin: a book costed in exact fractions, event by event, as `DEVELOPERS.md` says and in no other way.
//!
//! It was written from the design without a look at the engine. It is slow and plain, keeps everything, and rounds only where the design
//! does: quantities that do not terminate, and what is owed to somebody. What it is short of comes from nowhere, at the last known cost.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use kerfbook::costing::{Component, Flow};
use kerfbook::events::{Event, EventKind, EventLog, OpenedHow};
use kerfbook::names::{CostingMethod, LabelId, PatternId, PlaceId, ResolvedBook, ThingId, ThingKind};
use num_traits::Signed;
use rust_decimal::Decimal;

use super::exact_number::{Exact, nothing, of_amount, of_decimal, whole};
use super::exact_vector::ExactVector;
use super::twin_batch::TwinBatch;
use super::twin_money::{TwinDeposit, TwinPosting};
use super::twin_order::TwinOrder;
use super::twin_overhead::{TwinTool, YearOverhead};
use super::twin_shelf::{Origin, TwinLot, TwinShelf};
use super::twin_short::Unrecorded;

/// Cost that came in or went out.
#[derive(Clone, Debug)]
pub(crate) struct TwinMovement {
    pub(crate) date: NaiveDate,
    pub(crate) event: u32,
    pub(crate) flow: Flow,
    pub(crate) thing: Option<ThingId>,
    pub(crate) vector: ExactVector,
}

/// Where a bought lot came from, and how much it was.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Purchase {
    pub(crate) thing: ThingId,
    pub(crate) supplier: Option<LabelId>,
    pub(crate) receipt: Option<LabelId>,
    pub(crate) quantity: Decimal,
}

/// Pieces that a licence still permits.
#[derive(Clone, Debug)]
pub(crate) struct TwinLicence {
    pub(crate) pattern: PatternId,
    pub(crate) left: Exact,
    pub(crate) cost: ExactVector,
}

/// Good pieces, or pieces charged off, that a finish gave: event, what, cost.
pub(crate) type TwinOutput = (u32, kerfbook::events::Output, ExactVector);

/// A book costed exactly.
pub(crate) struct Twin<'b> {
    pub(crate) book: &'b ResolvedBook,
    pub(crate) shelf: TwinShelf,
    pub(crate) batches: Vec<TwinBatch>,
    pub(crate) orders: Vec<TwinOrder>,
    pub(crate) licences: Vec<TwinLicence>,
    pub(crate) movements: Vec<TwinMovement>,
    pub(crate) outputs: Vec<TwinOutput>,
    pub(crate) postings: Vec<TwinPosting>,
    pub(crate) deposits: Vec<TwinDeposit>,
    pub(crate) tools: Vec<TwinTool>,
    /// What was taken without a record, and what things cost when they last came: quantity and cost.
    pub(crate) unrecorded: BTreeMap<(ThingId, PlaceId), Unrecorded>,
    pub(crate) last_known: BTreeMap<ThingId, (Exact, ExactVector)>,
    /// What this walk finds of each year's overhead and minutes, tools aside.
    pub(crate) overheads: BTreeMap<i32, YearOverhead>,
    /// What an earlier walk found.
    pub(crate) known_overheads: BTreeMap<i32, YearOverhead>,
    /// What was on hand at each year's end.
    pub(crate) year_ends: BTreeMap<i32, ExactVector>,
    /// What was still without a record at each year's end.
    pub(crate) unrecorded_ends: BTreeMap<i32, ExactVector>,
    /// Purchases by their lots' numbers.
    pub(crate) purchases: BTreeMap<u32, Purchase>,
    pub(crate) event: u32,
    pub(crate) date: NaiveDate,
}

/// Costs a book exactly. Overhead from expenses is known only after a first walk.
pub(crate) fn cost_exactly<'b>(log: &EventLog, book: &'b ResolvedBook) -> Twin<'b> {
    let twin = walk(log, book, BTreeMap::new());
    if twin.is_from_expenses() { walk(log, book, twin.years_overhead()) } else { twin }
}

fn walk<'b>(log: &EventLog, book: &'b ResolvedBook, known_overheads: BTreeMap<i32, YearOverhead>) -> Twin<'b> {
    let mut twin = Twin {
        book,
        shelf: TwinShelf::default(),
        batches: vec![TwinBatch::default(); book.batches.len()],
        orders: Vec::new(),
        licences: Vec::new(),
        movements: Vec::new(),
        outputs: Vec::new(),
        postings: Vec::new(),
        deposits: Vec::new(),
        tools: Vec::new(),
        unrecorded: BTreeMap::new(),
        last_known: BTreeMap::new(),
        overheads: BTreeMap::new(),
        known_overheads,
        year_ends: BTreeMap::new(),
        unrecorded_ends: BTreeMap::new(),
        purchases: BTreeMap::new(),
        event: 0,
        date: log.first_day.unwrap_or_default(),
    };
    for (at, event) in log.events.iter().enumerate() {
        twin.event = u32::try_from(at).expect("a small book");
        twin.go_to(event.date);
        twin.happens(event);
    }
    let last = twin.date.year();
    twin.end_year(last);
    twin
}

impl Twin<'_> {
    fn go_to(&mut self, date: NaiveDate) {
        for year in self.date.year()..date.year() {
            self.end_year(year);
        }
        self.date = date;
        self.shelf.change_to(*self.book.shop.costing.on(date) == CostingMethod::Average);
    }

    fn end_year(&mut self, year: i32) {
        let mut all = self.shelf.value();
        self.batches.iter().for_each(|batch| all.add(&batch.bench));
        self.licences.iter().for_each(|licence| all.add(&licence.cost));
        self.year_ends.insert(year, all);
        let mut open = ExactVector::default();
        self.unrecorded.values().for_each(|one| open.add(&one.vector));
        self.unrecorded_ends.insert(year, open);
    }

    fn happens(&mut self, event: &Event) {
        match &event.kind {
            EventKind::Opened(opened) => {
                let flow = if opened.how == OpenedHow::Opened { Flow::Opened } else { Flow::Contributed };
                for line in &opened.lines {
                    let mut vector = ExactVector::of(self.goods_component(line.thing), of_amount(line.value));
                    if let Some(minutes) = line.minutes {
                        vector.add(&ExactVector::of_minutes(None, of_amount(minutes), nothing()));
                        // The hours that are stated stand at the rate of the day.
                        if let Some(rate) = self.book.shop.owner_time.on(self.date) {
                            let own = of_decimal(*rate) * of_amount(minutes) / whole(60);
                            vector.add(&ExactVector::of(Component::OwnTime, own).with_slack(1));
                        }
                    }
                    self.moves(flow, Some(line.thing), &vector);
                    self.arrives(line.thing, opened.place, of_decimal(line.quantity), vector, line.lot);
                }
                for line in &opened.tools {
                    self.tools_came(line.tool, line.count, &of_amount(line.value), &nothing());
                }
                for (batch, money, _) in &opened.on_batches {
                    let vector = ExactVector::of(Component::Materials, of_amount(*money));
                    self.moves(flow, None, &vector);
                    self.batches[batch.index()].collect(&vector);
                }
            }
            EventKind::Bought(bought) => self.bought(bought),
            EventKind::Batch(work) => self.batch_work(event.verb, work),
            EventKind::Worked(lines) => self.worked(lines),
            EventKind::Sold(sold) => self.sold(sold),
            EventKind::Moved(moved) => self.moved(moved),
            EventKind::Returned(returned) => self.returned(returned),
            EventKind::SentBack(sent) => self.sent_back(sent),
            EventKind::Credited(credited) => self.credited(credited),
            EventKind::Counted(counted) => self.counted(counted),
            EventKind::Left(left) => self.left(left),
            EventKind::GaveUp(batch) => {
                let all = std::mem::take(&mut self.batches[batch.index()].bench);
                self.moves(Flow::Scrapped, None, &all);
            }
            EventKind::Paid(paid) => self.paid(paid),
            EventKind::Received(received) => self.received(received),
            EventKind::Retired { tool, .. } => self.tool_left(*tool),
            EventKind::Drove { .. }
            | EventKind::Odometer(_)
            | EventKind::Statement { .. }
            | EventKind::Noted
            | EventKind::Answered { .. }
            | EventKind::Closed { .. } => {}
        }
    }

    /// Notes a movement.
    pub(crate) fn moves(&mut self, flow: Flow, thing: Option<ThingId>, vector: &ExactVector) {
        self.movements.push(TwinMovement { date: self.date, event: self.event, flow, thing, vector: vector.clone() });
    }

    /// The component of what goods of a class cost: wear for what wears, else materials.
    pub(crate) fn goods_component(&self, thing: ThingId) -> Component {
        if self.book.thing(thing).kind == ThingKind::Wear { Component::Wear } else { Component::Materials }
    }

    /// Lays a new lot of today on the shelf and gives its number.
    pub(crate) fn arrives(
        &mut self,
        thing: ThingId,
        place: PlaceId,
        quantity: Exact,
        vector: ExactVector,
        code: Option<LabelId>,
    ) -> u32 {
        let number = self.shelf.next_number();
        let origin = Origin { date: self.date, number, event: self.event, code };
        if quantity.is_positive() {
            self.last_known.insert(thing, (quantity.clone(), vector.clone()));
        }
        self.lay(thing, place, TwinLot { origin, quantity, vector });
        number
    }

    /// Where the shop is at home.
    pub(crate) fn home(&self) -> PlaceId {
        self.book.shop.home.expect("a random book has a home")
    }
}
