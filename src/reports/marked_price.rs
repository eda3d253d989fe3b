//! What goods on consignment are marked at, where they lie.
//!
//! They are marked at the list price of the day. Where some were sold there since they were last brought and since that price last changed, those that are
//! left are marked at the price of the last such sale: nobody marked them anew (common practice, no source). Nothing later than the day asked about
//! counts, so what a slip said on its day stays. At a place from which nothing is sold on consignment it is the list price alone.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::events::{BoughtWhat, EventKind};
use crate::names::{ChannelShare, PlaceId, ResolvedBook, ThingId};
use crate::sources::Span;
use crate::units::{Fixed6, part_of};
use crate::year::Books;

/// What a customer is asked for one at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Marked {
    /// Money for one, to six digits.
    pub(crate) price: Decimal,
    /// The sale that says so, by its day and line; nothing where it is the list price.
    pub(crate) sale: Option<(NaiveDate, Span)>,
}

/// A sale of a thing on consignment: money for so many.
#[derive(Clone, Copy, Debug)]
struct Sale {
    day: NaiveDate,
    value: Fixed6,
    quantity: Decimal,
    line: Span,
}

/// When a thing was brought to a place, and for what it was sold there, in the order of the days.
#[derive(Clone, Debug, Default)]
struct AtPlace {
    brought: Vec<NaiveDate>,
    sales: Vec<Sale>,
}

/// The marks at all places, found in one way through a book.
#[derive(Clone, Debug, Default)]
pub(crate) struct MarkedPrices {
    of: BTreeMap<(PlaceId, ThingId), AtPlace>,
}

impl MarkedPrices {
    /// Goes through the entries once.
    pub(crate) fn of(books: Books<'_>) -> Self {
        let book = books.book;
        let mut found: BTreeMap<(PlaceId, ThingId), AtPlace> = BTreeMap::new();
        for event in &books.log.events {
            let mut brought = |place, thing| found.entry((place, thing)).or_default().brought.push(event.date);
            match &event.kind {
                EventKind::Opened(opened) => opened.lines.iter().for_each(|line| brought(opened.place, line.thing)),
                EventKind::Moved(moved) => moved.lines.iter().for_each(|line| brought(moved.to, line.thing)),
                EventKind::Bought(bought) => {
                    for line in &bought.lines {
                        if let BoughtWhat::Stock { thing, .. } = &line.what {
                            brought(bought.place, *thing);
                        }
                    }
                }
                EventKind::Sold(sold) => {
                    let channel = sold.channel.map(|channel| book.channel(channel));
                    let consigned = channel.is_some_and(|channel| {
                        channel.place == Some(sold.place) && matches!(channel.share.on(event.date), ChannelShare::Consignment(_))
                    });
                    for line in sold.lines.iter().filter(|line| consigned && line.quantity > Decimal::ZERO) {
                        let sale = Sale { day: event.date, value: line.value, quantity: line.quantity, line: line.span };
                        found.entry((sold.place, line.thing)).or_default().sales.push(sale);
                    }
                }
                _ => {}
            }
        }
        Self { of: found }
    }

    /// What goods of a thing at a place are marked at on a day; nothing where no price says so, or it is too large to be carried.
    pub(crate) fn on(&self, book: &ResolvedBook, place: PlaceId, thing: ThingId, day: NaiveDate) -> Option<Marked> {
        let prices = &book.thing(thing).price;
        let list = prices.on(day).map(|price| Marked { price, sale: None });
        let Some(of) = self.of.get(&(place, thing)) else { return list };
        let up_to =
            |days: &[NaiveDate]| days.partition_point(|one| *one <= day).checked_sub(1).and_then(|at| days.get(at).copied());
        let changed = prices.changes().iter().rev().map(|(from, _)| *from).find(|from| *from <= day);
        let since = up_to(&of.brought).max(changed);
        let sales = of.sales.partition_point(|sale| sale.day <= day);
        let last = sales.checked_sub(1).and_then(|at| of.sales.get(at)).filter(|sale| Some(sale.day) >= since);
        let Some(last) = last else { return list };
        let price = part_of(last.value, Decimal::ONE, last.quantity)?.to_decimal()?;
        Some(Marked { price, sale: Some((last.day, last.line)) })
    }
}
