//! Exact fractions, and the two places at which the design rounds: quantities to nine places, what is owed to the currency's digits.

use kerfbook::units::Fixed6;
use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{One, Zero};
use rust_decimal::Decimal;

/// An exact number.
pub(crate) type Exact = BigRational;

fn ten_to(digits: u32) -> BigInt {
    BigInt::from(10).pow(digits)
}

/// A decimal as it is.
pub(crate) fn of_decimal(value: Decimal) -> Exact {
    Exact::new(BigInt::from(value.mantissa()), ten_to(value.scale()))
}

/// An amount as it is.
pub(crate) fn of_amount(value: Fixed6) -> Exact {
    Exact::new(BigInt::from(value.micros()), ten_to(6))
}

/// A whole number.
pub(crate) fn whole(value: i64) -> Exact {
    Exact::from_integer(BigInt::from(value))
}

/// Nothing.
pub(crate) fn nothing() -> Exact {
    Exact::zero()
}

/// One part of so many.
pub(crate) fn share(part: &Exact, of: &Exact) -> Exact {
    if of.is_zero() { Exact::zero() } else { part / of }
}

/// Rounded half away from zero to so many digits.
pub(crate) fn rounded(value: &Exact, digits: u32) -> Exact {
    let scale = Exact::from_integer(ten_to(digits));
    let scaled = value * &scale;
    let half = Exact::new(BigInt::one(), BigInt::from(2));
    let away = if scaled < Exact::zero() { (scaled - half).ceil() } else { (scaled + half).floor() };
    away / scale
}

/// Rounded up to so many digits.
pub(crate) fn rounded_up(value: &Exact, digits: u32) -> Exact {
    let scale = Exact::from_integer(ten_to(digits));
    (value * &scale).ceil() / scale
}

/// A quantity that arises: exact where it terminates, else rounded once to nine places.
pub(crate) fn quantity(value: &Exact) -> Exact {
    rounded(value, 9)
}

/// In millionths.
pub(crate) fn micros(value: &Exact) -> Exact {
    value * Exact::from_integer(ten_to(6))
}
