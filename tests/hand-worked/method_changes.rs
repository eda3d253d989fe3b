//! What changes from one year to the next, or within one: how stock is kept, and where overhead comes from.

use crate::compiled::{Compiled, compile_texts};
use crate::year::{Year, shop, year_from};

/// Oak for 60.00, and five hours by a helper for 100.00 that are paid in the next year, in stools that are sold there.
fn stools_over_a_change(before: &str, after: &str, year: i32) -> Year {
    let text = format!(
        "{}step cutting \"Cutting\"\nmaterial oak \"Oak\"\n    measured in bf\nproduct stool \"Stool\"\nhelper sam \"Sam\"\n    contractor\n    \
         costs 20.00 per h\n    paid later\nchanged 2026-01-01 shop\n    stock kept as {after}\nbought 2025-11-01 from mill receipt \"M-1\"\n    \
         10 bf oak at 6.00\nbuilt 2025-11-10 batch A1\n    used 10 bf oak\n    took 5h cutting by sam\n    made 5 stool\n\
         paid 2026-01-10 to sam\n    100.00 for sam\nsold 2026-03-01 via counter\n    5 stool at 60.00\n",
        shop(&format!("    cash basis\n    stock kept as {before}\n"))
    );
    year_from(&text, year)
}

fn lines<const N: usize>(year: &Year, numbers: [&str; N]) -> [String; N] {
    numbers.map(|number| year.line(number))
}

#[test]
fn unpaid_hours_in_stock_count_once_when_inventory_becomes_supplies() {
    let old = stools_over_a_change("inventory", "supplies", 2025);
    // The oak waits; the hours are in the stock and not paid.
    assert_eq!(lines(&old, ["36", "37", "41", "42"]), ["60.00", "0.00", "60.00", "0.00"]);
    let new = stools_over_a_change("inventory", "supplies", 2026);
    // The oak goes with the stools; the hours are contract labor when they are paid.
    assert_eq!(lines(&new, ["35", "37", "41", "42", "11"]), ["60.00", "0.00", "0.00", "60.00", "100.00"]);
    assert_eq!(new.figures().cost_of_goods.method_change.to_string(), "0");
}

#[test]
fn unpaid_hours_in_stock_count_once_when_supplies_become_inventory() {
    let old = stools_over_a_change("supplies", "inventory", 2025);
    assert_eq!(lines(&old, ["36", "11", "41", "42"]), ["60.00", "0.00", "60.00", "0.00"]);
    let new = stools_over_a_change("supplies", "inventory", 2026);
    // The hours are paid in 2026 and gone in 2026: labor of the cost of goods.
    assert_eq!(lines(&new, ["35", "37", "41", "42", "11"]), ["60.00", "100.00", "0.00", "160.00", "0.00"]);
}

#[test]
fn overhead_that_comes_from_expenses_from_a_day_on_is_its_part_of_the_year_s_hours() {
    // 300.00 of rent, 80 % of it the shop's: 240.00 on six direct hours, 40.00 an hour. The first four were applied at 10.00.
    let text = format!(
        "{}step cutting \"Cutting\"\nproduct stool \"Stool\"\nexpense rent \"Rent\"\n    form line 20b\n    business use 80%\n    \
         counts as overhead\nchanged 2026-02-15 shop\n    overhead from expenses\npaid 2026-01-15 to landlord\n    300.00 for rent\n\
         built 2026-02-01 batch C1\n    took 4h cutting\n    made 4 stool\nbuilt 2026-03-01 batch C2\n    took 2h cutting\n    made 2 stool\n",
        shop("    accrual basis\n    overhead 10.00 per h\n")
    );
    let of_batches = |compiled: &Compiled| -> Vec<String> {
        compiled.costed.batches.iter().map(|batch| batch.collected.full().expect("fits").to_string()).collect()
    };
    assert_eq!(of_batches(&year_from(&text, 2026).compiled), ["40", "80"]);
    // It is the same in any year, one that no computer counts from too.
    assert_eq!(of_batches(&compile_texts(&[("book.kerf", &text.replace("2026-", "1966-"))])), ["40", "80"]);
}
