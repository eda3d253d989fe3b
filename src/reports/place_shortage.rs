//! What the last count of a place found missing, what that cost, and what the place would owe for it at the terms that were agreed.
//!
//! Who bears what is missing, no entry says: so it is a question, until the pieces are written as sold before the count, or a note in the count's
//! entry says what was agreed. Most consignees answer for goods in their care (common practice, no source); the agreement decides.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

use crate::names::{ChannelShare, PlaceId, ThingId};
use crate::reports::figure_text::{DayText, MoneyText, QuantityText, UnitCostText};
use crate::reports::marked_price::{Marked, MarkedPrices};
use crate::reports::period::{money_text, quantity_text};
use crate::reports::report_cost::price_text;
use crate::reports::report_place_papers::{count_lines, terms_on};
use crate::units::{Fixed6, checked_add_exact, line_total};
use crate::year::Books;

/// A thing of which a count found less than the books had.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ShortRow {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Its unit.
    pub unit: String,
    /// How much is missing.
    #[schemars(with = "QuantityText")]
    pub missing: String,
    /// What that cost, paid.
    #[schemars(with = "MoneyText")]
    pub paid: String,
    /// What a customer is asked for one: as the goods were marked on the count's day; null where there is none.
    #[schemars(with = "Option<UnitCostText>")]
    pub price: Option<String>,
    /// What the place would owe had it sold them at that price: after its part on consignment, or its part of the list price, rounded to the cent
    /// thing by thing; null where there is no price, or no agreed part.
    #[schemars(with = "Option<MoneyText>")]
    pub would_owe: Option<String>,
}

/// What the last count of a place found missing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceShortage {
    /// The day of the count.
    #[schemars(with = "DayText")]
    pub date: String,
    /// Thing by thing.
    pub rows: Vec<ShortRow>,
    /// What they cost, paid.
    #[schemars(with = "MoneyText")]
    pub missing_paid: String,
    /// What the place would owe for them, as far as that is known; null where it is of none.
    #[schemars(with = "Option<MoneyText>")]
    pub missing_owed: Option<String>,
    /// The channel's part of a price, in words.
    pub terms: Option<String>,
    /// What is to be settled; null where a note in the count's entry says what was agreed.
    pub question: Option<String>,
    /// The notes in the count's entry.
    pub notes: Vec<String>,
}

/// A thing that is short, with what it cost and would bring.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Short {
    pub(crate) thing: ThingId,
    pub(crate) missing: Decimal,
    pub(crate) paid: Fixed6,
    pub(crate) price: Option<Marked>,
    /// At that price, and what of it the place would owe.
    pub(crate) owed: Option<(Fixed6, Fixed6)>,
}

/// The things of which the last count of a place found less than the books had, by name, and its day. `None` where a figure is too large.
pub(crate) fn short_of(books: Books<'_>, place: PlaceId) -> Option<(Option<NaiveDate>, Vec<Short>)> {
    let count = count_lines(books, place);
    let Some(day) = count.day else { return Some((None, Vec::new())) };
    let mut missing: BTreeMap<ThingId, (Decimal, Fixed6)> = BTreeMap::new();
    for movement in &count.movements {
        let Some(thing) = movement.thing else { continue };
        let (quantity, paid) = missing.entry(thing).or_default();
        *quantity = checked_add_exact(*quantity, movement.quantity).ok()?;
        *paid = paid.checked_add(movement.vector.paid()?)?;
    }
    let (share, marked) = (share_of(books, place, day), MarkedPrices::of(books));
    let mut list = Vec::new();
    for (thing, (quantity, paid)) in missing {
        if !quantity.is_sign_positive() || quantity.is_zero() {
            continue;
        }
        let price = marked.on(books.book, place, thing, day);
        let owed = match price {
            Some(marked) => would_owe(books, marked.price, quantity, share)?,
            None => None,
        };
        list.push(Short { thing, missing: quantity, paid, price, owed });
    }
    list.sort_by_key(|short| &books.book.thing(short.thing).named.name);
    Some((Some(day), list))
}

/// The agreed part of a price; none of a place from which no channel sells.
pub(crate) fn share_of(books: Books<'_>, place: PlaceId, day: NaiveDate) -> ChannelShare {
    let channel = books.book.channels.iter().find(|channel| channel.place == Some(place));
    channel.map_or(ChannelShare::None, |channel| *channel.share.on(day))
}

/// So much at a price, and what a place owes of that. The outer `None` is a figure too large to be carried.
fn would_owe(books: Books<'_>, price: Decimal, quantity: Decimal, share: ChannelShare) -> Option<Option<(Fixed6, Fixed6)>> {
    let currency = books.book.shop.currency;
    let whole = line_total(price, quantity, currency).ok()?;
    let of_whole = |percent: Decimal| {
        let hundredth = percent.checked_mul(Decimal::new(1, 2))?;
        line_total(whole.to_decimal()?, hundredth, currency).ok()
    };
    Some(match share {
        ChannelShare::None => None,
        ChannelShare::Consignment(percent) => Some((whole, whole.checked_sub(of_whole(percent)?)?)),
        ChannelShare::Wholesale(percent) => Some((whole, of_whole(percent)?)),
    })
}

/// What the last count of a place found missing. The outer `None` is a figure too large to be carried.
pub(crate) fn shortage_of(books: Books<'_>, place: PlaceId) -> Option<Option<PlaceShortage>> {
    let (Some(day), short) = short_of(books, place)? else { return Some(None) };
    if short.is_empty() {
        return Some(None);
    }
    let paid = Fixed6::checked_sum(short.iter().map(|one| one.paid))?;
    let owed = Fixed6::checked_sum(short.iter().filter_map(|one| one.owed).map(|(_, owed)| owed))?;
    let is_known = short.iter().any(|one| one.owed.is_some());
    let book = books.book;
    let rows = short.iter().map(|one| {
        let named = book.thing(one.thing);
        ShortRow {
            name: named.named.name.clone(),
            title: named.named.title.clone(),
            unit: named.unit.as_str().to_owned(),
            missing: quantity_text(one.missing),
            paid: money_text(book, one.paid),
            price: one.price.map(|marked| price_text(book, marked.price)),
            would_owe: one.owed.map(|(_, owed)| money_text(book, owed)),
        }
    });
    let notes = notes_of_count(books, place);
    let channel = book.channels.iter().find(|channel| channel.place == Some(place));
    let question = notes.is_empty().then(|| {
        let title = &book.place(place).named.title;
        let lost = "a note in the count’s entry says that the loss is yours";
        match channel.filter(|_| is_known) {
            Some(channel) => format!(
                "Does {title} pay for what was missing on {day}? If it does, write it as sold before the count, by `sold {day} via {}`; if not, {lost}.",
                channel.named.name
            ),
            None => format!("Who bears what was missing at {title} on {day}? As it stands you do; {lost}."),
        }
    });
    Some(Some(PlaceShortage {
        date: day.to_string(),
        rows: rows.collect(),
        missing_paid: money_text(book, paid),
        missing_owed: is_known.then(|| money_text(book, owed)),
        terms: terms_on(books, place, day),
        question,
        notes,
    }))
}

/// The notes in the entries of the last count of a place.
fn notes_of_count(books: Books<'_>, place: PlaceId) -> Vec<String> {
    let entries: BTreeSet<_> = count_lines(books, place).entries.into_iter().collect();
    let papers = entries.iter().flat_map(|entry| books.log.papers.of_block(*entry));
    papers.filter(|paper| !paper.is_file).map(|paper| books.sources.text(paper.text).to_owned()).collect()
}
