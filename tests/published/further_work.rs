//! Sell at once, or work on: the joint cost is in both margins and moves no choice.
//!
//! JOINT-5: OpenStax, *Principles of Accounting, Volume 2: Managerial Accounting*, section 10.5 (module m68085), CC BY-NC-SA 4.0. VERIFIED. What
//! a unit costs to sell or to work on is typed as the channel's fee on a piece, what the whole costs as an expense on the line.

use crate::compiled::compile_whole;

/// The paid margin of a line that sells so many pieces. `joint` is what came before the choice, `whole` what the work costs beside
/// the pieces: each a sum, or nothing.
fn margin(joint: &str, pieces: &str, price: &str, each: &str, whole: &str) -> String {
    let made = if joint.is_empty() {
        format!("found 2026-01-03\n    {pieces} unit\n")
    } else {
        format!(
            "bought 2026-01-02\n    {joint} on batch JOINT \"what came before\"\nbuilt 2026-01-03 batch JOINT\n    made {pieces} unit\n"
        )
    };
    let work =
        if whole.is_empty() { String::new() } else { format!("paid 2026-01-04 to several\n    {whole} for work on goods\n") };
    let book = compile_whole(&format!(
        "shop \"JOINT-5\"
    currency USD
place bench \"Bench\"
    home
channel market \"Market\"
    fee {each} per item
line goods \"Goods\"
product unit \"A unit\"
    line goods
expense work \"Further work\"
{made}{work}sold 2026-01-31 via market
    {pieces} unit at {price}
"
    ));
    book.group("line", "goods").sums.paid_margin
}

#[test]
fn ainsley_gains_160000_by_selling_at_once_and_90000_by_working_on() {
    let both = |joint| [margin(joint, "200000", "1.10", "0.30", ""), margin(joint, "100000", "3.50", "0.60", "200000.00")];
    assert_eq!(both(""), ["160000.00", "90000.00"]);
    // With a joint cost, COMPUTED: both are less by the same.
    assert_eq!(both("50000.00"), ["110000.00", "40000.00"]);
}

#[test]
fn luxury_leathers_gains_900000_by_selling_at_once_and_1130000_by_working_on() {
    let both = |joint| [margin(joint, "400000", "2.25", "0.00", ""), margin(joint, "100000", "15.00", "2.85", "85000.00")];
    assert_eq!(both(""), ["900000.00", "1130000.00"]);
    assert_eq!(both("250000.00"), ["650000.00", "880000.00"]);
}
