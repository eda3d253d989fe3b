//! Goods made and goods on hand: what a unit cost, and what stock is worth.
//!
//! Stock under lots is what is left of each lot, as it came and with what moved since; under average, what each pool holds.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use super::{FigureName, Step, Sum, Telling};
use crate::costing::{Made, ShelfEntry, StockLot};
use crate::events::Output;
use crate::names::{CostingMethod, PlaceId, ThingId};
use crate::reports::period::{quantity_text, unit_cost_text};
use crate::reports::{Period, WhyRule};
use crate::units::{checked_add_exact, checked_sub_exact, part_of};

/// Movements of a lot that are told one by one.
const MOST_MOVEMENTS: usize = 24;

impl Telling<'_> {
    /// What a unit of a thing cost, of all good pieces finished in a year or ever.
    pub(super) fn cost(&mut self, thing: ThingId, year: Option<i32>) -> Option<(String, Vec<Step>)> {
        let period = year.map_or_else(Period::default, Period::year);
        let (mut units, mut whole, mut steps) = (Decimal::ZERO, Sum::default(), Vec::new());
        let costed = self.books.costed;
        let outputs = costed.batches.iter().flat_map(|account| &account.outputs);
        let mut made: Vec<_> =
            outputs.filter(|output| output.what == Output::Thing(thing) && period.covers(output.date)).collect();
        made.sort_by_key(|output| (output.date, output.event));
        let when = year.map_or_else(String::new, |year| format!(" in {year}"));
        for output in made {
            let lot = self.index.lot_of_line(output.event, output.line, thing)?;
            units = checked_add_exact(units, output.quantity).ok()?;
            whole = whole.plus(Sum::of(&output.vector)?)?;
            steps.push(self.lot(lot, 1)?);
        }
        let name = &self.books.book.thing(thing).named.name;
        if units.is_zero() {
            let figure = FigureName::Stock { thing, on: None }.text(self.books.book, &[]);
            let bought = self.trace.lots.iter().any(|lot| lot.thing == thing && matches!(lot.made, Made::Bought { .. }));
            let hint = if bought { format!("; `{figure}` tells what it was bought for") } else { String::new() };
            return Some((format!("No `{name}` was finished{when}, so there is no cost{hint}."), Vec::new()));
        }
        let unit = self.books.book.thing(thing).unit.as_str();
        let one = if unit == "ea" { format!("one {name}") } else { format!("one {unit} of {name}") };
        let mut top = per_unit(format!("{one}, of all that were finished{when}"), whole, units)?;
        let mut all = Step::nowhere(self.amount_of(thing, units), whole, WhyRule::SumOf);
        all.steps = steps;
        let per = if unit == "ea" { "each".to_owned() } else { format!("per {unit}") };
        let text = |money| part_of(money, Decimal::ONE, units).map(unit_cost_text);
        let answer = format!(
            "What was finished{when} cost {} paid and {} full {per}: {} for {} paid and {} full.",
            text(whole.paid)?,
            text(whole.full)?,
            self.amount_of(thing, units),
            unit_cost_text(whole.paid),
            unit_cost_text(whole.full),
        );
        top.steps = vec![all];
        Some((answer, vec![top]))
    }

    /// What the stock of a thing is worth at the end of a day, up to which the book was costed.
    pub(super) fn stock(&mut self, thing: ThingId, on: Option<NaiveDate>) -> Option<(String, Vec<Step>)> {
        let costed = self.books.costed;
        let lots: Vec<&StockLot> = costed.stock.iter().filter(|lot| lot.thing == thing).collect();
        let (mut units, mut whole) = (Decimal::ZERO, Sum::default());
        for lot in &lots {
            units = checked_add_exact(units, lot.quantity).ok()?;
            whole = whole.plus(Sum::of(&lot.vector)?)?;
        }
        let day = on.or(costed.until).map_or_else(String::new, |day| format!(" on {day}"));
        let here = self.amount_of(thing, units);
        let answer = format!("{here} on hand{day}: {} paid and {} full.", unit_cost_text(whole.paid), unit_cost_text(whole.full));
        let mut top = Step::nowhere(here, whole, WhyRule::SumOf);
        let last = costed.until.unwrap_or_default();
        let year = NaiveDate::from_ymd_opt(last.year(), 1, 1)?;
        if *self.books.book.shop.costing.on(year) == CostingMethod::Average {
            let places: BTreeSet<PlaceId> = lots.iter().map(|lot| lot.place).collect();
            for place in places {
                top.steps.push(self.pool(thing, place, self.trace.entries.len(), 1)?);
            }
        } else {
            let mut by_lot: BTreeMap<u32, Vec<&StockLot>> = BTreeMap::new();
            for lot in lots {
                by_lot.entry(lot.origin.number).or_default().push(lot);
            }
            for (number, here) in by_lot {
                top.steps.push(self.left_of(number, &here)?);
            }
        }
        Some((answer, vec![top]))
    }

    /// What is left of a lot: as it came, and what moved since.
    fn left_of(&mut self, number: u32, here: &[&StockLot]) -> Option<Step> {
        let (mut units, mut sum, mut places) = (Decimal::ZERO, Sum::default(), Vec::new());
        for lot in here {
            units = checked_add_exact(units, lot.quantity).ok()?;
            sum = sum.plus(Sum::of(&lot.vector)?)?;
            let place = &self.books.book.place(lot.place).named.name;
            places.push((quantity_text(lot.quantity), place));
        }
        let made = self.trace.lot(number)?;
        let (came, gone) = (Sum::of_lot(made), checked_sub_exact(units, made.quantity).ok()?);
        let rest = sum.minus(came)?;
        if gone.is_zero() && rest.is_nothing() {
            return self.lot(number, 2);
        }
        let amount = self.amount_of(made.thing, units);
        let says = match places.as_slice() {
            [(_, place)] => format!("{amount} at {place}"),
            places => {
                let places: Vec<String> = places.iter().map(|(quantity, place)| format!("{quantity} at {place}")).collect();
                format!("{amount}: {}", places.join(", "))
            }
        };
        let mut step = Step::nowhere(says, sum, WhyRule::SumOf);
        step.steps = vec![self.lot(number, 2)?];
        let entries = self.index.of_lot(self.trace, number);
        let since = entries.get(1..).unwrap_or_default();
        if since.len() > MOST_MOVEMENTS {
            let says = format!("{} in {} movements since", quantity_text(gone), since.len());
            step.steps.push(Step::nowhere(says, rest, WhyRule::Said));
            return Some(step);
        }
        for entry in since {
            let place = &self.books.book.place(entry.place).named.name;
            let quantity = quantity_text(entry.quantity.abs());
            let says = match (entry.quantity.is_zero(), entry.quantity.is_sign_negative()) {
                (true, _) => change_of_cost(entry),
                (false, true) => format!("{} less {quantity} that left {place}", entry.date),
                (false, false) => format!("{} {quantity} that came to {place}", entry.date),
            };
            step.steps.push(Step::new(says, Sum::of_entry(entry), WhyRule::Said, entry.line));
        }
        Some(step)
    }
}

/// Why the cost of a lot changed of which nothing moved, in words.
pub(super) fn change_of_cost(entry: &ShelfEntry) -> String {
    let why =
        if entry.line.is_empty() { "its part of the pool, when stock went over to lots" } else { "the supplier's credit on it" };
    format!("{} {why}", entry.date)
}

/// A cost per unit: the whole divided by the units.
fn per_unit(says: String, whole: Sum, units: Decimal) -> Option<Step> {
    let unit = |money| part_of(money, Decimal::ONE, units);
    Some(Step::nowhere(says, Sum { paid: unit(whole.paid)?, full: unit(whole.full)? }, WhyRule::PerUnit))
}
