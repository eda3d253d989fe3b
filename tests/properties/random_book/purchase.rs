//! `bought` with all that may stand in it, and what follows: `sent-back`, `credited`, `paid`.

use super::bills::Bill;
use super::catalogue::{Kind, THINGS, ThingSpec, counted_in_units};
use super::desk::{Desk, Rank};
use super::quantity_text::{Nano, ONE, money, mul_div, quantity};

/// As many carts as a licence permits.
const CARTS_A_LICENCE: i128 = 5;

impl Desk {
    /// Buys several things in one bill.
    pub(crate) fn bought(&mut self) -> bool {
        let tied = self.turn_to(Rank::Bought, true);
        let supplier = self.supplier().to_owned();
        let receipt = self.dice.chance(75).then(|| self.code("R"));
        let place = if self.dice.chance(80) { "bench" } else { "barn" };
        let mut bill = Bill {
            supplier: supplier.clone(),
            receipt: receipt.clone(),
            date: self.day,
            open: 0,
            goods: Vec::new(),
            credited: false,
        };
        let mut lines = Vec::new();
        // The sum of the lines, in cents, a little under what the bill says.
        let mut sum: i128 = 0;
        let materials: Vec<&ThingSpec> =
            THINGS.iter().filter(|thing| thing.kind != Kind::Product && thing.name != "oak-offcut").collect();
        let mut same_dimension = true;
        for _ in 0..self.dice.between(1, 4) {
            let Some(thing) = self.dice.pick(&materials).copied() else { continue };
            if bill.goods.iter().any(|(name, ..)| *name == thing.name) {
                continue;
            }
            if tied {
                self.doubt(thing.name);
            }
            same_dimension &= thing.unit == "ea";
            let lot = self.dice.chance(40).then(|| self.code("L"));
            let (text, much, cents) = self.bought_line(thing);
            let said = lot.as_ref().map_or_else(String::new, |code| format!(", lot {code}"));
            lines.push(format!("{text}{said}"));
            self.shelf.put(thing.name, place, self.day, much, lot.clone());
            bill.goods.push((thing.name, place, much, cents, lot));
            sum += cents;
        }
        sum += self.other_lines(&mut lines, &mut same_dimension);
        if sum == 0 {
            lines.push("4.10 for supplies".to_owned());
            same_dimension = false;
            sum += 410;
        }
        if self.dice.chance(55) {
            let by = if same_dimension && self.dice.chance(40) {
                " shared by quantity"
            } else if self.dice.chance(30) {
                " shared by value"
            } else {
                ""
            };
            lines.push(format!("freight {}{by}", money(self.dice.between(1, 2500))));
        }
        if self.dice.chance(45) {
            lines.push(format!("sales-tax {}", money(self.dice.between(1, 900))));
        }
        if self.dice.chance(30) {
            let off = self.dice.between(1, (sum / 6).max(1));
            // By quantity a cheap line could take more than it costs.
            let cheapest = bill.goods.iter().map(|(.., cents, _)| *cents).min().unwrap_or(0);
            let by = if same_dimension && off * 2 < cheapest { " shared by quantity" } else { "" };
            lines.push(format!("discount {}{by}", money(off)));
            sum -= off;
        } else if self.dice.chance(10) {
            lines.push("discount 7.5%".to_owned());
            sum -= sum / 10;
        }
        // A bill of other money: a euro is worth as much or more, so that what is remembered in cents is surely there.
        let is_foreign = self.dice.chance(12);
        if is_foreign {
            lines.push(format!("1 EUR = 1.{:04}", self.dice.between(0, 2999)));
        } else if let Some(at) = self.credits.iter().position(|(of, cents)| *of == supplier && *cents < sum) {
            let (_, cents) = self.credits.remove(at);
            lines.push(format!("credit {}", money(cents)));
            sum -= cents;
        }
        match self.dice.below(6) {
            0 => {
                lines.push("unpaid".to_owned());
                bill.open = sum;
            }
            1 => {
                let part = self.dice.between(0, sum / 2);
                if part > 0 {
                    lines.push(format!("paid {} on {}", money(part), self.today()));
                    bill.open = sum - part;
                }
            }
            2 => lines.push(format!("paid {}", self.in_days(20))),
            _ => {}
        }
        let receipt = receipt.map_or_else(String::new, |code| format!(" receipt \"{code}\""));
        let at = if place == "bench" { String::new() } else { format!(" at {place}") };
        self.write("bought", &format!("from {supplier}{receipt}{at}"), lines);
        self.bills.push(bill);
        true
    }

