//! A look over counts: a thing that two counts of one place and day both count.
//!
//! Which of the two came first is not known, so neither can be held against the book.

use chrono::NaiveDate;
use rustc_hash::FxHashMap;

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, errors};
use crate::names::{LabelId, PlaceId, ResolvedBook, ThingId};
use crate::sources::Span;

/// What was counted of a thing at a place on a day: the entry, the lot, and the line.
type CountedOn = FxHashMap<(NaiveDate, PlaceId, ThingId), Vec<(Span, Option<LabelId>, Span)>>;

/// Looks over all counts in their order.
pub(crate) fn look_over(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let mut counted: CountedOn = FxHashMap::default();
    for event in events {
        let EventKind::Counted(count) = &event.kind else { continue };
        for line in &count.lines {
            let before = counted.entry((event.date, count.place, line.thing)).or_default();
            // Two lots of one thing may be counted apart; a lot and the whole may not.
            let same = |(entry, lot, _): &&(Span, Option<LabelId>, Span)| {
                *entry != event.head && (*lot == line.lot || lot.is_none() || line.lot.is_none())
            };
            if let Some((_, _, first)) = before.iter().find(same) {
                let name = &book.thing(line.thing).named.name;
                found.push(errors::goods::counted_twice_a_day(line.span, *first, name, &book.place(count.place).named.name));
            }
            before.push((event.head, line.lot, line.span));
        }
    }
}
