//! Reading working time as it is written: `1h 48m`, `45m`, `40 min`, `1 h 20 min`, `1.5h`, `1 1/2 h`.
//!
//! The result is in minutes, exact to six digits; a finer figure is rounded once, half away from zero.
//! `m` after a blank is metres except where only a time can stand, which the caller says.

use std::fmt;

use crate::units::fixed::Fixed6;
use crate::units::number::{NumberFault, NumberForm, is_blank, read_ratio};
use crate::units::ratio::Ratio;

/// How `m` after a blank reads.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum SpacedM {
    /// As minutes: after `took`, `takes` and the `per` of `wears`.
    Minutes,
    /// As metres, so that it is no time.
    Metres,
}

/// Says why a text isn't a time.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum TimeFault {
    /// There is no text.
    Empty,
    /// A clock's notation, `1:48`.
    Colon,
    /// A number without a unit, `90` or the end of `1h 48`.
    NoUnit,
    /// Hours and minutes without a blank between them, `1h48m`.
    Glued,
    /// Another word than `h`, `m` and `min`: `2 hours`.
    UnknownUnit,
    /// `m` after a blank where that is metres, `45 m`.
    Metres,
    /// Minutes before hours, or a unit twice.
    WrongOrder,
    /// A number that can't be read.
    Number(NumberFault),
    /// More time than can be kept.
    TooLarge,
}

impl fmt::Display for TimeFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            TimeFault::Empty => "a time is missing",
            TimeFault::Colon => "a time isn't written with a colon",
            TimeFault::NoUnit => "the unit of the time is missing",
            TimeFault::Glued => "a blank must stand between hours and minutes",
            TimeFault::UnknownUnit => "a time is in `h`, `m` or `min`",
            TimeFault::Metres => "`m` after a blank is metres",
            TimeFault::WrongOrder => "hours come first, then minutes",
            TimeFault::Number(fault) => return fault.fmt(f),
            TimeFault::TooLarge => "the time is too large",
        })
    }
}

impl std::error::Error for TimeFault {}

