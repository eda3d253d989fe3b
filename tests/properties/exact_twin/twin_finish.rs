//! Rules 4 and 5: what comes of a batch. Good pieces and pieces charged off share by weight; normal losses take nothing; a part finish
//! takes its part of what is on the bench.

use std::collections::BTreeMap;

use kerfbook::costing::{Component, Flow};
use kerfbook::events::{BatchWork, Output, OutputSharing};
use kerfbook::syntax::Verb;
use num_traits::{Signed, Zero};
use rust_decimal::Decimal;

use super::exact_number::{Exact, nothing, of_decimal, rounded, share, whole};
use super::exact_vector::{Cut, ExactVector};
use super::twin::Twin;
use super::twin_money::paid_cost;

impl Twin<'_> {
    /// The good and lost pieces of an entry of a batch.
    pub(crate) fn finish(&mut self, verb: Verb, work: &BatchWork) {
        if work.made_nothing.is_some() {
            let all = std::mem::take(&mut self.batches[work.batch.index()].bench);
            self.moves(Flow::AbnormalLoss, None, &all);
            return;
        }
        if work.made.is_empty() && work.lost.is_empty() && !work.ends {
            return;
        }
        let batch = &mut self.batches[work.batch.index()];
        let now = work
            .made
            .iter()
            .map(|line| (line.what, line.quantity))
            .chain(work.lost.iter().map(|line| (line.what, line.quantity)));
        for (what, count) in now {
            *batch.came.entry(what).or_insert_with(nothing) += of_decimal(count);
        }
        let finished = self.weighted(work);
        // Without an aim the first `finished` ends it.
        let aims = !self.batches[work.batch.index()].aims.is_empty();
        let reached = self.still_to_come(work).values().all(|left| !left.is_positive());
        let last = work.ends || (reached && (aims || verb == Verb::Finished));
        let good_or_charged: Exact = finished.iter().map(|(.., weighted)| weighted.clone()).sum();
        if good_or_charged.is_zero() {
            // Nothing good and nothing charged off: all is abnormal loss, once nothing is to come.
            if last {
                let all = std::mem::take(&mut self.batches[work.batch.index()].bench);
                self.moves(Flow::AbnormalLoss, None, &all);
            }
            return;
        }
        let taken = if last || reached {
            std::mem::take(&mut self.batches[work.batch.index()].bench)
        } else {
            self.part_finished(work, &good_or_charged)
        };
        for (what, count, charged_off, weighted) in finished {
            let mut vector = taken.part(&share(&weighted, &good_or_charged), Cut::Split);
            if charged_off {
                self.moves(Flow::AbnormalLoss, None, &vector);
                continue;
            }
            if let Output::Thing(thing) = what {
                vector.add(&self.royalty(thing, count));
                vector.add(&self.licence(thing, count));
            }
            self.outputs.push((self.event, what, vector.clone()));
            match what {
                Output::Thing(thing) => {
                    let code = self.book.label_id(&self.book.batch(work.batch).name);
                    self.arrives(thing, work.place, of_decimal(count), vector, code);
                }
                Output::Tool(tool) => {
                    self.moves(Flow::MadeForShop, None, &vector);
                    self.tools_came(tool, count, &paid_cost(&vector), &(&vector.slack * whole(5)));
                }
            }
        }
    }

    /// Good pieces and pieces charged off: what, how many, whether charged off, and their weight.
    fn weighted(&self, work: &BatchWork) -> Vec<(Output, Decimal, bool, Exact)> {
        let good = work.made.iter().map(|line| (line.what, line.quantity, false));
        let charged = work.lost.iter().filter(|line| line.charged_off).map(|line| (line.what, line.quantity, true));
        good.chain(charged)
            .map(|(what, count, charged_off)| (what, count, charged_off, self.weight(work, what) * of_decimal(count)))
            .collect()
    }

    /// The weight of a piece.
    fn weight(&self, work: &BatchWork, what: Output) -> Exact {
        match work.sharing {
            OutputSharing::BySharesOrSingle => {
                let share = work.made.iter().find(|line| line.what == what).and_then(|line| line.share);
                share.map_or_else(|| whole(1), of_decimal)
            }
            OutputSharing::ByCount => whole(1),
            OutputSharing::ByPrice => match what {
                Output::Thing(thing) => self.book.thing(thing).price.on(self.date).map_or_else(nothing, of_decimal),
                Output::Tool(_) => nothing(),
            },
        }
    }

    /// What is aimed at less what came: good, charged off and lost, up to and with this finish.
    fn still_to_come(&self, work: &BatchWork) -> BTreeMap<Output, Exact> {
        let batch = &self.batches[work.batch.index()];
        batch.aims.iter().map(|(what, aim)| (*what, aim - batch.came.get(what).cloned().unwrap_or_default())).collect()
    }

    /// Materials take G/(G + r), what is worked G/(G + r·N). One N is said of all that is still to come.
    fn part_finished(&mut self, work: &BatchWork, good: &Exact) -> ExactVector {
        let rest: Exact = self.still_to_come(work).into_iter().map(|(what, left)| self.weight(work, what) * left).sum();
        let worked = work.made.iter().map(|line| of_decimal(line.rest_worked)).min().unwrap_or_else(|| whole(100));
        let rest_worked = &rest * worked / whole(100);
        let materials = share(good, &(good + rest));
        let worked = share(good, &(good + rest_worked));
        self.batches[work.batch.index()].bench.draw_by(&materials, &worked)
    }

    /// Royalty on good pieces: rate times pieces, to the currency's digits.
    fn royalty(&mut self, thing: kerfbook::names::ThingId, count: Decimal) -> ExactVector {
        let Some(pattern) = self.book.thing(thing).pattern.on(self.date) else { return ExactVector::default() };
        let Some(rate) = self.book.pattern(*pattern).royalty.on(self.date) else { return ExactVector::default() };
        let owed = rounded(&(of_decimal(*rate) * of_decimal(count)), self.book.shop.currency.digits());
        let vector = ExactVector::of(Component::Royalty, owed);
        self.moves(Flow::Royalty, Some(thing), &vector);
        vector
    }

    /// The permitted pieces that good pieces take, the oldest licence first, as far as there are any.
    fn licence(&mut self, thing: kerfbook::names::ThingId, count: Decimal) -> ExactVector {
        let mut out = ExactVector::default();
        let Some(pattern) = self.book.thing(thing).pattern.on(self.date) else { return out };
        let mut left = of_decimal(count);
        for licence in self.licences.iter_mut().filter(|licence| licence.pattern == *pattern && licence.left.is_positive()) {
            let part = if licence.left < left { licence.left.clone() } else { left.clone() };
            if part.is_zero() {
                break;
            }
            out.add(&licence.cost.draw(&share(&part, &licence.left)));
            licence.left -= &part;
            left -= part;
        }
        out
    }
}
