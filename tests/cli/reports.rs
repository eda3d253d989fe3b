//! The reports as the command prints them.

use snapbox::{assert_data_eq, str};

use crate::shop::{book, example, run_in};

#[test]
fn each_report_in_json_is_as_its_printed_schema_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = example();
    let book = book.to_str().expect("text");
    let asked: [(&str, &[&str]); 7] = [
        ("cost", &["cost"]),
        ("stock", &["stock", "--on", "2026-06-30"]),
        ("pays", &["pays", "--year", "2026"]),
        ("year", &["year", "2026"]),
        ("proof", &["proof"]),
        ("check", &["check"]),
        ("stock", &["stock"]),
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
    let folder = tempfile::tempdir().expect("a folder");
    let book = example();
    let ran = run_in(folder.path(), &["year", "2031", "--book", book.to_str().expect("text")]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(1), ""));
    assert!(ran.err.contains("`forms/us-schedule-c/2031.toml` is missing"), "{}", ran.err);
}