/// Reads a time and gives it in minutes.
///
/// `1/3 h` is 20 minutes: a fraction must be finite in minutes. Errors: the reason why not.
pub fn read_time(text: &str, spaced_m: SpacedM) -> Result<Fixed6, TimeFault> {
    let text = text.trim_matches(is_blank);
    if text.contains(':') {
        return Err(TimeFault::Colon);
    }
    let (first, rest) = read_part(text)?;
    if first.unit == TimeUnit::Minute && first.is_spaced_m && spaced_m == SpacedM::Metres {
        return Err(TimeFault::Metres);
    }
    if rest.is_empty() {
        return first.minutes();
    }
    let (second, rest) = read_part(rest)?;
    if first.unit != TimeUnit::Hour || second.unit != TimeUnit::Minute || !rest.is_empty() {
        return Err(TimeFault::WrongOrder);
    }
    first.minutes()?.checked_add(second.minutes()?).ok_or(TimeFault::TooLarge)
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum TimeUnit {
    Hour,
    Minute,
}

struct Part {
    number: Ratio,
    form: NumberForm,
    unit: TimeUnit,
    is_spaced_m: bool,
}

impl Part {
    fn minutes(&self) -> Result<Fixed6, TimeFault> {
        let factor = if self.unit == TimeUnit::Hour { 60 } else { 1 };
        let minutes = self.number.times(Ratio::whole(factor)).ok_or(TimeFault::TooLarge)?;
        let is_fraction = matches!(self.form, NumberForm::Fraction { .. } | NumberForm::Mixed);
        if is_fraction && !minutes.is_finite_decimal() {
            return Err(TimeFault::Number(NumberFault::NotFinite));
        }
        let micros = minutes.times(Ratio::whole(1_000_000)).and_then(Ratio::rounded);
        micros.map(Fixed6::from_micros).ok_or(TimeFault::TooLarge)
    }
}

/// Reads a number and its unit; gives the part and the text behind it, without blanks before it.
fn read_part(text: &str) -> Result<(Part, &str), TimeFault> {
    if text.is_empty() {
        return Err(TimeFault::Empty);
    }
    let number_end = text.find(char::is_alphabetic).unwrap_or(text.len());
    let (number, behind) = text.split_at(number_end);
    let word_end = behind.find(|c: char| !c.is_alphabetic()).unwrap_or(behind.len());
    let (word, rest) = behind.split_at(word_end);
    let bare = number.trim_end_matches(is_blank);
    if bare.is_empty() {
        return Err(TimeFault::Number(NumberFault::Empty));
    }
    let (form, ratio) = read_ratio(bare).map_err(TimeFault::Number)?;
    if matches!(form, NumberForm::Quarters(_)) {
        return Err(TimeFault::Number(NumberFault::ImproperFraction));
    }
    let unit = match word {
        "" => return Err(TimeFault::NoUnit),
        "h" => TimeUnit::Hour,
        "m" | "min" => TimeUnit::Minute,
        _ => return Err(TimeFault::UnknownUnit),
    };
    if rest.starts_with(|c: char| c.is_ascii_digit()) {
        return Err(TimeFault::Glued);
    }
    if !rest.is_empty() && !rest.starts_with(is_blank) {
        return Err(TimeFault::UnknownUnit);
    }
    let is_spaced_m = word == "m" && bare.len() < number.len();
    Ok((Part { number: ratio, form, unit, is_spaced_m }, rest.trim_start_matches(is_blank)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn minutes(text: &str) -> Result<String, TimeFault> {
        read_time(text, SpacedM::Metres).map(|m| m.to_string())
    }

    #[test]
    fn what_is_wrong_with_a_time_is_said_in_words() {
        assert_eq!(TimeFault::Colon.to_string(), "a time isn't written with a colon");
    }

    #[test]
    fn every_spelling_of_the_language_is_read() {
        let cases = [
            ("1h 48m", "108"),
            ("2h 40m", "160"),
            ("45m", "45"),
            ("40 min", "40"),
            ("40min", "40"),
            ("1 h 20 min", "80"),
            ("1h 20 min", "80"),
            ("1 h 20m", "80"),
            ("1.5h", "90"),
            ("1.5 h", "90"),
            ("1 1/2 h", "90"),
            ("1 1/2h", "90"),
            ("1/3 h", "20"),
            ("2h", "120"),
            ("0.25h", "15"),
            ("7.5m", "7.5"),
            ("12h 75m", "795"),
            ("1h\u{a0}5m", "65"),
            ("0m", "0"),
        ];
        for (text, expected) in cases {
            assert_eq!(minutes(text), Ok(expected.to_string()), "{text:?}");
        }
    }

    #[test]
    fn m_after_a_blank_is_metres_unless_only_a_time_can_stand() {
        assert_eq!(minutes("45 m"), Err(TimeFault::Metres));
        assert_eq!(read_time("45 m", SpacedM::Minutes), Ok(Fixed6::from_micros(45_000_000)));
        assert_eq!(minutes("1 h 20 m"), Ok("80".into()));
    }

    #[test]
    fn what_is_no_time_comes_back_with_its_reason() {
        let cases = [
            ("", TimeFault::Empty),
            ("1:48", TimeFault::Colon),
            ("90", TimeFault::NoUnit),
            ("1h 48", TimeFault::NoUnit),
            ("1h48m", TimeFault::Glued),
            ("1h48", TimeFault::Glued),
            ("2 hours", TimeFault::UnknownUnit),
            ("1 hr 30", TimeFault::UnknownUnit),
            ("2h,", TimeFault::UnknownUnit),
            ("45m 1h", TimeFault::WrongOrder),
            ("1h 2h", TimeFault::WrongOrder),
            ("1h 5m 3m", TimeFault::WrongOrder),
            ("h", TimeFault::Number(NumberFault::Empty)),
            ("1,5h", TimeFault::Number(NumberFault::Comma)),
            ("-1h", TimeFault::Number(NumberFault::Sign)),
            ("1/7 h", TimeFault::Number(NumberFault::NotFinite)),
            ("5/4 h", TimeFault::Number(NumberFault::ImproperFraction)),
        ];
        for (text, fault) in cases {
            assert_eq!(minutes(text), Err(fault), "{text:?}");
        }
        assert_eq!(minutes("9999999999999999999999999999h"), Ok("599999999999999999999999999940".into()));
    }

    #[test]
    fn a_figure_finer_than_a_millionth_of_a_minute_is_rounded_once() {
        assert_eq!(minutes("0.12345678h"), Ok("7.407407".into()));
        assert_eq!(minutes("0.0000005m"), Ok("0.000001".into()));
        assert_eq!(minutes("1/1024 h"), Ok("0.058594".into()));
    }
}
