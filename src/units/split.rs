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
pub fn split_by_largest_remainder(total: Fixed6, weights: &[Decimal], out: &mut Vec<Fixed6>) -> Result<(), SplitError> {
    Weights::new(weights)?.split(total, out)
}

/// Splits `total`, first rounded to `digits`, into parts of so many digits that sum to it; `out` is emptied first.
///
/// Errors as [`split_by_largest_remainder`].
pub fn split_at_digits(total: Fixed6, weights: &[Decimal], digits: u32, out: &mut Vec<Fixed6>) -> Result<(), SplitError> {
    Weights::new(weights)?.split_at_digits(total, digits, out)
}

/// Rounds a printed column so that it sums to its printed total: each value goes to the step of `digits` below or
/// above it, and their sum is the exact sum rounded half away from zero. Values may be negative.
///
/// Values that have no more than `digits` stay as they are. Errors: [`SplitError::Overflow`].
pub fn apportion_displayed(values: &[Fixed6], digits: u32, out: &mut Vec<Fixed6>) -> Result<(), SplitError> {
    let sum = Fixed6::checked_sum(values.iter().copied()).ok_or(SplitError::Overflow)?;
    apportion_under(values, sum, digits, out)
}

/// Rounds a printed column so that it sums to a total that is printed already, itself rounded half away from zero to `digits`: the steps
/// that are missing go to the largest remainders, ties to the first. Where the total is the exact sum at the step below or above it, each
/// value goes to the step below or above it, too; a total further off moves the values by further steps, as evenly as can be.
///
/// Errors: [`SplitError::Overflow`].
pub fn apportion_under(values: &[Fixed6], total: Fixed6, digits: u32, out: &mut Vec<Fixed6>) -> Result<(), SplitError> {
    out.clear();
    let step = power_of_ten(6 - digits.min(6)).ok_or(SplitError::Overflow)?;
    let mut left = div_round(total.micros(), step).ok_or(SplitError::Overflow)?;
    let mut steps: Vec<i128> = Vec::with_capacity(values.len());
    let mut rests: Vec<(Reverse<i128>, usize)> = Vec::with_capacity(values.len());
    for (at, value) in values.iter().enumerate() {
        let below = value.micros().div_euclid(step);
        left = left.checked_sub(below).ok_or(SplitError::Overflow)?;
        rests.push((Reverse(value.micros().rem_euclid(step)), at));
        steps.push(below);
    }
    rests.sort_unstable();
    let count = i128::try_from(values.len()).map_err(|_| SplitError::Overflow)?;
    if count > 0 {
        let (each, more) = (left.div_euclid(count), left.rem_euclid(count));
        for (place, (_, at)) in (0..).zip(&rests) {
            let further = if place < more { each.checked_add(1) } else { Some(each) };
            steps[*at] = further.and_then(|further| steps[*at].checked_add(further)).ok_or(SplitError::Overflow)?;
        }
    }
    for steps in steps {
        out.push(Fixed6::from_micros(steps.checked_mul(step).ok_or(SplitError::Overflow)?));
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn micros(amounts: &[Fixed6]) -> Vec<i128> {
        amounts.iter().map(|a| a.micros()).collect()
    }

    fn split(total: i128, weights: &[Decimal]) -> Result<Vec<i128>, SplitError> {
        let mut parts = vec![Fixed6::from_micros(99)];
        split_by_largest_remainder(Fixed6::from_micros(total), weights, &mut parts)?;
        Ok(micros(&parts))
    }

    fn dec(mantissa: i64, scale: u32) -> Decimal {
        Decimal::new(mantissa, scale)
    }

    #[test]
    fn a_share_of_amounts_is_that_of_quantities() {
        let money = Fixed6::from_micros;
        let share = Share::of_amounts(money(2_000_000), money(3_000_000)).expect("a whole");
        assert_eq!(share.of(money(100)), Some(money(67)));
        assert_eq!(Share::of_amounts(money(1), Fixed6::ZERO), None);
    }

    #[test]
    fn weights_know_how_many_they_are() {
        let weights = Weights::new(&[Decimal::ONE, Decimal::ZERO, Decimal::TWO]).expect("weights");
        assert_eq!((weights.len(), weights.is_empty()), (3, false));
    }

    #[test]
    fn why_a_whole_can_not_be_split_is_said_in_words() {
        assert_eq!(SplitError::NegativeWeight.to_string(), "a weight is below zero");
    }

    #[test]
    fn ties_go_to_the_first() {
        let equal = [dec(1, 0), dec(1, 0), dec(1, 0)];
        assert_eq!(split(100, &equal), Ok(vec![34, 33, 33]));
        assert_eq!(split(101, &equal), Ok(vec![34, 34, 33]));
        assert_eq!(split(-100, &equal), Ok(vec![-34, -33, -33]));
        assert_eq!(split(0, &equal), Ok(vec![0, 0, 0]));
    }

    #[test]
    fn weights_of_different_scales_are_weighed_alike() {
        assert_eq!(split(10, &[dec(50, 2), dec(5, 1), dec(1, 0)]), Ok(vec![3, 2, 5]));
        // Digits that only look long: twenty zeros after the point.
        let long = Decimal::from_i128_with_scale(3 * 10i128.pow(20), 20);
        assert_eq!(split(8, &[Decimal::MAX.trunc(), Decimal::MAX]), Ok(vec![4, 4]));
        assert_eq!(split(8, &[long, dec(1, 0), Decimal::ZERO]), Ok(vec![6, 2, 0]));
    }

    #[test]
    fn what_cannot_be_split_is_an_error() {
        assert_eq!(split(5, &[]), Err(SplitError::NoWeight));
        assert_eq!(split(5, &[Decimal::ZERO, dec(0, 3)]), Err(SplitError::NoWeight));
        assert_eq!(split(0, &[Decimal::ZERO]), Err(SplitError::NoWeight));
        assert_eq!(split(5, &[dec(3, 0), dec(-1, 0)]), Err(SplitError::NegativeWeight));
        assert_eq!(split(5, &[Decimal::MAX, Decimal::from_i128_with_scale(1, 28)]), Err(SplitError::Overflow));
        assert_eq!(split(i128::MIN, &[dec(1, 0)]), Err(SplitError::Overflow));
        assert_eq!(split(i128::MAX, &[dec(1, 0), dec(0, 0)]), Ok(vec![i128::MAX, 0]));
    }

    #[test]
    fn a_split_at_cents_sums_to_the_total_in_cents() {
        let mut parts = Vec::new();
        let by = [dec(1, 0), dec(1, 0), dec(1, 0)];
        split_at_digits(Fixed6::from_micros(10_000_000), &by, 2, &mut parts).expect("weights");
        assert_eq!(micros(&parts), [3_340_000, 3_330_000, 3_330_000]);
        split_at_digits(Fixed6::from_micros(10_004_999), &by, 2, &mut parts).expect("weights");
        assert_eq!(micros(&parts), [3_340_000, 3_330_000, 3_330_000]);
        split_at_digits(Fixed6::from_micros(-7_000_000), &by, 0, &mut parts).expect("weights");
        assert_eq!(micros(&parts), [-3_000_000, -2_000_000, -2_000_000]);
    }

    #[test]
    fn a_printed_column_sums_to_its_printed_total() {
        let mut shown = Vec::new();
        // 9.994 less 4.995 is 4.999 and prints as 5.00: of 9.99 and -5.00, the second lost more.
        let column = [9_994_000, -4_995_000].map(Fixed6::from_micros);
        apportion_displayed(&column, 2, &mut shown).expect("fits");
        assert_eq!(micros(&shown), [9_990_000, -4_990_000]);
        let thirds = [3_333_333, 3_333_333, 3_333_334].map(Fixed6::from_micros);
        apportion_displayed(&thirds, 2, &mut shown).expect("fits");
        assert_eq!(micros(&shown), [3_330_000, 3_330_000, 3_340_000]);
        apportion_displayed(&[], 2, &mut shown).expect("fits");
        assert!(shown.is_empty());
    }

    #[test]
    fn a_column_under_a_printed_total_keeps_its_whole_values_and_gives_to_the_largest_rest() {
        let column = [Fixed6::from_micros(8_571_429), Fixed6::from_micros(16_363_636), Fixed6::from_micros(20_000_000)];
        let shown_under = |total: i128| {
            let mut shown = Vec::new();
            apportion_under(&column, Fixed6::from_micros(total), 2, &mut shown).expect("fits");
            shown.iter().map(|value| value.micros() / 10_000).collect::<Vec<_>>()
        };
        assert_eq!(shown_under(44_940_000), [857, 1637, 2000]);
        assert_eq!(shown_under(44_930_000), [857, 1636, 2000]);
        // Further off than rounding can bring it: the steps are spread as evenly as can be.
        assert_eq!(shown_under(44_980_000), [859, 1638, 2001]);
        assert_eq!(shown_under(44_900_000), [856, 1635, 1999]);
        let mut none = Vec::new();
        apportion_under(&[], Fixed6::from_micros(10_000), 2, &mut none).expect("fits");
        assert!(none.is_empty());
    }

    #[test]
    fn taking_the_rest_of_a_lot_takes_the_rest_of_its_value() {
        let value = Fixed6::from_micros(100_000_001);
        assert_eq!(part_of(value, dec(315, 1), dec(3150, 2)), Some(value));
        assert_eq!(part_of(value, dec(1, 0), dec(3, 0)), Some(Fixed6::from_micros(33_333_334)));
        assert_eq!(part_of(value, Decimal::ZERO, dec(3, 0)), Some(Fixed6::ZERO));
        assert_eq!(part_of(value, Decimal::ZERO, Decimal::ZERO), None);
        assert_eq!(part_of(Fixed6::from_micros(-5), dec(1, 0), dec(2, 0)), Some(Fixed6::from_micros(-3)));
        assert_eq!(Share::of_amounts(value, Fixed6::ZERO), None);
    }

    #[test]
    fn a_product_of_more_than_128_bits_is_still_exact() {
        let large = i128::MAX / 3;
        assert_eq!(mul_div_round(large, 3_000_000_007, 3_000_000_007), Some(large));
        assert_eq!(mul_div_round(large, 7, 2), None);
        assert_eq!(mul_div_round(5, 1, 2), Some(3));
        assert_eq!(mul_div_round(-5, 1, 2), Some(-3));
        assert_eq!(mul_div_round(5, 1, 0), None);
        assert_eq!(mul_div_floor(-5, 1, 2), Some(-3));
        assert_eq!(mul_div_floor(5, 1, -2), Some(-3));
        assert_eq!(mul_div_floor(5, 1, 2), Some(2));
        assert_eq!(mul_div_floor(i128::MIN, i128::MIN, i128::MIN), Some(i128::MIN));
        assert_eq!(mul_div_floor(5, 1, 0), None);
    }

    fn weight() -> impl Strategy<Value = Decimal> {
        let plain = (0i64..1_000_000_000_000, 0u32..10).prop_map(|(m, s)| Decimal::new(m, s));
        let long = (0i64..i64::MAX, 0u32..19).prop_map(|(m, s)| Decimal::new(m, s));
        prop_oneof![4 => plain, 1 => Just(Decimal::ZERO), 1 => Just(Decimal::ONE), 1 => long]
    }

    fn settings() -> ProptestConfig {
        ProptestConfig { failure_persistence: None, cases: 512, ..ProptestConfig::default() }
    }

    proptest! {
        #![proptest_config(settings())]

        #[test]
        fn the_parts_sum_to_the_whole_and_each_is_within_one_of_its_exact_share(
            total in prop_oneof![-1_000_000_000_000i128..1_000_000_000_000, -(1i128 << 118)..(1i128 << 118)],
            weights in prop::collection::vec(weight(), 1..12),
        ) {
            prop_assume!(weights.iter().any(|w| !w.is_zero()));
            let parts = split(total, &weights).expect("weights that fit");
            prop_assert_eq!(parts.len(), weights.len());
            prop_assert_eq!(parts.iter().sum::<i128>(), total);
            // All weights as whole numbers at the scale of 18 digits, in 256 bits.
            let whole: Vec<I256> = weights.iter().map(|w| I256::from(w.mantissa()) * I256::from(10i128.pow(18 - w.scale()))).collect();
            let sum: I256 = whole.iter().copied().sum();
            for (part, weight) in parts.iter().zip(&whole) {
                // |part - total * weight / sum| < 1, without dividing.
                let off = I256::from(*part) * sum - I256::from(total) * *weight;
                prop_assert!(off.unsigned_abs() < sum.unsigned_abs());
                prop_assert!(*weight != I256::ZERO || *part == 0);
            }
        }

        #[test]
        fn a_larger_weight_never_gets_a_smaller_part(
            total in 0i128..1_000_000_000,
            weights in prop::collection::vec(weight(), 1..12),
        ) {
            prop_assume!(weights.iter().any(|w| !w.is_zero()));
            let parts = split(total, &weights).expect("weights that fit");
            for (i, a) in weights.iter().enumerate() {
                for (j, b) in weights.iter().enumerate() {
                    prop_assert!(a <= b || parts[i] >= parts[j]);
                    prop_assert!(a != b || i > j || parts[i] >= parts[j]);
                }
            }
        }

        #[test]
        fn a_negative_whole_is_split_like_its_magnitude(
            total in 0i128..1_000_000_000_000,
            weights in prop::collection::vec(1i64..1_000_000, 1..8),
        ) {
            let weights: Vec<Decimal> = weights.into_iter().map(Decimal::from).collect();
            let mirrored: Vec<i128> = split(-total, &weights).expect("weights").iter().map(|p| -p).collect();
            prop_assert_eq!(split(total, &weights).expect("weights"), mirrored);
        }

        #[test]
        fn a_split_in_256_bits_is_the_split_in_128(
            total in 1_000_000_000_000_000_000i128..1_000_000_000_000_000_000_000,
            a in 1i64..1_000_000,
            b in 1i64..1_000_000,
        ) {
            // The same two weights once as they are and once too large for a product of 128 bits.
            let factor = 10i128.pow(22) + 1;
            let lifted = [a, b].map(|w| Decimal::from_i128_with_scale(i128::from(w) * factor, 0));
            prop_assert!(total.checked_mul(factor).is_none());
            prop_assert_eq!(split(total, &[Decimal::from(a), Decimal::from(b)]), split(total, &lifted));
        }

        #[test]
        fn a_lot_drawn_down_piece_by_piece_gives_all_its_value(
            value in 0i128..1_000_000_000_000,
            pieces in prop::collection::vec(1i64..1_000, 1..20),
        ) {
            let mut left = Fixed6::from_micros(value);
            let mut quantity: i64 = pieces.iter().sum();
            for piece in pieces {
                let part = part_of(left, Decimal::new(piece, 2), Decimal::new(quantity, 2)).expect("fits");
                prop_assert!(!part.is_negative() && part <= left);
                left = left.checked_sub(part).expect("fits");
                quantity -= piece;
            }
            prop_assert!(left.is_zero());
        }

        #[test]
        fn a_displayed_column_foots_and_each_figure_is_off_by_less_than_one_step(
            values in prop::collection::vec(-1_000_000_000i128..1_000_000_000, 0..20),
            digits in 0u32..7,
        ) {
            let values: Vec<Fixed6> = values.into_iter().map(Fixed6::from_micros).collect();
            let mut shown = Vec::new();
            apportion_displayed(&values, digits, &mut shown).expect("fits");
            let sum = |v: &[Fixed6]| Fixed6::checked_sum(v.iter().copied()).expect("fits");
            prop_assert_eq!(sum(&shown), sum(&values).round_to(digits));
            let step = 10i128.pow(6 - digits);
            for (value, figure) in values.iter().zip(&shown) {
                prop_assert!((value.micros() - figure.micros()).abs() < step && figure.has_at_most(digits));
            }
        }
    }
}
