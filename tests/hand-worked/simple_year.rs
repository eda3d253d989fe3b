//! A simple year: stock at the start, one purchase, one batch, one sale, something taken home, something scrapped, the telephone.
//!
//! The purchase of 150.00 bears freight 15.00 and tax 7.50, by value: oak 120 + 6 tax, freight 12; blades 20 + 1, freight 2; boxes
//! 10 + 0.50 + 1. The batch used 12 bf of oak, first in first out: 50.00 of the opening, and 2 of 20 bf for 12.60 with 1.20 freight; three
//! hours at the saw wore three blades, two of the opening for 3.00 and one of ten for 2.30, of which 0.20 is freight; Sam's hour is 18.00, the royalty
//! 6 × 0.50. In all materials 62.60, freight 1.20, wear 5.30, hired time 18.00, royalty 3.00: 90.10 for six carts.
//! Sold were the two carts of the opening (30.00) and two of the six (30.033334), packed in two boxes of the opening (1.00). One cart went
//! home (15.016666; each component is split on its own, to six digits), one board foot of oak was scrapped (6.30 + 0.60 freight).

use crate::year::{Year, shop, year_from};

const REST: &str = "\
step cutting \"Cutting\"
    wears 1 blade per 60 min
material oak \"Oak\"
    measured in bf
material blade \"Blade\"
    measured in ea
    as wear
material box \"Carton\"
    measured in ea
    as packing
pattern cart-plan \"Plan of the cart\"
    royalty 0.50 per ea
product cart \"Cart\"
    pattern cart-plan
helper sam \"Sam\"
    contractor
    costs 18.00 per h
channel web \"Web page\"
    fee 3% of total
expense phone \"Telephone\"
    form line 25
    business use 60%
opened 2026-01-01
    10 bf oak for 50.00
    2 blade for 3.00
    10 box for 5.00
    2 cart for 30.00
bought 2026-02-01 from the-yard receipt \"Y-1\"
    20 bf oak for 120.00
    10 blade for 20.00
    10 box for 10.00
    freight 15.00
    sales-tax 7.50
built 2026-03-01 batch A
    used 12 bf oak
    took 2h cutting
    took 1h cutting by sam
    made 6 cart
sold 2026-04-01 via web order \"W-1\"
    4 cart at 50.00
    shipping 10.00
    postage 8.00
    packed with 2 box
took-home 2026-05-01
    1 cart
scrapped 2026-06-01
    1 bf oak
paid 2026-07-01 to telco
    100.00 for phone
";

fn simple(switches: &str) -> Year {
    year_from(&format!("{}{REST}", shop(switches)), 2026)
}

/// 35: oak 50 + blades 3 + carts 30; boxes are packing and outside. 36: 126 less 15.016666 taken home. 37: Sam. 38: blades without freight. 39: freight
/// 12 + 2 and royalty 3. 41: oak 17 of 18 bf 107.10 + 10.20, nine blades 20.70, three carts 45.05. 42 is sold 60.033334 + scrapped 6.90 = 66.933334;
/// the page prints 249.98 − 183.05. 10: 3 % of 210. 48: boxes used.
const INVENTORY: [&str; 20] = [
    "1 210.00",
    "3 210.00",
    "4 66.93",
    "5 143.07",
    "7 143.07",
    "10 6.30",
    "18 8.00",
    "25 60.00",
    "27b 1.00",
    "28 75.30",
    "29 67.77",
    "31 67.77",
    "35 83.00",
    "36 110.98",
    "37 18.00",
    "38 21.00",
    "39 17.00",
    "40 249.98",
    "41 183.05",
    "42 66.93",
];

/// Materials and their freight only: 35 oak and the opened carts; 36 126 less 62.60 + 1.20 over six, 10.633333; 39 freight 12 on oak. 41: 117.30 and half of 63.80.
/// 42: sold 30 + 21.266667, scrapped 6.90 = 58.166667. 22: wear used 5.30 less the sixth taken home; 11: 18 less 3; 48: royalty 3 less 0.50, and 1.00 of boxes.
const SUPPLIES: [&str; 20] = [
    "1 210.00",
    "3 210.00",
    "4 58.17",
    "5 151.83",
    "7 151.83",
    "10 6.30",
    "11 15.00",
    "18 8.00",
    "22 4.42",
    "25 60.00",
    "27b 3.50",
    "28 97.22",
    "29 54.61",
    "31 54.61",
    "35 80.00",
    "36 115.37",
    "39 12.00",
    "40 207.37",
    "41 149.20",
    "42 58.17",
];

