//! Fills a place's papers: the goods of each day on which some were sent there, and the last count against what the books had before it.
//!
//! A count is told by the engine as what was missing, or found more, so what was booked is what was counted with that. How late a payment is, is
//! held against how long the place took to pay before: no book says what was agreed.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::{Bill, BillKind, Flow, Movement};
use crate::events::EventKind;
use crate::names::{ChannelShare, FeeRule, PlaceId, ResolvedBook, ThingId};
use crate::reports::marked_price::MarkedPrices;
use crate::reports::period::{money_text, quantity_text, said_money};
use crate::reports::place_shortage::{fees_of, share_of};
use crate::reports::report_cost::price_text;
use crate::reports::report_places::place_of_bill;
use crate::reports::{CountedRow, PlaceSlip, SlipRow};
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact, checked_sub_exact, line_total};
use crate::year::Books;

/// Paid bills by which it is known how long a place takes.
const LAST: usize = 5;

/// A line of a paper: so much of a thing, and the line of the book that says it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PaperLine {
    pub(crate) thing: ThingId,
    pub(crate) quantity: Decimal,
    pub(crate) line: Span,
}

/// What was sent to a place, by the day: each is a slip.
pub(crate) fn all_slips(books: Books<'_>, place: PlaceId) -> BTreeMap<NaiveDate, Vec<PaperLine>> {
    let until = books.costed.until;
    let mut slips: BTreeMap<NaiveDate, Vec<PaperLine>> = BTreeMap::new();
    for event in books.log.events.iter().filter(|event| Some(event.date) <= until) {
        let EventKind::Moved(moved) = &event.kind else { continue };
        if moved.to == place {
            let lines = moved.lines.iter().map(|one| PaperLine { thing: one.thing, quantity: one.quantity, line: one.span });
            slips.entry(event.date).or_default().extend(lines);
        }
    }
    slips
}

/// What was sent to a place on a day, else on the last on which something was. `None` where nothing was.
pub(crate) fn slip_lines(books: Books<'_>, place: PlaceId, on: Option<NaiveDate>) -> Option<(NaiveDate, Vec<PaperLine>)> {
    let mut slips = all_slips(books, place);
    match on {
        Some(day) => slips.remove_entry(&day),
        None => slips.pop_last(),
    }
}

/// The last count of a place: what was counted, and what was missing in it (below zero: found more).
#[derive(Clone, Debug, Default)]
pub(crate) struct CountLines<'a> {
    /// Its day; none where there was none.
    pub(crate) day: Option<NaiveDate>,
    /// The entries that are it.
    pub(crate) entries: Vec<Span>,
    pub(crate) counted: Vec<PaperLine>,
    pub(crate) missing: Vec<PaperLine>,
    /// What is in `missing`, with its cost.
    pub(crate) movements: Vec<&'a Movement>,
}

/// The last count of a place; nothing where there was none.
pub(crate) fn count_lines<'a>(books: Books<'a>, place: PlaceId) -> CountLines<'a> {
    let mut lines = CountLines::default();
    let Some(day) = books.costed.last_counts.iter().find(|(at, _)| *at == place).map(|(_, day)| *day) else { return lines };
    lines.day = Some(day);
    let mut events: Vec<u32> = Vec::new();
    for (at, event) in (0u32..).zip(&books.log.events) {
        let EventKind::Counted(counted) = &event.kind else { continue };
        if event.date != day || counted.place != place {
            continue;
        }
        events.push(at);
        lines.entries.push(event.span);
        lines.counted.extend(counted.lines.iter().map(|one| PaperLine {
            thing: one.thing,
            quantity: one.quantity,
            line: one.span,
        }));
    }
    for movement in books.costed.movements.iter().filter(|one| one.flow == Flow::Missing && events.contains(&one.event)) {
        let Some(thing) = movement.thing else { continue };
        lines.missing.push(PaperLine { thing, quantity: movement.quantity, line: movement.line });
        lines.movements.push(movement);
    }
    lines
}

/// What was handed over at a place, day by day, the newest first. `None` where a figure is too large to be carried.
pub(crate) fn slips_of(books: Books<'_>, place: PlaceId, marked: &MarkedPrices) -> Option<Vec<PlaceSlip>> {
    all_slips(books, place).into_iter().rev().map(|(day, lines)| slip_of(books, (place, marked), day, &lines)).collect()
}

/// A slip of its lines.
fn slip_of(
    books: Books<'_>,
    (place, marked): (PlaceId, &MarkedPrices),
    day: NaiveDate,
    lines: &[PaperLine],
) -> Option<PlaceSlip> {
    let mut goods: BTreeMap<ThingId, Decimal> = BTreeMap::new();
    for line in lines {
        let sum = goods.entry(line.thing).or_default();
        *sum = checked_add_exact(*sum, line.quantity).ok()?;
    }
    let mut all = Fixed6::ZERO;
    let mut rows = Vec::with_capacity(goods.len());
    for (thing, quantity) in goods {
        let named = books.book.thing(thing);
        let price = marked.on(books.book, place, thing, day).map(|marked| marked.price);
        let together = match price {
            Some(price) => Some(line_total(price, quantity, books.book.shop.currency).ok()?),
            None => None,
        };
        all = all.checked_add(together.unwrap_or_default())?;
        rows.push(SlipRow {
            name: named.named.name.clone(),
            title: named.named.title.clone(),
            quantity: quantity_text(quantity),
            unit: named.unit.as_str().to_owned(),
            price: price.map(|price| price_text(books.book, price)),
            together: together.map(|sum| money_text(books.book, sum)),
        });
    }
    rows.sort_by(|a, b| a.name.cmp(&b.name));
    let terms = terms_on(books, place, day);
    Some(PlaceSlip { date: day.to_string(), terms, rows, together: money_text(books.book, all) })
}

