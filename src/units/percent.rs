//! Percentages: fees, shares, business use, discounts, sales tax.
//!
//! A percentage is kept as written (`2.5`), so that taking it is one multiplication and one rounding.

use std::fmt;

use ethnum::I256;
use rust_decimal::Decimal;

use crate::units::exact::{NumberError, div_round_wide, micros_rounded, power_of_ten, wide_power_of_ten};
use crate::units::fixed::Fixed6;
use crate::units::number::{NumberFault, read_decimal};
use crate::units::quantity::checked_mul_exact;

/// A percentage as written: 2.5 for `2.5%`; never below zero when it was read.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Percent(Decimal);

impl Percent {
    /// All of it.
    pub const HUNDRED: Percent = Percent(Decimal::ONE_HUNDRED);

    /// Takes the figure before the sign `%`.
    pub const fn new(figure: Decimal) -> Percent {
        Percent(figure)
    }

    /// Gives the figure before the sign `%`.
    pub const fn figure(self) -> Decimal {
        self.0
    }

    /// Says whether it is more than the whole.
    pub fn is_over_hundred(self) -> bool {
        self.0 > Decimal::ONE_HUNDRED
    }

    /// Gives what is left of the whole, 60 for `40%`; `None` when it is over a hundred.
    pub fn rest(self) -> Option<Percent> {
        let left = Decimal::ONE_HUNDRED.checked_sub(self.0)?;
        (!left.is_sign_negative()).then_some(Percent(left))
    }

    /// Gives this percentage of `amount` without rounding, for fees that are summed exactly and rounded once.
    ///
    /// Errors: overflow, lost digits.
    pub fn of_exact(self, amount: Decimal) -> Result<Decimal, NumberError> {
        checked_mul_exact(checked_mul_exact(amount, self.0)?, Decimal::new(1, 2))
    }

    /// Gives this percentage of `amount`, rounded once, half away from zero, to `digits` (0 to 6).
    ///
    /// `None` on overflow.
    pub fn of_rounded(self, amount: Fixed6, digits: u32) -> Option<Fixed6> {
        let product = I256::from(amount.micros()).checked_mul(I256::from(self.0.mantissa()))?;
        micros_rounded(product, 6 + 2 + self.0.scale(), digits).map(Fixed6::from_micros)
    }

    /// Gives the part of `amount` that this percentage on top of the rest makes up (tax within a price: 6 of every
    /// 106), rounded once, half away from zero, to `digits` (0 to 6). `None` on overflow.
    pub fn included_in(self, amount: Fixed6, digits: u32) -> Option<Fixed6> {
        let figure = I256::from(self.0.mantissa());
        let whole = wide_power_of_ten(self.0.scale() + 2)?.checked_add(figure)?;
        let step = power_of_ten(6 - digits.min(6))?;
        let above = I256::from(amount.micros()).checked_mul(figure)?;
        let steps = div_round_wide(above, whole.checked_mul(I256::from(step))?)?;
        i128::try_from(steps).ok()?.checked_mul(step).map(Fixed6::from_micros)
    }
}

impl fmt::Display for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}%", self.0.normalize())
    }
}

/// Reads a percentage, its sign joined to the number: `3%`, `2.5%`.
///
/// Errors: the reason why not; without the sign it is no number of this kind.
pub fn read_percent(text: &str) -> Result<Percent, NumberFault> {
    let figure = text.strip_suffix('%').ok_or(NumberFault::NotANumber)?;
    read_decimal(figure).map(Percent)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn percent(text: &str) -> Percent {
        read_percent(text).expect("a percentage")
    }

    fn money(micros: i128) -> Fixed6 {
        Fixed6::from_micros(micros)
    }

    #[test]
    fn the_whole_is_not_over_a_hundred() {
        assert!(!Percent::HUNDRED.is_over_hundred());
        assert!(Percent::new(Decimal::new(1001, 1)).is_over_hundred());
    }

    #[test]
    fn a_percentage_is_rounded_once() {
        // 2.5 % of 10.98 is 0.2745; by way of 0.275 it would become 0.28.
        assert_eq!(percent("2.5%").of_rounded(money(10_980_000), 2), Some(money(270_000)));
        assert_eq!(percent("50%").of_rounded(money(10_000), 2), Some(money(10_000)));
        assert_eq!(percent("50%").of_rounded(money(-10_000), 2), Some(money(-10_000)));
        assert_eq!(percent("40%").of_rounded(money(252_000_000), 2), Some(money(100_800_000)));
        assert_eq!(percent("200%").of_rounded(money(i128::MAX), 6), None);
    }

    #[test]
    fn fees_can_be_summed_before_they_are_rounded() {
        assert_eq!(percent("3%").of_exact(Decimal::new(27690, 2)), Ok(Decimal::new(83070, 4)));
    }

    #[test]
    fn tax_within_a_price_is_its_part_of_price_and_tax() {
        assert_eq!(percent("6%").included_in(money(106_000_000), 2), Some(money(6_000_000)));
        assert_eq!(percent("6%").included_in(money(448_000_000), 2), Some(money(25_360_000)));
        assert_eq!(percent("0%").included_in(money(448_000_000), 2), Some(Fixed6::ZERO));
    }

    #[test]
    fn the_rest_of_a_share_is_what_it_lacks_of_the_whole() {
        assert_eq!(percent("40%").rest(), Some(percent("60%")));
        assert_eq!(percent("100%").rest(), Some(percent("0%")));
        assert_eq!(percent("120%").rest(), None);
        assert!(percent("100.01%").is_over_hundred());
        assert_eq!(percent("2.50%").to_string(), "2.5%");
    }

    #[test]
    fn the_sign_is_joined_to_the_number() {
        for text in ["3", "3 %", "%", "-3%", "3%%", "1/2%"] {
            assert!(read_percent(text).is_err(), "{text:?}");
        }
    }
}
