//! Job costing.
//!
//! JOB-1: OpenStax, *Principles of Accounting, Volume 2: Managerial Accounting*, sections 4.2 to 4.6 (modules m68124, m68125, m68004, m68005,
//! m68006), CC BY-NC-SA 4.0. VERIFIED. Overhead there is 2.50 for each dollar of labour; here an hour costs one dollar, so the dollars of
//! labour are typed as hours.

use kerfbook::costing::{BatchState, Component, Flow};
use kerfbook::units::Fixed6;

use crate::compiled::{compile, compile_whole, component, text};

const JOB_SHOP: &str = "shop \"JOB-1\"
    currency USD
    overhead 2.50 per h
place bench \"Bench\"
    home
channel counter \"Over the counter\"
step making \"Making\"
helper worker \"A worker\"
    contractor
    costs 1.00 per h
";

#[test]
fn job_1_the_sign_costs_931() {
    let book = compile_whole(&format!(
        "{JOB_SHOP}material vinyl \"Vinyl\"
    measured in ea
material black-ink \"Black ink\"
    measured in ea
material red-ink \"Red ink\"
    measured in ea
material gold-ink \"Gold ink\"
    measured in ea
material grommet \"Grommet\"
    measured in ea
material framing \"Framing wood\"
    measured in ft
product sign \"Sign\"
bought 2026-01-02
    1 vinyl for 300.00
    2 black-ink at 50.00
    1 red-ink for 60.00
    1 gold-ink for 60.00
    12 grommet at 10.00
    40 ft framing at 1.50
built 2026-01-03 batch MAC001
    used 1 vinyl, 2 black-ink, 1 red-ink, 1 gold-ink, 12 grommet, 40 ft framing
    took 66h making by worker
    made 1 sign
sold 2026-01-04 via counter
    1 sign at 2000.00
"
    ));
    let sign = book.output("MAC001", "sign");
    assert_eq!(component(&sign, Component::Materials), "700.00");
    assert_eq!(component(&sign, Component::BoughtInTime), "66.00");
    assert_eq!(component(&sign, Component::Overhead), "165.00");
    assert_eq!(text(sign.full()), "931.00");
    assert_eq!(book.flow(Flow::Sold), "931.00");
}

#[test]
fn job_1_the_month_rolls_forward_to_2462_sold_1725_finished_and_1025_on_the_bench() {
    let book = compile_whole(&format!(
        "{JOB_SHOP}material supplies \"Raw materials\"
    measured in kg
product swm505 \"Job SWM505\"
product por143 \"Job POR143\"
product mac001 \"Job MAC001\"
product trj441 \"Job TRJ441\"
opened 2026-01-01
    2500 kg supplies for 2500.00
    1 swm505 for 1531.00
    1000.00 on batch POR
bought 2026-01-02
    10500 kg supplies for 10500.00
built 2026-01-20 batch POR
    used 200 kg supplies
    took 150h making by worker
    made 1 por143
built 2026-01-21 batch MAC
    used 700 kg supplies
    took 66h making by worker
    made 1 mac001
started 2026-01-22 batch TRJ
    aims at 1 trj441
    used 500 kg supplies
    took 150h making by worker
sold 2026-01-30 via counter
    1 swm505 at 3500.00
    1 mac001 at 2000.00
"
    ));
    assert_eq!(book.flow(Flow::Sold), "2462.00");
    let manufactured = book.output("POR", "por143").full().and_then(|one| one.checked_add(book.output("MAC", "mac001").full()?));
    assert_eq!(text(manufactured), "2656.00");
    assert_eq!(book.on_hand("por143"), ("1".to_owned(), "1725.00".to_owned()));
    assert_eq!(book.on_hand("supplies").1, "11600.00");
    let used = book.costed.batches.iter().flat_map(|batch| &batch.used).map(|item| item.vector.full().expect("small figures"));
    assert_eq!(text(Fixed6::checked_sum(used)), "1400.00");
    assert_eq!(book.batch("TRJ").state, BatchState::OnTheBench);
    assert_eq!(text(book.batch("TRJ").on_the_bench.full()), "1025.00");
}

#[test]
fn wear_of_ten_minutes_at_one_per_forty_five_is_rounded_once() {
    // Worked by hand: 0.222222222 blade, then 0.777777778 for the next 35 minutes.
    let book = compile(
        "material blade \"Blade\"
    measured in ea
    as wear
step cutting \"Cutting\"
    wears 1 blade per 45 min
product kit \"Kit\"
bought 2026-01-02
    2 blade for 9.00
started 2026-01-03 batch W-1
    aims at 1 kit
    took 10m cutting
finished 2026-01-04 batch W-1
    took 35m cutting
    made 1 kit
",
    );
    let worn: Vec<String> = book.batch("W-1").used.iter().map(|item| item.quantity.to_string()).collect();
    assert_eq!(worn, ["0.222222222", "0.777777778"]);
    assert_eq!(text(book.output("W-1", "kit").full()), "4.50");
}
