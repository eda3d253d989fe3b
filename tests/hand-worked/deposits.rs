//! Deposits that are handed back before their sale, whole or in part, on either basis.

use crate::compiled::compile_texts;
use crate::year::{Year, shop, year_from};

const TRADE: &str = "\
product stool \"Stool\"
    price 100.00
channel web-page \"Own web page\"
    fee 3% of total
    fee 0.25 per sale
opened 2025-01-01
    2 stool for 60.00
received 2025-11-10 from \"E. in Troy\"
    60.00 for order \"C-07\"
";

fn book(basis: &str, entries: &str) -> String {
    format!("{}{TRADE}{entries}noted 2026-12-31 \"done\"\n", shop(&format!("    {basis} basis\n")))
}

/// Lines 1, 2 and 10 of both years.
fn lines(basis: &str, entries: &str) -> [[String; 3]; 2] {
    let text = book(basis, entries);
    let of = |year: Year| [year.line("1"), year.line("2"), year.line("10")];
    [of(year_from(&text, 2025)), of(year_from(&text, 2026))]
}

fn open_deposits(basis: &str, entries: &str, year: i32) -> Vec<String> {
    let year = year_from(&book(basis, entries), year);
    year.figures().cut_off.iter().find(|part| part.name == "deposits").expect("a part").rows.clone()
}

#[test]
fn a_deposit_handed_back_is_a_refund_of_its_own_day_on_the_cash_basis_and_nothing_on_the_accrual_basis() {
    let back = "returned 2026-01-20 order \"C-07\"\n    refunded 60.00 \"cancelled\"\n";
    assert_eq!(lines("cash", back), [["60.00", "0.00", "0.00"], ["0.00", "60.00", "0.00"]]);
    assert_eq!(lines("accrual", back), [["0.00", "0.00", "0.00"], ["0.00", "0.00", "0.00"]]);
    // Open at the end of the first year, gone by the end of the second.
    assert_eq!(open_deposits("accrual", back, 2025), ["2025-11-10 for order C-07: 60.00"]);
    assert!(open_deposits("accrual", back, 2026).is_empty());
}

#[test]
fn a_part_handed_back_lowers_what_the_sale_finds() {
    // Of 60.00 the buyer gets 20.00 back; the sale of 100.00 finds 40.00, and the other 60.00 are paid on its day.
    let entries = "returned 2025-11-20 order \"C-07\"\n    refunded 20.00\n\
                   sold 2026-02-01 via counter order \"C-07\"\n    1 stool\n";
    assert_eq!(lines("cash", entries), [["60.00", "20.00", "0.00"], ["60.00", "0.00", "0.00"]]);
    assert_eq!(lines("accrual", entries), [["0.00", "0.00", "0.00"], ["100.00", "0.00", "0.00"]]);
}

#[test]
fn the_fee_on_a_deposit_stays_with_the_shop_when_it_is_handed_back() {
    // 40.00 via the page: 3 % and 0.25 are 1.45, on line 10 of the first year; all of 40.00 goes back.
    let entries = "received 2025-12-01 from \"K. in Utica\" via web-page\n    40.00 for order \"C-08\"\n\
                   returned 2026-01-20 order \"C-08\"\n    refunded 40.00\n";
    assert_eq!(lines("cash", entries), [["100.00", "0.00", "1.45"], ["0.00", "40.00", "0.00"]]);
    assert_eq!(lines("accrual", entries), [["0.00", "0.00", "1.45"], ["0.00", "0.00", "0.00"]]);
    // In part: 10.00 of it goes back, and the sale of 100.00 still finds 30.00 with the fee of 1.45; of its own fees of 3.25, 1.80 are left.
    let entries = "received 2025-12-01 from \"K. in Utica\" via web-page\n    40.00 for order \"C-08\"\n\
                   returned 2025-12-20 order \"C-08\"\n    refunded 10.00\n\
                   sold 2026-02-01 via web-page order \"C-08\"\n    1 stool\n";
    assert_eq!(lines("cash", entries), [["100.00", "10.00", "1.45"], ["70.00", "0.00", "1.80"]]);
}

#[test]
fn a_deposit_can_be_handed_back_on_the_day_on_which_it_came() {
    let entries = "received 2025-12-01 from \"K. in Utica\"\n    40.00 for order \"C-08\"\n\
                   returned 2025-12-01 order \"C-08\"\n    refunded 40.00\n";
    assert_eq!(lines("cash", entries), [["100.00", "40.00", "0.00"], ["0.00", "0.00", "0.00"]]);
}

#[test]
fn more_than_was_deposited_can_not_be_handed_back() {
    let told = |entries: &str| -> Vec<String> {
        let found = compile_texts(&[("book.kerf", &book("cash", entries))]).found;
        found.iter().map(|one| format!("{} {}", one.code, one.message)).collect()
    };
    let over = "returned 2026-01-20 order \"C-07\"\n    refunded 60.01\n";
    assert_eq!(told(over), ["K410 60.01 is handed back, but deposits of 60.00 for order `C-07` are open"]);
    let twice = "returned 2026-01-20 order \"C-07\"\n    refunded 60.00\nreturned 2026-01-21 order \"C-07\"\n    refunded 1.00\n";
    assert_eq!(told(twice), ["K414 order `C-07` has not been sold by 2026-01-21"]);
    let goods = "returned 2026-01-20 order \"C-07\"\n    1 stool, refunded 60.00, back to stock\n";
    assert_eq!(told(goods), ["K414 order `C-07` has not been sold by 2026-01-20"]);
}

#[test]
fn a_sale_that_was_paid_in_full_before_is_settled_by_its_deposits() {
    // 60.00 in November and 40.00 in December; the stool of 100.00 goes in February.
    let entries = "received 2025-12-01 from \"E. in Troy\"\n    40.00 for order \"C-07\"\n\
                   sold 2026-02-01 via counter order \"C-07\"\n    1 stool\n";
    assert_eq!(lines("cash", entries), [["100.00", "0.00", "0.00"], ["0.00", "0.00", "0.00"]]);
    assert_eq!(lines("accrual", entries), [["0.00", "0.00", "0.00"], ["100.00", "0.00", "0.00"]]);
    // A cent more is a mistake.
    let over = compile_texts(&[("book.kerf", &book("cash", &entries.replace("40.00", "40.01")))]).found;
    assert_eq!(
        over.iter().map(|one| one.message.as_str()).collect::<Vec<_>>(),
        ["40.01 is settled here, but 40.00 is still owed"]
    );
}
