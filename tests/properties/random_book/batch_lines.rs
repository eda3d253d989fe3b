//! The lines of a batch's entry while it is put together: first what is wanted, then what is taken off the shelf.

use std::collections::{BTreeMap, BTreeSet};

use super::catalogue::{counted, spec};
use super::desk::Desk;
use super::quantity_text::{Nano, money, time};

/// What an entry of a batch uses and takes.
#[derive(Clone, Debug, Default)]
pub(crate) struct BatchLines {
    /// Goods that are written.
    pub(crate) goods: BTreeMap<&'static str, Nano>,
    /// Goods that go as planned, unwritten.
    pub(crate) planned_goods: BTreeMap<&'static str, Nano>,
    /// Times that are written: step, minutes, who.
    pub(crate) times: Vec<(&'static str, i128, String)>,
    /// Times that go as planned.
    pub(crate) planned_times: BTreeMap<&'static str, i128>,
    /// Wearing things that are written anywhere in the batch so far: they replace what the steps wear.
    pub(crate) worn_as_written: BTreeSet<&'static str>,
}

impl BatchLines {
    /// Adds a time by somebody.
    pub(crate) fn add_time(&mut self, desk: &mut Desk, step: &'static str, minutes: i128) {
        let who = desk.worker();
        self.times.push((step, minutes, who));
    }

    /// Everything that leaves the shelf for it.
    pub(crate) fn wanted(&self, desk: &Desk) -> BTreeMap<&'static str, Nano> {
        let mut wanted = self.goods.clone();
        for (thing, much) in &self.planned_goods {
            *wanted.entry(*thing).or_default() += *much;
        }
        let times = self.times.iter().map(|(step, minutes, _)| (*step, *minutes));
        for (step, minutes) in times.chain(self.planned_times.iter().map(|(step, minutes)| (*step, *minutes))) {
            for (thing, much) in desk.wear_of(step, minutes) {
                if !self.worn_as_written.contains(thing) {
                    *wanted.entry(thing).or_default() += much;
                }
            }
        }
        wanted
    }

    /// Takes it all off the shelf and gives its lines.
    pub(crate) fn taken(&self, desk: &mut Desk, place: &'static str, tied: bool) -> Vec<String> {
        let mut lines = Vec::new();
        let mut unwritten = self.wanted(desk);
        for (thing, much) in &self.goods {
            if let Some(rest) = unwritten.get_mut(thing) {
                *rest -= *much;
            }
            let alone = unwritten.get(thing).is_none_or(|rest| *rest == 0);
            let (lot, _) = if alone {
                desk.take(thing, place, *much, tied)
            } else {
                desk.doubt(thing);
                (String::new(), desk.shelf.take(thing, place, *much, None))
            };
            lines.push(format!("used {}{lot}", counted(thing, *much)));
        }
        for (thing, much) in unwritten {
            if tied {
                desk.doubt(thing);
            }
            desk.shelf.take(thing, place, much, None);
        }
        for (_, minutes, who) in &self.times {
            if who == " by sam" {
                desk.owed_sam += minutes * 1800 / 60;
            }
        }
        lines.extend(self.times.iter().map(|(step, minutes, who)| format!("took {} {step}{who}", time(*minutes))));
        lines
    }
}

impl Desk {
    /// Somebody who works: nothing for the owner, else what to write behind the step.
    fn worker(&mut self) -> String {
        match self.dice.below(12) {
            0 | 1 => " by sam".to_owned(),
            2 => " by jamie".to_owned(),
            3 => format!(" by jamie at {} per h", money(self.dice.between(900, 2500))),
            4 => format!(" by \"Lee\" for {}", money(self.dice.between(1, 4000))),
            _ => String::new(),
        }
    }

    /// About so much of a thing, in whole grains, at least one.
    pub(crate) fn about(&mut self, thing: &str, much: Nano) -> Nano {
        let grain = spec(thing).grain;
        let percent = self.dice.between(80, 125);
        (much * percent / 100 / grain).max(1) * grain
    }
}
