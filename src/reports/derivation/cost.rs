//! What a unit of a thing cost, of all good pieces that were finished in a year or ever; of several years, year by year.
//!
//! Per unit the figures are those of the cost report: paid and full cost over the units, each rounded once to six digits, and their components by largest remainder.

use std::collections::BTreeMap;

use chrono::Datelike;
use rust_decimal::Decimal;

use super::amount::part_of;
use super::by_months::{entries_by_months, month_of};
use super::{Step, Sum, Telling};
use crate::costing::{Amounts, Component, Made, OutputItem};
use crate::names::ThingId;
use crate::reports::period::{minutes_text, per_unit, unit_cost_text};
use crate::reports::{CostFigure, CostPart, FigureName, Period, StockFigure, StockOf, WhyRule};
use crate::units::{Fixed6, checked_add_exact};

impl Telling<'_> {
    /// What a unit of a thing cost, lot by lot.
    pub(super) fn cost(&mut self, figure: CostFigure) -> Option<(String, Vec<Step>)> {
        let CostFigure { thing, year, part } = figure;
        let period = year.map_or_else(Period::default, Period::year);
        let of = self.of;
        let mut unknown_hours = false;
        let mut made: Vec<_> = of.index.outputs(of.books.costed, thing).filter(|output| period.covers(output.date)).collect();
        made.sort_by_key(|output| (output.date, output.event));
        let when = year.map_or_else(String::new, |year| format!(" in {year}"));
        let mut years: BTreeMap<i32, Vec<&OutputItem>> = BTreeMap::new();
        for output in made {
            unknown_hours |= output.vector.hours_unknown();
            years.entry(output.date.year()).or_default().push(output);
        }
        let (units, steps) = match years.len() {
            0 | 1 => self.made(thing, years.into_values().flatten(), 2)?,
            _ => {
                let (mut units, mut steps) = (Decimal::ZERO, Vec::new());
                for (year, made) in years {
                    let (of_year, step) = self.made_in(CostFigure { thing, year: Some(year), part }, made)?;
                    units = checked_add_exact(units, of_year).ok()?;
                    steps.push(step);
                }
                (units, steps)
            }
        };
        let book = of.books.book;
        let name = &book.thing(thing).named.name;
        if units.is_zero() {
            let stock = FigureName::Stock(StockFigure { of: StockOf::Thing(thing), on: None }).text(&of.names);
            let bought = of.index.lots(of.trace, thing).any(|lot| matches!(lot.made, Made::Bought { .. }));
            let hint = if bought { format!("; `{stock}` tells what it was bought for") } else { String::new() };
            return Some((format!("No `{name}` was finished{when}, so there is no cost{hint}."), Vec::new()));
        }
        let unit = book.thing(thing).unit.as_str();
        let one = if unit == "ea" { format!("one {name}") } else { format!("one {unit} of {name}") };
        let all = Step::sum_of(self.amount_of(thing, units), steps)?;
        let whole = all.sum;
        let mut top = Step::nowhere(format!("{one}, of all that were finished{when}"), each(whole, units)?, WhyRule::PerUnit);
        let answer = match part {
            None => {
                let per = if unit == "ea" { "each".to_owned() } else { format!("per {unit}") };
                format!(
                    "What was finished{when} cost {} paid and {} full {per}: {} for {} paid and {} full.",
                    unit_cost_text(top.sum.paid),
                    unit_cost_text(top.sum.full),
                    self.amount_of(thing, units),
                    unit_cost_text(whole.paid),
                    unit_cost_text(whole.full),
                )
            }
            Some(CostPart::Minutes) if unknown_hours => {
                return Some((
                    format!("Some of what is in `{name}` was there without its hours, so its minutes are not known."),
                    Vec::new(),
                ));
            }
            Some(part) => self.answer_of_part(
                &one,
                part,
                top.sum,
                &format!("{} that were finished{when}", self.amount_of(thing, units)),
                whole,
            ),
        };
        top.steps = vec![all];
        Some((answer, vec![top]))
    }

    /// What was finished of a thing, lot by lot, and how many.
    pub(super) fn made<'o>(
        &mut self,
        thing: ThingId,
        made: impl IntoIterator<Item = &'o OutputItem>,
        level: usize,
    ) -> Option<(Decimal, Vec<Step>)> {
        let (mut units, mut steps) = (Decimal::ZERO, Vec::new());
        for output in made {
            let lot = self.of.index.lot_of_line(output.event, output.line, thing)?;
            units = checked_add_exact(units, output.quantity).ok()?;
            steps.push((month_of(output.date), self.lot(lot, level)?));
        }
        Some((units, entries_by_months(steps)?))
    }

    /// What was finished of a thing in one of several years, and how many: told with what a unit cost in that year.
    fn made_in(&mut self, figure: CostFigure, made: Vec<&OutputItem>) -> Option<(Decimal, Step)> {
        let mut sum = Sum::default();
        let mut units = Decimal::ZERO;
        for output in &made {
            let lot = self.of.index.lot_of_line(output.event, output.line, figure.thing)?;
            sum = sum.plus(Sum::of_lot(self.of.trace.lot(lot)?)?)?;
            units = checked_add_exact(units, output.quantity).ok()?;
        }
        let when = figure.year.map_or_else(String::new, |year| format!(" finished in {year}"));
        let says = format!("{}{when}", self.amount_of(figure.thing, units));
        let mut step = Step::nowhere(says, sum, WhyRule::SumOf);
        if self.enters(&mut step, FigureName::Cost(figure), 2) {
            step.steps = self.made(figure.thing, made, 3)?.1;
        }
        Some((units, step))
    }

    /// A part of what a unit cost, in one sentence.
    fn answer_of_part(&self, one: &str, part: CostPart, each: Sum, all: &str, whole: Sum) -> String {
        let (each, whole) = (part_of(each, part), part_of(whole, part));
        if whole.is_zero() {
            return format!("There is no {} in {all}.", words_of(part));
        }
        match part {
            CostPart::Minutes => {
                format!("In {one} are {} minutes of yours: {} in {all}.", minutes_text(each), minutes_text(whole))
            }
            part => format!("In {one} are {} of {}: {} in {all}.", unit_cost_text(each), words_of(part), unit_cost_text(whole),),
        }
    }
}

