//! Overhead: applied by a rate, and what it really was.
//!
//! JOB-1 and Kraken Boardsports: OpenStax, *Principles of Accounting, Volume 2: Managerial Accounting*, sections 4.2 to 4.6 (modules m68124 to
//! m68006), CC BY-NC-SA 4.0. VERIFIED. The publication closes the difference into the cost of goods sold; these books keep it as one
//! line of the full view (what the form takes is what was paid), so no sold piece changes.
//! Absorption and variable costing: the same volume, section 6.5 (module m68139). VERIFIED.

use kerfbook::costing::{Component, Flow};

use crate::compiled::{Compiled, compile_whole, component, text};

/// A year's direct hours in one batch, and expenses that count as overhead.
fn year(rate: &str, hours: &str, expenses: &str) -> Compiled {
    compile_whole(&format!(
        "shop \"A year\"
    currency USD
    overhead {rate} per h
place bench \"Bench\"
    home
step making \"Making\"
product sign \"Sign\"
expense workshop-costs \"Costs of the workshop\"
    counts as overhead
    business use 100%
built 2026-06-30 batch YEAR
    took {hours}h making
    made 1 sign
paid 2026-12-31 to \"several\"
{expenses}"
    ))
}

#[test]
fn job_1_under_applies_6500() {
    // The rate: estimated 250,000 over 100,000 dollars of labour, typed as hours of one dollar.
    let book = year("2.50", "100000", "    256500.00 for workshop-costs\n");
    assert_eq!(book.flow(Flow::Overhead), "250000.00");
    assert_eq!(book.pays().unassigned.overhead_under_applied, "6500.00");
}

#[test]
fn job_1_over_applies_2000() {
    let book = year("2.50", "100000", "    248000.00 for workshop-costs\n");
    assert_eq!(book.flow(Flow::Overhead), "250000.00");
    assert_eq!(book.pays().unassigned.overhead_under_applied, "-2000.00");
}

#[test]
fn kraken_applies_209040_of_209250() {
    let actual = ["25000", "31750", "50000", "17500", "85000"].map(|sum| format!("    {sum}.00 for workshop-costs\n")).concat();
    let book = year("33.50", "6240", &actual);
    assert_eq!(book.flow(Flow::Overhead), "209040.00");
    assert_eq!(component(&book.output("YEAR", "sign"), Component::Overhead), "209040.00");
    assert_eq!(book.pays().unassigned.overhead_under_applied, "210.00");
}

#[test]
fn absorption_and_variable_costing_are_the_full_and_the_paid_view() {
    // 10,000 made at 3 + 15 + 7, fixed overhead 12,000; 8,000 sold at 33. Here fixed overhead is applied by the hour, 1.20 an hour and
    // a piece an hour; the variable part is bought. The rows of income are before the fixed overhead for variable costing.
    let book = compile_whole(
        "shop \"Two views\"
    currency USD
    overhead 1.20 per h
place bench \"Bench\"
    home
channel counter \"Over the counter\"
step making \"Making\"
material stuff \"Materials\"
    measured in ea
material power \"Variable overhead\"
    measured in ea
product unit \"Unit\"
expense fixed-costs \"Fixed overhead\"
    counts as overhead
bought 2026-01-02
    10000 stuff at 3.00
    10000 power at 7.00
paid 2026-01-31 to \"several\"
    12000.00 for fixed-costs
built 2026-01-31 batch B-1
    used 10000 stuff, 10000 power
    took 10000h making by \"the crew\" for 150000.00
    made 10000 unit
sold 2026-02-28 via counter
    8000 unit at 33.00
",
    );
    let made = book.output("B-1", "unit");
    assert_eq!((text(made.paid()), text(made.full())), ("250000.00".to_owned(), "262000.00".to_owned()));
    assert_eq!(book.flow(Flow::Sold), "209600.00");
    assert_eq!(book.on_hand("unit"), ("2000".to_owned(), "52400.00".to_owned()));
    let left = book.costed.stock.iter().find_map(|lot| lot.vector.paid()).map(|paid| paid.to_fixed_text(2, 6));
    assert_eq!(left.as_deref(), Some("50000.00"));
    let pays = book.group("product", "unit");
    assert_eq!((pays.sums.paid_cost.as_str(), pays.sums.overhead.as_str()), ("200000.00", "9600.00"));
    // Absorption income 54,400 is the full margin, as all overhead was applied; variable income 52,000 is the paid margin less 12,000.
    assert_eq!(pays.sums.full_margin, "54400.00");
    assert_eq!(pays.sums.paid_margin, "64000.00");
    assert_eq!(book.pays().unassigned.overhead_under_applied, "0.00");
}
