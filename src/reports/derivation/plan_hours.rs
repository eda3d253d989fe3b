//! A plan's hours: by the recipes, as the last batches took, as the best one took; and the hours that there are by a day.

use chrono::{Months, NaiveDate};
use rust_decimal::Decimal;

use super::amount::Shown;
use super::by_months::{by_months, month_of};
use super::{Step, Sum, Telling};
use crate::costing::{BatchAccount, Component, Flow};
use crate::events::Output;
use crate::names::{BatchId, StepId, ThingId};
use crate::reports::period::{minutes_text, quantity_text};
use crate::reports::planning::{Build, LearntBatch, Planned, Took, cost_on_day};
use crate::reports::{BatchFigure, CostPart, FigureName, PlanFigure, PlanPart, PlanRow, WhyRule};
use crate::sources::Span;
use crate::units::Fixed6;

impl<'d> Telling<'d> {
    /// The first step of a row of hours; nothing inside where there is no figure. The outer `None` is overflow.
    pub(super) fn first_of_hours(&self, p: &Planned<'d>, row: PlanRow, part: PlanPart) -> Option<Option<Step>> {
        let figure = PlanFigure::Row(row, part);
        let minutes = |minutes: Fixed6, rule| Some(self.minutes_step(p, figure, minutes, rule));
        if let PlanRow::Step(step) = row {
            let all = p.steps.iter().find(|one| one.step == step)?.all;
            return Some(match part {
                PlanPart::Planned => minutes(all.planned, WhyRule::SumOf),
                PlanPart::Expected => minutes(all.expected, WhyRule::SumOf),
                PlanPart::ByHelpers => minutes(all.hired, WhyRule::SumOf),
                _ => all.best.and_then(|best| minutes(best, WhyRule::SumOf)),
            });
        }
        let by = p.by.as_ref()?;
        Some(match part {
            PlanPart::HoursPerWeek => {
                let says = self.words_of_plan(p, figure);
                Some(Step::nowhere(says, Sum::default(), WhyRule::Said).counted(by.per_week, "h"))
            }
            PlanPart::ThereAre => minutes(by.there_are, WhyRule::SumOf),
            _ => minutes(by.needed, WhyRule::Figured),
        })
    }

    /// What a row of hours is made of.
    pub(super) fn parts_of_hours(&mut self, p: &Planned<'d>, row: PlanRow, part: PlanPart, level: usize) -> Option<Vec<Step>> {
        if let PlanRow::Step(step) = row {
            let mut steps = Vec::new();
            for one in &p.steps.iter().find(|one| one.step == step)?.of {
                steps.push(self.build_minutes(p, (p.build(one.build)?, one.finishing), step, part, level)?);
            }
            return Some(steps);
        }
        let by = p.by.as_ref()?;
        match part {
            PlanPart::ThereAre => {
                let mut steps = Vec::new();
                for weeks in &by.weeks {
                    let says = format!("time from {} to {}", weeks.from, weeks.to);
                    let mut step = Step::nowhere(says, Sum::own_minutes(weeks.minutes), WhyRule::Figured);
                    let says = format!("hours in a week from {} on", weeks.from);
                    step.steps = vec![Step::nowhere(says, Sum::default(), WhyRule::Said).counted(weeks.per_week, "h")];
                    let says = format!("days from {} to {}, of seven in a week", weeks.from, weeks.to);
                    let days = Step::nowhere(says, Sum::default(), WhyRule::Said).counted(Decimal::from(weeks.days), "days");
                    step.steps.push(days);
                    steps.push(step.showing(Shown::Part(CostPart::Minutes)));
                }
                Some(steps)
            }
            PlanPart::Needed => {
                let mut steps = self.plan_steps(p, [PlanFigure::OwnMinutes], level)?;
                steps.push(self.of_twelve_months(p, true)?);
                steps.push(self.of_twelve_months(p, false)?);
                Some(steps)
            }
            _ => Some(Vec::new()),
        }
    }

