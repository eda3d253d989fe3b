//! Recipes that need themselves, and offcuts of themselves, through however many others.
//!
//! In: the things of a book. Out: one finding for each ring. A ring counts only if all its recipes are in force on one day.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use crate::diagnostics::Diagnostics;
use crate::names::errors::recipes;
use crate::names::{Thing, ThingId};
use crate::sources::Span;

/// Tells every ring of recipes and every ring of offcuts.
pub(crate) fn tell_rings(things: &[Thing], found: &mut Diagnostics) {
    let mut told = BTreeSet::new();
    // Over all days at once first, since most books have no ring at all.
    let ever = |at: usize| {
        let needs = things.get(at).map(|thing| &thing.needs);
        needs.map_or_else(Vec::new, |needs| {
            needs
                .first()
                .iter()
                .chain(needs.changes().iter().flat_map(|(_, list)| list))
                .map(|need| (need.thing, need.span))
                .collect()
        })
    };
    let suspects = rings(things.len(), &ever);
    if !suspects.is_empty() {
        let mut days: BTreeSet<Option<NaiveDate>> = BTreeSet::from([None]);
        let in_ring: BTreeSet<usize> = suspects.iter().flatten().map(|(at, _)| *at).collect();
        for thing in in_ring.iter().filter_map(|at| things.get(*at)) {
            days.extend(thing.needs.changes().iter().map(|(day, _)| Some(*day)));
        }
        for day in days {
            let on_day = |at: usize| {
                let needs = things.get(at).map(|thing| day.map_or_else(|| thing.needs.first(), |day| thing.needs.on(day)));
                needs.map_or_else(Vec::new, |needs| needs.iter().map(|need| (need.thing, need.span)).collect())
            };
            for ring in rings(things.len(), &on_day) {
                if told.insert(ring.iter().map(|(at, _)| *at).collect::<BTreeSet<_>>()) {
                    found.push(recipes::ring(things, &ring, day));
                }
            }
        }
    }
    let from = |at: usize| {
        let thing = things.get(at);
        thing.and_then(|thing| thing.from.map(|from| (from, thing.named.span))).into_iter().collect()
    };
    for ring in rings(things.len(), &from) {
        found.push(recipes::ring_of_offcuts(things, &ring));
    }
}

/// A ring: each thing with the place at which it names the next.
pub(crate) type Ring = Vec<(usize, Span)>;

/// A step of the walk.
struct OnTheWay {
    at: usize,
    leads_to: Vec<(ThingId, Span)>,
    /// How many of these were walked.
    walked: usize,
}

/// Finds rings by walking in depth, without recursion, so that a chain may be as long as it likes. Each thing is walked once, so
/// of rings that share a thing at least one is found.
fn rings(count: usize, next: &dyn Fn(usize) -> Vec<(ThingId, Span)>) -> Vec<Ring> {
    #[derive(Clone, Copy, PartialEq)]
    enum Seen {
        Not,
        OnTheWay,
        Done,
    }
    let mut seen = vec![Seen::Not; count];
    let mut found = Vec::new();
    for start in 0..count {
        if seen.get(start) != Some(&Seen::Not) {
            continue;
        }
        let mut way = vec![OnTheWay { at: start, leads_to: next(start), walked: 0 }];
        if let Some(slot) = seen.get_mut(start) {
            *slot = Seen::OnTheWay;
        }
        while let Some(step) = way.last_mut() {
            let Some((to, _)) = step.leads_to.get(step.walked).copied() else {
                if let Some(slot) = seen.get_mut(step.at) {
                    *slot = Seen::Done;
                }
                way.pop();
                continue;
            };
            step.walked += 1;
            let to = to.index();
            match seen.get(to) {
                Some(Seen::Not) => {
                    if let Some(slot) = seen.get_mut(to) {
                        *slot = Seen::OnTheWay;
                    }
                    way.push(OnTheWay { at: to, leads_to: next(to), walked: 0 });
                }
                Some(Seen::OnTheWay) => {
                    let ring = way.iter().skip_while(|step| step.at != to).filter_map(|step| {
                        let (_, span) = step.leads_to.get(step.walked.checked_sub(1)?)?;
                        Some((step.at, *span))
                    });
                    found.push(ring.collect());
                }
                Some(Seen::Done) | None => {}
            }
        }
    }
    found
}
