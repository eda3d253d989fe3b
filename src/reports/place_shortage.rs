//! What the last count of a place found missing, what that cost, and what the place would owe for it at the terms that were agreed.
//!
//! Who bears what is missing, no entry says: so it is a question, until the pieces are written as sold before the count, or a note in the count's
//! entry says what was agreed. Most consignees answer for goods in their care (common practice, no source); the agreement decides.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

use crate::names::{ChannelShare, FeeRule, PlaceId, ThingId};
use crate::reports::figure_text::{DayText, MoneyText, QuantityText, UnitCostText};
use crate::reports::marked_price::{Marked, MarkedPrices};
use crate::reports::period::{money_text, quantity_text};
use crate::reports::report_cost::price_text;
use crate::reports::report_place_papers::{count_lines, terms_on};
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact, line_total, split_at_digits};
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
    /// What the place would owe had it sold them at that price, in one sale with all that is missing: after its part on consignment, or its part of the list price, and
    /// its fees. Part and fees are each rounded once to the cent and shared by value, as those of a sale are. Null where there is no price, or no agreed part.
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
    /// The channel's part of a price and its fees, in words.
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
    /// What the place would owe for it.
    pub(crate) owed: Option<WouldOwe>,
}

/// What a place would owe for goods, had it sold them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WouldOwe {
    /// At what a customer is asked.
    pub(crate) whole: Fixed6,
    /// What it keeps of that.
    pub(crate) kept: Fixed6,
    pub(crate) fees: Fixed6,
    pub(crate) owed: Fixed6,
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
    let marked = MarkedPrices::of(books);
    let mut list = Vec::new();
    for (thing, (quantity, paid)) in missing {
        if !quantity.is_sign_positive() || quantity.is_zero() {
            continue;
        }
        let price = marked.on(books.book, place, thing, day);
        list.push(Short { thing, missing: quantity, paid, price, owed: None });
    }
    would_owe(books, (place, day), &mut list)?;
    list.sort_by_key(|short| &books.book.thing(short.thing).named.name);
    Some((Some(day), list))
}

/// The agreed part of a price; none of a place from which no channel sells.
pub(crate) fn share_of(books: Books<'_>, place: PlaceId, day: NaiveDate) -> ChannelShare {
    let channel = books.book.channels.iter().find(|channel| channel.place == Some(place));
    channel.map_or(ChannelShare::None, |channel| *channel.share.on(day))
}

/// The fees of the channel that sells from a place.
pub(crate) fn fees_of(books: Books<'_>, place: PlaceId, day: NaiveDate) -> &[FeeRule] {
    let channel = books.book.channels.iter().find(|channel| channel.place == Some(place));
    channel.map_or(&[], |channel| channel.fees.on(day).as_slice())
}

/// Works out what a place would owe for what is missing as a sale is costed (rule 10 and `costing/fees.rs`): its part and its fees are of all of it together, each rounded
/// once, and shared by value. Nothing is paid by card. `None` is a figure too large to be carried.
fn would_owe(books: Books<'_>, (place, day): (PlaceId, NaiveDate), list: &mut [Short]) -> Option<()> {
    let currency = books.book.shop.currency;
    let part = |of: Fixed6, percent: Decimal| {
        let hundredth = percent.checked_mul(Decimal::new(1, 2))?;
        line_total(of.to_decimal()?, hundredth, currency).ok()
    };
    let share = share_of(books, place, day);
    if share == ChannelShare::None {
        return Some(());
    }
    // Of each that has a price: at that price, what the sale would say, and how much.
    let mut sold: Vec<(&mut Short, Fixed6, Fixed6)> = Vec::new();
    for short in list {
        let Some(marked) = short.price else { continue };
        let whole = line_total(marked.price, short.missing, currency).ok()?;
        let goods = match share {
            ChannelShare::Wholesale(percent) => part(whole, percent)?,
            ChannelShare::Consignment(_) | ChannelShare::None => whole,
        };
        sold.push((short, whole, goods));
    }
    if sold.is_empty() {
        return Some(());
    }
    let goods = Fixed6::checked_sum(sold.iter().map(|(_, _, goods)| *goods))?;
    let mut pieces = Decimal::ZERO;
    for (short, _, _) in &sold {
        pieces = checked_add_exact(pieces, short.missing).ok()?;
    }
    let kept = match share {
        ChannelShare::Consignment(percent) => part(goods, percent)?,
        ChannelShare::Wholesale(_) | ChannelShare::None => Fixed6::ZERO,
    };
    let mut fees = Decimal::ZERO;
    for rule in fees_of(books, place, day) {
        let fee = match *rule {
            FeeRule::OfTotal(percent) | FeeRule::OfGoods(percent) => {
                checked_mul_exact(goods.to_decimal()?, checked_mul_exact(percent, Decimal::new(1, 2)).ok()?).ok()?
            }
            FeeRule::OfCard(_) => Decimal::ZERO,
            FeeRule::PerSale(money) => money,
            FeeRule::PerItem(money) => checked_mul_exact(pieces, money).ok()?,
        };
        fees = checked_add_exact(fees, fee).ok()?;
    }
    let fees = line_total(fees, Decimal::ONE, currency).ok()?;
    let weights: Option<Vec<Decimal>> = match goods.is_zero() {
        true => Some(sold.iter().map(|(short, _, _)| short.missing).collect()),
        false => sold.iter().map(|(_, _, goods)| goods.to_decimal()).collect(),
    };
    let (weights, mut kept_of, mut fees_of) = (weights?, Vec::new(), Vec::new());
    split_at_digits(kept, &weights, currency.digits(), &mut kept_of).ok()?;
    split_at_digits(fees, &weights, currency.digits(), &mut fees_of).ok()?;
    for ((short, whole, goods), (kept, fees)) in sold.into_iter().zip(kept_of.into_iter().zip(fees_of)) {
        let kept = whole.checked_sub(goods)?.checked_add(kept)?;
        let owed = whole.checked_sub(kept)?.checked_sub(fees)?;
        short.owed = Some(WouldOwe { whole, kept, fees, owed });
    }
    Some(())
}

/// What the last count of a place found missing. The outer `None` is a figure too large to be carried.
pub(crate) fn shortage_of(books: Books<'_>, place: PlaceId) -> Option<Option<PlaceShortage>> {
    let (Some(day), short) = short_of(books, place)? else { return Some(None) };
    if short.is_empty() {
        return Some(None);
    }
    let paid = Fixed6::checked_sum(short.iter().map(|one| one.paid))?;
    let owed = Fixed6::checked_sum(short.iter().filter_map(|one| one.owed).map(|one| one.owed))?;
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
            would_owe: one.owed.map(|one| money_text(book, one.owed)),
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
