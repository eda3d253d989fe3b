//! Answers that answer nothing: to a question that no year asks, to one that a later answer of the same year takes back, and to
//! one that only the year before asks and has answered itself.
//!
//! An answer counts for the tax year of its date, and for the year before where that has none of its own. Must not: tell
//! anything of a year that was not figured.

use std::collections::BTreeMap;

use chrono::Datelike;

use crate::diagnostics::{Diagnostics, did_you_mean};
use crate::events::EventKind;
use crate::year::questions::unquoted;
use crate::year::{Books, TaxYear, errors};

/// Warns of the answers that have no effect in the years of a book.
pub fn tell_loose_answers(books: Books<'_>, years: &[TaxYear], found: &mut Diagnostics) {
    let mut given = BTreeMap::new();
    for event in &books.log.events {
        let EventKind::Answered { question, answer } = event.kind else { continue };
        let (name, text) = (unquoted(books.sources.text(question)), unquoted(books.sources.text(answer)));
        let year = event.date.year();
        let asking: Vec<&TaxYear> =
            years.iter().filter(|one| one.year == year || Some(one.year) == year.checked_sub(1)).collect();
        if asking.is_empty() {
            continue;
        }
        let names = || asking.iter().flat_map(|one| &one.questions).map(|one| one.name.as_str());
        if !names().any(|known| known == name) {
            let near = did_you_mean(name, names());
            let years: Vec<i32> = asking.iter().map(|one| one.year).collect();
            found.push(errors::answers_nothing(question, name, &years, near));
            continue;
        }
        let own = asking.iter().find(|one| one.year == year);
        if own.is_none_or(|own| own.questions.iter().all(|known| known.name != name))
            && let Some((before, first)) = year.checked_sub(1).and_then(|before| given.get(&(before, name)))
        {
            if *before != text {
                found.push(errors::answered_the_year_before(event.head, *first, name, year, own.is_some()));
            }
            continue;
        }
        if let Some((before, first)) = given.insert((year, name), (text, event.head))
            && before != text
        {
            found.push(errors::answered_twice(event.head, first, name));
        }
    }
}
