//! Two years under each of the four combinations, with bills, payouts, deposits, a refund, a helper and a batch that straddle
//! both ends of a year.

use crate::year::{Year, shop, year_from};

/// Both years, and of a third the payments of what was open.
///
/// What goods cost. Batch S-0 lay on the bench with 50.00 when 2025 began; an hour of Sam's (20.00) and a blade (5.00) finish
/// five stools. Batch A: 20 bf of oak of the opening 100.00, two of Sam's hours 40.00, two blades 10.00, ten stools. Either way a
/// stool is 10.00 of material + 4.00 hired + 1.00 wear + 1.00 royalty = 16.00.
/// Batch B, begun in December 2025: 40 bf of Y-1 (100 bf for 500.00 and 100.00 of delivery: 5.00 + 1.00) 240.00, two of Sam's
/// hours 40.00, two blades 10.00: 290.00 on the bench. In January two more hours and blades, and ten stools: 20.00 + 4.00
/// delivery + 8.00 hired + 2.00 wear + 1.00 royalty = 35.00.
/// Batch D, begun in December 2026: 20 bf of Y-1 120.00, an hour of Sam's 20.00, a blade 5.00: 145.00.
///
/// Stools: of the opening four of 20.00, all sold over the counter. Of S-0 five, all sold as M-1. Of A ten: M-2 four, M-3 two,
/// the gallery has two and sells one on 31 December; of M-2 one comes back in January; C-1 takes two, the counter one, one stays
/// at the gallery. Of B ten: the counter two, M-4 four, four are left.
///
/// What is not paid at the end of 2025: half of Y-1 300.00; the blades 50.00; of Sam's 100.00 the first 30.00 are paid (S-0 and a
/// quarter of A), so 30.00 in A and 40.00 in B are not; the royalties of S-0 and A 15.00. So of a stool of S-0 2.00 is not paid
/// (wear, royalty), of one of A 5.00 (3.00 hired, wear, royalty), and of B on the bench 120.00 of oak, 40.00 hired, 10.00 wear:
/// 170.00. At the end of 2026: Y-2 300.00, Sam's hour in D 20.00, the royalty of B, 1.00 a stool.
const BOOK: &str = r#"
place gallery "Shelf at the gallery"
step cutting "Cutting"
    wears 1 blade per 60 min
material oak "Oak"
    measured in bf
material blade "Blade"
    measured in ea
    as wear
pattern stool-plan "Plan of the stool"
    royalty 1.00 per ea
    paid later
product stool "Stool"
    pattern stool-plan
helper sam "Sam"
    contractor
    costs 20.00 per h
    paid later
channel market "A marketplace"
    fee 10% of total
    pays later
channel gallery "Consignment at the gallery"
    consignment 40%
expense phone "Telephone"
    form line 25
opened 2025-01-01
    20 bf oak for 100.00
    4 stool for 80.00
    50.00 on batch S-0
    60.00 owed by market for order "M-0"
    40.00 owed to the-yard for receipt "Y-0"
bought 2025-01-05 from blade-shop receipt "B-1"
    10 blade for 50.00
    unpaid
received 2025-01-10 from market
    60.00 for order "M-0"
paid 2025-01-12 to the-yard
    40.00 for receipt "Y-0"
finished 2025-01-20 batch S-0
    took 1h cutting by sam
    made 5 stool
built 2025-03-01 batch A
    used 20 bf oak
    took 2h cutting by sam
    made 10 stool
sold 2025-04-01 via counter
    4 stool at 50.00
sold 2025-06-01 via market order "M-1"
    5 stool at 60.00
received 2025-06-20 from market
    270.00 for order "M-1"
sent 2025-11-01 to gallery
    2 stool
bought 2025-11-20 from the-yard receipt "Y-1"
    100 bf oak at 5.00
    freight 100.00
    paid 300.00 on 2025-11-20
received 2025-12-10 from ada
    50.00 for order "C-1"
