//! Exit status 0 without mistakes, 1 with mistakes in the book, 2 for wrong use; and on which stream it is told.

use std::fs;
use std::process::Stdio;

use snapbox::{assert_data_eq, str};

use crate::shop::{book, book_of, book_with_a_form, book_with_a_mistake, command, names, run_in};

#[test]
fn a_book_without_mistakes_has_status_0_and_its_proof() {
    let folder = book();
    let ran = run_in(folder.path(), &["check", "--today", "2026-04-01"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert_data_eq!(
        ran.out,
        str![[r#"
3 entries in 1 file: no mistakes, no warnings
the proof: 161.200000 USD came in = 23.840000 went out + 137.360000 on hand, difference 0.000000 in each of nine figures

"#]]
    );
    assert_eq!(ran.err, "");
}

#[test]
fn a_mistake_has_status_1_and_stands_in_each_form() {
    let folder = book_with_a_mistake();
    let text = run_in(folder.path(), &["check", "--today", "2026-04-01"]);
    assert_eq!(text.status, Some(1), "{text:?}");
    assert!(text.out.starts_with("error[K"), "{}", text.out);
    assert!(text.out.contains("book.kerf:20:17") && text.out.contains("used 4.8 bf red-oak"), "{}", text.out);
    assert!(text.out.ends_with("the proof waits until the mistakes are mended\n"), "{}", text.out);

    let short = run_in(folder.path(), &["check", "--today", "2026-04-01", "--as", "short"]);
    assert_eq!(short.status, Some(1));
    assert!(short.out.starts_with("book.kerf:20:17: error[K"), "{}", short.out);

    let json = run_in(folder.path(), &["check", "--today", "2026-04-01", "--as", "json"]);
    assert_eq!(json.status, Some(1));
    let report: serde_json::Value = serde_json::from_str(&json.out).expect("json");
    assert_eq!(
        (&report["report"], &report["mistakes"], &report["proof"]),
        (&"check".into(), &1.into(), &serde_json::Value::Null)
    );
    assert_eq!(report["findings"][0]["line"], 20);
}

#[test]
fn a_book_with_a_mistake_has_no_report() {
    let folder = book_with_a_mistake();
    for report in ["cost", "stock", "pays", "proof"] {
        let ran = run_in(folder.path(), &[report, "--out", "report.txt"]);
        assert_eq!((ran.status, ran.out.as_str()), (Some(1), ""), "{report}: {ran:?}");
        assert!(
            ran.err.contains("error[K") && ran.err.ends_with("one mistake in the book, so there is no report\n"),
            "{}",
            ran.err
        );
    }
    let ran = run_in(folder.path(), &["site", "--out", "pages"]);
    assert_eq!(ran.status, Some(1));
    assert_eq!(names(folder.path()), ["book.kerf"]);
}

#[test]
fn wrong_use_has_status_2_and_says_what_was_meant() {
    let folder = book();
    let empty = tempfile::tempdir().expect("a folder");
    let elsewhere = empty.path().display().to_string();
    let cases: [(&[&str], &str); 14] = [
        (&["chekc"], "'check'"),
        (&[], "Usage: kerfbook"),
        (&["cost", "pul-cart"], "did you mean `pull-cart`?"),
        (&["cost", "--from", "2026-02-30"], "`--from 2026-02-30`"),
        (&["cost", "--from", "2026-03-02", "--to", "2026-03-01"], "is before"),
        (&["pays", "--year", "26"], "`26` is no year"),
        (&["pays", "--as", "pdf"], "pdf"),
        (&["stock", "--book", &elsewhere], "no `*.kerf` file"),
        (&["stock", "--book", "nowhere"], "there is no folder `nowhere`"),
        (&["schema", "costs"], "did you mean `cost`?"),
        (&["help", "K999"], "no code"),
        (&["stock", "--on", "2025-12-31"], "the book begins on 2026-03-02, so it says nothing of 2025-12-31"),
        (&["pays", "--from", "2028-01-01"], "the last entry of the book is of 2026-03-"),
        (&["cost", "--templates", "own"], "--as html"),
    ];
    for (arguments, told) in cases {
        let ran = run_in(folder.path(), arguments);
        assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""), "{arguments:?}: {ran:?}");
        assert!(ran.err.contains(told), "{arguments:?}: {}", ran.err);
    }
    for arguments in [&["chekc"] as &[&str], &["pays", "--as", "pdf"], &["plan"]] {
        let ran = run_in(folder.path(), arguments);
        assert!(ran.err.starts_with("kerfbook: ") && !ran.err.contains("error:"), "{}", ran.err);
    }
    for year in ["1999", "2150"] {
        let ran = run_in(book_with_a_form().path(), &["year", year]);
        assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""), "{ran:?}");
        assert_eq!(ran.err, format!("kerfbook: the book says nothing of {year}; its entries are of 2026\n"));
    }
    let ran = run_in(empty.path(), &["check"]);
    assert_eq!(ran.status, Some(2));
    assert!(ran.err.contains("`kerfbook new DIR`"), "{}", ran.err);
}

