//! The money of an entry: as the paper writes it and as it is booked.
//!
//! Without `1 EUR = 1.0842` both are the same. With it, all money that the entry writes is in that currency, and every sum is
//! converted once, half away from zero, to the digits of the book's currency. Sums are checked in the paper's own currency,
//! so that rounding can't make a right bill wrong.

use rust_decimal::Decimal;

use crate::units::money::product_rounded;
use crate::units::{Currency, Fixed6, checked_add_exact, checked_mul_exact, mul_div_round};

/// A sum of money of an entry.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Sum {
    /// In the book's currency.
    pub(crate) booked: Fixed6,
    /// In the currency in which the entry is written.
    pub(crate) written: Fixed6,
}

impl Sum {
    pub(crate) const ZERO: Self = Self { booked: Fixed6::ZERO, written: Fixed6::ZERO };

    pub(crate) fn plus(self, other: Self) -> Option<Self> {
        Some(Self { booked: self.booked.checked_add(other.booked)?, written: self.written.checked_add(other.written)? })
    }

    pub(crate) fn minus(self, other: Self) -> Option<Self> {
        Some(Self { booked: self.booked.checked_sub(other.booked)?, written: self.written.checked_sub(other.written)? })
    }
}

/// What money as written becomes in the book.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Coin {
    /// The book's currency.
    pub(crate) book: Currency,
    /// The entry's own currency and the book's money for one of it.
    pub(crate) foreign: Option<(Currency, Decimal)>,
}

/// Why a sum has no value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum MoneyFault {
    /// More digits than the currency has.
    Digits,
    /// Too large, or more digits than can be kept.
    TooLarge,
}

impl Coin {
    /// The currency in which the entry is written.
    pub(crate) fn written_in(&self) -> Currency {
        self.foreign.map_or(self.book, |(currency, _)| currency)
    }

    /// A sum as written: at most the currency's digits.
    pub(crate) fn total(&self, money: Decimal) -> Result<Sum, MoneyFault> {
        let written = Fixed6::from_decimal_exact(money).ok_or(MoneyFault::Digits)?;
        if !written.has_at_most(self.written_in().digits()) {
            return Err(MoneyFault::Digits);
        }
        match self.foreign {
            None => Ok(Sum { booked: written, written }),
            Some((_, rate)) => {
                let booked = product_rounded(money, rate, self.book.digits()).map_err(|_| MoneyFault::TooLarge)?;
                Ok(Sum { booked, written })
            }
        }
    }

    /// A price times a quantity, rounded once, half away from zero.
    pub(crate) fn line(&self, price: Decimal, quantity: Decimal) -> Result<Sum, MoneyFault> {
        let digits = self.written_in().digits();
        let written = product_rounded(price, quantity, digits).map_err(|_| MoneyFault::TooLarge)?;
        match self.foreign {
            None => Ok(Sum { booked: written, written }),
            Some((_, rate)) => {
                let price = checked_mul_exact(price, rate).map_err(|_| MoneyFault::TooLarge)?;
                let booked = product_rounded(price, quantity, self.book.digits()).map_err(|_| MoneyFault::TooLarge)?;
                Ok(Sum { booked, written })
            }
        }
    }

    /// A sum that the book knows in its own currency (a list price); in a foreign entry its written side is what that currency
    /// gives for it.
    pub(crate) fn booked(&self, booked: Fixed6) -> Result<Sum, MoneyFault> {
        let Some((currency, rate)) = self.foreign else { return Ok(Sum { booked, written: booked }) };
        let lift = 10i128.checked_pow(rate.scale()).ok_or(MoneyFault::TooLarge)?;
        let written = mul_div_round(booked.micros(), lift, rate.mantissa()).ok_or(MoneyFault::TooLarge)?;
        Ok(Sum { booked, written: Fixed6::from_micros(written).round_to(currency.digits()) })
    }

    /// So many parts of a hundred of a sum, rounded once.
    pub(crate) fn percent_of(&self, sum: Sum, percent: Decimal) -> Result<Sum, MoneyFault> {
        let (num, den) = hundredths(percent)?;
        let part = |of: Fixed6, currency: Currency| part_at_digits(of, num, den, currency.digits());
        Ok(Sum { booked: part(sum.booked, self.book)?, written: part(sum.written, self.written_in())? })
    }

    /// The tax within a sum that includes taxes of `all` parts of a hundred together, of which this one is `percent`:
    /// sum x percent / (100 + all), rounded once.
    pub(crate) fn tax_within(&self, sum: Sum, percent: Decimal, all: Decimal) -> Result<Sum, MoneyFault> {
        let whole = checked_add_exact(Decimal::ONE_HUNDRED, all).map_err(|_| MoneyFault::TooLarge)?;
        let lift = |to: u32| 10i128.checked_pow(to).ok_or(MoneyFault::TooLarge);
        let num = percent.mantissa().checked_mul(lift(whole.scale())?).ok_or(MoneyFault::TooLarge)?;
        let den = whole.mantissa().checked_mul(lift(percent.scale())?).ok_or(MoneyFault::TooLarge)?;
        let part = |of: Fixed6, currency: Currency| part_at_digits(of, num, den, currency.digits());
        Ok(Sum { booked: part(sum.booked, self.book)?, written: part(sum.written, self.written_in())? })
    }

