//! The hours of a plan: by the recipes, as the last batches took, as the best one took; and whether they fit into the weeks there are.
//!
//! Where helpers had a part of a step's minutes in the last batches, they have it of what is expected too. Only the owner's must fit.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Months, NaiveDate};
use rust_decimal::Decimal;

use super::expected::plus;
use super::explode::{Build, Ground};
use super::learnt::{Learnt, Took};
use crate::costing::{Flow, actual_overhead};
use crate::names::{BatchId, Dated, OverheadRule, StepId, ThingId};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, mul_div_round};

/// Rates of the day, and how much general work there is beside.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Hours {
    pub(crate) owner_rate: Fixed6,
    pub(crate) overhead_per_hour: Fixed6,
    /// Of the last twelve months: the owner's minutes at indirect steps, and all others.
    pub(crate) indirect: Fixed6,
    pub(crate) others: Fixed6,
}

/// Whether the hours fit.
#[derive(Clone, Debug)]
pub(crate) struct Fits {
    pub(crate) from: NaiveDate,
    pub(crate) day: NaiveDate,
    /// The days between them, both included, by the hours that the shop has in a week.
    pub(crate) weeks: Vec<Weeks>,
    /// Hours of the shop in a week on the first day on which it says them.
    pub(crate) per_week: Decimal,
    pub(crate) there_are: Fixed6,
    pub(crate) needed: Fixed6,
}

/// Minutes of a build at a step, or of all builds: each rounded to six digits.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Minutes {
    pub(crate) planned: Fixed6,
    pub(crate) expected: Fixed6,
    /// Of those expected, helpers' minutes.
    pub(crate) hired: Fixed6,
    /// As the best batch took; nothing where one has not been seen.
    pub(crate) best: Option<Fixed6>,
}

impl Minutes {
    /// Of those expected, the owner's.
    pub(crate) fn own(self) -> Option<Fixed6> {
        self.expected.checked_sub(self.hired)
    }
}

/// The minutes of a step.
#[derive(Clone, Debug)]
pub(crate) struct StepMinutes {
    pub(crate) step: StepId,
    pub(crate) all: Minutes,
    /// Build by build, and open batch by open batch.
    pub(crate) of: Vec<StepOf>,
}

/// The minutes of a build at a step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct StepOf {
    pub(crate) build: ThingId,
    /// The open batch that is to be finished; else they are of what is begun.
    pub(crate) finishing: Option<BatchId>,
    pub(crate) minutes: Minutes,
}

/// Days on which the shop has as many hours in a week.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Weeks {
    pub(crate) from: NaiveDate,
    pub(crate) to: NaiveDate,
    pub(crate) days: i64,
    pub(crate) per_week: Decimal,
    pub(crate) minutes: Fixed6,
}

impl Hours {
    /// Reads the rates. `None` where a figure is too large to be carried.
    pub(super) fn of(ground: Ground<'_>) -> Option<Self> {
        let Ground { book, costed, day, .. } = ground;
        let from = day.checked_sub_months(Months::new(12)).and_then(|day| day.succ_opt());
        let covers = |on: NaiveDate| from.is_none_or(|from| from <= on) && on <= day;
        let owner_rate = (*book.shop.owner_time.on(day)).map_or(Some(Fixed6::ZERO), Fixed6::round_from_decimal)?;
        let mut hours = Self { owner_rate, ..Self::default() };
        let mut direct = Fixed6::ZERO;
        for movement in costed.movements.iter().filter(|one| one.flow == Flow::Time && covers(one.date)) {
            let own = movement.vector.own_minutes()?;
            hours.others = hours.others.checked_add(own)?;
            direct = direct.checked_add(own)?.checked_add(movement.vector.bought_in_minutes()?)?;
        }
        for hour in costed.hours.iter().filter(|hour| hour.own && covers(hour.date)) {
            let sum = if hour.on.is_none() { &mut hours.indirect } else { &mut hours.others };
            *sum = sum.checked_add(hour.minutes)?;
        }
        hours.overhead_per_hour = match *book.shop.overhead.on(day) {
            OverheadRule::None => Fixed6::ZERO,
            OverheadRule::PerHour(rate) => Fixed6::round_from_decimal(rate)?,
            OverheadRule::FromExpenses if direct.is_positive() => {
                let actual = actual_overhead(book, costed, from, Some(day))?;
                mul_div_round(actual.micros(), 60_000_000, direct.micros()).map(Fixed6::from_micros)?
            }
            OverheadRule::FromExpenses => Fixed6::ZERO,
        };
        Some(hours)
    }

    /// Minutes with the general work that came with as many in the last twelve months.
    fn with_indirect(self, minutes: Fixed6) -> Option<Fixed6> {
        if !self.others.is_positive() {
            return Some(minutes);
        }
        let all = self.others.checked_add(self.indirect)?;
        mul_div_round(minutes.micros(), all.micros(), self.others.micros()).map(Fixed6::from_micros)
    }

    /// General work on top of all other, in percent rounded to whole ones.
    pub(super) fn indirect_percent(self) -> Option<i128> {
        if self.others.is_positive() { mul_div_round(self.indirect.micros(), 100, self.others.micros()) } else { Some(0) }
    }

