//! Reading numbers as the language writes them: decimals, fractions, mixed numbers, quarters of lumber.
//!
//! Strict, unlike the libraries' readers: no sign, no comma, no underscore, no point at either end, at most 28
//! digits. A fraction is proper (`1/2`, `3 1/2`) and a finite decimal; only `N/4` with N from 4 to 16 may be one or
//! more: quarters of lumber. What is refused comes back as a reason, which the caller words.

use std::fmt;

use rust_decimal::Decimal;

use crate::units::exact::power_of_ten;
use crate::units::ratio::Ratio;

/// The most digits that a number may have, zeros before the first other digit aside.
pub const MOST_DIGITS: usize = 28;

/// The most digits that either side of a fraction may have.
const MOST_FRACTION_DIGITS: usize = 9;

/// Says why a text isn't a number of the language.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum NumberFault {
    /// There is no text.
    Empty,
    /// It begins with a sign.
    Sign,
    /// It holds a comma.
    Comma,
    /// It holds an underscore.
    Underscore,
    /// It begins with the point, `.50`.
    LeadingPoint,
    /// It ends with the point, `12.`.
    TrailingPoint,
    /// It has more digits than can be kept.
    TooLong,
    /// The number below the fraction's stroke is zero.
    ZeroDenominator,
    /// A fraction that is one or more, and no quarter of lumber: `9/8`, `61/2`.
    ImproperFraction,
    /// Quarters of lumber after a whole number: `4 5/4`.
    QuartersAfterWhole,
    /// The fraction has no finite decimal: `1/3`.
    NotFinite,
    /// Anything else.
    NotANumber,
}

impl fmt::Display for NumberFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            NumberFault::Empty => "a number is missing",
            NumberFault::Sign => "a number has no sign",
            NumberFault::Comma => "a number has no comma",
            NumberFault::Underscore => "a number has no underscore",
            NumberFault::LeadingPoint => "a digit must stand before the point",
            NumberFault::TrailingPoint => "a digit must stand after the point",
            NumberFault::TooLong => "the number is too long: at most 28 digits can be kept",
            NumberFault::ZeroDenominator => "a fraction can't have zero below its stroke",
            NumberFault::ImproperFraction => "a fraction must be less than one, save quarters of lumber from 4/4 to 16/4",
            NumberFault::QuartersAfterWhole => "quarters of lumber can't follow a whole number",
            NumberFault::NotFinite => "the fraction has no exact decimal",
            NumberFault::NotANumber => "this isn't a number",
        })
    }
}

impl std::error::Error for NumberFault {}

/// How a number was written.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum NumberForm {
    /// Digits only, `12`.
    Whole,
    /// With a point, `12.50`.
    Decimal,
    /// A proper fraction, `3/4`.
    Fraction {
        /// What stands above the stroke.
        numerator: u32,
        /// What stands below it.
        denominator: u32,
    },
    /// A whole number and a proper fraction, `3 1/2`.
    Mixed,
    /// Quarters of lumber, `4/4` to `16/4`: so many quarters.
    Quarters(u32),
}

/// A number and how it was written; never below zero.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Number {
    /// Its value, exactly; a decimal keeps the digits that were written (`42.00` has two).
    pub value: Decimal,
    /// How it was written.
    pub form: NumberForm,
}

impl Number {
    /// Gives the number as a count, when it was written with digits only and isn't too large.
    pub fn as_count(self) -> Option<u64> {
        match self.form {
            NumberForm::Whole => u64::try_from(self.value.mantissa()).ok(),
            _ => None,
        }
    }

    /// Gives how many quarters `N/4` means, N from 1 to 16, when it was written so.
    pub fn quarters(self) -> Option<u32> {
        match self.form {
            NumberForm::Quarters(n) => Some(n),
            NumberForm::Fraction { numerator, denominator: 4 } => Some(numerator),
            _ => None,
        }
    }
}

