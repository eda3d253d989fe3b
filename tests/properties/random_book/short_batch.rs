//! `built`: batches of one entry. One product, two that share, a tool, a material, or nothing at all.

use std::collections::BTreeMap;

use super::batch_lines::BatchLines;
use super::catalogue::{PRODUCTS, counted};
use super::desk::{Desk, Rank};
use super::quantity_text::{Nano, ONE, money, quantity};

/// What comes of a batch.
pub(crate) struct Yield {
    pub(crate) product: &'static str,
    pub(crate) good: i128,
    pub(crate) lost: i128,
    pub(crate) charged_off: i128,
}

impl Yield {
    fn pieces(&self) -> i128 {
        self.good + self.lost + self.charged_off
    }
}

impl Desk {
    /// Builds so many of a product by its recipe.
    pub(crate) fn build_as_planned(&mut self, product: &'static str, pieces: i128, place: &'static str) -> bool {
        let came = Yield { product, good: pieces, lost: 0, charged_off: 0 };
        self.build(&[came], place, true, None)
    }

    /// Builds something.
    pub(crate) fn built(&mut self) -> bool {
        let place = if self.dice.chance(80) { "bench" } else { "barn" };
        let Some(product) = self.dice.pick(&PRODUCTS).copied() else { return false };
        let came = self.came(product);
        let planned = self.dice.chance(35);
        self.build(&[came], place, planned, None)
    }

    /// Builds houses and trees from one board.
    pub(crate) fn built_jointly(&mut self) -> bool {
        let came = [self.came("house"), self.came("tree")];
        let sharing = match self.dice.below(3) {
            0 => "shared by price",
            1 => "shared by count",
            _ => "share",
        };
        let planned = self.dice.chance(20);
        self.build(&came, "bench", planned, Some(sharing))
    }

    fn came(&mut self, product: &'static str) -> Yield {
        let good = self.dice.between(1, if matches!(product, "chest" | "village") { 2 } else { 7 });
        let lost = i128::from(self.dice.chance(20));
        let charged_off = if self.dice.chance(15) { self.dice.between(1, 2) } else { 0 };
        Yield { product, good, lost, charged_off }
    }

    fn build(&mut self, came: &[Yield], place: &'static str, planned: bool, sharing: Option<&str>) -> bool {
        let mut work = BatchLines::default();
        for one in came {
            let (needs, takes) = self.plan(one.product, one.pieces());
            if planned {
                needs.into_iter().for_each(|(thing, much)| *work.planned_goods.entry(thing).or_default() += much);
                takes.into_iter().for_each(|(step, minutes)| *work.planned_times.entry(step).or_default() += minutes);
                continue;
            }
            for (thing, much) in needs {
                let about = self.about(thing, much);
                *work.goods.entry(thing).or_default() += about;
            }
            for (step, minutes) in takes {
                let minutes = self.dice.between(1, minutes * 2);
                work.add_time(self, step, minutes);
            }
        }
        if self.dice.chance(8) {
            work.goods.insert("blade", ONE);
            work.worn_as_written.insert("blade");
        }
        if self.dice.chance(15) {
            let minutes = self.dice.between(1, 50);
            work.add_time(self, "gluing", minutes);
        }
        let wanted = work.wanted(self);
        if !self.ensure(&wanted, place) {
            return false;
        }
        let tied = self.turn_to(Rank::Bench, true);
        let mut lines = work.taken(self, place, tied);
        let name = self.code("B");
        self.outcome(came, sharing, planned, &mut lines);
        for one in came {
            if tied {
                self.doubt(one.product);
            }
            self.shelf.put(one.product, place, self.day, one.good * ONE, Some(name.clone()));
        }
        self.keep_offcut(&work.goods, place, &mut lines);
        let at = if place == "bench" { String::new() } else { format!(" at {place}") };
        self.write("built", &format!("batch {name}{at}"), lines);
        true
    }

    /// What was made and lost, as lines.
    pub(crate) fn outcome(&mut self, came: &[Yield], sharing: Option<&str>, planned: bool, lines: &mut Vec<String>) {
        for one in came {
            if one.product == "cart" {
                self.owed_royalty += one.good * 53;
                self.permit(one.good);
            }
            if one.good > 0 {
                let share = match sharing {
                    Some("share") => format!(", share {}", self.dice.pick(&["3", "1", "2.5", "0.7"]).unwrap_or(&"1")),
                    _ => String::new(),
                };
                let as_planned = if planned { " as planned" } else { "" };
                lines.push(format!("made {} {}{share}{as_planned}", one.good, one.product));
            }
            if one.lost > 0 {
                lines.push(format!("lost {} {}", one.lost, one.product));
            }
            if one.charged_off > 0 {
                lines.push(format!("lost {} {}, charged off", one.charged_off, one.product));
            }
        }
        if let Some(sharing) = sharing.filter(|sharing| *sharing != "share") {
            lines.push(sharing.to_owned());
        }
    }

    /// Keeps an offcut of the oak that an entry uses, now and then; never worth more than that oak.
    pub(crate) fn keep_offcut(&mut self, goods: &BTreeMap<&'static str, Nano>, place: &'static str, lines: &mut Vec<String>) {
        let oak = goods.get("oak").copied().unwrap_or(0);
        // Oak that was never bought costs nothing where a book runs short.
        if oak < ONE / 2 || self.settings.short_is_a_warning || !self.dice.chance(40) {
            return;
        }
        let kept = self.dice.between(1, 6) * ONE / 20;
        let most = 40 * oak / ONE;
        let worth =
            if self.dice.chance(70) { format!(" worth {}", money(self.dice.between(1, most.max(1)))) } else { String::new() };
        lines.push(format!("kept {} bf oak-offcut{worth}", quantity(kept)));
        self.doubt("oak-offcut");
        self.shelf.put("oak-offcut", place, self.day, kept, None);
    }

    /// Makes pins, which are a material, or a jig, which is a tool, or nothing.
    pub(crate) fn built_otherwise(&mut self) -> bool {
        let mut work = BatchLines::default();
        let from = if self.shelf.on_hand("oak-offcut", "bench") >= ONE / 10 { "oak-offcut" } else { "oak" };
        work.goods.insert(from, ONE / 10);
        let minutes = self.dice.between(1, 80);
        work.add_time(self, "cutting", minutes);
        let wanted = work.wanted(self);
        if !self.ensure(&wanted, "bench") {
            return false;
        }
        // What was kept that day would not surely come first.
        let tied = self.turn_to(Rank::Bench, false);
        let mut lines = work.taken(self, "bench", tied);
        let name = self.code("M");
        match self.dice.below(4) {
            0 => lines.push("made nothing \"split\"".to_owned()),
            1 => lines.push("made 1 jig".to_owned()),
            _ => {
                let pins = self.dice.between(5, 30) * ONE;
                lines.push(format!("made {}", counted("pin", pins)));
                self.shelf.put("pin", "bench", self.day, pins, Some(name.clone()));
            }
        }
        self.write("built", &format!("batch {name}"), lines);
        true
    }
}
