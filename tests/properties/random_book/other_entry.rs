//! What moves without a sale: places, counts, gifts, losses, the owner's own things; and changes, miles and notes.

use super::catalogue::{Kind, THINGS, counted, counted_in_units, spec};
use super::desk::{Desk, Rank};
use super::long_batch::LongBatch;
use super::quantity_text::{Nano, ONE, money, mul_div, quantity};

impl Desk {
    /// A day that only one entry has.
    pub(crate) fn next_day_alone(&mut self) {
        self.turn_to(Rank::Rest, false);
        self.turn_to(Rank::Rest, false);
    }

    /// What was there when the book began.
    pub(crate) fn opened(&mut self) {
        self.turn_to(Rank::Opened, false);
        let mut lines = Vec::new();
        for thing in &THINGS {
            if !self.dice.chance(60) {
                continue;
            }
            let much = thing.grain * self.dice.between(2, 30);
            let cents = mul_div(much, thing.cents * self.dice.between(20, 60), ONE * 100).max(1);
            let lot = self.dice.chance(30).then(|| self.code("O"));
            let said = lot.as_ref().map_or_else(String::new, |code| format!(", lot {code}"));
            let hours = if thing.kind == Kind::Product && self.dice.chance(50) {
                format!(", {}h", self.dice.between(1, 9))
            } else {
                String::new()
            };
            self.shelf.put(thing.name, "bench", self.day, much, lot);
            lines.push(format!("{} for {}{said}{hours}", counted_in_units(thing.name, much), money(cents)));
        }
        if self.dice.chance(40) {
            let name = self.code("OB");
            lines.push(format!("{} on batch {name}", money(self.dice.between(1, 9000))));
            self.batches.push(LongBatch::opened(name, self.day));
        }
        if self.dice.chance(30) {
            lines.push("1 saw for 500.00, already recovered 281.35".to_owned());
            self.saws += 1;
        }
        if self.dice.chance(30) {
            lines.push("88.20 owed by gift-shop for order \"G-old\"".to_owned());
            lines.push("40.00 owed to ridge-lumber for receipt \"A-old\"".to_owned());
        }
        if lines.is_empty() {
            lines.push("1 bf oak for 4.00".to_owned());
            self.shelf.put("oak", "bench", self.day, ONE, None);
        }
        self.write("opened", "", lines);
        if self.dice.chance(40) {
            self.opened_elsewhere();
        }
    }

    /// What was at another place when the book began. Which lots are older, those here or there, is left open.
    fn opened_elsewhere(&mut self) {
        let place = if self.dice.chance(50) { "barn" } else { "gift-shop" };
        let mut lines = Vec::new();
        for thing in THINGS.iter().filter(|thing| thing.kind == Kind::Product || thing.name == "oak") {
            if self.dice.chance(30) {
                let much = thing.grain * self.dice.between(2, 12);
                let cents = mul_div(much, thing.cents * self.dice.between(20, 60), ONE * 100).max(1);
                self.doubt(thing.name);
                self.shelf.put(thing.name, place, self.day, much, None);
                lines.push(format!("{} for {}", counted_in_units(thing.name, much), money(cents)));
            }
        }
        if !lines.is_empty() {
            self.write("opened", &format!("at {place}"), lines);
        }
    }

    /// Puts the owner's own things in, or finds some.
    pub(crate) fn came_free(&mut self) -> bool {
        if self.dice.chance(50) {
            let Some(thing) = self.dice.pick(&["sack", "oak-offcut", "cord"]).copied() else { return false };
            let tied = self.turn_to(Rank::Found, true);
            let much = spec(thing).grain * self.dice.between(1, 12);
            if tied {
                self.doubt(thing);
            }
            self.shelf.put(thing, "bench", self.day, much, None);
            self.write("found", "", vec![counted(thing, much)]);
        } else {
            let Some(thing) = self.dice.pick(&["oak", "house", "peg"]).copied() else { return false };
            let tied = self.turn_to(Rank::Contributed, true);
            let much = spec(thing).grain * self.dice.between(1, 12);
            let cents = mul_div(much, spec(thing).cents * self.dice.between(40, 100), ONE * 100).max(1);
            if tied {
                self.doubt(thing);
            }
            self.shelf.put(thing, "bench", self.day, much, None);
            self.write("contributed", "", vec![format!("{} for {}", counted_in_units(thing, much), money(cents))]);
        }
        true
    }

