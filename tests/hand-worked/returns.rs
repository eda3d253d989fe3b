//! What comes back: of several orders at once, with fees of deposits, and more than a year sold.

use kerfbook::reports::{PaysGroup, PaysReport, Period, report_pays};

use crate::compiled::{Compiled, compile_texts};
use crate::year::{shop, year_from};

fn compiled(text: &str) -> Compiled {
    let text = format!("{}{text}", shop("    owner time 20.00 per h\n"));
    let compiled = compile_texts(&[("book.kerf", &text)]);
    let told: Vec<_> = compiled.found.iter().map(|one| format!("{} {}", one.code, one.message)).collect();
    assert!(!compiled.has_mistakes(), "{told:#?}");
    compiled
}

fn pays(text: &str, period: Period) -> PaysReport {
    let compiled = compiled(text);
    report_pays(&compiled.book, &compiled.log, &compiled.costed, period, &|_| None, &[]).expect("small figures")
}

fn product<'r>(report: &'r PaysReport, name: &str) -> &'r PaysGroup {
    report.groups.iter().find(|group| group.name == name).expect("a group")
}

#[test]
fn what_comes_back_of_two_orders_is_shared_by_what_is_refunded_for_the_goods_of_each() {
    // Fees of 10.00 and 5.00. Of 150.00 refunded two thirds are for the ark: 10.00 of the fees and 6.00 of the shipping are its.
    let report = pays(
        "product ark \"Ark\"\nproduct bee \"Bee\"\nchannel web \"Web\"\n    fee 10% of goods\nopened 2026-01-01\n    4 ark for 40.00\n    \
         4 bee for 40.00\nsold 2026-02-01 via web order \"O-1\"\n    1 ark at 100.00\n    shipping 6.00\nsold 2026-02-02 via web order \"O-2\"\n    \
         1 bee at 50.00\n    shipping 3.00\nreturned 2026-02-20 via web\n    1 ark, refunded 100.00, back to stock\n    \
         1 bee, refunded 50.00, back to stock\n    shipping 9.00\n    fee back 15.00\n",
        Period::default(),
    );
    for name in ["ark", "bee"] {
        let group = product(&report, name);
        assert_eq!([group.sums.fees.as_str(), &group.sums.revenue, &group.sums.paid_margin], ["0.00"; 3], "{name}");
    }
}

#[test]
fn pieces_of_one_line_that_come_from_two_orders_share_its_refund() {
    for fate in ["back to stock", "scrapped", "left with buyer"] {
        let compiled = compiled(&format!(
            "product ark \"Ark\"\nchannel web \"Web\"\n    pays later\nopened 2026-01-01\n    4 ark for 40.00\n\
             sold 2026-02-01 via web order \"O-1\"\n    2 ark at 30.00\nsold 2026-02-02 via web order \"O-2\"\n    1 ark at 30.00\n\
             returned 2026-02-20 via web\n    2 ark, refunded 60.00, {fate}\n"
        ));
        // One of each order: of the first 30.00 is still owed, of the second nothing.
        let owed: Vec<String> = compiled.costed.bills.iter().map(|bill| bill.total.to_string()).collect();
        assert_eq!(owed, ["30", "0"], "{fate}");
    }
}

#[test]
fn the_fee_of_a_deposit_may_come_back_with_the_order() {
    let report = pays(
        "product ark \"Ark\"\nchannel web \"Web\"\n    fee 4% of total\nopened 2026-01-01\n    4 ark for 40.00\n\
         received 2026-02-01 from ada via web\n    50.00 for order \"W-1\"\nsold 2026-02-10 via web order \"W-1\"\n    1 ark at 100.00\n\
         returned 2026-02-20 order \"W-1\"\n    1 ark, refunded 100.00, back to stock\n    fee back 4.00\n",
        Period::default(),
    );
    assert_eq!([product(&report, "ark").sums.fees.as_str(), &product(&report, "ark").sums.revenue], ["0.00"; 2]);
}

#[test]
fn more_back_than_sold_earns_nothing_an_hour() {
    let report = pays(
        "product ark \"Ark\"\nstep cutting \"Cutting\"\nbuilt 2025-11-10 batch A1\n    took 2h cutting\n    made 2 ark\n\
         sold 2025-12-01 via counter order \"O-1\"\n    1 ark at 60.00\nreturned 2026-02-01 order \"O-1\"\n    1 ark, refunded 60.00, back to stock\n",
        Period::year(2026),
    );
    assert_eq!([&report.totals.sums.paid_margin, &report.totals.sums.revenue], ["-60.00"; 2]);
    assert_eq!([&report.totals.earned_per_hour, &product(&report, "ark").earned_per_hour], [&None; 2]);
}

#[test]
fn the_postage_and_the_packing_of_goods_sent_out_are_the_consignee_s() {
    let report = pays(
        "place gift-shop \"Gift shop\"\nproduct ark \"Ark\"\nmaterial carton \"Carton\"\n    measured in ea\n    as packing\n\
         channel gift-shop \"Gift shop\"\n    consignment 40%\nopened 2026-01-01\n    4 ark for 40.00\n    5 carton for 5.00\n\
         sent 2026-01-10 to gift-shop\n    2 ark\n    packed with 1 carton\n    postage 7.85\nsold 2026-02-01 via gift-shop\n    1 ark at 50.00\n",
        Period::default(),
    );
    let channel = report.groups.iter().find(|group| group.by == "channel").expect("a channel");
    assert_eq!([channel.name.as_str(), &channel.sums.postage, &channel.sums.packing], ["gift-shop", "7.85", "1.00"]);
}

