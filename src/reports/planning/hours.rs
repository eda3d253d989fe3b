//! The hours of a plan: by the recipes, as the last batches took, as the best one took; and whether they fit into the weeks there are.

use std::collections::BTreeMap;

use chrono::{Months, NaiveDate};
use rust_decimal::Decimal;

use super::expected::plus;
use super::explode::{Build, Ground};
use crate::costing::{Flow, actual_overhead};
use crate::names::{OverheadRule, StepId};
use crate::reports::period::{minutes_text, quantity_text};
use crate::reports::{PlanBy, PlanStep};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, mul_div_round};

/// Rates of the day, and how much general work there is beside.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Hours {
    pub(super) owner_rate: Fixed6,
    pub(super) overhead_per_hour: Fixed6,
    /// Of the last twelve months: the owner's minutes at indirect steps, and all others.
    indirect: Fixed6,
    others: Fixed6,
}

impl Hours {
    /// Reads the rates. `None` where a figure is too large to be carried.
    pub(super) fn of(ground: Ground<'_>) -> Option<Self> {
        let Ground { book, costed, day } = ground;
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

    /// Whether minutes fit between two days, the last included.
    pub(super) fn by(self, (from, day): (NaiveDate, NaiveDate), per_week: Decimal, minutes: Fixed6) -> Option<PlanBy> {
        let days = day.signed_duration_since(from).num_days().checked_add(1)?.max(0);
        let there_are = mul_div_to_nine(per_week, Decimal::from(days.checked_mul(60)?), Decimal::from(7)).ok()?;
        let there_are = Fixed6::round_from_decimal(there_are)?;
        let needed = self.with_indirect(minutes)?;
        Some(PlanBy {
            day: day.to_string(),
            from: from.to_string(),
            hours_per_week: quantity_text(per_week),
            there_are: minutes_text(there_are),
            needed: minutes_text(needed),
            fits: needed <= there_are,
        })
    }
}

/// Minutes by step that a build is expected to take: as its last batches took, else by its recipe.
pub(super) fn expected_minutes(ground: Ground<'_>, build: &Build) -> Option<BTreeMap<StepId, Decimal>> {
    if build.learnt.minutes.is_empty() {
        return planned_minutes(ground, build);
    }
    let mut minutes = BTreeMap::new();
    for step in build.learnt.minutes.keys() {
        if let Some(expected) = build.learnt.expected(*step, build.good)? {
            minutes.insert(*step, expected);
        }
    }
    Some(minutes)
}

/// Minutes by step, by the recipe, for the pieces to begin.
fn planned_minutes(ground: Ground<'_>, build: &Build) -> Option<BTreeMap<StepId, Decimal>> {
    let mut minutes: BTreeMap<StepId, Decimal> = BTreeMap::new();
    for take in ground.book.thing(build.thing).takes.on(ground.day) {
        let sum = minutes.entry(take.step).or_default();
        *sum = plus(*sum, mul_div_to_nine(build.begun, take.minutes, take.per).ok()?)?;
    }
    Some(minutes)
}

/// The steps of all builds, by name, with the sum of what is expected.
pub(super) fn steps_of(ground: Ground<'_>, builds: &[Build]) -> Option<(Vec<PlanStep>, Fixed6)> {
    let mut planned: BTreeMap<StepId, Decimal> = BTreeMap::new();
    let mut expected: BTreeMap<StepId, Decimal> = BTreeMap::new();
    let mut best: BTreeMap<StepId, Option<Decimal>> = BTreeMap::new();
    for build in builds {
        for (step, minutes) in planned_minutes(ground, build)? {
            let sum = planned.entry(step).or_default();
            *sum = plus(*sum, minutes)?;
        }
        for (step, minutes) in expected_minutes(ground, build)? {
            let sum = expected.entry(step).or_default();
            *sum = plus(*sum, minutes)?;
            let of_build = build.learnt.best(step, build.good)?;
            // A step is at its best where each of its builds has been seen.
            let sum = best.entry(step).or_insert(Some(Decimal::ZERO));
            *sum = match (*sum, of_build) {
                (Some(sum), Some(best)) => Some(plus(sum, best)?),
                _ => None,
            };
        }
    }
    let mut all = Fixed6::ZERO;
    let mut rows = Vec::new();
    let steps: std::collections::BTreeSet<StepId> = planned.keys().chain(expected.keys()).copied().collect();
    for step in steps {
        let minutes = |of: &BTreeMap<StepId, Decimal>| Fixed6::round_from_decimal(of.get(&step).copied().unwrap_or_default());
        let took = minutes(&expected)?;
        all = all.checked_add(took)?;
        let best = match best.get(&step).copied().flatten() {
            Some(best) => Some(minutes_text(Fixed6::round_from_decimal(best)?)),
            None => None,
        };
        let named = &ground.book.step(step).named;
        rows.push(PlanStep {
            name: named.name.clone(),
            title: named.title.clone(),
            planned: minutes_text(minutes(&planned)?),
            expected: minutes_text(took),
            best,
        });
    }
    rows.sort_by(|a, b| a.name.cmp(&b.name));
    Some((rows, all))
}
