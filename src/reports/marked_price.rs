//! What goods on consignment are marked at, where they lie.
//!
//! They are marked at the list price of the day. Where some were sold there since that price last changed, those that are left are marked at the price of the last such
//! sale, and so is what is brought to lie beside them: nobody marked them anew (common practice, no source). Where nothing of them lay there any more, what is brought then
//! is marked by the list. Where there is no list price, the last sale is all that tells. Nothing later than the day asked about
//! counts, so what a slip said on its day stays. At a place from which nothing is sold on consignment it is the list price alone.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::events::{BoughtWhat, Counted, EventKind, Output, ReturnFate};
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
    /// Another price at which it was sold there last, which the list's ended.
    pub(crate) ended: Option<Ended>,
}

/// A price of a sale at a place that is asked there no more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Ended {
    pub(crate) price: Decimal,
    /// The day of the sale.
    pub(crate) sold: NaiveDate,
    /// Since when it is asked no more.
    pub(crate) since: NaiveDate,
    /// Whether something was brought on that day when nothing lay there; else the list price changed.
    pub(crate) anew: bool,
}

/// So much less.
fn less(quantity: Decimal) -> Decimal {
    Decimal::ZERO.checked_sub(quantity).unwrap_or_default()
}

impl Ended {
    /// Why the list's price is asked, after its figure: `since 2026-05-02`.
    pub(crate) fn why(self) -> String {
        match self.anew {
            true => format!("for what was brought on {}, when none was there", self.since),
            false => format!("since {}", self.since),
        }
    }
}

/// A sale of a thing on consignment: money for so many.
#[derive(Clone, Copy, Debug)]
struct Sale {
    day: NaiveDate,
    value: Fixed6,
    quantity: Decimal,
    line: Span,
}

/// When a thing was brought to a place where none was, and for what it was sold there, in the order of the days.
#[derive(Clone, Debug, Default)]
struct AtPlace {
    lies: Decimal,
    anew: Vec<NaiveDate>,
    sales: Vec<Sale>,
}

impl AtPlace {
    /// So much more of it lies there; below zero: less. A sum that is too large to be carried leaves what was there.
    fn moves(&mut self, day: NaiveDate, quantity: Decimal) {
        if quantity > Decimal::ZERO && self.lies <= Decimal::ZERO {
            self.anew.push(day);
        }
        self.lies = self.lies.checked_add(quantity).unwrap_or(self.lies);
    }
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
        let sells = |place: PlaceId| book.channels.iter().any(|channel| channel.place == Some(place));
        let sells: Vec<bool> = (0u32..).zip(&book.places).map(|(at, _)| sells(PlaceId(at))).collect();
        let sells = |place: PlaceId| sells.get(place.0 as usize).copied().unwrap_or_default();
        let mut used: BTreeMap<u32, Vec<(ThingId, Decimal)>> = BTreeMap::new();
        for item in books.costed.batches.iter().flat_map(|batch| &batch.used) {
            used.entry(item.event).or_default().push((item.thing, item.quantity));
        }
        let mut found = Self::default();
        for (at, event) in (0u32..).zip(&books.log.events) {
            let day = event.date;
            let mut moves = |place: PlaceId, thing: ThingId, quantity: Decimal| {
                if sells(place) {
                    found.of.entry((place, thing)).or_default().moves(day, quantity);
                }
            };
            match &event.kind {
                EventKind::Opened(opened) => opened.lines.iter().for_each(|line| moves(opened.place, line.thing, line.quantity)),
                EventKind::Moved(moved) => {
                    for line in &moved.lines {
                        moves(moved.from, line.thing, less(line.quantity));
                        moves(moved.to, line.thing, line.quantity);
                    }
                }
                EventKind::Bought(bought) => {
                    for line in &bought.lines {
                        if let BoughtWhat::Stock { thing, quantity, .. } = &line.what {
                            moves(bought.place, *thing, *quantity);
                        }
                    }
                }
                EventKind::SentBack(back) => {
                    back.lines.iter().for_each(|line| moves(back.place, line.goods.thing, less(line.goods.quantity)));
                }
                EventKind::Returned(returned) => {
                    for line in returned.lines.iter().filter(|line| line.fate == ReturnFate::BackToStock) {
                        moves(returned.place, line.thing, line.quantity);
                    }
                }
                EventKind::Left(left) => {
                    left.lines.iter().for_each(|line| moves(left.place, line.goods.thing, less(line.goods.quantity)));
                }
                EventKind::Batch(work) => {
                    for (thing, quantity) in used.get(&at).into_iter().flatten() {
                        moves(work.place, *thing, less(*quantity));
                    }
                    for line in &work.made {
                        if let Output::Thing(thing) = line.what {
                            moves(work.place, thing, line.quantity);
                        }
                    }
                    work.kept.iter().for_each(|line| moves(work.place, line.thing, line.quantity));
                }
                EventKind::Sold(sold) => {
                    sold.lines.iter().for_each(|line| moves(sold.place, line.thing, less(line.quantity)));
                    let channel = sold.channel.map(|channel| book.channel(channel));
                    let consigned = channel.is_some_and(|channel| {
                        channel.place == Some(sold.place) && matches!(channel.share.on(day), ChannelShare::Consignment(_))
                    });
                    for line in sold.lines.iter().filter(|line| consigned && line.quantity > Decimal::ZERO) {
                        let sale = Sale { day, value: line.value, quantity: line.quantity, line: line.span };
                        found.of.entry((sold.place, line.thing)).or_default().sales.push(sale);
                    }
                }
                EventKind::Counted(counted) => found.count(counted),
                _ => {}
            }
        }
        found
    }

    /// What a count found is there.
    fn count(&mut self, counted: &Counted) {
        if counted.nothing_else {
            let of_place = self.of.iter_mut().filter(|((place, _), _)| *place == counted.place);
            of_place.for_each(|(_, of)| of.lies = Decimal::ZERO);
        }
        let mut sums: BTreeMap<ThingId, Decimal> = BTreeMap::new();
        for line in &counted.lines {
            let sum = sums.entry(line.thing).or_default();
            *sum = sum.checked_add(line.quantity).unwrap_or(line.quantity);
        }
        for (thing, sum) in sums {
            if let Some(of) = self.of.get_mut(&(counted.place, thing)) {
                of.lies = sum;
            }
        }
    }

    /// What goods of a thing at a place are marked at on a day; nothing where no price says so, or it is too large to be carried.
    pub(crate) fn on(&self, book: &ResolvedBook, place: PlaceId, thing: ThingId, day: NaiveDate) -> Option<Marked> {
        let prices = &book.thing(thing).price;
        let list = prices.on(day).map(|price| Marked { price, sale: None, ended: None });
        let Some(of) = self.of.get(&(place, thing)) else { return list };
        let sales = of.sales.partition_point(|sale| sale.day <= day);
        let Some(last) = sales.checked_sub(1).and_then(|at| of.sales.get(at)) else { return list };
        let price = part_of(last.value, Decimal::ONE, last.quantity)?.to_decimal()?;
        let changed = prices.changes().iter().rev().map(|(from, _)| *from).find(|from| *from <= day);
        let anew = of.anew.partition_point(|one| *one <= day).checked_sub(1).and_then(|at| of.anew.get(at)).copied();
        if let Some((mut list, since)) = list.zip(changed.max(anew).filter(|since| last.day < *since)) {
            let ended = Ended { price, sold: last.day, since, anew: changed < anew };
            list.ended = Some(ended).filter(|ended| ended.price != list.price);
            return Some(list);
        }
        Some(Marked { price, sale: Some((last.day, last.line)), ended: None })
    }
}
