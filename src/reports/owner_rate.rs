//! The rate of the owner's hour, in words: what it is on a day, since when, and what it was before.
//!
//! A price is of pieces that were made at the rates of their days, a plan of pieces that will be made at the rate of its day. So both say which.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::ResolvedBook;
use crate::reports::period::money_text;
use crate::reports::report_cost::price_text;
use crate::units::{Fixed6, mul_div_round};

/// What a plan says of the rate on its day; nothing where the shop states none.
pub(crate) fn rate_of_plan(book: &ResolvedBook, day: NaiveDate) -> Option<String> {
    let rate = price_text(book, (*book.shop.owner_time.on(day))?);
    Some(match changed(book, day) {
        None => format!("your hour counts at {rate} in what one will cost, the one rate that the book states"),
        Some((since, before)) => format!(
            "your hour counts at {rate} in what one will cost, the rate since {since} ({before} before); what was made earlier, as the pieces of which `kerfbook price` tells, has the rate of its days"
        ),
    })
}

/// What a price says of the rate: what the own time in a piece came to for an hour, and the rate of the day where that is another.
pub(crate) fn rate_of_price(book: &ResolvedBook, day: NaiveDate, (own_time, minutes): (Fixed6, Fixed6)) -> Option<String> {
    let rate = Fixed6::round_from_decimal((*book.shop.owner_time.on(day))?)?;
    if minutes.is_zero() {
        return None;
    }
    let was = mul_div_round(own_time.micros(), 60_000_000, minutes.micros()).map(Fixed6::from_micros)?;
    let (was, rate) = (money_text(book, was), money_text(book, rate));
    Some(match changed(book, day) {
        _ if was == rate => format!("your hour in the cost counts at {rate}, the rate on {day}"),
        None => format!("your hour in the cost came to {was}; the rate on {day} is {rate}, at which a plan counts"),
        Some((since, _)) => format!(
            "your hour in the cost came to {was}, at the rates of the days on which it was worked; since {since} the rate is {rate}, at which a plan counts"
        ),
    })
}

/// What there is to know where the shop states none.
pub(crate) fn no_rate() -> String {
    "no rate for your hour is stated, so your own time costs nothing in these figures: `owner time 24.00 per h` in `shop` states one".to_owned()
}

/// The last day up to a day on which the rate changed, and what it was before.
fn changed(book: &ResolvedBook, day: NaiveDate) -> Option<(NaiveDate, String)> {
    let rates = &book.shop.owner_time;
    let text = |rate: Option<Decimal>| rate.map_or_else(|| "none".to_owned(), |rate| price_text(book, rate));
    let changes = rates.changes().iter().filter(|(from, _)| *from <= day);
    let mut last = None;
    let mut before = *rates.first();
    for (from, rate) in changes {
        if *rate != before {
            last = Some((*from, text(before)));
        }
        before = *rate;
    }
    last
}
