//! Hired time as an entry has it: whose, of what day, and what it costs.
//!
//! In: all events. Out: for each helper the entries with that helper's time, in their order. Must not: move a figure.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::events::{Event, EventKind, TimeLine, Worker};
use crate::names::{HelperId, LabelId};
use crate::sources::Span;
use crate::units::Fixed6;

/// The time of one helper in one entry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct HiredTime {
    /// The helper, where defined.
    pub(crate) helper: Option<HelperId>,
    /// The day.
    pub(crate) date: NaiveDate,
    /// What the entry's lines of this helper cost together.
    pub(crate) pay: Fixed6,
    /// Whether it is owed until paid.
    pub(crate) paid_later: bool,
    /// The first of these lines.
    pub(crate) line: Span,
}

/// All hired time by the name of who worked.
pub(crate) fn hired_times(events: &[Event]) -> BTreeMap<LabelId, Vec<HiredTime>> {
    let mut times: BTreeMap<LabelId, Vec<HiredTime>> = BTreeMap::new();
    for event in events {
        let lines: &[TimeLine] = match &event.kind {
            EventKind::Worked(lines) => lines,
            EventKind::Batch(work) => &work.took,
            _ => continue,
        };
        let mut of_entry: Vec<(LabelId, HiredTime)> = Vec::new();
        for line in lines {
            let Worker::Hired { helper, name, pay, paid_later, .. } = line.worker else { continue };
            match of_entry.iter_mut().find(|(one, _)| *one == name) {
                Some((_, time)) => time.pay = time.pay.checked_add(pay).unwrap_or(time.pay),
                None => of_entry.push((name, HiredTime { helper, date: event.date, pay, paid_later, line: line.span })),
            }
        }
        of_entry.into_iter().for_each(|(name, time)| times.entry(name).or_default().push(time));
    }
    times
}

/// The entry that a payment of a sum on a day is probably for: one of the same sum before any other, then the nearest day.
pub(crate) fn nearest_time(times: &[HiredTime], money: Fixed6, day: NaiveDate) -> Option<&HiredTime> {
    let of_worth = times.iter().filter(|time| time.pay.is_positive());
    of_worth.min_by_key(|time| (time.pay != money, (time.date - day).abs(), time.line))
}