    /// What so many minutes come to at a price per hour, rounded once.
    pub(crate) fn pay(&self, per_hour: Decimal, minutes: Fixed6) -> Result<Fixed6, MoneyFault> {
        let per_hour = match self.foreign {
            None => per_hour,
            Some((_, rate)) => checked_mul_exact(per_hour, rate).map_err(|_| MoneyFault::TooLarge)?,
        };
        let digits = self.book.digits();
        let step = 10i128.checked_pow(6 - digits.min(6)).ok_or(MoneyFault::TooLarge)?;
        // minutes are millionths, so one hour is 60 million of them; the result is counted in the currency's smallest unit
        let den = 10i128
            .checked_pow(per_hour.scale())
            .and_then(|scale| scale.checked_mul(60))
            .and_then(|den| den.checked_mul(step))
            .ok_or(MoneyFault::TooLarge)?;
        let units = mul_div_round(minutes.micros(), per_hour.mantissa(), den).ok_or(MoneyFault::TooLarge)?;
        units.checked_mul(step).map(Fixed6::from_micros).ok_or(MoneyFault::TooLarge)
    }
}

/// Parts of a hundred as a ratio of whole numbers.
fn hundredths(percent: Decimal) -> Result<(i128, i128), MoneyFault> {
    let den = 10i128.checked_pow(percent.scale()).and_then(|lift| lift.checked_mul(100)).ok_or(MoneyFault::TooLarge)?;
    Ok((percent.mantissa(), den))
}

/// `of` x `num` / `den`, rounded once to so many digits. `of` has no more digits than that.
fn part_at_digits(of: Fixed6, num: i128, den: i128, digits: u32) -> Result<Fixed6, MoneyFault> {
    let step = 10i128.checked_pow(6 - digits.min(6)).ok_or(MoneyFault::TooLarge)?;
    let units = mul_div_round(of.micros() / step, num, den).ok_or(MoneyFault::TooLarge)?;
    units.checked_mul(step).map(Fixed6::from_micros).ok_or(MoneyFault::TooLarge)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decimal(text: &str) -> Decimal {
        Decimal::from_str_exact(text).expect("a decimal")
    }

    fn money(text: &str) -> Fixed6 {
        Fixed6::from_decimal_exact(decimal(text)).expect("money")
    }

    fn usd() -> Coin {
        Coin { book: Currency::USD, foreign: None }
    }

    fn euros(rate: &str) -> Coin {
        let euro = Currency::parse("EUR").expect("a currency");
        Coin { book: Currency::USD, foreign: Some((euro, decimal(rate))) }
    }

    #[test]
    fn a_total_has_at_most_the_currencys_digits() {
        assert_eq!(usd().total(decimal("18.4")).map(|sum| sum.booked), Ok(money("18.40")));
        assert_eq!(usd().total(decimal("18.405")), Err(MoneyFault::Digits));
        assert_eq!(usd().total(decimal("18.4050000000")), Err(MoneyFault::Digits));
        assert_eq!(usd().total(decimal("18.4000000000")).map(|sum| sum.booked), Ok(money("18.40")));
    }

    #[test]
    fn a_line_is_rounded_once_half_away_from_zero() {
        assert_eq!(usd().line(decimal("5.895"), decimal("3")).map(|sum| sum.booked), Ok(money("17.69")));
        assert_eq!(usd().line(decimal("0.0445"), decimal("1.01")).map(|sum| sum.booked), Ok(money("0.04")));
    }

    #[test]
    fn foreign_money_is_converted_once_and_checked_as_written() {
        let sum = euros("1.0842").total(decimal("10.05")).expect("a sum");
        assert_eq!((sum.booked, sum.written), (money("10.90"), money("10.05")));
        let line = euros("1.0842").line(decimal("3.35"), decimal("3")).expect("a line");
        assert_eq!((line.booked, line.written), (money("10.90"), money("10.05")));
        let listed = euros("1.25").booked(money("42.00")).expect("a list price");
        assert_eq!(listed.written, money("33.60"));
    }

    #[test]
    fn tax_within_prices_is_a_part_of_what_includes_it() {
        let goods = usd().total(decimal("593.00")).expect("a sum");
        assert_eq!(usd().tax_within(goods, decimal("6"), decimal("6")).map(|sum| sum.booked), Ok(money("33.57")));
        // 4 % and 2.5 % within 106.50 are of 100.00
        let goods = usd().total(decimal("106.50")).expect("a sum");
        assert_eq!(usd().tax_within(goods, decimal("4"), decimal("6.5")).map(|sum| sum.booked), Ok(money("4.00")));
        assert_eq!(usd().tax_within(goods, decimal("2.5"), decimal("6.5")).map(|sum| sum.booked), Ok(money("2.50")));
        let goods = usd().total(decimal("593.00")).expect("a sum");
        assert_eq!(usd().percent_of(goods, decimal("10")).map(|sum| sum.booked), Ok(money("59.30")));
    }

    #[test]
    fn pay_for_minutes_is_rounded_to_the_cent() {
        // 25 min at 17.00 are 7.08333…
        assert_eq!(usd().pay(decimal("17.00"), money("25")), Ok(money("7.08")));
        assert_eq!(usd().pay(decimal("18.00"), money("108")), Ok(money("32.40")));
        assert_eq!(usd().pay(decimal("0.30"), money("1")), Ok(money("0.01")));
    }

    #[test]
    fn figures_at_the_limit_are_faults_and_not_panics() {
        let most = Decimal::MAX;
        assert_eq!(usd().line(most, most), Err(MoneyFault::TooLarge));
        assert_eq!(euros("1.0842").line(most, decimal("1")), Err(MoneyFault::TooLarge));
    }
}
