//! `sold`, `received`, `returned`, `swapped`: orders in every channel, money for them, and what comes back.

use super::bills::{Line, Order};
use super::catalogue::{Kind, counted, spec};
use super::desk::{Desk, Rank};
use super::quantity_text::{Nano, ONE, money};
use super::shelf::Heap;

const CHANNELS: [&str; 7] = ["web-page", "web-page", "market-site", "craft-fair", "gift-shop", "corner-store", "school-club"];

/// Of a sale's goods in cents, what surely is owed after the channel's part.
fn surely_owed(channel: &str, goods: i128) -> i128 {
    match channel {
        "gift-shop" => goods * 50 / 100,
        "market-site" => goods * 60 / 100 - 300,
        "school-club" => goods * 80 / 100,
        "corner-store" => goods * 90 / 100,
        _ => 0,
    }
    .max(0)
}

impl Desk {
    /// Sells what there is.
    pub(crate) fn sold(&mut self) -> bool {
        let deposit = if self.dice.chance(60) { self.deposits.first().cloned() } else { None };
        let channel = match &deposit {
            Some((_, channel, _)) => *channel,
            None => self.dice.pick(&CHANNELS).copied().unwrap_or("web-page"),
        };
        let place = if channel == "gift-shop" { "gift-shop" } else { "bench" };
        let mut stocked: Vec<&'static str> = self.shelf.things_at(place);
        stocked.retain(|thing| {
            spec(thing).kind == Kind::Product || (self.settings.first_month.is_multiple_of(2) && *thing == "pin")
        });
        if stocked.is_empty() {
            return false;
        }
        self.dice.shuffle(&mut stocked);
        let again = if deposit.is_none() && self.dice.chance(12) {
            let today = self.day;
            self.orders.iter().position(|order| {
                order.channel == channel && order.name.is_some() && order.date < today && order.came_back != Some(today)
            })
        } else {
            None
        };
        let tied = self.turn_to(Rank::Sold, true);
        let mut text = Vec::new();
        let mut lines = Vec::new();
        let mut goods: i128 = 0;
        // A sale in other money, at a euro that is worth as much or more: what is remembered in cents is surely there.
        let is_foreign = channel == "web-page" && deposit.is_none() && again.is_none() && self.dice.chance(25);
        let all_at = channel == "craft-fair" || is_foreign;
        for thing in stocked.into_iter().take(usize::try_from(self.dice.between(1, 3)).unwrap_or(1)) {
            let mut pieces = (self.shelf.on_hand(thing, place) / ONE).min(self.dice.between(1, 4));
            if self.settings.short_is_a_warning && self.dice.chance(15) {
                pieces = self.shelf.on_hand(thing, place) / ONE + self.dice.between(1, 2);
                self.doubt(thing);
            }
            if pieces > 0 {
                let (said, cents, heaps) = self.sold_line(thing, place, pieces, channel, all_at, tied);
                text.push(said);
                goods += cents * pieces;
                lines.push(Line { thing, cents, pieces: heaps });
            }
        }
        if text.is_empty() {
            return false;
        }
        if is_foreign {
            text.push(format!("1 EUR = 1.{:04}", self.dice.between(0, 2999)));
        }
        let mut order = Order {
            name: None,
            channel,
            date: self.day,
            came_back: None,
            lines,
            open: 0,
            tax: 0,
            refundable: goods / 2,
            fees: 20,
            shipping: 0,
        };
        self.charges(channel, goods, &mut text, &mut order);
        if let Some((name, _, cents)) = &deposit
            && goods > cents * 3
        {
            order.name = Some(name.clone());
            self.deposits.retain(|(other, ..)| other != name);
        } else if again.is_none() && (self.dice.chance(75) || channel == "gift-shop") {
            order.name = Some(self.code("W"));
        }
        if channel != "craft-fair" && self.dice.chance(15) {
            text.push(format!("paid {}", self.in_days(12)));
        } else {
            order.open = surely_owed(channel, goods * 4 / 5);
        }
        let name = match again {
            Some(at) => {
                let earlier = &mut self.orders[at];
                earlier.lines.extend(order.lines.clone());
                earlier.open += order.open;
                earlier.tax += order.tax;
                earlier.refundable += order.refundable;
                earlier.fees = earlier.fees.min(order.fees);
                earlier.shipping += order.shipping;
                earlier.date = self.day;
                earlier.name.clone()
            }
            None => {
                self.orders.push(order.clone());
                order.name
            }
        };
        let name = name.map_or_else(String::new, |name| format!(" order \"{name}\""));
        self.write("sold", &format!("via {channel}{name}"), text);
        true
    }

