//! The place that is home: where things come to and leave from unless an entry says otherwise.
//!
//! A place that says `home`, else the only place that is not also a channel. Where there is no such place, or more than one, that
//! is a mistake as soon as an entry needs it; it is told once, at the first such entry.

use crate::diagnostics::Diagnostics;
use crate::names::errors::defining;
use crate::names::spelling::normalised;
use crate::names::{Known, PlaceId, ResolvedBook};
use crate::sources::{SourceSet, Span};
use crate::syntax::{Entry, HeadPart, SyntaxFile, Verb};

/// Finds the home place, and tells where it is needed and isn't known.
pub(crate) fn find_home(
    sources: &SourceSet,
    book: &ResolvedBook,
    syntax: &SyntaxFile,
    found: &mut Diagnostics,
) -> Option<PlaceId> {
    let id = |at: usize| u32::try_from(at).ok().map(PlaceId);
    let mut said: Vec<usize> = (0..book.places.len()).filter(|at| book.places.get(*at).is_some_and(|place| place.home)).collect();
    said.sort_by_key(|at| book.places.get(*at).map(|place| place.named.span));
    if let [first, others @ ..] = said.as_slice() {
        for other in others {
            if let (Some(first), Some(other)) = (book.places.get(*first), book.places.get(*other)) {
                found.push(defining::second_home(other, first));
            }
        }
        return id(*first);
    }
    let own: Vec<usize> = (0..book.places.len())
        .filter(|at| {
            book.places.get(*at).is_some_and(|place| !matches!(book.table.get(&place.named.name), Some(Known::Channel(_))))
        })
        .collect();
    if let [only] = own.as_slice() {
        return id(*only);
    }
    // A place whose definition could not be read may be the one.
    let poisoned = book.places.iter().any(|place| place.named.incomplete)
        || syntax.poisoned_names.iter().any(|name| names_a_place(sources, *name));
    if !poisoned
        && let Some(needed) = syntax.entries.iter().filter(|entry| needs_home(sources, book, entry)).map(|entry| entry.head).min()
    {
        let places: Vec<&str> = own.iter().filter_map(|at| book.places.get(*at)).map(|place| place.named.name.as_str()).collect();
        found.push(defining::no_home(needed, &places));
    }
    None
}

/// Whether an unread name stands behind the word `place`.
fn names_a_place(sources: &SourceSet, name: Span) -> bool {
    let line = Span::new(sources.lines_of(name).start, name.start);
    sources.text(line).trim() == "place"
}

/// Whether an entry stands at home for want of another place.
fn needs_home(sources: &SourceSet, book: &ResolvedBook, entry: &Entry) -> bool {
    if entry.damaged || entry.date.is_none() {
        return false;
    }
    let says = |is: fn(&HeadPart) -> bool| entry.parts.iter().any(|(part, _)| is(part));
    let at = says(|part| matches!(part, HeadPart::At(_)));
    match entry.verb {
        Verb::Opened
        | Verb::Bought
        | Verb::Built
        | Verb::Started
        | Verb::Continued
        | Verb::Finished
        | Verb::BroughtBack
        | Verb::Returned
        | Verb::SentBack
        | Verb::Counted
        | Verb::TookHome
        | Verb::Gave
        | Verb::UsedUp
        | Verb::Found
        | Verb::Contributed
        | Verb::Swapped => !at,
        Verb::Scrapped => !at && !says(|part| matches!(part, HeadPart::Batch(_))),
        Verb::Sent => !at && !says(|part| matches!(part, HeadPart::From(_))),
        Verb::Sold => !at && !sold_at_a_place(sources, book, entry),
        // What a step wears outside a batch leaves home.
        Verb::Worked => book.steps.iter().any(|step| !step.wears.first().is_empty() || !step.wears.changes().is_empty()),
        _ => false,
    }
}

/// Whether a sale's channel is a place, from which its goods leave.
fn sold_at_a_place(sources: &SourceSet, book: &ResolvedBook, entry: &Entry) -> bool {
    entry.parts.iter().any(|(part, _)| match part {
        HeadPart::Via(channel) => book.place_table.contains_key(normalised(sources.text(*channel)).as_ref()),
        _ => false,
    })
}
