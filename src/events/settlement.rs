//! How an entry's sum is settled: the `paid`, `unpaid` and `available` lines and what holds without them.
//!
//! Without such a line an entry is paid on its day (all that is still owed, so a deposit is not paid twice), unless the channel
//! pays later. Where parts are paid, the rest is owed; parts that make up the whole leave nothing.

use rust_decimal::Decimal;

use crate::events::entry_money::Sum;
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::events::{Payment, Settlement};
use crate::sources::Span;
use crate::syntax::{DetailKind, Plain};
use crate::units::Fixed6;

impl EntryReader<'_> {
    /// Reads how the entry is settled. `comes_to` is its sum, where that is known; `owed` says that it is owed where nothing is
    /// written.
    pub(crate) fn settlement(&mut self, comes_to: Option<Sum>, owed: bool) -> Settlement {
        let entry = self.entry;
        let mut settlement = Settlement::default();
        let mut all_the_rest: Option<Span> = None;
        let mut written = Fixed6::ZERO;
        for detail in &entry.details {
            match &detail.kind {
                DetailKind::Plain(Plain::Unpaid) => settlement.said_unpaid = true,
                DetailKind::Available(date) => settlement.available = Some(*date),
                DetailKind::Paid { money, date } => {
                    let date = date.unwrap_or(self.date);
                    let money = match money {
                        None if all_the_rest.is_some() => {
                            self.refuse(errors::money::rest_paid_twice(detail.span, all_the_rest));
                            continue;
                        }
                        None => {
                            all_the_rest = Some(detail.span);
                            None
                        }
                        Some(money) => match self.paid_sum(*money, detail.span, &mut written) {
                            Some(booked) => Some(booked),
                            None => continue,
                        },
                    };
                    settlement.payments.push(Payment { money, date, span: detail.span });
                }
                _ => {}
            }
        }
        if self.failed && !settlement.payments.is_empty() {
            // What is paid may be for a line that could not be read.
            settlement.payments.truncate(1);
            settlement.payments.iter_mut().for_each(|payment| payment.money = None);
        }
        settlement.payments.sort_by_key(|payment| (payment.date, payment.money.is_none()));
        let in_full = comes_to.is_some_and(|sum| sum.written == written) && !written.is_zero();
        if in_full && all_the_rest.is_none() && self.coin.foreign.is_some() {
            // What is paid in parts of another currency is paid in full, whatever the parts were rounded to.
            if let Some(last) = settlement.payments.last_mut() {
                last.money = None;
            }
        }
        if settlement.payments.is_empty() && !settlement.said_unpaid && !owed {
            settlement.payments.push(Payment { money: None, date: self.date, span: entry.head });
        }
        settlement
    }

    fn paid_sum(&mut self, money: Decimal, span: Span, written: &mut Fixed6) -> Option<Fixed6> {
        let sum = self.sum(money, span)?;
        self.add(written, sum.written, span);
        Some(sum.booked)
    }
}
