//! What a unit took, batch by batch: minutes at a step, and what went into it; and how a batch's cost differs from its recipe.

use rust_decimal::Decimal;

use super::by_months::{entries_by_months, month_of};
use super::{Shown, Step, Sum, Telling};
use crate::costing::{
    BatchAccount, BatchVariance, OutputItem, StandardPrices, VarianceOf, VariancePart, VariancePartOf, variances_of,
};
use crate::events::Output;
use crate::names::ThingId;
use crate::reports::period::{minutes_text, said_money, unit_cost_text};
use crate::reports::report_cost::{UsedIn, used_in};
use crate::reports::variance_words::variance_says;
use crate::reports::{CostPart, CostRow, CostRowFigure, Period, VarianceFigure, WhyRule};
use crate::units::{Fixed6, checked_add_exact, div_to_nine, part_of};

impl Telling<'_> {
    /// A row of what a unit took.
    pub(super) fn cost_row(&mut self, figure: CostRowFigure) -> Option<(String, Vec<Step>)> {
        let CostRowFigure { thing, year, row } = figure;
        let (of, book) = (self.of, self.of.books.book);
        let period = year.map_or_else(Period::default, Period::year);
        let mut made: Vec<(&BatchAccount, Vec<&OutputItem>)> = Vec::new();
        let mut units = Decimal::ZERO;
        for account in &of.books.costed.batches {
            let is_here = |one: &&OutputItem| one.what == Output::Thing(thing) && period.covers(one.date);
            let outputs: Vec<_> = account.outputs.iter().filter(is_here).collect();
            for output in &outputs {
                units = checked_add_exact(units, output.quantity).ok()?;
            }
            if !outputs.is_empty() {
                made.push((account, outputs));
            }
        }
        let name = &book.thing(thing).named.name;
        if units.is_zero() {
            return Some((format!("No `{name}` was finished then, so nothing went into it."), Vec::new()));
        }
        let one = match book.thing(thing).unit.as_str() {
            "ea" => format!("one {name}"),
            unit => format!("one {unit} of {name}"),
        };
        let mut steps = Vec::new();
        match row {
            CostRow::Minutes(at) | CostRow::BoughtInMinutes(at) => {
                let own = matches!(row, CostRow::Minutes(_));
                for (account, outputs) in &made {
                    for output in outputs {
                        let minutes = output.vector.minutes().iter().filter(|one| one.step == at);
                        let minutes = minutes.map(|one| if own { one.own } else { one.bought_in });
                        let minutes = Fixed6::checked_sum(minutes)?;
                        let batch = &book.batch(account.batch).name;
                        let says = format!("{} {} of batch {batch}", output.date, self.amount_of(thing, output.quantity));
                        let step = Step::new(says, Sum::own_minutes(minutes), WhyRule::Said, output.line);
                        steps.push((month_of(output.date), step.showing(Shown::Part(CostPart::Minutes))));
                    }
                }
            }
            CostRow::UsedQuantity(used) | CostRow::UsedCost(used) => {
                let unit = book.thing(used).unit.as_str();
                for item in used_in(thing, &made)?.into_iter().filter(|item| item.thing == used) {
                    let says = self.says_of_use(&item);
                    let step = match row {
                        CostRow::UsedQuantity(_) => {
                            Step::new(says, Sum::default(), WhyRule::Said, item.line).counted(item.quantity, unit)
                        }
                        _ => Step::new(says, Sum::both(item.cost), WhyRule::Said, item.line),
                    };
                    steps.push((month_of(item.date), step));
                }
            }
        }
        let steps = entries_by_months(steps)?;
        let all = Step::sum_of(format!("in {}", self.amount_of(thing, units)), steps)?;
        let of_all = self.amount_of(thing, units);
        let (answer, mut top) = match row {
            CostRow::Minutes(at) | CostRow::BoughtInMinutes(at) => {
                let whole = all.sum.parts.own_minutes();
                let each = part_of(whole, Decimal::ONE, units)?;
                let whose = if matches!(row, CostRow::Minutes(_)) { "of yours" } else { "bought in" };
                let at = at.map_or("before the book began", |at| book.step(at).named.title.as_str());
                let (each_said, whole_said) = (minutes_text(each), minutes_text(whole));
                let answer = format!("{at}, minutes {whose} in {one}: {each_said}, of {whole_said} in {of_all}.");
                (answer, Step::nowhere(one, Sum::own_minutes(each), WhyRule::PerUnit).showing(Shown::Part(CostPart::Minutes)))
            }
            CostRow::UsedQuantity(used) => {
                let (whole, unit) = all.count.unwrap_or((Decimal::ZERO, book.thing(used).unit.as_str()));
                let each = Fixed6::round_from_decimal(div_to_nine(whole, units).ok()?)?.to_decimal()?;
                let answer = format!("In {one} are {}: {} in {of_all}.", self.amount_of(used, each), self.amount_of(used, whole));
                (answer, Step::nowhere(one, Sum::default(), WhyRule::PerUnit).counted(each, unit))
            }
            CostRow::UsedCost(used) => {
                let whole = all.sum.paid;
                let each = part_of(whole, Decimal::ONE, units)?;
                let used = &book.thing(used).named.name;
                let answer =
                    format!("{used} for {} is in {one}, paid: {} in {of_all}.", unit_cost_text(each), unit_cost_text(whole));
                (answer, Step::nowhere(one, Sum::both(each), WhyRule::PerUnit))
            }
        };
        let all = match row {
            CostRow::Minutes(_) | CostRow::BoughtInMinutes(_) => all.showing(Shown::Part(CostPart::Minutes)),
            CostRow::UsedQuantity(used) if all.count.is_none() => all.counted(Decimal::ZERO, book.thing(used).unit.as_str()),
            CostRow::UsedQuantity(_) | CostRow::UsedCost(_) => all,
        };
        top.steps = vec![all];
        Some((answer, vec![top]))
    }

    fn says_of_use(&self, item: &UsedIn) -> String {
        let batch = &self.of.books.book.batch(item.batch).name;
        let whole = self.amount_of(item.thing, item.used);
        match item.quantity == item.used {
            true => format!("{} {whole} used by batch {batch}", item.date),
            false => format!("{} of {whole} used by batch {batch}, the share of these pieces", item.date),
        }
    }

    /// A variance of a batch: what it cost, less what the recipe allows, in one regard.
    pub(super) fn variance(&mut self, figure: VarianceFigure) -> Option<(String, Vec<Step>)> {
        let (of, book) = (self.of, self.of.books.book);
        let account = of.books.costed.batches.get(figure.batch.index())?;
        let name = &book.batch(figure.batch).name;
        let prices = of.prices.get_or_init(|| StandardPrices::of(of.books.costed)).as_ref()?;
        let found = variances_of(book, account, prices)?;
        let Some(row) = found.iter().flat_map(|one| &one.variances).find(|row| figure.of == row.of.into()) else {
            return Some((format!("Batch {name} has no such difference from its recipe."), Vec::new()));
        };
        let mut steps = Vec::new();
        for part in &row.parts {
            steps.push(self.part_of_variance(account, row, part)?);
        }
        let says = variance_says(book, row);
        let top = Step::sum_of(format!("batch {name}: {}", row.name), steps)?;
        Some((format!("{says}: {} in batch {name}.", said_money(book, top.sum.paid)), vec![top]))
    }

    fn part_of_variance(&self, account: &BatchAccount, row: &BatchVariance, part: &VariancePart) -> Option<Step> {
        let book = self.of.books.book;
        let of_thing = |thing: ThingId| part.of == VariancePartOf::Thing(thing);
        let mut steps: Vec<Step> = Vec::new();
        let mut said = |says: String, money: Fixed6, line| steps.push(Step::new(says, Sum::both(money), WhyRule::Said, line));
        match row.of {
            VarianceOf::Price { .. } | VarianceOf::PartPrice => {
                for item in account.used.iter().filter(|item| of_thing(item.thing)) {
                    said(
                        format!("{} used {}", item.date, self.amount_of(item.thing, item.quantity)),
                        item.vector.full()?,
                        item.line,
                    );
                }
            }
            VarianceOf::Rate | VarianceOf::Overhead => {
                let is_rate = row.of == VarianceOf::Rate;
                for time in &account.time {
                    let at = &book.step(time.step).named.name;
                    let what = if is_rate { "" } else { "overhead on " };
                    let says = format!("{} {what}{} minutes of {at}", time.date, minutes_text(time.minutes));
                    said(says, if is_rate { time.cost } else { time.overhead }, time.line);
                }
            }
            VarianceOf::Quantity { .. } | VarianceOf::Hours { .. } | VarianceOf::Straight | VarianceOf::TakenOut(_) => {}
        }
        let told = Fixed6::checked_sum(steps.iter().map(|step| step.sum.paid))?;
        let rest = part.actual.checked_sub(told)?;
        let (actual, allowed) = match row.of {
            VarianceOf::Price { .. } => ("what was used", "less as much at the price last paid before it"),
            VarianceOf::PartPrice => ("what was used", "less as many at the cost of the batch that made them last"),
            VarianceOf::Quantity { .. } => ("what was used, at that price", "less what the recipe allows, at that price"),
            VarianceOf::Rate => ("what its hours cost", "less the same minutes at your rate"),
            VarianceOf::Hours { .. } => ("its minutes at your rate", "less the minutes of the recipe at your rate"),
            VarianceOf::Overhead => ("overhead on its minutes", "less that on the minutes of the recipe"),
            VarianceOf::Straight => ("straight to the batch", "less nothing"),
            VarianceOf::TakenOut(_) => ("taken out of the good pieces", "less nothing"),
        };
        if !rest.is_zero() {
            steps.push(Step::nowhere(actual, Sum::both(rest), WhyRule::Said));
        }
        if !part.allowed.is_zero() {
            steps.push(Step::nowhere(allowed, Sum::both(part.allowed.checked_neg()?), WhyRule::Said));
        }
        let says = match part.of {
            VariancePartOf::Thing(thing) => book.thing(thing).named.name.clone(),
            VariancePartOf::Step(step) => book.step(step).named.name.clone(),
            VariancePartOf::Whole => "the whole batch".to_owned(),
        };
        let mut step = Step::sum_of(says, steps)?;
        if step.steps.is_empty() {
            step.rule = WhyRule::Said;
        }
        Some(step)
    }
}
