//! Goods in a shop that sells them for us.
//!
//! INV-5: OpenStax, *Principles of Accounting, Volume 1: Financial Accounting*, section 10.1 (module m67889), CC BY-NC-SA 4.0. VERIFIED.
//! INV-6: what merchandise includes by IRS Publication 538 (Rev. 2012 and later), "Inventories". VERIFIED at
//! formsbank.com/template/373190/publication-538-accounting-periods-and-methods.html, page 15.

use kerfbook::costing::Flow;

use crate::compiled::{Compiled, compile_whole};

/// Two tables at 4,000.00 each go to a shop that keeps a third of what its customers pay.
fn tables(then: &str) -> Compiled {
    compile_whole(&format!(
        "shop \"INV-5\"
    currency USD
place bench \"Bench\"
    home
place gallery \"Gallery\"
channel gallery \"Gallery\"
    consignment 33.333333%
product table \"Table\"
opened 2026-01-01
    2 table for 8000.00
sent 2026-01-02 to gallery
    2 table
{then}"
    ))
}

#[test]
fn inv_5_until_they_are_sold_they_stay_on_our_books() {
    let book = tables("");
    assert_eq!(book.on_hand("table"), ("2".to_owned(), "8000.00".to_owned()));
    assert_eq!(book.flow(Flow::Sold), "0.00");
    let at: Vec<&str> = book.costed.stock.iter().map(|lot| book.book.place(lot.place).named.name.as_str()).collect();
    assert_eq!(at, ["gallery"]);
    assert!(book.costed.postings.is_empty());
}

#[test]
fn inv_5_of_15000_the_shop_keeps_5000_and_the_owner_receives_10000() {
    // `settled` is checked by the compiler: a mistake if another sum reached the shop.
    let book = tables("sold 2026-03-01 via gallery\n    1 table at 15000.00\n    settled 10000.00\n");
    let row = book.group("channel", "gallery");
    assert_eq!((row.sums.revenue.as_str(), row.sums.fees.as_str()), ("15000.00", "5000.00"));
    assert_eq!((row.sums.paid_cost.as_str(), row.sums.paid_margin.as_str()), ("4000.00", "6000.00"));
    assert_eq!(book.on_hand("table"), ("1".to_owned(), "4000.00".to_owned()));
}

#[test]
fn inv_6_goods_at_a_booth_or_out_on_consignment_are_stock_and_supplies_that_are_no_part_of_a_piece_are_not() {
    let book = compile_whole(
        "shop \"INV-6\"
    currency USD
place bench \"Bench\"
    home
place booth \"Display at the mart\"
place gallery \"Gallery\"
channel gallery \"Gallery\"
    consignment 40%
product table \"Table\"
expense sweepings \"Brooms and bags\"
opened 2026-01-01
    3 table for 300.00
bought 2026-01-02 from hardware
    12.00 for sweepings
sent 2026-01-03 to gallery
    1 table
sent 2026-01-03 to booth
    1 table
",
    );
    assert_eq!(book.on_hand("table"), ("3".to_owned(), "300.00".to_owned()));
    let mut at: Vec<&str> = book.costed.stock.iter().map(|lot| book.book.place(lot.place).named.name.as_str()).collect();
    at.sort_unstable();
    assert_eq!(at, ["bench", "booth", "gallery"]);
    assert_eq!(book.flow(Flow::Bought), "0.00");
}
