//! The years in which something of a book counts, which may be more than those of its entries.
//!
//! A bill is paid, money can be had or a fee is meant for a day in another year, and a tool is recovered over the years after the last
//! entry. Of the years before and after all of these nothing is figured, and what the book says of them is told to have no effect.

use std::ops::RangeInclusive;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::costing::ToolAccount;
use crate::diagnostics::Diagnostics;
use crate::events::EventKind;
use crate::names::Recovery;
use crate::year::{Books, errors};

/// From the first to the last year in which something of a book counts; `None` for a book without entries.
#[must_use]
pub fn years_that_count(books: Books<'_>) -> Option<RangeInclusive<i32>> {
    let costed = books.costed;
    let paid = costed.bills.iter().flat_map(|bill| bill.paid.iter().map(|(day, _)| *day).chain(bill.available));
    let meant = costed.postings.iter().filter_map(|posting| posting.meant_for);
    let days: Vec<NaiveDate> = paid.chain(meant).chain(books.log.first_day).chain(costed.until).collect();
    let (first, last) = (days.iter().min()?.year(), days.iter().max()?.year());
    let recovered = costed.tools.iter().filter_map(|account| last_of(books, account)).max();
    Some(first..=recovered.map_or(last, |recovered| recovered.max(last)))
}

/// The last year of a tool's table, which begins in the middle of its first; `None` where it has none or left.
fn last_of(books: Books<'_>, account: &ToolAccount) -> Option<i32> {
    let tool = books.book.tool(account.tool);
    let over: Decimal = match tool.recovery? {
        Recovery::OverYears(over) | Recovery::Section179 { rest_over: Some(over), .. } => over,
        Recovery::Section179 { rest_over: None, .. } | Recovery::AtOnce => Decimal::ZERO,
    };
    if account.retired.is_some() {
        return None;
    }
    account.in_use_from(tool.in_use_from).year().checked_add(over.ceil().to_i32()?)
}

/// Warns of statements and choices of years in which nothing counts.
pub fn tell_years_outside(books: Books<'_>, found: &mut Diagnostics) {
    let Some(years) = years_that_count(books).filter(|_| books.book.shop.tax_form.is_some()) else { return };
    for choices in books.book.choices.values().filter(|choices| !years.contains(&choices.year)) {
        found.push(errors::of_a_year_outside(choices.span, "these choices have", choices.year, &years));
    }
    for event in &books.log.events {
        if let EventKind::Statement { year, .. } = event.kind
            && !years.contains(&year)
        {
            found.push(errors::of_a_year_outside(event.head, "this statement has", year, &years));
        }
    }
}
