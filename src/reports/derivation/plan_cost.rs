//! What a piece of a plan is expected to cost: the whole over its good pieces, item by item, each down to the shelf, the last purchase or the part that
//! is built for it.

use super::amount::{Shown, part_of};
use super::cost::{each, words_of};
use super::{Step, Sum, Telling};
use crate::names::ThingId;
use crate::reports::period::{minutes_text, quantity_text, unit_cost_text};
use crate::reports::planning::{CostFrom, CostItem, Planned};
use crate::reports::{CostPart, FigureName, PlanFigure, PlanPart, WhyRule};
use crate::units::Fixed6;

impl<'d> Telling<'d> {
    /// What a piece is expected to cost, or a part of that.
    pub(super) fn plan_cost(&mut self, p: &Planned<'d>, thing: ThingId, part: Option<CostPart>) -> Option<(String, Vec<Step>)> {
        let expected = p.costs.get(&thing)?;
        let name = self.name(thing);
        let one = each(Sum::of_amounts(expected.cost)?, expected.quantity)?;
        let words = part.map_or("cost", words_of);
        let says = format!("expected {words} of one {name}");
        let mut top = Step::nowhere(says, one, WhyRule::PerUnit).showing(Shown::of_cost(part));
        top.figure = Some(FigureName::Plan(PlanFigure::Cost(thing, part)));
        top.steps = vec![self.build_cost(p, thing, 1)?];
        let at_least = |part| if p.is_at_least(expected.at_least, part) { "at least " } else { "" };
        let answer = match part {
            None => {
                let (paid, full) = (unit_cost_text(one.paid), unit_cost_text(one.full));
                let (least_paid, least_full) = (at_least(CostPart::Paid), at_least(CostPart::Full));
                format!("One {name} is expected to cost {least_paid}{paid} paid and {least_full}{full} full.")
            }
            Some(CostPart::Minutes) => {
                let minutes = minutes_text(one.parts.own_minutes());
                format!("One {name} is expected to take {}{minutes} minutes of yours.", at_least(CostPart::Minutes))
            }
            Some(part) => {
                let much = unit_cost_text(part_of(one, part));
                format!("In one {name} are {}{much} of {} to be expected.", at_least(part), words_of(part))
            }
        };
        Some((answer, vec![top]))
    }

    /// What all good pieces of a build are expected to cost, item by item.
    pub(super) fn build_cost(&mut self, p: &Planned<'d>, thing: ThingId, level: usize) -> Option<Step> {
        let expected = p.costs.get(&thing)?;
        let says = format!("{} as planned", self.amount_of(thing, expected.quantity));
        let mut step = Step::nowhere(says, Sum::of_amounts(expected.cost)?, WhyRule::SumOf);
        if !self.enters(&mut step, FigureName::Plan(PlanFigure::Cost(thing, self.part)), level) {
            return Some(step);
        }
        self.tell_items(p, thing, step, level)
    }

    /// The same, told here even where derivations fold: what a price is asked back from.
    pub(super) fn priced_cost(&mut self, p: &Planned<'d>, thing: ThingId, level: usize) -> Option<Step> {
        let expected = p.costs.get(&thing)?;
        let says = format!("{} as planned", self.amount_of(thing, expected.quantity));
        let figure = FigureName::Plan(PlanFigure::Cost(thing, self.part));
        let mut step = Step::nowhere(says, Sum::of_amounts(expected.cost)?, WhyRule::SumOf).named(figure);
        if !self.told.insert(figure) {
            step.rule = WhyRule::Above;
            return Some(step);
        }
        self.tell_items(p, thing, step, level)
    }

    fn tell_items(&mut self, p: &Planned<'d>, thing: ThingId, mut step: Step, level: usize) -> Option<Step> {
        for item in &p.costs.get(&thing)?.items {
            step.steps.push(self.cost_item(p, thing, item, level.saturating_add(1))?);
        }
        step.steps.retain(|step| !step.sum.is_nothing());
        if step.steps.is_empty() {
            step.rule = WhyRule::Said;
        }
        Some(step)
    }

