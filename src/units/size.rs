//! Sizes of lumber and sheets: `4/4 x 6 1/2 x 48 in`, `12 x 24 in`.
//!
//! Three sides are a board (thickness, width, length), two a sheet (width, length). Sides are kept in inches as
//! exact ratios. One unit may stand at the end if it is in, mm or cm; else each side has its own. `N/4` in first
//! place of three is quarters of an inch, whatever the unit: lumber is named so everywhere.

use std::fmt;

use rust_decimal::Decimal;

use crate::units::conversion::factor_between;
use crate::units::dimension::Dimension;
use crate::units::exact::NumberError;
use crate::units::number::{Number, NumberForm};
use crate::units::ratio::Ratio;
use crate::units::unit::Unit;

/// The thickest board, in inches; more is a slip (`44` for `4/4`).
const THICKEST_IN: i128 = 8;

/// One side as written.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Side {
    /// Its number.
    pub number: Number,
    /// Its own unit, where one stands behind it; the unit at the end belongs to the last side.
    pub unit: Option<Unit>,
}

/// Says what is wrong with a size; sides are counted from 0.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum SizeError {
    /// There aren't two or three sides.
    SideCount(usize),
    /// No unit stands at the end.
    MissingUnit,
    /// The side has no unit, and the one at the end isn't in, mm or cm.
    NeedsOwnUnit {
        /// The side.
        side: usize,
        /// The unit at the end.
        last: Unit,
    },
    /// The side's unit isn't a length.
    NotALength {
        /// The side.
        side: usize,
        /// Its unit.
        unit: Unit,
    },
    /// Quarters of lumber stand elsewhere than first of three.
    QuartersElsewhere {
        /// The side.
        side: usize,
    },
    /// The side is zero.
    Zero {
        /// The side.
        side: usize,
    },
    /// The board is more than 8 inches thick.
    ThicknessOver8Inches,
    /// The board is thicker than it is wide.
    ThicknessOverWidth,
    /// The side has more digits than can be kept.
    TooManyDigits {
        /// The side.
        side: usize,
    },
}

impl fmt::Display for SizeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SizeError::SideCount(count) => write!(f, "a size has two or three sides, not {count}"),
            SizeError::MissingUnit => f.write_str("the unit of the size is missing"),
            SizeError::NeedsOwnUnit { last, .. } => write!(f, "with `{last}` at the end each side needs its own unit"),
            SizeError::NotALength { unit, .. } => {
                write!(f, "`{unit}` is {}, not a length", unit.dimension().with_article())
            }
            SizeError::QuartersElsewhere { .. } => f.write_str("quarters of lumber stand first of three sides"),
            SizeError::Zero { .. } => f.write_str("a side is zero"),
            SizeError::ThicknessOver8Inches => f.write_str("the board is more than 8 in thick"),
            SizeError::ThicknessOverWidth => f.write_str("the board is thicker than it is wide"),
            SizeError::TooManyDigits { .. } => f.write_str("a side has more digits than can be kept"),
        }
    }
}

impl std::error::Error for SizeError {}

/// A size with sides above zero, in inches.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Size {
    thickness: Option<Ratio>,
    width: Ratio,
    length: Ratio,
}

impl Size {
    /// Takes sides as written, two or three. Errors: what is wrong with them.
    pub fn from_sides(sides: &[Side]) -> Result<Size, SizeError> {
        match sides {
            [width, length] => {
                let last = unit_at_the_end(length, 1)?;
                Size::checked(None, inches(width, 0, last, false)?, inches(length, 1, last, false)?)
            }
            [thickness, width, length] => {
                let last = unit_at_the_end(length, 2)?;
                let thickness = inches(thickness, 0, last, true)?;
                Size::checked(Some(thickness), inches(width, 1, last, false)?, inches(length, 2, last, false)?)
            }
            _ => Err(SizeError::SideCount(sides.len())),
        }
    }

    /// Takes the sides of a board in inches. Errors: what is wrong with them.
    pub fn board(thickness: Decimal, width: Decimal, length: Decimal) -> Result<Size, SizeError> {
        let side = |at: usize, d: Decimal| Ratio::from_decimal(d).ok_or(SizeError::TooManyDigits { side: at });
        Size::checked(Some(side(0, thickness)?), side(1, width)?, side(2, length)?)
    }