    /// Helpers' minutes, taken off all minutes.
    pub(super) fn less_helpers<const N: usize>(
        &mut self,
        p: &Planned<'d>,
        minutes: Fixed6,
        from: [PlanFigure; N],
        level: usize,
    ) -> Option<Step> {
        let sum = Sum::own_minutes(minutes).negated()?;
        let mut step = Step::nowhere("less those of helpers", sum, WhyRule::Figured).showing(Shown::Part(CostPart::Minutes));
        step.steps = self.plan_steps(p, from, level.saturating_add(1))?;
        Some(step)
    }

    /// What helpers' minutes of a build at a step are expected to cost: the minutes, and what they and their cost were in the last batches.
    pub(super) fn cost_of_helpers(&mut self, p: &Planned<'d>, build: &Build, step: StepId, level: usize) -> Option<Vec<Step>> {
        let mut steps = Vec::new();
        let of = &p.steps.iter().find(|one| one.step == step)?.of;
        for one in of.iter().filter(|one| one.build == build.thing && !one.minutes.hired.is_zero()) {
            steps.push(self.build_minutes(p, (build, one.finishing), step, PlanPart::ByHelpers, level)?);
        }
        steps.push(self.of_last(p, build, step, Whose::Helpers, level)?);
        steps.push(self.of_last(p, build, step, Whose::CostOfHelpers, level)?);
        Some(steps)
    }

    /// The minutes of a build at a step.
    pub(super) fn build_minutes(
        &mut self,
        p: &Planned<'d>,
        (build, finishing): (&Build, Option<BatchId>),
        step: StepId,
        part: PlanPart,
        level: usize,
    ) -> Option<Step> {
        let below = level.saturating_add(1);
        let of = &p.steps.iter().find(|one| one.step == step)?.of;
        let minutes = of.iter().find(|one| one.build == build.thing && one.finishing == finishing)?.minutes;
        let at = &p.books.book.step(step).named.name;
        let (took, by_recipe) = match part {
            PlanPart::Planned => (minutes.planned, true),
            PlanPart::ByHelpers => (minutes.hired, false),
            PlanPart::Best => (minutes.best.unwrap_or_default(), false),
            _ => (minutes.expected, !build.learnt.teaches(step)),
        };
        if let Some(batch) = finishing {
            let mut step = self.to_finish(p, (build.thing, batch), &format!("{at} "));
            step.sum = Sum::own_minutes(took);
            return Some(step.showing(Shown::Part(CostPart::Minutes)));
        }
        let how = match part {
            PlanPart::Best => ", as the best batch took",
            PlanPart::ByHelpers => ", helpers' part",
            _ if by_recipe => ", by the recipe",
            _ => ", as the last batches took",
        };
        let says = format!("{at} for {}{how}", self.name(build.thing));
        let mut top = Step::nowhere(says, Sum::own_minutes(took), WhyRule::Figured).showing(Shown::Part(CostPart::Minutes));
        if took.is_zero() {
            top.rule = WhyRule::Said;
            return Some(top);
        }
        if by_recipe {
            top.steps = self.pieces(p, build.thing, PlanPart::ToBegin, below)?;
            for take in p.books.book.thing(build.thing).takes.on(p.ground.day).iter().filter(|take| take.step == step) {
                let says = match take.per == Decimal::ONE {
                    true => "for each piece, by the recipe".to_owned(),
                    false => format!("for each {} pieces, by the recipe", quantity_text(take.per)),
                };
                let of_take = Sum::own_minutes(Fixed6::round_from_decimal(take.minutes)?);
                top.steps.push(Step::new(says, of_take, WhyRule::Said, take.span));
            }
            return Some(top);
        }
        if part == PlanPart::ByHelpers {
            top.steps = vec![
                self.build_minutes(p, (build, finishing), step, PlanPart::Expected, below)?,
                self.of_last(p, build, step, Whose::Helpers, below)?,
                self.of_last(p, build, step, Whose::All, below)?,
            ];
            return Some(top);
        }
        top.steps = self.pieces(p, build.thing, PlanPart::ToBegin, below)?;
        let unit = p.books.book.thing(build.thing).unit.as_str();
        let learnt = &build.learnt;
        let (batches, pieces): (Vec<&LearntBatch>, Step) = match learnt.quickest(step) {
            Some(best) if part == PlanPart::Best => {
                let account = self.of.books.costed.batches.get(best.batch.index())?;
                let figure = FigureName::Batch(BatchFigure { batch: best.batch, part: None });
                let says = format!("pieces begun in batch {}, the quickest at it", self.of.books.book.batch(best.batch).name);
                let at = made_at(account, build.thing);
                (vec![best], Step::new(says, Sum::default(), WhyRule::Said, at).counted(best.begun()?, unit).named(figure))
            }
            _ => {
                let timed = self.of_batches(build, "pieces begun in the last batches", unit, |one| one.timed(step))?;
                (learnt.from.iter().collect(), timed)
            }
        };
        top.steps.push(self.of_last_batches(p, batches, step, Whose::All, below)?);
        top.steps.push(pieces);
        top.steps.retain(|step| !step.shows_nothing());
        Some(top)
    }

