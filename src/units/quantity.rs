//! Quantities: sums, products and quotients of decimals that lose no digit in silence.
//!
//! A decimal has 28 digits. The library's own `checked_` operations cut the digits that don't fit and say
//! nothing; these say [`NumberError::LostDigits`]. Only a quotient is ever rounded, once, to 9 places.

use ethnum::I256;
use rust_decimal::Decimal;

use crate::units::exact::{
    NumberError, align, align_wide, decimal_from_narrow, decimal_from_wide, ratio_to_decimal, wide_power_of_ten,
};

/// Adds without loss. Errors: overflow, lost digits.
pub fn checked_add_exact(a: Decimal, b: Decimal) -> Result<Decimal, NumberError> {
    if let Some((x, y, scale)) = align(a, b)
        && let Some(sum) = x.checked_add(y)
    {
        return decimal_from_narrow(sum, scale);
    }
    let (x, y, scale) = align_wide(a, b);
    decimal_from_wide(x + y, scale)
}

/// Subtracts without loss. Errors: overflow, lost digits.
pub fn checked_sub_exact(a: Decimal, b: Decimal) -> Result<Decimal, NumberError> {
    if let Some((x, y, scale)) = align(a, b)
        && let Some(difference) = x.checked_sub(y)
    {
        return decimal_from_narrow(difference, scale);
    }
    let (x, y, scale) = align_wide(a, b);
    decimal_from_wide(x - y, scale)
}

/// Multiplies without loss. Errors: overflow, lost digits.
pub fn checked_mul_exact(a: Decimal, b: Decimal) -> Result<Decimal, NumberError> {
    let scale = a.scale() + b.scale();
    match a.mantissa().checked_mul(b.mantissa()) {
        Some(product) => decimal_from_narrow(product, scale),
        None => decimal_from_wide(I256::from(a.mantissa()) * I256::from(b.mantissa()), scale),
    }
}

/// Divides: exact where the quotient is a finite decimal that fits, else rounded once, half away from zero, to
/// 9 places (the language's rule for quantities).
///
/// Errors: division by zero, overflow, and lost digits where the quotient with 9 places doesn't fit.
pub fn div_to_nine(a: Decimal, b: Decimal) -> Result<Decimal, NumberError> {
    if b.is_zero() {
        return Err(NumberError::DivisionByZero);
    }
    let (num, den, _) = align_wide(a, b);
    ratio_to_decimal(num, den)
}