    /// Takes the sides of a sheet in inches. Errors: what is wrong with them.
    pub fn sheet(width: Decimal, length: Decimal) -> Result<Size, SizeError> {
        let side = |at: usize, d: Decimal| Ratio::from_decimal(d).ok_or(SizeError::TooManyDigits { side: at });
        Size::checked(None, side(0, width)?, side(1, length)?)
    }

    fn checked(thickness: Option<Ratio>, width: Ratio, length: Ratio) -> Result<Size, SizeError> {
        let sides = thickness.into_iter().chain([width, length]);
        if let Some(side) = sides.into_iter().position(|side| !side.is_positive()) {
            return Err(SizeError::Zero { side });
        }
        match thickness {
            Some(t) if t > Ratio::whole(THICKEST_IN) => Err(SizeError::ThicknessOver8Inches),
            Some(t) if t > width => Err(SizeError::ThicknessOverWidth),
            _ => Ok(Size { thickness, width, length }),
        }
    }

    /// Says whether it has a thickness.
    pub const fn is_board(&self) -> bool {
        self.thickness.is_some()
    }

    /// Gives the thickness in inches, exact or rounded once to 9 places; `None` for a sheet.
    pub fn thickness_in(&self) -> Option<Result<Decimal, NumberError>> {
        self.thickness.map(Ratio::to_decimal)
    }

    /// Gives the width in inches, exact or rounded once to 9 places. Errors: more digits than can be kept.
    pub fn width_in(&self) -> Result<Decimal, NumberError> {
        self.width.to_decimal()
    }

    /// Gives the length in inches, exact or rounded once to 9 places. Errors: more digits than can be kept.
    pub fn length_in(&self) -> Result<Decimal, NumberError> {
        self.length.to_decimal()
    }

    pub(crate) const fn thickness(&self) -> Option<Ratio> {
        self.thickness
    }

    pub(crate) const fn width(&self) -> Ratio {
        self.width
    }

    pub(crate) const fn length(&self) -> Ratio {
        self.length
    }
}

/// Gives the unit at the end, which must be a length.
fn unit_at_the_end(side: &Side, at: usize) -> Result<Unit, SizeError> {
    let unit = side.unit.ok_or(SizeError::MissingUnit)?;
    if unit.dimension() == Dimension::Length { Ok(unit) } else { Err(SizeError::NotALength { side: at, unit }) }
}

