//! An amount carried to six digits below its unit: cost in the currency's unit, or working time in minutes.
//!
//! Inside the engine every cost and every minute is one of these, so that splits sum to the whole exactly.
//! It has no operators: an operation that could overflow gives `None`. What is written in a book with more
//! than six digits is refused or rounded where it is read, never here in passing.

use std::fmt;

use ethnum::I256;
use rust_decimal::Decimal;

use crate::units::exact::{decimal_from_narrow, div_round, micros_rounded, power_of_ten};

/// An amount in whole millionths of a unit (a dollar, a minute). Default is zero.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Fixed6(i128);

impl Fixed6 {
    /// Nothing.
    pub const ZERO: Fixed6 = Fixed6(0);

    /// Makes an amount of so many millionths.
    pub const fn from_micros(micros: i128) -> Fixed6 {
        Fixed6(micros)
    }

    /// Gives the amount in millionths.
    pub const fn micros(self) -> i128 {
        self.0
    }

    /// Takes a decimal as it is; `None` when it has more than six digits after the point that aren't zero.
    pub fn from_decimal_exact(value: Decimal) -> Option<Fixed6> {
        let (mantissa, scale) = (value.mantissa(), value.scale());
        if scale <= 6 {
            return mantissa.checked_mul(power_of_ten(6 - scale)?).map(Fixed6);
        }
        let step = power_of_ten(scale - 6)?;
        (mantissa % step == 0).then(|| Fixed6(mantissa / step))
    }

    /// Takes a decimal, rounded once, half away from zero, to six digits. `None` only when out of range.
    pub fn round_from_decimal(value: Decimal) -> Option<Fixed6> {
        micros_rounded(I256::from(value.mantissa()), value.scale(), 6).map(Fixed6)
    }

    /// Gives the same value as a decimal; `None` when it is larger than a decimal holds.
    pub fn to_decimal(self) -> Option<Decimal> {
        decimal_from_narrow(self.0, 6).ok()
    }

    /// Adds; `None` on overflow.
    pub fn checked_add(self, other: Fixed6) -> Option<Fixed6> {
        self.0.checked_add(other.0).map(Fixed6)
    }

    /// Subtracts; `None` on overflow.
    pub fn checked_sub(self, other: Fixed6) -> Option<Fixed6> {
        self.0.checked_sub(other.0).map(Fixed6)
    }

    /// Turns the sign; `None` on overflow.
    pub fn checked_neg(self) -> Option<Fixed6> {
        self.0.checked_neg().map(Fixed6)
    }

    /// Multiplies by a whole number; `None` on overflow.
    pub fn checked_mul_int(self, factor: i128) -> Option<Fixed6> {
        self.0.checked_mul(factor).map(Fixed6)
    }

    /// Sums; `None` on overflow.
    pub fn checked_sum<I: IntoIterator<Item = Fixed6>>(amounts: I) -> Option<Fixed6> {
        amounts.into_iter().try_fold(Fixed6::ZERO, Fixed6::checked_add)
    }

    /// Says whether it is nothing.
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// Says whether it is below zero.
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// Says whether it is above zero.
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// Says whether it has no digits that aren't zero beyond `digits` after the point.
    pub fn has_at_most(self, digits: u32) -> bool {
        self.0 % step(digits) == 0
    }

    /// Rounds half away from zero to `digits` (0 to 6) after the point.
    ///
    /// Within one unit of the largest amount that 128 bits hold (1.7 · 10^32), where the next step up doesn't
    /// exist, the step below is given.
    pub fn round_to(self, digits: u32) -> Fixed6 {
        let step = step(digits);
        let steps = div_round(self.0, step).and_then(|n| n.checked_mul(step));
        Fixed6(steps.unwrap_or(self.0 - self.0 % step))
    }

    /// Writes the amount rounded half away from zero to `max_digits`, with zeros at the end cut down to `min_digits`.
    ///
    /// No thousands separators; the sign is `-`, and what rounds to zero has none. Both counts are at most 6.
    pub fn to_fixed_text(self, min_digits: u32, max_digits: u32) -> String {
        let max = max_digits.min(6);
        let text = unsigned_text(self.round_to(max).0, min_digits.min(max));
        if self.round_to(max).is_negative() { format!("-{text}") } else { text }
    }
}

/// Gives the step of rounding to `digits` in millionths; more than six digits are six.
fn step(digits: u32) -> i128 {
    power_of_ten(6 - digits.min(6)).unwrap_or(1)
}

/// Writes the magnitude with at least `min_digits` after the point.
fn unsigned_text(micros: i128, min_digits: u32) -> String {
    let magnitude = micros.unsigned_abs();
    let (whole, mut fraction) = (magnitude / 1_000_000, magnitude % 1_000_000);
    let mut digits = 6usize;
    while digits > usize::try_from(min_digits).unwrap_or(6) && fraction % 10 == 0 {
        fraction /= 10;
        digits -= 1;
    }
    if digits == 0 { whole.to_string() } else { format!("{whole}.{fraction:0digits$}") }
}

impl fmt::Display for Fixed6 {
    /// Writes the exact value without zeros at the end; width and fill are honoured, a precision isn't.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad_integral(self.0 >= 0, "", &unsigned_text(self.0, 0))
    }
}