paid 2025-12-15 to telco receipt "T-1"
    30.00 for phone
    unpaid
paid 2025-12-20 to sam
    30.00 for sam
started 2025-12-20 batch B
    aims at 10 stool
    used 40 bf oak
    took 2h cutting by sam
sold 2025-12-28 via market order "M-2"
    4 stool at 60.00
sold 2025-12-29 via market order "M-3"
    2 stool at 60.00
sold 2025-12-31 via gallery order "G-1"
    1 stool at 80.00
counted 2025-12-31 at bench
    2 stool
counted 2025-12-31 at gallery
    1 stool

returned 2026-01-03 order "M-3"
    refunded 20.00 "a scratch"
received 2026-01-05 from market
    216.00 for order "M-2"
paid 2026-01-08 to telco
    30.00 for receipt "T-1"
returned 2026-01-10 order "M-2"
    1 stool, refunded 60.00, back to stock
received 2026-01-10 from gallery
    48.00 for order "G-1"
received 2026-01-15 from market
    88.00 for order "M-3"
paid 2026-01-15 to the-yard
    300.00 for receipt "Y-1"
paid 2026-01-20 to sam
    70.00 for sam
paid 2026-01-20 to "the plan's maker"
    15.00 for stool-plan
finished 2026-01-25 batch B
    took 2h cutting by sam
    made 10 stool
paid 2026-02-01 to blade-shop
    50.00 for receipt "B-1"
sold 2026-02-01 via counter order "C-1"
    to ada
    2 stool at 60.00
paid 2026-02-28 to sam
    40.00 for sam
sold 2026-03-01 via counter
    3 stool at 60.00
bought 2026-11-25 from the-yard receipt "Y-2"
    50 bf oak for 300.00
    unpaid
received 2026-12-12 from bea
    40.00 for order "C-2"
paid 2026-12-15 to telco receipt "T-2"
    35.00 for phone
    unpaid
started 2026-12-21 batch D
    aims at 5 stool
    used 20 bf oak
    took 1h cutting by sam
sold 2026-12-30 via market order "M-4"
    4 stool at 60.00
counted 2026-12-31 at bench
    4 stool
counted 2026-12-31 at gallery
    1 stool

returned 2027-01-03 order "M-4"
    refunded 20.00 "late"
received 2027-01-06 from market
    196.00 for order "M-4"
paid 2027-01-08 to telco
    35.00 for receipt "T-2"
paid 2027-01-15 to the-yard
    300.00 for receipt "Y-2"
paid 2027-01-20 to sam
    20.00 for sam
paid 2027-01-20 to "the plan's maker"
    10.00 for stool-plan
"#;

fn years(basis: &str, stock: &str) -> [Year; 2] {
    let text = format!("{}{BOOK}", shop(&format!("    {basis} basis\n    stock kept as {stock}\n")));
    [2025, 2026].map(|year| year_from(&text, year))
}

