//! What a sale owes the shop, settled by its order or by its day, on the cash basis.

use crate::compiled::compile_texts;
use crate::year::{shop, year_from};

const TRADE: &str = "\
place gift-shop \"Shelf at the gift shop\"
product stool \"Stool\"
    price 100.00
channel gift-shop \"Consignment\"
    consignment 40%
channel web-page \"Own web page\"
    fee 3% of total
    pays later
opened 2025-01-01 at gift-shop
    6 stool for 180.00
opened 2025-01-01
    6 stool for 180.00
";

fn book(entries: &str) -> String {
    format!("{}{TRADE}{entries}", shop("    cash basis\n"))
}

fn told(entries: &str) -> Vec<String> {
    let found = compile_texts(&[("book.kerf", &book(entries))]).found;
    found.iter().map(|one| format!("{} {}", one.code, one.message)).collect()
}

#[test]
fn a_sale_without_an_order_is_settled_by_its_day() {
    // 2 at 100.00 less the gift shop's 40 % are 120.00, of which 60.00 come in each year: half of 200.00 and half of 80.00.
    for (order, by) in [("", "sold 2025-12-31"), (" order \"G-5\"", "order \"G-5\"")] {
        let text = book(&format!(
            "sold 2025-12-31 via gift-shop{order}\n    2 stool\n    settled 120.00\n\
             received 2025-12-31 from gift-shop\n    60.00 for {by}\n\
             received 2026-01-10 from gift-shop\n    60.00 for {by}\n"
        ));
        let (first, second) = (year_from(&text, 2025), year_from(&text, 2026));
        assert_eq!([first.line("1"), first.line("10")], ["100.00", "40.00"], "{by}");
        assert_eq!([second.line("1"), second.line("10")], ["100.00", "40.00"], "{by}");
    }
}

#[test]
fn sales_of_one_day_are_filled_in_the_order_of_that_day() {
    // Two sales of 100.00, 60.00 each after the share; 90.00 settle the first and half of the second.
    let text = book(
        "sold 2025-11-30 via gift-shop\n    1 stool \"the first\"\nsold 2025-11-30 via gift-shop\n    1 stool \"the second\"\n\
         received 2025-12-10 from gift-shop\n    90.00 for sold 2025-11-30\n\
         received 2026-01-10 from gift-shop\n    30.00 for sold 2025-11-30\n",
    );
    assert_eq!([year_from(&text, 2025).line("1"), year_from(&text, 2026).line("1")], ["150.00", "50.00"]);
}

#[test]
fn a_buyer_settles_a_sale_by_its_day_too_and_via_a_channel_less_its_fees() {
    // The buyer pays 100.00 through the page, which keeps its 3 %: 97.00 are owed, and nothing is left open.
    for (to, from) in [("    to \"E. in Troy\"\n", "\"E. in Troy\" via web-page"), ("", "\"E. in Troy\" via web-page")] {
        let text = book(&format!(
            "sold 2025-12-20 via web-page\n{to}    1 stool\nreceived 2026-01-04 from {from}\n    100.00 for sold 2025-12-20\n"
        ));
        let year = year_from(&text, 2026);
        assert_eq!([year.line("1"), year.line("10")], ["100.00", "3.00"]);
        assert!(
            year.compiled
                .costed
                .bills
                .iter()
                .all(|bill| bill.open_on(year.compiled.costed.until.expect("a day")).expect("fits").is_zero())
        );
    }
    let named = "sold 2025-12-20 via web-page\n    to \"E. in Troy\"\n    1 stool\n";
    let text = book(&format!("{named}received 2026-01-04 from \"E. in Troy\"\n    97.00 for sold 2025-12-20\n"));
    assert_eq!([year_from(&text, 2026).line("1"), year_from(&text, 2026).line("10")], ["100.00", "3.00"]);
}

