//! What moved at places, entry by entry: brought, sold, taken away, and what is left in the end.
//!
//! In: the entries of a book and its shelves. Out: each movement once, so that the report adds up and a derivation tells the same.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::events::{BoughtWhat, EventKind, OpenedHow, ReturnFate};
use crate::names::{PlaceId, ThingId};
use crate::reports::PlacePart;
use crate::sources::Span;
use crate::year::Books;

/// A movement at a place, or a lot that is left there.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PlaceMove {
    pub(crate) place: PlaceId,
    pub(crate) thing: ThingId,
    /// Which: brought, sold, taken away or left.
    pub(crate) part: PlacePart,
    pub(crate) quantity: Decimal,
    pub(crate) date: NaiveDate,
    /// How, in words.
    pub(crate) how: &'static str,
    /// The line that says it; of a lot the one with which it came.
    pub(crate) line: Span,
    /// The number of a lot that is left.
    pub(crate) lot: Option<u32>,
}

/// Goes through the entries and the shelves once. `None` where `each` gives it.
pub(crate) fn each_move(books: Books<'_>, each: &mut dyn FnMut(PlaceMove) -> Option<()>) -> Option<()> {
    for event in &books.log.events {
        let date = event.date;
        let mut at = |place, part, thing, quantity, how, line| {
            each(PlaceMove { place, thing, part, quantity, date, how, line, lot: None })
        };
        match &event.kind {
            EventKind::Opened(opened) => {
                let how = match opened.how {
                    OpenedHow::Opened => "there at the beginning",
                    OpenedHow::Contributed => "put in",
                    OpenedHow::Found => "found there",
                };
                for line in &opened.lines {
                    at(opened.place, PlacePart::Brought, line.thing, line.quantity, how, line.span)?;
                }
            }
            EventKind::Bought(bought) => {
                for line in &bought.lines {
                    if let BoughtWhat::Stock { thing, quantity, .. } = &line.what {
                        at(bought.place, PlacePart::Brought, *thing, *quantity, "bought for there", line.span)?;
                    }
                }
            }
            EventKind::Moved(moved) => {
                for line in &moved.lines {
                    at(moved.to, PlacePart::Brought, line.thing, line.quantity, "sent there", line.span)?;
                    at(moved.from, PlacePart::TakenAway, line.thing, line.quantity, "taken away", line.span)?;
                }
            }
            EventKind::Sold(sold) => {
                for line in &sold.lines {
                    at(sold.place, PlacePart::Sold, line.thing, line.quantity, "sold", line.span)?;
                }
            }
            EventKind::Returned(returned) => {
                for line in returned.lines.iter().filter(|line| line.fate == ReturnFate::BackToStock) {
                    at(returned.place, PlacePart::Brought, line.thing, line.quantity, "back from a buyer", line.span)?;
                }
            }
            _ => {}
        }
    }
    for lot in &books.costed.stock {
        let made = books.costed.trace.as_ref().and_then(|trace| trace.lot(lot.origin.number));
        each(PlaceMove {
            place: lot.place,
            thing: lot.thing,
            part: PlacePart::Left,
            quantity: lot.quantity,
            date: lot.origin.date,
            how: "left of what came",
            line: made.map_or_else(Span::default, |made| made.line),
            lot: Some(lot.origin.number),
        })?;
    }
    Some(())
}
