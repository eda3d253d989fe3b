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
