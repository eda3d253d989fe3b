//! Fills the stock report.
//!
//! The book was costed up to the day. Sums are apportioned from the top: the classes add up to the total, a class's items to the class, an item's lots
//! to the item.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{BatchState, CostedBook, LotOrigin, StockLot};
use crate::events::{EventKind, EventLog, OpenedHow, Output};
use crate::names::{PlaceId, ResolvedBook, ThingId, ThingKind};
use crate::reports::period::{column, column_under, minutes_text, money_text, quantity_text, said_money};
use crate::reports::report_patterns::report_patterns;
use crate::reports::{BenchItem, Period, StockItem, StockLotLine, StockReport, StockTotals};
use crate::units::{Fixed6, checked_add_exact};

const KINDS: [(ThingKind, &str); 4] = [
    (ThingKind::Material, "material"),
    (ThingKind::Wear, "wear"),
    (ThingKind::Packing, "packing"),
    (ThingKind::Product, "product"),
];

/// A thing at a place, before it is written.
struct Heap<'c> {
    thing: ThingId,
    place: PlaceId,
    lots: Vec<&'c StockLot>,
    quantity: Decimal,
    paid: Fixed6,
    full: Fixed6,
}

/// Makes the stock report of a book that was costed up to a day. `None` where a figure is too large to be carried.
#[must_use]
pub fn report_stock(book: &ResolvedBook, log: &EventLog, costed: &CostedBook, on: Option<NaiveDate>) -> Option<StockReport> {
    let on = on.or(costed.until);
    let heaps = heaps(book, costed)?;
    let bench = bench_of(costed)?;
    let mut paid = Vec::new();
    for (kind, _) in KINDS {
        let of_kind = heaps.iter().filter(|heap| book.thing(heap.thing).kind == kind);
        paid.push(Fixed6::checked_sum(of_kind.map(|heap| heap.paid))?);
    }
    paid.push(Fixed6::checked_sum(bench.iter().map(|one| one.1))?);
    let classes = column(book, &paid);
    let all_full: Vec<Fixed6> = heaps.iter().map(|heap| heap.full).chain(bench.iter().map(|one| one.2)).collect();
    let shown_full = column(book, &all_full);
    let mut items = Vec::new();
    for (at, (kind, word)) in KINDS.iter().enumerate() {
        let of_kind: Vec<usize> = (0..heaps.len()).filter(|one| book.thing(heaps[*one].thing).kind == *kind).collect();
        let sums: Vec<Fixed6> = of_kind.iter().map(|one| heaps[*one].paid).collect();
        let shown = column_under(book, &sums, classes[at]);
        for (one, paid) in of_kind.into_iter().zip(shown) {
            items.push(item_of(book, log, &heaps, one, word, paid, shown_full[one], on)?);
        }
    }
    let bench_sums: Vec<Fixed6> = bench.iter().map(|one| one.1).collect();
    let bench_paid = column_under(book, &bench_sums, classes[4]);
    let on_the_bench = bench
        .iter()
        .zip(bench_paid)
        .zip(shown_full.iter().skip(heaps.len()))
        .map(|((one, paid), full)| bench_item(book, costed, one.0, paid, *full))
        .collect::<Option<Vec<_>>>()?;
    let text = |at: usize| money_text(book, classes[at]);
    let totals = StockTotals {
        materials: text(0),
        wear: text(1),
        packing: text(2),
        products: text(3),
        on_the_bench: text(4),
        paid: money_text(book, Fixed6::checked_sum(classes.iter().copied())?),
        full: money_text(book, Fixed6::checked_sum(shown_full.iter().copied())?),
    };
    let period = Period { from: log.first_day, to: on };
    Some(StockReport {
        head: period.head("stock", book, log.first_day, on),
        on: on.map(|day| day.to_string()),
        items,
        on_the_bench,
        totals,
        over_time: over_time(book, costed, on)?,
        patterns: report_patterns(book, log, costed, on)?,
        notes: notes(book, costed)?,
    })
}