    /// Some of something that is at a place, in whole grains.
    fn some_of(&mut self, place: &'static str, most: i128) -> Option<(&'static str, Nano)> {
        let here = self.shelf.things_at(place);
        let thing = self.dice.pick(&here).copied()?;
        let grain = spec(thing).grain;
        let grains = self.shelf.on_hand(thing, place) / grain;
        if grains == 0 {
            return None;
        }
        if self.settings.short_is_a_warning && self.dice.chance(15) {
            self.doubt(thing);
            return Some((thing, grain * (grains + self.dice.between(1, 3))));
        }
        Some((thing, grain * self.dice.between(1, grains.min(most))))
    }

    /// Sends goods to another place, or brings them back.
    pub(crate) fn moved(&mut self) -> bool {
        let (from, to) = match self.dice.below(6) {
            0 => ("bench", "barn"),
            1 => ("barn", "bench"),
            2 => ("gift-shop", "bench"),
            _ => ("bench", "gift-shop"),
        };
        let back = to == "bench";
        if !back && self.brought_back_today {
            self.turn_to(Rank::Changed, false);
        }
        // Two moves of a day could go round in a ring.
        self.turn_to(if back { Rank::BroughtBack } else { Rank::Sent }, false);
        let mut lines = Vec::new();
        for _ in 0..self.dice.between(1, 2) {
            let Some((thing, much)) = self.some_of(from, 40) else { continue };
            if lines.iter().any(|line: &String| line.contains(thing)) {
                continue;
            }
            let (lot, heaps) = self.take(thing, from, much, false);
            for heap in heaps {
                self.shelf.lay(thing, to, heap);
            }
            lines.push(format!("{}{lot}", counted(thing, much)));
        }
        if lines.is_empty() {
            return false;
        }
        if !back && self.dice.chance(30) {
            lines.push(format!("postage {}", money(self.dice.between(1, 900))));
        }
        if back {
            self.brought_back_today = true;
            self.write("brought-back", &format!("from {from}"), lines);
        } else {
            self.write("sent", &format!("to {to}"), lines);
        }
        true
    }

    /// Counts some of what is at a place.
    pub(crate) fn counted(&mut self) -> bool {
        let place = self.dice.pick(&["bench", "bench", "barn", "gift-shop"]).copied().unwrap_or("bench");
        let here = self.shelf.things_at(place);
        if here.is_empty() {
            return false;
        }
        self.turn_to(Rank::Counted, false);
        let nothing_else = self.dice.chance(8);
        let mut lines = Vec::new();
        for thing in here {
            if !self.dice.chance(if nothing_else { 70 } else { 30 }) {
                if nothing_else {
                    let all = self.shelf.on_hand(thing, place);
                    self.shelf.take(thing, place, all, None);
                }
                continue;
            }
            let grain = spec(thing).grain;
            let on_hand = self.shelf.on_hand(thing, place);
            if self.count_by_lots(thing, place, nothing_else, &mut lines) {
                continue;
            }
            let grains = (on_hand / grain + self.dice.between(-3, 2)).max(0);
            let now = grains * grain;
            if now < on_hand {
                self.shelf.take(thing, place, on_hand - now, None);
            } else if now > on_hand {
                self.shelf.put(thing, place, self.day, now - on_hand, None);
            }
            lines.push(if now == 0 { format!("0 {} {thing}", spec(thing).unit) } else { counted(thing, now) });
        }
        if nothing_else {
            lines.push("nothing else".to_owned());
        }
        if lines.is_empty() {
            return false;
        }
        let at = if place == "bench" { String::new() } else { format!(" at {place}") };
        self.write("counted", at.trim_start(), lines);
        true
    }

