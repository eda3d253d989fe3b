//! Hours worked in a period, by step: into batches, and on lines, channels and the shop at large.

use std::collections::BTreeMap;

use crate::costing::{CostedBook, Flow};
use crate::names::{ResolvedBook, StepId};
use crate::reports::period::minutes_text;
use crate::reports::{Period, StepHours};
use crate::units::Fixed6;

/// Minutes at a step: the owner's, and bought in.
#[derive(Clone, Copy, Debug, Default)]
struct Worked {
    own: Fixed6,
    bought_in: Fixed6,
}

impl Worked {
    fn add(&mut self, own: Fixed6, bought_in: Fixed6) -> Option<()> {
        self.own = self.own.checked_add(own)?;
        self.bought_in = self.bought_in.checked_add(bought_in)?;
        Some(())
    }
}

/// Every step that was worked at, the most minutes first, then by name. Minutes that an entry gave no step have none. `None` where a sum is
/// too large to be carried.
pub(crate) fn hours_by_step(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<Vec<StepHours>> {
    let mut by_step: BTreeMap<Option<StepId>, Worked> = BTreeMap::new();
    for hour in costed.hours.iter().filter(|hour| period.covers(hour.date)) {
        let (own, bought_in) = if hour.own { (hour.minutes, Fixed6::ZERO) } else { (Fixed6::ZERO, hour.minutes) };
        by_step.entry(Some(hour.step)).or_default().add(own, bought_in)?;
    }
    for movement in costed.movements.iter().filter(|one| one.flow == Flow::Time && period.covers(one.date)) {
        for one in movement.vector.minutes() {
            by_step.entry(one.step).or_default().add(one.own, one.bought_in)?;
        }
    }
    let mut steps = Vec::with_capacity(by_step.len());
    for (step, worked) in by_step {
        let both = worked.own.checked_add(worked.bought_in)?;
        if both.is_zero() {
            continue;
        }
        let (name, title) = match step {
            Some(step) => {
                let named = &book.step(step).named;
                (Some(named.name.clone()), named.title.clone())
            }
            None => (None, "No step named".to_owned()),
        };
        let row =
            StepHours { name, title, own_minutes: minutes_text(worked.own), bought_in_minutes: minutes_text(worked.bought_in) };
        steps.push((both, row));
    }
    steps.sort_by(|(a, one), (b, other)| b.cmp(a).then_with(|| one.name.cmp(&other.name)));
    Some(steps.into_iter().map(|(_, row)| row).collect())
}
