//! Tools: at once, de minimis, section 179, tables, bonus, the year of sale.

use crate::year::{Year, shop, year_from};
use kerfbook::year::ToolGone;

fn tools(switches: &str, rest: &str, year: i32) -> Year {
    year_from(&format!("{}product stool \"Stool\"\n{rest}", shop(switches)), year)
}

/// Enough sales that no limit of income bites.
const SALES: &str = "opened 2026-01-01\n    9 stool for 90.00\nsold 2026-02-02 via counter\n    9 stool at 900.00\n";

#[test]
fn at_most_200_an_item_is_supplies_with_its_tax_and_delivery() {
    // Two clamps of 95 with 10 of delivery and 5.80 of tax: 102.90 each.
    let year = tools(
        "",
        "tool clamp \"Clamp\"\n    expensed at once\nbought 2026-03-01 from dealer\n    2 clamp for 190.00\n    freight 10.00\n    sales-tax 5.80\n",
        2026,
    );
    assert_eq!([year.line("22"), year.line("13")], ["205.80", "0.00"]);
}

#[test]
fn delivery_on_the_invoice_can_take_an_item_over_the_election() {
    // Five at 2,495 pass; 50 of delivery makes each 2,505 and none passes (aldrichadvisors.com, VERIFIED).
    let five = "tool saw \"Saw\"\n    expensed at once\nbought 2026-03-01 from dealer\n    5 saw for 12475.00\n";
    let elected = "choices 2026\n    de minimis elected\n";
    let passes = tools("", &format!("{elected}{five}"), 2026);
    assert_eq!(passes.line("22"), "12475.00");
    let fails = tools("", &format!("{elected}{five}    freight 50.00\n"), 2026);
    assert_eq!(fails.told(), ["K508 `saw` cost 2505.00 an item and can't be expensed at once"]);
    let not_elected = tools("", five, 2026);
    assert_eq!(not_elected.told(), ["K508 `saw` cost 2495.00 an item and can't be expensed at once"]);
}

#[test]
fn a_table_takes_the_business_part_and_says_which_year_it_is() {
    let text = "tool saw \"Saw\"\n    recovered over 7 years\n    no bonus\n    business use 90%\nbought 2025-03-02 from dealer\n    1 saw for 900.00\n";
    // 810 × 14.29 % = 115.749, and 810 × 24.49 % = 198.369.
    assert_eq!(tools("", text, 2025).line("13"), "115.75");
    let second = tools("", text, 2026);
    assert_eq!(second.line("13"), "198.37");
    let tool = &second.figures().equipment[0];
    assert_eq!(tool.method, "recovered over 7 years, half-year table, year 2");
    assert_eq!((tool.before.to_string(), tool.left.to_string()), ("115.75".into(), "495.88".into()));
}

#[test]
fn silence_about_bonus_means_the_law_s_default_and_a_question() {
    let text = "tool saw \"Saw\"\n    recovered over 7 years\nbought 2026-03-02 from dealer\n    1 saw for 899.00\n";
    let year = tools("", text, 2026);
    assert_eq!(year.line("13"), "899.00");
    assert!(year.open().contains(&"saw/bonus"));
    // In 2024 it was 60 per cent: 539.40, and 14.29 % of the other 359.60.
    let earlier = tools("", &text.replace("2026", "2024"), 2024);
    assert_eq!(earlier.line("13"), "590.79");
}

#[test]
fn more_than_forty_per_cent_in_the_last_quarter_is_mid_quarter() {
    let book = |late: &str| {
        format!(
            "tool a \"A\"\n    recovered over 5 years\n    no bonus\ntool b \"B\"\n    recovered over 5 years\n    no bonus\n\
             bought 2026-02-10 from dealer\n    1 a for 600.00\nbought 2026-11-10 from dealer\n    1 b for {late}\n"
        )
    };
    // 400 of 1,000 is not more than forty per cent: 20 % of each. 400.01 is: 35 % of 600, and 5 % of 400.01.
    assert_eq!(tools("", &book("400.00"), 2026).line("13"), "200.00");
    assert_eq!(tools("", &book("400.01"), 2026).line("13"), "230.00");
}

