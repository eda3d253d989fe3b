//! What only a look at the whole book shows, and what holds when something can't be read.

use crate::events::errors;
use crate::events::tests::{SHOP, read, read_files};

#[test]
fn an_entry_before_the_book_began_moves_nothing_and_names_the_likely_day() {
    let read = read("opened 2026-01-01\n    10 bf poplar for 30.00\nsold 2025-01-06 via web-page\n    1 pull-cart\n");
    let told = read.only(errors::BEFORE_THE_BOOK);
    assert!(told.message.contains("2026-01-01"));
    assert_eq!(told.fixes[0].replacement, "2026-01-06");
    assert_eq!(read.log.events.len(), 1);
    let cart = read.log.uncertain.keys().map(|thing| read.book.thing(*thing).named.name.as_str());
    assert_eq!(cart.collect::<Vec<_>>(), ["pull-cart"]);
}

#[test]
fn a_book_without_an_opening_begins_with_its_first_entry() {
    let read = read("found 2026-03-01\n    1 bf walnut\nfound 2025-03-01\n    1 bf walnut\n");
    read.is_clean();
    assert_eq!(read.log.first_day.map(|day| day.to_string()).as_deref(), Some("2025-03-01"));
}

#[test]
fn a_day_to_come_is_told_and_counts() {
    let book = [("shop.kerf", SHOP), ("a.kerf", "found 2026-03-02\n    1 bf walnut\n")];
    let read = read_files(&book, Some("2026-03-01"));
    read.only(errors::IN_THE_FUTURE);
    assert_eq!(read.log.events.len(), 1);
    let many = "found 2026-03-09\n    1 bf walnut\n".repeat(9);
    let told = read_files(&[("shop.kerf", SHOP), ("a.kerf", &many)], Some("2026-03-01"));
    assert!(told.only(errors::IN_THE_FUTURE).notes[0].starts_with("8 more"));
    read_files(&book, Some("2026-03-02")).is_clean();
    read_files(&book, None).is_clean();
    let two = "found 2026-03-09\n    1 bf walnut\nfound 2027-05-01\n    1 bf walnut\n    note \"late\"\n";
    let told = read_files(&[("shop.kerf", SHOP), ("a.kerf", two)], Some("2026-03-01"));
    let days: Vec<&str> = told.found.iter().map(|one| &one.message[..10]).collect();
    assert_eq!(days, ["2026-03-09", "2027-05-01"], "each its own day");
}

#[test]
fn last_years_number_in_january_is_told_by_its_neighbours() {
    let found = |day: &str| format!("found {day}\n    1 bf walnut\n");
    let year: String = ["2026-12-28", "2027-01-03", "2026-01-05", "2027-01-09"].map(found).concat();
    let read_year = read(&year);
    assert_eq!(read_year.only(errors::LAST_YEARS_NUMBER).fixes[0].replacement, "2027-01-05");
    let two_years: String = ["2026-01-03", "2026-01-05", "2027-01-09"].map(found).concat();
    read(&two_years).is_clean();
}

#[test]
fn the_same_seller_day_and_total_twice_is_told() {
    let bill = |lines: &str| format!("bought 2026-03-02 from \"a yard\"\n    3 bf poplar for 9.00\n{lines}");
    read(&[bill(""), bill("    sales-tax 0\n")].concat()).only(errors::SAME_TWICE);
    read(&[bill(""), bill("    note \"twice that day\"\n")].concat()).is_clean();
    read(&[bill(""), bill("    sales-tax 0.50\n")].concat()).is_clean();
    read(&[bill("    receipt \"1\"\n"), bill("    receipt \"2\"\n")].concat()).is_clean();
    read(&[bill("    receipt \"1\"\n"), bill("    receipt \"1\"\n")].concat()).only(errors::SAME_RECEIPT);
    let paid = "paid 2026-03-02 to \"a fair\"\n    85.00 for booth-fee\n";
    let again = "paid 2026-03-02 to \"a fair\"\n    85.00 for booth-fee on craft-fair\n";
    read(&[paid, again].concat()).only(errors::SAME_TWICE);
}

