//! The cut-off list of a year after which the book goes on.

use crate::year::{Year, shop, year_from};

/// Seven stools at 10 were there in 2024; one was sold and two were sent out in 2025; in 2026 all the others went.
fn stools() -> String {
    format!(
        "{}place gift-shop \"Gift shop\"\nproduct stool \"Stool\"\nopened 2024-06-01\n    7 stool for 70.00\n\
         sold 2025-03-02 via counter\n    1 stool at 30.00\nsent 2025-11-02 to gift-shop\n    2 stool\n\
         brought-back 2026-02-01 from gift-shop\n    2 stool\nsold 2026-02-02 via counter\n    6 stool at 30.00\n",
        shop("")
    )
}

fn rows<'y>(year: &'y Year, part: &str) -> &'y [String] {
    &year.figures().cut_off.iter().find(|one| one.name == part).expect("a part").rows
}

#[test]
fn goods_out_and_old_stock_are_those_of_the_year_s_end_though_the_book_goes_on() {
    let year = year_from(&stools(), 2025);
    // On 31 December 2025 six of the seven were left, two of them out.
    assert_eq!(rows(&year, "goods out by place"), ["Gift shop: 20.00 paid cost"]);
    let mut old = rows(&year, "old stock").to_vec();
    old.sort();
    assert_eq!(old, ["2 × Stool, of 2024-06-01: 20.00", "4 × Stool, of 2024-06-01: 40.00"]);
}

#[test]
fn what_left_after_the_year_s_end_is_on_the_list_of_neither_later_year() {
    let year = year_from(&stools(), 2026);
    assert_eq!([rows(&year, "goods out by place"), rows(&year, "old stock")], [&[] as &[String]; 2]);
}

#[test]
fn what_is_on_the_bench_is_what_was_put_there_less_what_was_taken() {
    // 100.00 of oak in ten toys, eight of them made with a royalty of 2.00 each, which never lay on the bench: two are left, 20.00.
    let text = format!(
        "{}material oak \"Oak\"\n    measured in bf\npattern duck \"Duck\"\n    royalty 2.00 per ea\nproduct toy \"Toy\"\n    pattern duck\n\
         bought 2026-01-02 from mill\n    10 bf oak at 10.00\nstarted 2026-12-01 batch T1\n    aims at 10 toy\n    used 10 bf oak\n\
         finished 2026-12-20 batch T1\n    made 8 toy\n",
        shop("")
    );
    let year = year_from(&text, 2026);
    assert_eq!(rows(&year, "batches on the bench"), ["T1, begun 2026-12-01: 20.00 paid cost"]);
}

#[test]
fn a_helper_is_reported_by_what_was_paid_in_the_year_not_by_what_was_earned() {
    // 2025: 700.00 earned, 600.00 of it paid; the other 100.00 and 200.00 at once come in 2026, below the limit of that year.
    let text = format!(
        "{}step cutting \"Cutting\"\nhelper sam \"Sam\"\n    contractor\n    costs 20.00 per h\n    paid later\nworked 2025-11-10\n    \
         35h cutting by sam\npaid 2025-12-20 to sam\n    600.00 for sam\npaid 2026-01-10 to sam\n    100.00 for sam\nworked 2026-02-10\n    \
         10h cutting by \"Lee\" for 200.00\n",
        shop("")
    );
    let over = "helpers over the reporting limit";
    assert_eq!(rows(&year_from(&text, 2025), over), ["sam: 600.00 paid, to be reported from 600.00"]);
    assert_eq!(rows(&year_from(&text, 2026), over), [""; 0]);
    let earned_only = text.replace("600.00 for sam", "599.00 for sam");
    assert_eq!(rows(&year_from(&earned_only, 2025), over), [""; 0]);
}

