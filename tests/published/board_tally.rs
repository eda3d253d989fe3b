//! Board-foot tallies and areas of sheets.

use std::str::FromStr;

use kerfbook::units::{Side, Size, SurfaceMeasureTally, Unit, read_number};
use rust_decimal::{Decimal, RoundingStrategy};

fn dec(text: &str) -> Decimal {
    Decimal::from_str(text).expect("a decimal")
}

fn board(thickness: &str, width: &str, length: &str) -> Size {
    Size::board(dec(thickness), dec(width), dec(length)).expect("a board")
}

fn surface_measure(thickness: &str, width: &str, length: &str) -> Decimal {
    SurfaceMeasureTally::new().add(1, &board(thickness, width, length)).expect("fits")
}

/// VERIFIED: gophuongdong.com/en/hardwood-lumber-measurement, example list: 6 1/2" x 8' is 4 1/3, measured 4;
/// 8" x 12' is 8; 10" x 13' is 10 10/12, measured 11. The rule: NHLA rules book, page 7, paragraph 16 ("rounded to the
/// nearest whole foot"; VERIFIED, nhla.com/rc122020, December 2020).
#[test]
fn surface_measure_is_rounded_to_the_nearest_foot_per_board() {
    assert_eq!(surface_measure("1", "6.5", "96"), dec("4"));
    assert_eq!(surface_measure("1", "8", "144"), dec("8"));
    assert_eq!(surface_measure("1", "10", "156"), dec("11"));
}

/// VERIFIED: E. Wengert, "What is a Board Foot?", 2001, woodweb.com/knowledge_base/What_is_a_Board_Foot.html: length cut to
/// whole feet, width with its fractions, times the nominal thickness; pieces under 1 inch count as 1 inch. COMPUTED examples.
#[test]
fn a_hardwood_tally_cuts_the_length_and_counts_thin_boards_as_one_inch() {
    // 8 ft 11 in counts as 8 ft: 8 x 6.75 / 12 is 4.5; with 8.917 ft it would be 5.02. First half down.
    assert_eq!(surface_measure("1", "6.75", "107"), dec("4"));
    assert_eq!(surface_measure("0.75", "8", "144"), dec("8"));
    // 5/4: 8 x 1.25.
    assert_eq!(surface_measure("1.25", "8", "144"), dec("10"));
    // The sum is multiplied by the thickness and not rounded again: boards that measure 3 in 8/4 and in 5/4.
    let mut tally = SurfaceMeasureTally::new();
    assert_eq!(tally.add(4, &board("2", "6", "72")), Ok(dec("24")));
    assert_eq!(tally.add(1, &board("1.25", "6", "72")), Ok(dec("3.75")));
}

/// VERIFIED: Charles A. King, "Elements of Woodwork" (bitlit.ru/page/en/charles-a-king/elements-of-woodwork/17): where no
/// figure is nearer, lower and higher alternate on successive boards. NHLA's own wording of it: FROM MEMORY. That the
/// first goes down is this program's choice, as the word "lower" comes first there.
#[test]
fn exact_halves_alternate_between_lower_and_higher() {
    let half = board("1", "9", "72"); // 6 ft x 9 in / 12 is 4 1/2
    let mut tally = SurfaceMeasureTally::new();
    let measured: Vec<Decimal> = (0..4).map(|_| tally.add(1, &half).expect("fits")).collect();
    assert_eq!(measured, [dec("4"), dec("5"), dec("4"), dec("5")]);
    assert_eq!(SurfaceMeasureTally::new().add(4, &half), Ok(dec("18")));
}

/// VERIFIED: woodworkingtips.com/etips/etip04.html: 1 x 9 x 96 is 6 board feet, 1 1/2 thick it is 9.
#[test]
fn the_small_shop_s_formula_is_exact() {
    assert_eq!(board("1", "9", "96").board_feet_exact(1), Ok(dec("6")));
    assert_eq!(board("1.5", "9", "96").board_feet_exact(1), Ok(dec("9")));
}

/// The usual sheets, common practice; COMPUTED from their sides: 4 x 8 ft is 32 square feet and 4,608 square inches; 5 x 5 ft 25 and 3,600;
/// 1525 x 1525 mm 2.325625 square metres, 25.03 square feet.
#[test]
fn sheets_are_tallied_by_area() {
    let sheet = |w: &str, l: &str| Size::sheet(dec(w), dec(l)).expect("a sheet");
    assert_eq!(sheet("48", "96").area(1, Unit::SquareFoot), Ok(dec("32")));
    assert_eq!(sheet("48", "96").area(1, Unit::SquareInch), Ok(dec("4608")));
    assert_eq!(sheet("60", "60").area(1, Unit::SquareFoot), Ok(dec("25")));
    assert_eq!(sheet("60", "60").area(1, Unit::SquareInch), Ok(dec("3600")));
    let side = Side { number: read_number("1525").expect("a number"), unit: Some(Unit::Millimetre) };
    let metric = Size::from_sides(&[side, side]).expect("a sheet");
    assert_eq!(metric.area(1, Unit::SquareMetre), Ok(dec("2.325625")));
    let feet = metric.area(1, Unit::SquareFoot).expect("fits");
    assert_eq!(feet.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero), dec("25.03"));
}
