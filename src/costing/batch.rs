//! Work on a batch: what it used, the time it took, what it gave.
//!
//! Costing rule 3 (`DEVELOPERS.md`): a batch begins with the first entry that names it and is on the bench until it is
//! done; work on a finished batch is a mistake.

use rust_decimal::Decimal;

use crate::costing::batch_book::Progress;
use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::About;
use crate::costing::trace::NewLot;
use crate::costing::{BatchState, Component, Flow, KeptItem, LinkedTo, Made, UsedItem};
use crate::events::{BatchWork, KeptLine, Output, StockLine, TimeLine, Worker};
use crate::names::{BatchId, PlaceId, ThingId, ThingKind};
use crate::sources::Span;
use crate::syntax::Verb;
use crate::units::{Fixed6, checked_add_exact, part_of};

impl Engine<'_> {
    /// Begins a batch, or goes on with it. Work on a finished batch is told once.
    pub(crate) fn begin_batch(&mut self, batch: BatchId, line: Span) -> Costed<()> {
        if !self.batch_is_open(batch) {
            if !self.batches.progress(batch).finished_told {
                let told = errors::batch_is_finished(self, batch, line);
                self.found.push(told);
                self.batches.progress_mut(batch).finished_told = true;
            }
            return Err(Fault::Told);
        }
        let date = self.now.date;
        let account = self.batches.account_mut(batch);
        account.state = BatchState::OnTheBench;
        account.started.get_or_insert(date);
        Ok(())
    }

    pub(crate) fn cost_batch(&mut self, verb: Verb, work: &BatchWork) -> Costed<()> {
        let batch = work.batch;
        self.begin_batch(batch, self.now.head)?;
        for (what, count, _) in &work.aims {
            Progress::add(&mut self.batches.account_mut(batch).aims, *what, *count)?;
        }
        let pieces = self.pieces_so_far(verb, work)?;
        // `made … as planned` goes by what recipe there is, of things or of times; that there is one was checked with the entry.
        let asked_apart = work.used_as_planned != work.took_as_planned;
        let planned_use =
            if work.used_as_planned.is_some() { self.planned_use(batch, &pieces, asked_apart)? } else { Vec::new() };
        let planned_time =
            if work.took_as_planned.is_some() { self.planned_time(batch, &pieces, asked_apart)? } else { Vec::new() };
        self.tell_used_twice(work, &planned_use)?;
        for line in &work.used {
            self.use_in_batch(batch, line, work.place)?;
        }
        for (thing, quantity) in planned_use {
            let line = StockLine {
                thing,
                quantity,
                lot: None,
                memo: Span::default(),
                span: work.used_as_planned.unwrap_or(self.now.head),
            };
            self.use_in_batch(batch, &line, work.place)?;
        }
        for line in &work.took {
            self.spend_time(Some(batch), line, Some(work.place))?;
        }
        for (step, minutes) in planned_time {
            let line = TimeLine {
                minutes,
                step,
                worker: Worker::Owner(work.owner_rate),
                on: None,
                span: work.took_as_planned.unwrap_or(self.now.head),
            };
            self.spend_time(Some(batch), &line, Some(work.place))?;
        }
        for line in &work.kept {
            self.keep(batch, line, work.place)?;
        }
        self.finish(verb, work)
    }

    /// Pieces made and lost in the batch up to and with this entry; in `started`, what it aims at, whatever of it is lost already.
    fn pieces_so_far(&self, verb: Verb, work: &BatchWork) -> Costed<Vec<(Output, Decimal)>> {
        if verb == Verb::Started {
            return Ok(self.batches.account(work.batch).aims.clone());
        }
        let progress = self.batches.progress(work.batch);
        let mut pieces: Vec<(Output, Decimal)> = Vec::new();
        for (what, count) in progress.made.iter().chain(&progress.lost) {
            Progress::add(&mut pieces, *what, *count)?;
        }
        for line in &work.made {
            Progress::add(&mut pieces, line.what, line.quantity)?;
        }
        for line in &work.lost {
            Progress::add(&mut pieces, line.what, line.quantity)?;
        }
        Ok(pieces)
    }

    fn use_in_batch(&mut self, batch: BatchId, line: &StockLine, place: PlaceId) -> Costed<()> {
        let progress = self.batches.progress_mut(batch);
        let used = progress.used.entry(line.thing).or_default();
        *used = checked_add_exact(*used, line.quantity)?;
        if self.book.thing(line.thing).kind == ThingKind::Wear {
            progress.wear_written.insert(line.thing);
        }
        self.put_to_batch(batch, line, place, false)
    }

    fn put_to_batch(&mut self, batch: BatchId, line: &StockLine, place: PlaceId, by_step: bool) -> Costed<()> {
        let issued = self.issue_line(line, place)?;
        self.note_offcuts(batch, line.thing, &issued.pieces, line.span);
        self.batches.collect(batch, &issued.vector)?;
        if let Some(links) = &mut self.ledger.links {
            links.link(issued.traced, LinkedTo::Batch(batch));
        }
        if self.ledger.keeps_journal || self.is_cut_from[line.thing.index()] {
            let item = UsedItem {
                date: self.now.date,
                event: self.now.event,
                thing: line.thing,
                quantity: line.quantity,
                vector: issued.vector,
                issue: issued.traced,
                by_step,
                line: line.span,
            };
            self.batches.account_mut(batch).used.push(item);
        }
        Ok(())
    }

    /// Wear of a step: into the batch, or used in the shop.
    pub(crate) fn wear(&mut self, batch: Option<BatchId>, line: &TimeLine, place: PlaceId) -> Costed<()> {
        let book = self.book;
        for wear in book.step(line.step).wears.on(self.now.date) {
            if batch.is_some_and(|batch| self.batches.progress(batch).wear_written.contains(&wear.thing)) {
                continue;
            }
            let minutes = line.minutes.to_decimal().or_fault()?;
            let quantity = crate::units::quantity::mul_div_to_nine(minutes, wear.quantity, wear.per_minutes)?;
            if quantity.is_zero() {
                continue;
            }
            let worn = StockLine { thing: wear.thing, quantity, lot: None, memo: Span::default(), span: line.span };
            match batch {
                Some(batch) => self.put_to_batch(batch, &worn, place, true)?,
                None => {
                    let issued = self.issue_line(&worn, place)?;
                    let about = About {
                        line: line.span,
                        thing: Some(wear.thing),
                        quantity,
                        on: line.on,
                        issue: issued.traced,
                        ..About::default()
                    };
                    self.ledger.flow(self.now, Flow::UsedInShop, &issued.vector, about)?;
                }
            }
        }
        Ok(())
    }

    /// Material kept for later: back to stock at its stated worth, which lowers the batch's materials and freight in proportion.
    fn keep(&mut self, batch: BatchId, line: &KeptLine, place: PlaceId) -> Costed<()> {
        let bench = &self.batches.account(batch).on_the_bench;
        let materials = bench.get(Component::Materials);
        let freight = bench.get(Component::Freight);
        let both = materials.checked_add(freight).or_fault()?;
        if line.worth > both {
            let told = errors::kept_above_materials(self, line, both);
            self.found.push(told);
            return Err(Fault::Told);
        }
        if let Some(told) = self.kept_above_its_source(batch, line)? {
            self.found.push(told);
        }
        let mut of_freight = Fixed6::ZERO;
        if !line.worth.is_zero() {
            let (part, whole) = (line.worth.to_decimal().or_fault()?, both.to_decimal().or_fault()?);
            of_freight = part_of(freight, part, whole).or_fault()?;
        }
        let of_materials = line.worth.checked_sub(of_freight).or_fault()?;
        let account = self.batches.account_mut(batch);
        let vector = account.on_the_bench.take_materials(of_materials, of_freight).or_fault()?;
        account.kept.push(KeptItem {
            date: self.now.date,
            event: self.now.event,
            thing: line.thing,
            quantity: line.quantity,
            vector: vector.clone(),
            line: line.span,
        });
        let new = NewLot {
            thing: line.thing,
            place,
            quantity: line.quantity,
            code: None,
            batch: Some(batch),
            line: line.span,
            made: Made::Kept(batch),
        };
        self.receive(new, vector)
    }

    fn kept_above_its_source(&self, batch: BatchId, line: &KeptLine) -> Costed<Option<crate::diagnostics::Diagnostic>> {
        let Some(source) = self.book.thing(line.thing).from else { return Ok(None) };
        if self.book.thing(source).unit != self.book.thing(line.thing).unit {
            return Ok(None);
        }
        let (mut quantity, mut cost) = (Decimal::ZERO, Fixed6::ZERO);
        for item in self.batches.account(batch).used.iter().filter(|item| item.thing == source) {
            quantity = checked_add_exact(quantity, item.quantity)?;
            cost = cost.checked_add(item.vector.paid().or_fault()?).or_fault()?;
        }
        if quantity.is_zero() {
            return Ok(None);
        }
        let at_most = part_of(cost, line.quantity, quantity).or_fault()?;
        Ok((line.worth > at_most).then(|| errors::kept_above_source(self, line, source, at_most)))
    }

    /// `scrapped DATE batch X`: all that is on the bench is scrapped.
    pub(crate) fn cost_gave_up(&mut self, batch: BatchId, line: Span) -> Costed<()> {
        self.begin_batch(batch, line)?;
        let date = self.now.date;
        let account = self.batches.account_mut(batch);
        let vector = std::mem::take(&mut account.on_the_bench);
        account.state = BatchState::GivenUp;
        account.finished = Some(date);
        self.batches.forget_progress(batch);
        self.ledger.flow(self.now, Flow::Scrapped, &vector, About { line, batch: Some(batch), ..About::default() })
    }

    /// A product's own batch thing, for messages.
    pub(crate) fn output_name(&self, what: Output) -> &str {
        match what {
            Output::Thing(thing) => self.thing_name(thing),
            Output::Tool(tool) => &self.book.tool(tool).named.name,
        }
    }

    pub(crate) fn thing_name(&self, thing: ThingId) -> &str {
        &self.book.thing(thing).named.name
    }
}