    fn cost_item(&mut self, p: &Planned<'d>, build: ThingId, item: &CostItem, level: usize) -> Option<Step> {
        let below = level.saturating_add(1);
        let book = p.books.book;
        let sum = Sum::of_amounts(item.cost)?;
        let worn = item.worn_at.map_or_else(String::new, |step| format!(", worn at {}", book.step(step).named.name));
        let goods = |telling: &Self, thing, much, how: &str| {
            Step::nowhere(format!("{}{how}{worn}", telling.amount_of(thing, much)), sum, WhyRule::PartOf)
        };
        Some(match item.from {
            CostFrom::Shelf(thing, much) => {
                let step = goods(self, thing, much, " from what is on hand");
                let whole = self.stock_of(thing, None, below)?;
                of_whole(step, whole)
            }
            CostFrom::Built(thing, much) => {
                let step = goods(self, thing, much, " of those that are built first");
                let whole = self.build_cost(p, thing, below)?;
                of_whole(step, whole)
            }
            CostFrom::Bought(thing, much) => {
                let step = goods(self, thing, much, " at the last price");
                let whole = self.last_lot(p, thing, below)?;
                of_whole(step, whole)
            }
            CostFrom::Bench(batch, pieces) => {
                let of_batch = format!(" from the bench of batch {}", book.batch(batch).name);
                let step = goods(self, build, pieces, &of_batch);
                let whole = self.bench_of(p.books.costed.batches.get(batch.index())?, below)?;
                of_whole(step, whole)
            }
            CostFrom::Made(thing, much, last) => {
                let step = goods(self, thing, much, " as they were made last");
                let says = format!("{}, made in batch {}", self.amount_of(thing, last.quantity), book.batch(last.batch).name);
                of_whole(step, Step::new(says, Sum::of_amounts(last.amounts)?, WhyRule::Said, last.line))
            }
            CostFrom::LicenceToBuy(pattern, pieces) => {
                let name = &book.pattern(pattern).named.name;
                let says = format!("{} pieces of a licence {name} to buy, at the last price", quantity_text(pieces));
                let whole = self.last_licence(p, p.licence(pattern)?)??;
                of_whole(Step::nowhere(says, sum, WhyRule::PartOf), whole)
            }
            CostFrom::OwnTime(minutes) => {
                let rate = p.hours.owner_rate.to_fixed_text(2, 6);
                let says = format!("{} minutes of yours at {rate} an hour", minutes_text(minutes));
                let mut step = Step::nowhere(says, sum, WhyRule::Figured);
                let plan_build = p.build(build)?;
                for one in &p.steps {
                    for of in one.of.iter().filter(|of| of.build == build) {
                        let took = self.build_minutes(p, (plan_build, of.finishing), one.step, PlanPart::Expected, below)?;
                        step.steps.extend(Some(took).filter(|took| !took.shows_nothing()));
                        if !of.minutes.hired.is_zero() {
                            let of_helpers =
                                self.build_minutes(p, (plan_build, of.finishing), one.step, PlanPart::ByHelpers, below)?;
                            let mut less = self.less_helpers(p, of.minutes.hired, [], below)?;
                            less.steps.push(of_helpers);
                            step.steps.push(less);
                        }
                    }
                }
                step
            }
            CostFrom::Helpers(at, minutes) => {
                let named = &book.step(at).named;
                let says = format!(
                    "{} minutes of helpers at {}, at what those of the last batches cost",
                    minutes_text(minutes),
                    named.name
                );
                let mut step = Step::nowhere(says, sum, WhyRule::Figured);
                step.steps = self.cost_of_helpers(p, p.build(build)?, at, below)?;
                step
            }
            CostFrom::Overhead(step, minutes) => {
                let rate = p.hours.overhead_per_hour.to_fixed_text(2, 6);
                let named = &book.step(step).named;
                let says = format!("overhead on {} minutes of {} at {rate} an hour", minutes_text(minutes), named.name);
                Step::new(says, sum, WhyRule::Said, named.span)
            }
            CostFrom::Royalty(pattern, rate) => {
                let named = &book.pattern(pattern).named;
                let mut step = Step::new(format!("royalty of {}", named.name), sum, WhyRule::Figured, named.span);
                step.steps = self.coming(p, build, below)?;
                let each = Sum::of_component(crate::costing::Component::Royalty, Fixed6::round_from_decimal(rate)?)?;
                step.steps.push(Step::new("for each good piece", each, WhyRule::Said, named.span));
                step
            }
            CostFrom::Licence(pattern, date, pieces) => {
                let named = &book.pattern(pattern).named;
                let says = format!("{} pieces of the licence {} of {date}", quantity_text(pieces), named.name);
                Step::new(says, sum, WhyRule::Said, named.span)
            }
        })
    }
}

/// A step as a part of a whole; where it is more than that, it is figured from it.
fn of_whole(mut step: Step, whole: Step) -> Step {
    let (part, all) = (step.sum, whole.sum);
    let is_part = |part: Fixed6, all: Fixed6| part.micros().unsigned_abs() <= all.micros().unsigned_abs();
    if part.paid.is_zero() && part.full.is_zero() && part.parts.own_minutes().is_zero() {
        step.rule = WhyRule::Said;
        return step;
    }
    if !is_part(part.paid, all.paid) || !is_part(part.full, all.full) {
        step.rule = WhyRule::Figured;
    }
    step.steps = vec![whole];
    step
}
