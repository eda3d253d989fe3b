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
    assert_eq!(
        said(&boxes, "I"),
        "sam: 2000.00 paid, to be reported from 2000.00; royalties, and smaller payments for services, are not looked at"
    );
    assert_eq!(said(&boxes, "44a"), "42 mi");
}

#[test]
fn a_change_of_method_is_told_by_its_box_and_a_first_year_has_nothing_to_compare() {
    let book = format!("{}{REST}changed 2026-01-01 shop\n    stock kept as supplies\n", shop("    accrual basis\n"));
    assert_eq!(said(&boxes(&year_from(&book, 2026)), "34"), "yes: how stock is kept");
    let first = boxes(&year_from(&book, 2025));
    assert_eq!(said(&first, "34"), "not known: the book has no year before");
    assert_eq!(
        said(&first, "I"),
        "no helper of the book was paid as much as is to be reported; royalties, and smaller payments for services, are not looked at"
    );
    assert_eq!(said(&first, "F"), "accrual");
}

#[test]
fn the_box_of_payments_names_who_else_was_paid_as_much() {
    // The accountant gets 4,000.00 in two payments, the telephone 1,999.99; from 2,000.00 on it is to be reported.
    let paid = "expense books \"Bookkeeping\"\n    form line 17\nexpense phone \"Telephone\"\n    form line 25\n\
                paid 2026-02-01 to accountant\n    3000.00 for books\npaid 2026-08-01 to accountant\n    1000.00 for books\n\
                paid 2026-03-01 to telco\n    1999.99 for phone\npaid 2025-03-01 to lawyer\n    5000.00 for books\n";
    let year = year_from(&format!("{}{paid}", shop("    accrual basis\n")), 2026);
    assert_eq!(
        said(&boxes(&year), "I"),
        "no helper of the book was paid as much as is to be reported; for the owner, where it was for services or rent: accountant 4000.00 \
         by entries of the year; royalties, and smaller payments for services, are not looked at"
    );
}

#[test]
fn a_box_that_no_book_can_answer_is_left_to_the_owner_by_name() {
    let of = |paid: &str| {
        let paid = format!("expense phone \"Telephone\"\n    form line 25\npaid 2026-03-01 to telco\n    {paid} for phone\n");
        boxes(&year_from(&format!("{}{REST}{paid}", shop("    accrual basis\n    stock kept as inventory\n")), 2026))
    };
    // The time of 2,000.00 that sam was paid waits in no goods and is a loss.
    let loss = of("10.00");
    let owner: Vec<_> =
        loss.iter().filter(|(_, said)| said == "for the owner: not in the book").map(|(line, _)| line.as_str()).collect();
    assert_eq!(owner, ["G", "H", "J", "30a", "30b", "43", "44b", "44c", "45", "46", "47a", "47b"]);
    assert_eq!(said(&loss, "32"), "for the owner: not in the book; the year has a loss");
    let profit = boxes(&year_from(
        &format!(
            "{}product stool \"Stool\"\nopened 2026-01-01\n    1 stool for 9.00\nsold 2026-03-01 via counter\n    1 stool at 20.00\n",
            shop("")
        ),
        2026,
    ));
    assert_eq!(said(&profit, "32"), "not wanted: the year has no loss");
}

#[test]
fn the_area_of_a_simplified_home_workshop_is_in_its_box_and_another_is_the_owner_s() {
    let of = |switches: &str| said(&boxes(&year_from(&format!("{}{REST}", shop(switches)), 2026)), "30b");
    assert_eq!(of("    home workshop 200 sq ft, simplified\n"), "200 sq ft at the year's end");
    assert_eq!(of("    home workshop 200 sq ft, simplified, from 2027-01-01\n"), "for the owner: not in the book");
    assert_eq!(of("    home workshop 12% of house costs\n"), "for the owner: not in the book");
}