#[test]
fn section_179_is_limited_by_income_and_carried() {
    let saw = "tool saw \"Saw\"\n    expensed under section 179\nbought 2025-03-02 from dealer\n    1 saw for 1000.00\n";
    let sale = "opened 2025-01-01\n    4 stool for 40.00\nsold 2025-05-01 via counter\n    1 stool at 310.00\nsold 2026-05-01 via counter\n    3 stool at 310.00\n";
    let first = tools("", &format!("{saw}{sale}"), 2025);
    // Income before it: 310 − 10.
    assert_eq!([first.line("13"), first.line("31")], ["300.00", "0.00"]);
    assert!(first.open().contains(&"section-179/income"));
    let second = tools("", &format!("{saw}{sale}"), 2026);
    assert_eq!([second.line("13"), second.line("31")], ["700.00", "200.00"]);
    assert!(!second.open().contains(&"section-179/income"));
    let wages = tools("", &format!("choices 2025\n    wages elsewhere 31000.00\n{saw}{sale}"), 2025);
    assert_eq!([wages.line("13"), wages.line("31")], ["1000.00", "-700.00"]);
}

/// A lathe of 1,200 of which 500 is taken under section 179, put in use in `year` beside sales of 8,100.
fn lathe_in_part(year: i32, lines: &str) -> String {
    format!(
        "{}tool lathe \"Lathe\"\n    expensed under section 179 500.00\n{lines}bought {year}-03-02 from dealer\n    1 lathe for 1200.00\n",
        SALES.replace("2026", &year.to_string())
    )
}

#[test]
fn beside_a_part_under_section_179_the_table_takes_the_rest() {
    let book = lathe_in_part(2025, "    recovered over 7 years\n    no bonus\n");
    // 1,200 − 500 leave 700, of which the first year has 14.29 %, 100.03, and the second 24.49 %, 171.43.
    let first = tools("", &book, 2025);
    assert_eq!(first.line("13"), "600.03");
    let tool = &first.figures().equipment[0];
    assert_eq!(tool.method, "section 179 of 500.00, then recovered over 7 years, half-year table, year 1");
    assert_eq!([tool.section_179, tool.amount, tool.left].map(|sum| sum.to_string()), ["500", "100.03", "599.97"]);
    assert_eq!(first.open().iter().filter(|name| name.starts_with("lathe/")).count(), 0, "{:?}", first.open());
    let row = &first.report().schedules.equipment[0];
    assert_eq!([row.this_year.as_str(), row.left.as_str(), row.line.as_str()], ["600.03", "599.97", "13"]);
    let second = tools("", &book, 2026);
    assert_eq!(second.line("13"), "171.43");
    let tool = &second.figures().equipment[0];
    assert_eq!([tool.section_179, tool.before, tool.left].map(|sum| sum.to_string()), ["0", "600.03", "428.54"]);
}

#[test]
fn bonus_comes_after_section_179_and_before_the_table() {
    // 700 × 60 % is 420, the bonus of 2024; 14.29 % of the other 280 is 40.01; with the 500 that is 960.01.
    let year = tools("", &lathe_in_part(2024, "    recovered over 7 years\n"), 2024);
    assert_eq!(year.line("13"), "960.01");
    assert!(year.open().contains(&"lathe/bonus"));
}

#[test]
fn the_last_quarter_is_weighed_without_section_179() {
    let book = |late: &str| {
        format!(
            "{SALES}tool a \"A\"\n    recovered over 5 years\n    no bonus\n\
             tool b \"B\"\n    expensed under section 179 500.00\n    recovered over 5 years\n    no bonus\n\
             bought 2026-02-10 from dealer\n    1 a for 600.00\nbought 2026-11-10 from dealer\n    1 b for {late}\n"
        )
    };
    // 900 less 500 are 400 of 1,000, not more than forty per cent: 20 % of each, 200, and the 500. A cent more is: 35 % of 600 and
    // 5 % of 400.01 are 230.
    assert_eq!(tools("", &book("900.00"), 2026).line("13"), "700.00");
    assert_eq!(tools("", &book("900.01"), 2026).line("13"), "730.00");
}

#[test]
fn the_gain_of_a_tool_sold_counts_section_179_as_recovered() {
    let book = lathe_in_part(2025, "    recovered over 5 years\n    no bonus\n");
    let year = tools("", &format!("{book}retired 2026-09-01 lathe for 800.00\n"), 2026);
    // 500, then 20 % of 700 in 2025, 140, then half of 32 % in the year of sale, 112: 752 of 1,200, so 448 were left.
    assert_eq!(year.line("13"), "112.00");
    let gain = year.figures().equipment[0].disposed.expect("sold").gain.expect("known");
    assert_eq!(gain.to_string(), "352");
}

