//! Steps for which a recipe says another time by now than on the day on which a batch was started, so that what that batch took is no measure as it is.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::explode::Ground;
use super::hours::planned_on;
use super::planned::Planned;
use crate::names::{StepId, ThingId};

/// What the recipes say for all pieces that a batch began, in minutes; none where a recipe hasn't the step.
#[derive(Clone, Copy, Debug)]
pub(crate) struct OtherTime {
    /// The recipe of the plan's day.
    pub(crate) now: Decimal,
    /// The recipe of the batch's day.
    pub(crate) then: Decimal,
}

impl OtherTime {
    /// Whether the recipe had the step, and has it no more.
    pub(super) fn is_dropped(&self) -> bool {
        self.now.is_zero()
    }
}

/// They of a batch that was started on a day and began so many pieces. `None` where a figure is too large to be carried.
pub(super) fn other_times(
    ground: Ground<'_>,
    (product, begun): (ThingId, Decimal),
    day: NaiveDate,
) -> Option<BTreeMap<StepId, OtherTime>> {
    if changed_since(ground, product, day).is_none() {
        return Some(BTreeMap::new());
    }
    let (now, then) = (planned_on(ground, (product, begun), ground.day)?, planned_on(ground, (product, begun), day)?);
    let steps: BTreeSet<StepId> = now.keys().chain(then.keys()).copied().collect();
    let of = |minutes: &BTreeMap<StepId, Decimal>, step| minutes.get(step).copied().unwrap_or_default();
    let other = steps.iter().map(|step| (*step, OtherTime { now: of(&now, step), then: of(&then, step) }));
    Some(other.filter(|(_, other)| other.now != other.then).collect())
}

/// When the times of a recipe were changed last, after a day and up to the plan's.
fn changed_since(ground: Ground<'_>, product: ThingId, day: NaiveDate) -> Option<NaiveDate> {
    let changes = ground.book.thing(product).takes.changes().iter().map(|(on, _)| *on);
    changes.rev().find(|on| day < *on && *on <= ground.day)
}

/// What a reader must know of recipes whose times have changed since the batches that are learnt from.
pub(super) fn of_other_times(planned: &Planned<'_>) -> Vec<String> {
    let (ground, book) = (planned.ground, planned.books.book);
    let mut notes = Vec::new();
    for build in &planned.builds {
        let (mut scaled, mut dropped, mut new) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
        let mut since = None;
        for one in &build.learnt.from {
            let Some(account) = ground.costed.batches.get(one.batch.index()) else { continue };
            for (step, other) in &one.other_times {
                if other.is_dropped() {
                    dropped.extend(Some(*step).filter(|step| account.time.iter().any(|item| item.step == *step)));
                } else if !other.then.is_zero() && one.minutes.contains_key(step) {
                    scaled.insert(*step);
                } else if other.then.is_zero() && !build.learnt.teaches(*step) {
                    new.insert(*step);
                }
                since = since.max(account.started.and_then(|day| changed_since(ground, build.thing, day)));
            }
        }
        let says = [
            (scaled, "what earlier batches took at", "counts as much longer or shorter as the recipe now says"),
            (dropped, "what earlier batches took at", "is left out, since the recipe has it no more"),
            (new, "the time at", "is the recipe's, which got it since"),
        ];
        let says = says.into_iter().filter(|(steps, _, _)| !steps.is_empty()).map(|(steps, before, after)| {
            let titles: Vec<&str> = steps.iter().map(|step| book.step(*step).named.title.as_str()).collect();
            format!("{before} {} {after}", titles.join(", "))
        });
        let says: Vec<String> = says.collect();
        if let Some(since) = since.filter(|_| !says.is_empty()) {
            let title = &book.thing(build.thing).named.title;
            notes.push(format!("the recipe of {title} says other times since {since}: {}", says.join("; ")));
        }
    }
    notes
}
