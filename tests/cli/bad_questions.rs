//! Questions that can't be answered: each is refused with a sentence that says why, status 2, nothing on standard output.

use crate::shop::{book, book_of, example, run_in};

/// Questions to the small book, and what the answer must hold.
const OF_THE_SMALL_BOOK: [(&[&str], &str); 32] = [
    (&["plan", "0", "pull-cart"], "`0` is no number of pieces"),
    (&["plan", "-3", "pull-cart"], "`-3` is no number of pieces"),
    (&["plan", "1.5", "pull-cart"], "`1.5` is no number of pieces"),
    (&["plan", "1000001", "pull-cart"], "1000001 pieces are more than a plan is made for"),
    (&["plan", "99999999999999999999999999999999", "pull-cart"], "is no number of pieces"),
    (&["plan", "pull-cart", "6"], "`pull-cart` is no number of pieces"),
    (&["plan", "6"], "6 of what?"),
    (&["plan", "6", "pull-cat"], "there is no product or material `pull-cat`; did you mean `pull-cart`?"),
    (&["plan", "6", "red-oak"], "`red-oak` is bought and has no recipe"),
    (&["plan", "6", "web-page"], "`web-page` is a channel, and no product or material"),
    (&["plan", "6", "rolling-toys"], "`rolling-toys` is a product line"),
    (&["plan", "6", "pull-cart", "--by", "2026-01-01"], "`--by 2026-01-01` is before 2026-04-01"),
    (&["plan", "6", "pull-cart", "--by", "2026-02-30"], "`--by 2026-02-30`"),
    (&["plan", "6", "pull-cart", "--by", "tomorrow"], "a date is written like `2026-03-02`"),
    (&["cost", "cart"], "there is no product, material or batch `cart`; did you mean `pull-cart`?"),
    (&["price"], "say which product"),
    (&["price", "pull-cat"], "there is no product `pull-cat`; did you mean `pull-cart`?"),
    (&["price", "PC-014"], "`PC-014` is a batch, and no product"),
    (&["price", "pull-cart", "--earn", "-5 per h"], "`--earn -5 per h`: what an hour is to earn is money"),
    (&["price", "pull-cart", "--margin", "-5%"], "`--margin -5%`: a margin is a part of the price below 100%"),
    (&["price", "pull-cart", "--earn", "-5"], "`--earn -5`: what an hour is to earn is money"),
    (&["price", "pull-cart", "--earn", "plenty"], "what an hour is to earn is money"),
    (&["price", "pull-cart", "--margin", "100%"], "a margin is a part of the price below 100%"),
    (&["price", "pull-cart", "--fixed", "-85"], "`--fixed -85`: a number has no sign"),
    (&["price", "pull-cart", "--hours", "99999h"], "more than 8784 hours"),
    (&["price", "pull-cart", "--year", "1999"], "the book begins on 2026-03-02, so it says nothing of 1999-12-31"),
    (&["price", "pull-cart", "--from", "2027-05-01"], "so it says nothing from 2027-05-01 on"),
    (&["pays", "--year", "2041"], "so it says nothing from 2041-01-01 on"),
    (
        &["trace", "order/W-0032"],
        "there is no lot, batch, order, receipt, supplier, buyer, channel or thing `order/W-0032`; did you mean `W-0031`?",
    ),
    (&["places", "bench"], "that place is home; `kerfbook stock` tells what is there"),
    (&["places", "web-page"], "`web-page` is a channel, and no place where goods lie"),
    (&["pays", "--from", "2026-05-01", "--to", "2026-04-01"], "`--to 2026-04-01` is before `--from 2026-05-01`"),
];

#[test]
fn a_bad_question_is_refused_with_the_reason() {
    let folder = book();
    for (question, answer) in OF_THE_SMALL_BOOK {
        let asked: Vec<&str> = question.iter().copied().chain(["--today", "2026-04-01"]).collect();
        let ran = run_in(folder.path(), &asked);
        assert_eq!(ran.status, Some(2), "{question:?}: {ran:?}");
        assert!(ran.err.contains(answer), "{question:?}: {}", ran.err);
        assert_eq!(ran.out, "", "{question:?}");
        assert!(!ran.err.contains("panicked"), "{question:?}: {}", ran.err);
    }
}

#[test]
fn a_product_without_a_recipe_is_told_what_is_missing() {
    let text = "shop \"S\"\n    currency USD\nplace bench \"B\"\n    home\nproduct sign \"Sign\"\nopened 2026-01-01\n    1 sign for 4.00\n";
    let folder = book_of(text);
    let ran = run_in(folder.path(), &["plan", "6", "sign", "--today", "2026-04-01"]);
    assert_eq!(ran.status, Some(2), "{ran:?}");
    assert!(ran.err.contains("`sign` has no recipe: say in `product sign` what it `needs`"), "{}", ran.err);
    // What is turned here has none either, and nobody sells it.
    let ran = run_in(&example(), &["plan", "5", "oak-peg", "--today", "2027-02-01"]);
    assert!(ran.status == Some(2) && ran.err.contains("`oak-peg` is made here without a recipe"), "{ran:?}");
}

#[test]
fn a_recipe_that_needs_itself_is_told_in_the_book() {
    let text = "shop \"S\"\n    currency USD\nplace bench \"B\"\n    home\nproduct box \"Box\"\n    needs 1 lid\nproduct lid \"Lid\"\n    needs 1 box\n\
                noted 2026-01-01 \"begun\"\n";
    let folder = book_of(text);
    let ran = run_in(folder.path(), &["plan", "6", "box", "--today", "2026-04-01"]);
    assert_eq!(ran.status, Some(1), "{ran:?}");
    assert!(ran.err.contains("error[K213]: `box` needs itself"), "{}", ran.err);
    assert_eq!(ran.out, "");
}

#[test]
fn a_day_before_the_book_is_no_day_by_which_something_is_built() {
    for (asked, told) in [
        (
            ["plan", "6", "pull-cart", "--by", "1999-03-01"].as_slice(),
            "the book begins on 2026-03-02, so nothing of it can be built by 1999-03-01",
        ),
        (&["why", "plan/6_pull-cart/by/1999-03-01/needed"], "`by/1999-03-01` is before the book begins"),
    ] {
        let ran = run_in(book().path(), &[asked, &["--today", "1999-02-01"]].concat());
        assert!(ran.status == Some(2) && ran.err.contains(told), "{ran:?}");
        assert_eq!(ran.out, "");
    }
}

#[test]
fn an_empty_book_has_nothing_to_plan_from() {
    let text = "shop \"S\"\n    currency USD\nplace bench \"B\"\n    home\nmaterial oak \"Oak\"\n    measured in bf\nproduct box \"Box\"\n    needs 1 bf oak\n";
    let folder = book_of(text);
    let ran = run_in(folder.path(), &["plan", "6", "box", "--today", "2026-04-01"]);
    assert_eq!(ran.status, Some(2), "{ran:?}");
    assert!(ran.err.contains("the book has no entry yet"), "{}", ran.err);
}

#[test]
fn a_plural_after_a_count_is_understood() {
    let ran = run_in(&example(), &["plan", "6", "pull-carts", "--today", "2027-02-01"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.out.contains("6 Pull-along cart would take"), "{}", ran.out);
}
