//! `started`, `continued`, `worked … on`, `finished`: batches over several days, with an aim or without.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::batch_lines::BatchLines;
use super::catalogue::{PRODUCTS, WORK_STEPS};
use super::desk::{Desk, Rank};
use super::quantity_text::{Nano, ONE, time};
use super::short_batch::Yield;

/// A batch on the bench.
#[derive(Clone, Debug)]
pub(crate) struct LongBatch {
    pub(crate) name: String,
    place: &'static str,
    /// What it is for; how many where it has an aim.
    products: Vec<(&'static str, i128)>,
    has_aim: bool,
    sharing: Option<&'static str>,
    /// Good and lost so far.
    came: BTreeMap<&'static str, i128>,
    used: BTreeMap<&'static str, Nano>,
    took: BTreeMap<&'static str, i128>,
    worn_as_written: std::collections::BTreeSet<&'static str>,
    last_day: NaiveDate,
}

impl LongBatch {
    /// A batch that was on the bench when the book began.
    pub(crate) fn opened(name: String, day: NaiveDate) -> Self {
        Self::of(name, "bench", vec![("village", 4)], false, None, day)
    }

    fn of(
        name: String,
        place: &'static str,
        products: Vec<(&'static str, i128)>,
        has_aim: bool,
        sharing: Option<&'static str>,
        last_day: NaiveDate,
    ) -> Self {
        Self {
            name,
            place,
            products,
            has_aim,
            sharing,
            came: BTreeMap::new(),
            used: BTreeMap::new(),
            took: BTreeMap::new(),
            worn_as_written: std::collections::BTreeSet::new(),
            last_day,
        }
    }

    /// The one product that it is for.
    pub(crate) fn only_product(&self) -> Option<&'static str> {
        if self.products.len() == 1 { self.products.first().map(|(product, _)| *product) } else { None }
    }

    fn note(&mut self, work: &BatchLines, day: NaiveDate) {
        for (thing, much) in work.goods.iter().chain(&work.planned_goods) {
            *self.used.entry(thing).or_default() += *much;
        }
        for (step, minutes, _) in &work.times {
            *self.took.entry(step).or_default() += *minutes;
        }
        for (step, minutes) in &work.planned_times {
            *self.took.entry(step).or_default() += *minutes;
        }
        self.worn_as_written.extend(&work.worn_as_written);
        self.last_day = day;
    }
}

impl Desk {
    /// Starts a batch.
    pub(crate) fn started(&mut self) -> bool {
        let joint = self.dice.chance(25);
        let products = if joint {
            vec![("house", self.dice.between(2, 6)), ("tree", self.dice.between(1, 5))]
        } else {
            let Some(product) = self.dice.pick(&PRODUCTS).copied() else { return false };
            vec![(product, self.dice.between(2, if matches!(product, "chest" | "village") { 4 } else { 9 }))]
        };
        let has_aim = self.dice.chance(80);
        let sharing = joint.then(|| if self.dice.chance(50) { "shared by price" } else { "shared by count" });
        let place = if self.dice.chance(85) { "bench" } else { "barn" };
        let mut work = BatchLines::default();
        let mut lines = Vec::new();
        let all_planned = has_aim && self.dice.chance(30);
        for (product, pieces) in &products {
            let (needs, takes) = self.plan(product, *pieces);
            if all_planned {
                needs.into_iter().for_each(|(thing, much)| *work.planned_goods.entry(thing).or_default() += much);
                continue;
            }
            for (thing, much) in needs {
                if self.dice.chance(65) {
                    let percent = self.dice.between(30, 100);
                    let about = self.about(thing, much * percent / 100);
                    *work.goods.entry(thing).or_default() += about;
                }
            }
            for (step, minutes) in takes {
                if self.dice.chance(60) {
                    let minutes = self.dice.between(1, minutes.max(2));
                    work.add_time(self, step, minutes);
                }
            }
        }
        if work.goods.is_empty() && work.planned_goods.is_empty() && work.times.is_empty() {
            work.add_time(self, "gluing", 7);
        }
        if self.dice.chance(8) {
            work.goods.insert("blade", ONE);
            work.worn_as_written.insert("blade");
        }
        let wanted = work.wanted(self);
        if !self.ensure(&wanted, place) {
            return false;
        }
        let tied = self.turn_to(Rank::Bench, true);
        let name = self.code("S");
        if has_aim {
            let aims: Vec<String> = products.iter().map(|(product, pieces)| format!("{pieces} {product}")).collect();
            lines.push(format!("aims at {}", aims.join(", ")));
        }
        if all_planned {
            lines.push("used as planned".to_owned());
        }
        lines.extend(work.taken(self, place, tied));
        self.keep_offcut(&work.goods, place, &mut lines);
        let at = if place == "bench" { String::new() } else { format!(" at {place}") };
        self.write("started", &format!("batch {name}{at}"), lines);
        let mut batch = LongBatch::of(name, place, products, has_aim, sharing, self.day);
        batch.note(&work, self.day);
        self.batches.push(batch);
        true
    }