// 2025.
// 1, 2, 10, 25: sales over the counter 200, M-1 300, M-2 240, M-3 120, the gallery's 80; fees 30 + 24 + 12 and the gallery's 32;
//     December's telephone 30.
// 36: Y-1.
// 37: Sam 20 + 40 + 40.
// 38: blades.
// 39: delivery 100, royalties 15.
// 41: oak 60 bf 360, five blades 25, three stools 48, the bench 290.
// 42: 80 + 80 + 64 + 32 + 16.
// 2026.
// 1, 2, 10, 25: C-1 120, the counter 180, M-4 240; refunds 20 and 60; fees 24.
// 37: 40 + 20.
// 39: royalties of B.
// 41: oak 240 + 300, two blades 10, stools 16 + 140, the bench 145.
// 42: C-1 32, the counter 16 + 70, M-4 140, less 16 that came back.
#[test]
fn by_inventory_and_accrual() {
    let [first, second] = years("accrual", "inventory");
    let lines = "1 940.00, 3 940.00, 4 272.00, 5 668.00, 7 668.00, 10 98.00, 25 30.00, 28 128.00, 29 540.00, 31 540.00, \
         35 230.00, 36 500.00, 37 100.00, 38 50.00, 39 115.00, 40 995.00, 41 723.00, 42 272.00";
    assert_eq!(first.lines().join(", "), lines);
    let lines = "1 540.00, 2 80.00, 3 460.00, 4 242.00, 5 218.00, 7 218.00, 10 24.00, 25 35.00, 28 59.00, 29 159.00, 31 159.00, \
         35 723.00, 36 300.00, 37 60.00, 39 10.00, 40 1093.00, 41 851.00, 42 242.00";
    assert_eq!(second.lines().join(", "), lines);
    assert_eq!([first.went_to(), second.went_to()], [["sold 272"], ["sold 242"]]);
    // Margins: 940 − 98 − 272, and 540 − 80 − 24 − 242.
    let bridge = ["paid margins of all products 570", "expenses not in a margin -30", "net profit or loss 540"];
    assert_eq!(first.bridge(), bridge);
    assert_eq!(second.bridge(), ["paid margins of all products 194", "expenses not in a margin -35", "net profit or loss 159"]);
    assert_eq!(first.open(), ["deposits/deferral", "gallery/agent", "self-employment/wages-elsewhere"]);
    assert_eq!(second.open(), ["deposits/deferral"]);
}

// 2025. 1, 2, 10, 25: M-0 60, the counter 200, M-1 300, the deposit for C-1 50; the fee of M-1. 36: half of Y-1. 37: Sam's 30.
// 39: half of the delivery. 41: 723 less oak 180, blades 25, stools 15, the bench 170. 42: 272 less what is gone and not paid
// for: five of S-0 at 2, seven of A at 5. 2026. 1, 2, 10, 25: M-2 240; M-3 120 less 20, given back before it was paid; the
// gallery's 80; the rest of C-1 70; the counter 180; the deposit for C-2 40; of refunds M-2's 60, given back after; fees 24 + 12
// and 32; the bill of December 2025. 36 to 39: the other half of Y-1; Sam 70 + 40; the blades; delivery 50 and royalties 15. 41:
// 851 less Y-2 300, Sam's 20 on the bench, four stools at 1. 42: 242 and the 45 of last year, less six of B at 1. The stool that
// came back took 5 of the 45 along, unpaid until the bills were paid later in January.
#[test]
fn by_inventory_and_cash() {
    let [first, second] = years("cash", "inventory");
    let lines = "1 610.00, 3 610.00, 4 227.00, 5 383.00, 7 383.00, 10 30.00, 28 30.00, 29 353.00, 31 353.00, 35 230.00, \
         36 250.00, 37 30.00, 39 50.00, 40 560.00, 41 333.00, 42 227.00";
    assert_eq!(first.lines().join(", "), lines);
    let lines = "1 710.00, 2 60.00, 3 650.00, 4 281.00, 5 369.00, 7 369.00, 10 68.00, 25 30.00, 28 98.00, 29 271.00, 31 271.00, \
         35 333.00, 36 250.00, 37 110.00, 38 50.00, 39 65.00, 40 808.00, 41 527.00, 42 281.00";
    assert_eq!(second.lines().join(", "), lines);
    assert_eq!(first.went_to(), ["sold 272", "gone and not paid for 45"]);
    assert_eq!(second.went_to(), ["sold 242", "gone and not paid for 6", "gone before and paid for now 45"]);
    // Of this year's margins M-2, M-3 and the gallery's sale come next year, 216 + 108 + 48; of the next year's, C-1's deposit is
    // here.
    let bridge = [
        "paid margins of all products 570",
        "income beside the goods 60",
        "margins of other years, counted in this 50",
        "margins of this year, counted in another -372",
        "goods gone but not yet paid for 45",
        "net profit or loss 353",
    ];
    assert_eq!(first.bridge(), bridge);
    // C-1's 50 counted last year, M-4's 216 counts next year; the deposit for C-2, whose sale has not come, is other income.
    let bridge = [
        "paid margins of all products 194",
        "income beside the goods 40",
        "expenses not in a margin -30",
        "margins of other years, counted in this 372",
        "margins of this year, counted in another -266",
        "goods gone but not yet paid for 6",
        "goods gone in earlier years and paid for now -45",
        "net profit or loss 271",
    ];
    assert_eq!(second.bridge(), bridge);
    assert_eq!(first.open(), ["bills/before-the-book", "gallery/agent", "stock/inventory-with-cash"]);
    assert_eq!(second.open(), ["stock/inventory-with-cash"]);
}

