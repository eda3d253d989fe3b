//! How tools come, leave and count at the edges of a book: paid before, in use before, the owner's own, sold after a change of use.

use crate::year::{Year, shop, year_from};
use kerfbook::costing::actual_overhead;

fn tools(switches: &str, rest: &str, year: i32) -> Year {
    year_from(&format!("{}product stool \"Stool\"\n{rest}", shop(switches)), year)
}

/// A punch of 700, at once by the election, paid on the 20th of December and here on the 5th of January. On the cash basis the 700 count in the year in which it is here,
/// and in no other; and so they do on the accrual basis.
#[test]
fn a_tool_at_once_that_is_paid_before_it_comes_counts_as_it_comes() {
    let book = "choices 2024\n    de minimis elected\nchoices 2025\n    de minimis elected\ntool punch \"Punch\"\n    expensed at once\n\
                bought 2025-01-05 from dealer receipt \"D-7\"\n    1 punch for 700.00\n    paid 2024-12-20\n\
                sold 2024-06-01 via counter\n    5.00 for engraving\n";
    let book = format!("income engraving \"Engraving\"\n    form line 1\n{book}");
    for basis in ["cash", "accrual"] {
        let by_year = |year| tools(&format!("    {basis} basis\n"), &book, year).line("22");
        assert_eq!([2024, 2025, 2026].map(by_year), ["0.00", "700.00", "0.00"], "{basis}");
    }
}

/// Two saws of 1,000 of one name, seven years, no bonus, `in use from 2025-03-01`: the one of 2025 has 14.29 % in 2025 and 24.49 % in 2026, the one bought in May 2026
/// begins in 2026 with 14.29 %: 244.90 + 142.90 = 387.80. Beside them a drill of 500 came in November 2025: a third of 2025's 1,500, so half-year,
/// and 2025 has 14.29 % of 1,500 = 214.35.
#[test]
fn a_second_tool_of_one_name_is_in_use_from_its_own_day() {
    let book = "tool saw \"Saw\"\n    recovered over 7 years\n    no bonus\n    in use from 2025-03-01\n\
                tool drill \"Drill\"\n    recovered over 7 years\n    no bonus\nbought 2025-03-01 from dealer\n    1 saw for 1000.00\n\
                bought 2025-11-10 from dealer\n    1 drill for 500.00\nbought 2026-05-01 from dealer\n    1 saw for 1000.00\n";
    assert_eq!(tools("", book, 2025).line("13"), "214.35");
    let year = tools("", book, 2026);
    // The drill's second year is 24.49 % of 500, 122.45 (122.445).
    assert_eq!(year.line("13"), "510.25");
    let from: Vec<_> = year.figures().equipment.iter().map(|tool| tool.in_use_from.to_string()).collect();
    assert_eq!(from, ["2025-03-01", "2025-11-10", "2026-05-01"]);
    assert!(!year.open().contains(&"saw/in-use-from"));
}

/// Without the saw of May 2026 the drill of 1,000 would be 1,000 of 2,000 of 2025 in its last quarter, half of it: mid-quarter. A later purchase under a definition in use from
/// March 2025 must not thin that out. Mid-quarter: 25 % of the first quarter's 1,000 and 3.57 % of the fourth's are 285.70.
#[test]
fn the_last_quarter_of_a_year_is_not_weighed_with_a_later_purchase() {
    let book = "tool saw \"Saw\"\n    recovered over 7 years\n    no bonus\n    in use from 2025-03-01\n\
                tool drill \"Drill\"\n    recovered over 7 years\n    no bonus\nbought 2025-03-01 from dealer\n    1 saw for 1000.00\n\
                bought 2025-11-10 from dealer\n    1 drill for 1000.00\nbought 2026-05-01 from dealer\n    1 saw for 9000.00\n";
    assert_eq!(tools("", book, 2025).line("13"), "285.70");
}

