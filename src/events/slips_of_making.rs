//! A look over what broke: pieces thrown away on the day on which they were made.
//!
//! In: all events in their order. Out: a warning for each line of pieces. Must not: move a figure.

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, LeftHow, Output, errors};
use crate::names::{ResolvedBook, ThingId, ThingKind};
use crate::sources::Span;

/// What was made of a thing on a day: how many good pieces, and the last entry that says so.
type MadeOnDay = FxHashMap<ThingId, (Decimal, Span)>;

/// Looks over all events in their order.
pub(crate) fn look_over(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
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
                        found.push(errors::slips::scrapped_as_made(line.goods.span, *batch, &thing.named.name, figures));
                    }
                }
            }
            _ => {}
        }
    }
}