/// Reads digits with at most one point within them, `12` or `12.50`.
///
/// Errors: the reason why not.
pub fn read_decimal(text: &str) -> Result<Decimal, NumberFault> {
    let (digits, places) = read_digits(text)?;
    Decimal::try_from_i128_with_scale(digits, places).map_err(|_| NumberFault::TooLong)
}

/// Reads a decimal, a proper fraction, a mixed number or quarters of lumber.
///
/// Whether quarters may stand there is for the caller to say. Errors: the reason why not.
pub fn read_number(text: &str) -> Result<Number, NumberFault> {
    if !text.contains('/') {
        let form = if text.contains('.') { NumberForm::Decimal } else { NumberForm::Whole };
        return Ok(Number { value: read_decimal(text)?, form });
    }
    let (form, ratio) = read_fraction(text)?;
    match ratio.to_exact_decimal() {
        Some(value) => Ok(Number { value, form }),
        None if ratio.is_finite_decimal() => Err(NumberFault::TooLong),
        None => Err(NumberFault::NotFinite),
    }
}

/// Reads any number as a ratio, `1/3` too.
pub(crate) fn read_ratio(text: &str) -> Result<(NumberForm, Ratio), NumberFault> {
    if text.contains('/') {
        return read_fraction(text);
    }
    let form = if text.contains('.') { NumberForm::Decimal } else { NumberForm::Whole };
    Ok((form, Ratio::from_decimal(read_decimal(text)?).ok_or(NumberFault::TooLong)?))
}

fn read_digits(text: &str) -> Result<(i128, u32), NumberFault> {
    let bytes = text.as_bytes();
    let (first, last) = match (bytes.first(), bytes.last()) {
        (Some(first), Some(last)) => (*first, *last),
        _ => return Err(NumberFault::Empty),
    };
    if first == b'+' || first == b'-' || text.starts_with(['\u{2212}', '\u{2013}']) {
        return Err(NumberFault::Sign);
    }
    let (mut value, mut digits, mut places, mut point) = (0i128, 0usize, 0u32, false);
    let mut too_long = false;
    for byte in bytes {
        match byte {
            b'0'..=b'9' => {
                digits += usize::from(digits > 0 || *byte != b'0');
                places += u32::from(point);
                too_long = too_long || digits > MOST_DIGITS || places > Decimal::MAX_SCALE;
                if !too_long {
                    value = value * 10 + i128::from(byte - b'0');
                }
            }
            b'.' if !point => point = true,
            b',' => return Err(NumberFault::Comma),
            b'_' => return Err(NumberFault::Underscore),
            _ => return Err(NumberFault::NotANumber),
        }
    }
    match (first, last) {
        (b'.', b'.') => Err(NumberFault::NotANumber),
        (b'.', _) => Err(NumberFault::LeadingPoint),
        (_, b'.') => Err(NumberFault::TrailingPoint),
        _ if too_long => Err(NumberFault::TooLong),
        _ => Ok((value, places)),
    }
}

fn read_fraction(text: &str) -> Result<(NumberForm, Ratio), NumberFault> {
    let (whole, fraction) = match text.trim_matches(is_blank).rsplit_once(is_blank) {
        Some((whole, fraction)) => (Some(read_whole(whole.trim_end_matches(is_blank), MOST_DIGITS)?), fraction),
        None => (None, text),
    };
    let (above, below) = fraction.split_once('/').ok_or(NumberFault::NotANumber)?;
    let numerator = read_whole(above, MOST_FRACTION_DIGITS)?;
    let denominator = read_whole(below, MOST_FRACTION_DIGITS)?;
    if denominator == 0 {
        return Err(NumberFault::ZeroDenominator);
    }
    let written = (u32::try_from(numerator).ok(), u32::try_from(denominator).ok());
    let (Some(above), Some(below)) = written else {
        return Err(NumberFault::TooLong);
    };
    let form = match (whole, numerator < denominator) {
        (None, true) => NumberForm::Fraction { numerator: above, denominator: below },
        (Some(_), true) => NumberForm::Mixed,
        (None, false) if below == 4 && above <= 16 => NumberForm::Quarters(above),
        (Some(_), false) if below == 4 && above <= 16 => return Err(NumberFault::QuartersAfterWhole),
        (_, false) => return Err(NumberFault::ImproperFraction),
    };
    let sum = whole.unwrap_or(0).checked_mul(denominator).and_then(|w| w.checked_add(numerator));
    let ratio = sum.and_then(|sum| Ratio::new(sum, denominator)).ok_or(NumberFault::TooLong)?;
    Ok((form, ratio))
}