    /// A line of goods: its text, how much comes, and about what it costs.
    fn bought_line(&mut self, thing: &ThingSpec) -> (String, Nano, i128) {
        let price = thing.cents * self.dice.between(60, 150) / 100;
        if thing.name == "oak" && self.dice.chance(25) {
            // Boards that are no finite number of board feet.
            let boards = self.dice.between(1, 4);
            let length = self.dice.between(30, 96);
            let much = mul_div(boards * ONE * 13 * length, 1, 2 * 144);
            let word = if boards == 1 { "board" } else { "boards" };
            let text = format!("{boards} {word} oak, 4/4 x 6 1/2 x {length} in, at {} per bf", money(price));
            return (text, much, mul_div(much, price, ONE) - 1);
        }
        if let Some((many, one, holds)) = thing.pack.filter(|_| self.dice.chance(60)) {
            let packs = self.dice.between(1, 3);
            let cents = mul_div(packs * holds, price, ONE).max(1);
            let word = if packs == 1 { one } else { many };
            return (format!("{packs} {word} {} for {}", thing.name, money(cents)), packs * holds, cents);
        }
        let much = thing.grain * self.dice.between(3, 60);
        let cents = mul_div(much, price, ONE).max(1);
        match self.dice.below(4) {
            0 => (format!("{} at {}", counted_in_units(thing.name, much), money(price)), much, (cents - 1).max(0)),
            1 if much > 2 * thing.grain => {
                let counted = much - thing.grain;
                let text = format!(
                    "{}, counted {} {}, for {}",
                    counted_in_units(thing.name, much),
                    quantity(counted),
                    thing.unit,
                    money(cents)
                );
                (text, counted, cents)
            }
            _ => (format!("{} for {}", counted_in_units(thing.name, much), money(cents)), much, cents),
        }
    }

    /// Lines that are no stock: an expense, something for the house, a tool, a licence, and money straight to a batch.
    fn other_lines(&mut self, lines: &mut Vec<String>, same_dimension: &mut bool) -> i128 {
        let mut sum = 0;
        let mut line = |text: String, cents: i128| {
            lines.push(text);
            *same_dimension = false;
            sum += cents;
        };
        if self.dice.chance(15) {
            let cents = self.dice.between(1, 3000);
            let on = if self.dice.chance(30) { " on craft-fair" } else { "" };
            line(format!("{} for supplies{on}", money(cents)), cents);
        }
        if self.dice.chance(10) {
            let cents = self.dice.between(1, 3000);
            line(format!("{} for home \"light bulb\"", money(cents)), cents);
        }
        if self.dice.chance(4) {
            // With freight and tax, in any money, it stays below what may be expensed at once.
            let count = self.dice.between(1, 2);
            let cents = self.dice.between(2000, 11000) * count;
            line(format!("{count} saw for {}", money(cents)), cents);
            self.saws += u32::try_from(count).expect("one or two");
        }
        if self.dice.chance(12) {
            let count = self.dice.between(1, 2);
            let cents = self.dice.between(1, 2000);
            let word = if count == 1 { "licence" } else { "licences" };
            line(format!("{count} {word} cart-plan for {}", money(cents)), cents);
            self.permitted += count * CARTS_A_LICENCE;
        }
        if self.dice.chance(12)
            && let Some(batch) = self.batches.first().map(|batch| batch.name.clone())
        {
            let cents = self.dice.between(1, 900);
            line(format!("{} on batch {batch} \"hinge\"", money(cents)), cents);
        }
        sum
    }

    /// Buys the licences that so many carts still need: over its limit a pattern is a mistake.
    pub(crate) fn permit(&mut self, carts: i128) {
        self.permitted -= carts;
        while self.permitted < 0 {
            let cents = self.dice.between(1, 2000);
            self.write("bought", "from \"the cart drawer\"", vec![format!("1 licence cart-plan for {}", money(cents))]);
            self.permitted += CARTS_A_LICENCE;
        }
    }

