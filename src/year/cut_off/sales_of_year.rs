//! Orders of a year's neighbourhood: what each came to, and in which years it counts.
//!
//! Gross is before fees, at the price of the goods with shipping; an order that is paid in parts names every year in which a part counts. The
//! cut-off list and the statements read them.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use crate::costing::{Account, OrderAccount};
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::settled::Settled;

/// One order.
#[derive(Clone, Debug)]
pub(crate) struct OrderSum<'a> {
    pub(crate) order: &'a OrderAccount,
    /// Goods, shipping and incomes, before refunds and fees.
    pub(crate) gross: Fixed6,
    /// What of that has not counted by the end of the book.
    pub(crate) open: Fixed6,
    /// How much of it counts in each year.
    pub(crate) counts_in: BTreeMap<i32, Fixed6>,
}

/// Every order, in the order of the book. `None` on overflow.
pub(crate) fn sum_orders<'a>(of: &BooksOfYear<'a>, settled: &Settled) -> Option<Vec<OrderSum<'a>>> {
    let mut sums: Vec<OrderSum<'a>> = (of.costed().orders.iter())
        .map(|order| OrderSum { order, gross: Fixed6::ZERO, open: Fixed6::ZERO, counts_in: BTreeMap::new() })
        .collect();
    for (at, posting) in (0u32..).zip(&of.costed().postings) {
        if !matches!(posting.account, Account::Goods | Account::ShippingCharged | Account::Income(_)) {
            continue;
        }
        let Some(sum) = posting.order.and_then(|order| sums.get_mut(order as usize)) else { continue };
        sum.gross = sum.gross.checked_add(posting.money)?;
        sum.open = sum.open.checked_add(posting.money)?;
        for part in settled.posting(of.costed(), at) {
            sum.open = sum.open.checked_sub(part.amount)?;
            let counts = sum.counts_in.entry(part.date.year()).or_default();
            *counts = counts.checked_add(part.amount)?;
        }
    }
    Some(sums)
}

impl OrderSum<'_> {
    /// The order's name, or its day.
    pub(crate) fn name(&self, of: &BooksOfYear<'_>) -> String {
        match self.order.order {
            Some(order) => format!("order {}", of.book().label(order)),
            None => format!("sale of {}", self.order.date),
        }
    }

    /// The channel's name.
    pub(crate) fn channel<'b>(&self, of: &BooksOfYear<'b>) -> &'b str {
        self.order.channel.map_or("a swap", |channel| of.book().channel(channel).named.name.as_str())
    }

    /// The channel's title.
    pub(crate) fn channel_title<'b>(&self, of: &BooksOfYear<'b>) -> &'b str {
        self.order.channel.map_or("a swap", |channel| of.book().channel(channel).named.title.as_str())
    }

    /// The row of a list: day, name, channel, gross, and when it counts.
    pub(crate) fn row(&self, of: &BooksOfYear<'_>) -> String {
        let whole = self.counts_in.len() == 1 && !self.open.is_positive();
        let counts = self.counts_in.iter().map(|(year, amount)| match whole {
            true => format!("counts in {year}"),
            false => format!("{} counts in {year}", of.money(*amount)),
        });
        let mut counts: Vec<String> = counts.collect();
        if self.open.is_positive() {
            counts.push(format!("{} open", of.money(self.open)));
        }
        format!(
            "{} {} via {}: {}, {}",
            self.order.date,
            self.name(of),
            self.channel_title(of),
            of.money(self.gross),
            counts.join(" and ")
        )
    }

    /// The entry's head.
    pub(crate) fn span(&self) -> Span {
        self.order.head
    }

    /// Whether the order is of a stretch of days.
    pub(crate) fn is_within(&self, from: NaiveDate, to: NaiveDate) -> bool {
        from <= self.order.date && self.order.date <= to
    }
}