#[test]
fn a_book_without_a_shop_says_so() {
    let folder = book_of("# nothing yet\n");
    let ran = run_in(folder.path(), &["check", "--book", "."]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    assert!(ran.out.starts_with("warning[K900]: the book has no `shop`\n"), "{}", ran.out);
    assert!(ran.out.contains("no definition and no entry stands in the book yet"), "{}", ran.out);
    let ran = run_in(folder.path(), &["stock", "--book", "."]);
    assert!(ran.out.starts_with("What have I?\nA book without a `shop`, in USD\n"), "{}", ran.out);
}

#[test]
fn help_and_version_are_answers() {
    let folder = tempfile::tempdir().expect("a folder");
    for arguments in
        [&["--help"] as &[&str], &["help"], &["help", "cost"], &["cost", "--help"], &["--version"], &["help", "k203"]]
    {
        let ran = run_in(folder.path(), arguments);
        assert_eq!((ran.status, ran.err.as_str()), (Some(0), ""), "{arguments:?}");
        assert!(!ran.out.is_empty());
    }
}

#[test]
fn a_folder_where_none_is_taken_is_told_to_be_said_with_book() {
    let folder = book();
    std::fs::create_dir(folder.path().join("my shop")).expect("made");
    for arguments in [&["check", "my shop"] as &[&str], &["stock", "--on", "2026-03-02", "my shop"], &["year", "2026", "my shop"]]
    {
        let ran = run_in(folder.path(), arguments);
        assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""), "{ran:?}");
        let lines: Vec<&str> = ran.err.lines().collect();
        assert!(lines[0].starts_with("kerfbook: ") && lines[0].contains("'my shop'"), "{}", ran.err);
        assert_eq!(lines[1], "a book's folder is said with `--book 'my shop'`", "{}", ran.err);
    }
    // No folder, or a command without a book.
    for arguments in [&["check", "elsewhere"] as &[&str], &["new", "a", "my shop"], &["schema", "cost", "my shop"]] {
        let ran = run_in(folder.path(), arguments);
        assert_eq!(ran.status, Some(2), "{ran:?}");
        assert!(!ran.err.contains("--book"), "{}", ran.err);
    }
}

#[test]
fn the_book_is_found_from_a_folder_below_it() {
    let folder = book();
    let below = folder.path().join("receipts/2026");
    std::fs::create_dir_all(&below).expect("made");
    assert_eq!(run_in(&below, &["check"]).status, Some(0));
}

#[test]
fn where_there_is_no_terminal_there_are_no_colours() {
    let folder = book_with_a_mistake();
    for arguments in [&["check"] as &[&str], &["cost"], &["help"]] {
        let ran = run_in(folder.path(), arguments);
        assert!(!ran.out.contains('\u{1b}') && !ran.err.contains('\u{1b}'), "{arguments:?}");
    }
}

#[test]
fn a_reader_that_stops_reading_is_no_fault() {
    let entries: String = (0..2_000).map(|number| format!("noted 2026-03-02 \"{number}\"\nbougth 2026-03-02\n")).collect();
    let folder = book_of(&format!("shop \"Wren & Gable Woodshop\"\n{entries}"));
    let mut child = command(folder.path()).arg("check").stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("runs");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("ends");
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
}

/// A bill of 2025 that is paid in 2027, and a tool whose table runs over the years after.
const COUNTS_LATER: &str = "\
shop \"Wren & Gable\"
    currency USD
    tax form us-schedule-c
    cash basis
    cents
place bench \"Bench\"
    home
expense fees \"Fees\"
    form line 17
tool saw \"Band saw\"
    recovered over 3 years
    no bonus
bought 2025-03-01 from the-yard
    12.00 for fees
    paid 4.00 on 2024-12-01
    paid 8.00 on 2026-02-01
bought 2025-04-01 from the-yard
    1 saw for 900.00
";

#[test]
fn a_year_without_entries_is_figured_where_something_counts_in_it() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("book.kerf"), COUNTS_LATER).expect("written");
    let ran = |year: &str| run_in(folder.path(), &["year", year, "--as", "json", "--today", "2029-01-01"]);
    for (year, paid) in [("2024", "4.00"), ("2026", "8.00")] {
        let one = ran(year);
        assert_eq!((one.status, one.err.as_str()), (Some(0), ""), "{one:?}");
        let report: serde_json::Value = serde_json::from_str(&one.out).expect("json");
        let lines = report["lines"].as_array().expect("lines");
        let line = |number: &str| lines.iter().find(|line| line["line"] == number).expect("a line")["cents"].clone();
        assert_eq!(line("17"), paid);
        assert!(one.out.contains(&format!("the book has no entry in {year}")), "{}", one.out);
        let why = run_in(folder.path(), &["why", &format!("year/{year}/line-42"), "--today", "2029-01-01"]);
        assert_eq!(why.status, Some(0), "{why:?}");
        // Of 900.00 the second year of the table takes 44.45%.
        assert_eq!(line("13"), if year == "2026" { "400.05" } else { "0.00" });
    }
    // The table ends with 2028, for which there is no data yet.
    assert!(ran("2028").err.contains("forms/us-schedule-c/2028.toml"), "{:?}", ran("2028"));
    for year in ["2023", "2029"] {
        let refused = ran(year);
        assert_eq!(refused.status, Some(2));
        let told = format!(
            "kerfbook: the book says nothing of {year}; its entries are of 2025, and what they hold counts in 2024 to 2028\n"
        );
        assert_eq!(refused.err, told);
    }
}