fn heaps<'c>(book: &ResolvedBook, costed: &'c CostedBook) -> Option<Vec<Heap<'c>>> {
    let mut by_shelf: BTreeMap<(usize, &str, &str), Heap<'c>> = BTreeMap::new();
    for lot in &costed.stock {
        let thing = book.thing(lot.thing);
        let kind = KINDS.iter().position(|(kind, _)| *kind == thing.kind).unwrap_or_default();
        let key = (kind, thing.named.name.as_str(), book.place(lot.place).named.name.as_str());
        let heap = by_shelf.entry(key).or_insert_with(|| empty(lot.thing, lot.place));
        heap.quantity = checked_add_exact(heap.quantity, lot.quantity).ok()?;
        heap.paid = heap.paid.checked_add(lot.vector.paid()?)?;
        heap.full = heap.full.checked_add(lot.vector.full()?)?;
        heap.lots.push(lot);
    }
    if let Some(home) = book.shop.home {
        for (at, thing) in book.things.iter().enumerate() {
            let id = ThingId(u32::try_from(at).ok()?);
            let watched = thing.reorder_at.first().is_some() || !thing.reorder_at.changes().is_empty();
            if watched && !by_shelf.values().any(|heap| heap.thing == id) {
                let kind = KINDS.iter().position(|(kind, _)| *kind == thing.kind).unwrap_or_default();
                by_shelf.insert((kind, &thing.named.name, &book.place(home).named.name), empty(id, home));
            }
        }
    }
    Some(by_shelf.into_values().collect())
}

fn empty<'c>(thing: ThingId, place: PlaceId) -> Heap<'c> {
    Heap { thing, place, lots: Vec::new(), quantity: Decimal::ZERO, paid: Fixed6::ZERO, full: Fixed6::ZERO }
}

