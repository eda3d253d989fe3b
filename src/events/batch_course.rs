//! The course of each batch over all its entries: started once and first, built once.
//!
//! What stands against it is told and moves nothing, so that the engine sees each batch begin, go on and end. Work on a batch that is
//! done is the engine's matter, since it knows what was aimed at and reached.

use chrono::{Datelike, NaiveDate};
use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::build::verb_of;
use crate::events::{BatchWork, Event, EventKind, Output, errors};
use crate::names::{BatchId, ResolvedBook, ThingId};
use crate::sources::{SourceSet, Span};
use crate::syntax::{Entry, HeadPart, SyntaxFile, Verb};

/// What became uncertain by entries that were left out.
pub(crate) struct LeftOut<'d> {
    pub(crate) things: &'d mut FxHashMap<ThingId, NaiveDate>,
    pub(crate) batches: &'d mut FxHashSet<BatchId>,
}

/// Checks the course of each batch, and takes out the entries that stand against it.
pub(crate) fn check_courses(
    events: &mut Vec<Event>,
    sources: &SourceSet,
    syntax: &SyntaxFile,
    book: &ResolvedBook,
    mut doubts: LeftOut<'_>,
    found: &mut Diagnostics,
) {
    let mut started: FxHashMap<BatchId, (NaiveDate, Span)> = FxHashMap::default();
    for event in events.iter() {
        if let (EventKind::Batch(work), Verb::Started) = (&event.kind, event.verb) {
            started.entry(work.batch).or_insert((event.date, event.head));
        }
    }
    let mut built: FxHashMap<BatchId, (NaiveDate, Span)> = FxHashMap::default();
    let mut out: FxHashSet<usize> = FxHashSet::default();
    for (at, event) in events.iter().enumerate() {
        if let EventKind::GaveUp(batch) = event.kind {
            let begins = started.get(&batch).map(|(day, first)| (*day, *first));
            let batch = book.batch(batch);
            let begins = begins.or_else(|| Some((batch.first_day?, batch.span)));
            if let Some((day, first)) = begins.filter(|(day, _)| event.date < *day) {
                let span = date_span(syntax, event.head);
                found.push(errors::goods::given_up_too_early(span, &batch.name, first, day));
                out.insert(at);
            }
            continue;
        }
        let EventKind::Batch(work) = &event.kind else { continue };
        let name = &book.batch(work.batch).name;
        let told = match (event.verb, started.get(&work.batch)) {
            (Verb::Started, Some((day, first))) if *first != event.head => {
                Some(errors::goods::started_twice(event.head, name, *first, *day))
            }
            (Verb::Continued | Verb::Finished | Verb::Built, Some((day, first))) if event.date < *day => {
                let next = event.date.with_year(event.date.year().saturating_add(1)).filter(|next| next >= day);
                let span = date_span(syntax, event.head);
                let verb = verb_of(sources, event.head);
                Some(errors::goods::continued_too_early(span, verb, name, *day, next).also(*first, "started here"))
            }
            (Verb::Built, _) => match built.get(&work.batch) {
                Some((day, first)) => {
                    let code = code_span(syntax, event.head);
                    Some(errors::goods::built_twice(code, name, *first, *day, next_free(book, name)))
                }
                None => {
                    built.insert(work.batch, (event.date, event.head));
                    None
                }
            },
            _ => None,
        };
        if let Some(told) = told {
            found.push(told);
            out.insert(at);
            doubt(&mut doubts, event.date, work);
        }
    }
    if !out.is_empty() {
        let mut at = 0;
        events.retain(|_| {
            at += 1;
            !out.contains(&(at - 1))
        });
    }
}

/// The entry of a head line.
fn entry_of(syntax: &SyntaxFile, head: Span) -> Option<&Entry> {
    let at = syntax.entries.partition_point(|entry| entry.head.start < head.start);
    syntax.entries.get(at).filter(|entry| entry.head == head)
}

/// Where the day of an entry stands.
fn date_span(syntax: &SyntaxFile, head: Span) -> Span {
    entry_of(syntax, head).map_or(head, |entry| entry.date_span)
}

/// Where the code of an entry's batch stands.
fn code_span(syntax: &SyntaxFile, head: Span) -> Span {
    let parts = entry_of(syntax, head).map(|entry| entry.parts.as_slice()).unwrap_or_default();
    parts.iter().find_map(|(part, _)| if let HeadPart::Batch(code) = part { Some(*code) } else { None }).unwrap_or(head)
}

fn doubt(doubts: &mut LeftOut<'_>, day: NaiveDate, work: &BatchWork) {
    doubts.batches.insert(work.batch);
    let outputs = work.made.iter().map(|line| line.what).chain(work.aims.iter().map(|(what, ..)| *what));
    let made = outputs.filter_map(|what| if let Output::Thing(thing) = what { Some(thing) } else { None });
    let moved = work.used.iter().map(|line| line.thing).chain(work.kept.iter().map(|line| line.thing));
    for thing in made.chain(moved) {
        let since = doubts.things.entry(thing).or_insert(day);
        *since = (*since).min(day);
    }
}

/// The next name of a series that no batch has: `CB-003` after `CB-001` where `CB-002` is taken. `None` where the name has no number.
fn next_free(book: &ResolvedBook, name: &str) -> Option<String> {
    let digits = name.len() - name.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let (stem, number) = name.split_at(name.len() - digits);
    let number: u64 = number.parse().ok()?;
    (1..=10_000u64).find_map(|step| {
        let next = format!("{stem}{:0digits$}", number.checked_add(step)?);
        book.batch_id(&next).is_none().then_some(next)
    })
}
