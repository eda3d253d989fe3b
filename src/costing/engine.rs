//! The engine's state, and the walk over the events.
//!
//! One pass in the order of the log. An event that can't be costed is told once, at its place, and the walk goes on, so that all
//! mistakes are found in one run. At each year's end what is on hand is added up for the proof.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use rustc_hash::{FxHashMap, FxHashSet};

use crate::costing::batch_book::BatchBook;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::{Ledger, Now};
use crate::costing::licences::Licences;
use crate::costing::likely_slips::LikelySlips;
use crate::costing::not_paid::{NotPaid, years_that_carry_in};
use crate::costing::orders::OrderBook;
use crate::costing::overhead::OverheadLeft;
use crate::costing::owed::Owed;
use crate::costing::shelf::Shelf;
use crate::costing::suppliers::LastPurchases;
use crate::costing::{
    BatchState, CostOptions, CostVector, CostedBook, HourItem, MileItem, StockLot, TaxItem, ToolAccount, Trace, YearEnd,
};
use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, EventLog};
use crate::names::{BatchId, CostingMethod, LabelId, PlaceId, ResolvedBook, ThingId, ThingKind};
use crate::units::Fixed6;

/// What is remembered of sales and purchases, since some entry of the book asks for it, or a report.
#[derive(Clone, Copy, Debug)]
pub(crate) struct AskedLater {
    /// Whether anything comes back from buyers: what sales came to.
    pub(crate) returns: bool,
    /// Of which lines and pieces a sale was.
    pub(crate) lines_sold: bool,
    /// When a thing was last bought of whom.
    pub(crate) purchases: bool,
}

impl AskedLater {
    fn of(log: &EventLog, for_reports: bool) -> Self {
        let any = |wanted: fn(&EventKind) -> bool| log.events.iter().any(|event| wanted(&event.kind));
        let returns = any(|kind| matches!(kind, EventKind::Returned(_)));
        Self {
            returns,
            lines_sold: for_reports || returns,
            purchases: any(|kind| matches!(kind, EventKind::SentBack(_) | EventKind::Credited(_))),
        }
    }
}

/// The engine at work.
pub(crate) struct Engine<'b> {
    pub(crate) book: &'b ResolvedBook,
    pub(crate) log: &'b EventLog,
    pub(crate) found: &'b mut Diagnostics,
    pub(crate) now: Now,
    pub(crate) ledger: Ledger,
    pub(crate) shelves: Vec<Shelf>,
    pub(crate) batches: BatchBook,
    pub(crate) orders: OrderBook,
    pub(crate) owed: Owed,
    pub(crate) licences: Licences,
    pub(crate) tools: Vec<ToolAccount>,
    pub(crate) hours: Vec<HourItem>,
    pub(crate) miles: Vec<MileItem>,
    pub(crate) taxes: Vec<TaxItem>,
    pub(crate) last_counts: FxHashMap<PlaceId, NaiveDate>,
    pub(crate) likely: LikelySlips,
    /// The newest lot that ever came of a thing: quantity and cost, for finds and unrecorded issues.
    pub(crate) newest: Vec<Option<(rust_decimal::Decimal, CostVector)>>,
    /// The batch of a label that is a batch's name.
    pub(crate) batch_of_label: FxHashMap<LabelId, BatchId>,
    /// Lots, orders and receipts about which a mistake was told.
    pub(crate) told: FxHashSet<LabelId>,
    /// Orders whose sale could not be costed, which has been told.
    pub(crate) uncosted: FxHashSet<LabelId>,
    pub(crate) lots_made: u32,
    /// Whether offcuts come from a thing: what batches used of it is remembered even without a journal.
    pub(crate) is_cut_from: Vec<bool>,
    /// What entries of the book ask of what was sold and bought before them.
    pub(crate) asked_later: AskedLater,
    /// Direct minutes by year, in the walk that finds how much overhead there is.
    pub(crate) direct_minutes: Option<BTreeMap<i32, Fixed6>>,
    /// What of each year's overhead from expenses is still to be spread.
    pub(crate) overhead_left: BTreeMap<i32, OverheadLeft>,
    /// The trace, where it is asked for.
    pub(crate) trace: Option<Trace>,
    /// The last purchases, for credits.
    pub(crate) purchases: LastPurchases,
    /// What is unpaid at the ends of years, where that matters.
    pub(crate) not_paid: Option<&'b NotPaid>,
    /// Years in which it matters what was in the shop when they began.
    pub(crate) carries_in: BTreeSet<i32>,
    /// How many events were walked.
    walked: usize,
    /// The year of the last of them.
    year: Option<i32>,
    keeps_stock: bool,
    /// The day that counts as today, where one is given.
    pub(crate) today: Option<NaiveDate>,
    stock: Vec<StockLot>,
    odometer: Vec<(NaiveDate, rust_decimal::Decimal)>,
    statements: Vec<(i32, LabelId, Fixed6, u32)>,
    year_ends: Vec<YearEnd>,
    method: CostingMethod,
}

