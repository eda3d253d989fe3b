//! Splits: a whole divided into parts that sum to the whole, to the last millionth.
//!
//! Every part of the engine that divides a cost does it here, never by a unit cost times a quantity. The method
//! is that of largest remainders (Hamilton's), without a minimum: each part is cut down, and what is left over
//! goes one step each to the parts that lost most; ties go to the first. No source fixes the rule for ties;
//! it is this program's. Negative wholes are split by their magnitude.

use std::cmp::Reverse;
use std::fmt;

use ethnum::{I256, U256};
use rust_decimal::Decimal;
use smallvec::SmallVec;

use crate::units::exact::{align, div_round, div_round_wide, power_of_ten};
use crate::units::fixed::Fixed6;

/// Says why a whole can't be split.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum SplitError {
    /// There are no weights, or all are zero.
    NoWeight,
    /// A weight is below zero.
    NegativeWeight,
    /// The weights, or the whole, are too large or have too many digits.
    Overflow,
}

impl fmt::Display for SplitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            SplitError::NoWeight => "there is nothing to split by: all weights are zero",
            SplitError::NegativeWeight => "a weight is below zero",
            SplitError::Overflow => "the figures are too large to split",
        })
    }
}

impl std::error::Error for SplitError {}

/// Gives `value` · `num` / `den`, rounded once, half away from zero; the product may need 256 bits.
///
/// `None` when `den` is zero or the result is too large.
pub fn mul_div_round(value: i128, num: i128, den: i128) -> Option<i128> {
    match value.checked_mul(num) {
        Some(product) => div_round(product, den),
        None => {
            let product = I256::from(value) * I256::from(num);
            i128::try_from(div_round_wide(product, I256::from(den))?).ok()
        }
    }
}

/// Gives the largest whole number not above `value` · `num` / `den`; the product may need 256 bits.
///
/// `None` when `den` is zero or the result is too large.
pub fn mul_div_floor(value: i128, num: i128, den: i128) -> Option<i128> {
    let (product, den) = (I256::from(value) * I256::from(num), I256::from(den));
    let quotient = product.checked_div(den)?;
    let rest = product.checked_rem(den)?;
    let below = rest != I256::ZERO && rest.is_negative() != den.is_negative();
    i128::try_from(if below { quotient.checked_sub(I256::ONE)? } else { quotient }).ok()
}

/// Weights brought to whole numbers once, for splitting several wholes (the components of a cost) alike.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Weights {
    weights: SmallVec<[u128; 8]>,
    total: u128,
}

impl Weights {
    /// Takes decimal weights. Errors: none above zero, one below zero, too many digits.
    pub fn new(weights: &[Decimal]) -> Result<Weights, SplitError> {
        match Weights::at_one_scale(weights.iter().copied()) {
            Err(SplitError::Overflow) => Weights::at_one_scale(weights.iter().map(Decimal::normalize)),
            done => done,
        }
    }

    fn at_one_scale(weights: impl Iterator<Item = Decimal> + Clone) -> Result<Weights, SplitError> {
        let scale = weights.clone().map(|w| w.scale()).max().unwrap_or(0);
        Weights::from_whole(weights.map(|w| {
            let lift = power_of_ten(scale - w.scale());
            lift.and_then(|lift| w.mantissa().checked_mul(lift)).ok_or(SplitError::Overflow)
        }))
    }

    /// Takes amounts (line values, minutes) as weights. Errors as [`Weights::new`].
    pub fn from_amounts(amounts: &[Fixed6]) -> Result<Weights, SplitError> {
        Weights::from_whole(amounts.iter().map(|a| Ok(a.micros())))
    }

    fn from_whole(whole: impl Iterator<Item = Result<i128, SplitError>>) -> Result<Weights, SplitError> {
        let mut weights = SmallVec::new();
        let mut total = 0i128;
        for weight in whole {
            let weight = weight?;
            total = total.checked_add(weight).ok_or(SplitError::Overflow)?;
            weights.push(u128::try_from(weight).map_err(|_| SplitError::NegativeWeight)?);
        }
        match u128::try_from(total) {
            Ok(total) if total > 0 => Ok(Weights { weights, total }),
            _ => Err(SplitError::NoWeight),
        }
    }

    /// Gives how many parts there are.
    pub fn len(&self) -> usize {
        self.weights.len()
    }

    /// Says whether there are no parts, which [`Weights::new`] refuses.
    pub fn is_empty(&self) -> bool {
        self.weights.is_empty()
    }

    /// Splits `total` into parts in millionths that sum to it; `out` is emptied first.
    ///
    /// Errors: [`SplitError::Overflow`].
    pub fn split(&self, total: Fixed6, out: &mut Vec<Fixed6>) -> Result<(), SplitError> {
        self.split_in_steps(total.micros(), 1, out)
    }

    /// Splits `total`, first rounded half away from zero to `digits` (0 to 6), into parts of so many digits that
    /// sum to it; `out` is emptied first.
    ///
    /// Errors: [`SplitError::Overflow`].
    pub fn split_at_digits(&self, total: Fixed6, digits: u32, out: &mut Vec<Fixed6>) -> Result<(), SplitError> {
        let step = power_of_ten(6 - digits.min(6)).ok_or(SplitError::Overflow)?;
        let steps = div_round(total.micros(), step).ok_or(SplitError::Overflow)?;
        self.split_in_steps(steps, step, out)
    }