fn read_whole(text: &str, most_digits: usize) -> Result<i128, NumberFault> {
    let (value, places) = read_digits(text)?;
    if places > 0 {
        return Err(NumberFault::NotANumber);
    }
    match power_of_ten(u32::try_from(most_digits).unwrap_or(0)) {
        Some(limit) if value < limit => Ok(value),
        _ => Err(NumberFault::TooLong),
    }
}

/// Says whether a character counts as a blank: blank, tab, no-break space.
pub(crate) fn is_blank(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\u{a0}' | '\u{202f}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::date::read_date;
    use crate::units::fixed::Fixed6;
    use crate::units::percent::read_percent;
    use crate::units::time::{SpacedM, read_time};
    use proptest::prelude::*;

    fn value(text: &str) -> Result<String, NumberFault> {
        read_number(text).map(|n| n.value.to_string())
    }

    #[test]
    fn what_is_wrong_with_a_number_is_said_in_words() {
        assert_eq!(NumberFault::Comma.to_string(), "a number has no comma");
    }

    #[test]
    fn decimals_are_read_with_the_digits_that_were_written() {
        for text in ["0", "5", "42.00", "0.80", "31.5", "1234567890123456789012345678", "0.0000000000000000000000000001"] {
            assert_eq!(read_decimal(text).map(|d| d.to_string()), Ok(text.to_string()));
        }
        assert_eq!(read_decimal("0007"), Ok(Decimal::from(7)));
        assert_eq!(read_decimal("0000000000000000000000000000000000001.5"), Ok(Decimal::new(15, 1)));
    }

    #[test]
    fn a_number_that_is_not_the_language_s_comes_back_with_its_reason() {
        let cases = [
            ("", NumberFault::Empty),
            ("+5", NumberFault::Sign),
            ("-5.00", NumberFault::Sign),
            ("\u{2212}5", NumberFault::Sign),
            ("1,250.00", NumberFault::Comma),
            ("5,90", NumberFault::Comma),
            ("1_000", NumberFault::Underscore),
            (".50", NumberFault::LeadingPoint),
            ("12.", NumberFault::TrailingPoint),
            (".", NumberFault::NotANumber),
            ("1.2.3", NumberFault::NotANumber),
            ("1 250", NumberFault::NotANumber),
            ("1\u{bd}", NumberFault::NotANumber),
            ("\u{665}", NumberFault::NotANumber),
            ("$5", NumberFault::NotANumber),
            ("1e5", NumberFault::NotANumber),
            ("12345678901234567890123456789", NumberFault::TooLong),
            ("0.00000000000000000000000000001", NumberFault::TooLong),
            ("1.0000000000000000000000000000", NumberFault::TooLong),
        ];
        for (text, fault) in cases {
            assert_eq!(read_decimal(text), Err(fault), "{text:?}");
        }
    }

    #[test]
    fn proper_fractions_and_mixed_numbers_are_exact() {
        assert_eq!(value("1/2"), Ok("0.5".into()));
        assert_eq!(value("3/4"), Ok("0.75".into()));
        assert_eq!(value("3 1/2"), Ok("3.5".into()));
        assert_eq!(value("6  15/16"), Ok("6.9375".into()));
        assert_eq!(value("1\u{a0}1/64"), Ok("1.015625".into()));
        assert_eq!(value("3/6"), Ok("0.5".into()));
        assert_eq!(read_number("3 1/2").map(|n| n.form), Ok(NumberForm::Mixed));
        assert_eq!(read_number("3/8").map(|n| n.form), Ok(NumberForm::Fraction { numerator: 3, denominator: 8 }));
    }

    #[test]
    fn quarters_of_lumber_go_from_four_to_sixteen() {
        for n in 4..=16u32 {
            let number = read_number(&format!("{n}/4")).expect("quarters");
            assert_eq!(number.form, NumberForm::Quarters(n));
            assert_eq!(number.value, Decimal::new(i64::from(n) * 25, 2));
            assert_eq!(number.quarters(), Some(n));
        }
        assert_eq!(value("17/4"), Err(NumberFault::ImproperFraction));
        assert_eq!(read_number("3/4").map(Number::quarters), Ok(Some(3)));
        assert_eq!(read_number("1 3/4").map(Number::quarters), Ok(None));
    }

    #[test]
    fn improper_and_endless_fractions_are_refused() {
        assert_eq!(value("61/2"), Err(NumberFault::ImproperFraction));
        assert_eq!(value("8/8"), Err(NumberFault::ImproperFraction));
        assert_eq!(value("6 3/2"), Err(NumberFault::ImproperFraction));
        assert_eq!(value("4 5/4"), Err(NumberFault::QuartersAfterWhole));
        assert_eq!(value("1/3"), Err(NumberFault::NotFinite));
        assert_eq!(value("2 5/12"), Err(NumberFault::NotFinite));
        assert_eq!(value("1/0"), Err(NumberFault::ZeroDenominator));
        assert_eq!(value("1/"), Err(NumberFault::Empty));
        assert_eq!(value("3.5 1/2"), Err(NumberFault::NotANumber));
        assert_eq!(value("1/2/3"), Err(NumberFault::NotANumber));
        assert_eq!(value("1/1000000000"), Err(NumberFault::TooLong));
        assert_eq!(value("9999999999999999999999999999 1/2"), Err(NumberFault::TooLong));
    }

    #[test]
    fn a_count_is_digits_only() {
        assert_eq!(read_number("12").map(Number::as_count), Ok(Some(12)));
        assert_eq!(read_number("12.0").map(Number::as_count), Ok(None));
        assert_eq!(read_number("4/4").map(Number::as_count), Ok(None));
        assert_eq!(read_number("99999999999999999999").map(Number::as_count), Ok(None));
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn no_text_makes_a_reader_panic(text in "[0-9./ ,hmin%+_\u{a0}-]{0,24}|.{0,12}") {
            let _ = (read_number(&text), read_decimal(&text), read_percent(&text), read_date(&text));
            let _ = read_time(&text, SpacedM::Minutes);
        }

        #[test]
        fn a_decimal_reads_as_it_was_printed(mantissa in 0i128..10i128.pow(28), scale in 0u32..=28) {
            let value = Decimal::from_i128_with_scale(mantissa, scale);
            prop_assert_eq!(read_decimal(&value.to_string()).map(|d| (d.mantissa(), d.scale())), Ok((mantissa, scale)));
        }

        #[test]
        fn a_time_of_whole_minutes_is_read_in_every_spelling(hours in 0u32..1000, minutes in 0u32..60) {
            let sum = Fixed6::from_micros(i128::from(hours * 60 + minutes) * 1_000_000);
            for text in [
                format!("{hours}h {minutes}m"),
                format!("{hours} h {minutes} min"),
                format!("{}m", hours * 60 + minutes),
                format!("{}min", hours * 60 + minutes),
            ] {
                prop_assert_eq!(read_time(&text, SpacedM::Metres), Ok(sum));
            }
        }
    }
}
