//! What would explain a total that its lines don't come to.

use super::read;
use crate::events::errors::{TENDER_DIFFERS, TOTAL_DIFFERS};

/// The corrections that the finding of an entry offers, as `written -> meant`, and then its notes.
fn explained(entry: &str) -> Vec<String> {
    let read = read(entry);
    let told = read.found.iter().find(|one| [TOTAL_DIFFERS, TENDER_DIFFERS].contains(&one.code)).expect("a total that differs");
    let fixes = told.fixes.iter().map(|fix| format!("{} -> {}", read.sources.text(fix.span), fix.replacement));
    fixes.chain(told.notes.iter().cloned()).collect()
}

fn bill(lines: &str) -> Vec<String> {
    explained(&format!("bought 2026-03-02 from \"a yard\"\n    {}\n", lines.replace(" | ", "\n    ")))
}

fn sale(lines: &str) -> Vec<String> {
    explained(&format!("sold 2026-03-02 via craft-fair\n    {}\n", lines.replace(" | ", "\n    ")))
}

#[test]
fn swapped_digits_are_shown_where_they_may_be() {
    let found = bill("10 bf walnut at 11.20 | sales-tax 6.72 | total 118.27");
    assert_eq!(found, ["118.27 -> 118.72", "6.72 -> 6.27", "reckoned as goods and sums 112.00, sales tax 6.72"]);
    let found = bill("10 bf walnut at 11.20 | freight 8.40 | total 116.80");
    assert_eq!(found, ["8.40 -> 4.80", "reckoned as goods and sums 112.00, freight 8.40"]);
    // A count as well as a price; a discount is taken off.
    assert_eq!(bill("12 bf walnut at 11.00 | total 231.00"), ["12 -> 21"]);
    let found = bill("12 bf walnut at 11.00 | discount 5.30 | total 128.50");
    assert_eq!(found, ["5.30 -> 3.50", "reckoned as goods and sums 132.00, less discount 5.30"]);
}

#[test]
fn a_point_that_slipped_and_a_price_for_the_whole_line_are_shown() {
    assert_eq!(
        bill("10 bf walnut at 11.20 | 7 ea cotton-bag for 7.70 | total 189.00").first().map(String::as_str),
        Some("7.70 -> 77.00")
    );
    let found = bill("3 bf walnut for 11.20 | total 33.60");
    assert_eq!(found, ["for 11.20 -> at 11.20"]);
    let found = bill("3 bf walnut at 33.60 | total 33.60");
    assert_eq!(found, ["at 33.60 -> for 33.60"]);
}

#[test]
fn a_line_too_many_and_one_that_lacks_are_told() {
    let found = bill("10 bf walnut at 11.20 | freight 6.00 | total 112.00");
    assert_eq!(found.last().map(String::as_str), Some("without `freight 6.00` the total would be right"));
    let found = bill("10 bf walnut at 11.20 | 3 ea cotton-bag for 3.31 | total 118.62");
    assert_eq!(found.last().map(String::as_str), Some("with `3 ea cotton-bag for 3.31` twice the total would be right"));
    let found = bill("10 bf walnut at 11.20 | freight 6.00 | total 125.08");
    assert_eq!(
        found.last().map(String::as_str),
        Some("what may lack: `sales-tax 7.08`, or something for 7.08 that no line says")
    );
    let found = bill("10 bf walnut at 11.20 | total 108.64");
    assert_eq!(found, ["what may lack: `discount 3.36`"]);
}

#[test]
fn what_came_in_at_a_sale_is_explained_too() {
    let found = sale("2 pull-cart at 18.00 | sales-tax 8% included | cash 38.88");
    assert_eq!(found.first().map(String::as_str), Some("sales-tax 8% included -> sales-tax 2.88"));
    let found = sale("2 pull-cart at 18.00 | cash 6.00 | card 39.00");
    assert!(!found.iter().any(|one| one.contains("->")), "{found:?}");
    let found = sale("2 pull-cart at 18.00 | cash 6.00 | card 300.00");
    assert_eq!(found.first().map(String::as_str), Some("300.00 -> 30.00"));
    // No figure that is written otherwise begins with a nought.
    let found = sale("2 pull-cart at 18.00 | cash 60.00 | card 30.00");
    assert_eq!(found.first().map(String::as_str), Some("60.00 -> 6.00"));
}