    fn split_in_steps(&self, steps: i128, step: i128, out: &mut Vec<Fixed6>) -> Result<(), SplitError> {
        out.clear();
        let magnitude = steps.unsigned_abs();
        let mut left = magnitude;
        let mut parts: SmallVec<[u128; 8]> = SmallVec::with_capacity(self.weights.len());
        let mut rests: SmallVec<[(Reverse<u128>, usize); 8]> = SmallVec::with_capacity(self.weights.len());
        // A weight is never above the total, so one product that fits says that all do.
        let narrow = magnitude.checked_mul(self.total).is_some();
        for (at, weight) in self.weights.iter().enumerate() {
            let (part, rest) = if narrow {
                let product = magnitude * weight;
                (product / self.total, product % self.total)
            } else {
                wide_div_rem(magnitude, *weight, self.total).ok_or(SplitError::Overflow)?
            };
            left = left.checked_sub(part).ok_or(SplitError::Overflow)?;
            parts.push(part);
            rests.push((Reverse(rest), at));
        }
        if left > 0 {
            rests.sort_unstable();
            let count = usize::try_from(left).map_err(|_| SplitError::Overflow)?;
            for (_, at) in rests.iter().take(count) {
                parts[*at] += 1;
            }
        }
        out.reserve(parts.len());
        for part in parts {
            let signed = i128::try_from(part).ok().map(|p| if steps < 0 { -p } else { p });
            let micros = signed.and_then(|p| p.checked_mul(step)).ok_or(SplitError::Overflow)?;
            out.push(Fixed6::from_micros(micros));
        }
        Ok(())
    }
}

/// Gives quotient and rest of `value` · `weight` / `total`, where the product needs 256 bits.
fn wide_div_rem(value: u128, weight: u128, total: u128) -> Option<(u128, u128)> {
    let (product, total) = (U256::from(value) * U256::from(weight), U256::from(total));
    Some((u128::try_from(product / total).ok()?, u128::try_from(product % total).ok()?))
}

/// Splits `total` by `weights` into parts in millionths that sum to it; `out` is emptied first.
///
/// Errors: no weight above zero, a weight below zero, overflow; then `out` isn't to be used.
pub fn split_by_largest_remainder(
    total: Fixed6,
    weights: &[Decimal],
    out: &mut Vec<Fixed6>,
) -> Result<(), SplitError> {
    Weights::new(weights)?.split(total, out)
}

/// Splits `total`, first rounded to `digits`, into parts of so many digits that sum to it; `out` is emptied first.
///
/// Errors as [`split_by_largest_remainder`].
pub fn split_at_digits(
    total: Fixed6,
    weights: &[Decimal],
    digits: u32,
    out: &mut Vec<Fixed6>,
) -> Result<(), SplitError> {
    Weights::new(weights)?.split_at_digits(total, digits, out)
}

/// Rounds a printed column so that it sums to its printed total: each value goes to the step of `digits` below or
/// above it, and their sum is the exact sum rounded half away from zero. Values may be negative.
///
/// Values that have no more than `digits` stay as they are. Errors: [`SplitError::Overflow`].
pub fn apportion_displayed(values: &[Fixed6], digits: u32, out: &mut Vec<Fixed6>) -> Result<(), SplitError> {
    out.clear();
    let step = power_of_ten(6 - digits.min(6)).ok_or(SplitError::Overflow)?;
    let sum = Fixed6::checked_sum(values.iter().copied()).ok_or(SplitError::Overflow)?;
    let mut left = div_round(sum.micros(), step).ok_or(SplitError::Overflow)?;
    let mut rests: Vec<(Reverse<i128>, usize)> = Vec::with_capacity(values.len());
    for (at, value) in values.iter().enumerate() {
        let steps = value.micros().div_euclid(step);
        left = left.checked_sub(steps).ok_or(SplitError::Overflow)?;
        rests.push((Reverse(value.micros().rem_euclid(step)), at));
        out.push(Fixed6::from_micros(steps.checked_mul(step).ok_or(SplitError::Overflow)?));
    }
    rests.sort_unstable();
    for (_, at) in rests.iter().take(usize::try_from(left).map_err(|_| SplitError::Overflow)?) {
        out[*at] = out[*at].checked_add(Fixed6::from_micros(step)).ok_or(SplitError::Overflow)?;
    }
    Ok(())
}

/// A part of a whole as a fraction, for taking the same part of several amounts (the components of a lot's cost).
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Share {
    num: i128,
    den: i128,
}

impl Share {
    /// Takes quantities. `None` when the whole is zero or the figures have too many digits.
    pub fn new(part: Decimal, whole: Decimal) -> Option<Share> {
        let (num, den, _) = align(part, whole)?;
        (den != 0).then_some(Share { num, den })
    }

    /// Takes amounts. `None` when the whole is zero.
    pub fn of_amounts(part: Fixed6, whole: Fixed6) -> Option<Share> {
        (!whole.is_zero()).then_some(Share { num: part.micros(), den: whole.micros() })
    }

    /// Says whether the part is the whole.
    pub const fn is_whole(self) -> bool {
        self.num == self.den
    }

    /// Gives this share of `value`, rounded once, half away from zero, to the millionth; all of it when the part
    /// is the whole. `None` on overflow.
    pub fn of(self, value: Fixed6) -> Option<Fixed6> {
        if self.is_whole() || value.is_zero() {
            return Some(value);
        }
        mul_div_round(value.micros(), self.num, self.den).map(Fixed6::from_micros)
    }
}

/// Gives what an issue of `part` out of a lot of `whole` takes of its `value`: rounded once, half away from zero;
/// all of it when the part is the whole. `None` when the whole is zero or on overflow.
pub fn part_of(value: Fixed6, part: Decimal, whole: Decimal) -> Option<Fixed6> {
    Share::new(part, whole)?.of(value)
}
