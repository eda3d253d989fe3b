//! What stands in the way of a report: mistakes in the book, a proof that doesn't come out, a figure too large.

use chrono::Datelike;

use super::compile::Compiled;
use super::outcome::{Outcome, Status};
use super::streams::Streams;
use crate::diagnostics::{Diagnostics, Severity, render_text};
use crate::reports::Period;
use crate::sources::SourceSet;
use crate::year::years_that_count;

/// How many mistakes are told before a report that they prevent.
const MOST_TOLD: usize = 50;

/// What stands in the way of a report of a compiled book; `None` where nothing does.
pub(super) fn stands_in_the_way(compiled: &Compiled, streams: &Streams) -> Option<Outcome> {
    if compiled.found.has_errors() {
        return Some(mistakes(&compiled.sources, compiled.found.clone(), streams));
    }
    (!compiled.costed.proof.holds()).then(proof_fails)
}

/// Why a book says nothing of the days that were asked for; `None` where it does.
pub(super) fn says_nothing_of(compiled: &Compiled, days: Period) -> Option<Outcome> {
    let (first, last) = (compiled.log.first_day?, compiled.costed.until?);
    if let Some(to) = days.to.filter(|to| *to < first) {
        return Some(Outcome::refused(format!("the book begins on {first}, so it says nothing of {to}")));
    }
    // What was paid ahead may be meant for a later year.
    let years = years_that_count(compiled.books())?;
    let from = days.from.filter(|from| *from > last && (days.to.is_none() || from.year() > *years.end()))?;
    Some(Outcome::refused(format!("the last entry of the book is of {last}, so it says nothing from {from} on")))
}

/// Why a book has no tax year that was asked for; `None` where it may have one. A book whose shop names no form is told that
/// instead.
pub(super) fn says_nothing_of_year(compiled: &Compiled, year: i32) -> Option<Outcome> {
    let (first, last) = (compiled.log.first_day?.year(), compiled.costed.until?.year());
    compiled.book.shop.tax_form.as_ref()?;
    let counting = years_that_count(compiled.books())?;
    let words = |first: i32, last: i32| if first == last { first.to_string() } else { format!("{first} to {last}") };
    let entries = words(first, last);
    let counts = match counting == (first..=last) {
        true => String::new(),
        false => format!(", and what they hold counts in {}", words(*counting.start(), *counting.end())),
    };
    (!counting.contains(&year))
        .then(|| Outcome::refused(format!("the book says nothing of {year}; its entries are of {entries}{counts}")))
}

/// The mistakes of a book as they are told before a report that they prevent.
pub(super) fn mistakes(sources: &SourceSet, found: Diagnostics, streams: &Streams) -> Outcome {
    let told: Vec<_> = found.into_sorted().into_iter().filter(|one| one.severity == Severity::Error).collect();
    let count = told.len();
    let mut err = render_text(sources, told.get(..MOST_TOLD).unwrap_or(&told), streams.err.style());
    if count > MOST_TOLD {
        err.push_str(&format!("and {} more; `kerfbook check --as short` tells each in a line\n\n", count - MOST_TOLD));
    }
    let words = if count == 1 { "one mistake".to_owned() } else { format!("{count} mistakes") };
    err.push_str(&format!("{words} in the book, so there is no report\n"));
    Outcome { out: String::new(), more: Vec::new(), err, status: Status::Mistakes }
}

/// The proof doesn't come out at zero though the book has no mistake: nothing may be shown.
pub(super) fn proof_fails() -> Outcome {
    Outcome::refused(
        "the proof does not come out at zero. This is a fault of the program, not of the book; no report is made, \
         since none could be relied on. Please report it",
    )
}

/// A figure is larger than can be carried.
pub(super) fn too_large() -> Outcome {
    Outcome::refused("a figure of this report is larger than can be carried; a shorter time may have a report")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::streams::Stream;
    use crate::diagnostics::{Code, Diagnostic};
    use crate::sources::Span;

    #[test]
    fn a_mistake_that_was_found_twice_is_told_and_counted_once() {
        let mut sources = SourceSet::default();
        sources.add("book.kerf", "noted 2026-03-02\n").expect("short");
        let mut found = Diagnostics::default();
        for code in [100, 100, 101] {
            found.push(Diagnostic::new(Code(code), Span::new(0, 5), "this is wrong"));
        }
        let plain = Stream { colours: false, width: None };
        let told = mistakes(&sources, found, &Streams { out: plain, err: plain });
        assert!(told.err.ends_with("2 mistakes in the book, so there is no report\n"), "{}", told.err);
        assert_eq!(told.err.matches("this is wrong").count(), 2);
    }
}