/// Oak for 40.00 was billed in December and half of it sold as a stool by the year's end: of 40.00 owed, 20.00 is in what is gone. Overhead of 2.00 an hour was put
/// on the three hours, 6.00, and rent of 10.00 was spent: 4.00 too little.
#[test]
fn unpaid_bills_say_what_of_them_is_gone_and_overhead_what_of_it_was_spread() {
    let book = |basis: &str| {
        format!(
            "{}material oak \"Oak\"\n    measured in bf\nproduct stool \"Stool\"\nstep cutting \"Cutting\"\nexpense rent \"Rent\"\n    form line 20b\n    counts as overhead\n\
             bought 2026-12-01 from the-yard\n    10 bf oak for 40.00\n    unpaid\npaid 2026-12-02 to landlord\n    10.00 for rent\n\
             built 2026-12-05 batch A\n    used 5 bf oak\n    took 3h cutting\n    made 1 stool\nsold 2026-12-06 via counter\n    1 stool at 90.00\n",
            shop(&format!("    {basis} basis\n    overhead 2.00 per h\n"))
        )
    };
    let rows = |basis: &str, part: &str| {
        let year = year_from(&book(basis), 2026);
        year.figures().cut_off.iter().find(|one| one.name == part).expect("a part").rows.clone()
    };
    assert_eq!(
        rows("cash", "unpaid bills"),
        [
            "owed by the shop to the-yard, 2026-12-01: 40.00",
            "of what the shop owes, 20.00 is in goods that were gone by then and waits for its payment",
        ]
    );
    assert_eq!(rows("accrual", "unpaid bills"), ["owed by the shop to the-yard, 2026-12-01: 40.00"]);
    let overhead = "6.00 of overhead was put on hours in the workshop's view, 10.00 was spent: 4.00 too little; none of it is in the form's stock";
    assert_eq!(rows("accrual", "overhead"), [overhead]);
}

#[test]
fn what_was_owed_when_the_book_began_is_listed_by_its_name() {
    let text = format!(
        "{}channel market \"Market\"\n    pays later\npattern plan \"Plan\"\n    royalty 0.50 per ea\n    paid later\nopened 2026-01-01\n    88.20 owed by market for order \"G-11\"\n    \
         40.00 owed to the-yard for receipt \"A-1100\"\n    3.00 owed to plan\nnoted 2026-12-31 \"done\"\n",
        shop("    accrual basis\n")
    );
    let year = year_from(&text, 2026);
    assert_eq!(
        rows(&year, "unpaid bills"),
        [
            "owed to the shop by Market G-11, 2026-01-01: 88.20",
            "owed by the shop to the-yard A-1100, 2026-01-01: 40.00",
            "owed by the shop to Plan, 2026-01-01: 3.00"
        ]
    );
}

#[test]
fn what_lowers_a_bill_on_the_last_day_of_the_year_lowers_what_is_owed_at_its_end_and_a_day_later_it_does_not() {
    // 40.00 of oak on 10 December, not paid; a quarter of it goes back for 10.00.
    let owed = |back: &str| {
        let text = format!(
            "{}material oak \"Oak\"\n    measured in bf\nbought 2025-12-10 from mill receipt \"M-1\"\n    4 bf oak for 40.00\n    unpaid\n\
             sent-back {back} to mill receipt \"M-1\"\n    1 bf oak, refunded 10.00\nnoted 2026-12-31 \"done\"\n",
            shop("    accrual basis\n")
        );
        rows(&year_from(&text, 2025), "unpaid bills").to_vec()
    };
    assert_eq!(owed("2025-12-31"), ["owed by the shop to mill M-1, 2025-12-10: 30.00"]);
    assert_eq!(owed("2026-01-01"), ["owed by the shop to mill M-1, 2025-12-10: 40.00"]);
}

#[test]
fn of_a_sale_that_counts_in_two_years_the_list_says_how_much_in_which() {
    let text = format!(
        "{}product stool \"Stool\"\nopened 2025-01-01\n    9 stool for 90.00\nsold 2025-12-28 via counter\n    2 stool for 180.00\n    \
         paid 60.00 on 2025-12-28\n    paid 100.00 on 2026-01-10\nsold 2025-12-29 via counter\n    1 stool for 90.00\n",
        shop("    cash basis\n")
    );
    let sales = rows(&year_from(&text, 2025), "sales of the last and first fifteen days").to_vec();
    assert!(sales[0].ends_with(": 180.00, 60.00 counts in 2025 and 100.00 counts in 2026 and 20.00 open"), "{sales:?}");
    assert!(sales[1].ends_with(": 90.00, counts in 2025"), "{sales:?}");
}