impl<'b> Engine<'b> {
    pub(crate) fn new(log: &'b EventLog, book: &'b ResolvedBook, options: &CostOptions, found: &'b mut Diagnostics) -> Self {
        let shelves = book.things.len().saturating_mul(book.places.len());
        let by_name: FxHashMap<&str, usize> =
            book.batches.iter().enumerate().map(|(at, batch)| (batch.name.as_str(), at)).collect();
        let mut batch_of_label = FxHashMap::default();
        for (at, label) in book.labels.iter().enumerate() {
            if let Some(batch) = by_name.get(label.as_str())
                && let (Ok(label), Ok(batch)) = (u32::try_from(at), u32::try_from(*batch))
            {
                batch_of_label.insert(LabelId(label), BatchId(batch));
            }
        }
        let mut is_cut_from = vec![false; book.things.len()];
        for source in book.things.iter().filter_map(|thing| thing.from) {
            is_cut_from[source.index()] = true;
        }
        let asked_later = AskedLater::of(log, options.keep_journal);
        Self {
            book,
            log,
            found,
            now: Now { date: NaiveDate::MIN, event: 0, head: crate::sources::Span::default() },
            ledger: Ledger::new(options, asked_later.returns),
            shelves: vec![Shelf::default(); shelves],
            batches: BatchBook::new(book.batches.len(), options.keep_journal),
            orders: OrderBook::default(),
            owed: Owed::default(),
            licences: Licences::default(),
            tools: Vec::new(),
            hours: Vec::new(),
            miles: Vec::new(),
            taxes: Vec::new(),
            last_counts: FxHashMap::default(),
            likely: LikelySlips::default(),
            newest: vec![None; book.things.len()],
            batch_of_label,
            told: FxHashSet::default(),
            uncosted: FxHashSet::default(),
            lots_made: 0,
            is_cut_from,
            asked_later,
            direct_minutes: None,
            overhead_left: BTreeMap::new(),
            trace: options.keep_trace.then(Trace::default),
            purchases: LastPurchases::default(),
            not_paid: None,
            carries_in: years_that_carry_in(log, book),
            walked: 0,
            year: None,
            keeps_stock: options.keep_stock,
            today: options.today,
            stock: Vec::new(),
            odometer: Vec::new(),
            statements: Vec::new(),
            year_ends: Vec::new(),
            method: CostingMethod::Fifo,
        }
    }

    /// Walks all events up to and with a day.
    pub(crate) fn run(&mut self, until: Option<NaiveDate>) {
        self.walk_until(until);
        self.end_walk();
    }

    /// Walks the events after those that were walked, up to and with a day; more may follow.
    pub(crate) fn walk_until(&mut self, until: Option<NaiveDate>) {
        let log = self.log;
        while let Some(event) = log.events.get(self.walked).filter(|event| until.is_none_or(|day| event.date <= day)) {
            let at = self.walked;
            self.walked = at.saturating_add(1);
            self.now = Now { date: event.date, event: u32::try_from(at).unwrap_or(u32::MAX), head: event.head };
            let this_year = event.date.year();
            if self.year != Some(this_year) {
                let turned = match self.year {
                    Some(last) => self.end_years(last, this_year),
                    None => Ok(()),
                };
                let turned = turned.and_then(|()| self.begin_year(this_year));
                self.tell(turned, event);
                self.year = Some(this_year);
            }
            if self.may_follow(event) {
                self.cost_in_doubt(event);
                continue;
            }
            let done = self.cost_event(event);
            self.tell(done, event);
        }
    }