#[test]
fn by_inventory_everything_paid_waits_in_the_goods() {
    for basis in ["accrual", "cash"] {
        let year = simple(&format!("    {basis} basis\n    stock kept as inventory\n"));
        let mut lines = year.lines();
        assert_eq!(lines.pop().as_deref(), Some("48 1.00"));
        assert_eq!(lines, INVENTORY, "{basis}");
    }
}

#[test]
fn by_supplies_only_materials_and_their_freight_wait() {
    for basis in ["accrual", "cash"] {
        let year = simple(&format!("    {basis} basis\n    stock kept as supplies\n"));
        let mut lines = year.lines();
        assert_eq!(lines.pop().as_deref(), Some("48 3.50"));
        assert_eq!(lines, SUPPLIES, "{basis}");
    }
}

#[test]
fn part_iii_comes_to_where_the_goods_went_to_six_digits() {
    let year = simple("    accrual basis\n");
    let cost = &year.figures().cost_of_goods;
    assert_eq!(cost.exact.to_string(), "66.933334");
    assert_eq!((cost.went_to.sold.to_string(), cost.went_to.scrapped.to_string()), ("60.033334".to_owned(), "6.9".to_owned()));
    // Printed 66.93: the rest is named.
    assert_eq!(cost.rounding.to_string(), "0.003334");
    let home = cost.other_ways_out.iter().find(|(name, _)| name == "taken home").map(|(_, amount)| amount.to_string());
    assert_eq!(home.as_deref(), Some("15.016666"));
}

#[test]
fn the_bridge_goes_from_the_margins_to_the_net_profit() {
    // Margin of the carts: 200 + 10 − 6.30 − 8.00 − 1.00 of boxes − 60.033334. Outside are the telephone's 60.
    for (switches, apart) in [("    stock kept as inventory\n", None), ("    stock kept as supplies\n", Some("8.766667"))] {
        let year = simple(switches);
        let bridge = &year.figures().bridge;
        let of = |name: &str| bridge.iter().find(|line| line.name == name).map(|line| line.amount.to_string());
        assert_eq!(of("paid margins of all products").as_deref(), Some("134.666666"));
        // By supplies, of what was sold wear 1.766667, hired time 6 and royalty 1 were deducted apart.
        assert_eq!(of("wear, hired time and royalties in goods sold, deducted apart").as_deref(), apart);
        let sum: i128 = bridge.iter().rev().skip(1).map(|line| line.amount.micros()).sum();
        assert_eq!(sum, year.figures().net_cents().micros());
    }
}

#[test]
fn in_whole_dollars_lines_that_add_add_printed_lines() {
    let year = simple("    whole dollars\n");
    // 83 + 111 + 18 + 21 + 17 − 183; the cents beside stay 66.93.
    assert_eq!((year.printed("40"), year.printed("41"), year.printed("42")), ("250".into(), "183".into(), "67".into()));
    assert_eq!(year.line("42"), "66.93");
    assert_eq!((year.printed("28"), year.printed("31")), ("75".into(), "68".into()));
}

#[test]
fn the_report_has_every_line_and_says_that_it_is_no_advice() {
    let report = simple("    accrual basis\n").report();
    assert_eq!(report.lines.len(), 44);
    assert!(report.lines.iter().any(|line| line.line == "12" && line.cents == "0.00" && line.figure == "year/2026/line-12"));
    assert_eq!(report.caution.lines().count(), 1);
    for words in ["A worksheet, not advice", "Schedule C (Form 1040)", "tax year 2026, provisional", "instructions", "preparer"] {
        assert!(report.caution.contains(words), "{words}");
    }
    let went = &report.cost_of_goods.went_to;
    assert_eq!((went.sold.as_str(), went.scrapped.as_str(), report.cost_of_goods.rounding.as_str()), ("60.03", "6.90", "0.00"));
    assert!(report.cut_off.iter().all(|part| !part.empty.is_empty()));
}