    fn sold_line(
        &mut self,
        thing: &'static str,
        place: &'static str,
        pieces: i128,
        channel: &str,
        all_at: bool,
        tied: bool,
    ) -> (String, i128, Vec<Heap>) {
        let list = self.prices.get(thing).copied().unwrap_or(spec(thing).cents);
        let has_price = self.prices.contains_key(thing);
        let (lot, heaps) = self.take(thing, place, pieces * ONE, tied);
        let count = counted(thing, pieces * ONE);
        let price = list * self.dice.between(60, 130) / 100;
        if all_at || !has_price || self.dice.chance(35) {
            return (format!("{count} at {}{lot}", money(price)), price, heaps);
        }
        if self.dice.chance(20) {
            return (format!("{count} for {}{lot}", money(price * pieces + 1)), price, heaps);
        }
        if lot.is_empty() && self.dice.chance(10) {
            let back = self.dice.between(1, 3);
            return (format!("{}, {back} back", counted(thing, (pieces + back) * ONE)), self.channel_price(channel, list), heaps);
        }
        (format!("{count}{lot}"), self.channel_price(channel, list), heaps)
    }

    fn channel_price(&self, channel: &str, list: i128) -> i128 {
        if channel == "corner-store" { list / 2 } else { list }
    }

    /// Everything of a sale but its goods.
    fn charges(&mut self, channel: &str, goods: i128, text: &mut Vec<String>, order: &mut Order) {
        let mut due = goods;
        if self.dice.chance(20) {
            let off = self.dice.between(1, (goods / 6).max(1));
            text.push(format!("discount {}", money(off)));
            due -= off;
        } else if self.dice.chance(8) && channel != "craft-fair" {
            text.push("discount 10%".to_owned());
        }
        if self.dice.chance(12) {
            let work = self.dice.between(100, 9000);
            text.push(format!("{} for engraving", money(work)));
            due += work;
        }
        if channel == "craft-fair" {
            if self.dice.chance(60) {
                let card = self.dice.between(0, due);
                let over = self.dice.between(-40, 40);
                let cash = (due - card + over).max(0);
                text.push(format!("card {}", money(card)));
                text.push(format!("cash {}", money(cash)));
                match cash + card - due {
                    0 => {}
                    more if more > 0 => text.push(format!("over {}", money(more))),
                    less => text.push(format!("short {}", money(-less))),
                }
            }
        } else {
            if self.dice.chance(40) {
                let cents = self.dice.between(1, 1500);
                text.push(format!("shipping {}", money(cents)));
                order.shipping = cents;
            }
            if matches!(channel, "web-page" | "market-site" | "school-club") && self.dice.chance(50) {
                let tax = goods * 6 / 100;
                text.push(format!("sales-tax {}", money(tax)));
                if channel != "market-site" {
                    order.tax = tax / 2;
                    self.tax_held += tax;
                }
            }
        }
        if self.dice.chance(40) {
            text.push(format!("postage {}", money(self.dice.between(1, 1400))));
        }
        if self.dice.chance(45) {
            self.pack(text);
        }
        if self.dice.chance(8) {
            let fee = self.dice.between(1, (goods / 10).max(1));
            order.fees = fee;
            text.push(format!("fee {}", money(fee)));
        }
        if self.dice.chance(8) {
            text.push(format!("extra fee {}", money(self.dice.between(1, (goods / 20).max(1)))));
        }
    }

    /// Packs with what cartons there are, since a sale can't wait for more.
    pub(crate) fn pack(&mut self, text: &mut Vec<String>) {
        let cartons = (self.shelf.on_hand("carton", "bench") / ONE).min(self.dice.between(1, 2));
        if cartons > 0 && !self.settings.short_is_a_warning {
            self.doubt("carton");
            self.shelf.take("carton", "bench", cartons * ONE, None);
            text.push(format!("packed with {cartons} carton"));
        }
    }

