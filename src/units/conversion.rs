//! Converting a quantity from one unit to another of the same dimension.
//!
//! Exact where the result is a finite decimal (feet to inches, millimetres to metres), else rounded once, half
//! away from zero, to 9 places (millimetres to inches). Board feet, millilitres and fluid ounces are all volume.
//! A weight never becomes a volume here: only a thing's own conversions (`1 bf = 3.6 lb`) say that.

use std::fmt;

use ethnum::I256;
use rust_decimal::Decimal;

use crate::units::exact::{NumberError, gcd, ratio_to_decimal, wide_power_of_ten};
use crate::units::unit::Unit;

/// Says why a quantity can't be converted.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum ConversionError {
    /// The units measure different things.
    WrongDimension {
        /// The unit that the quantity is in.
        from: Unit,
        /// The unit that was wanted.
        to: Unit,
    },
    /// The result is too large or has too many digits.
    Number(NumberError),
}

impl fmt::Display for ConversionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ConversionError::WrongDimension { from, to } => {
                write!(f, "`{from}` is {}, `{to}` is {}", from.dimension().with_article(), to.dimension().with_article())
            }
            ConversionError::Number(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for ConversionError {}

impl From<NumberError> for ConversionError {
    fn from(error: NumberError) -> ConversionError {
        ConversionError::Number(error)
    }
}

/// Converts `quantity` of `from` into `to`: exact where finite, else rounded once to 9 places.
///
/// Errors: another dimension, overflow, lost digits.
pub fn convert(quantity: Decimal, from: Unit, to: Unit) -> Result<Decimal, ConversionError> {
    if from == to {
        return Ok(quantity);
    }
    let (num, den) = factor_between(from, to).ok_or(ConversionError::WrongDimension { from, to })?;
    let above = I256::from(quantity.mantissa()).checked_mul(I256::from(num));
    let below = wide_power_of_ten(quantity.scale()).and_then(|p| p.checked_mul(I256::from(den)));
    let (above, below) = above.zip(below).ok_or(NumberError::Overflow)?;
    Ok(ratio_to_decimal(above, below)?)
}

/// Gives how many of `to` one `from` is, as numerator and denominator in lowest terms; `None` when they measure different things.
pub fn factor_between(from: Unit, to: Unit) -> Option<(i128, i128)> {
    if from.dimension() != to.dimension() {
        return None;
    }
    let ((from_num, from_den), (to_num, to_den)) = (from.factor(), to.factor());
    // Every numerator and denominator is below 2^39.
    let (num, den) = (from_num.checked_mul(to_den)?, from_den.checked_mul(to_num)?);
    let common = i128::try_from(gcd(num.unsigned_abs(), den.unsigned_abs())).ok()?;
    Some((num.checked_div(common)?, den.checked_div(common)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::str::FromStr;

    fn converted(quantity: &str, from: &str, to: &str) -> Result<String, ConversionError> {
        let unit = |text| Unit::parse(text).expect("a unit");
        let quantity = Decimal::from_str(quantity).expect("a decimal");
        convert(quantity, unit(from), unit(to)).map(|d| d.normalize().to_string())
    }

    #[test]
    fn a_finite_result_is_exact() {
        assert_eq!(converted("7", "ft", "in"), Ok("84".into()));
        assert_eq!(converted("25", "ft", "mm"), Ok("7620".into()));
        assert_eq!(converted("1", "gal", "fl oz"), Ok("128".into()));
        assert_eq!(converted("6", "in", "ft"), Ok("0.5".into()));
        assert_eq!(converted("90", "min", "h"), Ok("1.5".into()));
        assert_eq!(converted("1", "fl oz", "ml"), Ok("29.5735295625".into()));
        assert_eq!(converted("1", "bf", "ml"), Ok("2359.737216".into()));
        assert_eq!(converted("2", "gross", "ea"), Ok("288".into()));
        assert_eq!(converted("1.50", "bf", "bf"), Ok("1.5".into()));
    }

    #[test]
    fn another_result_is_rounded_once_to_nine_places() {
        assert_eq!(converted("1", "mm", "in"), Ok("0.039370079".into()));
        assert_eq!(converted("1", "ea", "dozen"), Ok("0.083333333".into()));
        assert_eq!(converted("1", "sq m", "sq ft"), Ok("10.763910417".into()));
    }

    #[test]
    fn there_and_back_between_any_two_units_is_the_quantity_to_nine_places() {
        for from in Unit::ALL {
            for to in Unit::ALL {
                let Ok(there) = convert(Decimal::new(1_000_000, 0), from, to) else {
                    assert_ne!(from.dimension(), to.dimension());
                    continue;
                };
                let back = convert(there, to, from).expect("the same dimension");
                let (num, den) = factor_between(to, from).expect("the same dimension");
                // Rounding by half of 10^-9 of `to`, and once more of `from`.
                let bound = Decimal::new(1, 9) * (Decimal::from(num) / Decimal::from(den) + Decimal::ONE);
                assert!((back - Decimal::new(1_000_000, 0)).abs() <= bound, "{from} {to} {back}");
            }
        }
    }

    #[test]
    fn a_weight_is_never_a_volume() {
        let error = converted("6", "oz", "ml").expect_err("another dimension");
        assert_eq!(error, ConversionError::WrongDimension { from: Unit::Ounce, to: Unit::Millilitre });
        assert_eq!(error.to_string(), "`oz` is a weight, `ml` is a volume");
    }

    #[test]
    fn too_large_a_quantity_is_an_error() {
        let error = convert(Decimal::MAX, Unit::Kilometre, Unit::Millimetre);
        assert_eq!(error, Err(ConversionError::Number(NumberError::Overflow)));
        assert_eq!(convert(Decimal::MAX, Unit::Inch, Unit::Yard), Err(ConversionError::Number(NumberError::LostDigits)));
    }
}