#[test]
fn a_tool_in_use_before_it_was_bought_counts_from_the_day_it_came_and_is_asked_about() {
    let book = "tool saw \"Saw\"\n    recovered over 7 years\n    no bonus\n    in use from 2024-06-01\n\
                bought 2025-03-02 from dealer\n    1 saw for 1000.00\n";
    let year = tools("", book, 2025);
    assert_eq!(year.line("13"), "142.90");
    assert!(year.open().contains(&"saw/in-use-from"), "{:?}", year.open());
    // It is asked once, in the year in which it came.
    assert!(!tools("", book, 2026).open().contains(&"saw/in-use-from"));
}

/// What is the owner's own has no invoice to the business, so no election covers it: 900 is refused even where the year elects, and at most 200 is supplies, with
/// the question of the smaller of cost and value.
#[test]
fn a_tool_of_the_owner_s_is_at_once_only_as_supplies() {
    let book = |worth: &str| {
        format!(
            "choices 2026\n    de minimis elected\ntool press \"Press\"\n    expensed at once\ncontributed 2026-03-01\n    1 press for {worth}\n"
        )
    };
    let dear = tools("", &book("900.00"), 2026);
    assert_eq!(dear.told(), ["K508 `press` cost 900.00 an item and can't be expensed at once"]);
    let cheap = tools("", &book("150.00"), 2026);
    assert_eq!(cheap.line("22"), "150.00");
    assert!(cheap.open().contains(&"press/contributed"), "{:?}", cheap.open());
}

/// A vise of 150 was there when the book began in July. Nothing says that it was deducted before, so nothing counts and it is asked; once the book says that it was, or that
/// its business part was, there is nothing to ask.
#[test]
fn a_tool_at_once_that_was_there_when_the_book_began_is_asked_about() {
    let book = |recovered: &str, share: &str| {
        format!(
            "tool vise \"Vise\"\n    expensed at once\n    business use {share}\nopened 2026-07-01\n    1 vise for 150.00{recovered}\n"
        )
    };
    let open = tools("", &book("", "100%"), 2026);
    assert_eq!(open.line("22"), "0.00");
    assert!(open.open().contains(&"vise/recovery"), "{:?}", open.open());
    let tool = &open.figures().equipment[0];
    assert_eq!((tool.before.to_string(), tool.left.to_string()), ("0".into(), "150".into()));
    assert!(!tools("", &book(", already recovered 150.00", "100%"), 2026).open().contains(&"vise/recovery"));
    assert!(!tools("", &book(", already recovered 120.00", "80%"), 2026).open().contains(&"vise/recovery"));
}

/// A press of 1,000 in use since March 2025, in a book that begins in July 2025: its first year is this one. Silence about bonus is the law's default, all of it for what was had
/// after the 19th of January 2025, and a question; declined, it is 14.29 %.
#[test]
fn a_tool_put_in_use_in_the_year_in_which_the_book_begins_has_its_first_year_here() {
    let book = |lines: &str| {
        format!(
            "tool press \"Press\"\n    recovered over 7 years\n    in use from 2025-03-01\n{lines}opened 2025-07-01\n    1 press for 1000.00\n"
        )
    };
    let silent = tools("", &book(""), 2025);
    assert_eq!(silent.line("13"), "1000.00");
    assert!(silent.open().contains(&"press/bonus"));
    let declined = tools("", &book("    no bonus\n"), 2025);
    assert_eq!(declined.line("13"), "142.90");
    assert_eq!(tools("", &book("    no bonus\n"), 2026).line("13"), "244.90");
    // What is said to be recovered can't have been deducted in an earlier year.
    let stated = tools("", &book("    no bonus\n").replace("1000.00\n", "1000.00, already recovered 100.00\n"), 2025);
    assert!(stated.open().contains(&"press/recovered-before"), "{:?}", stated.open());
    // Gone in that same year, nothing of it counts.
    let gone = tools("", &format!("{}retired 2025-11-01 press for 900.00\n", book("    no bonus\n")), 2025);
    assert_eq!(gone.line("13"), "0.00");
}

