//! Variances of a batch against its recipe.
//!
//! OpenStax, *Principles of Accounting, Volume 2: Managerial Accounting*, sections 8.2 to 8.4 (repository
//! openstax/osbooks-principles-accounting-bundle, modules m68071, m68072 and m71412, commit 00903c67), CC BY-NC-SA 4.0. VERIFIED. There a
//! standard price is set; here it is what was paid last before the batch (costing rule 12), so a purchase at the standard price stands
//! before it, and what the batch uses, first in first out, is of the purchase before that. The standard rate of an hour is the owner's.

use std::collections::BTreeMap;

use kerfbook::costing::{StandardPrices, variances_of};

use crate::compiled::{compile_whole, text};

/// The variances of a batch by name, and what they are between. What is zero is not there.
fn variances(shop: &str, recipe: &str, stock: &str, batch: &str) -> (BTreeMap<String, String>, String) {
    let book = compile_whole(&format!(
        "shop \"Standards\"
    currency USD
{shop}place bench \"Bench\"
    home
step filling \"Filling\"
material stuff \"Materials\"
    measured in oz
product piece \"Piece\"
{recipe}{stock}built 2026-05-31 batch MAY
{batch}"
    ));
    let prices = StandardPrices::of(&book.costed).expect("small figures");
    let found = variances_of(&book.book, book.batch("MAY"), &prices).expect("small figures").expect("a recipe");
    let difference = found.actual.checked_sub(found.allowed);
    let sums = found.variances.into_iter().map(|row| (row.name, text(Some(row.amount))));
    (sums.collect(), text(difference))
}

fn named(rows: &[(&str, &str)]) -> BTreeMap<String, String> {
    rows.iter().map(|(name, sum)| ((*name).to_owned(), (*sum).to_owned())).collect()
}

#[test]
fn biglow_s_material_is_890_favourable_in_price_and_850_unfavourable_in_quantity() {
    // 11,000 bottles at 8 oz of 0.85; 89,000 oz bought for 74,760 and used.
    let (found, sum) = variances(
        "",
        "    needs 8 oz stuff\n",
        "bought 2026-05-01\n    89000 oz stuff for 74760.00\nbought 2026-05-02\n    1 oz stuff for 0.85\n",
        "    used 89000 oz stuff\n    made 11000 piece\n",
    );
    assert_eq!(found, named(&[("material price", "-890.00"), ("material quantity", "850.00")]));
    assert_eq!(sum, "-40.00");
}

#[test]
fn connie_s_material_is_1_00_unfavourable_in_price_and_1_75_in_quantity() {
    // A box at 0.25 lb of 7.00; 0.50 lb at 9.00 used.
    let (found, sum) = variances(
        "",
        "    needs 0.25 lb stuff\n",
        "bought 2026-05-01\n    0.50 lb stuff at 9.00\nbought 2026-05-02\n    1 lb stuff for 7.00\n",
        "    used 0.50 lb stuff\n    made 1 piece\n",
    );
    assert_eq!(found, named(&[("material price", "1.00"), ("material quantity", "1.75")]));
    assert_eq!(sum, "2.75");
}

#[test]
fn biglow_s_labour_is_5600_unfavourable_in_rate_and_17500_favourable_in_time() {
    // 11,000 bottles at 1.5 h of 35.00; 16,000 h for 565,600. The picture's text also prints 5,650 and calls the 11,900 unfavourable: slips.
    let (found, sum) = variances(
        "    owner time 35.00 per h\n",
        "    takes 90 min filling\n",
        "",
        "    took 16000h filling by \"the crew\" for 565600.00\n    made 11000 piece\n",
    );
    assert_eq!(found, named(&[("time rate", "5600.00"), ("efficiency at filling", "-17500.00")]));
    assert_eq!(sum, "-11900.00");
}

#[test]
fn connie_s_labour_is_0_30_unfavourable_in_rate_and_0_80_in_time() {
    // A box at 0.10 h of 8.00; 0.20 h at 9.50.
    let (found, sum) = variances(
        "    owner time 8.00 per h\n",
        "    takes 6 min filling\n",
        "",
        "    took 12m filling by \"a worker\" at 9.50 per h\n    made 1 piece\n",
    );
    assert_eq!(found, named(&[("time rate", "0.30"), ("efficiency at filling", "0.80")]));
    assert_eq!(sum, "1.10");
}

#[test]
fn connie_s_overhead_efficiency_is_1000_unfavourable() {
    // 1,000 boxes at 2 h of 2.00; 2,500 h worked. What overhead really cost is no batch's matter, but the year's (`overhead.rs`).
    let (found, sum) =
        variances("    overhead 2.00 per h\n", "    takes 2h filling\n", "", "    took 2500h filling\n    made 1000 piece\n");
    assert_eq!(found, named(&[("overhead efficiency", "1000.00")]));
    assert_eq!(sum, "1000.00");
}
