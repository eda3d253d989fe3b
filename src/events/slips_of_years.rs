//! A look over the dates as they were typed: last year's number in January, and days that are still to come.
//!
//! Before the book began such a date is a mistake. Later it shows only by its neighbours: an entry of a January between two entries
//! that are both of about the same days a year later. This is a warning; no figure looks at neighbours.

use chrono::{Datelike, Days, NaiveDate};

use crate::diagnostics::Diagnostics;
use crate::events::errors;
use crate::sources::{SourceSet, Span};
use crate::syntax::{Entry, SyntaxFile, Verb};

/// How many entries of days to come are told one by one.
const MANY: usize = 3;

/// How far from the same day of the next year a neighbour may stand.
const NEAR: Days = Days::new(45);

/// Looks over all entries as they stand in their files.
pub(crate) fn look_over(syntax: &SyntaxFile, sources: &SourceSet, today: Option<NaiveDate>, found: &mut Diagnostics) {
    if let Some(today) = today {
        look_for_days_to_come(syntax, today, found);
    }
    for around in syntax.entries.windows(3) {
        let [before, entry, after] = around else { continue };
        let Some(meant) = a_year_early(before, entry, after) else { continue };
        let same_file =
            sources.file_at(before.head.start).map(|file| file.span) == sources.file_at(after.head.start).map(|file| file.span);
        // One mistake is told once: what stands before the book, or before its batch began, has been told.
        let told = found.as_slice().iter().any(|one| one.primary.span == entry.date_span);
        if same_file && !told {
            found.push(errors::slips::last_years_number(entry.date_span, meant, after.head));
        }
    }
}

fn a_year_early(before: &Entry, entry: &Entry, after: &Entry) -> Option<NaiveDate> {
    let date = entry.date.filter(|date| date.month() == 1)?;
    if matches!(entry.verb, Verb::Opened | Verb::Changed | Verb::Odometer) {
        return None;
    }
    let meant = date.with_year(date.year().checked_add(1)?)?;
    let near = |other: &Entry| {
        let (from, to) = (meant.checked_sub_days(NEAR), meant.checked_add_days(NEAR));
        other.date.is_some_and(|day| Some(day) >= from && to.is_some_and(|to| day <= to))
    };
    (near(before) && near(after)).then_some(meant)
}

/// A day to come is told at its entry. Where many entries are of days to come, the book was written ahead, and one finding says so.
fn look_for_days_to_come(syntax: &SyntaxFile, today: NaiveDate, found: &mut Diagnostics) {
    let to_come = syntax.entries.iter().filter_map(|entry| Some((entry.date.filter(|day| *day > today)?, entry.date_span)));
    let mut to_come: Vec<(NaiveDate, Span)> = to_come.collect();
    to_come.sort_unstable();
    let told = if to_come.len() > MANY { 1 } else { to_come.len() };
    for (day, span) in to_come.iter().take(told) {
        found.push(errors::slips::in_the_future(*span, *day, today, to_come.len() - told));
    }
}