#[test]
fn a_bill_paid_as_a_new_expense_is_told_with_the_line_that_settles_it() {
    let bill = "bought 2026-06-05 from \"a yard\"\n    150.52 for shop-supplies\n    unpaid\n";
    let payment = "paid 2026-06-30 to \"a yard\"\n    150.52 for shop-supplies\n";
    let told = read(&[bill, payment].concat());
    assert_eq!(told.only(errors::PAID_AGAIN).fixes[0].replacement, "150.52 for bought 2026-06-05");
    let settled = "paid 2026-06-29 to \"a yard\"\n    150.52 for bought 2026-06-05\n";
    read(&[bill, settled, payment].concat()).is_clean();
    read(&["bought 2026-06-05 from \"a yard\"\n    150.52 for shop-supplies\n", payment].concat()).is_clean();
}

#[test]
fn at_where_for_was_meant_is_told_against_the_last_lot() {
    let bought = |day: &str, line: &str| format!("bought {day} from \"a yard\"\n    {line}\n");
    let first = bought("2026-03-02", "10 bf walnut at 11.00");
    let slip = read(&[first.clone(), bought("2026-03-09", "9 bf walnut at 103.50")].concat());
    let told = slip.only(errors::AT_OR_FOR);
    assert_eq!(told.fixes[0].replacement, "for 103.50");
    assert_eq!(slip.sources.text(told.fixes[0].span), "at 103.50");
    read(&[first.clone(), bought("2026-03-09", "9 bf walnut at 30.00")].concat()).is_clean();
    read(&[first, bought("2026-03-09", "9 bf walnut at 900.00")].concat()).only(errors::FAR_FROM_LAST);
}

#[test]
fn an_entry_without_lines_says_that_nothing_happens() {
    read("took-home 2026-12-20\n").only(errors::NO_LINES);
    read("worked 2026-12-20\n").only(errors::NO_LINES);
}

#[test]
fn a_file_that_isnt_there_is_a_mistake() {
    let entry = |path: &str| read(&format!("noted 2026-02-10 \"a note\"\n    file \"{path}\"\n"));
    entry("there/A-1.pdf").is_clean();
    entry("not-there/A-1.pdf").only(errors::FILE_MISSING);
}

#[test]
fn an_unread_line_makes_its_things_uncertain_and_its_sums_silent() {
    let read = read(
        "bought 2026-03-02 from \"a yard\" receipt \"A-1\"
    3 bf poplar for 9.00
    walnut, 2 boards and a bit, 22.00
    total 31.00
",
    );
    assert_eq!(read.found.len(), 1, "{:#?}", read.told());
    assert_eq!(read.log.events.len(), 1);
    let names: Vec<_> = read.log.uncertain.keys().map(|thing| read.book.thing(*thing).named.name.as_str()).collect();
    assert_eq!(names, ["walnut"]);
    assert_eq!(read.log.doubts.papers.len(), 1);
}

#[test]
fn a_damaged_head_keeps_its_lines_checked_and_moves_nothing() {
    let read = read("sold 2026-03-20 through web-page\n    2 pull-cart\n    1 vilage-set\n");
    assert!(read.log.events.is_empty());
    assert_eq!(read.found.len(), 2, "{:#?}", read.told());
    assert!(!read.log.uncertain.is_empty());
}

#[test]
fn a_book_of_another_cut_finds_the_same() {
    let one = "opened 2026-01-01\n    10 bf poplar for 30.00\n";
    let two = "bought 2026-03-02 from \"a yard\"\n    3 bf poplar at 3.00\n    total 9.01\n";
    let told = |files: &[(&str, &str)]| {
        let mut told = read_files(files, None).told();
        told.sort();
        told
    };
    let apart = told(&[("a.kerf", one), ("b.kerf", two), ("c.kerf", SHOP)]);
    assert_eq!(apart, told(&[("a.kerf", SHOP), ("b.kerf", &[two, one].concat())]));
    assert_eq!(apart.len(), 1);
}

#[test]
fn words_without_effect_where_they_stand_say_so() {
    let entries = [
        "counted 2026-12-31\n    1 EUR = 1.1\n    3 pull-cart\n",
        "opened 2026-01-01\n    3 bf walnut for 9.00, already recovered 1.00\n",
        "bought 2026-01-01 from \"a\"\n    1 band-saw for 899.00, lot X\n",
        "paid 2026-01-09 to \"a yard\"\n    9.00 for receipt \"A-1\"\n    unpaid\n",
        "sold 2026-01-09 via web-page\n    1 pull-cart\n    discount 5.00, shared by value\n",
    ];
    for entry in entries {
        read(entry).only(errors::NO_EFFECT_HERE);
    }
}
