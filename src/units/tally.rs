//! Tallies: what pieces of a size come to, in board feet or area.
//!
//! Two ways for boards. *Exactly*: thickness x width x length, 144 cubic inches to the board foot (Minnesota
//! Statutes 239.33). *By surface measure*, as a hardwood yard does (E. Wengert, "What is a Board Foot?", 2001;
//! NHLA rules book, paragraph 16): per board, length in whole feet x width in inches / 12, to the nearest whole
//! number; an exact half goes down and up in turn on successive boards (C. A. King, "Elements of Woodwork"); the
//! sum times the nominal thickness in inches, where less than one inch counts as one. The total isn't rounded again.

use std::cmp::Ordering;
use std::fmt;

use rust_decimal::Decimal;

use crate::units::conversion::factor_between;
use crate::units::exact::NumberError;
use crate::units::ratio::Ratio;
use crate::units::size::Size;
use crate::units::unit::Unit;

/// Says why pieces can't be tallied.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum TallyError {
    /// The size has no thickness, so it has no volume.
    NotABoard,
    /// The unit isn't a volume (of boards) or an area (of sheets).
    WrongUnit(Unit),
    /// The result is too large or has too many digits.
    Number(NumberError),
}

impl fmt::Display for TallyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TallyError::NotABoard => f.write_str("a size of two sides has no volume"),
            TallyError::WrongUnit(unit) => write!(f, "a size can't be tallied in `{unit}`"),
            TallyError::Number(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for TallyError {}

impl From<NumberError> for TallyError {
    fn from(error: NumberError) -> TallyError {
        TallyError::Number(error)
    }
}

impl Size {
    /// Gives the board feet of so many boards, thickness x width x length / 144: exact where finite, else rounded
    /// once, half away from zero, to 9 places. Errors: not a board, overflow, lost digits.
    pub fn board_feet_exact(&self, pieces: u64) -> Result<Decimal, TallyError> {
        self.volume(pieces, Unit::BoardFoot)
    }

    /// Gives the volume of so many boards in `unit`, rounded as [`Size::board_feet_exact`]. Errors too.
    pub fn volume(&self, pieces: u64, unit: Unit) -> Result<Decimal, TallyError> {
        let thickness = self.thickness().ok_or(TallyError::NotABoard)?;
        let sides = [thickness, self.width(), self.length()];
        tally(pieces, &sides, Unit::CubicInch, unit)
    }

    /// Gives the area (width x length) of so many pieces in `unit`, exact where finite, else rounded once, half away
    /// from zero, to 9 places. Errors: not an area, overflow, lost digits.
    pub fn area(&self, pieces: u64, unit: Unit) -> Result<Decimal, TallyError> {
        tally(pieces, &[self.width(), self.length()], Unit::SquareInch, unit)
    }
}

fn tally(pieces: u64, sides: &[Ratio], from: Unit, to: Unit) -> Result<Decimal, TallyError> {
    let (num, den) = factor_between(from, to).ok_or(TallyError::WrongUnit(to))?;
    let factor = Ratio::new(num, den).ok_or(NumberError::Overflow)?;
    let start = Ratio::whole(i128::from(pieces)).times(factor);
    let product = sides.iter().try_fold(start.ok_or(NumberError::Overflow)?, |product, side| product.times(*side));
    Ok(product.ok_or(NumberError::LostDigits)?.to_decimal()?)
}

/// Gives the board feet of so many boards whose sides are in inches; see [`Size::board_feet_exact`].
///
/// The sides aren't checked for plausibility, as [`Size::board`] does. Errors: overflow, lost digits.
pub fn board_feet_exact(pieces: u64, t: Decimal, w: Decimal, l: Decimal) -> Result<Decimal, TallyError> {
    let side = |d: Decimal| Ratio::from_decimal(d).ok_or(NumberError::LostDigits);
    tally(pieces, &[side(t)?, side(w)?, side(l)?], Unit::CubicInch, Unit::BoardFoot)
}

/// Gives the area of a sheet whose sides are in inches, in square inches. Errors: overflow, lost digits.
pub fn area(w: Decimal, l: Decimal) -> Result<Decimal, TallyError> {
    let side = |d: Decimal| Ratio::from_decimal(d).ok_or(NumberError::LostDigits);
    tally(1, &[side(w)?, side(l)?], Unit::SquareInch, Unit::SquareInch)
}

/// A tally by surface measure; one per entry, so that exact halves go down and up in turn over its boards.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Default, Debug)]
pub struct SurfaceMeasureTally {
    next_half_up: bool,
}

impl SurfaceMeasureTally {
    /// Begins a tally; the first exact half goes down.
    pub const fn new() -> SurfaceMeasureTally {
        SurfaceMeasureTally { next_half_up: false }
    }

    /// Tallies so many equal boards, one after the other, and gives their board feet.
    ///
    /// A board shorter than a foot measures nothing. Errors: not a board, overflow, lost digits.
    pub fn add(&mut self, pieces: u64, size: &Size) -> Result<Decimal, TallyError> {
        let thickness = size.thickness().ok_or(TallyError::NotABoard)?;
        let twelfth = Ratio::new(1, 12).ok_or(NumberError::Overflow)?;
        let feet = size.length().times(twelfth).ok_or(NumberError::LostDigits)?.floor_and_half().0;
        let exact = Ratio::whole(feet).times(size.width()).and_then(|area| area.times(twelfth));
        let (below, half) = exact.ok_or(NumberError::LostDigits)?.floor_and_half();
        let boards = i128::from(pieces);
        let raised = match half {
            Ordering::Less => 0,
            Ordering::Greater => boards,
            Ordering::Equal => {
                let first_up = i128::from(self.next_half_up);
                self.next_half_up ^= pieces % 2 == 1;
                (boards + first_up) / 2
            }
        };
        let measure = below.checked_mul(boards).and_then(|sum| sum.checked_add(raised)).map(Ratio::whole);
        let nominal = thickness.max(Ratio::whole(1));
        let board_feet = measure.ok_or(NumberError::Overflow)?.times(nominal).ok_or(NumberError::Overflow)?;
        Ok(board_feet.to_decimal()?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::number::read_number;
    use crate::units::size::Side;
    use std::str::FromStr;

    fn dec(text: &str) -> Decimal {
        Decimal::from_str(text).expect("a decimal")
    }

    fn board(t: &str, w: &str, l: &str) -> Size {
        Size::board(dec(t), dec(w), dec(l)).expect("a board")
    }

    #[test]
    fn why_pieces_can_not_be_tallied_is_said_in_words() {
        assert_eq!(TallyError::NotABoard.to_string(), "a size of two sides has no volume");
    }

    #[test]
    fn boards_are_tallied_exactly_from_their_sides() {
        let feet = |pieces, size: Size| size.board_feet_exact(pieces).expect("fits").normalize().to_string();
        assert_eq!(feet(1, board("1", "12", "12")), "1");
        assert_eq!(feet(4, board("1", "6.5", "48")), "8.666666667");
        assert_eq!(feet(3, board("1", "6.5", "48")), "6.5");
        assert_eq!(feet(0, board("1", "6.5", "48")), "0");
        assert_eq!(board_feet_exact(4, dec("1"), dec("6"), dec("48")), Ok(dec("8")));
        assert_eq!(area(dec("12"), dec("24")), Ok(dec("288")));
    }

    #[test]
    fn a_sheet_has_an_area_and_no_volume() {
        let sheet = Size::sheet(dec("48"), dec("96")).expect("a sheet");
        assert_eq!(sheet.area(1, Unit::SquareFoot), Ok(dec("32")));
        assert_eq!(sheet.area(2, Unit::SquareInch), Ok(dec("9216")));
        assert_eq!(sheet.board_feet_exact(1), Err(TallyError::NotABoard));
        assert_eq!(SurfaceMeasureTally::new().add(1, &sheet), Err(TallyError::NotABoard));
        assert_eq!(sheet.area(1, Unit::BoardFoot), Err(TallyError::WrongUnit(Unit::BoardFoot)));
    }

    #[test]
    fn a_board_under_one_inch_counts_as_one_inch_by_surface_measure_only() {
        let thin = board("0.75", "8", "144");
        assert_eq!(SurfaceMeasureTally::new().add(1, &thin), Ok(dec("8")));
        assert_eq!(thin.board_feet_exact(1), Ok(dec("6")));
    }

    #[test]
    fn exact_halves_go_down_and_up_in_turn_over_the_whole_entry() {
        // 9 in x 6 ft is 4 1/2.
        let half = board("1", "9", "72");
        let mut tally = SurfaceMeasureTally::new();
        assert_eq!(tally.add(1, &half), Ok(dec("4")));
        assert_eq!(tally.add(1, &half), Ok(dec("5")));
        assert_eq!(tally.add(3, &half), Ok(dec("13")));
        // A board without a half changes nothing.
        assert_eq!(tally.add(5, &board("1", "8", "72")), Ok(dec("20")));
        assert_eq!(tally.add(2, &half), Ok(dec("9")));
        assert_eq!(tally.add(1, &half), Ok(dec("5")));
    }

    #[test]
    fn equal_boards_on_one_line_are_so_many_successive_boards() {
        let half = board("1.25", "9", "72");
        for pieces in 0..12u64 {
            let mut together = SurfaceMeasureTally::new();
            let mut apart = SurfaceMeasureTally::new();
            let sum = (0..pieces).map(|_| apart.add(1, &half).expect("fits")).sum::<Decimal>();
            assert_eq!(together.add(pieces, &half), Ok(sum), "{pieces}");
            assert_eq!(together, apart);
        }
    }

    #[test]
    fn length_is_cut_to_whole_feet_and_the_total_keeps_its_quarters() {
        assert_eq!(SurfaceMeasureTally::new().add(1, &board("1", "6", "131")), Ok(dec("5")));
        assert_eq!(SurfaceMeasureTally::new().add(1, &board("1", "6", "11")), Ok(dec("0")));
        assert_eq!(SurfaceMeasureTally::new().add(3, &board("1.25", "8", "96")), Ok(dec("18.75")));
    }

    #[test]
    fn millimetres_are_measured_without_losing_the_half() {
        // 228.6 mm is 9 in and 1828.8 mm 6 ft: exactly 4 1/2. A tenth of a millimetre less is below it, one foot short.
        let side = |text: &str| Side { number: read_number(text).expect("a number"), unit: Some(Unit::Millimetre) };
        let measured = |w: &str, l: &str| {
            let size = Size::from_sides(&[side("25.4"), side(w), side(l)]).expect("a board");
            let mut tally = SurfaceMeasureTally::new();
            (tally.add(1, &size), tally.add(1, &size))
        };
        assert_eq!(measured("228.6", "1828.8"), (Ok(dec("4")), Ok(dec("5"))));
        assert_eq!(measured("228.7", "1828.8"), (Ok(dec("5")), Ok(dec("5"))));
        assert_eq!(measured("228.5", "1828.8"), (Ok(dec("4")), Ok(dec("4"))));
        assert_eq!(measured("228.6", "1828.7"), (Ok(dec("4")), Ok(dec("4"))));
    }

    #[test]
    fn figures_at_the_limit_are_errors_and_never_wrong() {
        let long = dec("7922816251426433759354395033.5");
        assert!(board_feet_exact(u64::MAX, long, long, long).is_err());
        let fine = dec("1.0000000000000000000000000001");
        assert!(board_feet_exact(1, fine, fine, fine).is_err());
    }
}
