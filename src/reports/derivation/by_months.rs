//! Long lists of steps by their months, so that a reader sees first when, and a site can tell a month on a page of its own.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use super::Step;

/// A year and its month.
pub(super) type Month = (i32, u32);

/// Parts of a column that are told one by one; of more, their months are.
const MOST_PARTS: usize = 24;
/// Lots and entries that are told one by one, where they are all that a reader asked for.
const MOST_ENTRIES: usize = 60;

/// The month of a day.
pub(super) fn month_of(day: NaiveDate) -> Month {
    (day.year(), day.month())
}

/// Parts of a column with their months: as they are where they are few, else a step for each month. `None` on overflow.
pub(super) fn by_months(steps: Vec<(Month, Step)>) -> Option<Vec<Step>> {
    if steps.len() <= MOST_PARTS { Some(without_months(steps)) } else { months_of(steps) }
}

/// Lots or entries with their months, of which more are told one by one. `None` on overflow.
pub(super) fn entries_by_months(steps: Vec<(Month, Step)>) -> Option<Vec<Step>> {
    if steps.len() <= MOST_ENTRIES { Some(without_months(steps)) } else { months_of(steps) }
}

fn without_months(steps: Vec<(Month, Step)>) -> Vec<Step> {
    steps.into_iter().map(|(_, step)| step).collect()
}

fn months_of(steps: Vec<(Month, Step)>) -> Option<Vec<Step>> {
    let mut months: BTreeMap<Month, Vec<Step>> = BTreeMap::new();
    for (month, step) in steps {
        months.entry(month).or_default().push(step);
    }
    let of_month = |((year, month), steps)| {
        let says = format!("in {year:04}-{month:02}");
        Some(Step { month: Some((year, month)), ..Step::sum_of(says, steps)? })
    };
    months.into_iter().map(of_month).collect()
}