/// A saw bought and sold in one year recovers nothing, whatever the bonus: no question of it, and no step that reckons an amount.
#[test]
fn of_a_tool_bought_and_sold_in_one_year_no_step_counts_and_no_bonus_is_asked() {
    let book = "tool saw \"Saw\"\n    recovered over 7 years\nbought 2026-03-02 from dealer\n    1 saw for 5000.00\nretired 2026-08-01 saw for 4000.00\n";
    let year = tools("", book, 2026);
    assert_eq!(year.line("13"), "0.00");
    assert!(!year.open().contains(&"saw/bonus"), "{:?}", year.open());
    let row = year.report().schedules.equipment.remove(0);
    let told: Vec<_> = row.steps.iter().filter(|one| (7..=9).contains(&one.step)).map(|one| one.how.as_str()).collect();
    let none = "none: it left in the year in which it was put in use";
    assert_eq!(told, [none, none, ""]);
    // 4,000 for what cost 5,000.
    assert_eq!(year.report().schedules.tools_gone[0].gain.as_deref(), Some("-1000.00"));
}

/// Before it is in use, all of a tool's business part is left, however it is to be recovered: 90 % of 1,000.
#[test]
fn of_a_tool_not_yet_in_use_its_business_part_is_left() {
    for how in
        ["recovered over 7 years", "expensed under section 179", "expensed under section 179 500.00\n    recovered over 7 years"]
    {
        let book = format!(
            "tool saw \"Saw\"\n    {how}\n    business use 90%\n    in use from 2027-02-01\nbought 2026-03-02 from dealer\n    1 saw for 1000.00\n"
        );
        let year = tools("", &book, 2026);
        let tool = &year.figures().equipment[0];
        assert_eq!((year.line("13"), tool.left.to_string()), ("0.00".into(), "900".into()), "{how}");
    }
    let silent = "tool saw \"Saw\"\n    business use 90%\nbought 2026-03-02 from dealer\n    1 saw for 1000.00\n";
    assert_eq!(tools("", silent, 2026).figures().equipment[0].left.to_string(), "900");
}

/// A saw of 1,000 with all of it as bonus in 2025, when it was wholly for the business; from 2026 on a tenth is, and it is sold for 500. What the year's tenth of price and cost
/// come to is 50 − 100 + 1,000 = 950, more than it fetched: no gain is shown, and it is asked. Recovered is what 2025 deducted.
#[test]
fn the_gain_of_a_tool_whose_business_part_changed_is_asked_and_not_shown() {
    let book = "tool saw \"Saw\"\n    recovered over 7 years\nchanged 2026-01-01 saw\n    business use 10%\n\
                bought 2025-03-02 from dealer\n    1 saw for 1000.00\nretired 2026-06-01 saw for 500.00\n";
    let year = tools("", book, 2026);
    assert!(year.open().contains(&"saw/sold-after-change"), "{:?}", year.open());
    let gone = &year.report().schedules.tools_gone[0];
    assert_eq!((gone.recovered.as_str(), gone.gain.as_deref()), ("1000.00", None));
    let text = year.figures().notes.iter().chain(year.cut_off("tools")).any(|one| one.contains("950"));
    assert!(!text, "{:#?}", year.figures().notes);
    // With the same part in both years it is 500 − 1,000 + 1,000.
    let same = tools("", &book.replace("changed 2026-01-01 saw\n    business use 10%\n", ""), 2026);
    assert_eq!(same.report().schedules.tools_gone[0].gain.as_deref(), Some("500.00"));
    assert!(!same.open().contains(&"saw/sold-after-change"));
}

/// A clamp of 200 was deducted wholly in 2025; that it is for the business by half from 2026 on takes nothing of that back, and its gain is asked.
#[test]
fn what_a_tool_at_once_deducted_stays_when_its_business_part_changes() {
    let book = "tool clamp \"Clamp\"\n    expensed at once\nchanged 2026-01-01 clamp\n    business use 50%\n\
                bought 2025-03-02 from dealer\n    1 clamp for 200.00\nretired 2026-06-01 clamp for 100.00\n";
    assert_eq!(tools("", book, 2025).line("22"), "200.00");
    let year = tools("", book, 2026);
    assert_eq!(year.line("22"), "0.00");
    assert_eq!(year.figures().equipment[0].before.to_string(), "200");
    let gone = &year.report().schedules.tools_gone[0];
    assert_eq!((gone.recovered.as_str(), gone.gain.as_deref()), ("200.00", None));
    assert!(year.open().contains(&"clamp/sold-after-change"));
}

