//! A look over what is counted in pairs: of a product a pair is two, each with the recipe and the price of one; and a dozen of a material that is
//! measured in pairs is six of them.
//!
//! In: all events in their order. Out: a warning for the first such line of each product and material. Must not: move a figure.

use rust_decimal::Decimal;
use rustc_hash::FxHashSet;

use crate::diagnostics::Diagnostics;
use crate::events::{BoughtWhat, Event, EventKind, Output, errors};
use crate::names::{ResolvedBook, ThingId, ThingKind};
use crate::sources::{SourceSet, Span};
use crate::units::Unit;

/// Looks over what was there, bought, made and sold.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    look_at_materials(events, sources, book, found);
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

/// Looks over what was bought by single pieces and is measured in pairs.
fn look_at_materials(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let mut told: FxHashSet<ThingId> = FxHashSet::default();
    for event in events {
        let EventKind::Bought(bought) = &event.kind else { continue };
        for line in &bought.lines {
            let BoughtWhat::Stock { thing, quantity, billed: None, .. } = line.what else { continue };
            let singles = singles_of_pairs(book, sources, thing, line.span);
            if let Some(singles) = singles.filter(|_| told.insert(thing)) {
                found.push(errors::meanings::singles_of_pairs(&singles, &book.thing(thing).named.name, quantity));
            }
        }
    }
}

/// A count in a unit of single pieces of what is measured in pairs.
pub(crate) struct Singles<'t> {
    /// The count and its unit as written.
    pub(crate) words: &'t str,
    /// Where they stand.
    pub(crate) place: Span,
    /// How many single pieces they are.
    pub(crate) pieces: Decimal,
}

/// Reads `1 dozen needles`, where the material is measured in pairs; a fraction of a dozen has no whole number of pieces and is none.
fn singles_of_pairs<'t>(book: &ResolvedBook, sources: &'t SourceSet, thing: ThingId, line: Span) -> Option<Singles<'t>> {
    if book.thing(thing).kind == ThingKind::Product || book.thing(thing).unit != Unit::Pair {
        return None;
    }
    let text = sources.text(line);
    let mut words = text.split_whitespace();
    let count: Decimal = words.next()?.parse().ok()?;
    let unit = words.next()?;
    let pieces = match unit {
        "dozen" => Decimal::from(12),
        "gross" => Decimal::from(144),
        "ea" => Decimal::ONE,
        _ => return None,
    };
    let pieces = count.checked_mul(pieces).filter(Decimal::is_integer)?;
    let written = text.get(..text.find(unit)?.checked_add(unit.len())?)?;
    let length = u32::try_from(written.len()).ok()?;
    Some(Singles { words: written, place: Span::new(line.start, line.start.checked_add(length)?), pieces })
}