#[expect(clippy::too_many_arguments, reason = "the parts of one row, used once")]
fn item_of(
    book: &ResolvedBook,
    log: &EventLog,
    heaps: &[Heap<'_>],
    at: usize,
    kind: &str,
    paid: Fixed6,
    full: Fixed6,
    on: Option<NaiveDate>,
) -> Option<StockItem> {
    let heap = &heaps[at];
    let thing = book.thing(heap.thing);
    let sums = heap.lots.iter().map(|lot| lot.vector.paid()).collect::<Option<Vec<_>>>()?;
    let shown = column_under(book, &sums, paid);
    let lots = heap
        .lots
        .iter()
        .zip(shown)
        .map(|(lot, paid)| StockLotLine {
            origin: origin_words(book, log, &lot.origin),
            date: lot.origin.date.to_string(),
            quantity: quantity_text(lot.quantity),
            paid: money_text(book, paid),
        })
        .collect();
    let point = on.and_then(|day| *thing.reorder_at.on(day));
    let everywhere = heaps
        .iter()
        .filter(|one| one.thing == heap.thing)
        .try_fold(Decimal::ZERO, |sum, one| checked_add_exact(sum, one.quantity).ok())?;
    Some(StockItem {
        name: thing.named.name.clone(),
        title: thing.named.title.clone(),
        kind: kind.to_owned(),
        place: book.place(heap.place).named.name.clone(),
        place_title: book.place(heap.place).named.title.clone(),
        quantity: quantity_text(heap.quantity),
        unit: thing.unit.as_str().to_owned(),
        paid: money_text(book, paid),
        full: money_text(book, full),
        lots,
        reorder: point.is_some_and(|point| everywhere <= point),
        reorder_at: point.map(quantity_text),
    })
}

/// Where a lot came from, in words.
fn origin_words(book: &ResolvedBook, log: &EventLog, origin: &LotOrigin) -> String {
    if let Some(batch) = origin.batch {
        return book.batch(batch).name.clone();
    }
    let from = log.events.get(origin.event as usize).map(|event| match &event.kind {
        EventKind::Bought(bought) => {
            let parts = [bought.supplier, bought.receipt].into_iter().flatten();
            let words: Vec<&str> = parts.map(|label| book.label(label)).collect();
            if words.is_empty() { "bought".to_owned() } else { words.join(" ") }
        }
        EventKind::Opened(opened) => match opened.how {
            OpenedHow::Opened => "opened".to_owned(),
            OpenedHow::Contributed => "contributed".to_owned(),
            OpenedHow::Found => "found".to_owned(),
        },
        EventKind::Counted(_) => "found in a count".to_owned(),
        _ => "not recorded".to_owned(),
    });
    let from = from.unwrap_or_default();
    match origin.code {
        Some(code) => format!("{} ({from})", book.label(code)),
        None => from,
    }
}

/// Batches on the bench: index, paid, full.
fn bench_of(costed: &CostedBook) -> Option<Vec<(usize, Fixed6, Fixed6)>> {
    let mut bench = Vec::new();
    for (at, batch) in costed.batches.iter().enumerate() {
        if batch.state == BatchState::OnTheBench {
            bench.push((at, batch.on_the_bench.paid()?, batch.on_the_bench.full()?));
        }
    }
    Some(bench)
}

fn bench_item(book: &ResolvedBook, costed: &CostedBook, at: usize, paid: Fixed6, full: Fixed6) -> Option<BenchItem> {
    let batch = &costed.batches[at];
    let own = batch.on_the_bench.own_minutes()?;
    let minutes = own.checked_add(batch.on_the_bench.bought_in_minutes()?)?;
    let aims: Vec<String> = batch
        .aims
        .iter()
        .map(|(what, count)| {
            let title = match what {
                Output::Thing(thing) => &book.thing(*thing).named.title,
                Output::Tool(tool) => &book.tool(*tool).named.title,
            };
            format!("{} × {title}", quantity_text(*count))
        })
        .collect();
    Some(BenchItem {
        batch: book.batch(batch.batch).name.clone(),
        started: batch.started.map(|day| day.to_string()).unwrap_or_default(),
        paid: money_text(book, paid),
        full: money_text(book, full),
        minutes: minutes_text(minutes),
        aims: aims.join(", "),
    })
}

/// Paid value at each month's end: all that came in less all that went out, and less what lies in licences for pieces that are not made yet, which is
/// neither stock nor on the bench.
fn over_time(book: &ResolvedBook, costed: &CostedBook, on: Option<NaiveDate>) -> Option<Vec<(String, String)>> {
    let mut months: Vec<((i32, u32), Fixed6)> = Vec::new();
    let mut value = Fixed6::ZERO;
    let mut changes: Vec<(NaiveDate, Fixed6)> = Vec::with_capacity(costed.movements.len());
    for movement in &costed.movements {
        let paid = movement.vector.paid()?;
        changes.push((movement.date, if movement.flow.comes_in() { paid } else { paid.checked_neg()? }));
    }
    for (day, paid) in &costed.licence_changes {
        changes.push((*day, paid.checked_neg()?));
    }
    changes.sort_by_key(|(day, _)| *day);
    for (day, change) in changes {
        let month = (day.year(), day.month());
        while let Some((last, _)) = months.last() {
            if *last >= month {
                break;
            }
            let next = if last.1 == 12 { (last.0 + 1, 1) } else { (last.0, last.1 + 1) };
            months.push((next, value));
        }
        if months.is_empty() {
            months.push((month, value));
        }
        value = value.checked_add(change)?;
        if let Some(last) = months.last_mut() {
            last.1 = value;
        }
    }
    if let (Some(on), Some((last, _))) = (on, months.last().copied()) {
        let mut month = last;
        while month < (on.year(), on.month()) {
            month = if month.1 == 12 { (month.0 + 1, 1) } else { (month.0, month.1 + 1) };
            months.push((month, value));
        }
    }
    let values: Vec<Fixed6> = months.iter().map(|(_, value)| *value).collect();
    let shown: Vec<String> = values.iter().map(|value| money_text(book, *value)).collect();
    Some(months.iter().zip(shown).map(|(((year, month), _), text)| (format!("{year:04}-{month:02}"), text)).collect())
}

fn notes(book: &ResolvedBook, costed: &CostedBook) -> Option<Vec<String>> {
    let mut notes = Vec::new();
    let licences = costed.licences.iter().map(|lot| lot.vector.paid()).collect::<Option<Vec<_>>>()?;
    let licences = Fixed6::checked_sum(licences)?;
    if !licences.is_zero() {
        notes.push(format!(
            "{} paid for licences of pieces that are not made yet is in none of these sums",
            said_money(book, licences)
        ));
    }
    if costed.year_ends.last().is_some_and(|end| !end.unrecorded.is_zero()) {
        notes.push("goods were issued that were never recorded as come in; their cost is an estimate".to_owned());
    }
    Some(notes)
}
