//! The integers behind every exact operation.
//!
//! A decimal is an integer of 96 bits and a power of ten. Sums, products and quotients of two of them are
//! worked here in 128 and, where those don't hold them, in 256 bits, and come back as a decimal only if no
//! digit is lost. Rounding is always half away from zero. Nothing here knows a unit or a currency.

use std::fmt;

use ethnum::{I256, U256};
use rust_decimal::Decimal;

/// Says why an exact operation has no result.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum NumberError {
    /// The result is larger than the number type holds.
    Overflow,
    /// The result has more digits than the number type holds, and cutting them would change it.
    LostDigits,
    /// The divisor is zero.
    DivisionByZero,
}

impl fmt::Display for NumberError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            NumberError::Overflow => "the result is too large",
            NumberError::LostDigits => "the result has more digits than can be kept",
            NumberError::DivisionByZero => "division by zero",
        })
    }
}

impl std::error::Error for NumberError {}

/// The largest power of ten that 128 bits hold.
const NARROW_POWERS: usize = 38;

const POWERS_OF_TEN: [i128; NARROW_POWERS + 1] = {
    let mut table = [1i128; NARROW_POWERS + 1];
    let mut i = 1;
    while i <= NARROW_POWERS {
        table[i] = table[i - 1] * 10;
        i += 1;
    }
    table
};

/// The largest magnitude of a decimal's integer, 2^96 - 1.
const MANTISSA_MAX: i128 = (1i128 << 96) - 1;

/// Gives 10 to the power `n`, if 128 bits hold it.
pub(crate) fn power_of_ten(n: u32) -> Option<i128> {
    POWERS_OF_TEN.get(usize::try_from(n).ok()?).copied()
}

/// Gives 10 to the power `n` in 256 bits, if they hold it.
pub(crate) fn wide_power_of_ten(n: u32) -> Option<I256> {
    match power_of_ten(n) {
        Some(p) => Some(I256::from(p)),
        None => I256::from(10i128).checked_pow(n),
    }
}

/// Makes a decimal of `mantissa` / 10^`scale` without changing its value.
///
/// Zeros at the end are cut where they stand in the way. Errors: too large, or too many digits.
pub(crate) fn decimal_from_narrow(mantissa: i128, scale: u32) -> Result<Decimal, NumberError> {
    if let Ok(d) = Decimal::try_from_i128_with_scale(mantissa, scale) {
        return Ok(d);
    }
    let (mut m, mut s) = (mantissa, scale);
    while s > 0 && (s > Decimal::MAX_SCALE || m.unsigned_abs() > MANTISSA_MAX.unsigned_abs()) && m % 10 == 0 {
        m /= 10;
        s -= 1;
        if m == 0 {
            return Ok(Decimal::ZERO);
        }
    }
    Decimal::try_from_i128_with_scale(m, s).map_err(|_| match power_of_ten(s) {
        Some(p) if (m / p).unsigned_abs() > MANTISSA_MAX.unsigned_abs() => NumberError::Overflow,
        _ => NumberError::LostDigits,
    })
}

/// Makes a decimal of a 256-bit `mantissa` / 10^`scale` without changing its value.
pub(crate) fn decimal_from_wide(mantissa: I256, scale: u32) -> Result<Decimal, NumberError> {
    let ten = I256::from(10i128);
    let (mut m, mut s) = (mantissa, scale);
    loop {
        if let Ok(narrow) = i128::try_from(m) {
            return decimal_from_narrow(narrow, s);
        }
        if s == 0 || m % ten != I256::ZERO {
            break;
        }
        m /= ten;
        s -= 1;
    }
    let whole = wide_power_of_ten(s).map_or(I256::ZERO, |p| m / p);
    if whole.unsigned_abs() > U256::from(MANTISSA_MAX.unsigned_abs()) {
        Err(NumberError::Overflow)
    } else {
        Err(NumberError::LostDigits)
    }
}

/// Brings two decimals to one scale: their integers and that scale, if 128 bits hold them.
pub(crate) fn align(a: Decimal, b: Decimal) -> Option<(i128, i128, u32)> {
    if a.scale() == b.scale() {
        return Some((a.mantissa(), b.mantissa(), a.scale()));
    }
    align_at_larger_scale(a, b).or_else(|| align_at_larger_scale(a.normalize(), b.normalize()))
}

fn align_at_larger_scale(a: Decimal, b: Decimal) -> Option<(i128, i128, u32)> {
    let scale = a.scale().max(b.scale());
    let up = |d: Decimal| d.mantissa().checked_mul(power_of_ten(scale - d.scale())?);
    Some((up(a)?, up(b)?, scale))
}

