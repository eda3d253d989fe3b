//! Process costing: equivalent units of a batch of which a part is finished.
//!
//! PROC-1, PROC-3: OpenStax, *Principles of Accounting, Volume 2: Managerial Accounting*, section 5.3 (module m68131), CC BY-NC-SA 4.0. VERIFIED
//! inputs; PROC-1's results VERIFIED, PROC-3's exact results COMPUTED. Pieces still to come have all their materials and a part of their work, the
//! same in both departments. Labour is hired there for so much in all; overhead is typed as a rate for each of its hours.

use kerfbook::costing::{BatchState, Component};

use crate::compiled::{Compiled, compile_whole, component, text};

/// 8,700 are started and 7,500 completed in January; the others are so much percent worked. Labour is 1,000 hours.
fn department(materials: &str, labour: &str, overhead_per_hour: &str, worked: &str, then: &str) -> Compiled {
    compile_whole(&format!(
        "shop \"A department\"
    currency USD
    overhead {overhead_per_hour} per h
place bench \"Bench\"
    home
material blank \"Blank\"
    measured in ea
product drumstick \"Drumstick\"
step shaping \"Shaping\"
bought 2026-01-02
    8700 blank for {materials}
started 2026-01-02 batch S-1
    aims at 8700 drumstick
    used 8700 blank
continued 2026-01-20 batch S-1
    took 1000h shaping by \"the crew\" for {labour}
finished 2026-01-31 batch S-1
    made 7500 drumstick, the rest {worked}
{then}"
    ))
}

#[test]
fn proc_1_transfers_29775_and_leaves_2580_on_the_bench() {
    // Equivalent units 8,700 and 7,920; 1.17 and 2.80 each, which are no rounded figures.
    let book = department("10179.00", "15176.00", "7.00", "35%", "");
    let moved = book.output("S-1", "drumstick");
    assert_eq!(component(&moved, Component::Materials), "8775.00");
    let work = |vector: &kerfbook::costing::CostVector| {
        text(vector.get(Component::BoughtInTime).checked_add(vector.get(Component::Overhead)))
    };
    assert_eq!(work(&moved), "21000.00");
    assert_eq!(text(moved.full()), "29775.00");
    let batch = book.batch("S-1");
    assert_eq!(batch.state, BatchState::OnTheBench);
    assert_eq!(component(&batch.on_the_bench, Component::Materials), "1404.00");
    assert_eq!(work(&batch.on_the_bench), "1176.00");
    assert_eq!(text(batch.on_the_bench.full()), "2580.00");
    assert_eq!(text(batch.collected.full()), "32355.00");
}

#[test]
fn proc_3_loses_nothing_where_rounded_unit_costs_lose_10_20() {
    // Equivalent units 8,700 and 7,860. The publication rounds the units first, 3.43130 to 3.43: 7,500 x 4.62 is 34,650.00 and stays
    // 2,662.80, together 37,312.80 of 37,323.00. Exactly: 34,659.73 and 2,663.27.
    let book = department("10353.00", "17970.00", "9.00", "30%", "");
    let (moved, left) = (book.output("S-1", "drumstick"), &book.batch("S-1").on_the_bench);
    assert_eq!(moved.full().expect("small figures").to_fixed_text(2, 2), "34659.73");
    assert_eq!(left.full().expect("small figures").to_fixed_text(2, 2), "2663.27");
    assert_eq!(text(moved.full().and_then(|moved| moved.checked_add(left.full()?))), "37323.00");
    // Materials come out even: 1.19 a unit.
    assert_eq!(component(&moved, Component::Materials), "8925.00");
    assert_eq!(component(left, Component::Materials), "1428.00");
}

#[test]
fn proc_3_s_rest_is_in_the_pieces_that_are_finished_later() {
    // COMPUTED: all that was put in is in the 8,700 pieces.
    let book = department(
        "10353.00",
        "17970.00",
        "9.00",
        "30%",
        "finished 2026-02-05 batch S-1
    made 1200 drumstick
",
    );
    assert_eq!(book.on_hand("drumstick"), ("8700".to_owned(), "37323.00".to_owned()));
    assert!(book.batch("S-1").on_the_bench.is_zero());
}
