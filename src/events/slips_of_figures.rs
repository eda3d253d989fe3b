//! A look over figures of which one must be wrong: odometers, the owner's hours of one day, days of payments; and over figures out of all
//! proportion: sales tax and postage to their sale, miles to a day, a price to the list's.
//!
//! Hours are those of `worked` alone: a batch may be built on many days and entered on its last.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, Worker, errors};
use crate::names::ResolvedBook;
use crate::sources::Span;
use crate::units::Fixed6;

/// The minutes that one may work on a day.
const DAY: Fixed6 = Fixed6::from_micros(16 * 60 * 1_000_000);

/// More miles than one drives for a workshop on a day.
const FAR_FOR_A_DAY: Decimal = Decimal::from_parts(600, 0, 0, false, 0);
/// Of how many parts of its goods a sale's tax is at most one: no sales tax is a third of the price.
const MOST_TAX: i128 = 3;
/// How many times its list price a piece fetches at most.
const MOST_PRICE: i128 = 3;

/// Looks over all events in their order.
pub(crate) fn look_over(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    look_at_odometer(events, found);
    look_at_hours(events, found);
    look_at_payments(events, found);
    look_at_proportions(events, book, found);
}

fn look_at_proportions(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let digits = book.shop.currency.digits();
    let text = |money: Fixed6| money.to_fixed_text(digits, 6);
    let times = |money: Fixed6, times: i128| money.checked_mul_int(times);
    for event in events {
        match &event.kind {
            EventKind::Drove { miles, .. } if *miles > FAR_FOR_A_DAY => {
                let what = format!("{} miles in one entry", plain(*miles));
                found.push(errors::slips::out_of_proportion(event.head, &what, "which is far for a day"));
            }
            EventKind::Sold(sold) => {
                let Some(goods) = Fixed6::checked_sum(sold.lines.iter().map(|line| line.value)).filter(|sum| sum.is_positive())
                else {
                    continue;
                };
                if sold.postage > goods {
                    let (what, goods) = (format!("postage of {}", text(sold.postage)), text(goods));
                    found.push(errors::slips::out_of_proportion(
                        event.head,
                        &what,
                        &format!("more than the {goods} of the goods"),
                    ));
                }
                let taxes = sold
                    .taxes
                    .iter()
                    .filter(|tax| !tax.included && times(tax.money, MOST_TAX).is_some_and(|three| three > goods));
                for tax in taxes {
                    let (what, goods) = (format!("sales tax of {}", text(tax.money)), text(goods));
                    found.push(errors::slips::out_of_proportion(
                        tax.span,
                        &what,
                        &format!("more than a third of the {goods} of the goods"),
                    ));
                }
                for line in &sold.lines {
                    if let Some(list) = line.list_value.filter(|list| list.is_positive())
                        && times(list, MOST_PRICE).is_some_and(|three| line.value > three)
                    {
                        let what = format!("{} for `{}`", text(line.value), book.thing(line.thing).named.name);
                        let against = format!("more than three times the {} of the list", text(list));
                        found.push(errors::slips::out_of_proportion(line.span, &what, &against));
                    }
                }
            }
            _ => {}
        }
    }
}

/// Each reading against the one before and what was driven on the days between; the days of the readings themselves are left
/// aside, since a drive may be before or after its day's reading.
fn look_at_odometer(events: &[Event], found: &mut Diagnostics) {
    let drives = events.iter().filter_map(|event| match event.kind {
        EventKind::Drove { miles, .. } => Some((event.date, miles)),
        _ => None,
    });
    let drives: Vec<(NaiveDate, Decimal)> = drives.collect();
    let readings = events.iter().filter_map(|event| match event.kind {
        EventKind::Odometer(miles) => Some((event.date, miles, event.head)),
        _ => None,
    });
    let readings: Vec<(NaiveDate, Decimal, Span)> = readings.collect();
    for pair in readings.windows(2) {
        let [(day, before, first), (today, miles, head)] = pair else { continue };
        if miles < before {
            // Two readings of one day have no order.
            if day < today {
                found.push(errors::slips::odometer_down(*head, &plain(*miles), &plain(*before), *day, *first));
            }
            continue;
        }
        let (from, to) = (drives.partition_point(|(at, _)| at <= day), drives.partition_point(|(at, _)| at < today));
        let between = drives.get(from..to).unwrap_or(&[]).iter();
        let driven = between.map(|(_, miles)| *miles).try_fold(Decimal::ZERO, Decimal::checked_add);
        // A reading is a whole number, so it may be short by one.
        let (Some(driven), Some(turned)) = (driven, miles.checked_sub(*before)) else { continue };
        if turned.checked_add(Decimal::ONE).is_some_and(|turned| turned < driven) {
            found.push(errors::slips::odometer_short(*head, &plain(turned), &plain(driven), *day, *first));
        }
    }
}

fn plain(figure: Decimal) -> String {
    figure.normalize().to_string()
}

fn look_at_hours(events: &[Event], found: &mut Diagnostics) {
    let mut days: BTreeMap<NaiveDate, Fixed6> = BTreeMap::new();
    for event in events {
        let EventKind::Worked(lines) = &event.kind else { continue };
        for line in lines.iter().filter(|line| matches!(line.worker, Worker::Owner(_))) {
            let sum = days.entry(event.date).or_default();
            let before = *sum;
            let Some(after) = before.checked_add(line.minutes) else { continue };
            *sum = after;
            // Told once a day, at the line that makes it too much.
            if before <= DAY && after > DAY {
                found.push(errors::slips::more_than_a_day(line.span, event.date));
            }
        }
    }
}

fn look_at_payments(events: &[Event], found: &mut Diagnostics) {
    for event in events {
        let EventKind::Sold(sold) = &event.kind else { continue };
        for payment in sold.settlement.payments.iter().filter(|payment| payment.date.year() < event.date.year()) {
            found.push(errors::slips::paid_in_an_earlier_year(payment.span, payment.date, event.date));
        }
    }
}