/// Gives a side in inches.
fn inches(side: &Side, at: usize, last: Unit, may_be_quarters: bool) -> Result<Ratio, SizeError> {
    if let Some(unit) = side.unit
        && unit.dimension() != Dimension::Length
    {
        return Err(SizeError::NotALength { side: at, unit });
    }
    if may_be_quarters && let Some(quarters) = side.number.quarters() {
        return Ratio::new(i128::from(quarters), 4).ok_or(SizeError::TooManyDigits { side: at });
    }
    if matches!(side.number.form, NumberForm::Quarters(_)) {
        return Err(SizeError::QuartersElsewhere { side: at });
    }
    let unit = match side.unit {
        Some(unit) => unit,
        None if matches!(last, Unit::Inch | Unit::Millimetre | Unit::Centimetre) => last,
        None => return Err(SizeError::NeedsOwnUnit { side: at, last }),
    };
    let (num, den) = factor_between(unit, Unit::Inch).ok_or(SizeError::NotALength { side: at, unit })?;
    let factor = Ratio::new(num, den);
    let number = Ratio::from_decimal(side.number.value);
    factor.zip(number).and_then(|(f, n)| n.times(f)).ok_or(SizeError::TooManyDigits { side: at })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::number::read_number;

    fn size(sides: &[(&str, &str)]) -> Result<Size, SizeError> {
        let side =
            |(number, unit): &(&str, &str)| Side { number: read_number(number).expect("a number"), unit: Unit::parse(unit) };
        Size::from_sides(&sides.iter().map(side).collect::<Vec<_>>())
    }

    fn inches_of(sides: &[(&str, &str)]) -> [String; 3] {
        let size = size(sides).expect("a size");
        let thickness = size.thickness_in().map_or(Ok("none".into()), |t| t.map(|t| t.normalize().to_string()));
        let plain = |d: Result<Decimal, NumberError>| d.expect("fits").normalize().to_string();
        [thickness.expect("fits"), plain(size.width_in()), plain(size.length_in())]
    }

    #[test]
    fn a_size_is_a_board_where_it_has_a_thickness() {
        assert!(size(&[("1", "in"), ("6", "in"), ("8", "ft")]).expect("a board").is_board());
        assert!(!size(&[("6", "in"), ("8", "ft")]).expect("a sheet").is_board());
    }

    #[test]
    fn what_is_wrong_with_a_size_is_said_in_words() {
        let told = size(&[("48", "in")]).expect_err("one side").to_string();
        assert_eq!(told, "a size has two or three sides, not 1");
    }

    #[test]
    fn one_unit_at_the_end_serves_all_sides() {
        assert_eq!(inches_of(&[("4/4", ""), ("6 1/2", ""), ("48", "in")]), ["1", "6.5", "48"]);
        assert_eq!(inches_of(&[("25.4", ""), ("50.8", ""), ("254", "mm")]), ["1", "2", "10"]);
        assert_eq!(inches_of(&[("12", ""), ("24", "in")]), ["none", "12", "24"]);
    }

    #[test]
    fn each_side_may_have_its_own_unit() {
        assert_eq!(inches_of(&[("4/4", ""), ("6 1/2", "in"), ("7", "ft")]), ["1", "6.5", "84"]);
        assert_eq!(inches_of(&[("2", "ft"), ("1", "yd")]), ["none", "24", "36"]);
    }

    #[test]
    fn feet_yards_and_metres_at_the_end_serve_only_their_side() {
        let error = size(&[("4/4", ""), ("6 1/2", ""), ("8", "ft")]);
        assert_eq!(error, Err(SizeError::NeedsOwnUnit { side: 1, last: Unit::Foot }));
        assert_eq!(size(&[("1", ""), ("2", "m")]), Err(SizeError::NeedsOwnUnit { side: 0, last: Unit::Metre }));
        assert_eq!(size(&[("1", ""), ("6", "in"), ("48", "")]), Err(SizeError::MissingUnit));
    }

    #[test]
    fn quarters_first_of_three_are_quarters_of_an_inch_whatever_the_unit() {
        assert_eq!(inches_of(&[("4/4", ""), ("127", ""), ("2540", "mm")]), ["1", "5", "100"]);
        assert_eq!(inches_of(&[("3/4", ""), ("127", ""), ("2540", "mm")]), ["0.75", "5", "100"]);
        let first_of_two = size(&[("4/4", ""), ("6", "in")]);
        assert_eq!(first_of_two, Err(SizeError::QuartersElsewhere { side: 0 }));
        assert_eq!(size(&[("1", ""), ("5/4", ""), ("6", "in")]), Err(SizeError::QuartersElsewhere { side: 1 }));
    }

    #[test]
    fn slips_of_the_pen_are_no_sizes() {
        assert_eq!(size(&[("44", ""), ("60", ""), ("48", "in")]), Err(SizeError::ThicknessOver8Inches));
        assert_eq!(size(&[("7", ""), ("6", ""), ("48", "in")]), Err(SizeError::ThicknessOverWidth));
        assert!(size(&[("8", ""), ("8", ""), ("48", "in")]).is_ok());
        assert_eq!(size(&[("8.01", ""), ("9", ""), ("48", "in")]), Err(SizeError::ThicknessOver8Inches));
        assert_eq!(size(&[("1", ""), ("0", ""), ("48", "in")]), Err(SizeError::Zero { side: 1 }));
        assert_eq!(size(&[("0", ""), ("48", "in")]), Err(SizeError::Zero { side: 0 }));
        assert_eq!(size(&[("48", "in")]), Err(SizeError::SideCount(1)));
        assert_eq!(size(&[("1", ""), ("6", ""), ("4", "bf")]), Err(SizeError::NotALength { side: 2, unit: Unit::BoardFoot }));
        assert_eq!(size(&[("1", ""), ("6", "lb"), ("4", "in")]), Err(SizeError::NotALength { side: 1, unit: Unit::Pound }));
    }
}