#[test]
fn what_was_recovered_before_the_book_holds_section_179_and_the_table() {
    let book = |recovered: &str| {
        format!(
            "tool press \"Press\"\n    in use from 2023-05-10\n    expensed under section 179 500.00\n    recovered over 7 years\n\
             opened 2026-01-01\n    1 press for 1000.00, already recovered {recovered}\n"
        )
    };
    // 500, and 14.29 + 24.49 + 17.49 per cent of the other 500, 281.35; the fourth year has 12.49 % of it.
    let right = tools("", &book("781.35"), 2026);
    assert_eq!((right.line("13").as_str(), right.open().contains(&"press/recovered-before")), ("62.45", false));
    assert_eq!(right.figures().equipment[0].left.to_string(), "156.2");
    let without = tools("", &book("281.35"), 2026);
    assert!(without.open().contains(&"press/recovered-before"));
}

#[test]
fn an_answer_in_words_does_not_settle_what_the_definition_must_say() {
    let open = tools("", &format!("{}answered 2026-12-31 \"lathe/rest\" \"7 years\"\n", lathe_in_part(2026, "")), 2026);
    // The other 700 stands on no line, so its question stays.
    assert_eq!(open.line("13"), "500.00");
    assert!(open.open().contains(&"lathe/rest"));
    let question = open.figures().open_questions().find(|question| question.name == "lathe/rest").expect("asked");
    assert_eq!(question.answer_with, "recovered over … years, in the tool's definition");
    let note =
        "`answered \"lathe/rest\"` leaves the question open: what settles it is recovered over … years, in the tool's definition";
    assert!(open.figures().notes.iter().any(|one| one == note), "{:#?}", open.figures().notes);
}

#[test]
fn a_sale_ends_the_table_and_its_gain_is_on_no_line() {
    let text = "tool saw \"Saw\"\n    recovered over 5 years\n    no bonus\nbought 2025-03-02 from dealer\n    1 saw for 1000.00\nretired 2026-09-01 saw for 800.00\n";
    let year = tools("", text, 2026);
    // Half of 320; recovered 200 + 160, so 640 were left and 160 is the gain.
    assert_eq!([year.line("13"), year.line("1"), year.line("6")], ["160.00", "0.00", "0.00"]);
    let ToolGone { proceeds, gain, .. } = year.figures().equipment[0].disposed.expect("sold");
    assert_eq!((proceeds.to_string(), gain.expect("known").to_string()), ("800".into(), "160".into()));
}

#[test]
fn what_was_recovered_before_the_book_is_held_against_the_table() {
    let book = |recovered: &str| {
        format!(
            "tool press \"Press\"\n    in use from 2023-05-10\n    recovered over 7 years\nopened 2026-01-01\n    1 press for 500.00, already recovered {recovered}\n"
        )
    };
    // 14.29 + 24.49 + 17.49 per cent are 281.35; the fourth year has 12.49.
    let right = tools("", &book("281.35"), 2026);
    assert_eq!((right.line("13").as_str(), right.open().contains(&"press/recovered-before")), ("62.45", false));
    let more = tools("", &book("470.00"), 2026);
    assert_eq!((more.line("13").as_str(), more.open().contains(&"press/recovered-before")), ("30.00", true));
}

#[test]
fn what_is_not_said_is_asked_and_not_included() {
    let year = tools("", "tool saw \"Saw\"\nbought 2026-03-02 from dealer\n    1 saw for 150.00\n", 2026);
    assert_eq!([year.line("13"), year.line("22")], ["0.00", "0.00"]);
    assert!(year.open().contains(&"saw/recovery"));
}

