//! Fills the lists of places: one way through the entries, one through the shelves, one through the bills.
//!
//! What was brought less what was sold, taken away and went otherwise is what is left. So `otherwise` is what counts found missing, and all that
//! was given, scrapped or used there, less what was made, found or counted more.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::{Bill, BillKind};
use crate::names::{PlaceId, ResolvedBook, ThingId};
use crate::reports::marked_price::MarkedPrices;
use crate::reports::period::{money_text, quantity_text};
use crate::reports::place_moves::each_move;
use crate::reports::place_notes::{came_back_elsewhere, lowered, marked_anew, price_ended};
use crate::reports::place_shortage::shortage_of;
use crate::reports::report_cost::price_text;
use crate::reports::report_place_papers::{count_of, slips_of, usual_days};
use crate::reports::{Period, PlaceList, PlaceOwes, PlacePart, PlaceRow, PlacesReport};
use crate::units::{Fixed6, checked_add_exact, line_total};
use crate::year::Books;

/// What moved of a thing at a place.
#[derive(Clone, Copy, Debug, Default)]
struct Moved {
    brought: Decimal,
    sold: Decimal,
    taken_away: Decimal,
    left: Decimal,
}

type ByPlace = BTreeMap<PlaceId, BTreeMap<ThingId, Moved>>;

/// Lists every place away from home, or the one that is named, on the book's last day. How long a bill is open is counted to today, where that is
/// later: nothing need be written for a debt to grow old. `slip` is the day of the slip that is wanted, else the last. `None` where a figure is too large to be carried.
#[must_use]
pub fn report_places(
    books: Books<'_>,
    only: Option<PlaceId>,
    today: Option<NaiveDate>,
    slip: Option<NaiveDate>,
) -> Option<PlacesReport> {
    let wanted = slip.map(|day| day.to_string());
    let by_place = moved(books)?;
    let last = books.costed.until;
    let days_to = last.map(|last| today.map_or(last, |today| today.max(last)));
    let (marked, mut came_back) = (MarkedPrices::of(books), came_back_elsewhere(books));
    let mut places = Vec::new();
    for (at, place) in books.book.places.iter().enumerate() {
        let id = PlaceId(u32::try_from(at).ok()?);
        if Some(id) == books.book.shop.home || only.is_some_and(|only| only != id) {
            continue;
        }
        let empty = BTreeMap::new();
        let things = by_place.get(&id).unwrap_or(&empty);
        let usual_days = last.and_then(|last| usual_days(books, id, last));
        let owes = owes(books, id, last.zip(days_to), usual_days)?;
        if things.is_empty() && owes.is_empty() && only.is_none() {
            continue;
        }
        let mut rows = Vec::new();
        let (mut at_price, mut ended) = (Fixed6::ZERO, Vec::new());
        for (thing, moved) in things {
            let (row, worth) = row(books, (id, *thing), *moved, last.map(|day| (&marked, day)))?;
            at_price = at_price.checked_add(worth)?;
            let asked = last.and_then(|day| marked.on(books.book, id, *thing, day));
            ended.extend(price_ended(books.book, &row, asked));
            rows.push(row);
        }
        rows.sort_by(|a, b| a.name.cmp(&b.name));
        let mut notes: Vec<String> = rows.iter().filter_map(marked_anew).collect();
        notes.extend(ended);
        notes.extend(came_back.remove(&id).unwrap_or_default());
        let owed_notes = owes.iter().filter_map(|one| one.note.clone());
        notes.extend(owed_notes);
        let owed = Fixed6::checked_sum(owes.iter().map(|one| one.open))?;
        let channel = books.book.channels.iter().find(|channel| channel.place == Some(id));
        let mut other_slips = slips_of(books, id, &marked)?;
        let slip = match &wanted {
            Some(day) => other_slips.iter().position(|slip| slip.date == *day),
            None => (!other_slips.is_empty()).then_some(0),
        };
        let slip = slip.map(|at| other_slips.remove(at));
        let last_count = books.costed.last_counts.iter().find(|(place, _)| *place == id).map(|(_, day)| *day);
        places.push(PlaceList {
            name: place.named.name.clone(),
            title: place.named.title.clone(),
            is_channel: channel.is_some(),
            channel: channel.map(|channel| channel.named.name.clone()),
            last_count: last_count.map(|day| day.to_string()),
            days_since_count: last_count.zip(last).map(|(day, last)| last.signed_duration_since(day).num_days()),
            rows,
            notes,
            left_at_price: money_text(books.book, at_price),
            usual_days,
            count: count_of(books, id)?,
            shortage: shortage_of(books, id)?,
            slip,
            other_slips,
            owes: owes.into_iter().map(|one| one.row).collect(),
            owed: money_text(books.book, owed),
        });
    }
    places.sort_by(|a, b| a.name.cmp(&b.name));
    Some(PlacesReport {
        head: Period::default().head("places", books.book, books.log.first_day, books.costed.until),
        days_to: days_to.map(|day| day.to_string()),
        places,
    })
}

