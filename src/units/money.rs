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

/// Takes a total as written; `None` when it has more digits than the currency (`12.345` dollars).
pub fn total_as_written(value: Decimal, currency: Currency) -> Option<Fixed6> {
    Fixed6::from_decimal_exact(value).filter(|total| total.has_at_most(currency.digits()))
}

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

#[cfg(test)]
mod tests {
    use super::*;
    use std::str::FromStr;

    fn total(price: &str, quantity: &str, code: &str) -> Result<String, NumberError> {
        let dec = |text| Decimal::from_str(text).expect("a decimal");
        let currency = Currency::parse(code).expect("a currency");
        line_total(dec(price), dec(quantity), currency).map(|t| t.to_fixed_text(currency.digits(), 6))
    }

    #[test]
    fn a_line_is_rounded_once_to_the_currency_s_digits() {
        assert_eq!(total("5.90", "31.5", "USD"), Ok("185.85".into()));
        assert_eq!(total("0.333", "7.5", "USD"), Ok("2.50".into()));
        assert_eq!(total("0.005", "1", "USD"), Ok("0.01".into()));
        assert_eq!(total("0.0049999", "1", "USD"), Ok("0.00".into()));
        assert_eq!(total("12.5", "3", "JPY"), Ok("38".into()));
        assert_eq!(total("1.0005", "1", "BHD"), Ok("1.001".into()));
    }

    #[test]
    fn a_product_too_long_for_a_decimal_is_still_rounded_from_its_exact_value() {
        // 0.0049999999999999 x 1.00000000000000000001 is just below half a cent only if no digit is lost.
        assert_eq!(total("0.0049999999999999999", "1.00000000000000000001", "USD"), Ok("0.00".into()));
        assert_eq!(total("0.005", "0.9999999999999999999999999999", "USD"), Ok("0.00".into()));
        assert_eq!(total("0.005", "1.0000000000000000000000000001", "USD"), Ok("0.01".into()));
        let most = "79228162514264337593543950335";
        assert_eq!(total(most, most, "USD"), Err(NumberError::Overflow));
        assert_eq!(total(most, "1", "USD"), Ok(format!("{most}.00")));
    }

    #[test]
    fn a_total_has_no_more_digits_than_the_currency() {
        let written = |text: &str| total_as_written(Decimal::from_str(text).expect("a decimal"), Currency::USD);
        assert_eq!(written("42"), Some(Fixed6::from_micros(42_000_000)));
        assert_eq!(written("42.10"), Some(Fixed6::from_micros(42_100_000)));
        assert_eq!(written("42.105"), None);
        assert_eq!(written("0.0000001"), None);
    }
}
