//! Mistakes of the tax year, with the place and the correction.

use crate::year::{shop, year_from, year_with};
use kerfbook::year::Forms;

fn expense(lines: &str) -> String {
    format!("{}expense phone \"Telephone\"\n{lines}paid 2026-03-01 to telco\n    10.00 for phone\n", shop("    accrual basis\n"))
}

#[test]
fn a_year_without_data_names_the_file_that_is_missing() {
    let year = year_from(&expense("    form line 25\n"), 2019);
    assert!(year.year.is_none());
    assert_eq!(
        year.told(),
        ["K501 there is no data for the form `us-schedule-c` of 2019: the file `forms/us-schedule-c/2019.toml` is missing"]
    );
}

#[test]
fn a_book_without_a_form_is_told_so() {
    let text = expense("    form line 25\n").replace("    tax form us-schedule-c\n", "");
    let year = year_from(&text, 2026);
    assert!(year.told()[0].starts_with("K500 "));
}

#[test]
fn an_unknown_line_is_told_with_near_names_and_the_corrected_line() {
    let year = year_from(&expense("    form line 250\n"), 2026);
    assert_eq!(year.told(), ["K504 the form `us-schedule-c` of 2026 has no line `250` for `phone`"]);
    let told = &year.found[0];
    assert_eq!(year.compiled.sources.text(told.primary.span), "250");
    assert_eq!(told.fixes.first().map(|fix| fix.replacement.as_str()), Some("25"));
}

#[test]
fn a_line_is_named_by_its_number_or_by_what_it_is() {
    for (written, number) in
        [("25", "25"), ("utilities", "25"), ("other", "48"), ("27b", "48"), ("48", "48"), ("interest", "16b")]
    {
        let year = year_from(&expense(&format!("    form line {written}\n")), 2026);
        assert_eq!(year.line(number), "10.00", "{written}");
    }
}

#[test]
fn a_line_that_the_program_figures_is_refused() {
    for line in ["2", "3", "4", "5", "7", "13", "27b-", "28", "29", "30", "31", "35", "36", "37", "38", "39", "40", "41", "42"] {
        let year = year_from(&expense(&format!("    form line {}\n", line.trim_end_matches('-'))), 2026);
        match line {
            "27b-" => assert!(year.found.is_empty()),
            _ => assert!(year.told()[0].starts_with("K505 "), "{line}: {:?}", year.told()),
        }
    }
}

#[test]
fn an_expense_on_a_line_for_income_is_refused() {
    let year = year_from(&expense("    form line 6\n"), 2026);
    assert!(year.told()[0].starts_with("K506 "), "{:?}", year.told());
}

#[test]
fn a_house_cost_on_another_line_would_count_twice() {
    let year = year_from(&expense("    form line 25\n    counts as house cost\n"), 2026);
    assert!(year.told()[0].starts_with("K507 "), "{:?}", year.told());
    assert_eq!(year.found[0].fixes.first().map(|fix| fix.replacement.as_str()), Some("30"));
}

#[test]
fn tools_that_no_rule_covers_are_told() {
    let tool = |lines: &str| {
        format!("{}tool saw \"Saw\"\n{lines}bought 2026-03-01 from dealer\n    1 saw for 900.00\n", shop("    accrual basis\n"))
    };
    assert!(year_from(&tool("    recovered over 9 years\n"), 2026).told()[0].starts_with("K509 "));
    assert!(year_from(&tool("    expensed under section 179\n    business use 50%\n"), 2026).told()[0].starts_with("K510 "));
    assert!(year_from(&tool("    expensed at once\n"), 2026).told()[0].starts_with("K508 "));
}

#[test]
fn a_book_s_own_form_is_used_and_a_wrong_one_is_named() {
    let own = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/report-templates/forms/us-schedule-c/2026.toml"))
        .expect("the file");
    let mut forms = Forms::built_in();
    forms.add("us-schedule-c/2027.toml", &own.replace("year = 2026", "year = 2027"));
    let text = expense("    form line 25\n").replace("2026", "2027");
    let year = year_with(&text, 2027, &forms);
    // The form is there, and its rates are still missing.
    assert!(year.told().iter().all(|told| told.starts_with("K502 ")), "{:?}", year.told());
    assert_eq!(year.year.as_ref().and_then(|year| year.line("25")).map(|line| line.cents.to_string()).as_deref(), Some("10"));
    forms.add("us-schedule-c/2028.toml", "form = 3");
    assert!(
        year_with(&text, 2027, &forms)
            .told()
            .iter()
            .any(|told| told.starts_with("K503 `forms/us-schedule-c/2028.toml` can't be used"))
    );
}