#[test]
fn what_comes_back_of_a_named_lot_is_of_that_lot_though_others_went_after_it() {
    // Two of the old lot at 10.00 and two of the new at 30.00 were sold together; the one that comes back is of the old.
    let compiled = compiled(
        "product ark \"Ark\"\nopened 2026-01-01\n    2 ark for 20.00, lot OLD\n    2 ark for 60.00, lot NEW\n\
         sold 2026-02-01 via counter order \"O-1\"\n    4 ark at 60.00\n\
         returned 2026-02-10 order \"O-1\"\n    1 ark lot OLD, refunded 60.00, back to stock\n",
    );
    let here: Vec<_> = compiled.costed.stock.iter().filter(|lot| !lot.quantity.is_zero()).collect();
    let shown: Vec<String> =
        here.iter().map(|lot| format!("{} for {}", lot.quantity, lot.vector.paid().expect("fits"))).collect();
    assert_eq!(shown, ["1 for 10"]);
}

#[test]
fn what_is_shared_between_orders_is_shared_in_cents() {
    // 10.00 of shipping over three orders of the same goods: 3.34, 3.33 and 3.33, the first that is touched first (the last sale).
    let compiled = compiled(
        "product ark \"Ark\"\nchannel web \"Web\"\n    pays later\nopened 2026-01-01\n    4 ark for 40.00\n\
         sold 2026-02-01 via web order \"O-1\"\n    1 ark at 30.00\n    shipping 5.00\n\
         sold 2026-02-02 via web order \"O-2\"\n    1 ark at 30.00\n    shipping 5.00\n\
         sold 2026-02-03 via web order \"O-3\"\n    1 ark at 30.00\n    shipping 5.00\n\
         returned 2026-02-20 via web\n    3 ark, refunded 30.00, back to stock\n    shipping 10.00\n",
    );
    // Of each 35.00 was owed, and 10.00 for the ark go back too.
    let owed: Vec<String> = compiled.costed.bills.iter().map(|bill| bill.total.to_string()).collect();
    assert_eq!(owed, ["21.67", "21.67", "21.66"]);
}

#[test]
fn a_sale_whose_goods_are_wholly_discounted_still_charges_its_shipping() {
    let report = pays(
        "product ark \"Ark\"\nchannel web \"Web\"\n    pays later\nopened 2026-01-01\n    4 ark for 40.00\n\
         sold 2026-02-01 via web order \"O-1\"\n    1 ark at 30.00\n    discount 30.00\n    shipping 5.00\n",
        Period::default(),
    );
    // The shipping is the revenue; the ark cost 10.00.
    let ark = product(&report, "ark");
    assert_eq!([ark.sums.revenue.as_str(), &ark.sums.paid_cost, &ark.sums.paid_margin], ["5.00", "10.00", "-5.00"]);
}

/// A shop in `ny` that also sells in `vt`: an order of two stools bears 16.80 for ny and 5.00 for vt.
fn taxed(sale: &str, back: &str) -> String {
    format!(
        "{}product stool \"Stool\"\nopened 2026-01-01\n    9 stool for 90.00\nsold 2026-02-01 via counter order \"B\"\n    2 stool at 100.00\n{sale}\
         returned 2026-03-05 order \"B\"\n    1 stool, refunded 100.00, back to stock\n{back}",
        shop("    accrual basis\n    sales-tax to ny\n")
    )
}

fn owed(text: &str) -> Vec<String> {
    let year = year_from(text, 2026);
    let rows = year.figures().sales_tax.iter().filter(|row| row.period == "2026").map(|row| format!("{} {}", row.to, row.owed));
    rows.collect()
}

const TWO_STATES: &str = "    sales-tax 16.80\n    sales-tax 5.00 to vt\n";

/// 8.40 and 2.50 go back, each from where it says: 8.40 and 2.50 stay owed. In the other order of lines it is the same.
#[test]
fn sales_tax_that_goes_back_of_two_accounts_leaves_each_its_own() {
    let lines = ["    sales-tax 8.40 to ny\n", "    sales-tax 2.50 to vt\n"];
    assert_eq!(owed(&taxed(TWO_STATES, &lines.concat())), ["ny 8.4", "vt 2.5"]);
    assert_eq!(owed(&taxed(TWO_STATES, &format!("{}{}", lines[1], lines[0]))), ["ny 8.4", "vt 2.5"]);
}

/// A sum that says nothing goes back to where the order's tax went: all of it to vt where ny had none; 10.90 of 16.80 and 5.00 is half of each.
#[test]
fn sales_tax_that_goes_back_without_a_name_comes_from_where_the_orders_tax_went() {
    assert_eq!(owed(&taxed("    sales-tax 16.00 to vt\n", "    sales-tax 8.00\n")), ["vt 8"]);
    assert_eq!(owed(&taxed(TWO_STATES, "    sales-tax 10.90\n")), ["ny 8.4", "vt 2.5"]);
    // Where one line says vt, the other is what is left: ny's.
    assert_eq!(owed(&taxed(TWO_STATES, "    sales-tax 8.40\n    sales-tax 5.00 to vt\n")), ["ny 8.4", "vt 0"]);
}

#[test]
fn no_more_sales_tax_goes_back_of_an_account_than_came() {
    let told = |sale: &str, back: &str| {
        let found = compile_texts(&[("book.kerf", &taxed(sale, back))]).found;
        found.iter().map(|one| one.code.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(told("    sales-tax 16.00 to vt\n", "    sales-tax 8.00 to ny\n"), ["K410"]);
    assert_eq!(told(TWO_STATES, "    sales-tax 5.01 to vt\n"), ["K410"]);
    assert!(told(TWO_STATES, "    sales-tax 5.00 to vt\n").is_empty());
}
