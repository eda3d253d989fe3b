//! A look over products that are counted in pairs: a pair is two, each with the recipe and the price of one.
//!
//! In: all events in their order. Out: a warning for the first such line of each product. Must not: move a figure.

use rustc_hash::FxHashSet;

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, Output, errors};
use crate::names::{ResolvedBook, ThingId, ThingKind};
use crate::sources::{SourceSet, Span};
use crate::units::Unit;

/// Looks over what was there, made and sold.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let mut told: FxHashSet<ThingId> = FxHashSet::default();
    let mut look = |thing: ThingId, line: Span| {
        let of = book.thing(thing);
        let counted = of.kind == ThingKind::Product && of.unit == Unit::Each;
        let mut words = sources.text(line).split_whitespace().filter(|word| *word != "made");
        let (count, unit) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
        if counted && matches!(unit, "pair" | "pairs") && told.insert(thing) {
            found.push(errors::meanings::in_pairs(line, &of.named.name, count, unit));
        }
    };
    for event in events {
        match &event.kind {
            EventKind::Opened(opened) => opened.lines.iter().for_each(|line| look(line.thing, line.span)),
            EventKind::Sold(sold) => sold.lines.iter().for_each(|line| look(line.thing, line.span)),
            EventKind::Batch(work) => {
                for line in &work.made {
                    if let Output::Thing(thing) = line.what {
                        look(thing, line.span);
                    }
                }
            }
            _ => {}
        }
    }
}