fn add(sum: &mut Decimal, quantity: Decimal) -> Option<()> {
    *sum = checked_add_exact(*sum, quantity).ok()?;
    Some(())
}

fn moved(books: Books<'_>) -> Option<ByPlace> {
    let mut places: ByPlace = BTreeMap::new();
    each_move(books, &mut |one| {
        let moved = places.entry(one.place).or_default().entry(one.thing).or_default();
        let sum = match one.part {
            PlacePart::Sold => &mut moved.sold,
            PlacePart::TakenAway => &mut moved.taken_away,
            PlacePart::Left => &mut moved.left,
            PlacePart::Brought | PlacePart::Otherwise | PlacePart::LeftAtPrice => &mut moved.brought,
        };
        add(sum, one.quantity)
    })?;
    Some(places)
}

fn row(
    books: Books<'_>,
    (place, thing): (PlaceId, ThingId),
    moved: Moved,
    marked: Option<(&MarkedPrices, NaiveDate)>,
) -> Option<(PlaceRow, Fixed6)> {
    let named = books.book.thing(thing);
    let list = marked.and_then(|(_, day)| *named.price.on(day));
    let asked = marked.and_then(|(marked, day)| marked.on(books.book, place, thing, day));
    let worth = match asked {
        Some(asked) => Some(line_total(asked.price, moved.left, books.book.shop.currency).ok()?),
        None => None,
    };
    let gone = checked_add_exact(moved.sold, moved.taken_away).ok()?;
    let otherwise = moved.brought.checked_sub(gone)?.checked_sub(moved.left)?;
    let row = PlaceRow {
        name: named.named.name.clone(),
        title: named.named.title.clone(),
        unit: named.unit.as_str().to_owned(),
        asked: asked.map(|asked| price_text(books.book, asked.price)),
        asked_by_sale_of: asked.and_then(|asked| asked.sale).map(|(day, _)| day.to_string()),
        list_price: list.map(|price| price_text(books.book, price)),
        brought: quantity_text(moved.brought),
        sold: quantity_text(moved.sold),
        taken_away: quantity_text(moved.taken_away),
        otherwise: quantity_text(otherwise),
        left: quantity_text(moved.left),
        left_at_price: worth.map(|worth| money_text(books.book, worth)),
    };
    Some((row, worth.unwrap_or_default()))
}

/// The place away from home that owes a bill: that of the channel of its sale; of what was owed before the book began, the one that is named.
pub(crate) fn place_of_bill(book: &ResolvedBook, bill: &Bill) -> Option<PlaceId> {
    if let Some(channel) = bill.channel {
        return book.channel(channel).place;
    }
    let name = book.label(bill.party.filter(|_| bill.opened)?);
    let by_channel = book.channels.iter().find(|channel| channel.named.name == name).and_then(|channel| channel.place);
    let by_place =
        || book.places.iter().position(|place| place.named.name == name).and_then(|at| u32::try_from(at).ok()).map(PlaceId);
    by_channel.or_else(by_place)
}

/// A sale that a place owes.
struct Owed {
    row: PlaceOwes,
    open: Fixed6,
    /// What it came to before something lowered it.
    note: Option<String>,
}

/// Sales from a place whose bill is open on the last day (the first of the two), the oldest first, with the days to the second.
fn owes(books: Books<'_>, place: PlaceId, days: Option<(NaiveDate, NaiveDate)>, usual_days: Option<i64>) -> Option<Vec<Owed>> {
    let Some((last, days_to)) = days else { return Some(Vec::new()) };
    let mut owes = Vec::new();
    for bill in books.costed.bills.iter().filter(|bill| bill.kind == BillKind::OwedToUs) {
        if place_of_bill(books.book, bill) != Some(place) {
            continue;
        }
        let open = bill.open_on(last)?;
        if !open.is_positive() {
            continue;
        }
        let order = bill.reference.map_or_else(|| bill.date.to_string(), |label| books.book.label(label).to_owned());
        let total = bill.total_on(last)?;
        let days = days_to.signed_duration_since(bill.date).num_days();
        let row = PlaceOwes {
            order,
            date: bill.date.to_string(),
            total: money_text(books.book, total),
            open: money_text(books.book, open),
            days,
            days_late: usual_days.map(|usual| days.saturating_sub(usual).max(0)),
        };
        let note = lowered(books, bill, &row.order, total)?;
        owes.push(Owed { row, open, note });
    }
    owes.sort_by(|a, b| (&a.row.date, &a.row.order).cmp(&(&b.row.date, &b.row.order)));
    Some(owes)
}
