//! The figures that are derived: what a unit cost, what stock is worth, what the goods sold in a tax year cost.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::lots::is_nothing;
use super::{Sum, Telling};
use crate::costing::{Flow, Movement, ShelfEntry, StockLot};
use crate::events::Output;
use crate::names::{CostingMethod, PlaceId, StockKept, ThingId, ThingKind};
use crate::reports::period::{money_text, quantity_text, unit_cost_text};
use crate::reports::{Period, WhyRule, WhyStep};
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact, checked_sub_exact};
use crate::year::{CostOfGoods, TaxYear};

/// Movements of a lot that are told one by one.
const MOST_MOVEMENTS: usize = 24;

type Told = (String, Vec<WhyStep>);

impl<'a> Telling<'a> {
    /// What a unit of a thing cost, of all good pieces finished in a year or ever.
    pub(super) fn cost(&mut self, thing: ThingId, year: Option<i32>) -> Option<Told> {
        let period = year.map_or_else(Period::default, Period::year);
        let trace = self.trace;
        let (mut units, mut whole, mut steps) = (Decimal::ZERO, Sum::default(), Vec::new());
        let costed = self.books.costed;
        let outputs = costed.batches.iter().flat_map(|account| account.outputs.iter().map(|output| (account.batch, output)));
        let mut made: Vec<_> =
            outputs.filter(|(_, output)| output.what == Output::Thing(thing) && period.covers(output.date)).collect();
        made.sort_by_key(|(_, output)| (output.date, output.event));
        let when = year.map_or_else(String::new, |year| format!(" in {year}"));
        for (batch, output) in made {
            let lot = trace.lots.iter().find(|lot| {
                lot.thing == thing
                    && lot.origin.batch == Some(batch)
                    && lot.origin.event == output.event
                    && lot.line == output.line
            })?;
            units = checked_add_exact(units, output.quantity).ok()?;
            whole = whole.plus(Sum::of(&output.vector)?)?;
            steps.push(self.lot(lot.origin.number, 1)?);
        }
        let name = &self.books.book.thing(thing).named.name;
        if units.is_zero() {
            return Some((format!("No `{name}` was finished{when}, so there is no cost."), Vec::new()));
        }
        let unit = self.books.book.thing(thing).unit.as_str();
        let one = if unit == "ea" { format!("one {name}") } else { format!("one {unit} of {name}") };
        let mut top = self.per_unit(format!("{one}, of all that were finished{when}"), whole, units)?;
        let mut all = self.step(self.amount_of(thing, units), whole, WhyRule::SumOf, Span::default());
        all.steps = steps;
        let per = if unit == "ea" { "each".to_owned() } else { format!("per {unit}") };
        let text = |money| crate::units::part_of(money, Decimal::ONE, units).map(unit_cost_text);
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

    /// What the stock of a thing is worth where the book was costed to.
    pub(super) fn stock(&mut self, thing: ThingId) -> Option<Told> {
        let costed = self.books.costed;
        let lots: Vec<&StockLot> = costed.stock.iter().filter(|lot| lot.thing == thing).collect();
        let (mut units, mut whole) = (Decimal::ZERO, Sum::default());
        for lot in &lots {
            units = checked_add_exact(units, lot.quantity).ok()?;
            whole = whole.plus(Sum::of(&lot.vector)?)?;
        }
        let day = costed.until.map_or_else(String::new, |day| format!(" on {day}"));
        let here = self.amount_of(thing, units);
        let answer = format!("{here} on hand{day}: {} paid and {} full.", unit_cost_text(whole.paid), unit_cost_text(whole.full));
        let mut top = self.step(here, whole, WhyRule::SumOf, Span::default());
        let last = costed.until.unwrap_or_default();
        let year = chrono::NaiveDate::from_ymd_opt(chrono::Datelike::year(&last), 1, 1)?;
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
    fn left_of(&mut self, number: u32, here: &[&StockLot]) -> Option<WhyStep> {
        let (mut units, mut sum, mut places) = (Decimal::ZERO, Sum::default(), Vec::new());
        for lot in here {
            units = checked_add_exact(units, lot.quantity).ok()?;
            sum = sum.plus(Sum::of(&lot.vector)?)?;
            let place = &self.books.book.place(lot.place).named.name;
            places.push(format!("{} at {place}", quantity_text(lot.quantity)));
        }
        let made = self.trace.lot(number)?;
        let (came, gone) = (Sum::of_lot(made), checked_sub_exact(units, made.quantity).ok()?);
        let rest = sum.minus(came)?;
        if gone.is_zero() && is_nothing(rest) {
            return self.lot(number, 2);
        }
        let says = format!("{}: {}", self.amount_of(made.thing, units), places.join(", "));
        let mut step = self.step(says, sum, WhyRule::SumOf, Span::default());
        step.steps = vec![self.lot(number, 2)?];
        let since = self.trace.entries.iter().filter(|entry| entry.lot == number).skip(1);
        let since: Vec<&ShelfEntry> = since.collect();
        if since.len() > MOST_MOVEMENTS {
            let says = format!("{} in {} movements since", quantity_text(gone), since.len());
            step.steps.push(self.step(says, rest, WhyRule::Said, Span::default()));
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
            let sum = Sum { paid: entry.paid, full: entry.full };
            step.steps.push(self.step(says, sum, WhyRule::Said, entry.line));
        }
        Some(step)
    }

    /// The cost of goods sold of a tax year, by where the goods went.
    pub(super) fn cost_of_goods(&mut self, year: &TaxYear) -> Option<Told> {
        let cost = &year.cost_of_goods;
        let went = &cost.went_to;
        let ways = [
            (Flow::Sold, "sold, less what came back", went.sold),
            (Flow::Scrapped, "scrapped", went.scrapped),
            (Flow::Missing, "missing, less what was found", went.missing),
            (Flow::AbnormalLoss, "losses beyond the usual", went.abnormal),
            (Flow::Donated, "donated, out of this year's cost", went.donated),
            (Flow::PriceDifference, "refunds and credits against cost", went.price_difference),
        ];
        let exact = Sum::both(cost.exact);
        let mut top = self.step(
            format!("cost of goods sold in {}, before it is rounded", year.year),
            exact,
            WhyRule::SumOf,
            Span::default(),
        );
        for (flow, says, sum) in ways {
            if !sum.is_zero() || !self.went(year.year, flow).is_empty() {
                top.steps.push(self.way(year, flow, says, sum, cost)?);
            }
        }
        let timing = [
            ("less what is gone and not paid for", cost.gone_not_paid.checked_neg()?),
            ("what was gone before and is paid for now", cost.gone_paid_now),
            ("less what was issued without a record", cost.unrecorded.checked_neg()?),
            ("the change of the stock method", cost.method_change),
        ];
        for (says, sum) in timing.into_iter().filter(|(_, sum)| !sum.is_zero()) {
            top.steps.push(self.step(says.to_owned(), Sum::both(sum), WhyRule::Said, Span::default()));
        }
        let top = with_full(top, Fixed6::ZERO)?;
        let answer = format!("The goods sold in {} cost {}.", year.year, money_text(self.books.book, cost.exact));
        Some((answer, vec![top]))
    }

    /// The movements of a year by a way into the cost of goods.
    fn went(&self, year: i32, flow: Flow) -> Vec<&'a Movement> {
        let book = self.books.book;
        let counts = |one: &&'a Movement| {
            let packing = one.thing.is_some_and(|thing| book.thing(thing).kind == ThingKind::Packing);
            one.flow == flow && chrono::Datelike::year(&one.date) == year && (!packing || flow == Flow::Sold)
        };
        self.books.costed.movements.iter().filter(counts).collect()
    }