#[test]
fn a_jig_made_in_a_batch_leaves_the_purchases_and_counts_as_a_tool() {
    let book = "step cutting \"Cutting\"\nmaterial ply \"Plywood\"\n    measured in sq ft\nhelper sam \"Sam\"\n    contractor\n    costs 20.00 per h\n\
                tool jig \"Jig\"\n    expensed at once\nbought 2026-02-01 from dealer\n    8 sq ft ply for 16.00\nbuilt 2026-02-07\n    used 2 sq ft ply\n    \
                took 30m cutting by sam\n    made 1 jig\n";
    let inventory = tools("    stock kept as inventory\n", book, 2026);
    assert_eq!(
        [inventory.line("36"), inventory.line("37"), inventory.line("22"), inventory.line("42")],
        ["2.00", "10.00", "14.00", "0.00"]
    );
    // Sam's half hour was deducted on line 11 already: only the material goes on with the jig.
    let supplies = tools("    stock kept as supplies\n", book, 2026);
    assert_eq!(
        [supplies.line("36"), supplies.line("11"), supplies.line("22"), supplies.line("42")],
        ["12.00", "10.00", "4.00", "0.00"]
    );
}

#[test]
fn an_unpaid_tool_counts_at_once_when_it_is_paid_and_by_the_table_when_it_is_used() {
    let book = |how: &str| {
        format!(
            "{SALES}tool saw \"Saw\"\n    {how}\nbought 2026-12-20 from dealer receipt \"X-1\"\n    1 saw for 100.00\n    unpaid\n"
        )
    };
    let at_once = tools("    cash basis\n", &book("expensed at once"), 2026);
    assert_eq!(at_once.line("22"), "0.00");
    let by_table = tools("    cash basis\n", &book("recovered over 7 years\n    no bonus"), 2026);
    // All of the year's tools came in the last quarter: 3.57 %.
    assert_eq!(by_table.line("13"), "3.57");
}

/// Two lathes on one line, 900 in all, seven years, no bonus: 450 each. 2025: 14.29 % of each is 64.305, 64.31. One is sold in May 2026 for 300: of its second
/// year, 24.49 % of 450 = 110.205, 110.21, half counts: 55.11 (55.105), and its gain is 300 − 450 + 64.31 + 55.11 = −30.58. The other goes on.
#[test]
fn of_two_tools_of_one_line_one_can_leave() {
    let book = "tool lathe \"Lathe\"\n    recovered over 7 years\n    no bonus\nbought 2025-03-02 from dealer\n    2 lathe for 900.00\n\
                retired 2026-05-01 lathe for 300.00\n";
    let before = tools("", book, 2025);
    assert_eq!(before.line("13"), "128.62");
    let year = tools("", book, 2026);
    assert_eq!(year.line("13"), "165.32");
    let rows = year.report().schedules;
    let told: Vec<_> =
        rows.equipment.iter().map(|row| (row.of_line.as_str(), row.this_year.as_str(), row.left.as_str())).collect();
    assert_eq!(told, [("1 of 2", "55.11", "0.00"), ("2 of 2", "110.21", "275.48")]);
    let gone: Vec<_> =
        rows.tools_gone.iter().map(|row| (row.date.as_str(), row.recovered.as_str(), row.gain.as_deref())).collect();
    assert_eq!(gone, [("2026-05-01", "119.42", Some("-30.58"))]);
    // The second can leave as well, and then there is none left.
    let both = tools("", &format!("{book}retired 2026-06-01 lathe\n"), 2026);
    assert_eq!(both.line("13"), "110.22");
}

/// Three clamps for 100: 33.33, 33.34 and 33.33, of which one row tells while all three are there.
#[test]
fn tools_of_one_line_that_count_at_once_stand_in_one_row() {
    let book = "tool clamp \"Clamp\"\n    expensed at once\nbought 2026-03-01 from dealer\n    3 clamp for 100.00\n";
    let rows = |text: &str| {
        let rows = tools("", text, 2026).report().schedules.equipment;
        rows.into_iter().map(|row| format!("{} {} {}", row.count, row.of_line, row.this_year)).collect::<Vec<_>>()
    };
    assert_eq!(rows(book), ["3  100.00"]);
    assert_eq!(rows(&format!("{book}retired 2026-06-01 clamp for 5.00\n")), ["1 1 of 3 33.33", "2  66.67"]);
}

