//! Elections for many tools at once, and what may count as supplies: figures and questions.

use crate::year::{Year, shop, year_from};

fn tools(rest: &str, year: i32) -> Year {
    year_from(&format!("{}{rest}", shop("")), year)
}

fn question<'a>(year: &'a Year, name: &str) -> Option<&'a str> {
    year.figures().open_questions().find(|question| question.name == name).map(|question| question.question.as_str())
}

/// Two tools of one year; `a` declines bonus.
fn two(a: &str, b: &str) -> String {
    format!(
        "tool a \"A\"\n{a}    no bonus\ntool b \"B\"\n{b}bought 2026-02-10 from dealer\n    1 a for 3000.00\n    1 b for 4000.00\n"
    )
}

#[test]
fn bonus_declined_for_one_tool_and_taken_for_another_of_its_class_is_asked() {
    let seven = "    recovered over 7 years\n";
    let year = tools(&two(seven, seven), 2026);
    assert_eq!(
        question(&year, "bonus/7-years"),
        Some(
            "bonus depreciation of 2026 is declined for `A` and not for `B`, all recovered over 7 years: the election is for all of these \
             or for none; which?"
        )
    );
    // The figures are by the definitions all the same: 3,000 × 14.29 % and all of 4,000.
    assert_eq!(year.line("13"), "4428.70");
    // Another number of years is another class; and both may decline.
    for (a, b) in [(seven, "    recovered over 5 years\n"), (seven, "    recovered over 7 years\n    no bonus\n")] {
        let year = tools(&two(a, b), 2026);
        assert!(!year.open().iter().any(|name| name.starts_with("bonus/")), "{:?}", year.open());
    }
    // What section 179 leaves is of the class of its years.
    let in_part = tools(&two(seven, "    expensed under section 179 500.00\n    recovered over 7 years\n"), 2026);
    assert!(question(&in_part, "bonus/7-years").is_some());
}

#[test]
fn de_minimis_for_a_year_is_asked_of_items_within_it_that_are_recovered_otherwise() {
    let book = |choices: &str, price: &str| {
        format!(
            "{choices}tool saw \"Saw\"\n    recovered over 7 years\n    no bonus\ntool lathe \"Lathe\"\n    expensed under section 179\n\
             bought 2026-03-01 from dealer\n    2 saw for {price}\n    1 lathe for 2500.01\n"
        )
    };
    let elected = "choices 2026\n    de minimis elected\n    wages elsewhere 9000.00\n";
    // Two saws of 2,500.00 each are within it, the lathe of 2,500.01 is not.
    let year = tools(&book(elected, "5000.00"), 2026);
    assert_eq!(
        question(&year, "de-minimis/all-items"),
        Some(
            "de minimis is elected for 2026, which holds for every item of at most 2500.00, and `Saw` is recovered otherwise: is the \
             election made, and these are expensed at once, or is it not?"
        )
    );
    assert_eq!(question(&tools(&book(elected, "5000.02"), 2026), "de-minimis/all-items"), None);
    assert_eq!(question(&tools(&book("", "5000.00"), 2026), "de-minimis/all-items"), None);
}

#[test]
fn a_tool_that_lasts_a_year_or_less_is_supplies_at_any_cost() {
    let tool = |lasts: &str| {
        format!("tool form \"Casting form\"\n    expensed at once\n{lasts}bought 2026-03-01 from dealer\n    1 form for 640.00\n")
    };
    let year = tools(&tool("    lasts 1 years\n"), 2026);
    assert_eq!([year.line("22"), year.line("13")], ["640.00", "0.00"]);
    assert_eq!(year.figures().equipment[0].method, "expensed at once: it lasts at most 12 months");
    for lasts in ["", "    lasts 1.5 years\n"] {
        assert_eq!(tools(&tool(lasts), 2026).told(), ["K508 `form` cost 640.00 an item and can't be expensed at once"]);
    }
}
