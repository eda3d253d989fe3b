//! Years at the edge: without a sale, without an entry, a loss, the first one, one that opens with other stock than the last
//! closed with, a leap day, and a consignee's sale on the last day.

use crate::year::{Year, shop, year_from};

const FOUR: [(&str, &str); 4] = [("accrual", "inventory"), ("cash", "inventory"), ("accrual", "supplies"), ("cash", "supplies")];

fn book(basis: &str, stock: &str, rest: &str) -> String {
    format!("{}{rest}", shop(&format!("    {basis} basis\n    stock kept as {stock}\n")))
}

/// The self-employment schedule, lines that are not zero.
fn schedule(year: &Year) -> String {
    let lines =
        year.figures().self_employment.iter().filter(|line| !line.cents.is_zero() && line.number != "7" && line.number != "9");
    lines.map(|line| format!("{} {}", line.number, line.cents.to_fixed_text(2, 2))).collect::<Vec<_>>().join(", ")
}

/// Stools for 60.00 in 2025; in 2026 oak, of which a part goes into a batch, a telephone bill, and no sale.
const NO_SALE: &str = "\
material oak \"Oak\"
    measured in bf
product stool \"Stool\"
expense phone \"Telephone\"
    form line 25
opened 2025-01-01
    2 stool for 60.00
bought 2026-02-01 from the-yard
    20 bf oak for 100.00
built 2026-03-01 batch A
    used 8 bf oak
    made 2 stool
paid 2026-04-01 to telco
    30.00 for phone
counted 2026-12-31
    12 bf oak
    4 stool
";

#[test]
fn a_year_without_a_sale_moves_its_purchases_to_the_closing_stock_and_loses_its_expenses() {
    for (basis, stock) in FOUR {
        let year = year_from(&book(basis, stock, NO_SALE), 2026);
        // 60 + 100 are all there at the end: oak 60, stools 60 + 40. Line 42 is nothing, the loss is the telephone.
        let lines = "25 30.00, 28 30.00, 29 -30.00, 31 -30.00, 35 60.00, 36 100.00, 40 160.00, 41 160.00";
        assert_eq!(year.lines().join(", "), lines, "{basis} {stock}");
        assert!(year.went_to().is_empty());
        assert_eq!(year.bridge(), ["expenses not in a margin -30", "net profit or loss -30"], "{basis} {stock}");
        // A loss is carried into the schedule as it is, and no tax comes of it.
        assert_eq!(schedule(&year), "2 -30.00, 3 -30.00, 4a -30.00, 4c -30.00");
        assert!(!year.open().contains(&"self-employment/wages-elsewhere"));
    }
}

#[test]
fn a_year_without_an_entry_keeps_its_stock() {
    let rest = "product stool \"Stool\"\nopened 2024-01-01\n    2 stool for 60.00\nnoted 2026-01-05 \"open again\"\n";
    for (basis, stock) in FOUR {
        let year = year_from(&book(basis, stock, rest), 2025);
        assert_eq!(year.lines().join(", "), "35 60.00, 40 60.00, 41 60.00", "{basis} {stock}");
        assert_eq!(year.bridge(), [""; 0]);
    }
}

#[test]
fn a_book_that_has_not_begun_says_so() {
    let year = year_from(&book("accrual", "inventory", &NO_SALE.replace("2025-01-01", "2026-01-01")), 2025);
    assert!(year.lines().is_empty(), "{:?}", year.lines());
    assert!(year.figures().notes.contains(&"the book has no entry in 2025".to_owned()), "{:?}", year.figures().notes);
}

/// One stool sold for less than the year's costs, beside a workshop at home and a saw under section 179.
const LOSS: &str = "\
product stool \"Stool\"
expense rent \"Booth rent\"
    form line 20b
tool saw \"Saw\"
    expensed under section 179
opened 2026-01-01
    2 stool for 60.00
bought 2026-02-01 from dealer
    1 saw for 500.00
sold 2026-03-01 via counter
    1 stool at 90.00
paid 2026-04-01 to landlord
    200.00 for rent
counted 2026-12-31
    1 stool
";