    /// Goes on with a batch: `continued`, or `worked … on` it.
    pub(crate) fn went_on(&mut self) -> bool {
        let Some(at) = self.any_batch() else { return false };
        let batch = self.batches[at].clone();
        let worked = self.dice.chance(50);
        // The head of `worked` names no place: it wears the blades that are at home, wherever the batch is.
        let place = if worked { "bench" } else { batch.place };
        let mut work = BatchLines { worn_as_written: batch.worn_as_written.clone(), ..BatchLines::default() };
        let Some(step) = self.dice.pick(&WORK_STEPS).copied() else { return false };
        let minutes = self.dice.between(1, 90);
        work.add_time(self, step, minutes);
        if !worked && self.dice.chance(50) {
            let thing = if self.dice.chance(50) { "cord" } else { "peg" };
            let about = self.about(thing, 2 * ONE);
            work.goods.insert(thing, about);
        }
        let wanted = work.wanted(self);
        if !self.ensure(&wanted, place) || self.day == batch.last_day {
            return false;
        }
        // A batch that is built the same day would be one more of its product.
        let alone = worked && !self.past(Rank::Bench);
        let tied = self.turn_to(Rank::Bench, true);
        let mut lines = work.taken(self, place, tied);
        if let Some((product, aim)) = batch.products.first().copied().filter(|_| !worked && batch.has_aim && self.dice.chance(15))
            && aim - batch.came.get(product).copied().unwrap_or(0) > 1
        {
            let off = if self.dice.chance(50) { ", charged off" } else { "" };
            lines.push(format!("lost 1 {product}{off}"));
            *self.batches[at].came.entry(product).or_default() += 1;
        }
        let at_place = if place == "bench" { String::new() } else { format!(" at {place}") };
        if worked {
            let said: Vec<String> = work
                .times
                .iter()
                .map(|(step, minutes, who)| {
                    let on = match batch.only_product().filter(|_| alone && self.dice.chance(40)) {
                        Some(product) if self.is_the_one_batch_of(product) => product.to_owned(),
                        _ => batch.name.clone(),
                    };
                    format!("{} {step} on {on}{who}", time(*minutes))
                })
                .collect();
            self.write("worked", "", said);
            self.turn_to(Rank::Rest, true);
        } else {
            self.write("continued", &format!("batch {}{at_place}", batch.name), lines);
        }
        self.batches[at].note(&work, self.day);
        true
    }

    fn is_the_one_batch_of(&self, product: &str) -> bool {
        // A batch without an aim does not say what it is for until it is finished.
        let of = |batch: &LongBatch| batch.products.iter().any(|(one, _)| *one == product);
        self.batches.iter().filter(|batch| of(batch)).count() == 1 && self.batches.iter().any(|batch| of(batch) && batch.has_aim)
    }

    fn any_batch(&mut self) -> Option<usize> {
        let count = self.batches.len();
        if count == 0 {
            return None;
        }
        usize::try_from(self.dice.below(u64::try_from(count).unwrap_or(1))).ok()
    }