impl fmt::Debug for Fixed6 {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Fixed6({self})")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::str::FromStr;

    fn dec(text: &str) -> Decimal {
        Decimal::from_str(text).expect("a decimal")
    }

    fn fixed(text: &str) -> Fixed6 {
        Fixed6::from_decimal_exact(dec(text)).expect("at most six digits")
    }

    #[test]
    fn where_the_next_step_up_does_not_exist_the_step_below_is_given() {
        // The largest is …884.105727 and the least …884.105728: the next steps of five digits are …884.10573.
        assert_eq!(Fixed6::from_micros(i128::MAX).round_to(5).micros(), i128::MAX - 7);
        assert_eq!(Fixed6::from_micros(i128::MIN).round_to(5).micros(), i128::MIN + 8);
    }

    #[test]
    fn nothing_is_neither_above_nor_below_nothing() {
        let signs = |text: &str| (fixed(text).is_negative(), fixed(text).is_zero(), fixed(text).is_positive());
        assert_eq!(signs("-0.000001"), (true, false, false));
        assert_eq!(signs("0"), (false, true, false));
        assert_eq!(signs("0.000001"), (false, false, true));
    }

    #[test]
    fn a_decimal_of_six_digits_is_taken_exactly_and_a_longer_one_is_not() {
        assert_eq!(fixed("12.345678").micros(), 12_345_678);
        assert_eq!(fixed("-0.5000000000"), Fixed6::from_micros(-500_000));
        assert_eq!(Fixed6::from_decimal_exact(dec("0.0000001")), None);
        assert_eq!(fixed("79228162514264337593543950335").to_decimal(), Some(Decimal::MAX));
    }

    #[test]
    fn a_longer_decimal_is_rounded_half_away_from_zero() {
        let rounded = |text| Fixed6::round_from_decimal(dec(text)).expect("in range").micros();
        assert_eq!(rounded("0.0000005"), 1);
        assert_eq!(rounded("-0.0000005"), -1);
        assert_eq!(rounded("0.00000049999"), 0);
        assert_eq!(rounded("7.25"), 7_250_000);
    }

    #[test]
    fn rounding_goes_half_away_from_zero_at_every_digit() {
        assert_eq!(fixed("2.345").round_to(2), fixed("2.35"));
        assert_eq!(fixed("-2.345").round_to(2), fixed("-2.35"));
        assert_eq!(fixed("18.50").round_to(0), fixed("19"));
        assert_eq!(fixed("2.5").round_to(0), fixed("3"));
        assert_eq!(fixed("2.344999").round_to(2), fixed("2.34"));
        assert_eq!(fixed("1.234567").round_to(6), fixed("1.234567"));
        assert_eq!(fixed("1.234567").round_to(99), fixed("1.234567"));
        assert_eq!(Fixed6::from_micros(i128::MIN).round_to(0).micros() % 1_000_000, 0);
        assert_eq!(Fixed6::from_micros(i128::MAX).round_to(0).micros() % 1_000_000, 0);
    }

    #[test]
    fn overflow_is_none() {
        let (most, least) = (Fixed6::from_micros(i128::MAX), Fixed6::from_micros(i128::MIN));
        assert_eq!(most.checked_add(Fixed6::from_micros(1)), None);
        assert_eq!(least.checked_sub(Fixed6::from_micros(1)), None);
        assert_eq!(least.checked_neg(), None);
        assert_eq!(most.checked_mul_int(2), None);
        assert_eq!(Fixed6::checked_sum([most, most]), None);
        assert_eq!(Fixed6::checked_sum([fixed("1.5"), fixed("-0.5")]), Some(fixed("1")));
        assert_eq!(most.to_decimal(), None);
    }

    #[test]
    fn text_has_the_digits_that_were_asked_for() {
        assert_eq!(fixed("1234.5").to_fixed_text(2, 6), "1234.50");
        assert_eq!(fixed("1234.567891").to_fixed_text(2, 6), "1234.567891");
        assert_eq!(fixed("0.999").to_fixed_text(2, 2), "1.00");
        assert_eq!(fixed("2.359").to_fixed_text(2, 2), "2.36");
        assert_eq!(fixed("1.5").to_fixed_text(0, 0), "2");
        assert_eq!(fixed("-0.004").to_fixed_text(2, 2), "0.00");
        assert_eq!(fixed("-0.005").to_fixed_text(2, 2), "-0.01");
        assert_eq!(fixed("7.5").to_fixed_text(0, 3), "7.5");
        assert_eq!(fixed("7").to_fixed_text(9, 9), "7.000000");
        assert_eq!(fixed("7.123456").to_fixed_text(4, 2), "7.12");
    }

    #[test]
    fn display_is_exact_and_keeps_its_column() {
        assert_eq!(fixed("-12.500000").to_string(), "-12.5");
        assert_eq!(Fixed6::ZERO.to_string(), "0");
        assert_eq!(format!("{:>8}|{:<6}|", fixed("-1.25"), fixed("3")), "   -1.25|3     |");
        assert_eq!(format!("{:?}", fixed("0.000001")), "Fixed6(0.000001)");
        assert_eq!(Fixed6::from_micros(i128::MIN).to_string(), "-170141183460469231731687303715884.105728");
    }
}
