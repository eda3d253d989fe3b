//! A ratio of two whole numbers, in lowest terms: sizes before they become a quantity.
//!
//! Inches from millimetres are no finite decimals (1 mm is 5/127 in), yet whether a board's surface measure falls
//! on an exact half must be decided exactly. It leaves this form once, as a decimal of the wanted unit.

use std::cmp::Ordering;

use ethnum::I256;
use rust_decimal::Decimal;

use crate::units::exact::{NumberError, div_round, gcd, power_of_ten, ratio_to_decimal, terminating};

/// A ratio; the denominator is above zero.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub(crate) struct Ratio {
    num: i128,
    den: i128,
}

impl Ratio {
    pub(crate) const fn whole(n: i128) -> Ratio {
        Ratio { num: n, den: 1 }
    }

    /// `None` when the denominator isn't above zero or the figures are at the limit of 128 bits.
    pub(crate) fn new(num: i128, den: i128) -> Option<Ratio> {
        if den <= 0 {
            return None;
        }
        let divisor = i128::try_from(gcd(num.unsigned_abs(), den.unsigned_abs())).ok()?;
        Some(Ratio { num: num / divisor, den: den / divisor })
    }

    pub(crate) fn from_decimal(value: Decimal) -> Option<Ratio> {
        Ratio::new(value.mantissa(), power_of_ten(value.scale())?)
    }

    pub(crate) fn is_positive(self) -> bool {
        self.num > 0
    }

    /// Multiplies; `None` when a figure no longer fits in 128 bits.
    pub(crate) fn times(self, other: Ratio) -> Option<Ratio> {
        // Cancelling crosswise first keeps the figures small and the result in lowest terms.
        let (a, b) = (Ratio::new(self.num, other.den)?, Ratio::new(other.num, self.den)?);
        Some(Ratio { num: a.num.checked_mul(b.num)?, den: a.den.checked_mul(b.den)? })
    }

    /// Gives the whole number at or below it and what is left of one, compared with a half.
    pub(crate) fn floor_and_half(self) -> (i128, Ordering) {
        let rest = self.num.rem_euclid(self.den);
        (self.num.div_euclid(self.den), rest.cmp(&(self.den - rest)))
    }

    /// `None` when it is no finite decimal, or one with more digits than can be kept.
    pub(crate) fn to_exact_decimal(self) -> Option<Decimal> {
        terminating(I256::from(self.num), I256::from(self.den)).ok().flatten()
    }

    /// Says whether it is a finite decimal, of however many digits.
    pub(crate) fn is_finite_decimal(self) -> bool {
        let mut rest = self.den;
        for prime in [2, 5] {
            while rest % prime == 0 {
                rest /= prime;
            }
        }
        rest == 1
    }

    /// Rounds half away from zero to a whole number.
    pub(crate) fn rounded(self) -> Option<i128> {
        div_round(self.num, self.den)
    }

    /// Exact where finite, else rounded once, half away from zero, to 9 places.
    pub(crate) fn to_decimal(self) -> Result<Decimal, NumberError> {
        ratio_to_decimal(I256::from(self.num), I256::from(self.den))
    }
}

impl PartialOrd for Ratio {
    fn partial_cmp(&self, other: &Ratio) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ratio {
    fn cmp(&self, other: &Ratio) -> Ordering {
        let cross = |a: i128, b: i128| I256::from(a) * I256::from(b);
        cross(self.num, other.den).cmp(&cross(other.num, self.den))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ratios_are_ordered_by_their_cross_products() {
        let ratio = |n, d| Ratio::new(n, d).expect("a ratio");
        assert!(ratio(1, 2) < ratio(2, 3));
        assert!(ratio(7, 8) < ratio(8, 9));
        assert!(ratio(-1, 2) < ratio(-1, 3));
        assert_eq!(ratio(2, 4).cmp(&ratio(1, 2)), Ordering::Equal);
    }

    #[test]
    fn a_ratio_is_kept_in_lowest_terms() {
        assert_eq!(Ratio::new(6, 8), Ratio::new(3, 4));
        assert_eq!(Ratio::new(0, 8), Some(Ratio::whole(0)));
        assert_eq!(Ratio::new(1, 0), None);
    }

    #[test]
    fn the_half_is_found_exactly() {
        let parts = |n, d| Ratio::new(n, d).expect("a ratio").floor_and_half();
        assert_eq!(parts(13, 2), (6, Ordering::Equal));
        assert_eq!(parts(13, 3), (4, Ordering::Less));
        assert_eq!(parts(65, 6), (10, Ordering::Greater));
        assert_eq!(parts(12, 1), (12, Ordering::Less));
    }
}