    /// Tells of patterns in use whose licences permit less than another usual batch. A pattern by which nothing was made for a year is out of use.
    fn tell_near_limits(&mut self) {
        let since = self.now.date.checked_sub_days(chrono::Days::new(365)).unwrap_or(NaiveDate::MIN);
        for near in self.licences.near_limit(since) {
            let told = errors::near_the_licence(self, near);
            self.found.push(told);
        }
    }

    /// Ends the last year, after the last event.
    pub(crate) fn end_walk(&mut self) {
        if let Some(last) = self.year {
            let ended = self
                .end_year(last, true)
                .and_then(|()| self.tell_what_lies())
                .and_then(|()| self.tell_settled_and_owed())
                .and_then(|()| self.take_stock());
            if ended.is_err() {
                self.found.push(errors::too_large(self.now.head));
            }
            self.tell_near_limits();
        }
    }

    /// Hands on what is on hand when the walk has ended.
    fn take_stock(&mut self) -> Costed<()> {
        if self.keeps_stock {
            self.stock = lots_on_hand(std::mem::take(&mut self.shelves), self.book.places.len())?;
        }
        Ok(())
    }

    pub(crate) fn tell(&mut self, done: Costed<()>, event: &Event) {
        if let (Err(_), EventKind::Sold(sold)) = (&done, &event.kind) {
            self.uncosted.extend(sold.order);
        }
        match done {
            Ok(()) | Err(Fault::Told) => {}
            Err(Fault::Figures) => self.found.push(errors::too_large(event.head)),
            Err(Fault::NoWeight) => self.found.push(errors::nothing_to_share_by(event.head)),
        }
    }

    pub(crate) fn cost_event(&mut self, event: &'b Event) -> Costed<()> {
        match &event.kind {
            EventKind::Opened(opened) => self.cost_opened(opened),
            EventKind::Bought(bought) => self.cost_bought(bought),
            EventKind::Paid(paid) => self.cost_paid(paid),
            EventKind::Batch(work) => self.cost_batch(event.verb, work),
            EventKind::Worked(lines) => self.cost_worked(lines),
            EventKind::Sold(sold) => self.cost_sold(sold),
            EventKind::Received(received) => self.cost_received(received),
            EventKind::Moved(moved) => self.cost_moved(moved),
            EventKind::Returned(returned) => self.cost_returned(returned),
            EventKind::SentBack(sent_back) => self.cost_sent_back(sent_back),
            EventKind::Credited(credited) => self.cost_credited(credited),
            EventKind::Counted(counted) => self.cost_counted(counted),
            EventKind::Left(left) => self.cost_left(left),
            EventKind::GaveUp(batch) => self.cost_gave_up(*batch, event.head),
            EventKind::Drove { miles, on, memo } => {
                self.miles.push(MileItem { date: event.date, event: self.now.event, miles: *miles, on: *on, memo: *memo });
                Ok(())
            }
            EventKind::Odometer(miles) => {
                self.odometer.push((event.date, *miles));
                Ok(())
            }
            EventKind::Retired { tool, proceeds } => {
                self.cost_retired(*tool, *proceeds, event.head);
                Ok(())
            }
            EventKind::Statement { year, from, gross } => {
                self.statements.push((*year, *from, *gross, self.now.event));
                Ok(())
            }
            EventKind::Noted | EventKind::Answered { .. } | EventKind::Closed { .. } => Ok(()),
        }
    }

    /// Where a thing stands at a place.
    pub(crate) fn shelf_at(&self, thing: ThingId, place: PlaceId) -> usize {
        thing.index() * self.book.places.len() + place.index()
    }

    fn begin_year(&mut self, year: i32) -> Costed<()> {
        let Some(first) = NaiveDate::from_ymd_opt(year, 1, 1) else { return Ok(()) };
        self.method = *self.book.shop.costing.on(first);
        let places = self.book.places.len().max(1);
        for (at, shelf) in self.shelves.iter_mut().enumerate() {
            match self.method {
                CostingMethod::Average => shelf.make_average()?,
                CostingMethod::Fifo if shelf.is_average() => {
                    shelf.make_fifo()?;
                    if let (Some(trace), Ok(thing), Ok(place)) =
                        (&mut self.trace, u32::try_from(at / places), u32::try_from(at % places))
                    {
                        trace.part_pool(self.now, (ThingId(thing), PlaceId(place)), shelf.lots())?;
                    }
                }
                CostingMethod::Fifo => {}
            }
        }
        self.carry_in(first)
    }