#[test]
fn what_was_owed_when_the_book_began_is_settled_by_its_day() {
    let text = book(
        "opened 2025-01-01\n    75.60 owed by gift-shop for sold 2024-12-31\n    40.00 owed to the-yard for bought 2024-12-05\n\
         received 2025-01-11 from gift-shop\n    75.60 for sold 2024-12-31\n\
         paid 2025-01-12 to the-yard\n    40.00 for bought 2024-12-05\n",
    );
    let year = year_from(&text, 2025);
    assert!(year.compiled.costed.bills.iter().all(|bill| bill.paid.len() == 1));
}

#[test]
fn somebody_else_s_sale_or_one_with_an_order_is_not_settled_by_its_day() {
    let sale = "sold 2025-11-30 via gift-shop\n    1 stool\n";
    let other = told(&format!("{sale}received 2025-12-10 from web-page\n    60.00 for sold 2025-11-30\n"));
    assert_eq!(other, ["K411 no sale of 2025-11-30 without an order is known through or to `web-page`"]);
    let order = "sold 2025-11-30 via gift-shop order \"G-5\"\n    1 stool\n";
    let named = told(&format!("{order}received 2025-12-10 from gift-shop\n    60.00 for sold 2025-11-30\n"));
    assert_eq!(named, ["K411 no sale of 2025-11-30 without an order is known through or to `gift-shop`"]);
    let twice = told(&format!("{sale}received 2025-12-10 from gift-shop\n    60.01 for sold 2025-11-30\n"));
    assert_eq!(twice, ["K410 60.01 is settled here, but 60.00 is still owed"]);
}

#[test]
fn a_buyer_pays_via_the_channel_of_the_sale_and_no_other() {
    let sale = "sold 2025-11-30 via gift-shop\n    to ada\n    1 stool\n";
    let other = told(&format!("{sale}received 2025-12-10 from ada via web-page\n    60.00 for sold 2025-11-30\n"));
    assert_eq!(other, ["K411 no sale of 2025-11-30 without an order is known through or to `ada`"]);
    // Nor does a buyer pay, via that channel, for what somebody else bought.
    let others = told(&format!("{sale}received 2025-12-10 from bert via gift-shop\n    60.00 for sold 2025-11-30\n"));
    assert_eq!(others, ["K411 no sale of 2025-11-30 without an order is known through or to `bert`"]);
}

#[test]
fn an_expense_that_was_paid_on_its_day_is_owed_no_more() {
    let power = "expense power \"Power\"\n    form line 25\npaid 2025-02-01 to utility receipt \"U-1\"\n    50.00 for power\n";
    let again = told(&format!("{power}paid 2025-03-01 to utility\n    50.00 for receipt \"U-1\"\n"));
    assert_eq!(again, ["K411 nothing is owed to `utility` for receipt `U-1`"]);
}

/// The line that a finding's label `for this` points at.
fn for_this(entries: &str) -> Vec<String> {
    let compiled = compile_texts(&[("book.kerf", &book(entries))]);
    let labels = compiled.found.iter().flat_map(|one| &one.secondary).filter(|label| label.text == "for this");
    labels.map(|label| compiled.sources.text(label.span).to_owned()).collect()
}

#[test]
fn who_pays_too_much_is_shown_the_line_by_which_it_was_owed() {
    let opened =
        "opened 2025-01-01\n    75.60 owed by gift-shop for sold 2024-12-31\n    40.00 owed to the-yard for bought 2024-12-05\n";
    let debt = for_this(&format!("{opened}paid 2025-01-12 to the-yard\n    41.00 for bought 2024-12-05\n"));
    assert_eq!(debt, ["40.00 owed to the-yard for bought 2024-12-05"]);
    let royalty = for_this(
        "pattern plan \"Plan\"\n    royalty 0.50 per ea\n    paid later\nproduct duck \"Duck\"\n    pattern plan\n\
         built 2025-02-01 batch D\n    made 6 duck\npaid 2025-03-01 to maker\n    3.01 for plan\n",
    );
    assert_eq!(royalty, ["6 duck"]);
}