#[test]
fn in_a_loss_year_neither_the_home_workshop_nor_section_179_gives_anything() {
    for (basis, stock) in FOUR {
        let text = book(basis, &format!("{stock}\n    home workshop 200 sq ft, simplified"), LOSS);
        let year = year_from(&text, 2026);
        // 90 − 30 of goods − 200 of rent are −140. The workshop's 1,000 and the saw's 500 find no income; the first is lost, the
        // second carried.
        let lines = "1 90.00, 3 90.00, 4 30.00, 5 60.00, 7 60.00, 20b 200.00, 28 200.00, 29 -140.00, 31 -140.00, 35 60.00, 40 60.00, \
                     41 30.00, 42 30.00";
        assert_eq!(year.lines().join(", "), lines, "{basis} {stock}");
        let home = year.figures().home.as_ref().expect("a workshop");
        assert_eq!([home.before_limit, home.amount, home.excess].map(|sum| sum.to_string()), ["1000", "0", "1000"]);
        assert!(year.open().contains(&"section-179/income"), "{:?}", year.open());
        assert_eq!(schedule(&year), "2 -140.00, 3 -140.00, 4a -140.00, 4c -140.00");
    }
}

#[test]
fn the_first_year_of_a_shop_that_brought_nothing_begins_at_nothing() {
    // Begun in May. The workshop counts from 1 January of the book's first year unless it says from when: here from the first
    // day, eight months of 120 sq ft.
    let rest = "material oak \"Oak\"\n    measured in bf\nproduct stool \"Stool\"\nbought 2026-05-02 from the-yard\n    20 bf oak for 100.00\n\
                built 2026-05-20 batch A\n    used 10 bf oak\n    made 5 stool\nsold 2026-06-01 via counter\n    4 stool at 400.00\n\
                counted 2026-12-31\n    10 bf oak\n    1 stool\n";
    for (basis, stock) in FOUR {
        let text = book(basis, &format!("{stock}\n    home workshop 120 sq ft, simplified, from 2026-05-02"), rest);
        let year = year_from(&text, 2026);
        // Oak 50 and a stool 10 are left; four went for 40. 30: 5 × 120 × 8 ÷ 12.
        let lines = "1 1600.00, 3 1600.00, 4 40.00, 5 1560.00, 7 1560.00, 29 1560.00, 30 400.00, 31 1160.00, 36 100.00, 40 100.00, \
                     41 60.00, 42 40.00";
        assert_eq!(year.lines().join(", "), lines, "{basis} {stock}");
        // There is no year before: nothing is compared, and no change of method is asked about.
        assert!(year.cut_off("stock at start against last year's closing").is_empty());
        assert!(
            !year.open().iter().any(|name| name.starts_with("method/") || *name == "stock/opened-later"),
            "{:?}",
            year.open()
        );
    }
}

/// Ten board feet for 50.00 are there at the end of 2025.
const OAK: &str = "material oak \"Oak\"\n    measured in bf\nopened 2025-01-01\n    10 bf oak for 50.00\n";

/// What the cut-off list says of the two stocks.
fn start(year: &Year) -> String {
    year.cut_off("stock at start against last year's closing").join("; ")
}

#[test]
fn stock_that_is_opened_in_a_later_year_is_no_part_of_what_the_last_one_closed_with_and_is_asked_about() {
    let opened = "opened 2026-01-01\n    6 bf oak for 30.00\nnoted 2026-12-31 \"done\"\n";
    for (basis, stock) in FOUR {
        let text = book(basis, stock, &format!("{OAK}{opened}"));
        assert_eq!(year_from(&text, 2025).line("41"), "50.00");
        let year = year_from(&text, 2026);
        // Line 35 is 80, not last year's 50: the form wants that explained.
        assert_eq!(["35", "36", "41", "42"].map(|line| year.line(line)), ["80.00", "0.00", "80.00", "0.00"]);
        assert_eq!(start(&year), "80.00 at the start, 50.00 by last year's closing stock: different; the line says why");
        assert!(year.open().contains(&"stock/opened-again"), "{basis} {stock}: {:?}", year.open());
        let sums = &year.figures().line("35").expect("a line").sums;
        let sums: Vec<String> = sums.iter().map(|sum| format!("{} {}", sum.name, sum.amount)).collect();
        assert_eq!(sums, ["last year's closing stock 50", "opened beside last year's closing stock 30"]);
    }
}