    /// Money for an order that is owed, or a deposit, or an income.
    pub(crate) fn received(&mut self) -> bool {
        let what = self.dice.below(4);
        // Which of two payments for an order of one day comes first is left open.
        self.turn_to(Rank::Rest, what == 0);
        let today = self.day;
        match what {
            0 => {
                let cents = self.dice.between(1, 5000);
                let mut lines = vec![format!("{} for referrals", money(cents))];
                if self.dice.chance(30) {
                    lines.push("1 EUR = 0.9173".to_owned());
                }
                self.write("received", "from \"a friend\"", lines);
            }
            1 if self.deposits.len() < 3 => {
                let name = self.code("D");
                let cents = self.dice.between(100, 900);
                let (via, channel) = match self.dice.below(3) {
                    0 => (" via web-page", "web-page"),
                    1 => (" via market-site", "market-site"),
                    _ => ("", "web-page"),
                };
                self.write(
                    "received",
                    &format!("from \"E. in Troy\"{via}"),
                    vec![format!("{} for order \"{name}\"", money(cents))],
                );
                self.deposits.push((name, channel, cents));
            }
            _ => {
                let owing: Vec<usize> = (0..self.orders.len())
                    .filter(|at| {
                        let order = &self.orders[*at];
                        order.open > 2 && order.name.is_some() && order.date < today
                    })
                    .collect();
                let Some(at) = self.dice.pick(&owing).copied() else { return false };
                let name = self.orders[at].name.clone().unwrap_or_default();
                let channel = self.orders[at].channel;
                let second = owing.iter().copied().find(|other| *other != at && self.orders[*other].channel == channel);
                if let Some(second) = second.filter(|_| self.dice.chance(40)) {
                    let sum = (self.orders[at].open + self.orders[second].open) / 2;
                    let other = self.orders[second].name.clone().unwrap_or_default();
                    self.orders[at].open = 0;
                    self.orders[second].open = 0;
                    self.write(
                        "received",
                        &format!("from {channel}"),
                        vec![format!("{} for orders \"{name}\", \"{other}\"", money(sum))],
                    );
                } else {
                    let sum = self.orders[at].open / 2;
                    self.orders[at].open -= sum + 1;
                    self.write("received", &format!("from {channel}"), vec![format!("{} for order \"{name}\"", money(sum))]);
                }
            }
        }
        true
    }

    /// Takes something back from a sale that has no order, or that is not named: the newest of the channel first.
    fn returned_by_channel(&mut self) -> bool {
        let today = self.day;
        let is_there = |order: &Order, channel: &str, thing: &str| {
            order.channel == channel && order.date < today && order.lines.iter().any(|line| line.thing == thing)
        };
        let mut can: Vec<(&'static str, &'static str)> = Vec::new();
        for order in self.orders.iter().filter(|order| order.date < today) {
            can.extend(order.lines.iter().filter(|line| !line.pieces.is_empty()).map(|line| (order.channel, line.thing)));
        }
        let Some((channel, thing)) = self.dice.pick(&can).copied() else { return false };
        // A sale of today through the channel comes after what is returned; an order that goes on today is left aside.
        if self.past(Rank::Returned) {
            return false;
        }
        self.turn_to(Rank::Returned, false);
        let lines = self.orders.iter().filter(|order| is_there(order, channel, thing)).flat_map(|order| &order.lines);
        let lines: Vec<&Line> = lines.filter(|line| line.thing == thing).collect();
        let sold: Nano = lines.iter().flat_map(|line| &line.pieces).map(|heap| heap.quantity).sum();
        let each = lines.iter().map(|line| line.cents).min().unwrap_or(0);
        let pieces = self.dice.between(1, (sold / ONE).min(3));
        let there = self.orders.iter().filter(|order| order.channel == channel).map(|order| order.refundable).min().unwrap_or(0);
        let refund = self.dice.between(0, each * pieces / 2).min(there).max(0);
        let fate = match self.dice.below(4) {
            0 => "scrapped",
            1 => "left with buyer",
            _ => "back to stock",
        };
        if fate == "back to stock" {
            self.doubt(thing);
            self.shelf.put(thing, "bench", self.day, pieces * ONE, None);
        }
        for order in self.orders.iter_mut().filter(|order| order.channel == channel) {
            if order.lines.iter().any(|line| line.thing == thing) {
                // Which of them it was is the book's affair: none is counted on any more.
                order.lines.iter_mut().filter(|line| line.thing == thing).for_each(|line| line.pieces.clear());
                order.open = (order.open - refund).max(0);
                order.refundable -= refund;
                order.came_back = Some(today);
            }
        }
        self.write(
            "returned",
            &format!("via {channel}"),
            vec![format!("{}, refunded {}, {fate}", counted(thing, pieces * ONE), money(refund))],
        );
        true
    }