/// 1,000 over five years, in use for the business wholly in 2025 and by half from 2026 on. 2025 takes 20 % of 1,000 = 200; 2026 takes 32 % of 500 = 160, and what
/// 2025 took stays 200. The later years take 19.2, 11.52, 11.52 and 5.76 % of 500: 96, 57.60, 57.60 and 28.80, in all 240.
#[test]
fn a_business_part_that_changes_moves_no_year_before() {
    let book = "tool laptop \"Laptop\"\n    recovered over 5 years\n    no bonus\nchanged 2026-01-01 laptop\n    business use 50%\n\
                bought 2025-03-02 from dealer\n    1 laptop for 1000.00\n";
    assert_eq!(tools("", book, 2025).line("13"), "200.00");
    let year = tools("", book, 2026);
    assert_eq!(year.line("13"), "160.00");
    let tool = &year.figures().equipment[0];
    assert_eq!((tool.before.to_string(), tool.left.to_string()), ("200".into(), "240".into()));
    let life: Vec<_> = tool.life.iter().map(|one| format!("{} {}", one.year, one.table)).collect();
    assert_eq!(life, ["2025 200", "2026 160", "2027 96", "2028 57.6", "2029 57.6", "2030 28.8"]);
}

/// What the ten steps say of the planer of 900 for 90 % of business, 500 of it under section 179: base 810 − 500 = 310, bonus 60 % of it in 2024 = 186, and 14.29 % of the
/// other 124 = 17.72 by the table. The schedule over its life sums to the business part.
#[test]
fn every_step_of_a_tool_is_a_row_and_its_life_sums_to_its_business_part() {
    let book = "tool planer \"Planer\"\n    expensed under section 179 500.00\n    recovered over 7 years\n    business use 90%\n\
                bought 2024-03-02 from dealer\n    1 planer for 900.00\n";
    let year = tools("", &format!("{}{book}", SALES.replace("2026", "2024")), 2024);
    let row = year.report().schedules.equipment.remove(0);
    let steps: Vec<_> = row.steps.iter().map(|one| format!("{} {}", one.step, one.amount.as_deref().unwrap_or("–"))).collect();
    assert_eq!(steps, ["1 900.00", "2 810.00", "3 –", "4 –", "5 500.00", "6 –", "7 186.00", "8 17.72", "9 –", "10 –"]);
    assert_eq!(row.this_year, "703.72");
    assert_eq!(
        row.life.first().map(|one| (one.at_once.as_str(), one.bonus.as_str(), one.table.as_str())),
        Some(("500.00", "186.00", "17.72"))
    );
    let tool = &year.figures().equipment[0];
    let life = tool.life.iter().flat_map(|one| [one.at_once, one.bonus, one.table]);
    assert_eq!(kerfbook::units::Fixed6::checked_sum(life).expect("fits").to_string(), "810");
}

/// Business use that falls to half or less after section 179 was taken is asked about, in the year in which it falls.
#[test]
fn business_use_that_falls_after_section_179_is_asked_about() {
    let book = format!(
        "tool planer \"Planer\"\n    expensed under section 179\n    no bonus\nchanged 2026-01-01 planer\n    business use 50%\n\
         bought 2025-03-02 from dealer\n    1 planer for 900.00\n{}",
        SALES.replace("2026-01-01", "2025-01-01")
    );
    let year = tools("", &book, 2026);
    assert!(year.open().contains(&"planer/recapture"), "{:?}", year.open());
    let at_51 = tools("", &book.replace("50%", "51%"), 2026);
    assert!(!at_51.open().contains(&"planer/recapture"));
    assert!(!tools("", &book, 2025).open().contains(&"planer/recapture"));
}

/// 1,000 over five years, all for the business until a day in July 2026 and half of it from then on: 32 % of 500 is 160 for the whole year, which is asked about. From
/// the first of January on there is nothing to ask.
#[test]
fn a_business_part_that_changes_within_a_year_is_asked_about() {
    let book = |day: &str| {
        format!(
            "tool laptop \"Laptop\"\n    recovered over 5 years\n    no bonus\nchanged {day} laptop\n    business use 50%\n\
             bought 2025-03-02 from dealer\n    1 laptop for 1000.00\n"
        )
    };
    let within = tools("", &book("2026-07-15"), 2026);
    assert_eq!(
        (within.line("13").as_str(), within.open().contains(&"laptop/business-use")),
        ("160.00", true),
        "{:?}",
        within.open()
    );
    let from_its_first_day = tools("", &book("2026-01-01"), 2026);
    assert!(!from_its_first_day.open().contains(&"laptop/business-use"));
    assert!(!tools("", &book("2026-07-15"), 2025).open().contains(&"laptop/business-use"));
}
