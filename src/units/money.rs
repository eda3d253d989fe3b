//! Money: what a line comes to when its price is per unit.
//!
//! The rule (`costing`, Exactness): multiply first, then round once, half away from zero, to the digits of the
//! currency. Prices per unit have as many digits as were written; a total has the currency's.

use ethnum::I256;
use rust_decimal::Decimal;

use crate::units::currency::Currency;
use crate::units::exact::{NumberError, micros_rounded};
use crate::units::fixed::Fixed6;

/// A cost in the currency's unit, to six digits below it.
pub type Cost = Fixed6;

/// Gives price times quantity, rounded once, half away from zero, to the currency's digits.
///
/// The product is exact in 256 bits, so nothing is rounded twice. Errors: [`NumberError::Overflow`].
pub fn line_total(price: Decimal, quantity: Decimal, currency: Currency) -> Result<Fixed6, NumberError> {
    product_rounded(price, quantity, currency.digits())
}

/// Gives the product of two decimals, rounded once, half away from zero, to `digits` (0 to 6).
///
/// Errors: [`NumberError::Overflow`].
pub fn product_rounded(a: Decimal, b: Decimal, digits: u32) -> Result<Fixed6, NumberError> {
    let product = I256::from(a.mantissa()) * I256::from(b.mantissa());
    micros_rounded(product, a.scale() + b.scale(), digits).map(Fixed6::from_micros).ok_or(NumberError::Overflow)
}
