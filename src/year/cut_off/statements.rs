//! Channels' statements of a year against the books, gross, before fees and refunds.
//!
//! A difference that is exactly shipping, sales tax, refunds, or orders of the year's two ends, alone or together, is named so; any
//! other is a question.

use chrono::{Days, NaiveDate};

use crate::costing::{Account, TaxFlow};
use crate::units::Fixed6;
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::cut_off::cut_off_list::END_DAYS;
use crate::year::cut_off::sales_of_year::OrderSum;
use crate::year::questions::Questions;

/// The rows of the year's statements; what is not explained is asked. `None` on overflow.
pub(crate) fn compare_statements(
    of: &BooksOfYear<'_>,
    orders: &[OrderSum<'_>],
    questions: &mut Questions,
) -> Option<Vec<String>> {
    let mut rows = Vec::new();
    for (_, from, gross, event) in of.costed().statements.iter().filter(|statement| statement.0 == of.year) {
        let name = of.book().label(*from);
        let books = ChannelBooks::of(of, orders, name)?;
        let said = format!("{name} says {}, the books {}", of.money(*gross), of.money(books.goods));
        match books.explain(of, gross.checked_sub(books.goods)?)? {
            Some(why) if why.is_empty() => rows.push(format!("{said}: they agree")),
            Some(why) => rows.push(format!("{said}: the difference is {why}")),
            None => {
                let off = of.money(gross.checked_sub(books.goods)?);
                rows.push(format!("{said}: {off} is not explained"));
                let question = format!("{said}: what is the difference of {off}?");
                questions.ask(
                    &format!("{name}/statement"),
                    question,
                    Rule::StatementGross,
                    "the missing sales, or answered …",
                    vec![of.head(*event)],
                );
            }
        }
    }
    Some(rows)
}

struct ChannelBooks {
    goods: Fixed6,
    /// What may explain a difference: name and how much it adds.
    reasons: Vec<(&'static str, Fixed6)>,
}

impl ChannelBooks {
    fn of(of: &BooksOfYear<'_>, orders: &[OrderSum<'_>], name: &str) -> Option<Self> {
        let mine = |order: Option<u32>| {
            order.and_then(|order| orders.get(order as usize)).is_some_and(|order| order.channel(of) == name)
        };
        let (mut goods, mut shipping, mut refunds) = (Fixed6::ZERO, Fixed6::ZERO, Fixed6::ZERO);
        for posting in of.costed().postings.iter().filter(|posting| of.has(posting.date) && mine(posting.order)) {
            let sum = match posting.account {
                Account::Goods | Account::Income(_) => &mut goods,
                Account::ShippingCharged => &mut shipping,
                Account::Refund => &mut refunds,
                _ => continue,
            };
            *sum = sum.checked_add(posting.money)?;
        }
        let mut tax = Fixed6::ZERO;
        for one in
            of.costed().taxes.iter().filter(|one| of.has(one.date) && matches!(one.flow, TaxFlow::Collected | TaxFlow::ByChannel))
        {
            let channel = of.event(one.event).and_then(|event| match &event.kind {
                crate::events::EventKind::Sold(sold) => sold.channel,
                _ => None,
            });
            if channel.is_some_and(|channel| of.book().channel(channel).named.name == name) {
                tax = tax.checked_add(one.money)?;
            }
        }
        let within = |from: NaiveDate, to: NaiveDate| {
            let of_days = orders.iter().filter(|order| order.channel(of) == name && order.is_within(from, to));
            Fixed6::checked_sum(of_days.map(|order| order.gross))
        };
        let december = within(of.last.checked_sub_days(Days::new(END_DAYS - 1))?, of.last)?.checked_neg()?;
        let next = of.last.succ_opt()?;
        let january = within(next, next.checked_add_days(Days::new(END_DAYS - 1))?)?;
        let reasons = vec![
            ("shipping", shipping),
            ("sales tax", tax),
            ("refunds", refunds.checked_neg()?),
            ("orders of the last fifteen days", december),
            ("orders of the first fifteen days of the next year", january),
        ];
        Some(Self { goods, reasons })
    }

    /// The fewest reasons that together are exactly a difference; empty for none at all. `Some(None)` where nothing is.
    fn explain(&self, of: &BooksOfYear<'_>, difference: Fixed6) -> Option<Option<String>> {
        let usable: Vec<_> = self.reasons.iter().filter(|(_, amount)| !amount.is_zero()).collect();
        let mut best: Option<Vec<(&str, Fixed6)>> = None;
        for chosen in 0u32..(1 << usable.len()) {
            let picked = || usable.iter().enumerate().filter(move |(at, _)| chosen & (1 << at) != 0).map(|(_, reason)| *reason);
            let sum = Fixed6::checked_sum(picked().map(|(_, amount)| *amount))?;
            let named: Vec<(&str, Fixed6)> = picked().copied().collect();
            if sum == difference && best.as_ref().is_none_or(|known| named.len() < known.len()) {
                best = Some(named);
            }
        }
        let in_words = |named: Vec<(&str, Fixed6)>| {
            let each = named.into_iter().map(|(name, amount)| format!("{name} {}", of.money(amount)));
            each.collect::<Vec<_>>().join(", ")
        };
        Some(best.map(in_words))
    }
}