    /// What the last batches of a build took at a step.
    fn of_last(&mut self, p: &Planned<'d>, build: &Build, step: StepId, whose: Whose, level: usize) -> Option<Step> {
        self.of_last_batches(p, build.learnt.from.iter().collect(), step, whose, level)
    }

    fn of_last_batches(
        &mut self,
        p: &Planned<'d>,
        batches: Vec<&LearntBatch>,
        step: StepId,
        whose: Whose,
        level: usize,
    ) -> Option<Step> {
        let mut steps = Vec::new();
        for one in batches {
            let step = self.minutes_of_batch(p, one, step, whose, level.saturating_add(1))?;
            steps.extend(Some(step).filter(|step| !step.shows_nothing()));
        }
        let at = &self.of.books.book.step(step).named.name;
        Some(match steps.len() {
            1 => steps.remove(0),
            _ => {
                let says = format!("{at}{} in the last batches", whose.words());
                let sum = Step::sum_of(says, steps)?;
                if whose == Whose::CostOfHelpers { sum } else { sum.showing(Shown::Part(CostPart::Minutes)) }
            }
        })
    }

    /// What a batch took at a step, line by line: of a batch that made other products too, the product's share.
    fn minutes_of_batch(&mut self, p: &Planned<'d>, one: &LearntBatch, step: StepId, whose: Whose, level: usize) -> Option<Step> {
        let took = whose.sum(&one.minutes.get(&step).copied().unwrap_or_default())?;
        let batch = &self.of.books.book.batch(one.batch).name;
        let at = &self.of.books.book.step(step).named.name;
        let part = if whose == Whose::CostOfHelpers { CostPart::BoughtInTime } else { CostPart::Minutes };
        let figure = FigureName::Batch(BatchFigure { batch: one.batch, part: Some(part) });
        let says = format!("{at}{} in batch {batch}", whose.words());
        let mut top = Step::nowhere(says, took, WhyRule::SumOf);
        if whose != Whose::CostOfHelpers {
            top = top.showing(Shown::Part(CostPart::Minutes));
        }
        let account = self.of.books.costed.batches.get(one.batch.index())?;
        let (mut steps, mut at_other_rates) = (Vec::new(), false);
        for time in account.time.iter().filter(|time| time.step == step && (whose == Whose::All || !time.own)) {
            let hired = if time.own { "" } else { ", hired" };
            let says = format!("{} minutes on {}{hired}", minutes_text(time.minutes), time.date);
            steps.push(match whose {
                Whose::CostOfHelpers => {
                    let cost = cost_on_day(p.ground, time)?;
                    let today = if cost == time.cost { "" } else { ", at the rate of the plan's day" };
                    at_other_rates |= cost != time.cost;
                    let sum = Sum::of_component(Component::BoughtInTime, cost)?;
                    Step::new(format!("{says}{today}"), sum, WhyRule::Said, time.line)
                }
                _ => Step::new(says, Sum::own_minutes(time.minutes), WhyRule::Said, time.line),
            });
        }
        let other_time = one.other_times.get(&step).filter(|other| !other.then.is_zero());
        // At other rates, or by a recipe that says another time, it is no part of what the batch collected.
        if !at_other_rates && other_time.is_none() {
            top.figure = Some(figure);
            if self.stops(figure, level) {
                top.rule = WhyRule::Deeper;
                return Some(top);
            }
        }
        let whole = Step::sum_of(format!("{at}{} in all of batch {batch}", whose.words()), steps)?;
        if let Some(other) = other_time {
            let by_recipe = |says: &str, minutes| {
                let sum = Sum::own_minutes(Fixed6::round_from_decimal(minutes)?);
                Some(Step::nowhere(says, sum, WhyRule::Said).showing(Shown::Part(CostPart::Minutes)))
            };
            top.rule = WhyRule::Figured;
            top.steps = vec![
                whole,
                by_recipe("so long as the recipe of the plan's day says", other.now)?,
                by_recipe("where it said on the batch's day", other.then)?,
            ];
        } else if whole.sum == top.sum {
            top.steps = whole.steps;
        } else {
            (top.rule, top.steps) = (WhyRule::PartOf, vec![whole]);
        }
        if top.steps.is_empty() {
            top.rule = WhyRule::Said;
        }
        Some(top)
    }

