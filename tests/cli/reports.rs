//! The reports as the command prints them.

use std::fs;

use snapbox::{assert_data_eq, str};

use crate::shop::{book, book_with_a_form, example, run_in};

#[test]
fn each_report_in_json_is_as_its_printed_schema_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = example();
    let book = book.to_str().expect("text");
    let asked: [(&str, &[&str]); 10] = [
        ("cost", &["cost"]),
        ("stock", &["stock", "--on", "2026-06-30"]),
        ("pays", &["pays", "--year", "2026"]),
        ("year", &["year", "2026"]),
        ("proof", &["proof"]),
        ("check", &["check"]),
        ("stock", &["stock"]),
        ("why", &["why", "cost/pull-cart/2026"]),
        ("why", &["why", "stock/red-oak/2026-06-30"]),
        ("why", &["why", "year/2026/line-42", "--levels", "4"]),
    ];
    for (name, arguments) in asked {
        let schema = run_in(folder.path(), &["schema", name]);
        let schema: serde_json::Value = serde_json::from_str(&schema.out).expect("a schema");
        let mut arguments = arguments.to_vec();
        arguments.extend(["--book", book, "--today", "2027-02-01", "--as", "json"]);
        let ran = run_in(folder.path(), &arguments);
        assert_eq!(ran.status, Some(0), "{arguments:?}: {}", ran.err);
        let report: serde_json::Value = serde_json::from_str(&ran.out).expect("json");
        let validator = jsonschema::validator_for(&schema).expect("a schema");
        let faults: Vec<String> =
            validator.iter_errors(&report).map(|fault| format!("{}: {fault}", fault.instance_path())).collect();
        assert!(faults.is_empty(), "{name}: {faults:#?}");
        assert!(ran.out.starts_with(&format!("{{\n  \"report\": \"{name}\",\n  \"version\": 1,\n")), "{name}");
    }
}

#[test]
fn the_cost_of_a_piece_is_told_as_a_sentence_and_a_table() {
    let folder = book();
    let ran = run_in(folder.path(), &["cost", "pull-cart"]);
    assert_eq!((ran.status, ran.err.as_str()), (Some(0), ""));
    assert_data_eq!(
        ran.out,
        str![[r#"
What does it cost?
Wren & Gable Woodshop, 2026-03-02 to 2026-03-20, in USD

One Pull-along cart costs $4.72 to lay out and $11.92 with your own time and overhead; it takes
18 min of yours.

...
"#]]
    );
}

#[test]
fn a_cost_is_taken_apart_down_to_the_lines_of_the_book() {
    let folder = book();
    let ran = run_in(folder.path(), &["why", "cost/pull-cart"]);
    assert_eq!((ran.status, ran.err.as_str()), (Some(0), ""));
    assert_data_eq!(
        ran.out,
        str![[r#"
Why cost/pull-cart?
Wren & Gable Woodshop, 2026-03-02 to 2026-03-20, in USD

What was finished cost 4.72 paid and 11.92 full each: 6 pull-cart for 28.32 paid and 71.52 full.

  paid    full
  4.72   11.92  one pull-cart, of all that were finished, the whole over the units
 28.32   71.52    6 pull-cart, the sum of
 28.32   71.52      6 pull-cart, which were made in batch PC-014 on 2026-03-09, the sum of  [book.kerf:22] made 6 pull-cart
 28.32   71.52        what batch PC-014 had collected, the sum of  [book.kerf:19] built 2026-03-09 batch PC-014
 28.32   28.32          used 4.8 bf red-oak of the 20 that were bought on 2026-03-02, a part of  [book.kerf:20] used 4.8 bf red-oak
118.00  118.00            20 bf red-oak, which were bought on 2026-03-02  [book.kerf:18] 20 bf red-oak at 5.90
  0.00   43.20          108 own minutes of cutting  [book.kerf:21] took 1h 48m cutting

"#]]
    );
    let ran = run_in(folder.path(), &["why", "stock/red-oak"]);
    assert_data_eq!(
        ran.out,
        str![[r#"
...
 89.68   89.68  15.2 bf red-oak, the sum of
 89.68   89.68    15.2 bf red-oak at bench, the sum of
118.00  118.00      20 bf red-oak, which were bought on 2026-03-02  [book.kerf:18] 20 bf red-oak at 5.90
-28.32  -28.32      2026-03-09 less 4.8 that left bench  [book.kerf:20] used 4.8 bf red-oak

"#]]
    );
}

#[test]
fn what_is_no_figure_is_told_with_the_names_that_are() {
    let folder = book();
    let told = |figure: &str| {
        let ran = run_in(folder.path(), &["why", figure]);
        assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""), "{figure}");
        ran.err
    };
    assert!(told("price/pull-cart").contains("`cost/NAME/YEAR`"));
    assert!(told("cost/pul-cart").contains("did you mean `pull-cart`?"));
    assert!(told("cost/pull-cart/26").contains("`26` is no year"));
    assert!(told("stock/red-oak/2026-02-30").contains("28 days"));
    assert!(told("stock/red-oak/2020-06-30").contains("the book begins on 2026-03-02"));
    assert!(told("year/2026/line-42").contains("no tax year"));
}

#[test]
fn a_name_that_looks_like_markup_is_shown_as_it_is() {
    let folder = book();
    let page = run_in(folder.path(), &["stock", "--as", "html"]).out;
    assert!(page.contains("Red oak &lt;script&gt;"), "escaped");
    assert!(!page.contains("<script"), "no script");
}

#[test]
fn stock_on_a_day_knows_nothing_of_later_days() {
    let folder = book();
    let quantity = |on: &str| {
        let ran = run_in(folder.path(), &["stock", "--on", on, "--as", "json"]);
        let report: serde_json::Value = serde_json::from_str(&ran.out).expect("json");
        report["items"]
            .as_array()
            .expect("a list")
            .iter()
            .find(|item| item["name"] == "pull-cart")
            .map(|item| item["quantity"].clone())
    };
    assert_eq!(quantity("2026-03-08"), None);
    assert_eq!(quantity("2026-03-19"), Some("6".into()));
    assert_eq!(quantity("2026-03-20"), Some("4".into()));
}

#[test]
fn a_tax_year_says_first_that_it_is_no_advice() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = example();
    let ran = run_in(folder.path(), &["year", "2026", "--book", book.to_str().expect("text"), "--today", "2027-02-01"]);
    assert_eq!((ran.status, ran.err.as_str()), (Some(0), ""));
    let (before, _) = ran.out.split_once("The form's lines").expect("the lines");
    assert!(before.contains("A worksheet, not advice") && before.contains("tax year 2026"), "{before}");
}

#[test]
fn a_year_without_form_data_says_which_file_is_missing() {
    let folder = book_with_a_form();
    let book = folder.path().join("book.kerf");
    let of_2031 = fs::read_to_string(&book).expect("there").replace("2026-", "2031-");
    fs::write(&book, of_2031).expect("written");
    let ran = run_in(folder.path(), &["year", "2031"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(1), ""));
    assert!(ran.err.contains("`forms/us-schedule-c/2031.toml` is missing"), "{}", ran.err);
}