#[test]
fn a_change_of_basis_or_costing_keeps_last_year_s_closing_stock_and_is_asked_about() {
    // Fifo: of 50.00 + 100.00 for twenty, the ten that are left cost 100.00; by the average they would be 75.00.
    let rest = |change: &str| {
        format!(
            "{OAK}product stool \"Stool\"\nbought 2025-11-20 from the-mill receipt \"M-1\"\n    10 bf oak for 100.00\n    unpaid\n\
             built 2025-12-01 batch A\n    used 10 bf oak\n    made 5 stool\nsold 2025-12-02 via counter\n    5 stool at 40.00\n\
             paid 2026-01-10 to the-mill\n    100.00 for receipt \"M-1\"\nchanged 2026-01-01 shop\n    {change}\nsold 2026-02-01 via counter\n    10 bf oak at 20.00\n"
        )
    };
    for (change, question) in [("cash basis", "method/basis"), ("costing average", "method/costing")] {
        let text = book("accrual", "inventory", &rest(change));
        let [old, new] = [2025, 2026].map(|year| year_from(&text, year));
        // The bill of 2025 counted by the basis of its day, so that its payment counts nowhere.
        assert_eq!(["35", "36", "41", "42"].map(|line| old.line(line)), ["50.00", "100.00", "100.00", "50.00"], "{change}");
        assert_eq!(["35", "36", "41", "42"].map(|line| new.line(line)), ["100.00", "0.00", "0.00", "100.00"], "{change}");
        assert_eq!(start(&new), "100.00 at the start, 100.00 by last year's closing stock: the same");
        assert!(new.open().contains(&question) && !old.open().contains(&question), "{:?}", new.open());
    }
    // From cash to accrual: what was not paid was no stock, and is none; its payment counts in the year that it is made.
    let text = book("cash", "inventory", &rest("accrual basis"));
    let [old, new] = [2025, 2026].map(|year| year_from(&text, year));
    assert_eq!(["35", "36", "41", "42"].map(|line| old.line(line)), ["50.00", "0.00", "0.00", "50.00"]);
    assert_eq!(["35", "36", "41", "42"].map(|line| new.line(line)), ["0.00", "100.00", "0.00", "100.00"]);
    assert!(new.open().contains(&"method/basis"));
}

/// Entries of 29 February 2024: a purchase, a drive of a hundred miles, a saw, a sale.
const LEAP: &str = "\
material oak \"Oak\"
    measured in bf
product stool \"Stool\"
tool saw \"Saw\"
    recovered over 7 years
    no bonus
bought 2024-02-29 from the-yard
    10 bf oak for 50.00
bought 2024-02-29 from dealer
    1 saw for 1000.00
built 2024-02-29 batch A
    used 10 bf oak
    made 5 stool
sold 2024-02-29 via counter
    4 stool at 500.00
drove 2024-02-29 100 mi
odometer 2024-01-01 1000 mi
odometer 2024-12-31 1100 mi
noted 2025-12-31 \"done\"
";

#[test]
fn the_29th_of_february_is_a_day_like_any_other() {
    for (basis, stock) in FOUR {
        let text = book(basis, stock, LEAP);
        let year = year_from(&text, 2024);
        // 100 mi at 0.67; a seventh-year table's first 14.29 % of 1,000; four of five stools for 40.
        let lines = "1 2000.00, 3 2000.00, 4 40.00, 5 1960.00, 7 1960.00, 9 67.00, 13 142.90, 28 209.90, 29 1750.10, 31 1750.10, \
                     36 50.00, 40 50.00, 41 10.00, 42 40.00";
        assert_eq!(year.lines().join(", "), lines, "{basis} {stock}");
        let saw = &year.figures().equipment[0];
        assert_eq!(saw.in_use_from.to_string(), "2024-02-29");
        // And 24.49 % in the second year, whatever day it has no twin of.
        assert_eq!(year_from(&text, 2025).line("13"), "244.90");
    }
}

#[test]
fn february_has_fifteen_days_from_the_15th_in_a_leap_year_and_from_the_14th_in_another() {
    // Eleven months of 120 sq ft at 5 over twelve are 550.00, ten are 500.00.
    let sold = |year: i32| {
        format!(
            "product stool \"Stool\"\nopened {year}-01-01\n    4 stool for 40.00\nsold {year}-03-01 via counter\n    4 stool at 500.00\n"
        )
    };
    for (year, from, amount) in [
        (2024, "2024-02-15", "550.00"),
        (2024, "2024-02-16", "500.00"),
        (2026, "2026-02-14", "550.00"),
        (2026, "2026-02-15", "500.00"),
    ] {
        let home = format!("inventory\n    home workshop 120 sq ft, simplified, from {from}");
        assert_eq!(year_from(&book("accrual", &home, &sold(year)), year).line("30"), amount, "{from}");
    }
}

