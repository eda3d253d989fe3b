//! Overhead from expenses in a year that is not over: few hours bear all that was spent so far, and whoever reads a cost must know it.

use chrono::{Datelike, NaiveDate};

use crate::costing::{CostedBook, Flow, actual_overhead, overhead_of_tools};
use crate::names::{OverheadRule, ResolvedBook};
use crate::reports::period::{minutes_text, money_text};
use crate::units::{Fixed6, mul_div_round};

/// The year that is not over in the book and whose overhead comes from expenses; `None` where there is none.
pub(crate) fn open_year(book: &ResolvedBook, costed: &CostedBook) -> Option<i32> {
    let until = costed.until?;
    let is_open = NaiveDate::from_ymd_opt(until.year(), 12, 31).is_some_and(|last| until < last);
    (is_open && *book.shop.overhead.on(until) == OverheadRule::FromExpenses).then(|| until.year())
}

/// A warning with its numbers, where the year is not over and hours bear what was spent in it. The outer `None` is overflow.
pub(crate) fn overhead_so_far(book: &ResolvedBook, costed: &CostedBook) -> Option<Option<String>> {
    let Some((year, until)) = open_year(book, costed).zip(costed.until) else { return Some(None) };
    let Some((spent, minutes, an_hour)) = of_year(book, costed, year)? else { return Some(None) };
    let (from, last) = (NaiveDate::from_ymd_opt(year, 1, 1), NaiveDate::from_ymd_opt(year, 12, 31));
    let loses = overhead_of_tools(book, costed, from, last)?.iter().any(|(_, _, money)| !money.is_zero());
    let with_tools = if loses { ", with what tools lose until the year's end," } else { "" };
    let before = match year.checked_sub(1).map(|before| of_year(book, costed, before)) {
        Some(before) => before?.map(|(_, _, an_hour)| an_hour),
        None => None,
    };
    let before = before.map_or_else(String::new, |before| format!("; over the year before it was {}", money_text(book, before)));
    let hours = hours_text(minutes);
    Some(Some(format!(
        "overhead comes from expenses, and {year} is in the book only to {until}: {}{with_tools} spread over {hours} of work is {} an hour so far{before}. \
         It changes with every bill and every hour until the year is over",
        money_text(book, spent),
        money_text(book, an_hour)
    )))
}

/// What a year spent on overhead, what tools lose until its end with it (as the engine spreads it), over how many direct minutes, and how much that is an hour; `None` inside where nobody worked. The outer `None` is
/// overflow.
fn of_year(book: &ResolvedBook, costed: &CostedBook, year: i32) -> Option<Option<(Fixed6, Fixed6, Fixed6)>> {
    let (from, to) = (NaiveDate::from_ymd_opt(year, 1, 1), NaiveDate::from_ymd_opt(year, 12, 31));
    let mut minutes = Fixed6::ZERO;
    for movement in costed.movements.iter().filter(|one| one.flow == Flow::Time && one.date.year() == year) {
        minutes = minutes.checked_add(movement.vector.own_minutes()?)?.checked_add(movement.vector.bought_in_minutes()?)?;
    }
    if !minutes.is_positive() {
        return Some(None);
    }
    let spent = actual_overhead(book, costed, from, to)?;
    let an_hour = mul_div_round(spent.micros(), 60_000_000, minutes.micros()).map(Fixed6::from_micros)?;
    Some(Some((spent, minutes, an_hour)))
}

/// Hours with a tenth, toward zero: `5.4 h`.
pub(crate) fn hours_text(minutes: Fixed6) -> String {
    let hours = mul_div_round(minutes.micros(), 1, 6_000_000).map(|tenths| (tenths / 10, tenths % 10));
    match hours {
        Some((whole, 0)) => format!("{whole} h"),
        Some((whole, tenth)) => format!("{whole}.{tenth} h"),
        None => format!("{} min", minutes_text(minutes)),
    }
}
