//! What moved at each place, what its last count said, and the orders behind its open bills, found once for all sheets of places.

use std::collections::BTreeMap;

use super::sheet::SheetPlace;
use super::sheet_index::SheetIndex;
use crate::events::EventKind;
use crate::names::{PlaceId, ThingId};
use crate::reports::PlacePart;
use crate::reports::marked_price::MarkedPrices;
use crate::reports::place_moves::{PlaceMove, each_move};
use crate::sources::Span;

/// The movements of each place, in their order, and the lines behind its papers.
#[derive(Debug, Default)]
pub struct PlaceIndex {
    moves: BTreeMap<PlaceId, Vec<PlaceMove>>,
    counted: BTreeMap<(PlaceId, ThingId), Span>,
    /// The line by which a thing was handed over last.
    sent: BTreeMap<(PlaceId, ThingId), Span>,
    /// Orders by their day and name; none where two have the same.
    orders: BTreeMap<(String, String), Option<u32>>,
    things: BTreeMap<String, ThingId>,
    marked: MarkedPrices,
}

impl PlaceIndex {
    /// Goes through a book once. `None` where a figure is too large to be carried.
    #[must_use]
    pub fn of(index: &SheetIndex<'_>) -> Option<Self> {
        let books = index.books;
        let mut found = Self { marked: MarkedPrices::of(books), ..Self::default() };
        each_move(books, &mut |one| {
            if one.part != PlacePart::Left && Some(one.place) != books.book.shop.home {
                found.moves.entry(one.place).or_default().push(one);
            }
            Some(())
        })?;
        let things = (0u32..).zip(&books.book.things);
        found.things = things.map(|(at, thing)| (thing.named.name.clone(), ThingId(at))).collect();
        let last: BTreeMap<PlaceId, chrono::NaiveDate> = books.costed.last_counts.iter().copied().collect();
        for event in &books.log.events {
            match &event.kind {
                EventKind::Counted(counted) if last.get(&counted.place) == Some(&event.date) => {
                    let lines = counted.lines.iter().map(|line| ((counted.place, line.thing), line.span));
                    found.counted.extend(lines);
                }
                EventKind::Moved(moved) => {
                    found.sent.extend(moved.lines.iter().map(|line| ((moved.to, line.thing), line.span)));
                }
                _ => {}
            }
        }
        for (at, order) in (0u32..).zip(&books.costed.orders) {
            let name = order.order.map_or_else(|| order.date.to_string(), |label| books.book.label(label).to_owned());
            found.orders.entry((order.date.to_string(), name)).and_modify(|one| *one = None).or_insert(Some(at));
        }
        Some(found)
    }

    pub(super) fn moves(&self, place: PlaceId) -> &[PlaceMove] {
        self.moves.get(&place).map_or(&[], Vec::as_slice)
    }

    pub(super) fn counted(&self, index: &SheetIndex<'_>, place: PlaceId, thing: ThingId) -> Option<SheetPlace> {
        index.place(*self.counted.get(&(place, thing))?)
    }

    pub(super) fn sent(&self, index: &SheetIndex<'_>, place: PlaceId, thing: ThingId) -> Option<SheetPlace> {
        index.place(*self.sent.get(&(place, thing))?)
    }

    /// The line of the sale by which a thing at a place is marked on a day; nothing where it is marked at the list price.
    pub(super) fn marked(&self, index: &SheetIndex<'_>, place: PlaceId, thing: ThingId, day: &str) -> Option<SheetPlace> {
        let (_, line) = self.marked.on(index.books.book, place, thing, day.parse().ok()?)?.sale?;
        index.place(line)
    }

    pub(super) fn thing(&self, name: &str) -> Option<ThingId> {
        self.things.get(name).copied()
    }

    pub(super) fn order(&self, day: &str, name: &str) -> Option<u32> {
        *self.orders.get(&(day.to_owned(), name.to_owned()))?
    }
}