/// Gives `a` times `b` divided by `c`, multiplied first: exact where finite, else rounded once to 9 places.
///
/// Wear by time is such a figure: minutes times blades per so many minutes. Errors as [`div_to_nine`].
pub fn mul_div_to_nine(a: Decimal, b: Decimal, c: Decimal) -> Result<Decimal, NumberError> {
    if c.is_zero() {
        return Err(NumberError::DivisionByZero);
    }
    let product = I256::from(a.mantissa()) * I256::from(b.mantissa());
    let (above, below) = (a.scale() + b.scale(), c.scale());
    let lift = |m: I256, by: u32| wide_power_of_ten(by).and_then(|p| m.checked_mul(p)).ok_or(NumberError::Overflow);
    let divisor = I256::from(c.mantissa());
    if above >= below {
        ratio_to_decimal(product, lift(divisor, above - below)?)
    } else {
        ratio_to_decimal(lift(product, below - above)?, divisor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::str::FromStr;

    fn dec(text: &str) -> Decimal {
        Decimal::from_str(text).expect("a decimal")
    }

    #[test]
    fn a_product_that_needs_more_than_128_bits_on_the_way_is_still_exact() {
        assert_eq!(checked_mul_exact(Decimal::MAX, dec("1.00000000000000000000")), Ok(Decimal::MAX));
    }

    #[test]
    fn a_divisor_of_more_places_than_the_product_lifts_it_by_the_difference() {
        // 3 / 0.003: one place above, three below.
        assert_eq!(mul_div_to_nine(dec("1.5"), dec("2"), dec("0.003")), Ok(dec("1000")));
        // 1.23456 / 0.2: five places above, one below.
        assert_eq!(mul_div_to_nine(dec("1.23456"), dec("1"), dec("0.2")), Ok(dec("6.1728")));
    }

    #[test]
    fn a_lost_digit_is_an_error() {
        let tiny = dec("0.0000000000000000000000000001");
        assert_eq!(checked_mul_exact(tiny, tiny), Err(NumberError::LostDigits));
        assert_eq!(checked_add_exact(dec("7922816251426433759354395033"), dec("0.123456789")), Err(NumberError::LostDigits));
        assert_eq!(checked_sub_exact(Decimal::MAX, dec("0.5")), Err(NumberError::LostDigits));
        let fine = dec("1.0000000000000000000000000001");
        assert_eq!(checked_mul_exact(fine, fine), Err(NumberError::LostDigits));
    }

    #[test]
    fn zeros_at_the_end_are_no_digits_to_lose() {
        assert_eq!(checked_add_exact(Decimal::MAX, dec("0.0000000000")), Ok(Decimal::MAX));
        assert_eq!(checked_mul_exact(dec("0.00000000000000000005"), dec("0.2000000000")), Ok(dec("0.00000000000000000001")));
        assert_eq!(checked_mul_exact(Decimal::MAX, dec("1.000")), Ok(Decimal::MAX));
        assert_eq!(checked_mul_exact(dec("0.0000000000000000000000000000"), dec("0.00")), Ok(Decimal::ZERO));
    }

    #[test]
    fn a_sum_that_needs_more_than_128_bits_on_the_way_is_still_exact() {
        let large = dec("17014118346046923173168730371");
        assert_eq!(checked_add_exact(large, dec("1.0000000000")), Ok(dec("17014118346046923173168730372")));
        assert_eq!(checked_sub_exact(-large, dec("1.0000000000")), Ok(dec("-17014118346046923173168730372")));
    }

    #[test]
    fn too_large_is_an_error() {
        assert_eq!(checked_add_exact(Decimal::MAX, Decimal::ONE), Err(NumberError::Overflow));
        assert_eq!(checked_sub_exact(Decimal::MIN, Decimal::ONE), Err(NumberError::Overflow));
        assert_eq!(checked_mul_exact(Decimal::MAX, dec("2")), Err(NumberError::Overflow));
        assert_eq!(checked_mul_exact(Decimal::MAX, Decimal::MAX), Err(NumberError::Overflow));
        assert_eq!(div_to_nine(Decimal::MAX, dec("0.1")), Err(NumberError::Overflow));
    }

    #[test]
    fn a_quotient_is_exact_or_has_nine_places() {
        assert_eq!(div_to_nine(dec("10"), dec("45")), Ok(dec("0.222222222")));
        assert_eq!(div_to_nine(dec("1"), dec("8")), Ok(dec("0.125")));
        assert_eq!(div_to_nine(dec("0.3"), dec("0.0006")), Ok(dec("500")));
        assert_eq!(div_to_nine(dec("-1"), dec("6")), Ok(dec("-0.166666667")));
        assert_eq!(div_to_nine(dec("1"), dec("0.00")), Err(NumberError::DivisionByZero));
        assert_eq!(div_to_nine(dec("10000000000000000000000000"), dec("3")), Err(NumberError::LostDigits));
    }

    #[test]
    fn a_product_is_divided_only_at_the_end() {
        // Wear: 90 minutes at 2 discs per 45 minutes.
        assert_eq!(mul_div_to_nine(dec("90"), dec("2"), dec("45")), Ok(dec("4")));
        assert_eq!(mul_div_to_nine(dec("10"), dec("1"), dec("45")), Ok(dec("0.222222222")));
        assert_eq!(mul_div_to_nine(dec("1.5"), dec("0.5"), dec("0.0003")), Ok(dec("2500")));
        assert_eq!(mul_div_to_nine(dec("1"), dec("1"), Decimal::ZERO), Err(NumberError::DivisionByZero));
        assert_eq!(mul_div_to_nine(Decimal::MAX, Decimal::MAX, Decimal::MAX), Ok(Decimal::MAX));
    }
}