// Material and its delivery: a stool of S-0 or A is 10.00, one of B 24.00, B on the bench 240.00, D 120.00.
// 2025.
// 11: Sam 100.
// 22: five blades used 25.
// 48: royalties 15.
// 41: oak 360, stools 30, the bench 240.
// 42: 80 + 50 + 70.
// 2026.
// 11: 40 + 20.
// 22: three blades 15.
// 48: 10.
// 41: oak 540, stools 10 + 96, the bench 120.
// 42: C-1 20, the counter 10 + 48, M-4 96, less 10.
#[test]
fn by_supplies_and_accrual() {
    let [first, second] = years("accrual", "supplies");
    let lines = "1 940.00, 3 940.00, 4 200.00, 5 740.00, 7 740.00, 10 98.00, 11 100.00, 22 25.00, 25 30.00, 27b 15.00, \
         28 268.00, 29 472.00, 31 472.00, 35 230.00, 36 500.00, 39 100.00, 40 830.00, 41 630.00, 42 200.00, 48 15.00";
    assert_eq!(first.lines().join(", "), lines);
    let lines = "1 540.00, 2 80.00, 3 460.00, 4 164.00, 5 296.00, 7 296.00, 10 24.00, 11 60.00, 22 15.00, 25 35.00, 27b 10.00, \
         28 144.00, 29 152.00, 31 152.00, 35 630.00, 36 300.00, 40 930.00, 41 766.00, 42 164.00, 48 10.00";
    assert_eq!(second.lines().join(", "), lines);
    assert_eq!([first.went_to(), second.went_to()], [["sold 200"], ["sold 164"]]);
    let apart = "wear, hired time and royalties in goods sold, deducted apart";
    let bridge = [
        "paid margins of all products 570".to_owned(),
        "expenses not in a margin -170".to_owned(),
        format!("{apart} 72"),
        "net profit or loss 472".to_owned(),
    ];
    assert_eq!(first.bridge(), bridge);
    let bridge = [
        "paid margins of all products 194".to_owned(),
        "expenses not in a margin -120".to_owned(),
        format!("{apart} 78"),
        "net profit or loss 152".to_owned(),
    ];
    assert_eq!(second.bridge(), bridge);
    assert_eq!(first.open(), ["deposits/deferral", "gallery/agent", "self-employment/wages-elsewhere"]);
    assert_eq!(second.open(), ["deposits/deferral"]);
}

