//! What a batch gives: good pieces, losses, and what stays on the bench.
//!
//! Costing rules 4 and 5. Good g, abnormal a, weight w a piece: D = Σ w (g + a); a product takes W·w·g/D, its abnormal loss W·w·a/D,
//! a normal loss nothing. A part finish with r still to come takes G/(G+r) of the materials and G/(G + r·N) of the work; the last
//! takes all that is left. Royalty and licence go straight to the good pieces.

use rust_decimal::Decimal;

use crate::costing::Amounts;
use crate::costing::batch_book::Progress;
use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::About;
use crate::costing::tools::NewTools;
use crate::costing::trace::{Finish, FinishPart, NewLot};
use crate::costing::{
    BatchState, Bill, BillKind, Component, CostVector, Flow, LinkedOutput, LossItem, Made, OutputItem, ToolCame,
};
use crate::events::{BatchWork, LostLine, MadeLine, Output, OutputSharing};
use crate::names::{BatchId, PatternId, ThingId};
use crate::sources::Span;
use crate::syntax::Verb;
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact, checked_sub_exact, line_total};

impl Engine<'_> {
    /// Finishes what an entry says was made or lost.
    pub(crate) fn finish(&mut self, verb: Verb, work: &BatchWork) -> Costed<()> {
        let gives = !work.made.is_empty() || !work.lost.is_empty() || work.made_nothing.is_some();
        if gives {
            let weights = self.weights(work)?;
            let still_to_come = self.still_to_come(work, &weights)?;
            if self.waits_for_the_rest(verb, work) {
                // What a piece costs is known when the others are made.
                let waiting = work.lost.iter().filter(|line| line.charged_off).cloned();
                self.batches.progress_mut(work.batch).charged_off.extend(waiting);
                self.record_losses(work, work.lost.iter().filter(|line| !line.charged_off), &mut std::iter::empty())?;
            } else {
                self.give(work, &weights, still_to_come)?;
            }
            self.count_pieces(work)?;
            if work.ends || (still_to_come.is_zero() && self.ends_by_itself(verb, work)) {
                self.end_batch(work)?;
            }
        } else if work.ends {
            self.end_batch(work)?;
        }
        Ok(())
    }

    /// Whether a batch of which nothing is still to come is done: pieces may be lost on the way, before it is finished.
    fn ends_by_itself(&self, verb: Verb, work: &BatchWork) -> bool {
        verb == Verb::Finished || work.made_nothing.is_some() || !self.batches.account(work.batch).aims.is_empty()
    }

    /// Whether pieces are charged off before any is made (pieces are made where a batch is finished), in one that doesn't say how many are to come.
    fn waits_for_the_rest(&self, verb: Verb, work: &BatchWork) -> bool {
        let charges_off = work.lost.iter().any(|line| line.charged_off);
        charges_off && !work.ends && !self.ends_by_itself(verb, work)
    }

    /// The weight of a piece of each output that the entry names.
    fn weights(&mut self, work: &BatchWork) -> Costed<Vec<(Output, Decimal)>> {
        let mut weights: Vec<(Output, Decimal)> = Vec::new();
        for line in &work.made {
            let weight = match (line.share, work.sharing) {
                (Some(share), _) => share,
                (None, OutputSharing::ByPrice) => match line.list_price {
                    Some(price) => price,
                    // Told where the entry was read (K320).
                    None => return Err(Fault::Told),
                },
                (None, OutputSharing::ByCount | OutputSharing::BySharesOrSingle) => Decimal::ONE,
            };
            if !weights.iter().any(|(what, _)| *what == line.what) {
                weights.push((line.what, weight));
            }
        }
        let aims = self.batches.account(work.batch).aims.iter().map(|(what, _)| *what);
        for what in work.lost.iter().map(|line| line.what).chain(aims) {
            if !weights.iter().any(|(one, _)| *one == what) {
                let weight = match (work.sharing, what) {
                    (OutputSharing::ByPrice, Output::Thing(thing)) => {
                        self.book.thing(thing).price.on(self.now.date).unwrap_or(Decimal::ONE)
                    }
                    _ => Decimal::ONE,
                };
                weights.push((what, weight));
            }
        }
        Ok(weights)
    }

    /// Weighted pieces still to come after this entry: aims less good, charged off and lost pieces; zero without aims, or where the entry ends the batch.
    fn still_to_come(&mut self, work: &BatchWork, weights: &[(Output, Decimal)]) -> Costed<Decimal> {
        let mut left_over = Decimal::ZERO;
        let aims = self.batches.account(work.batch).aims.clone();
        let mut done: Vec<(Output, Decimal, Span)> = Vec::new();
        let lines = work.made.iter().map(|line| (line.what, line.quantity, line.span));
        let lost = work.lost.iter().map(|line| (line.what, line.quantity, line.span));
        for (what, quantity, line) in lines.chain(lost) {
            match done.iter_mut().find(|(one, ..)| *one == what) {
                Some((_, sum, _)) => *sum = checked_add_exact(*sum, quantity)?,
                None => done.push((what, quantity, line)),
            }
        }
        for (what, aimed) in &aims {
            let progress = self.batches.progress(work.batch);
            let before = checked_add_exact(Progress::count(&progress.made, *what), Progress::count(&progress.lost, *what))?;
            let here = done.iter().find(|(one, ..)| one == what);
            let so_far = checked_add_exact(before, here.map_or(Decimal::ZERO, |(_, sum, _)| *sum))?;
            if so_far > *aimed {
                let line = here.map_or(self.now.head, |(_, _, line)| *line);
                let told = errors::more_than_aimed(self, work.batch, *what, so_far, *aimed, line);
                self.found.push(told);
                return Err(Fault::Told);
            }
            let weight = weights.iter().find(|(one, _)| one == what).map_or(Decimal::ONE, |(_, weight)| *weight);
            let rest = checked_mul_exact(checked_sub_exact(*aimed, so_far)?, weight)?;
            left_over = checked_add_exact(left_over, rest)?;
        }
        Ok(if work.ends { Decimal::ZERO } else { left_over })
    }

    fn give(&mut self, work: &BatchWork, weights: &[(Output, Decimal)], to_come: Decimal) -> Costed<()> {
        let batch = work.batch;
        let weight_of = |what: Output| weights.iter().find(|(one, _)| *one == what).map_or(Decimal::ONE, |(_, weight)| *weight);
        let mut parts: Vec<Decimal> = Vec::new();
        for line in &work.made {
            parts.push(checked_mul_exact(line.quantity, weight_of(line.what))?);
        }
        let waiting = std::mem::take(&mut self.batches.progress_mut(batch).charged_off);
        let lost: Vec<&LostLine> = waiting.iter().chain(&work.lost).collect();
        for line in lost.iter().filter(|line| line.charged_off) {
            parts.push(checked_mul_exact(line.quantity, weight_of(line.what))?);
        }
        let mut given = Decimal::ZERO;
        for part in &parts {
            given = checked_add_exact(given, *part)?;
        }
        if given.is_zero() {
            let zero_weights = !parts.is_empty();
            if zero_weights {
                self.found.push(errors::weights_are_zero(self.now.head));
                return Err(Fault::Told);
            }
            return self.record_losses(work, lost.into_iter(), &mut std::iter::empty());
        }
        let rest_worked = work.made.iter().map(|line| line.rest_worked).min().unwrap_or(Decimal::ONE_HUNDRED);
        let bench = match self.trace {
            Some(_) => Amounts::of(&self.batches.account(batch).on_the_bench).or_fault()?,
            None => Amounts::default(),
        };
        let taken = if to_come.is_zero() {
            std::mem::take(&mut self.batches.account_mut(batch).on_the_bench)
        } else {
            let hundred = Decimal::ONE_HUNDRED;
            let materials = (given, checked_add_exact(given, to_come)?);
            let given_hundred = checked_mul_exact(given, hundred)?;
            let work_whole = checked_add_exact(given_hundred, checked_mul_exact(to_come, rest_worked)?)?;
            let bench = &mut self.batches.account_mut(batch).on_the_bench;
            bench.take_worked_part(materials, (given_hundred, work_whole)).or_fault()?
        };
        let taken_sums = match self.trace {
            Some(_) => Amounts::of(&taken).or_fault()?,
            None => Amounts::default(),
        };
        let vectors = if let [_] = parts.as_slice() { vec![taken] } else { taken.split(&parts)? };
        if let Some(trace) = &mut self.trace {
            let made = work.made.iter().map(|line| (line.what, line.quantity, false));
            let charged_off = lost.iter().filter(|line| line.charged_off).map(|line| (line.what, line.quantity, true));
            let mut parts = Vec::with_capacity(vectors.len());
            for ((what, quantity, charged_off), vector) in made.chain(charged_off).zip(&vectors) {
                let share = Amounts::of(vector).or_fault()?;
                parts.push(FinishPart { what, quantity, weight: weight_of(what), charged_off, share });
            }
            let event = self.now.event;
            trace.finishes.push(Finish { batch, event, bench, taken: taken_sums, given, to_come, rest_worked, parts });
        }
        let mut vectors = vectors.into_iter();
        for line in &work.made {
            let vector = vectors.next().unwrap_or_default();
            self.give_output(batch, line, vector, work)?;
        }
        self.record_losses(work, lost.into_iter(), &mut vectors)
    }

    fn record_losses<'l>(
        &mut self,
        work: &BatchWork,
        lost: impl Iterator<Item = &'l LostLine>,
        vectors: &mut dyn Iterator<Item = CostVector>,
    ) -> Costed<()> {
        for line in lost {
            let vector = if line.charged_off { vectors.next().unwrap_or_default() } else { CostVector::default() };
            if line.charged_off {
                let thing = match line.what {
                    Output::Thing(thing) => Some(thing),
                    Output::Tool(_) => None,
                };
                let about =
                    About { line: line.span, thing, quantity: line.quantity, batch: Some(work.batch), ..About::default() };
                self.ledger.flow(self.now, Flow::AbnormalLoss, &vector, about)?;
            }
            self.lose(
                work.batch,
                LossItem {
                    date: self.now.date,
                    event: self.now.event,
                    what: Some(line.what),
                    quantity: line.quantity,
                    charged_off: line.charged_off,
                    vector,
                    line: line.span,
                },
            );
        }
        Ok(())
    }

    fn lose(&mut self, batch: BatchId, item: LossItem) {
        let account = self.batches.account_mut(batch);
        account.last_lost = Some(item.line);
        if self.ledger.keeps_journal {
            account.losses.push(item);
        }
    }

    fn give_output(&mut self, batch: BatchId, line: &MadeLine, mut vector: CostVector, work: &BatchWork) -> Costed<()> {
        match line.what {
            Output::Thing(thing) => {
                let royalty = self.royalty(batch, thing, line)?;
                vector.add(&royalty).or_fault()?;
                let new = NewLot {
                    thing,
                    place: work.place,
                    quantity: line.quantity,
                    code: None,
                    batch: Some(batch),
                    line: line.span,
                    made: Made::Finished(batch),
                };
                self.receive(new, vector.clone())?;
            }
            Output::Tool(tool) => {
                let cost = vector.paid().or_fault()?;
                let about = About { line: line.span, quantity: line.quantity, batch: Some(batch), ..About::default() };
                self.ledger.flow(self.now, Flow::MadeForShop, &vector, about)?;
                let (count, recovered, came) = (line.quantity, Fixed6::ZERO, ToolCame::Made);
                self.keep_tools(NewTools { tool, count, cost, recovered, came, bill: None, line: line.span })?;
            }
        }
        let item = OutputItem {
            date: self.now.date,
            event: self.now.event,
            what: line.what,
            quantity: line.quantity,
            vector,
            line: line.span,
        };
        let account = self.batches.account_mut(batch);
        account.last_made = Some(line.span);
        if let Some(links) = &mut self.ledger.links {
            links.outputs.push(LinkedOutput { batch, what: item.what, quantity: item.quantity, date: item.date });
        }
        if self.ledger.keeps_journal {
            account.outputs.push(item);
        }
        Ok(())
    }

    /// Royalty owed on good pieces, and what they take of licences; royalty is a flow, a licence was bought before.
    fn royalty(&mut self, batch: BatchId, thing: ThingId, line: &MadeLine) -> Costed<CostVector> {
        let mut sum = CostVector::default();
        let Some(pattern) = *self.book.thing(thing).pattern.on(self.now.date) else { return Ok(sum) };
        if let Some(rate) = *self.book.pattern(pattern).royalty.on(self.now.date) {
            let owed = line_total(rate, line.quantity, self.book.shop.currency)?;
            let later = *self.book.pattern(pattern).paid_later.on(self.now.date);
            let bill = later.then(|| self.owe_royalty(pattern, owed, line.span));
            let about = About { line: line.span, batch: Some(batch), bill, ..About::default() };
            let mut vector = CostVector::of(Component::Royalty, owed);
            self.mark_unpaid(&mut vector);
            self.ledger.flow(self.now, Flow::Royalty, &vector, about)?;
            sum = vector;
        }
        if self.book.pattern(pattern).allows.on(self.now.date).is_some() {
            let permitted = self.licences.take(pattern, self.now.date, line.quantity)?;
            let is_over = !permitted.without.is_zero();
            self.licences.made(pattern, self.now.date, line.span, line.quantity, is_over);
            if is_over && !self.may_have_bought_a_licence() {
                let told = errors::over_the_licence(self, pattern, permitted.without, line);
                self.found.push(told);
            }
            sum.add(&permitted.vector).or_fault()?;
        }
        Ok(sum)
    }

    /// Whether an entry was read only in part: it may have been the purchase of a licence.
    fn may_have_bought_a_licence(&self) -> bool {
        !self.log.doubts.heads.is_empty()
    }

    fn owe_royalty(&mut self, pattern: PatternId, money: Fixed6, line: Span) -> u32 {
        let at = self.owed.add(Bill { pattern: Some(pattern), line, ..Bill::new(BillKind::OwedByUs, self.now, money) });
        self.owed.know_royalty(pattern, at);
        at
    }

    fn count_pieces(&mut self, work: &BatchWork) -> Costed<()> {
        let progress = self.batches.progress_mut(work.batch);
        for line in &work.made {
            Progress::add(&mut progress.made, line.what, line.quantity)?;
        }
        for line in &work.lost {
            Progress::add(&mut progress.lost, line.what, line.quantity)?;
        }
        Ok(())
    }

    /// Ends a batch: what is left on the bench is abnormal loss, with a warning where it is not nothing.
    fn end_batch(&mut self, work: &BatchWork) -> Costed<()> {
        let date = self.now.date;
        let account = self.batches.account_mut(work.batch);
        account.state = BatchState::Done;
        account.finished = Some(date);
        let left = std::mem::take(&mut account.on_the_bench);
        self.tell_of_batch(work)?;
        self.batches.forget_progress(work.batch);
        if left.is_zero() {
            return Ok(());
        }
        let line = work.made_nothing.unwrap_or(self.now.head);
        let told = errors::batch_is_a_loss(self, work, &left, line);
        self.found.push(told);
        let about = About { line, batch: Some(work.batch), ..About::default() };
        self.ledger.flow(self.now, Flow::AbnormalLoss, &left, about)?;
        let (event, quantity) = (self.now.event, Decimal::ZERO);
        self.lose(work.batch, LossItem { date, event, what: None, quantity, charged_off: true, vector: left, line });
        Ok(())
    }
}