/// 90 % of a fan of 100 is for the business, and the book says that all 100 were recovered before it: its part was another then, so what it brings for 5 can't be told.
#[test]
fn of_a_tool_with_more_recovered_than_its_business_part_the_gain_is_asked() {
    let book = "tool fan \"Fan\"\n    recovered over 7 years\n    in use from 2018-05-01\n    business use 90%\n\
                opened 2026-01-01\n    1 fan for 100.00, already recovered 100.00\nretired 2026-06-01 fan for 5.00\n";
    let year = tools("", book, 2026);
    assert_eq!(year.report().schedules.tools_gone[0].gain, None);
    assert!(year.open().contains(&"fan/sold-after-change"), "{:?}", year.open());
}

/// Two saws of 1,200 that last 10 years, 10 a month each, under one definition in use from March 2025: the second came in May 2026, so 2026 has twelve months of the first and
/// eight of the second, 200. A press of 1,200 that was in use since July 2024 when the book began in January 2025 has 120 of each year; 2025 has ten months of the first saw besides.
#[test]
fn the_workshop_s_view_of_a_tool_begins_on_its_own_day_too() {
    let book = "tool saw \"Saw\"\n    recovered over 7 years\n    no bonus\n    in use from 2025-03-01\n    lasts 10 years\n\
                tool press \"Press\"\n    recovered over 7 years\n    no bonus\n    in use from 2024-07-01\n    lasts 10 years\n\
                opened 2025-01-01\n    1 press for 1200.00, already recovered 171.48\n\
                bought 2025-03-01 from dealer\n    1 saw for 1200.00\nbought 2026-05-04 from dealer\n    1 saw for 1200.00\n";
    let Year { compiled, .. } = tools("", book, 2026);
    let day = |text: &str| Some(text.parse().expect("a day"));
    let of_year = |from, to| actual_overhead(&compiled.book, &compiled.costed, day(from), day(to)).expect("fits").to_string();
    assert_eq!(of_year("2025-01-01", "2025-12-31"), "220");
    assert_eq!(of_year("2026-01-01", "2026-12-31"), "320");
}

/// A press that was there when the book began and in use since that year is one of the class of that year: bonus declined for it and not for the saw beside it is asked about.
#[test]
fn an_opened_tool_of_the_year_is_of_its_class() {
    let book = |from: &str| {
        format!(
            "tool press \"Press\"\n    recovered over 7 years\n    no bonus\n    in use from {from}\nopened 2026-07-01\n    1 press for 1000.00\n\
             tool saw \"Saw\"\n    recovered over 7 years\nbought 2026-08-02 from dealer\n    1 saw for 1000.00\n"
        )
    };
    assert!(tools("", &book("2026-03-01"), 2026).open().contains(&"bonus/7-years"));
    assert!(!tools("", &book("2025-03-01"), 2026).open().contains(&"bonus/7-years"));
}

/// A mill of 500 of which the book, begun in July, says that 300 was recovered by then, in that very year, takes at most the other 200: under section 179, stated at
/// 300, and by the bonus of the whole. In which year the 300 counted is asked.
#[test]
fn no_more_of_a_tool_is_recovered_than_is_left_of_its_cost_when_the_book_begins() {
    let book = |lines: &str| {
        format!(
            "{}tool mill \"Mill\"\n    in use from 2026-02-01\n{lines}income eng \"Engraving\"\n    form line 1\n\
             opened 2026-07-01\n    1 mill for 500.00, already recovered 300.00\nsold 2026-08-01 via counter\n    1000.00 for eng\n",
            shop("    accrual basis\n")
        )
    };
    for lines in
        ["    expensed under section 179 300.00\n    recovered over 7 years\n    no bonus\n", "    recovered over 7 years\n"]
    {
        let year = year_from(&book(lines), 2026);
        assert_eq!(year.line("13"), "200.00", "{lines}");
        assert!(year.open().contains(&"mill/recovered-before"), "{:?}", year.open());
    }
}