/// Brings two decimals to one scale in 256 bits, which always hold them.
pub(crate) fn align_wide(a: Decimal, b: Decimal) -> (I256, I256, u32) {
    let scale = a.scale().max(b.scale());
    // At most 96 bits and 28 digits (94 bits): never too large for 255.
    let up = |d: Decimal| I256::from(d.mantissa()) * wide_power_of_ten(scale - d.scale()).unwrap_or(I256::ONE);
    (up(a), up(b), scale)
}

/// Divides, rounding half away from zero. `None` when `den` is zero or the result is too large.
pub(crate) fn div_round(num: i128, den: i128) -> Option<i128> {
    let quotient = num.checked_div(den)?;
    let rest = num.checked_rem(den)?.unsigned_abs();
    if rest == 0 || rest < den.unsigned_abs() - rest {
        return Some(quotient);
    }
    quotient.checked_add(if (num < 0) == (den < 0) { 1 } else { -1 })
}

/// Divides in 256 bits, rounding half away from zero. `None` when `den` is zero or the result is too large.
pub(crate) fn div_round_wide(num: I256, den: I256) -> Option<I256> {
    let quotient = num.checked_div(den)?;
    let rest = num.checked_rem(den)?.unsigned_abs();
    if rest == U256::ZERO || rest < den.unsigned_abs() - rest {
        return Some(quotient);
    }
    let away = if num.is_negative() == den.is_negative() { I256::ONE } else { I256::MINUS_ONE };
    quotient.checked_add(away)
}

/// Rounds `mantissa` / 10^`scale` once, half away from zero, to `digits` (0 to 6) and gives it in millionths.
pub(crate) fn micros_rounded(mantissa: I256, scale: u32, digits: u32) -> Option<i128> {
    let digits = digits.min(6);
    if scale <= digits {
        let up = power_of_ten(6 - scale)?;
        return i128::try_from(mantissa.checked_mul(I256::from(up))?).ok();
    }
    let down = wide_power_of_ten(scale - digits)?;
    let rounded = i128::try_from(div_round_wide(mantissa, down)?).ok()?;
    rounded.checked_mul(power_of_ten(6 - digits)?)
}

/// Divides two integers: exact where the result ends within a decimal's digits, else rounded once to 9 places.
pub(crate) fn ratio_to_decimal(num: I256, den: I256) -> Result<Decimal, NumberError> {
    match terminating(num, den)? {
        Some(exact) => Ok(exact),
        None => {
            let nine = I256::from(1_000_000_000i128);
            let scaled = num.checked_mul(nine).ok_or(NumberError::Overflow)?;
            let rounded = div_round_wide(scaled, den).ok_or(NumberError::Overflow)?;
            decimal_from_wide(rounded, 9)
        }
    }
}

/// Divides two integers where the result is a finite decimal that a [`Decimal`] holds; `None` where it isn't.
pub(crate) fn terminating(num: I256, den: I256) -> Result<Option<Decimal>, NumberError> {
    if den == I256::ZERO {
        return Err(NumberError::DivisionByZero);
    }
    let (n, d) = lowest_terms(num, den);
    let twos = d.trailing_zeros();
    // A denominator with more than 28 fives or a larger odd part needs more places than a decimal has.
    let Ok(mut odd) = u128::try_from(d >> twos) else {
        return Ok(None);
    };
    let mut fives = 0;
    while odd % 5 == 0 {
        odd /= 5;
        fives += 1;
    }
    let places = twos.max(fives);
    if odd != 1 || places > Decimal::MAX_SCALE {
        return Ok(None);
    }
    let factor = I256::from(2i128).checked_pow(places - twos).zip(I256::from(5i128).checked_pow(places - fives));
    let mantissa = factor.and_then(|(two, five)| n.checked_mul(two)?.checked_mul(five));
    Ok(mantissa.and_then(|m| decimal_from_wide(m, places).ok()))
}

/// Reduces a fraction; the denominator comes back positive. `den` isn't zero.
fn lowest_terms(num: I256, den: I256) -> (I256, U256) {
    let (n, d) = (num.unsigned_abs(), den.unsigned_abs());
    let divisor = match (u128::try_from(n), u128::try_from(d)) {
        (Ok(n), Ok(d)) => U256::from(gcd(n, d)),
        _ => gcd_wide(n, d),
    };
    let reduced = (n / divisor).as_i256();
    let negative = num.is_negative() != den.is_negative();
    (if negative { reduced.wrapping_neg() } else { reduced }, d / divisor)
}

