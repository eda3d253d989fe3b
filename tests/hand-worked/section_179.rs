//! Section 179 cut by income or by the yearly limit: what each tool has of it, what is carried, and what a sale gives back.

use crate::year::{Year, shop, year_from};

fn tools(rest: &str, year: i32) -> Year {
    year_from(&format!("{}product stool \"Stool\"\n{rest}", shop("")), year)
}

/// The rows of a year: what counts of each tool, and what of it was deducted before, is carried and is left. What the rows and their steps say
/// comes to line 13.
fn rows(year: &Year) -> Vec<String> {
    let figures = year.figures();
    let all = figures.equipment.iter().map(|tool| tool.section_179.micros() + tool.amount.micros());
    assert_eq!(all.sum::<i128>(), figures.line("13").expect("a line").cents.micros());
    let steps =
        figures.equipment.iter().flat_map(|tool| &tool.steps).filter(|one| one.step.is_added()).filter_map(|one| one.amount);
    assert_eq!(steps.map(|amount| amount.micros()).sum::<i128>(), figures.line("13").expect("a line").cents.micros());
    let row = |tool: &kerfbook::year::ToolYear| {
        format!("{}: before {}, carried {}, left {}", tool.section_179, tool.before, tool.carried, tool.left)
    };
    figures.equipment.iter().map(row).collect()
}

fn step(year: &Year, tool: usize) -> String {
    year.report().schedules.equipment[tool].steps[4].how.clone()
}

/// A saw of 1,000; one stool sold in 2025 for 310 less its 10 leaves 300 of income, so 300 count and 700 are carried; 2026's 900 let all of these count.
#[test]
fn a_tool_s_row_says_what_the_income_allows_and_what_is_carried() {
    let book = "tool saw \"Saw\"\n    expensed under section 179\nbought 2025-03-02 from dealer\n    1 saw for 1000.00\n\
                opened 2025-01-01\n    4 stool for 40.00\nsold 2025-05-01 via counter\n    1 stool at 310.00\n\
                sold 2026-05-01 via counter\n    3 stool at 310.00\n";
    let first = tools(book, 2025);
    assert_eq!(rows(&first), ["300: before 0, carried 700, left 700"]);
    assert_eq!(
        step(&first, 0),
        "all of the business part of 1000.00, 1000.00 elected; this year's limits allow 300.00, 700.00 is carried"
    );
    assert!(first.open().contains(&"section-179/income"));
    let second = tools(book, 2026);
    assert_eq!(rows(&second), ["700: before 300, carried 0, left 0"]);
    assert_eq!(
        step(&second, 0),
        "1000.00 elected in 2025, 300.00 of it deducted before this year; 700.00 counts this year, 0.00 is carried"
    );
}

/// A of 100 and B of 200 with 100 of income in 2025: a third and two thirds, 33.33 and 66.67; 66.67 and 133.33 are carried. In 2026 C of 50 has its 50 first, out of 150 of
/// income; the other 100 are shared as 66.67 to 133.33: 33.335 and 66.665, of which the first has the odd cent, 33.34 and 66.66. Left to carry are 33.33 and 66.67.
#[test]
fn what_a_year_allows_is_shared_over_its_tools_to_the_cent() {
    let book = "tool a \"A\"\n    expensed under section 179\ntool b \"B\"\n    expensed under section 179\n\
                tool c \"C\"\n    expensed under section 179\nopened 2025-01-01\n    4 stool for 40.00\n\
                bought 2025-03-02 from dealer\n    1 a for 100.00\n    1 b for 200.00\nsold 2025-05-01 via counter\n    1 stool at 110.00\n\
                bought 2026-03-02 from dealer\n    1 c for 50.00\nsold 2026-05-01 via counter\n    1 stool at 160.00\n";
    let first = rows(&tools(book, 2025));
    assert_eq!(first, ["33.33: before 0, carried 66.67, left 66.67", "66.67: before 0, carried 133.33, left 133.33"]);
    let second = rows(&tools(book, 2026));
    assert_eq!(
        second,
        [
            "33.34: before 33.33, carried 33.33, left 33.33",
            "66.66: before 66.67, carried 66.67, left 66.67",
            "50: before 0, carried 0, left 0"
        ]
    );
}

/// The first saw's 700 are carried out of 2025. It is sold in 2026 for 800: nothing more of it is deducted, though there is income, and its gain is 800 − 1,000 + 300 = 100.
#[test]
fn what_is_still_carried_of_a_tool_that_is_sold_goes_back_to_its_cost() {
    let book = "tool saw \"Saw\"\n    expensed under section 179\nbought 2025-03-02 from dealer\n    1 saw for 1000.00\n\
                opened 2025-01-01\n    4 stool for 40.00\nsold 2025-05-01 via counter\n    1 stool at 310.00\n\
                sold 2026-05-01 via counter\n    3 stool at 310.00\nretired 2026-09-01 saw for 800.00\n";
    let year = tools(book, 2026);
    assert_eq!(rows(&year), ["0: before 300, carried 0, left 0"]);
    assert!(year.open().contains(&"saw/sold-with-carry"), "{:?}", year.open());
    assert!(!year.open().contains(&"section-179/income"));
    let gone = &year.report().schedules.tools_gone[0];
    assert_eq!((gone.recovered.as_str(), gone.gain.as_deref()), ("300.00", Some("100.00")));
    assert_eq!(
        step(&year, 0),
        "1000.00 elected in 2025, 300.00 of it deducted before this year; 700.00 was carried and goes back to its cost, as it left"
    );
}

/// Two mills of 2,000,000 each are 4,000,000 elected; the limit of 2025 is 2,500,000 and its phase-out begins at 4,000,000, so each has 1,250,000, and what is beyond is
/// not carried.
#[test]
fn what_is_beyond_the_yearly_limit_is_told_in_the_rows_and_not_carried() {
    let book = "tool mill \"Mill\"\n    expensed under section 179\nbought 2025-03-02 from dealer\n    2 mill for 4000000.00\n\
                opened 2025-01-01\n    1 stool for 10.00\nsold 2025-05-01 via counter\n    1 stool at 9000000.00\n";
    let year = tools(book, 2025);
    assert_eq!(rows(&year), ["1250000: before 0, carried 0, left 750000", "1250000: before 0, carried 0, left 750000"]);
    assert!(year.open().contains(&"section-179/limit"));
    assert!(
        step(&year, 1).ends_with("allow 1250000.00, 750000.00 is beyond the limit of the year and not carried"),
        "{}",
        step(&year, 1)
    );
}

/// A year without a bonus of its own in the data is a mistake in every year of the tool, not silently none.
#[test]
fn a_tool_of_a_year_without_bonus_data_is_a_mistake_in_later_years_too() {
    let book = |lines: &str| {
        format!(
            "tool saw \"Saw\"\n    recovered over 7 years\n{lines}bought 2015-03-02 from dealer\n    1 saw for 1000.00\nsold 2024-05-01 via counter\n    1 stool at 310.00\nopened 2015-01-01\n    1 stool for 10.00\n"
        )
    };
    let year = tools(&book(""), 2024);
    assert!(
        year.told()[0].starts_with("K502 `forms/us-schedule-c/figures.toml` has no `[[bonus]]` for 2015"),
        "{:?}",
        year.told()
    );
    assert!(tools(&book("    no bonus\n"), 2024).told().is_empty());
}
