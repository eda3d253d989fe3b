//! Getting what is needed: purchases of materials and batches of parts, so that nothing is ever short.

use std::collections::BTreeMap;

use super::catalogue::{Kind, Recipe, counted_in_units, spec};
use super::desk::{Desk, Rank};
use super::quantity_text::{Nano, ONE, money, mul_div};

/// How many times is tried to get all at once, since what is got may use up what was there.
const TRIES: u32 = 8;

impl Desk {
    /// Makes sure that so much of everything is at a place, by entries before. Says whether it is.
    pub(crate) fn ensure(&mut self, wanted: &BTreeMap<&'static str, Nano>, place: &'static str) -> bool {
        if self.settings.short_is_a_warning && self.dice.chance(30) {
            // It goes on without; what comes later may settle that, so that lots are named no more.
            let short = wanted.iter().filter(|(thing, much)| self.shelf.on_hand(thing, place) < **much);
            let short: Vec<&'static str> = short.map(|(thing, _)| *thing).collect();
            short.into_iter().for_each(|thing| self.doubt(thing));
            return true;
        }
        for _ in 0..TRIES {
            let short = wanted.iter().find(|(thing, much)| self.shelf.on_hand(thing, place) < **much);
            let Some((thing, much)) = short.map(|(thing, much)| (*thing, *much)) else { return true };
            let short_by = much - self.shelf.on_hand(thing, place);
            if spec(thing).kind == Kind::Product {
                let pieces = (short_by + ONE - 1) / ONE + self.dice.between(0, 1);
                if !self.build_as_planned(thing, pieces, place) {
                    return false;
                }
            } else {
                self.buy_some(thing, short_by, place);
            }
        }
        false
    }

    /// Buys at least so much of one thing.
    fn buy_some(&mut self, thing: &'static str, least: Nano, place: &'static str) {
        let spec = spec(thing);
        let grains = (least + spec.grain - 1) / spec.grain;
        let quantity = (grains + self.dice.between(0, grains.max(4))) * spec.grain;
        let cents = mul_div(quantity, spec.cents * self.dice.between(70, 140), ONE * 100).max(1);
        let tied = self.turn_to(Rank::Bought, true);
        if tied {
            self.doubt(thing);
        }
        let lot = self.dice.chance(30).then(|| self.code("L"));
        let said = lot.as_ref().map_or_else(String::new, |code| format!(", lot {code}"));
        let at = if place == "bench" { String::new() } else { format!(" at {place}") };
        self.shelf.put(thing, place, self.day, quantity, lot);
        let line = format!("{} for {}{said}", counted_in_units(thing, quantity), money(cents));
        let mut lines = vec![line];
        if self.dice.chance(25) {
            lines.push(format!("freight {}", money(self.dice.between(1, 900))));
        }
        let supplier = self.supplier();
        self.write("bought", &format!("from {supplier}{at}"), lines);
    }

    /// A supplier.
    pub(crate) fn supplier(&mut self) -> &'static str {
        self.dice.pick(&["ridge-lumber", "\"Tansy Hardware\"", "valley-supply"]).unwrap_or(&"ridge-lumber")
    }

    /// What a recipe needs and takes for so many pieces: thing and quantity, step and minutes.
    pub(crate) fn plan(&self, product: &str, pieces: i128) -> (BTreeMap<&'static str, Nano>, BTreeMap<&'static str, i128>) {
        let Some(Recipe { needs, takes }) = self.recipes.get(product) else { return Default::default() };
        let mut things = BTreeMap::new();
        for (thing, quantity, per, _) in needs {
            *things.entry(*thing).or_default() += mul_div(*quantity, pieces, *per);
        }
        let mut steps = BTreeMap::new();
        for (step, minutes, per) in takes {
            *steps.entry(*step).or_default() += mul_div(*minutes, pieces, *per);
        }
        (things, steps)
    }

    /// What so many minutes at a step wear.
    pub(crate) fn wear_of(&self, step: &str, minutes: i128) -> Vec<(&'static str, Nano)> {
        let wears = self.wears.get(step).map_or(&[][..], Vec::as_slice);
        wears.iter().map(|(thing, much, per)| (*thing, mul_div(*much, minutes, *per))).collect()
    }
}
