//! What the cut-off list says of stock: on the bench, out at places, last counted, unrecorded, old; and of overhead.
//!
//! Rows in words, money to the currency's digits, as of the year's last day. A place's last count is asked about elsewhere, where it is too far
//! from that day.

use chrono::NaiveDate;

use crate::costing::{Component, Flow, StockLot, actual_overhead};
use crate::events::EventKind;
use crate::names::OverheadRule;
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::goods::goods_cost::unrecorded_at_end;
use crate::year::tax_year::CutOff;

pub(crate) fn on_the_bench(of: &BooksOfYear<'_>) -> Vec<String> {
    let end = of.costed().end_of(of.year);
    let mut rows = Vec::new();
    for account in &of.costed().batches {
        let begun = account.started.is_some_and(|day| day <= of.last);
        if !begun || account.finished.is_some_and(|day| day <= of.last) {
            continue;
        }
        let on_bench = end.and_then(|end| end.bench_of.iter().find(|(batch, _)| *batch == account.batch));
        let paid = on_bench.map_or(Fixed6::ZERO, |(_, paid)| *paid);
        let started = account.started.map_or_else(String::new, |day| day.to_string());
        rows.push(format!("{}, begun {started}: {} paid cost", of.book().batch(account.batch).name, of.money(paid)));
    }
    rows
}

/// Goods out by place, and the last count of each place.
pub(crate) fn places(of: &BooksOfYear<'_>, at_end: &[StockLot]) -> Option<[CutOff; 2]> {
    let (mut out, mut counts) = (Vec::new(), Vec::new());
    for (at, place) in of.book().places.iter().enumerate() {
        let here = at_end.iter().filter(|lot| lot.place.index() == at);
        let mut paid = Fixed6::ZERO;
        for lot in here {
            paid = paid.checked_add(lot.vector.paid()?)?;
        }
        let is_home = of.book().shop.home.is_some_and(|home| home.index() == at);
        if !is_home && !paid.is_zero() {
            out.push(format!("{}: {} paid cost", place.named.title, of.money(paid)));
        }
        counts.push(match last_count(of, at) {
            Some(day) => format!("{}: {day}", place.named.title),
            None => format!("{}: never counted by {}", place.named.title, of.last),
        });
    }
    let empty = "no goods were at other places".to_owned();
    Some([
        CutOff { name: "goods out by place".to_owned(), rows: out, empty },
        CutOff { name: "last count of each place".to_owned(), rows: counts, empty: "the book names no place".to_owned() },
    ])
}

/// The last count of a place by the end of the year.
pub(crate) fn last_count(of: &BooksOfYear<'_>, place: usize) -> Option<NaiveDate> {
    let counted = of.books.log.events.iter().filter(|event| event.date <= of.last).filter_map(|event| match &event.kind {
        EventKind::Counted(counted) if counted.place.index() == place => Some(event.date),
        _ => None,
    });
    counted.max()
}

pub(crate) fn unrecorded(of: &BooksOfYear<'_>) -> Option<Vec<String>> {
    let paid = unrecorded_at_end(of)?;
    Some(if paid.is_zero() {
        Vec::new()
    } else {
        vec![format!("{} issued and not yet bought or made; the year can't be closed", of.money(paid))]
    })
}

pub(crate) fn old_stock(of: &BooksOfYear<'_>, at_end: &[StockLot]) -> Option<Vec<String>> {
    let mut rows = Vec::new();
    for lot in at_end {
        if lot.origin.date < of.first && !lot.quantity.is_zero() {
            let (thing, paid) = (of.book().thing(lot.thing), lot.vector.paid()?);
            let much = match thing.unit.as_str() {
                "ea" => format!("{} × {}", lot.quantity.normalize(), thing.named.title),
                unit => format!("{} {unit} of {}", lot.quantity.normalize(), thing.named.title),
            };
            rows.push(format!("{much}, of {}: {}", lot.origin.date, of.money(paid)));
        }
    }
    Some(rows)
}

/// Overhead applied in the year against what it was, and the average gross receipts that ask for more of it. `None` on overflow.
pub(crate) fn overhead(of: &BooksOfYear<'_>, receipts_average: &str) -> Option<Vec<String>> {
    let mut rows = Vec::new();
    let rules = &of.book().shop.overhead;
    let mut in_force = rules.changes().iter().filter(|(day, _)| *day <= of.last).map(|(_, rule)| rule).chain([rules.first()]);
    if in_force.any(|rule| *rule != OverheadRule::None) {
        let actual = actual_overhead(of.book(), of.costed(), Some(of.first), Some(of.last))?;
        let applied = of.costed().movements.iter().filter(|one| one.flow == Flow::Overhead && of.has(one.date));
        let applied = Fixed6::checked_sum(applied.map(|one| one.vector.get(Component::Overhead)))?;
        let left = actual.checked_sub(applied)?;
        let under_or_over = match (left.is_zero(), left.is_negative()) {
            (true, _) => "all of it".to_owned(),
            (false, false) => format!("{} too little", of.money(left)),
            (false, true) => format!("{} too much", of.money(left.checked_neg()?)),
        };
        rows.push(format!(
            "{} of overhead was put on hours in the workshop's view, {} was spent: {under_or_over}; none of it is in the form's stock",
            of.money(applied),
            of.money(actual)
        ));
    }
    if !receipts_average.is_empty() {
        rows.push(receipts_average.to_owned());
    }
    Some(rows)
}
