//! Readers of numbers, dates, times, percentages and sizes: no panic, and what was read says the same when it is written and read again.

use kerfbook::units::{
    Currency, Side, Size, SpacedM, SurfaceMeasureTally, Unit, canonical_unit, convert, line_total, read_date, read_decimal,
    read_number, read_percent, read_time,
};
use rust_decimal::Decimal;

/// Reads the bytes as one of everything, and their words as a size.
pub fn numbers(bytes: &[u8]) {
    let text = super::as_text(bytes);
    if let Ok(day) = read_date(&text) {
        assert_eq!(day.to_string(), text, "a date has one spelling");
    }
    if let Ok(number) = read_decimal(&text) {
        assert_eq!(read_decimal(&number.to_string()), Ok(number), "{text:?}");
        totals(number);
    }
    let _ = read_percent(&text);
    for spaced_m in [SpacedM::Minutes, SpacedM::Metres] {
        if let Ok(minutes) = read_time(&text, spaced_m) {
            assert!(!minutes.is_negative(), "{text:?}");
        }
    }
    if let Ok(number) = read_number(&text) {
        totals(number.value);
    }
    size(&text);
}

/// Money and units of a number.
fn totals(number: Decimal) {
    let usd = Currency::parse("USD").expect("a currency");
    if let (Ok(once), Ok(other)) = (line_total(number, Decimal::TWO, usd), line_total(Decimal::TWO, number, usd)) {
        assert_eq!(once, other);
    }
    for (from, to) in [(Unit::Foot, Unit::Metre), (Unit::Ounce, Unit::Kilogram), (Unit::BoardFoot, Unit::CubicInch)] {
        let _ = convert(number, from, to);
    }
}

/// `4/4 x 6 1/2 in x 7 ft`.
fn size(text: &str) {
    let mut sides = Vec::new();
    for side in text.split(" x ") {
        let (number, unit) = match side.rsplit_once(' ') {
            Some((number, unit)) if canonical_unit(unit).is_some() => (number, canonical_unit(unit)),
            _ => (side, None),
        };
        let Ok(number) = read_number(number) else { return };
        sides.push(Side { number, unit });
    }
    let Ok(size) = Size::from_sides(&sides) else { return };
    let tallied = size.board_feet_exact(3);
    if let Ok(feet) = tallied {
        assert!(!feet.is_sign_negative(), "{text:?}");
    }
    let _ = SurfaceMeasureTally::new().add(2, &size);
    let _ = size.area(5, Unit::SquareFoot);
}
