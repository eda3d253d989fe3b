//! Figures of a report as people read them: digits grouped, a currency's sign, minutes as hours and minutes.
//!
//! In: the figure as the report has it (`"1260.00"`). Out: text. Nothing is added, subtracted or carried on here; the one
//! rounding is [`rounded`], for sentences and at a glance, and a table has every digit beside it. What is no number is shown as it is.

use std::borrow::Cow;

use rust_decimal::{Decimal, RoundingStrategy};

use crate::units::{Currency, group_digits};

/// The minus sign of a page; a terminal gets a hyphen, which can be copied into a calculation.
const MINUS: char = '\u{2212}';
/// Keeps a code and its number on one line.
const NO_BREAK_SPACE: char = '\u{a0}';

/// Where a figure is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    /// On a page.
    Page,
    /// On a terminal or in a plain file.
    Terminal,
}

impl Shown {
    fn minus(self) -> char {
        match self {
            Self::Page => MINUS,
            Self::Terminal => '-',
        }
    }

    fn space(self) -> char {
        match self {
            Self::Page => NO_BREAK_SPACE,
            Self::Terminal => ' ',
        }
    }
}

/// Reads a figure; `None` where it is no plain decimal number.
pub(crate) fn figure(text: &str) -> Option<Decimal> {
    Decimal::from_str_exact(text).ok()
}

/// Groups the digits before the point by three.
pub(crate) fn grouped(text: &str, shown: Shown) -> String {
    let (negative, magnitude) = unsigned(text);
    let sign = if negative { String::from(shown.minus()) } else { String::new() };
    format!("{sign}{}", group_digits(magnitude))
}

/// Money with its currency's sign or code, digits grouped: `$1,260.00`, `−£4.50`, `CHF 12.00`.
pub(crate) fn money(text: &str, currency: &str, shown: Shown) -> String {
    let (negative, magnitude) = unsigned(text);
    let mut out = String::new();
    if negative {
        out.push(shown.minus());
    }
    match Currency::parse(currency).and_then(Currency::sign) {
        Some(sign) => out.push_str(sign),
        None => {
            out.push_str(currency);
            out.push(shown.space());
        }
    }
    out.push_str(&group_digits(magnitude));
    out
}

/// The figure rounded half away from zero to the currency's usual two digits, where it has more.
pub(crate) fn rounded(text: &str) -> Cow<'_, str> {
    let digits = text.split_once('.').map_or(0, |(_, after)| after.len());
    if digits <= 2 {
        return Cow::Borrowed(text);
    }
    match figure(text) {
        Some(value) => Cow::Owned(round_half_up(value, 2).to_string()),
        None => Cow::Borrowed(text),
    }
}

/// A quantity as it is read: rounded half away from zero to three digits after the point, where it has more and is not nothing then.
pub(crate) fn to_three(text: &str) -> Cow<'_, str> {
    let digits = text.split_once('.').map_or(0, |(_, after)| after.len());
    match figure(text).filter(|_| digits > 3).map(|value| round_half_up(value, 3)) {
        Some(value) if !value.is_zero() => Cow::Owned(value.normalize().to_string()),
        _ => Cow::Borrowed(text),
    }
}

/// A cost per unit as it is read at a glance, rounded as a sentence rounds it, and every digit of it where it has more.
pub(crate) fn at_a_glance(text: &str) -> (Cow<'_, str>, Option<&str>) {
    match rounded(text) {
        Cow::Borrowed(whole) => (Cow::Borrowed(whole), None),
        glance => (glance, Some(text)),
    }
}

/// Minutes as a maker writes them: `1 h 48 min`, `45 min`, `2.5 min`; from ten minutes on rounded to the whole minute, half up.
pub(crate) fn hours(minutes: &str, shown: Shown) -> String {
    let Some(value) = figure(minutes) else { return minutes.to_owned() };
    let sign = if value < Decimal::ZERO { String::from(shown.minus()) } else { String::new() };
    let space = shown.space();
    let magnitude = value.abs();
    if magnitude < Decimal::TEN && !magnitude.fract().is_zero() {
        return format!("{sign}{}{space}min", round_half_up(magnitude, 1).normalize());
    }
    let whole = round_half_up(magnitude, 0);
    let sixty = Decimal::from(60);
    let Some(rest) = whole.checked_rem(sixty) else { return format!("{sign}{whole}{space}min") };
    let Some(full) = whole.checked_sub(rest).and_then(|full| full.checked_div(sixty)) else {
        return format!("{sign}{whole}{space}min");
    };
    let (full, rest) = (full.normalize().to_string(), rest.normalize());
    let full_hours = group_digits(&full);
    match (full.as_str(), rest.is_zero()) {
        ("0", _) => format!("{sign}{rest}{space}min"),
        (_, true) => format!("{sign}{full_hours}{space}h"),
        (_, false) => format!("{sign}{full_hours}{space}h{space}{rest}{space}min"),
    }
}

