//! Converting a quantity from one unit to another of the same dimension.
//!
//! Exact where the result is a finite decimal (feet to inches, millimetres to metres), else rounded once, half
//! away from zero, to 9 places (millimetres to inches). Board feet, millilitres and fluid ounces are all volume.
//! A weight never becomes a volume here: only a thing's own conversions (`1 bf = 3.6 lb`) say that.

use std::fmt;

use ethnum::I256;
use rust_decimal::Decimal;

use crate::units::exact::{NumberError, ratio_to_decimal, wide_power_of_ten};
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
            ConversionError::WrongDimension { from, to } => write!(
                f,
                "`{from}` is {}, `{to}` is {}",
                from.dimension().with_article(),
                to.dimension().with_article()
            ),
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

/// Gives how many of `to` one `from` is, as numerator and denominator; `None` when they measure different things.
pub fn factor_between(from: Unit, to: Unit) -> Option<(i128, i128)> {
    if from.dimension() != to.dimension() {
        return None;
    }
    let ((from_num, from_den), (to_num, to_den)) = (from.factor(), to.factor());
    // Every numerator and denominator is below 2^39.
    Some((from_num.checked_mul(to_den)?, from_den.checked_mul(to_num)?))
}