    /// Takes something back.
    pub(crate) fn returned(&mut self) -> bool {
        if self.dice.chance(25) {
            return self.returned_by_channel();
        }
        let today = self.day;
        let can: Vec<usize> = (0..self.orders.len())
            .filter(|at| self.orders[*at].lines.iter().any(|line| !line.pieces.is_empty()) && self.orders[*at].name.is_some())
            .collect();
        let Some(at) = self.dice.pick(&can).copied() else { return false };
        let same_day = self.orders[at].date == today && self.past(Rank::Sold);
        if self.orders[at].date == today && !same_day {
            return false;
        }
        let rank = if same_day { Rank::ReturnedOfOrder } else { Rank::Returned };
        self.turn_to(rank, false);
        let place = if self.dice.chance(85) { "bench" } else { "barn" };
        let mut text = Vec::new();
        let mut given_back: i128 = 0;
        let mut things: Vec<&'static str> =
            self.orders[at].lines.iter().filter(|line| !line.pieces.is_empty()).map(|line| line.thing).collect();
        things.dedup();
        things.truncate(2);
        let mut seen = Vec::new();
        for thing in things {
            if seen.contains(&thing) {
                continue;
            }
            seen.push(thing);
            let Some(line) = self.orders[at].lines.iter().rposition(|line| line.thing == thing && !line.pieces.is_empty()) else {
                continue;
            };
            let sold: Nano = self.orders[at].lines[line].pieces.iter().map(|heap| heap.quantity).sum();
            let pieces = self.dice.between(1, sold / ONE);
            let each = self.orders[at].lines[line].cents;
            let refund = self.dice.between(0, each * pieces / 2).min(self.orders[at].refundable - given_back).max(0);
            let fate = match self.dice.below(4) {
                0 => "scrapped",
                1 => "left with buyer",
                _ => "back to stock",
            };
            let back = self.pieces_back(at, line, pieces * ONE);
            if fate == "back to stock" {
                self.doubt(thing);
                for heap in back {
                    self.shelf.lay(thing, place, heap);
                }
            }
            text.push(format!("{}, refunded {}, {fate}", counted(thing, pieces * ONE), money(refund)));
            given_back += refund;
        }
        if text.is_empty() {
            return false;
        }
        if self.dice.chance(20) {
            let cents = self.dice.between(1, 60).min(self.orders[at].refundable - given_back);
            if cents > 0 {
                text.push(format!("refunded {} \"a scratch\"", money(cents)));
                given_back += cents;
            }
        }
        self.orders[at].refundable -= given_back;
        if self.orders[at].tax > 2 && self.dice.chance(50) {
            let tax = self.orders[at].tax / 2;
            self.orders[at].tax -= tax + 1;
            self.tax_held -= tax;
            text.push(format!("sales-tax {}", money(tax)));
            given_back += tax;
        }
        let cents = (self.orders[at].shipping / 2).min(self.orders[at].refundable / 2);
        if cents > 0 && self.dice.chance(30) {
            self.orders[at].shipping -= cents;
            self.orders[at].refundable -= cents;
            text.push(format!("shipping {}", money(cents)));
            given_back += cents;
        }
        if self.orders[at].channel == "web-page" && self.orders[at].fees >= 5 && self.dice.chance(40) {
            self.orders[at].fees -= 5;
            text.push("fee back 0.05".to_owned());
        }
        let order = &mut self.orders[at];
        order.open = (order.open - given_back).max(0);
        order.came_back = Some(self.day);
        let name = order.name.clone().unwrap_or_default();
        let at_place = if place == "bench" { String::new() } else { format!(" at {place}") };
        self.write("returned", &format!("order \"{name}\"{at_place}"), text);
        true
    }

    /// Takes pieces off an order's line, the last lot first.
    fn pieces_back(&mut self, order: usize, line: usize, quantity: Nano) -> Vec<Heap> {
        let pieces = &mut self.orders[order].lines[line].pieces;
        let mut left = quantity;
        let mut back = Vec::new();
        while left > 0 {
            let Some(last) = pieces.last_mut() else { break };
            let part = last.quantity.min(left);
            back.push(Heap { quantity: part, ..last.clone() });
            last.quantity -= part;
            left -= part;
            if last.quantity == 0 {
                pieces.pop();
            }
        }
        back
    }

    /// Gives products for material.
    pub(crate) fn swapped(&mut self) -> bool {
        let stocked: Vec<&'static str> =
            self.shelf.things_at("bench").into_iter().filter(|thing| spec(thing).kind == Kind::Product).collect();
        let Some(thing) = self.dice.pick(&stocked).copied() else { return false };
        // It is a purchase, early in the day, and a sale, late in it.
        self.turn_to(Rank::Sold, false);
        if self.shelf.on_hand(thing, "bench") < ONE {
            return false;
        }
        self.next_day_alone();
        self.doubt(thing);
        self.shelf.take(thing, "bench", ONE, None);
        let worth = money(self.dice.between(100, 5000));
        self.doubt("oak");
        let much = self.dice.between(5, 60) * ONE / 20;
        self.shelf.put("oak", "bench", self.day, much, None);
        let lines = vec![format!("gave 1 {thing} for {worth}"), format!("got {}", counted("oak", much))];
        self.write("swapped", "with \"a turner\"", lines);
        true
    }
}
