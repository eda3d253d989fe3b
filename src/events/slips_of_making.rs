//! A look over what was made: pieces thrown away on the day on which they were made, and time at a step of a recipe that is put to nothing.
//!
//! In: all events in their order. Out: a warning for each line of pieces, and one for each such step. Must not: move a figure.

use rust_decimal::Decimal;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::{BoughtWhat, Event, EventKind, LeftHow, Output, errors};
use crate::names::{BatchId, ResolvedBook, StepId, Target, ThingId, ThingKind};
use crate::sources::{SourceSet, Span};
use crate::syntax::Verb;

/// What was made of a thing on a day: how many good pieces, and the last entry that says so.
type MadeOnDay = FxHashMap<ThingId, (Decimal, Span)>;

/// Looks over all events in their order.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    look_at_hours(events, sources, book, found);
    look_at_what_broke(events, book, found);
    look_at_beginnings(events, book, found);
}

/// Batches that are continued or finished though nothing began them, while others made of the same things are on the bench: a name that slipped.
fn look_at_beginnings(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let mut begun: FxHashSet<BatchId> = FxHashSet::default();
    let mut open: Vec<(BatchId, Span)> = Vec::new();
    for event in events {
        match &event.kind {
            EventKind::Opened(opened) => begun.extend(opened.on_batches.iter().map(|(batch, ..)| *batch)),
            EventKind::Bought(bought) => begun.extend(bought.lines.iter().filter_map(|line| match line.what {
                BoughtWhat::Batch(batch) => Some(batch),
                _ => None,
            })),
            EventKind::Worked(lines) => begun.extend(lines.iter().filter_map(|line| match line.on {
                Some(Target::Batch(batch)) => Some(batch),
                _ => None,
            })),
            EventKind::GaveUp(batch) => open.retain(|(one, _)| one != batch),
            EventKind::Batch(work) => {
                let is_new = begun.insert(work.batch);
                if is_new && matches!(event.verb, Verb::Continued | Verb::Finished) && !open.is_empty() {
                    let names: Vec<(&str, Span)> =
                        open.iter().map(|(one, head)| (book.batch(*one).name.as_str(), *head)).collect();
                    found.push(errors::meanings::never_begun(event.head, &book.batch(work.batch).name, &names));
                }
                match event.verb {
                    Verb::Started => open.push((work.batch, event.head)),
                    Verb::Finished => open.retain(|(one, _)| *one != work.batch),
                    _ => {}
                }
            }
            _ => {}
        }
    }
}

/// Time outside a batch that says of nothing what it was for, at a step that a recipe takes and that is not indirect.
fn look_at_hours(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let mut of_recipes: FxHashMap<StepId, &str> = FxHashMap::default();
    for thing in &book.things {
        let lists = thing.takes.changes().iter().map(|(_, list)| list).chain([thing.takes.first()]);
        for take in lists.flatten() {
            of_recipes.entry(take.step).or_insert(&thing.named.name);
        }
    }
    let mut told: FxHashSet<StepId> = FxHashSet::default();
    for event in events {
        let EventKind::Worked(lines) = &event.kind else { continue };
        // A remark says what it was for.
        let says_why = |span: Span| sources.text(sources.lines_of(span)).contains('"');
        let unsaid = lines.iter().filter(|line| line.on.is_none() && !says_why(line.span));
        for line in unsaid.filter(|line| !*book.step(line.step).indirect.on(event.date)) {
            let Some(product) = of_recipes.get(&line.step) else { continue };
            if told.insert(line.step) {
                let time = sources.text(line.span).split(&book.step(line.step).named.name).next().unwrap_or_default();
                found.push(errors::meanings::hours_on_nothing(line.span, time.trim(), &book.step(line.step).named.name, product));
            }
        }
    }
}

fn look_at_what_broke(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let mut made: MadeOnDay = FxHashMap::default();
    let mut day = None;
    for event in events {
        if day != Some(event.date) {
            day = Some(event.date);
            made.clear();
        }
        match &event.kind {
            EventKind::Batch(work) => {
                for line in &work.made {
                    let Output::Thing(thing) = line.what else { continue };
                    let so_far = made.entry(thing).or_insert((Decimal::ZERO, event.head));
                    *so_far = (so_far.0.saturating_add(line.quantity), event.head);
                }
            }
            EventKind::Left(left) if left.how == LeftHow::Scrapped => {
                for line in &left.lines {
                    let thing = book.thing(line.goods.thing);
                    let of_today = made.get(&line.goods.thing).filter(|_| thing.kind == ThingKind::Product);
                    if let Some((good, batch)) = of_today.filter(|(good, _)| line.goods.quantity <= *good) {
                        let broken = line.goods.quantity;
                        let figures = (good.saturating_sub(broken).normalize(), broken.normalize());
                        found.push(errors::meanings::scrapped_as_made(line.goods.span, *batch, &thing.named.name, figures));
                    }
                }
            }
            _ => {}
        }
    }
}
