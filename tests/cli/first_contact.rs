//! The first evening: what is said to somebody who has nothing yet, asks what a word means, or has a great many mistakes.

use std::fs;

use crate::shop::{book, book_of, example, run_in};

#[test]
fn whoever_has_nothing_yet_is_told_what_comes_next() {
    let empty = tempfile::tempdir().expect("a folder");
    let here = empty.path().display().to_string();
    let ran = run_in(empty.path(), &["check"]);
    assert_eq!(ran.status, Some(2));
    assert!(
        ran.err.contains("there is no book here or in a folder above") && ran.err.contains("`kerfbook new DIR`"),
        "{}",
        ran.err
    );
    let ran = run_in(empty.path(), &["check", "--book", &here]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.err.contains("no `*.kerf` file") && ran.err.contains("`kerfbook new DIR` starts a book"), "{}", ran.err);

    // One folder deeper, so that nothing beside the folder is looked at.
    let without_shop = tempfile::tempdir().expect("a folder");
    let inner = without_shop.path().join("book");
    fs::create_dir(&inner).expect("made");
    fs::write(inner.join("book.kerf"), "noted 2026-03-02 \"the saw is back\"\n").expect("written");
    let ran = run_in(&inner, &["check"]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.err.contains("with a `shop` entry"), "{}", ran.err);
    let ran = run_in(&inner, &["check", "--book", ".", "--today", "2026-12-31"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.out.contains("warning[K900]"), "{}", ran.out);

    let only_definitions = book_of("shop \"A\"\n    currency USD\nplace bench \"Bench\"\n");
    let ran = run_in(only_definitions.path(), &["check"]);
    assert_eq!(ran.status, Some(0));
    assert!(
        ran.out.contains("no entries in 1 file: no mistakes") && ran.out.contains("nothing has happened yet in this book"),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("`kerfbook help opened` shows how"), "{}", ran.out);
}

#[test]
fn a_form_is_explained_with_examples() {
    let folder = tempfile::tempdir().expect("a folder");
    let told = run_in(folder.path(), &["help", "bought"]);
    assert_eq!(told.status, Some(0));
    for part in [
        "`bought` begins an entry",
        "bought 2026-03-02 from ridgeline-lumber receipt \"A-1182\"",
        "        freight 18.00 shared by value",
        "examples:",
        "    bought 2026-03-02 from wheel-shop\n        2 bags wheel-40 for 23.00\n",
    ] {
        assert!(told.out.contains(part), "{part} in\n{}", told.out);
    }
    let told = run_in(folder.path(), &["help", "price"]).out;
    assert!(
        told.contains("kerfbook price")
            && told.contains("In a book, `price` begins a line below the head of: `changed`, `product`")
            || told.contains("`product`"),
        "{told}"
    );
    assert!(run_in(folder.path(), &["help", "material"]).out.contains("measured in bf"));
    let told = run_in(folder.path(), &["help", "bougth"]);
    assert_eq!(told.status, Some(2));
    assert!(told.err.contains("did you mean `bought`?"), "{}", told.err);
}

#[test]
fn of_ten_thousand_mistakes_the_first_fifty_are_told_and_all_are_counted() {
    let wrong: String = (0..10_000).map(|number| format!("noted 2026-03-02\n    2 cart-{number} $5\n")).collect();
    let folder = book_of(&format!("shop \"A\"\n    currency USD\nplace bench \"Bench\"\n{wrong}"));
    let ran = run_in(folder.path(), &["check", "--today", "2026-12-31"]);
    assert_eq!(ran.status, Some(1));
    assert_eq!(ran.out.matches("error[K").count(), 50);
    let count = |line: &str| line.split(' ').find_map(|word| word.parse::<usize>().ok());
    let more =
        ran.out.lines().find(|line| line.contains("more; `--as short` tells each in a line")).and_then(count).expect("a count");
    let short = run_in(folder.path(), &["check", "--today", "2026-12-31", "--as", "short"]);
    assert_eq!(short.out.matches(": error[K").count(), 50 + more);
    assert!(ran.out.contains(&format!("{} mistakes", 50 + more)) && more > 9_000, "{}", ran.out.lines().last().expect("a line"));
    let report = run_in(folder.path(), &["cost"]);
    assert_eq!((report.status, report.out.as_str()), (Some(1), ""));
    assert_eq!(report.err.matches("error[K").count(), 50);
    assert!(
        report.err.ends_with(&format!("{} mistakes in the book, so there is no report\n", 50 + more)),
        "{}",
        report.err.len()
    );
}

#[test]
fn every_line_for_editors_has_its_place_and_one_message() {
    let folder =
        book_of("shop \"A\"\n    currency USD\nplace bench \"漢é\"\nbought 2026-03-02\n    5 bf 漢é at $5\nnoted 2026\n");
    let ran = run_in(folder.path(), &["check", "--as", "short"]);
    let findings: Vec<&str> = ran.out.lines().filter(|line| line.contains("[K")).collect();
    assert!(findings.len() >= 2, "{}", ran.out);
    for line in findings {
        let parts: Vec<&str> = line.splitn(5, ':').collect();
        let [path, row, column, code, message] = parts.as_slice() else { panic!("{line}") };
        assert_eq!(*path, "book.kerf");
        assert!(row.parse::<usize>().is_ok() && column.parse::<usize>().is_ok(), "{line}");
        assert!(
            (code.starts_with(" error[K") || code.starts_with(" warning[K")) && code.ends_with(']') && !message.trim().is_empty(),
            "{line}"
        );
    }
    // The column counts letters, not bytes: the sign of the money is the 15th.
    assert!(ran.out.contains("book.kerf:5:16: error[K150]"), "{}", ran.out);
    assert!(!ran.out.contains('\u{1b}'));
    fs::write(folder.path().join("x.kerf"), "noted 2026-03-02 \"x\"\n").expect("written");
    assert!(run_in(folder.path(), &["schema", "check"]).out.contains("\"mended\""));
}

#[test]
fn words_of_the_trade_lead_to_the_form_and_the_reference_is_in_the_program() {
    let folder = tempfile::tempdir().expect("a folder");
    let told = |word: &str| run_in(folder.path(), &["help", word]).out;
    assert!(told("waste").contains("3.5 / 0.75 = 4.67 bf") && told("waste").contains("`needs` begins a line"));
    assert!(told("Consigned").contains("sent DATE to PLACE") && told("order").contains("for order \"D-1\""));
    assert!(told("bought").ends_with("`kerfbook help reference` is the whole reference\n"));
    assert_eq!(told("reference"), include_str!("../../grammar/README.md"));
}

#[test]
fn a_book_of_one_year_needs_no_year_and_one_of_several_says_which() {
    let folder = book();
    let text = fs::read_to_string(folder.path().join("book.kerf")).expect("read");
    let formed = text.replacen("    currency USD\n", "    currency USD\n    tax form us-schedule-c\n", 1);
    assert_ne!(text, formed);
    fs::write(folder.path().join("book.kerf"), formed).expect("written");
    let year = run_in(folder.path(), &["year", "--today", "2026-12-31"]);
    assert!(year.status == Some(0) && year.out.contains("2026"), "{year:?}");
    assert_eq!(year.out, run_in(folder.path(), &["year", "2026", "--today", "2026-12-31"]).out);
    let several = run_in(&example(), &["year", "--today", "2027-02-01"]);
    assert_eq!(several.status, Some(2), "{several:?}");
    assert!(several.err.contains("which year? the book's entries are of 2026 to 2027: `kerfbook year 2026`"), "{}", several.err);
}