    /// Sends some of a bill's goods back.
    pub(crate) fn sent_back(&mut self) -> bool {
        let candidates: Vec<Bill> =
            self.bills.iter().filter(|bill| bill.receipt.is_some() && !bill.goods.is_empty()).cloned().collect();
        let Some(bill) = self.dice.pick(&candidates).cloned() else { return false };
        let Some((thing, place, much, cents, code)) = self.dice.pick(&bill.goods).cloned() else { return false };
        let Some(code) = code else { return false };
        let here: Nano = self
            .shelf
            .heaps(thing, place)
            .iter()
            .filter(|heap| heap.code.as_ref() == Some(&code))
            .map(|heap| heap.quantity)
            .sum();
        let grain = super::catalogue::spec(thing).grain;
        let back = (here.min(much / 2) / grain) * grain;
        if back == 0 || cents < 10 || self.is_doubtful(thing) {
            return false;
        }
        self.turn_to(Rank::SentBack, false);
        let refund = (cents * back / much * self.dice.between(50, 110) / 100).max(1);
        let as_credit = self.dice.chance(40);
        let mut lines = Vec::new();
        let said = if as_credit { " as credit" } else { "" };
        let lot = if self.dice.chance(50) { format!(" lot {code}") } else { String::new() };
        self.name_today();
        lines.push(format!("{}{lot}, refunded {}{said}", counted_in_units(thing, back), money(refund)));
        let mut total = refund;
        // With half of the goods and a discount, no more than the bill was.
        let tax = self.dice.between(1, 40).min(cents / 10);
        if tax > 0 && self.dice.chance(30) {
            lines.push(format!("sales-tax {}", money(tax)));
            total += tax;
        }
        if as_credit {
            // The tax comes back too; only the refund is counted on.
            self.credits.push((bill.supplier.clone(), refund));
        }
        self.shelf.take(thing, place, back, Some(&code));
        if let Some(mine) = self.bills.iter_mut().find(|one| one.receipt == bill.receipt) {
            mine.open = (mine.open - total).max(0);
            mine.goods.retain(|(name, ..)| *name != thing);
        }
        let receipt = bill.receipt.as_ref().map_or_else(String::new, |code| format!(" receipt \"{code}\""));
        let at = if place == "bench" { String::new() } else { format!(" at {place}") };
        self.write("sent-back", &format!("to {}{receipt}{at}", bill.supplier), lines);
        true
    }

    /// A supplier takes something off.
    pub(crate) fn credited(&mut self) -> bool {
        let today = self.day;
        let candidates: Vec<Bill> =
            self.bills.iter().filter(|bill| bill.receipt.is_some() && !bill.credited && bill.date < today).cloned().collect();
        let Some(bill) = self.dice.pick(&candidates).cloned() else { return false };
        let Some((thing, .., cents, _)) = self.dice.pick(&bill.goods).cloned() else { return false };
        let off = self.dice.between(1, (cents / 8).max(1));
        if off * 3 > cents {
            return false;
        }
        self.turn_to(Rank::Credited, true);
        if let Some(mine) = self.bills.iter_mut().find(|one| one.receipt == bill.receipt) {
            mine.credited = true;
            mine.open = (mine.open - off).max(0);
        }
        let receipt = bill.receipt.as_ref().map_or_else(String::new, |code| format!(" receipt \"{code}\""));
        self.write(
            "credited",
            &format!("by {}{receipt}", bill.supplier),
            vec![format!("{} off {thing} \"cracked\"", money(off))],
        );
        true
    }

    /// Pays something: a bill, an expense, Sam, the royalty, or the tax.
    pub(crate) fn paid(&mut self) -> bool {
        self.turn_to(Rank::Rest, false);
        match self.dice.below(5) {
            0 => {
                let today = self.day;
                let Some(bill) = self.bills.iter_mut().find(|bill| bill.open > 1 && bill.receipt.is_some() && bill.date < today)
                else {
                    return false;
                };
                let part = bill.open / 2;
                bill.open -= part;
                let (to, receipt) = (bill.supplier.clone(), bill.receipt.clone().unwrap_or_default());
                self.write("paid", &format!("to {to}"), vec![format!("{} for receipt \"{receipt}\"", money(part))]);
            }
            1 if self.owed_sam > 1 => {
                let part = self.dice.between(1, self.owed_sam / 2);
                self.owed_sam -= part + 1;
                self.write("paid", "to sam", vec![format!("{} for sam", money(part))]);
            }
            2 if self.owed_royalty > 1 => {
                let part = self.dice.between(1, self.owed_royalty / 2);
                self.owed_royalty -= part + 1;
                self.write("paid", "to \"the cart drawer\"", vec![format!("{} for cart-plan", money(part))]);
            }
            3 if self.tax_held > 20 => {
                let part = self.tax_held / 2;
                self.tax_held -= part + 2;
                let allowed = if self.dice.chance(50) { ", allowed 0.02" } else { "" };
                self.write("paid", "to \"state office\"", vec![format!("{} for sales-tax to home-state{allowed}", money(part))]);
            }
            _ => {
                let sum = money(self.dice.between(1, 9000));
                let line = match self.dice.below(4) {
                    0 => format!("{sum} for booth-fee on craft-fair"),
                    1 => format!("{sum} for booth-fee on craft-fair, meant for {}", self.in_days(200)),
                    2 => format!("{sum} for supplies on sets"),
                    _ if self.dice.chance(30) => format!("{sum} for phone, meant for {}", self.in_days(200)),
                    _ => format!("{sum} for phone"),
                };
                self.write("paid", "to county-fair", vec![line]);
            }
        }
        true
    }
}
