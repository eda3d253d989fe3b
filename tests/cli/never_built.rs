//! What a product costs and must fetch of which none was built yet, on the terminal and on its page.

use crate::shop::{book_of, run_in};
use crate::site::site_of;
use crate::site_numbers::numbers_that_lead;

const BOOK: &str = r#"
shop "Wren & Gable Woodshop"
    currency USD
    owner time 24.00 per h
    overhead 6.00 per h
place bench "Home workshop"
    home
step sawing "Sawing"
    wears 1 blade per 30 min
step packing "Packing"
material maple "Maple"
    measured in bf
material oil "Oil"
    measured in ml
    1 can = 50 ml
material blade "Blade"
    measured in ea
    as wear
product block "Block"
    needs 0.5 bf maple
    takes 6m sawing
product toy "Toy"
    needs 2 block, 10 ml oil
    takes 12m packing
    price 40.00
channel fair "Fair"
    fee 10% of total

bought 2026-01-02 from mill
    4 bf maple for 24.00
    1 can oil for 10.00
    2 blade for 6.00
"#;

#[test]
fn the_terminal_says_that_the_cost_is_expected_and_what_it_can_t_say() {
    let book = book_of(BOOK);
    let ran = run_in(book.path(), &["price", "toy"]);
    assert_eq!(ran.status, Some(0), "{}", ran.err);
    let says = "None was finished yet; by its recipe and the last prices one Toy must bring you $9.20";
    assert!(ran.out.contains(says) && ran.out.contains("its cost is not measured"), "{}", ran.out);
    let why = run_in(book.path(), &["why", "price/toy/paid"]);
    assert!(why.out.contains("2 block of those that are built first"), "{}", why.out);
    // The plan's figures that it names can be asked on.
    let asked = why.out.split("kerfbook why ").nth(1).and_then(|rest| rest.split_whitespace().next()).expect("a name");
    assert_eq!(asked, "plan/1_toy/cost/block/paid");
    assert_eq!(run_in(book.path(), &["why", asked]).status, Some(0));
    let book = book_of(&BOOK.replace("    1 can oil for 10.00\n", ""));
    let ran = run_in(book.path(), &["price", "toy"]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.err.contains("nothing says what its recipe needs of `oil` costs; enter the first purchase"), "{}", ran.err);
}

#[test]
fn its_page_tells_what_it_is_expected_to_take_and_each_number_leads_on() {
    let book = book_of(BOOK);
    let site = site_of(book.path(), &[]);
    assert!(numbers_that_lead(&site) > 100);
    let page = &site["price/toy.html"];
    for told in ["None was finished yet", "id=\"table-expected\"", "id=\"table-parts\"", "Toy, together", "Block, together"] {
        assert!(page.contains(told), "{told}: {page}");
    }
    assert!(site["prices.html"].contains("price&#x2f;toy.html") || site["prices.html"].contains("price/toy.html"));
    // A block is asked for nowhere, and what is asked for without a cost has no page either.
    assert!(!site.contains_key("price/block.html"));
    let book = book_of(&BOOK.replace("    1 can oil for 10.00\n", ""));
    assert!(!site_of(book.path(), &[]).contains_key("price/toy.html"));
}
