//! What a year needs of its form's data: told where it is missing, asked where a year has no form, and quoted where it was used.

use crate::year::{Year, shop, year_from, year_with};
use kerfbook::year::Forms;

const FIGURES: &str = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/report-templates/forms/us-schedule-c/figures.toml"));

/// The built-in forms with figures that lack a table, from its head to the empty line after it.
fn without(head: &str) -> Forms {
    let from = FIGURES.find(head).expect("the table");
    let to = FIGURES[from..].find("\n\n").map_or(FIGURES.len(), |end| from + end);
    let mut forms = Forms::built_in();
    forms.add("us-schedule-c/figures.toml", &format!("{}{}", &FIGURES[..from], &FIGURES[to..]));
    assert_eq!(forms.faults(), []);
    forms
}

const WORK: &str = "income work \"Work\"\n    form line 1\nreceived 2026-06-01 from a-buyer\n    9000.00 for work\n";

fn saw(year: i32) -> String {
    format!(
        "{}{WORK}tool saw \"Saw\"\n    expensed under section 179\nbought {year}-03-02 from dealer\n    1 saw for 5000.00\n",
        shop("")
    )
}

#[test]
fn section_179_without_its_limits_names_the_file_and_the_year() {
    let forms = without("[[section_179]]\nyear = 2026");
    let told = [
        "K502 `forms/us-schedule-c/figures.toml` has no `[[section_179]]` for 2026, and this tool is expensed under section 179",
    ];
    assert_eq!(year_with(&saw(2026), 2026, &forms).told(), told);
    // A year later it is still the year in which it was taken that lacks them.
    assert_eq!(
        year_with(&saw(2025), 2026, &without("[[section_179]]\nyear = 2025")).told(),
        told.map(|one| one.replace("2026", "2025"))
    );
    // A year in which none is taken and nothing is carried into needs none: of 5,000 in 2024, 9,000 of income hold all.
    let settled = saw(2024).replace("received 2026", "received 2024");
    let year = year_with(&settled, 2026, &forms);
    assert_eq!(year.told(), Vec::<String>::new());
}

#[test]
fn section_179_without_the_use_that_it_asks_for_names_the_file() {
    let told =
        "K502 `forms/us-schedule-c/figures.toml` has no `[section_179_use_above]`, and this tool is expensed under section 179";
    assert_eq!(year_with(&saw(2026), 2026, &without("[section_179_use_above]")).told(), [told]);
}

#[test]
fn a_table_without_the_part_of_mid_quarter_names_the_file() {
    // 900.00 in the last quarter is all of the year's: by silence it would be taken for half-year.
    let late = format!(
        "{}tool late \"Late\"\n    recovered over 7 years\n    no bonus\nbought 2026-12-01 from dealer\n    1 late for 900.00\n",
        shop("")
    );
    assert_eq!(
        year_with(&late, 2026, &without("[mid_quarter_above]")).told(),
        ["K502 `forms/us-schedule-c/figures.toml` has no `[mid_quarter_above]`, and this tool is recovered by a table"]
    );
}

#[test]
fn bonus_that_is_missing_for_the_first_year_is_told_in_later_years_too() {
    let text = format!(
        "{}tool saw \"Saw\"\n    recovered over 7 years\nbought 2025-03-02 from dealer\n    1 saw for 900.00\n",
        shop("")
    );
    let mut figures = FIGURES.to_owned();
    while let Some(from) = figures.find("[[bonus]]\nin_use_year = 2025") {
        let to = from + figures[from..].find("\n\n").expect("an end");
        figures.replace_range(from..to, "");
    }
    let mut forms = Forms::built_in();
    forms.add("us-schedule-c/figures.toml", &figures);
    let told =
        "K502 `forms/us-schedule-c/figures.toml` has no `[[bonus]]` for 2025, and this tool says nothing of bonus depreciation";
    assert_eq!(year_with(&text, 2026, &forms).told(), [told]);
}