    /// A way into the cost of goods, movement by movement: of each, the components that wait.
    fn way(&mut self, year: &TaxYear, flow: Flow, says: &str, sum: Fixed6, cost: &CostOfGoods) -> Option<WhyStep> {
        let mut step = self.step(says.to_owned(), Sum::both(sum), WhyRule::SumOf, Span::default());
        for movement in self.went(year.year, flow) {
            let waiting = match year.stock {
                StockKept::Inventory => movement.vector.paid()?,
                StockKept::Supplies => {
                    let materials = movement.vector.get(crate::costing::Component::Materials);
                    materials.checked_add(movement.vector.get(crate::costing::Component::Freight))?
                }
            };
            let what = match movement.thing {
                Some(thing) => self.amount_of(thing, movement.quantity),
                None => "cost on the bench".to_owned(),
            };
            let says = format!("{} {what}", movement.date);
            let all = Sum::of(&movement.vector)?;
            let pieces = if self.levels > 2 { self.issue(movement.issue, 3)? } else { Vec::new() };
            // What came back has its pieces as they came; here they are taken off.
            let pieces = if movement.quantity.is_sign_negative() { pieces.into_iter().map(negated).collect() } else { pieces };
            let rule = match (pieces.is_empty(), movement.issue.count) {
                (true, 0) => WhyRule::Said,
                (true, _) => WhyRule::Deeper,
                (false, _) => WhyRule::SumOf,
            };
            let mut one = self.step(says, all, rule, movement.line);
            one.steps = pieces;
            if waiting != all.paid {
                let says = format!("{}, of which the materials wait in the goods", one.says);
                let mut part = self.step(says, Sum::both(waiting), WhyRule::PartOf, movement.line);
                part.steps = vec![one];
                one = part;
            }
            step.steps.push(one);
        }
        if flow == Flow::Donated {
            for off in &cost.donations {
                let says = "less what was in the opening stock, for the owner's own return".to_owned();
                step.steps.push(self.step(says, Sum::both(off.amount.checked_neg()?), WhyRule::Said, off.span));
            }
        }
        with_full(step, Fixed6::ZERO)
    }
}

/// Why the cost of a lot changed of which nothing moved, in words.
pub(super) fn change_of_cost(entry: &ShelfEntry) -> String {
    let why =
        if entry.line.is_empty() { "its part of the pool, when stock went over to lots" } else { "the supplier's credit on it" };
    format!("{} {why}", entry.date)
}

/// A sum whose full cost is what the steps below come to, `more` added.
fn with_full(mut step: WhyStep, more: Fixed6) -> Option<WhyStep> {
    let mut full = more;
    for below in &step.steps {
        full = full.checked_add(below.full.parse().ok().and_then(Fixed6::from_decimal_exact)?)?;
    }
    step.full = full.to_fixed_text(2, 6);
    Some(step)
}

/// A step with its own signs turned; what is below it stays as it came.
fn negated(step: WhyStep) -> WhyStep {
    let turned = |figure: &str| match figure.strip_prefix('-') {
        Some(plain) => plain.to_owned(),
        None if figure.chars().all(|one| matches!(one, '0' | '.')) => figure.to_owned(),
        None => format!("-{figure}"),
    };
    WhyStep {
        says: format!("{}, which came back", step.says),
        paid: turned(&step.paid),
        full: turned(&step.full),
        rule: if step.rule == WhyRule::SumOf { WhyRule::PartOf } else { step.rule },
        ..step
    }
}