// 2025.
// 11: Sam's 30.
// 22: no blade is paid for.
// 48: no royalty.
// 41: 630 less oak 180 and 120 of the bench.
// 42: what went was paid for.
// 2026.
// 11: 70 + 40.
// 22: the five blades of 2025 and three of this year, 40.
// 48: 15.
// 41: 766 less Y-2.
#[test]
fn by_supplies_and_cash() {
    let [first, second] = years("cash", "supplies");
    let lines = "1 610.00, 3 610.00, 4 200.00, 5 410.00, 7 410.00, 10 30.00, 11 30.00, 28 60.00, 29 350.00, 31 350.00, \
         35 230.00, 36 250.00, 39 50.00, 40 530.00, 41 330.00, 42 200.00";
    assert_eq!(first.lines().join(", "), lines);
    let lines = "1 710.00, 2 60.00, 3 650.00, 4 164.00, 5 486.00, 7 486.00, 10 68.00, 11 110.00, 22 40.00, 25 30.00, 27b 15.00, \
         28 263.00, 29 223.00, 31 223.00, 35 330.00, 36 250.00, 39 50.00, 40 630.00, 41 466.00, 42 164.00, 48 15.00";
    assert_eq!(second.lines().join(", "), lines);
    assert_eq!([first.went_to(), second.went_to()], [["sold 200"], ["sold 164"]]);
    let bridge = [
        "paid margins of all products 570",
        "income beside the goods 60",
        "expenses not in a margin -30",
        "margins of other years, counted in this 50",
        "margins of this year, counted in another -372",
        "wear, hired time and royalties in goods sold, deducted apart 72",
        "net profit or loss 350",
    ];
    assert_eq!(first.bridge(), bridge);
    let bridge = [
        "paid margins of all products 194",
        "income beside the goods 40",
        "expenses not in a margin -195",
        "margins of other years, counted in this 372",
        "margins of this year, counted in another -266",
        "wear, hired time and royalties in goods sold, deducted apart 78",
        "net profit or loss 223",
    ];
    assert_eq!(second.bridge(), bridge);
    assert_eq!(first.open(), ["bills/before-the-book", "gallery/agent"]);
    assert!(second.open().is_empty(), "{:?}", second.open());
}

#[test]
fn the_second_year_begins_where_the_first_ended() {
    for (basis, stock) in [("accrual", "inventory"), ("cash", "inventory"), ("accrual", "supplies"), ("cash", "supplies")] {
        let [first, second] = years(basis, stock);
        let end = first.line("41");
        assert_eq!(end, second.line("35"), "{basis} {stock}");
        let same = format!("{end} at the start, {end} by last year's closing stock: the same");
        assert_eq!(second.cut_off("stock at start against last year's closing"), [same]);
    }
}

#[test]
fn what_straddles_a_year_s_end_is_on_the_cut_off_list() {
    let [first, second] = years("cash", "inventory");
    assert_eq!(first.cut_off("batches on the bench"), ["B, begun 2025-12-20: 290.00 paid cost"]);
    assert_eq!(second.cut_off("batches on the bench"), ["D, begun 2026-12-21: 145.00 paid cost"]);
    assert_eq!([first.cut_off("deposits"), second.cut_off("deposits")].map(<[String]>::len), [1, 1]);
    // M-2, M-3 and the gallery's at the first end; M-4 at the second.
    assert_eq!([first.cut_off("refunds in January"), second.cut_off("refunds in January")].map(<[String]>::len), [2, 1]);
}

#[test]
fn nothing_of_2027_moves_the_two_years() {
    let until_2026 = BOOK.find("returned 2027").expect("2027");
    for (basis, stock) in [("accrual", "inventory"), ("cash", "inventory"), ("accrual", "supplies"), ("cash", "supplies")] {
        let text = format!("{}{}", shop(&format!("    {basis} basis\n    stock kept as {stock}\n")), &BOOK[..until_2026]);
        let shown = |year: Year| {
            // Lists that look on into January by their very names are left out.
            let ahead = ["sales of the last and first fifteen days", "payouts over the year's end", "refunds in January"];
            let lists = year.figures().cut_off.iter().filter(|part| !ahead.contains(&part.name.as_str()));
            let lists: Vec<String> = lists.map(|part| format!("{}: {}", part.name, part.rows.join("; "))).collect();
            [year.lines(), year.bridge(), year.open().iter().map(|name| (*name).to_owned()).collect(), lists].concat()
        };
        let as_it_was = [2025, 2026].map(|of| shown(year_from(&text, of)));
        assert_eq!(years(basis, stock).map(shown), as_it_was, "{basis} {stock}");
    }
}