    /// Whether minutes fit between two days, the last included; nothing where the shop never says its hours. The outer `None` is overflow.
    pub(super) fn by(
        self,
        (from, day): (NaiveDate, NaiveDate),
        hours: &Dated<Option<Decimal>>,
        minutes: Fixed6,
    ) -> Option<Option<Fits>> {
        let mut starts: Vec<NaiveDate> = vec![from];
        starts.extend(hours.changes().iter().map(|(on, _)| *on).filter(|on| from < *on && *on <= day));
        let (mut weeks, mut there_are) = (Vec::new(), Fixed6::ZERO);
        for (at, start) in starts.iter().enumerate() {
            let Some(per_week) = *hours.on(*start) else { continue };
            let next = at.checked_add(1).and_then(|next| starts.get(next));
            let to = next.and_then(|next| next.pred_opt()).unwrap_or(day);
            let days = to.signed_duration_since(*start).num_days().checked_add(1)?.max(0);
            let minutes = mul_div_to_nine(per_week, Decimal::from(days.checked_mul(60)?), Decimal::from(7)).ok()?;
            let minutes = Fixed6::round_from_decimal(minutes)?;
            there_are = there_are.checked_add(minutes)?;
            weeks.push(Weeks { from: *start, to, days, per_week, minutes });
        }
        let Some(per_week) = weeks.first().map(|first| first.per_week) else { return Some(None) };
        Some(Some(Fits { from, day, weeks, per_week, there_are, needed: self.with_indirect(minutes)? }))
    }
}

/// Minutes by step that a build is expected to take: as its last batches took, else by its recipe.
pub(super) fn expected_minutes(ground: Ground<'_>, build: &Build) -> Option<BTreeMap<StepId, Took>> {
    minutes_for(ground, build.thing, &build.learnt, build.begun)
}

/// The same for so many pieces that are begun; by the recipe where no batch teaches a step's time.
pub(super) fn minutes_for(ground: Ground<'_>, thing: ThingId, learnt: &Learnt, begun: Decimal) -> Option<BTreeMap<StepId, Took>> {
    let mut minutes = BTreeMap::new();
    for (step, planned) in planned_minutes(ground, thing, begun)? {
        if learnt.timed(step)?.is_zero() {
            minutes.insert(step, Took::of_owner(planned));
        }
    }
    for step in learnt.minutes.keys() {
        if let Some(expected) = learnt.expected(*step, begun)? {
            minutes.insert(*step, expected);
        }
    }
    Some(minutes)
}

/// Minutes by step, by the recipe, for so many pieces that are begun.
pub(super) fn planned_minutes(ground: Ground<'_>, thing: ThingId, begun: Decimal) -> Option<BTreeMap<StepId, Decimal>> {
    planned_on(ground, (thing, begun), ground.day)
}

/// The same by the recipe of another day.
pub(super) fn planned_on(
    ground: Ground<'_>,
    (thing, begun): (ThingId, Decimal),
    day: NaiveDate,
) -> Option<BTreeMap<StepId, Decimal>> {
    let mut minutes: BTreeMap<StepId, Decimal> = BTreeMap::new();
    for take in ground.book.thing(thing).takes.on(day) {
        let sum = minutes.entry(take.step).or_default();
        *sum = plus(*sum, mul_div_to_nine(begun, take.minutes, take.per).ok()?)?;
    }
    Some(minutes)
}

/// The steps of all builds, by name.
pub(super) fn steps_of(ground: Ground<'_>, builds: &[Build]) -> Option<Vec<StepMinutes>> {
    let mut steps: BTreeMap<StepId, Vec<StepOf>> = BTreeMap::new();
    let mut expected_at: BTreeSet<StepId> = BTreeSet::new();
    for build in builds {
        let (planned, expected) = (planned_minutes(ground, build.thing, build.begun)?, expected_minutes(ground, build)?);
        for step in planned.keys().chain(expected.keys()).copied().collect::<BTreeSet<_>>() {
            let planned = planned.get(&step).copied().unwrap_or_default();
            let took = expected.get(&step).copied().unwrap_or_default();
            let best = match build.learnt.best(step, build.begun)? {
                // What is not expected has no best either.
                Some(best) if expected.contains_key(&step) => Some(Fixed6::round_from_decimal(best)?),
                _ if expected.contains_key(&step) => None,
                _ => Some(Fixed6::ZERO),
            };
            if expected.contains_key(&step) {
                expected_at.insert(step);
            }
            let minutes = minutes_of(planned, took, best)?;
            steps.entry(step).or_default().push(StepOf { build: build.thing, finishing: None, minutes });
        }
        for open in &build.finishing {
            for (step, rest) in &open.minutes {
                let minutes = minutes_of(rest.planned, rest.expected, Some(Fixed6::round_from_decimal(rest.best)?))?;
                expected_at.insert(*step);
                steps.entry(*step).or_default().push(StepOf { build: build.thing, finishing: Some(open.batch), minutes });
            }
        }
    }
    let mut rows = Vec::new();
    for (step, of) in steps {
        let mut all = Minutes { planned: Fixed6::ZERO, expected: Fixed6::ZERO, hired: Fixed6::ZERO, best: Some(Fixed6::ZERO) };
        for StepOf { minutes: one, .. } in &of {
            all.planned = all.planned.checked_add(one.planned)?;
            all.expected = all.expected.checked_add(one.expected)?;
            all.hired = all.hired.checked_add(one.hired)?;
            // A step is at its best where each of its builds has been seen.
            all.best = match (all.best, one.best) {
                (Some(sum), Some(best)) => Some(sum.checked_add(best)?),
                _ => None,
            };
        }
        if !expected_at.contains(&step) {
            all.best = None;
        }
        rows.push(StepMinutes { step, all, of });
    }
    rows.sort_by(|a, b| ground.book.step(a.step).named.name.cmp(&ground.book.step(b.step).named.name));
    Some(rows)
}

fn minutes_of(planned: Decimal, took: Took, best: Option<Fixed6>) -> Option<Minutes> {
    let [planned, expected, hired] = [planned, took.all, took.hired].map(Fixed6::round_from_decimal);
    Some(Minutes { planned: planned?, expected: expected?, hired: hired?, best })
}