#[test]
fn section_179_of_a_year_without_a_form_is_asked() {
    // There is no form of 2023: what of the 5,000.00 was beyond that year's income can't be known.
    let year = year_from(&saw(2023), 2024);
    let question = year.figures().open_questions().find(|question| question.name == "section-179/carried-from-2023");
    assert_eq!(
        question.expect("a question").question,
        "section 179 was taken in 2023 for `Saw`, and without a form of 2023 it is not known what of that was beyond the income of 2023: how \
         much is carried to 2024? Nothing of it is included"
    );
    assert_eq!(year.line("13"), "0.00");
    assert!(!year_from(&saw(2024), 2026).open().iter().any(|name| name.starts_with("section-179/carried")));
    let answered = format!("{}answered 2024-12-31 \"section-179/carried-from-2023\" \"none\"\n", saw(2023));
    assert!(!year_from(&answered, 2024).open().contains(&"section-179/carried-from-2023"));
}

fn average(year: &Year) -> String {
    year.cut_off("overhead").concat()
}

#[test]
fn a_year_of_the_book_without_receipts_counts_in_their_average() {
    let of = |first: &str, third: &str| {
        let book = format!(
            "{}income work \"Work\"\n    form line 1\nreceived 2023-06-01 from a-buyer\n    {first} for work\nnoted 2024-06-01 \"none\"\n\
             received 2025-06-01 from a-buyer\n    {third} for work\n",
            shop("")
        );
        year_from(&book, 2026)
    };
    // 60 million, nothing and 30 million are 30 million a year, not above 32; by two years it would be 45.
    let year = of("60000000.00", "30000000.00");
    assert!(average(&year).contains("average gross receipts of 3 earlier years 30000000.00"), "{}", average(&year));
    assert!(!year.open().contains(&"stock/small-taxpayer"));
    // 66.1 and 30 million are 32.03.
    assert!(of("66100000.00", "30000000.00").open().contains(&"stock/small-taxpayer"));
}

#[test]
fn the_sources_name_every_figure_that_was_used() {
    let plain = year_from(&format!("{}{WORK}", shop("")), 2026);
    let has = |year: &Year, part: &str| year.figures().sources.iter().any(|source| source.text.contains(part));
    for part in ["section 70433", "wage base", "Schedule SE from line 4c", "Schedule SE to line 4a"] {
        assert!(has(&plain, part), "{part}");
    }
    for part in ["Rev. Proc. 2013-13 (", "1.162-3", "mid-quarter convention", "Rev. Proc. 2025-32"] {
        assert!(!has(&plain, part), "{part}");
    }
    let more = "tool clamp \"Clamp\"\n    expensed at once\ntool saw \"Saw\"\n    recovered over 7 years\n    no bonus\n\
                received 2025-06-01 from a-buyer\n    10.00 for work\nbought 2026-03-01 from dealer\n    1 clamp for 90.00\n    1 saw for 900.00\n";
    let all = year_from(&format!("{}{WORK}{more}", shop("    home workshop 200 sq ft, simplified, from 2026-01-01\n")), 2026);
    for part in ["Rev. Proc. 2013-13 (", "1.162-3", "mid-quarter convention", "Rev. Proc. 2025-32"] {
        assert!(has(&all, part), "{part}");
    }
}

#[test]
fn the_rounding_of_a_bridge_is_that_of_the_lines() {
    // Three stools for 10.00, one sold for 20.00: 6.666667 are left, 6.67 on line 41, so that the profit is 16.67 and the margin 16.666667.
    let book =
        "product stool \"Stool\"\nopened 2026-01-01\n    3 stool for 10.00\nsold 2026-03-01 via counter\n    1 stool at 20.00\n";
    let bridge = year_from(&format!("{}{book}", shop("")), 2026).bridge();
    assert_eq!(
        bridge,
        ["paid margins of all products 16.666667", "rounding of lines to cents 0.003333", "net profit or loss 16.67"]
    );
}