/// Lines 1, 10 and 42 of both years for a stool of 30.00 that the gallery sells at 100.00 on 31 December and pays, less its 40 %,
/// on 10 January.
fn consigned(basis: &str, stock: &str, available: &str) -> [String; 2] {
    let rest = format!(
        "place gallery \"Shelf\"\nchannel gallery \"Consignment\"\n    consignment 40%\nproduct stool \"Stool\"\n\
         opened 2025-01-01 at gallery\n    2 stool for 60.00\nsold 2025-12-31 via gallery order \"G-1\"\n    1 stool at 100.00\n{available}\
         received 2026-01-10 from gallery\n    60.00 for order \"G-1\"\nnoted 2026-12-31 \"done\"\n"
    );
    [2025, 2026].map(|year| {
        let year = year_from(&book(basis, stock, &rest), year);
        // Whether the gallery is the shop's agent is asked of a sale that does not say when its money could be had.
        let asked = year.open().contains(&"gallery/agent");
        assert_eq!(asked, available.is_empty() && year.figures().year == 2025, "{available}");
        ["1", "10", "42", "31"].map(|line| year.line(line)).join(" ")
    })
}

#[test]
fn a_consignee_s_sale_of_the_last_day_counts_on_its_day_by_accrual() {
    for stock in ["inventory", "supplies"] {
        for available in ["", "    available 2025-12-31\n", "    available 2026-01-02\n"] {
            let of_both = consigned("accrual", stock, available);
            assert_eq!(of_both, ["100.00 40.00 30.00 30.00", "0.00 0.00 0.00 0.00"], "{stock} {available}");
        }
    }
}

#[test]
fn a_consignee_s_sale_of_the_last_day_counts_by_cash_when_it_is_paid_or_could_be_had_and_its_goods_when_they_went() {
    for stock in ["inventory", "supplies"] {
        let paid = ["0.00 0.00 30.00 -30.00", "100.00 40.00 0.00 60.00"];
        assert_eq!(consigned("cash", stock, ""), paid, "{stock}");
        let had = ["100.00 40.00 30.00 30.00", "0.00 0.00 0.00 0.00"];
        assert_eq!(consigned("cash", stock, "    available 2025-12-31\n"), had, "{stock}");
        // Had from 2 January: next year, though it is paid only on the 10th.
        assert_eq!(consigned("cash", stock, "    available 2026-01-02\n"), paid, "{stock}");
    }
}

/// Lines 1, 2 and 10 of both years for a stool sold for 100.00 on 28 December, less a fee of 10 %, that could be had on the 30th.
/// In January 20.00 are refunded, and 2.00 of the fee come back.
fn refunded_after_it_could_be_had(tax: &str, received: &str) -> [String; 2] {
    let rest = format!(
        "channel market \"A marketplace\"\n    fee 10% of goods\n    pays later\nproduct stool \"Stool\"\nopened 2025-01-01\n    2 stool for 60.00\n\
         sold 2025-12-28 via market order \"M-1\"\n    1 stool at 100.00\n    available 2025-12-30\n{}\
         returned 2026-01-05 order \"M-1\"\n    refunded 20.00\n    fee back 2.00\n{}{received}noted 2026-12-31 \"done\"\n",
        tax.replace('N', "6.00"),
        tax.replace('N', "1.20")
    );
    [2025, 2026].map(|year| {
        let year = year_from(&book("cash", "inventory", &rest), year);
        ["1", "2", "10"].map(|line| year.line(line)).join(" ")
    })
}

#[test]
fn a_refund_after_the_money_could_be_had_is_one_of_its_own_year_and_moves_nothing_of_the_last() {
    let expected = ["100.00 0.00 10.00", "0.00 20.00 -2.00"];
    let received = |money: &str| format!("received 2026-01-10 from market\n    {money} for order \"M-1\"\n");
    // 100 − 10 were to come, and 20 less 2 come off: 72 reach the shop. With tax of 6 % on both, 4.80 more.
    assert_eq!(refunded_after_it_could_be_had("", ""), expected);
    assert_eq!(refunded_after_it_could_be_had("", &received("72.00")), expected);
    assert_eq!(refunded_after_it_could_be_had("    sales-tax N\n", &received("76.80")), expected);
}

