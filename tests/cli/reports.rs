//! The reports as the command prints them.

use std::fs;

use snapbox::{assert_data_eq, str};

use crate::shop::{book, book_with_a_form, example, run_in};

#[test]
fn each_report_in_json_is_as_its_printed_schema_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = example();
    let book = book.to_str().expect("text");
    let asked: [(&str, &[&str]); 20] = [
        ("cost", &["cost"]),
        ("stock", &["stock", "--on", "2026-06-30"]),
        ("pays", &["pays", "--year", "2026"]),
        ("year", &["year", "2026"]),
        ("proof", &["proof"]),
        ("check", &["check"]),
        ("stock", &["stock"]),
        ("why", &["why", "cost/pull-cart/2026"]),
        ("why", &["why", "stock/red-oak/2026-06-30"]),
        ("why", &["why", "year/2026/line-42", "--down-to", "4"]),
        ("places", &["places", "gift-shop"]),
        ("price", &["price", "pull-cart", "--earn", "25 per h", "--margin", "30%", "--fixed", "120.00", "--hours", "16h"]),
        ("price", &["price", "--earn", "25", "per", "h", "village-set"]),
        ("plan", &["plan", "6", "pull-cart", "40", "village-set", "--by", "2027-03-01"]),
        ("trace", &["trace", "25-0911"]),
        // Feet of 28 digits, and an amount of blades that was rounded to nine.
        ("trace", &["trace", "cutting-board"]),
        ("why", &["why", "plan/7_pull-cart/material/abrasive-disc/needed"]),
        ("trace", &["trace", "PC-022"]),
        ("figures", &["why"]),
        ("figures", &["why", "lot"]),
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
    let folded = run_in(folder.path(), &["why", "cost/pull-cart"]);
    assert_data_eq!(
        folded.out,
        str![[r#"
...
28.32  71.52    6 pull-cart, the sum of
28.32  71.52      6 pull-cart, which were made in batch PC-014 on 2026-03-09  [book.kerf:22] made 6 pull-cart  > kerfbook why lot/pull-cart/PC-014

"#]]
    );
    let ran = run_in(folder.path(), &["why", "cost/pull-cart", "--deep"]);
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
 28.32   71.52        what had gone into batch PC-014, the sum of  [book.kerf:19] built 2026-03-09 batch PC-014
 28.32   28.32          used 4.8 bf red-oak of the 20 that were bought on 2026-03-02, a part of  [book.kerf:20] used 4.8 bf red-oak
118.00  118.00            20 bf red-oak, which were bought on 2026-03-02  [book.kerf:18] 20 bf red-oak at 5.90
  0.00   43.20          108 own minutes of cutting at 24.00 an hour  [book.kerf:21] took 1h 48m cutting

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
fn without_a_figure_it_is_told_what_can_be_asked_of_this_book() {
    let folder = book();
    let list = run_in(folder.path(), &["why"]);
    assert_eq!((list.status, list.err.as_str()), (Some(0), ""));
    for words in
        ["What does it cost?\n", "kerfbook why cost/pull-cart/2026/materials\n", "kerfbook why batch/PC-014\n", "What have I?\n"]
    {
        assert!(list.out.contains(words), "{words}: {}", list.out);
    }
    // Each name that is listed can be asked.
    let names: Vec<&str> = list.out.lines().filter_map(|line| line.strip_prefix("    kerfbook why ")).collect();
    assert!(names.len() > 5, "{}", list.out);
    for name in names {
        assert_eq!(run_in(folder.path(), &["why", name]).status, Some(0), "{name}");
    }
    for begins in ["lot/red-oak", "lot/red-oak/", "lo"] {
        let some = run_in(folder.path(), &["why", begins]);
        assert!(some.out.contains("    kerfbook why lot/red-oak/2026-03-02"), "{some:?}");
        assert!(!some.out.contains("why cost"), "{}", some.out);
    }
    let json = run_in(folder.path(), &["why", "--as", "json"]);
    let report: serde_json::Value = serde_json::from_str(&json.out).expect("json");
    assert_eq!(report["report"], "figures");
    assert_eq!(report["groups"][0]["kind"], "cost");
}

#[test]
fn json_is_deep_and_text_folds_unless_asked_otherwise() {
    let folder = book();
    let told = |arguments: &[&str]| run_in(folder.path(), &[&["why", "cost/pull-cart"], arguments].concat()).out;
    let oak = "20 bf red-oak, which were bought on 2026-03-02";
    assert!(told(&["--as", "json"]).contains(oak) && told(&["--deep"]).contains(oak) && !told(&[]).contains(oak));
    let levels = told(&["--down-to", "3"]);
    assert!(
        levels.contains(
            "what had gone into batch PC-014  [book.kerf:19] built 2026-03-09 batch PC-014  > kerfbook why batch/PC-014"
        )
    );
    assert!(!levels.contains(oak) && told(&["--down-to", "5"]).contains(oak));
    let json = told(&["--as", "json", "--down-to", "2"]);
    assert!(
        json.contains("\"figure\": \"lot/pull-cart/PC-014\"") && json.contains("\"rule\": \"deeper\"") && !json.contains(oak)
    );
    assert_eq!(run_in(folder.path(), &["why", "cost/pull-cart", "--deep", "--down-to", "3"]).status, Some(2));
}

#[test]
fn a_part_of_a_cost_a_sale_and_nothing_are_told_in_words() {
    let folder = book();
    let answer = |figure: &str| {
        let ran = run_in(folder.path(), &["why", figure]);
        ran.out.lines().nth(3).unwrap_or_default().to_owned()
    };
    assert_eq!(
        answer("cost/pull-cart/own-time"),
        "In one pull-cart are 7.20 of own time: 43.20 in 6 pull-cart that were finished."
    );
    assert_eq!(answer("cost/pull-cart/wear"), "There is no wear in 6 pull-cart that were finished.");
    assert_eq!(
        answer("cost/pull-cart/minutes"),
        "In one pull-cart are 18 minutes of yours: 108 in 6 pull-cart that were finished."
    );
    assert_eq!(answer("batch/PC-014"), "Batch PC-014 cost 28.32 paid and 71.52 full and made 6 pull-cart.");
    assert_eq!(
        answer("stock/on-the-bench"),
        "Nothing is on the bench on 2026-03-20: every batch that was begun is done or given up."
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
    assert!(told("worth/pull-cart").contains("`cost/NAME[/YEAR][/PART]`"));
    assert!(told("cost/pul-cart").contains("no material or product `pul-cart`; did you mean `cost/pull-cart`?"));
    assert!(told("costs/pull-cart").contains("did you mean `cost/pull-cart`?"));
    assert!(told("cost/pull-cart/2026/material").contains("did you mean `cost/pull-cart/2026/materials`?"));
    assert!(told("cost/pull-cart/26").contains("`26` is no year; write four digits; did you mean `cost/pull-cart/2026`?"));
    assert!(told("cost/PC-014").contains("did you mean `batch/PC-014` or `lot/pull-cart/PC-014`?"));
    assert!(told("batch/PC014").contains("no batch `PC014`; did you mean `batch/PC-014`?"));
    assert!(told("pull-cart").contains("did you mean `cost/pull-cart`, `lot/pull-cart/PC-014` or `stock/pull-cart`?"));
    assert!(told("cost//x").contains("`kerfbook why` lists what can be asked"));
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

/// A form of an invented country: few lines, and what they lack is asked.
const NORTHMARK: &str = r#"
form = "northmark-trade"
year = 2026
title = "Northmark trader's sheet"
net_profit = "result"
cost_of_goods = "goods"

[[source]]
id = "own"
text = "made up for a test"
mark = "FROM MEMORY"

[[line]]
line = "A"
name = "takings"
part = "1"
label = "Takings"
feeds = ["goods", "shipping-charged", "owed-before", "till-over"]
takes = ["income"]
source = "own"

[[line]]
line = "B"
name = "given-back"
part = "1"
label = "Given back"
feeds = ["refunds"]
source = "own"

[[line]]
line = "u"
name = "stock-at-start"
part = "working"
label = "Stock at the start"
feeds = ["stock-at-start"]
source = "own"

[[line]]
line = "v"
name = "came-in"
part = "working"
label = "What came in"
feeds = ["purchases", "labor", "making-supplies", "other-costs"]
source = "own"

[[line]]
line = "w"
name = "stock-at-end"
part = "working"
label = "Stock at the end"
feeds = ["stock-at-end"]
source = "own"

[[line]]
line = "C"
name = "goods"
part = "1"
label = "Goods used"
adds = ["+stock-at-start", "+came-in", "-stock-at-end"]
source = "own"

[[line]]
line = "D"
name = "costs"
part = "1"
label = "All other costs"
feeds = [
    "fees", "commission", "fees-back", "contractors", "employees", "packing-used", "used-in-shop", "wear-used", "licences", "royalties",
    "till-short", "samples", "gifts",
]
takes = ["expense"]
also = ["other"]
source = "own"

[[line]]
line = "E"
name = "result"
part = "1"
label = "Result"
adds = ["+takings", "-given-back", "-goods", "-costs"]
source = "own"

[[asked]]
name = "carriage"
feeds = ["postage"]
question = "Is carriage a cost of the trade?"
rule = "the carriage of goods is for the warden of the market to judge"
answer_with = "answered …"
source = "own"

[[asked]]
name = "tools-and-house"
feeds = ["depreciation", "section-179", "tools-at-once", "miles", "home-workshop", "tax-allowance"]
question = "What of tools and house counts?"
rule = "so"
answer_with = "answered …"
source = "own"

[[asked]]
name = "hearth-duty"
always = true
question = "Was the hearth duty paid?"
rule = "so"
answer_with = "answered …"
source = "own"
"#;

#[test]
fn a_book_brings_the_form_of_a_country_that_the_program_does_not_know() {
    let folder = book_with_a_form();
    let book = folder.path().join("book.kerf");
    let text = fs::read_to_string(&book).expect("there");
    let text =
        text.replace("us-schedule-c", "northmark-trade").replace("    2 pull-cart\n", "    2 pull-cart\n    postage 5.00\n");
    fs::write(&book, text).expect("written");
    let forms = folder.path().join("forms/northmark-trade");
    fs::create_dir_all(&forms).expect("made");
    fs::write(forms.join("2026.toml"), NORTHMARK).expect("written");
    let without = run_in(folder.path(), &["year", "2026"]);
    assert!(without.err.contains("`forms/northmark-trade/figures.toml`"), "{}", without.err);
    fs::write(forms.join("figures.toml"), "form = \"northmark-trade\"\n").expect("written");
    // Two carts at 42.00; 4.8 bf at 5.90 made six, so two cost 9.44. The postage of 5.00 is asked: 84.00 − 9.44.
    let ran = run_in(folder.path(), &["year", "2026", "--as", "json"]);
    assert_eq!((ran.status, ran.err.as_str()), (Some(0), ""));
    let report: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    let lines = report["lines"].as_array().expect("lines");
    let line = |number: &str| lines.iter().find(|line| line["line"] == number).expect("the line")["cents"].clone();
    assert_eq!([line("A"), line("C"), line("D"), line("E")], ["84.00", "9.44", "0.00", "74.56"]);
    let questions = report["open_questions"].as_array().expect("questions");
    let asked = |name: &str| questions.iter().find(|question| question["name"] == name);
    let carriage = asked("carriage").expect("asked");
    assert_eq!(
        [&carriage["question"], &carriage["source"]],
        [
            "Is carriage a cost of the trade? On no line here, and not in the net profit: postage 5.00",
            "made up for a test (from memory; look it up before you rely on it)"
        ]
    );
    assert!(asked("hearth-duty").is_some() && asked("tools-and-house").is_none());
    let bridge = report["bridge"].as_array().expect("the bridge");
    assert!(bridge.iter().any(|step| step["name"] == "not on this form: carriage" && step["amount"] == "5.00"), "{bridge:#?}");
    let why = run_in(folder.path(), &["why", "year/2026/line-C"]);
    assert_eq!((why.status, why.out.contains("9.44")), (Some(0), true), "{}", why.err);
    let other = run_in(folder.path(), &["why", "year/2026/line-42"]);
    assert!(other.err.contains("of 2026 has no line `42`; its lines are A, B"), "{}", other.err);
    let fed = run_in(folder.path(), &["why", "year/2026/line-A"]);
    assert!(fed.out.contains("line A, ") && !fed.out.contains("full"), "{}", fed.out);
}