    /// Counts a thing by its lots, now and then, where it is sure which they are.
    fn count_by_lots(&mut self, thing: &'static str, place: &'static str, nothing_else: bool, lines: &mut Vec<String>) -> bool {
        if self.is_doubtful(thing) || self.settings.short_is_a_warning || !self.dice.chance(60) {
            return false;
        }
        let mut lots: Vec<(String, Nano)> = Vec::new();
        for heap in self.shelf.heaps(thing, place) {
            let Some(code) = &heap.code else { continue };
            match lots.iter_mut().find(|(other, _)| other == code) {
                Some((_, sum)) => *sum += heap.quantity,
                None => lots.push((code.clone(), heap.quantity)),
            }
        }
        lots.truncate(2);
        if lots.is_empty() {
            return false;
        }
        let grain = spec(thing).grain;
        let mut listed: Nano = 0;
        for (code, on_hand) in &lots {
            let now = (on_hand / grain + self.dice.between(-2, 1)).max(0) * grain;
            if now < *on_hand {
                self.shelf.take(thing, place, on_hand - now, Some(code));
            } else {
                self.shelf.put(thing, place, self.day, now - on_hand, Some(code.clone()));
                if now > *on_hand {
                    // What was found came on no bill, so that it is not sent back.
                    self.doubt(thing);
                }
            }
            listed += now;
            let said = if now == 0 { format!("0 {} {thing}", spec(thing).unit) } else { counted(thing, now) };
            lines.push(format!("{said} lot {code}"));
        }
        if nothing_else {
            let others: Vec<Option<String>> = self.shelf.heaps(thing, place).iter().map(|heap| heap.code.clone()).collect();
            let is_listed = |code: &Option<String>| lots.iter().any(|(listed, _)| Some(listed) == code.as_ref());
            if others.iter().any(|code| !is_listed(code)) {
                // What is not listed goes; the model takes the oldest, so that lots can't be named any more.
                let all = self.shelf.on_hand(thing, place);
                self.shelf.take(thing, place, all - listed, None);
                self.doubt(thing);
            }
        }
        self.name_today();
        true
    }

    /// Goods that leave without a sale.
    pub(crate) fn left(&mut self) -> bool {
        let place = self.dice.pick(&["bench", "bench", "bench", "barn", "gift-shop"]).copied().unwrap_or("bench");
        let (rank, verb, rest) = match self.dice.below(8) {
            0 => (Rank::TookHome, "took-home", ""),
            1 => (Rank::Gave, "gave", "to \"the library\" as donation"),
            2 => (Rank::Gave, "gave", "to \"the library\" as donation"),
            3 => (Rank::Gave, "gave", "to corner-store as sample"),
            4 => (Rank::Gave, "gave", "to \"P. next door\" as gift"),
            5 => (Rank::UsedUp, "used-up", ""),
            6 => (Rank::UsedUp, "used-up", "on sets"),
            _ => (Rank::Scrapped, "scrapped", ""),
        };
        let tied = self.turn_to(rank, true);
        let mut lines = Vec::new();
        let mut seen = Vec::new();
        for _ in 0..self.dice.between(1, 2) {
            let Some((thing, much)) = self.some_of(place, 3) else { continue };
            if seen.contains(&thing) {
                continue;
            }
            seen.push(thing);
            let (lot, _) = self.take(thing, place, much, tied);
            let worth = if verb == "gave" && self.dice.chance(50) {
                format!(" worth {}", money(self.dice.between(1, 5000)))
            } else {
                String::new()
            };
            lines.push(format!("{}{lot}{worth}", counted(thing, much)));
        }
        if lines.is_empty() {
            return false;
        }
        let at = if place == "bench" { String::new() } else { format!(" at {place}") };
        self.write(verb, format!("{rest}{at}").trim_start(), lines);
        true
    }

