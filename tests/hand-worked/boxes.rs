//! Boxes of the form that want words: what the book knows of them.

use crate::year::{Year, shop, year_from};

fn boxes(year: &Year) -> Vec<(String, String)> {
    year.report().boxes.into_iter().map(|one| (one.line, one.answer)).collect()
}

fn said(boxes: &[(String, String)], line: &str) -> String {
    boxes.iter().find(|(of, _)| of == line).expect("a box").1.clone()
}

/// Sam is paid 2,000.00 for hours of 2026, as much as is to be reported from that year on; 41.5 miles are driven, which the form wants in whole miles.
const REST: &str = "\
product stool \"Stool\"
step cutting \"Cutting\"
helper sam \"Sam\"
    contractor
    costs 20.00 per h
opened 2025-01-01
    4 stool for 40.00
sold 2025-06-01 via counter
    1 stool at 30.00
worked 2026-03-01
    20h cutting by sam
worked 2026-03-02
    20h cutting by sam
worked 2026-03-03
    20h cutting by sam
worked 2026-03-04
    20h cutting by sam
worked 2026-03-05
    20h cutting by sam
drove 2026-04-01 41.5 mi
";

#[test]
fn a_box_says_what_the_book_knows() {
    let year = year_from(&format!("{}{REST}", shop("    cash basis\n    stock kept as supplies\n")), 2026);
    let boxes = boxes(&year);
    assert_eq!(said(&boxes, "F"), "cash");
    assert_eq!(said(&boxes, "33"), "cost");
    assert_eq!(said(&boxes, "34"), "no");
    assert_eq!(said(&boxes, "I"), "sam: 2000.00 paid, to be reported from 2000.00");
    assert_eq!(said(&boxes, "44a"), "42 mi");
}

#[test]
fn a_change_of_method_is_told_by_its_box_and_a_first_year_has_nothing_to_compare() {
    let book = format!("{}{REST}changed 2026-01-01 shop\n    stock kept as supplies\n", shop("    accrual basis\n"));
    assert_eq!(said(&boxes(&year_from(&book, 2026)), "34"), "yes: how stock is kept");
    let first = boxes(&year_from(&book, 2025));
    assert_eq!(said(&first, "34"), "not known: the book has no year before");
    assert_eq!(said(&first, "I"), "no helper of the book was paid as much as is to be reported");
    assert_eq!(said(&first, "F"), "accrual");
}