/// The part of a price that was agreed with a place, and its fees, in words for both; none where no part was.
pub(crate) fn terms_on(books: Books<'_>, place: PlaceId, day: NaiveDate) -> Option<String> {
    let fees: Vec<String> = fees_of(books, place, day).iter().map(|rule| fee_words(books.book, *rule)).collect();
    let title = &books.book.place(place).named.title;
    let with = |and: &str| if fees.is_empty() { String::new() } else { format!(", {and} {}", fees.join(" and ")) };
    match share_of(books, place, day) {
        ChannelShare::Consignment(percent) => {
            Some(format!("{title} keeps {} % of each price{}", percent.normalize(), with("and")))
        }
        ChannelShare::Wholesale(percent) => Some(format!("{title} pays {} % of each price{}", percent.normalize(), with("less"))),
        ChannelShare::None => None,
    }
}

/// A fee in words to the place that takes it.
fn fee_words(book: &ResolvedBook, rule: FeeRule) -> String {
    let money = |sum: Decimal| {
        let fixed = Fixed6::from_decimal_exact(sum);
        fixed.map_or_else(|| price_text(book, sum), |fixed| said_money(book, fixed))
    };
    match rule {
        FeeRule::OfTotal(percent) | FeeRule::OfGoods(percent) => format!("{} % of each sale as a fee", percent.normalize()),
        FeeRule::OfCard(percent) => format!("{} % of what is paid by card", percent.normalize()),
        FeeRule::PerSale(sum) => format!("{} for each sale", money(sum)),
        FeeRule::PerItem(sum) => format!("{} for each piece", money(sum)),
    }
}

/// The last count of a place against the books. `None` where a figure is too large to be carried.
pub(crate) fn count_of(books: Books<'_>, place: PlaceId) -> Option<Vec<CountedRow>> {
    let lines = count_lines(books, place);
    let mut rows: BTreeMap<ThingId, (Decimal, Decimal)> = BTreeMap::new();
    for line in lines.counted {
        let row = rows.entry(line.thing).or_default();
        row.0 = checked_add_exact(row.0, line.quantity).ok()?;
    }
    for line in lines.missing {
        let row = rows.entry(line.thing).or_default();
        row.1 = checked_add_exact(row.1, line.quantity).ok()?;
    }
    let mut list = Vec::with_capacity(rows.len());
    for (thing, (counted, missing)) in rows {
        let named = books.book.thing(thing);
        list.push(CountedRow {
            name: named.named.name.clone(),
            title: named.named.title.clone(),
            unit: named.unit.as_str().to_owned(),
            counted: quantity_text(counted),
            booked: quantity_text(checked_add_exact(counted, missing).ok()?),
            difference: quantity_text(checked_sub_exact(Decimal::ZERO, missing).ok()?),
        });
    }
    list.sort_by(|a, b| a.name.cmp(&b.name));
    Some(list)
}

/// The last five sales of a place that are paid whole, the newest first, with the day of the last payment.
pub(crate) fn paid_last<'a>(books: Books<'a>, place: PlaceId, last: NaiveDate) -> Vec<(&'a Bill, NaiveDate)> {
    let mut took: Vec<(&Bill, NaiveDate)> = Vec::new();
    for bill in books.costed.bills.iter().filter(|bill| bill.kind == BillKind::OwedToUs && bill.date <= last) {
        // How long something was open before the book began, nothing says.
        let at = place_of_bill(books.book, bill).filter(|_| !bill.opened);
        let paid = bill.paid.iter().map(|(day, _)| *day).filter(|day| *day <= last).max();
        if let (true, Some(paid)) = (at == Some(place) && bill.open_on(last).is_some_and(Fixed6::is_zero), paid) {
            took.push((bill, paid));
        }
    }
    took.sort_by_key(|(bill, paid)| (bill.date, *paid));
    took.into_iter().rev().take(LAST).collect()
}

/// After how many days a place paid its sales: the mean of the last five that are paid whole, rounded up; none where none is.
pub(crate) fn usual_days(books: Books<'_>, place: PlaceId, last: NaiveDate) -> Option<i64> {
    let took = paid_last(books, place, last);
    let count = i64::try_from(took.len()).ok().filter(|count| *count > 0)?;
    let days = took.iter().map(|(bill, paid)| paid.signed_duration_since(bill.date).num_days());
    let sum = days.into_iter().try_fold(0_i64, |sum, days| sum.checked_add(days))?;
    // Rounded up: a place that took 30 days and 31 is late after 31.
    sum.checked_add(count.checked_sub(1)?)?.checked_div(count)
}