    /// Ends a year and all the empty ones up to the next that has events.
    fn end_years(&mut self, last: i32, next: i32) -> Costed<()> {
        for year in last..next {
            self.end_year(year, false)?;
        }
        Ok(())
    }

    /// Ends a year. At the last one the lots are added up anew: were a shelf's running value another, the proof would not hold.
    fn end_year(&mut self, year: i32, is_last: bool) -> Costed<()> {
        let mut end = YearEnd {
            year,
            shelf: Default::default(),
            bench: self.batches.on_the_bench()?,
            bench_of: self.batches.paid_on_the_bench()?,
            licences: self.licences.cost_left().clone(),
            unrecorded: CostVector::default(),
            stock: Vec::new(),
        };
        // Only a tax year asks what was on hand at the end of a year before the last.
        if self.keeps_stock && !is_last && self.book.shop.tax_form.is_some() {
            end.stock = lots_on_hand(self.shelves.iter().cloned(), self.book.places.len())?;
        }
        let places = self.book.places.len().max(1);
        for (at, shelf) in self.shelves.iter().enumerate() {
            if let Some((_, vector)) = &shelf.unrecorded {
                end.unrecorded.add(vector).or_fault()?;
            }
            if shelf.on_hand().is_zero() {
                continue;
            }
            let class = match self.book.things[at / places].kind {
                ThingKind::Material => 0,
                ThingKind::Wear => 1,
                ThingKind::Packing => 2,
                ThingKind::Product => 3,
            };
            if is_last {
                end.shelf[class].add(&shelf.added_up()?).or_fault()?;
            } else {
                end.shelf[class].add(shelf.value()).or_fault()?;
            }
        }
        let mut all = end.bench.clone();
        for class in &end.shelf {
            all.add(class).or_fault()?;
        }
        all.add(&end.licences).or_fault()?;
        let before = self.year_ends.last().and_then(|last| self.ledger.proof.years.get(&last.year));
        let start = before.map(|last| last.at_end.clone()).unwrap_or_default();
        let proof = self.ledger.proof.years.entry(year).or_default();
        proof.at_start = start;
        proof.at_end = all;
        self.year_ends.push(end);
        Ok(())
    }

    /// What the engine hands on.
    pub(crate) fn into_costed(self) -> CostedBook {
        let mut last_counts: Vec<_> = self.last_counts.into_iter().collect();
        last_counts.sort_unstable();
        let mut odometer = self.odometer;
        odometer.sort_unstable();
        let (licences, licence_changes) = self.licences.into_lots();
        CostedBook {
            until: (self.now.date != NaiveDate::MIN).then_some(self.now.date),
            movements: self.ledger.movements,
            postings: self.ledger.postings,
            bills: self.owed.bills,
            batches: self.batches.into_accounts(),
            orders: self.orders.accounts,
            stock: self.stock,
            tools: self.tools,
            hours: self.hours,
            miles: self.miles,
            odometer,
            taxes: self.taxes,
            deposits: self.owed.deposits,
            licences,
            licence_changes,
            year_ends: self.year_ends,
            last_counts,
            statements: self.statements,
            proof: self.ledger.proof,
            marked: self.not_paid.is_some(),
            trace: self.trace,
            links: self.ledger.links,
            overhead: BTreeMap::new(),
        }
    }

    /// Whether a batch is still on the bench or not yet begun.
    pub(crate) fn batch_is_open(&self, batch: BatchId) -> bool {
        matches!(self.batches.account(batch).state, BatchState::NotBegun | BatchState::OnTheBench)
    }
}

/// The lots of all shelves with their cost, by thing and place, the oldest first.
fn lots_on_hand(shelves: impl IntoIterator<Item = Shelf>, places: usize) -> Costed<Vec<StockLot>> {
    let mut stock = Vec::new();
    for (at, shelf) in shelves.into_iter().enumerate() {
        let id = |index: usize| u32::try_from(index).map_err(|_| Fault::Figures);
        let (thing, place) = (ThingId(id(at / places)?), PlaceId(id(at % places)?));
        stock.extend(shelf.into_valued_lots()?.map(|lot| StockLot {
            thing,
            place,
            origin: lot.origin,
            quantity: lot.quantity,
            vector: lot.vector,
        }));
    }
    Ok(stock)
}