    /// Works at nothing that is made: for a line, a channel, a product, or in general.
    pub(crate) fn worked_otherwise(&mut self) -> bool {
        let minutes = self.dice.between(1, 200);
        let (line, step) = match self.dice.below(5) {
            0 => (format!("{minutes} min general"), "general"),
            1 => (format!("{minutes} min sanding on sets"), "sanding"),
            2 => (format!("{minutes} min gluing on craft-fair"), "gluing"),
            3 => (format!("{minutes} min gluing on craft-fair by jamie"), "gluing"),
            _ => (format!("{minutes} min cutting on small-wares"), "cutting"),
        };
        let wanted = self.wear_of(step, minutes).into_iter().collect();
        if !self.ensure(&wanted, "bench") {
            return false;
        }
        let tied = self.turn_to(Rank::Bench, true);
        for (thing, much) in wanted {
            if tied {
                self.doubt(thing);
            }
            self.shelf.take(thing, "bench", much, None);
        }
        self.write("worked", "", vec![line]);
        true
    }

    /// Something is otherwise from today on.
    pub(crate) fn changed(&mut self) -> bool {
        if self.past(Rank::Changed) {
            self.turn_to(Rank::Changed, false);
        }
        self.turn_to(Rank::Changed, false);
        match self.dice.below(6) {
            0 => {
                let cents = self.dice.between(800, 4000);
                self.write("changed", "shop", vec![format!("owner time {} per h", money(cents))]);
            }
            // What comes from expenses moves earlier figures of its year: only books of their own have it.
            1 if self.settings.overhead_from_expenses && self.dice.chance(50) => {
                self.write("changed", "shop", vec!["overhead from expenses".to_owned()]);
            }
            1 => {
                let cents = self.dice.between(50, 900);
                self.write("changed", "shop", vec![format!("overhead {} per h", money(cents))]);
            }
            2 => {
                let much = self.dice.between(60, 130) * ONE / 100;
                let pegs = self.dice.between(2, 6);
                if let Some(recipe) = self.recipes.get_mut("cart") {
                    recipe.needs = vec![
                        ("axle", 2 * ONE, 1, String::new()),
                        ("oak", much, 1, String::new()),
                        ("peg", pegs * ONE, 1, String::new()),
                    ];
                }
                self.write("changed", "cart", vec![format!("needs 2 axle, {} bf oak, {pegs} peg", quantity(much))]);
            }
            3 => {
                let minutes = self.dice.between(3, 30);
                if let Some(recipe) = self.recipes.get_mut("spoon") {
                    recipe.takes = vec![("cutting", minutes, 1)];
                }
                self.write("changed", "spoon", vec![format!("takes {minutes} min cutting")]);
            }
            4 => {
                let per = self.dice.between(20, 90);
                self.wears.insert("cutting", vec![("blade", ONE, per)]);
                self.write("changed", "cutting", vec![format!("wears 1 blade per {per}m")]);
            }
            _ => {
                let Some(thing) = self.dice.pick(&["cart", "village", "house", "spoon"]).copied() else { return false };
                let cents = spec(thing).cents * self.dice.between(70, 160) / 100;
                self.prices.insert(thing, cents);
                self.write("changed", thing, vec![format!("price {}", money(cents))]);
            }
        }
        true
    }

    /// What moves no goods.
    pub(crate) fn noted(&mut self) -> bool {
        self.turn_to(Rank::Rest, true);
        match self.dice.below(3) {
            0 => self.write("drove", "38 mi on craft-fair \"to the fair and back\"", Vec::new()),
            1 if self.saws > 0 => {
                self.saws -= 1;
                self.write("retired", "saw for 35.00", Vec::new());
            }
            _ => self.write("noted", "\"rain\"", Vec::new()),
        }
        true
    }
}