#[test]
fn an_order_of_two_entries_counts_each_when_it_could_be_had_or_was_paid() {
    // 100.00 of December that could be had on the 30th, 50.00 of January; a fee of 10 % on both; 135.00 come on 20 January, or
    // could be had on the 10th.
    for (later, received) in
        [("", "received 2026-01-20 from market\n    135.00 for order \"M-1\"\n"), ("    available 2026-01-10\n", "")]
    {
        let rest = format!(
            "channel market \"A marketplace\"\n    fee 10% of goods\n    pays later\nproduct stool \"Stool\"\nopened 2025-01-01\n    2 stool for 60.00\n\
             sold 2025-12-28 via market order \"M-1\"\n    1 stool at 100.00\n    available 2025-12-30\n\
             sold 2026-01-05 via market order \"M-1\"\n    1 stool at 50.00\n{later}{received}noted 2026-12-31 \"done\"\n"
        );
        let years = [2025, 2026].map(|year| {
            let year = year_from(&book("cash", "inventory", &rest), year);
            ["1", "10", "42"].map(|line| year.line(line)).join(" ")
        });
        assert_eq!(years, ["100.00 10.00 30.00", "50.00 5.00 30.00"]);
    }
}

#[test]
fn goods_of_an_open_bill_that_go_back_in_the_new_year_were_unpaid_when_the_old_one_ended() {
    // Ten for 100.00, 60.00 of it paid; in January four go back, which is all that was open. Six are sold.
    let rest = "product ark \"Ark\"\nbought 2025-12-02 from mill receipt \"M-1\"\n    10 ark at 10.00\n    paid 60.00 on 2025-12-02\n\
                sent-back 2026-01-10 to mill receipt \"M-1\"\n    4 ark, refunded 40.00\nsold 2026-03-01 via counter\n    6 ark at 40.00\n";
    for stock in ["inventory", "supplies"] {
        let [old, new] = [2025, 2026].map(|year| year_from(&book("cash", stock, rest), year));
        assert_eq!(["36", "41", "42"].map(|line| old.line(line)), ["60.00", "60.00", "0.00"], "{stock}");
        assert_eq!(["35", "36", "41", "42"].map(|line| new.line(line)), ["60.00", "0.00", "0.00", "60.00"], "{stock}");
        // On the last day of the old year 40.00 were owed.
        assert_eq!(old.cut_off("unpaid bills")[0], "owed by the shop to mill M-1, 2025-12-02: 40.00");
        assert_eq!(old.cut_off("bills dated December"), ["mill M-1, 2025-12-02: 100.00"]);
    }
}

#[test]
fn what_a_buyer_pays_after_a_refund_bears_the_channel_s_fee_of_the_sale_and_no_more() {
    // 100.00 less a fee of 10.00; 20.00 are refunded. Either nothing is paid by then: the buyer pays 80.00, and 70.00 reach the
    // shop. Or half is: then 30.00 and 25.00 are left.
    for (before, after) in
        [("", "80.00"), ("received 2026-02-03 from \"E. in Troy\" via market\n    50.00 for order \"M-1\"\n", "30.00")]
    {
        let rest = format!(
            "channel market \"A marketplace\"\n    fee 10% of goods\n    pays later\nproduct stool \"Stool\"\nopened 2026-01-01\n    2 stool for 60.00\n\
             sold 2026-02-01 via market order \"M-1\"\n    to \"E. in Troy\"\n    1 stool at 100.00\n{before}returned 2026-02-05 order \"M-1\"\n    \
             refunded 20.00\nreceived 2026-02-10 from \"E. in Troy\" via market\n    {after} for order \"M-1\"\n"
        );
        for (basis, income) in [("accrual", ["100.00", "20.00", "10.00"]), ("cash", ["80.00", "0.00", "10.00"])] {
            let year = year_from(&book(basis, "inventory", &rest), 2026);
            assert_eq!(["1", "2", "10"].map(|line| year.line(line)), income, "{basis} {after}");
            let open = year.cut_off("unpaid bills");
            assert!(open.is_empty(), "{open:?}");
        }
    }
}