/// Gives the greatest common divisor; of zero and `b` it is `b`.
pub(crate) fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        if let (Ok(x), Ok(y)) = (u64::try_from(a), u64::try_from(b)) {
            return u128::from(gcd_short(x, y));
        }
        (a, b) = (b, a % b);
    }
    a
}

fn gcd_short(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

fn gcd_wide(mut a: U256, mut b: U256) -> U256 {
    while b != U256::ZERO {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn why_a_figure_can_not_be_kept_is_said_in_words() {
        assert_eq!(NumberError::LostDigits.to_string(), "the result has more digits than can be kept");
    }

    #[test]
    fn a_figure_with_the_largest_whole_and_a_digit_more_has_lost_a_digit_and_is_not_too_large() {
        let most = MANTISSA_MAX;
        assert_eq!(decimal_from_narrow(most * 10 + 1, 1), Err(NumberError::LostDigits));
        assert_eq!(decimal_from_narrow((most + 1) * 10 + 1, 1), Err(NumberError::Overflow));
        let wide = |whole: i128| I256::from(whole) * I256::from(100_000_000_000i128) + I256::ONE;
        assert_eq!(decimal_from_wide(wide(most), 11), Err(NumberError::LostDigits));
        assert_eq!(decimal_from_wide(wide(most + 1), 11), Err(NumberError::Overflow));
    }

    #[test]
    fn a_quotient_of_28_places_is_exact_and_one_of_29_is_rounded() {
        let ratio = |d: i128| ratio_to_decimal(I256::ONE, I256::from(d)).expect("fits").to_string();
        // 5 to the power 28 is 37252902984619140625.
        assert_eq!(ratio(1 << 28), "0.0000000037252902984619140625");
        assert_eq!(ratio(1 << 29), "0.000000002");
    }

    #[test]
    fn a_common_divisor_is_found_in_256_bits() {
        let lifted = |n: u32| U256::from(n) << 140u32;
        assert_eq!(gcd_wide(lifted(6), lifted(4)), lifted(2));
        assert_eq!(gcd_wide(U256::ZERO, lifted(4)), lifted(4));
        assert_eq!(gcd(6 << 80, 4 << 80), 2 << 80);
    }

    #[test]
    fn halves_round_away_from_zero() {
        let cases = [(5, 2, 3), (-5, 2, -3), (5, -2, -3), (7, 3, 2), (8, 3, 3), (1, 3, 0), (-1, 2, -1), (0, 7, 0)];
        for (n, d, expected) in cases {
            assert_eq!(div_round(n, d), Some(expected), "{n}/{d}");
            assert_eq!(div_round_wide(I256::from(n), I256::from(d)), Some(I256::from(expected)), "{n}/{d}");
        }
        assert_eq!(div_round(1, 0), None);
        assert_eq!(div_round(i128::MIN, -1), None);
        assert_eq!(div_round(i128::MAX, i128::MIN), Some(-1));
    }

    #[test]
    fn zeros_at_the_end_are_cut_only_where_needed() {
        assert_eq!(decimal_from_narrow(100, 2).expect("fits").scale(), 2);
        assert_eq!(decimal_from_narrow(1000, 30).expect("fits"), Decimal::new(1, 27));
        assert_eq!(decimal_from_narrow(0, 50).expect("fits"), Decimal::ZERO);
        assert_eq!(decimal_from_narrow(1, 29), Err(NumberError::LostDigits));
        assert_eq!(decimal_from_narrow(1 << 96, 0), Err(NumberError::Overflow));
        assert_eq!(decimal_from_narrow((1 << 96) + 1, 3), Err(NumberError::LostDigits));
        let wide = I256::from(i128::MAX) * I256::from(10i128);
        assert_eq!(decimal_from_wide(wide, 0), Err(NumberError::Overflow));
        assert_eq!(decimal_from_wide(wide, 20), Err(NumberError::LostDigits));
    }

    #[test]
    fn a_finite_quotient_is_exact_and_another_has_nine_places() {
        let ratio = |n: i128, d: i128| ratio_to_decimal(I256::from(n), I256::from(d)).expect("fits").to_string();
        assert_eq!(ratio(1, 8), "0.125");
        assert_eq!(ratio(1, 1 << 20), "0.00000095367431640625");
        assert_eq!(ratio(10, 45), "0.222222222");
        assert_eq!(ratio(35, 45), "0.777777778");
        assert_eq!(ratio(-2, 3), "-0.666666667");
        assert_eq!(ratio(2, -4), "-0.5");
        assert_eq!(ratio_to_decimal(I256::ONE, I256::ZERO), Err(NumberError::DivisionByZero));
    }
}
