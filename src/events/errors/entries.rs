//! Wording: what an entry as a whole says or lacks.

use chrono::NaiveDate;

use crate::diagnostics::Diagnostic;
use crate::events::errors as code;
use crate::sources::Span;

pub(crate) fn not_a_distance(span: Span, text: &str) -> Diagnostic {
    let told = Diagnostic::new(
        code::NOT_A_DISTANCE,
        span,
        format!("`{text}` is no distance: miles are written `38 mi`, kilometres `61 km`"),
    );
    let (number, unit) = text.split_once(char::is_whitespace).map_or((text, ""), |(number, unit)| (number, unit.trim_start()));
    match unit {
        "mile" | "miles" => told.fix("in miles", span, format!("{number} mi")).sure(),
        "kilometre" | "kilometres" | "kilometer" | "kilometers" => told.fix("in kilometres", span, format!("{number} km")).sure(),
        _ => told,
    }
}

pub(crate) fn one_receipt_a_line(span: Span) -> Diagnostic {
    Diagnostic::new(code::SAID_TWICE, span, "a sum settles one bill; give each bill a line and a sum of its own")
}

pub(crate) fn order_named_twice(span: Span, order: &str) -> Diagnostic {
    Diagnostic::new(code::SAID_TWICE, span, format!("`{order}` is named twice in this line"))
}

/// `home` is the head as `took-home`, where its lines may stand under that.
pub(crate) fn gave_without_reason(span: Span, head: &str, home: Option<String>) -> Diagnostic {
    let message = "goods that the shop gives away say why: `as sample`, `as gift`, `as thanks` or `as donation`";
    let told = Diagnostic::new(code::GAVE_WITHOUT_REASON, span, message)
        .note("what goes to house, family or friends is no gift of the shop's: it is taken home");
    let told = match home {
        Some(home) => told.fix("for house, family or friends", span, home),
        None => told.note("`took-home` lines say no `worth`"),
    };
    let told = told.fix("to somebody the shop deals with", span, format!("{head} as gift"));
    told.fix("or to what serves the public", span, format!("{head} as donation"))
}

pub(crate) fn same_place(span: Span, place: &str) -> Diagnostic {
    Diagnostic::new(code::SAME_PLACE, span, format!("the goods are sent from `{place}` to `{place}`"))
        .note("`sent` leaves home unless it says `from PLACE`; `brought-back` comes home unless it says `at PLACE`")
}

/// How many days after the book's first one a day is likely that was typed with the last year's number.
const HALF_A_YEAR: i64 = 183;

/// How many days before the book's first one a day is likely its own first.
const SOME_DAYS: i64 = 45;

/// `opened` is the day of the book's first `opened` and its place, `meant` the same day a year later where it is in the book.
pub(crate) fn before_the_book(span: Span, written: NaiveDate, opened: (NaiveDate, Span), meant: Option<NaiveDate>) -> Diagnostic {
    let (began, place) = opened;
    let told = Diagnostic::new(code::BEFORE_THE_BOOK, span, format!("this is before the book began on {began}"))
        .also(place, "opened here");
    // A day just before the first is no slip of the year.
    match meant.filter(|day| day.signed_duration_since(began).num_days() < HALF_A_YEAR) {
        Some(day) => told.fix("take the year that is meant", span, day.to_string()),
        None if began.signed_duration_since(written).num_days() <= SOME_DAYS => told
            .note("goods that were there before are part of `opened`; a bill that was paid before belongs in the books of that time")
            .fix("where the shop began on that day, open the book on it", place, written.to_string()),
        None => told.note("what was there before is part of `opened`"),
    }
}

pub(crate) fn file_missing(span: Span, path: &str) -> Diagnostic {
    Diagnostic::new(code::FILE_MISSING, span, format!("there is no file `{path}` in the book's folder"))
        .note("a path begins at the book's folder and has `/` between its parts")
}

pub(crate) fn no_lines(span: Span, verb: &str) -> Diagnostic {
    Diagnostic::new(code::NO_LINES, span, format!("`{verb}` says nothing under its head, so nothing happens"))
}

/// A line `expected` in an entry of which nothing is warned.
pub(crate) fn nothing_expected(line: Span) -> Diagnostic {
    no_effect_here(line, "`expected`", "nothing is warned of in this entry, so the line can go")
}

pub(crate) fn no_effect_here(span: Span, words: &str, why: &str) -> Diagnostic {
    Diagnostic::new(code::NO_EFFECT_HERE, span, format!("{words} has no effect here: {why}"))
}

pub(crate) fn no_effect_yet(span: Span, what: &str) -> Diagnostic {
    Diagnostic::new(code::NO_EFFECT_YET, span, format!("{what} is read and checked, and has no effect on any figure yet"))
}
