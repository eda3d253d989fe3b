//! Conversion factors. Their home is NIST Handbook 44, Appendix C, "General Tables of Units of Measurement"; the
//! pages named beside the checks repeat it.

use std::str::FromStr;

use kerfbook::units::{Unit, convert};
use rust_decimal::Decimal;

#[track_caller]
fn one_is(unit: Unit, figure: &str, of: Unit) {
    let expected = Decimal::from_str(figure).expect("a decimal");
    assert_eq!(convert(Decimal::ONE, unit, of), Ok(expected), "1 {unit} in {of}");
}

/// VERIFIED-2nd: paulmboos.com, 13 August 2017, quoting Handbook 44 App. C (1 yd = 0.9144 m, so 1 in = 25.4 mm).
#[test]
fn the_yard_is_0_9144_metres() {
    one_is(Unit::Yard, "0.9144", Unit::Metre);
    one_is(Unit::Inch, "25.4", Unit::Millimetre);
    // DERIVED: 12 in; 5,280 ft.
    one_is(Unit::Foot, "0.3048", Unit::Metre);
    one_is(Unit::Mile, "1.609344", Unit::Kilometre);
    one_is(Unit::Mile, "5280", Unit::Foot);
    one_is(Unit::Centimetre, "10", Unit::Millimetre);
}

/// DERIVED: the inch and the foot squared.
#[test]
fn the_square_foot_is_0_09290304_square_metres() {
    one_is(Unit::SquareFoot, "0.09290304", Unit::SquareMetre);
    one_is(Unit::SquareFoot, "144", Unit::SquareInch);
}

/// VERIFIED-2nd: angelfire.com/whittenwords/measure/capacity01.htm (exact values of NIST Weights and Measures).
#[test]
fn the_cubic_inch_is_16_387064_millilitres() {
    one_is(Unit::CubicInch, "16.387064", Unit::Millilitre);
    one_is(Unit::CubicFoot, "1728", Unit::CubicInch);
}

/// The board foot is 144 cubic inches: Minnesota Statutes 239.33 (VERIFIED-2nd, getpocketlaw.com). DERIVED from it:
/// 144 x 16.387064 ml. A converter on the web prints 2359.737225974, which is wrong in the ninth figure.
#[test]
fn the_board_foot_is_144_cubic_inches() {
    one_is(Unit::BoardFoot, "144", Unit::CubicInch);
    one_is(Unit::BoardFoot, "2359.737216", Unit::Millilitre);
    one_is(Unit::CubicFoot, "12", Unit::BoardFoot);
}

/// VERIFIED-2nd: the gallon, paulmboos.com quoting Handbook 44 App. C; the quart, math.com/tables/general/measures/
/// volumes.htm (57.75 cubic inches); pint and fluid ounce, angelfire.com as above.
#[test]
fn the_us_gallon_is_231_cubic_inches() {
    one_is(Unit::Gallon, "231", Unit::CubicInch);
    one_is(Unit::Gallon, "3.785411784", Unit::Litre);
    one_is(Unit::Quart, "57.75", Unit::CubicInch);
    one_is(Unit::Quart, "0.946352946", Unit::Litre);
    one_is(Unit::Pint, "473.176473", Unit::Millilitre);
    one_is(Unit::FluidOunce, "29.5735295625", Unit::Millilitre);
    one_is(Unit::Gallon, "128", Unit::FluidOunce);
}

/// VERIFIED-2nd: angelfire.com as above; the ounce is a sixteenth of the pound.
#[test]
fn the_pound_is_453_59237_grams() {
    one_is(Unit::Pound, "453.59237", Unit::Gram);
    one_is(Unit::Ounce, "28.349523125", Unit::Gram);
    one_is(Unit::Pound, "16", Unit::Ounce);
    one_is(Unit::Kilogram, "1000", Unit::Gram);
}

/// Common practice, no source.
#[test]
fn a_gross_is_twelve_dozen() {
    one_is(Unit::Gross, "12", Unit::Dozen);
    one_is(Unit::Dozen, "12", Unit::Each);
    one_is(Unit::Pair, "2", Unit::Each);
    one_is(Unit::Hour, "60", Unit::Minute);
}
