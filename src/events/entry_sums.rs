//! Reads the sums of an entry, and tells those that the currency or the program can't hold.

use rust_decimal::Decimal;

use crate::events::entry_money::{MoneyFault, Sum};
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::events::total_explained::{PartKind, Total, TotalPart, explain_total};
use crate::sources::Span;
use crate::syntax::Verb;
use crate::units::{Currency, Fixed6};

impl EntryReader<'_> {
    /// `1 EUR = 1.0842`: all money of the entry is EUR at that rate.
    pub(crate) fn take_exchange_rate(&mut self, line: Span, currency: Span, rate: Decimal) {
        let code = self.text(currency);
        let Some(known) = Currency::parse(code) else {
            return self.refuse(errors::money::unknown_currency(currency, code));
        };
        if known == self.coin.book {
            return self.refuse(errors::money::own_currency(line, known));
        }
        if rate.is_zero() {
            return self.refuse(errors::money::zero_rate(line, code));
        }
        if self.coin.foreign.is_some() {
            return self.refuse(errors::money::second_rate(line));
        }
        self.coin.foreign = Some((known, rate));
    }

    /// A sum of money as written: at most the currency's digits.
    pub(crate) fn sum(&mut self, money: Decimal, span: Span) -> Option<Sum> {
        let read = self.coin.total(money);
        self.money_or_told(read, money, span)
    }

    /// A sum that is below nothing can't be written, so this is a sum that may be zero.
    pub(crate) fn booked(&mut self, money: Decimal, span: Span) -> Option<Fixed6> {
        self.sum(money, span).map(|sum| sum.booked)
    }

    /// A price times a quantity.
    pub(crate) fn line_sum(&mut self, price: Decimal, quantity: Decimal, span: Span) -> Option<Sum> {
        let read = self.coin.line(price, quantity);
        self.money_or_told(read, price, span)
    }

    /// A list price times a quantity: in the book's currency, whatever the entry's.
    pub(crate) fn list_sum(&mut self, price: Decimal, quantity: Decimal, span: Span) -> Option<Sum> {
        let read = crate::units::line_total(price, quantity, self.coin.book)
            .map_err(|_| MoneyFault::TooLarge)
            .and_then(|booked| self.coin.booked(booked));
        self.money_or_told(read, price, span)
    }

    /// So many parts of a hundred of a sum.
    pub(crate) fn percent_of(&mut self, sum: Sum, percent: Decimal, span: Span) -> Option<Sum> {
        let read = self.coin.percent_of(sum, percent);
        self.money_or_told(read, percent, span)
    }

    /// The tax within a sum, one of several that are `all` parts of a hundred together.
    pub(crate) fn tax_within(&mut self, sum: Sum, percent: Decimal, all: Decimal, span: Span) -> Option<Sum> {
        let read = self.coin.tax_within(sum, percent, all);
        self.money_or_told(read, percent, span)
    }

    /// Remembers a part of the entry's total, and adds it to the sum of its kind.
    pub(crate) fn plus_part(&mut self, kind: PartKind, to: &mut Sum, sum: Sum, line: Span) {
        self.parts.push(TotalPart { kind, line, sum: sum.written });
        self.plus(to, sum, line);
    }

    /// Adds a sum to another.
    pub(crate) fn plus(&mut self, to: &mut Sum, more: Sum, span: Span) {
        match to.plus(more) {
            Some(sum) => *to = sum,
            None => self.refuse(errors::money::too_large(span)),
        }
    }

    /// Takes a sum off another; the result may be below zero.
    pub(crate) fn minus(&mut self, from: &mut Sum, less: Sum, span: Span) {
        match from.minus(less) {
            Some(sum) => *from = sum,
            None => self.refuse(errors::money::too_large(span)),
        }
    }

    /// Adds money to other money.
    pub(crate) fn add(&mut self, to: &mut Fixed6, more: Fixed6, span: Span) {
        match to.checked_add(more) {
            Some(sum) => *to = sum,
            None => self.refuse(errors::money::too_large(span)),
        }
    }

    pub(crate) fn money_or_told<T>(&mut self, read: Result<T, MoneyFault>, money: Decimal, span: Span) -> Option<T> {
        match read {
            Ok(sum) => Some(sum),
            Err(MoneyFault::Digits) => {
                self.refuse(errors::money::too_many_digits(span, money, self.coin.written_in()));
                None
            }
            Err(MoneyFault::TooLarge) => {
                self.refuse(errors::money::too_large(span));
                None
            }
        }
    }

    /// Whether sums that are stated in the entry can be compared with what its lines come to.
    pub(crate) fn may_compare(&self) -> bool {
        !self.unsummed
    }

    /// A sum in the entry's own currency, as it would be written.
    pub(crate) fn as_written(&self, money: Fixed6) -> String {
        let digits = self.coin.written_in().digits();
        money.to_fixed_text(digits, 6)
    }

    /// Compares a stated total with what the lines come to.
    pub(crate) fn check_total(&mut self, stated: Option<(Decimal, Span)>, comes_to: Sum, made_of: &str) {
        let Some((money, span)) = stated else { return };
        let Some(sum) = self.sum(money, span) else { return };
        if self.may_compare() && sum.written != comes_to.written {
            let (less, size) = match sum.written.checked_sub(comes_to.written).unwrap_or_default() {
                apart if apart.is_negative() => (true, apart.checked_neg().unwrap_or_default()),
                apart => (false, apart),
            };
            let texts = [sum.written, comes_to.written, size].map(|money| self.as_written(money));
            let told = errors::money::total_differs(span, &texts, less, made_of);
            let total = Total {
                stated: (sum.written, span),
                comes_to: comes_to.written,
                parts: &self.parts,
                verb: self.entry.verb,
                came_in: false,
            };
            // What was paid ahead is taken off by itself, and the total is of the whole sale.
            let rest_of_order = less && self.entry.verb == Verb::Sold && self.head_order().is_some();
            let told = match rest_of_order {
                true => errors::money::of_the_whole_sale(told),
                false => explain_total(told, &total, &self.coin, self.desk.sources),
            };
            self.tell(told);
            // What a line says may be wrong, or a line lacks: nothing that follows from it is told.
            self.failed = true;
            self.unsummed = true;
            self.lacks_goods |= self.entry.verb == Verb::Bought && sum.written > comes_to.written;
        }
    }
}
