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

#[test]
fn cash_card_and_check_beside_a_deposit_may_be_what_is_left_to_pay_and_card_fees_are_of_what_came_by_card() {
    // Of the stool of 100.00, 60.00 came in November; in February 40.00 come by card, of which 3 % are 1.20. Nothing is counted twice.
    let market = "channel market \"Market\"\n    fee 3% of card\n";
    let sold = |tender: &str| format!("{market}sold 2026-02-01 via market order \"C-07\"\n    1 stool\n{tender}");
    let none = ["0.00", "0.00", "0.00"];
    assert_eq!(lines("cash", &sold("    card 40.00\n")), [["60.00", "0.00", "0.00"], ["40.00", "0.00", "1.20"]]);
    assert_eq!(lines("accrual", &sold("    card 40.00\n")), [none, ["100.00", "0.00", "1.20"]]);
    // By check no fee is taken, and without a word of how it was paid none is known.
    assert_eq!(lines("cash", &sold("    check 40.00\n")), lines("cash", &sold("")));
    // In two ways, the tin 1.00 short: 15.00 by card are 0.45.
    let short = sold("    card 15.00\n    cash 24.00\n    short 1.00\n");
    assert_eq!(lines("accrual", &short), [none, ["100.00", "0.00", "0.45"]]);
    // All of it may be said, as it always could: then all came by card, 3.00.
    assert_eq!(lines("accrual", &sold("    card 100.00\n")), [none, ["100.00", "0.00", "3.00"]]);
    // A deposit through the page bore 2.05 of the 3.25 by itself.
    let page = "received 2025-12-01 from \"K. in Utica\" via web-page\n    60.00 for order \"C-08\"\n";
    let rest = format!("{page}sold 2026-02-01 via web-page order \"C-08\"\n    1 stool\n    card 40.00\n");
    assert_eq!(lines("cash", &rest), [["120.00", "0.00", "2.05"], ["40.00", "0.00", "1.20"]]);
    assert!(open_deposits("accrual", &rest, 2026).iter().all(|row| !row.contains("C-08")));
}

#[test]
fn what_a_sale_says_that_came_in_is_neither_the_whole_nor_the_rest_is_told() {
    let told = |entries: &str| -> Vec<String> {
        let found = compile_texts(&[("book.kerf", &book("cash", entries))]).found;
        found.iter().map(|one| format!("{} {}", one.code, one.message)).collect()
    };
    let sold = |day: &str, sum: &str| format!("sold {day} via counter order \"C-07\"\n    1 stool\n    check {sum}\n");
    assert_eq!(told(&sold("2026-02-01", "40.01")), ["K304 cash, card and check come to 40.01, and the sale to 100.00"]);
    assert_eq!(told(&sold("2026-02-01", "60.00")), ["K304 cash, card and check come to 60.00, and the sale to 100.00"]);
    // A deposit that was handed back, or whose part was, leaves more to pay.
    let back = |sum: &str| format!("returned 2026-01-20 order \"C-07\"\n    refunded {sum}\n");
    let after = |back_sum: &str, sum: &str| told(&format!("{}{}", back(back_sum), sold("2026-02-01", sum)));
    assert_eq!(after("20.00", "40.00"), ["K304 cash, card and check come to 40.00, and the sale to 100.00"]);
    assert!(after("20.00", "60.00").is_empty() && after("60.00", "100.00").is_empty());
    // A sale before the deposit finds none.
    let before = told(&sold("2025-11-09", "40.00"));
    assert!(before.contains(&"K304 cash, card and check come to 40.00, and the sale to 100.00".to_owned()), "{before:#?}");
}