/// A month's short name, `Mar` of `2026-03`; what is no month is shown as it is.
pub(crate) fn month_name(month: &str) -> &str {
    const NAMES: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let number = month.get(5..7).and_then(|digits| digits.parse::<usize>().ok());
    number.and_then(|number| NAMES.get(number.checked_sub(1)?)).copied().unwrap_or(month)
}

/// Whether a figure is nothing at all, so that it may be shown more quietly.
pub(crate) fn is_zero(text: &str) -> bool {
    figure(text).is_some_and(|value| value.is_zero())
}

fn round_half_up(value: Decimal, digits: u32) -> Decimal {
    let mut out = value.round_dp_with_strategy(digits, RoundingStrategy::MidpointAwayFromZero);
    out.rescale(digits);
    if out.is_zero() {
        out.set_sign_positive(true);
    }
    out
}

fn unsigned(text: &str) -> (bool, &str) {
    match text.strip_prefix('-') {
        Some(magnitude) => (true, magnitude),
        None => (false, text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_are_grouped_by_three_before_the_point_only() {
        for (text, seen) in [
            ("0.00", "0.00"),
            ("999.99", "999.99"),
            ("1260.00", "1,260.00"),
            ("-1234567.123456", "-1,234,567.123456"),
            ("100000", "100,000"),
            ("n/a", "n/a"),
        ] {
            assert_eq!(grouped(text, Shown::Terminal), seen);
        }
    }

    #[test]
    fn money_has_its_sign_or_its_code_after_the_minus() {
        assert_eq!(money("-4.50", "USD", Shown::Page), "\u{2212}$4.50");
        assert_eq!(money("1260.00", "CHF", Shown::Terminal), "CHF 1,260.00");
    }

    #[test]
    fn a_sentence_rounds_half_away_from_zero_and_keeps_two_digits() {
        assert_eq!(rounded("2.345"), "2.35");
        assert_eq!(rounded("-2.345"), "-2.35");
        assert_eq!(rounded("0.999999"), "1.00");
        assert_eq!(rounded("-0.001"), "0.00");
        assert_eq!(rounded("12.5"), "12.5");
        assert_eq!(rounded("1260"), "1260");
    }

    #[test]
    fn a_cost_per_unit_is_read_at_a_glance_as_a_sentence_says_it() {
        for (text, glance, all) in [
            ("9.333333", "9.33", Some("9.333333")),
            ("12.345678", "12.35", Some("12.345678")),
            ("9.33", "9.33", None),
            ("9", "9", None),
        ] {
            assert_eq!(at_a_glance(text), (Cow::Borrowed(glance), all));
            assert_eq!(at_a_glance(text).0, rounded(text));
        }
    }

    #[test]
    fn minutes_are_read_as_hours_and_minutes() {
        for (minutes, seen) in [
            ("0", "0 min"),
            ("45", "45 min"),
            ("2.5", "2.5 min"),
            ("0.25", "0.3 min"),
            ("60", "1 h"),
            ("108", "1 h 48 min"),
            ("59.6", "1 h"),
            ("-108.000000", "-1 h 48 min"),
            ("123456", "2,057 h 36 min"),
        ] {
            assert_eq!(hours(minutes, Shown::Terminal), seen, "{minutes}");
        }
    }

    #[test]
    fn a_month_out_of_the_year_is_shown_as_it_is() {
        assert_eq!(month_name("2026-03"), "Mar");
        assert_eq!(month_name("2026-13"), "2026-13");
        assert_eq!(month_name("2026-00"), "2026-00");
    }
}
