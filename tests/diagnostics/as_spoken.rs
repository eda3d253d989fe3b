//! Everyday events typed as a maker would say them: what the messages hand over, written in, makes a book without mistakes.

use chrono::NaiveDate;
use kerfbook::diagnostics::{Fix, Severity, corrected_lines};
use kerfbook::sources::{Loaded, SourceSet};

use crate::compiled::{Asked, Compiled, compile};

/// How often corrections are written in: a correction may show what stood behind a mistake.
const MOST_ROUNDS: usize = 4;

fn compiled(book: &str) -> Compiled {
    let mut sources = SourceSet::default();
    sources.add("2026-01.kerf", include_str!("as_spoken_2026-01.kerf")).expect("added");
    sources.add("book.kerf", book).expect("added");
    sources.add("shop.kerf", include_str!("as_spoken_shop.kerf")).expect("added");
    let today = NaiveDate::from_ymd_opt(2027, 2, 1);
    compile(Loaded { sources, damaged: Vec::new() }, Asked { today, file_exists: &|_| true, tax_year: None })
}

/// A book with the first correction of each of its mistakes, the last first; `None` where a mistake has none, or in another file.
fn corrected(book: &str, compiled: &Compiled) -> Option<String> {
    let sources = &compiled.sources;
    let start = sources.files().iter().find(|file| file.path == "book.kerf")?.span.start;
    let mistakes = compiled.found.iter().filter(|one| one.severity == Severity::Error);
    let mut fixes: Vec<&Fix> = mistakes.map(|one| one.fixes.first()).collect::<Option<_>>()?;
    fixes.sort_by_key(|fix| std::cmp::Reverse(fix.span.start));
    let mut text = book.to_owned();
    let mut written = usize::MAX;
    for fix in fixes {
        let mut lines = corrected_lines(sources, fix);
        // What a correction leaves to the reader, the reader fills in.
        for (open, said) in [("via NAME", "via winter-fair"), ("to NAME", "to \"somebody\""), ("\"NAME\"", "\"N-1\"")] {
            lines.text = lines.text.replace(open, said);
        }
        let from = usize::try_from(lines.span.start.checked_sub(start)?).ok()?;
        let to = usize::try_from(lines.span.end.checked_sub(start)?).ok()?;
        if to <= written {
            text.replace_range(from..to, &lines.text);
            written = from;
        }
    }
    Some(text)
}

/// What is left of a book after its corrections, and its mistakes; none where all is well.
fn after_corrections(book: &str) -> (String, Vec<String>) {
    let mut text = book.to_owned();
    for round in 0..=MOST_ROUNDS {
        let compiled = compiled(&text);
        let mistakes = compiled.found.iter().filter(|one| one.severity == Severity::Error);
        let mistakes: Vec<_> = mistakes.map(|one| format!("{} {}", one.code, one.message)).collect();
        if mistakes.is_empty() {
            return (text, mistakes);
        }
        match corrected(&text, &compiled).filter(|_| round < MOST_ROUNDS) {
            Some(further) => text = further,
            None => return (text, mistakes),
        }
    }
    (text, vec!["it never ends".to_owned()])
}

#[test]
fn the_book_of_these_events_has_no_mistakes() {
    assert_eq!(after_corrections("noted 2026-02-01 \"x\"\n").1, Vec::<String>::new());
}

#[test]
fn what_the_messages_hand_over_makes_the_book_right() {
    let mut wrong = Vec::new();
    for event in include_str!("as_spoken_events.txt").split("\n---\n") {
        let book = format!("noted 2026-02-01 \"x\"\n{}\n", event.trim_end());
        let (text, mistakes) = after_corrections(&book);
        if compiled(&book).is_sound() {
            wrong.push(format!("{event}\n  is no mistake"));
        }
        if !mistakes.is_empty() {
            wrong.push(format!("{event}\n  becomes\n{text}\n  with {mistakes:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}
