//! What a unit of a thing cost, of all good pieces that were finished in a year or ever.
//!
//! Per unit the figures are those of the cost report: the whole over the units, rounded once to six digits, and its components by largest remainder.

use rust_decimal::Decimal;

use super::amount::part_of;
use super::{Step, Sum, Telling};
use crate::costing::{Amounts, Component, Made};
use crate::reports::period::{minutes_text, per_unit, unit_cost_text};
use crate::reports::{CostFigure, CostPart, FigureName, Period, StockFigure, StockOf, WhyRule};
use crate::units::{Fixed6, checked_add_exact};

impl Telling<'_> {
    /// What a unit of a thing cost, lot by lot.
    pub(super) fn cost(&mut self, figure: CostFigure) -> Option<(String, Vec<Step>)> {
        let CostFigure { thing, year, part } = figure;
        let period = year.map_or_else(Period::default, Period::year);
        let of = self.of;
        let (mut units, mut steps) = (Decimal::ZERO, Vec::new());
        let mut unknown_hours = false;
        let mut made: Vec<_> = of.index.outputs(of.books.costed, thing).filter(|output| period.covers(output.date)).collect();
        made.sort_by_key(|output| (output.date, output.event));
        let when = year.map_or_else(String::new, |year| format!(" in {year}"));
        for output in made {
            let lot = of.index.lot_of_line(output.event, output.line, thing)?;
            units = checked_add_exact(units, output.quantity).ok()?;
            unknown_hours |= output.vector.hours_unknown();
            steps.push(self.lot(lot, 2)?);
        }
        let book = of.books.book;
        let name = &book.thing(thing).named.name;
        if units.is_zero() {
            let stock = FigureName::Stock(StockFigure { of: StockOf::Thing(thing), on: None }).text(&of.names);
            let bought = of.trace.lots.iter().any(|lot| lot.thing == thing && matches!(lot.made, Made::Bought { .. }));
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
fn each(whole: Sum, units: Decimal) -> Option<Sum> {
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
