//! Splitting by largest remainders (Hamilton's method), and what rounding each part on its own would lose.

use kerfbook::units::{Fixed6, split_at_digits, split_by_largest_remainder};
use rust_decimal::Decimal;

/// Splits a whole number of units into whole units.
fn apportion(total: i128, weights: &[i64]) -> Vec<i128> {
    let weights: Vec<Decimal> = weights.iter().copied().map(Decimal::from).collect();
    let mut parts = Vec::new();
    let total = Fixed6::from_micros(total * 1_000_000);
    split_at_digits(total, &weights, 0, &mut parts).expect("weights above zero");
    parts.iter().map(|part| part.micros() / 1_000_000).collect()
}

/// OpenStax, Contemporary Mathematics, 11.4 (repository openstax/osbooks-contemporary-mathematics, commit 6458acc5,
/// modules/m00028): 616 schools of Hawaii over 46,310 / 224,230 / 20 / 16,560 / 38,450. VERIFIED with at least one for each:
/// 87, 424, 1, 31, 73. Money knows no such minimum; COMPUTED without it: 88, 424, 0, 31, 73.
#[test]
fn the_schools_of_hawaii_without_a_minimum() {
    assert_eq!(apportion(616, &[46_310, 224_230, 20, 16_560, 38_450]), [88, 424, 0, 31, 73]);
}

/// The same chapter: 27 aircraft by pilots 13, 12, 5, 16, 7, 9. Lower quotas 5, 5, 2, 6, 3, 3 (VERIFIED); final COMPUTED.
#[test]
fn twenty_seven_aircraft_by_pilots() {
    assert_eq!(apportion(27, &[13, 12, 5, 16, 7, 9]), [6, 5, 2, 7, 3, 4]);
}

/// Ours: no source fixes who gets the odd cent of a tie; here the first does.
#[test]
fn a_hundred_cents_over_three() {
    assert_eq!(apportion(100, &[1, 1, 1]), [34, 33, 33]);
}

/// JOINT-3, ACCA F2 text, online.flipbuilder.com/bmcx/nlve, page 163: 50,000 over 75,000 and 60,000 is 27,778 and 22,222 (VERIFIED).
/// In cents COMPUTED: 27,777.78 and 22,222.22.
#[test]
fn a_joint_cost_of_fifty_thousand() {
    assert_eq!(apportion(50_000, &[75_000, 60_000]), [27_778, 22_222]);
    assert_eq!(apportion(5_000_000, &[75_000, 60_000]), [2_777_778, 2_222_222]);
}

/// JOINT-1, answer.ya.guru/questions/5179340 (VERIFIED): 900,000 over four grades by quantity and by sales value.
#[test]
fn a_joint_cost_over_four_grades_of_hardwood() {
    let by_quantity = apportion(900_000, &[1_500_000, 3_000_000, 1_875_000, 1_125_000]);
    assert_eq!(by_quantity, [180_000, 360_000, 225_000, 135_000]);
    let by_value = [1_500_000 * 300, 3_000_000 * 225, 1_875_000 * 140, 1_125_000 * 100];
    assert_eq!(apportion(900_000, &by_value), [270_000, 405_000, 157_500, 67_500]);
}

/// PROC-3, OpenStax, Principles of Accounting 2, 5.3 (module m68131): 10,353 of materials and 26,970 of conversion over
/// 7,500 finished and 1,200 begun, these at 100 % and 30 % (VERIFIED inputs). COMPUTED: 34,659.73 goes on and 2,663.27
/// stays; by the book's rounded unit costs, 1.19 and 3.43, it is 37,312.80 together, and 10.20 has gone.
#[test]
fn a_split_keeps_what_rounded_unit_costs_lose() {
    let split = |cost: i128, begun: i64| {
        let mut parts = Vec::new();
        let weights = [Decimal::from(7_500), Decimal::from(begun)];
        split_by_largest_remainder(Fixed6::from_micros(cost * 1_000_000), &weights, &mut parts).expect("weights above zero");
        parts
    };
    let (materials, conversion) = (split(10_353, 1_200), split(26_970, 360));
    let together = |at: usize| materials[at].checked_add(conversion[at]).expect("fits");
    assert_eq!(together(0).to_fixed_text(2, 2), "34659.73");
    assert_eq!(together(1).to_fixed_text(2, 2), "2663.27");
    assert_eq!(together(0).checked_add(together(1)), Some(Fixed6::from_micros(37_323_000_000)));
}