    /// Finishes a batch, or a part of it.
    pub(crate) fn finished(&mut self) -> bool {
        let Some(at) = self.any_batch() else { return false };
        let batch = self.batches[at].clone();
        let mut came = Vec::new();
        let mut reached = batch.has_aim;
        for (product, aim) in &batch.products {
            let left = if batch.has_aim { aim - batch.came.get(product).copied().unwrap_or(0) } else { self.dice.between(1, 4) };
            let good = if self.dice.chance(35) { left } else { self.dice.between(0, left) };
            let lost = if self.dice.chance(20) { self.dice.between(0, left - good) } else { 0 };
            let charged_off = if self.dice.chance(20) { self.dice.between(0, left - good - lost) } else { 0 };
            reached &= good + lost + charged_off == left;
            came.push(Yield { product, good, lost, charged_off });
        }
        if came.iter().all(|one| one.good + one.lost + one.charged_off == 0) {
            return false;
        }
        let planned_goods = self.dice.chance(40);
        let planned_times = self.dice.chance(40);
        let mut work = BatchLines { worn_as_written: batch.worn_as_written.clone(), ..BatchLines::default() };
        for one in &came {
            let so_far = batch.came.get(one.product).copied().unwrap_or(0) + one.good + one.lost + one.charged_off;
            let (needs, takes) = self.plan(one.product, so_far);
            if planned_goods {
                needs.into_iter().for_each(|(thing, much)| *work.planned_goods.entry(thing).or_default() += much);
            }
            if planned_times {
                takes.into_iter().for_each(|(step, minutes)| *work.planned_times.entry(step).or_default() += minutes);
            }
        }
        for (thing, much) in &mut work.planned_goods {
            *much = (*much - batch.used.get(thing).copied().unwrap_or(0)).max(0);
        }
        for (step, minutes) in &mut work.planned_times {
            *minutes = (*minutes - batch.took.get(step).copied().unwrap_or(0)).max(0);
        }
        if self.dice.chance(40) {
            let minutes = self.dice.between(1, 60);
            work.add_time(self, "sanding", minutes);
        }
        if self.dice.chance(25) {
            work.goods.insert("oil", ONE * self.dice.between(1, 9));
        }
        let wanted = work.wanted(self);
        if !self.ensure(&wanted, batch.place) || self.day == batch.last_day {
            return false;
        }
        let tied = self.turn_to(Rank::Bench, true);
        let mut lines = work.taken(self, batch.place, tied);
        if planned_goods {
            lines.push("used as planned".to_owned());
        }
        if planned_times {
            lines.push("took as planned".to_owned());
        }
        let sharing = if came.len() > 1 { batch.sharing } else { None };
        let from = lines.len();
        self.outcome(&came, sharing, false, &mut lines);
        let gave_up_the_rest = batch.has_aim && !reached && self.dice.chance(15);
        if batch.has_aim && !reached && self.dice.chance(80) {
            let rest = self.dice.pick(&["0%", "35%", "50%", "80%", "33.3%"]).copied().unwrap_or("35%");
            for line in &mut lines[from..] {
                if line.starts_with("made ") {
                    line.push_str(&format!(", the rest {rest}"));
                }
            }
        }
        if gave_up_the_rest {
            lines.push("nothing else".to_owned());
        }
        self.keep_offcut(&work.goods, batch.place, &mut lines);
        for one in &came {
            if tied {
                self.doubt(one.product);
            }
            self.shelf.put(one.product, batch.place, self.day, one.good * ONE, Some(batch.name.clone()));
        }
        let at_place = if batch.place == "bench" { String::new() } else { format!(" at {}", batch.place) };
        self.write("finished", &format!("batch {}{at_place}", batch.name), lines);
        self.batches[at].note(&work, self.day);
        for one in &came {
            *self.batches[at].came.entry(one.product).or_default() += one.good + one.lost + one.charged_off;
        }
        if reached || gave_up_the_rest || !batch.has_aim {
            self.batches.remove(at);
        }
        true
    }

    /// Gives a batch up.
    pub(crate) fn gave_up(&mut self) -> bool {
        let Some(at) = self.any_batch() else { return false };
        if self.batches[at].last_day == self.day {
            return false;
        }
        self.turn_to(Rank::Scrapped, true);
        let batch = self.batches.remove(at);
        self.write("scrapped", &format!("batch {}", batch.name), Vec::new());
        true
    }
}