/// A part of a cost in words.
pub(super) fn words_of(part: CostPart) -> &'static str {
    match part {
        CostPart::Materials => "materials",
        CostPart::Wear => "wear",
        CostPart::BoughtInTime => "bought-in time",
        CostPart::Royalty => "royalty",
        CostPart::Paid => "paid cost",
        CostPart::OwnTime => "own time",
        CostPart::Overhead => "overhead",
        CostPart::Full => "full cost",
        CostPart::Minutes => "your time",
    }
}

/// A cost over the units, as the cost report has it; materials with their freight.
pub(super) fn each(whole: Sum, units: Decimal) -> Option<Sum> {
    const PARTS: [(CostPart, Component); 6] = [
        (CostPart::Materials, Component::Materials),
        (CostPart::Wear, Component::Wear),
        (CostPart::BoughtInTime, Component::BoughtInTime),
        (CostPart::Royalty, Component::Royalty),
        (CostPart::OwnTime, Component::OwnTime),
        (CostPart::Overhead, Component::Overhead),
    ];
    let parts: Vec<Fixed6> = PARTS.iter().map(|(part, _)| part_of(whole, *part)).collect();
    let mut each = Amounts::default();
    for (money, (_, component)) in per_unit(&parts, units)?.into_iter().zip(PARTS) {
        each = each.plus(&Amounts::of_component(component, money))?;
    }
    let minutes = crate::units::part_of(whole.parts.own_minutes(), Decimal::ONE, units)?;
    Sum::of_amounts(each.with_minutes(true, minutes))
}