    /// The owner's minutes of the last twelve months: those at general work, or all others; month by month.
    fn of_twelve_months(&self, p: &Planned<'d>, indirect: bool) -> Option<Step> {
        let day = p.ground.day;
        let from = day.checked_sub_months(Months::new(12)).and_then(|day| day.succ_opt());
        let covers = |on: NaiveDate| from.is_none_or(|from| from <= on) && on <= day;
        let mut steps = Vec::new();
        let mut add = |date: NaiveDate, minutes: Fixed6, line| {
            let step = Step::new(date.to_string(), Sum::own_minutes(minutes), WhyRule::Said, line);
            steps.push((month_of(date), step));
        };
        let costed = self.of.books.costed;
        for hour in costed.hours.iter().filter(|hour| hour.own && covers(hour.date) && hour.on.is_none() == indirect) {
            add(hour.date, hour.minutes, hour.line);
        }
        for movement in costed.movements.iter().filter(|one| !indirect && one.flow == Flow::Time && covers(one.date)) {
            let minutes = movement.vector.own_minutes()?;
            if !minutes.is_zero() {
                add(movement.date, minutes, movement.line);
            }
        }
        steps.sort_by_key(|(month, _)| *month);
        let says = if indirect { "general work in the last twelve months" } else { "all other hours in them" };
        let mut months = by_months(steps)?;
        for month in months.iter_mut().filter(|month| self.folds && month.month.is_some()) {
            (month.rule, month.steps) = (WhyRule::Deeper, Vec::new());
        }
        Some(Step::sum_of(says, months)?.showing(Shown::Part(CostPart::Minutes)))
    }
}

/// The last line by which a batch made a thing.
pub(super) fn made_at(account: &BatchAccount, thing: ThingId) -> Span {
    let mut made = account.outputs.iter().filter(|item| item.what == Output::Thing(thing));
    made.next_back().map_or_else(Span::default, |item| item.line)
}

/// Minutes that are told of what a batch took at a step: all, or helpers', or what helpers cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Whose {
    All,
    Helpers,
    CostOfHelpers,
}

impl Whose {
    fn words(self) -> &'static str {
        match self {
            Self::All => "",
            Self::Helpers => ", helpers' minutes",
            Self::CostOfHelpers => ", cost of helpers",
        }
    }

    /// Rounded to six digits.
    fn sum(self, took: &Took) -> Option<Sum> {
        match self {
            Self::All => Fixed6::round_from_decimal(took.all).map(Sum::own_minutes),
            Self::Helpers => Fixed6::round_from_decimal(took.hired).map(Sum::own_minutes),
            Self::CostOfHelpers => Sum::of_component(Component::BoughtInTime, Fixed6::round_from_decimal(took.cost)?),
        }
    }
}
