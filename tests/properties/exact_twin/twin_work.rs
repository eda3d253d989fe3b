//! Rules 3 and 8: what a batch collects. Goods, wear by the minutes of its steps, own and bought-in time, overhead by the minute.

use std::collections::BTreeMap;

use kerfbook::costing::{Account, Component, Flow};
use kerfbook::events::{BatchWork, Output, StockLine, TimeLine, Worker};
use kerfbook::names::{BatchId, PlaceId, StepId, Target, ThingId, ThingKind};
use kerfbook::syntax::Verb;
use num_traits::Signed;
use rust_decimal::Decimal;

use super::exact_number::{Exact, nothing, of_amount, of_decimal, quantity, share, whole};
use super::exact_vector::ExactVector;
use super::twin::Twin;
use super::twin_shelf::Origin;

impl Twin<'_> {
    /// An entry of a batch: what it used and took, as written and as planned, then what came of it.
    pub(crate) fn batch_work(&mut self, verb: Verb, work: &BatchWork) {
        let at = work.batch.index();
        for (what, count, _) in &work.aims {
            *self.batches[at].aims.entry(*what).or_insert_with(nothing) += of_decimal(*count);
        }
        let (planned_goods, planned_times) = self.planned(verb, work);
        for line in &work.used {
            if self.book.thing(line.thing).kind == ThingKind::Wear {
                self.batches[at].worn_as_written.insert(line.thing);
            }
        }
        for line in &work.used {
            self.use_goods(work.batch, line, work.place);
        }
        for (thing, much) in planned_goods {
            self.use_up(work.batch, thing, &much, work.place, &|_| true);
            *self.batches[at].used.entry(thing).or_insert_with(nothing) += much;
        }
        for line in &work.took {
            self.take_time(work.batch, line, work.place);
        }
        for (step, minutes) in planned_times {
            self.own_time(work.batch, step, &minutes, work.owner_rate, work.place);
            *self.batches[at].took.entry(step).or_insert_with(nothing) += minutes;
        }
        self.keep(work);
        self.finish(verb, work);
    }

    /// What is used and taken as planned: the recipe of the day times made and lost so far (in `started`, what is aimed at), less
    /// what earlier entries of the batch used and took.
    fn planned(&self, verb: Verb, work: &BatchWork) -> (BTreeMap<ThingId, Exact>, BTreeMap<StepId, Exact>) {
        let batch = &self.batches[work.batch.index()];
        let mut pieces: BTreeMap<Output, Exact> = BTreeMap::new();
        if verb == Verb::Started {
            pieces = batch.aims.clone();
        } else {
            pieces.extend(batch.came.iter().map(|(what, came)| (*what, came.clone())));
            let now = work
                .made
                .iter()
                .map(|line| (line.what, line.quantity))
                .chain(work.lost.iter().map(|line| (line.what, line.quantity)));
            for (what, count) in now {
                *pieces.entry(what).or_insert_with(nothing) += of_decimal(count);
            }
        }
        let (mut goods, mut times) = (BTreeMap::new(), BTreeMap::new());
        for (what, count) in &pieces {
            let Output::Thing(thing) = what else { continue };
            let recipe = self.book.thing(*thing);
            if work.used_as_planned.is_some() {
                for need in recipe.needs.on(self.date) {
                    *goods.entry(need.thing).or_insert_with(nothing) +=
                        quantity(&(of_decimal(need.quantity) * count / of_decimal(need.per)));
                }
            }
            if work.took_as_planned.is_some() {
                for take in recipe.takes.on(self.date) {
                    *times.entry(take.step).or_insert_with(nothing) +=
                        quantity(&(of_decimal(take.minutes) * count / of_decimal(take.per)));
                }
            }
        }
        for (thing, much) in &mut goods {
            *much -= batch.used.get(thing).cloned().unwrap_or_default();
        }
        for (step, minutes) in &mut times {
            *minutes -= batch.took.get(step).cloned().unwrap_or_default();
        }
        goods.retain(|_, much| much.is_positive());
        times.retain(|_, minutes| minutes.is_positive());
        (goods, times)
    }

    fn use_goods(&mut self, batch: BatchId, line: &StockLine, place: PlaceId) {
        let code = line.lot;
        self.use_up(batch, line.thing, &of_decimal(line.quantity), place, &|origin| code.is_none() || origin.code == code);
        *self.batches[batch.index()].used.entry(line.thing).or_insert_with(nothing) += of_decimal(line.quantity);
    }

    fn use_up(&mut self, batch: BatchId, thing: ThingId, much: &Exact, place: PlaceId, chosen: &dyn Fn(&Origin) -> bool) {
        let issued = self.issue(thing, place, much, chosen);
        self.batches[batch.index()].collect(&issued.vector);
    }

    /// Time written in a batch's entry, or worked on it.
    fn take_time(&mut self, batch: BatchId, line: &TimeLine, place: PlaceId) {
        let minutes = of_amount(line.minutes);
        *self.batches[batch.index()].took.entry(line.step).or_insert_with(nothing) += &minutes;
        match line.worker {
            Worker::Owner(rate) => self.own_time(batch, line.step, &minutes, rate, place),
            Worker::Hired { pay, .. } => {
                let mut vector = ExactVector::of(Component::BoughtInTime, of_amount(pay));
                vector.add(&ExactVector::of_minutes(Some(line.step), nothing(), minutes.clone()));
                self.time(batch, line.step, &minutes, vector, place);
            }
        }
    }

    fn own_time(&mut self, batch: BatchId, step: StepId, minutes: &Exact, rate: Option<Decimal>, place: PlaceId) {
        let mut vector = ExactVector::of_minutes(Some(step), minutes.clone(), nothing());
        if let Some(rate) = rate {
            // A rate times minutes is carried to six digits.
            vector.add(&ExactVector::of(Component::OwnTime, of_decimal(rate) * minutes / whole(60)).with_slack(1));
        }
        self.time(batch, step, minutes, vector, place);
    }

    fn time(&mut self, batch: BatchId, step: StepId, minutes: &Exact, vector: ExactVector, place: PlaceId) {
        self.moves(Flow::Time, None, &vector);
        self.batches[batch.index()].collect(&vector);
        let overhead = self.overhead(minutes);
        self.batches[batch.index()].collect(&overhead);
        for (thing, much) in self.worn(step, minutes) {
            if !self.batches[batch.index()].worn_as_written.contains(&thing) {
                self.use_up(batch, thing, &much, place, &|_| true);
            }
        }
    }

    fn worn(&self, step: StepId, minutes: &Exact) -> Vec<(ThingId, Exact)> {
        let wears = self.book.step(step).wears.on(self.date);
        wears
            .iter()
            .map(|wear| (wear.thing, quantity(&(minutes * of_decimal(wear.quantity) / of_decimal(wear.per_minutes)))))
            .collect()
    }

    /// Hours outside a batch's entry. Those on a batch join it; others only wear things, in the shop.
    pub(crate) fn worked(&mut self, lines: &[TimeLine]) {
        for line in lines {
            match line.on {
                Some(Target::Batch(batch)) => self.take_time(batch, line, self.home()),
                _ => {
                    if let Worker::Hired { helper, pay, employee, .. } = line.worker {
                        self.post(Account::HiredTime { helper, employee }, None, None, of_amount(pay), nothing());
                    }
                    for (thing, much) in self.worn(line.step, &of_amount(line.minutes)) {
                        let issued = self.issue(thing, self.home(), &much, |_| true);
                        self.moves(Flow::UsedInShop, Some(thing), &issued.vector);
                    }
                }
            }
        }
    }

    /// Material kept lowers the batch's materials and freight in proportion, by what it is worth.
    fn keep(&mut self, work: &BatchWork) {
        for line in &work.kept {
            let bench = &mut self.batches[work.batch.index()].bench;
            let worth = of_amount(line.worth);
            let of = bench.get(Component::Materials) + bench.get(Component::Freight);
            let mut kept = ExactVector::of(Component::Materials, &worth * share(bench.get(Component::Materials), &of));
            kept.add_to(Component::Freight, &(&worth * share(bench.get(Component::Freight), &of)));
            // Cut in two by the weight of two figures that have a slack of their own.
            let mut kept = kept.with_slack(1);
            let slack = bench.slack.clone();
            bench.add(&kept.negated());
            kept.slack += slack;
            self.arrives(line.thing, work.place, of_decimal(line.quantity), kept, None);
        }
    }
}
