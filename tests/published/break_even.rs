//! How many pieces meet a fixed cost, as the price report says it: break-even, targets and what a piece leaves.
//!
//! OpenStax, *Principles of Accounting, Volume 2: Managerial Accounting*, chapter 3 (modules m68115, m68116, m68119, m68120), CC BY-NC-SA 4.0. VERIFIED.
//! Variable cost is the paid cost of a piece, what it leaves its paid margin; a target is met like a fixed cost. The publication's own number stands in
//! each row, and where it prints sales in money, these too.

use kerfbook::names::ThingId;
use kerfbook::reports::{ChannelPrice, Period, Wanted, report_price};
use kerfbook::units::Fixed6;
use kerfbook::year::Books;

use crate::compiled::compile_whole;

fn money(text: &str) -> Fixed6 {
    Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("small")
}

/// A piece at a price, at a variable cost, against a fixed cost.
fn met(price: &str, variable: &str, fixed: &str) -> ChannelPrice {
    let book = compile_whole(&format!(
        "shop \"Break-even\"
    currency USD
place bench \"Bench\"
    home
channel counter \"Over the counter\"
product piece \"Piece\"
    price {price}
bought 2026-01-02
    1 piece at {variable}
"
    ));
    let piece = book.book.things.iter().position(|thing| thing.named.name == "piece").expect("defined");
    let piece = ThingId(u32::try_from(piece).expect("few"));
    let books = Books { sources: &book.sources, book: &book.book, log: &book.log, costed: &book.costed };
    let wanted = Wanted { fixed: Some((money(fixed), Fixed6::ZERO)), ..Wanted::default() };
    let report = report_price(books, piece, (Period::default(), &|_| None), wanted).expect("a report");
    let [channel] = report.channels.as_slice() else { panic!("one channel") };
    channel.clone()
}

#[test]
fn pieces_and_sales_that_meet_a_fixed_cost_are_those_that_are_printed() {
    // Whose case, price, variable cost, fixed cost and target, units, sales where they are printed.
    let printed = [
        ("Hicks, Blue Jay", "100.00", "20.00", "18000.00", "225", Some("22500.00")),
        ("Hicks, a target of 16,000", "100.00", "20.00", "34000.00", "425", Some("42500.00")),
        ("Hicks, 24,000 after 40 % tax: 40,000 before", "100.00", "20.00", "58000.00", "725", Some("72500.00")),
        ("Marshall & Son", "400.00", "150.00", "14000.00", "56", Some("22400.00")),
        ("Marshall & Son, a target of 10,000", "400.00", "150.00", "24000.00", "96", Some("38400.00")),
        ("lofts", "500.00", "300.00", "100000.00", "500", None),
        ("lofts, a target of 50,000", "500.00", "300.00", "150000.00", "750", None),
        // One text alternative there prints 42,500: a slip.
        ("1,250 less 850", "1250.00", "850.00", "16800.00", "42", Some("52500.00")),
        ("Manteo", "90.00", "40.00", "85000.00", "1700", Some("153000.00")),
        ("a mix of 3 A and 1 B as one set", "39.00", "17.00", "220000.00", "10000", None),
        // 4,715.45 sets are printed, and 4,716 whole ones.
        ("West Brothers, 5 : 3 : 2 as one set", "73.00", "42.25", "145000.00", "4716", None),
    ];
    for (whose, price, variable, fixed, units, sales) in printed {
        let met = met(price, variable, fixed).break_even.expect("asked");
        assert_eq!(met.pieces.as_deref(), Some(units), "{whose}");
        if let Some(sales) = sales {
            assert_eq!(met.takings.as_deref(), Some(sales), "{whose}");
        }
    }
}

#[test]
fn a_piece_leaves_its_contribution_margin_and_a_margin_of_safety_is_what_is_sold_beyond() {
    let leaves = |price, variable| met(price, variable, "1.00").at_list_price.expect("a list price").paid_margin;
    // Hicks: 80, which is 80 % of 100; T-shirts at 25.00 with 15.00 and 0.50: 9.50; the set of the West Brothers: 30.75.
    assert_eq!(leaves("100.00", "20.00"), "80.00");
    assert_eq!(leaves("25.00", "15.50"), "9.50");
    assert_eq!(leaves("73.00", "42.25"), "30.75");
    // Manteo sold 2,500 for 225,000: 72,000 or 32 % beyond the 153,000 that meet its fixed cost.
    let takings = met("90.00", "40.00", "85000.00").break_even.and_then(|met| met.takings).expect("met");
    let beyond = money("225000.00").checked_sub(money(&takings)).expect("small");
    assert_eq!(beyond, money("72000.00"));
    assert_eq!(beyond.checked_mul_int(100), money("225000.00").checked_mul_int(32));
}

#[test]
fn a_piece_that_leaves_nothing_meets_no_fixed_cost() {
    // Ours: at its variable cost, and below it.
    for price in ["20.00", "19.00"] {
        assert_eq!(met(price, "20.00", "18000.00").break_even.expect("asked").pieces, None);
    }
}
