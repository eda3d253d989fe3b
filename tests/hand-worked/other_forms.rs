//! Tax years by forms of other countries: the same books on other lines, and what a form has no line for as a question with its amount.
//!
//! Nothing of any one country's law is in the program, so nothing of it may come up by another country's form.

use kerfbook::render::html::{Neighbours, Pages};
use kerfbook::render::render_json;
use kerfbook::render::text::{Look, text_year};
use kerfbook::year::{Forms, Question};

use crate::year::{Year, year_from, year_with};

/// A shop of a country, up to its tools and categories.
fn shop(currency: &str, form: &str, home: &str) -> String {
    format!(
        "shop \"Made by hand\"\n    currency {currency}\n    tax form {form}\n    accrual basis\n    stock kept as inventory\n    cents\n{home}\
         place bench \"Bench\"\n    home\nchannel fair \"Craft fair\"\n    fee 10% of total\nmaterial oak \"Oak\"\n    measured in bf\n\
         material box \"Carton\"\n    measured in ea\n    as packing\nproduct stool \"Stool\"\nhelper sam \"Sam\"\n    contractor\n    \
         costs 18.00 per h\nstep cutting \"Cutting\"\n"
    )
}

const IN_BRITAIN: &str = "\
tool saw \"Band saw\"
    recovered over 7 years
    business use 80%
tool plane \"Block plane\"
    expensed at once
expense rent \"Rent of a shed\"
    form line rent
expense phone \"Telephone\"
    form line phone
expense gas \"Gas for the house\"
    counts as house cost
expense adviser \"Accountant\"
    form line accountancy
opened 2026-01-01
    10 bf oak for 100.00
    4 box for 8.00
bought 2026-02-01 from yard receipt \"Y-1\"
    20 bf oak for 240.00
    1 saw for 900.00
    1 plane for 60.00
built 2026-03-01 batch A
    used 15 bf oak
    made 5 stool
sold 2026-04-01 via fair order \"F-1\"
    3 stool at 100.00
    shipping 12.00
    postage 9.00
    packed with 2 box
took-home 2026-05-01
    1 stool
paid 2026-06-01 to landlord
    150.00 for rent
paid 2026-06-02 to telco
    30.00 for phone
paid 2026-06-03 to gasworks
    200.00 for gas
paid 2026-06-04 to adviser
    80.00 for adviser
drove 2026-06-05 40 mi
returned 2026-07-01 order \"F-1\"
    1 stool refunded 100.00, back to stock
";

fn in_britain() -> String {
    format!("{}{IN_BRITAIN}", shop("GBP", "uk-sa103f", "    home workshop 10% of house costs\n"))
}

const IN_CANADA: &str = "\
tool saw \"Band saw\"
    recovered over 7 years
expense phone \"Telephone\"
    form line office
expense lunch \"Lunch with a buyer\"
    form line meals
expense gas \"Gas for the house\"
    counts as house cost
expense adviser \"Accountant\"
    form line accountancy
opened 2026-01-01
    10 bf oak for 100.00
    4 box for 8.00
bought 2026-02-01 from yard receipt \"Y-1\"
    20 bf oak for 240.00
    freight 12.00
bought 2026-02-02 from dealer receipt \"D-1\"
    1 saw for 900.00
built 2026-03-01 batch A
    used 15 bf oak
    took 2h cutting by sam
    made 4 stool
sold 2026-04-01 via fair order \"F-1\"
    2 stool at 120.00
    shipping 10.00
    postage 9.00
    packed with 2 box
took-home 2026-05-01
    1 stool
paid 2026-06-01 to cafe
    40.00 for lunch
paid 2026-06-02 to telco
    30.00 for phone
paid 2026-06-03 to gasworks
    200.00 for gas
paid 2026-06-04 to adviser
    60.00 for adviser
drove 2026-06-05 25 mi
";

fn in_canada() -> String {
    format!("{}{IN_CANADA}", shop("CAD", "ca-t2125", "    home workshop 10% of house costs\n"))
}

fn question<'y>(year: &'y Year, name: &str) -> &'y Question {
    let asked = &year.figures().questions;
    asked.iter().find(|question| question.name == name).unwrap_or_else(|| panic!("`{name}` is not asked: {asked:#?}"))
}

/// The bridge as `name amount`, what is zero left out.
fn bridge(year: &Year) -> Vec<String> {
    let lines = year.report().bridge.into_iter().filter(|line| !line.amount.bytes().all(|byte| b"0.".contains(&byte)));
    lines.map(|line| format!("{} {}", line.name, line.amount)).collect()
}

#[test]
fn a_british_year_stands_in_the_boxes_of_sa103f() {
    // The batch takes the opening oak, 100, and 5 of the 20 bf at 12.00, 60: five stools at 32.00. Three are sold for 300 and one comes back
    // for 100; shipping is 12. The fee is 10 % of 312. One stool went home, 32. On hand are 15 bf at 12.00 and two stools: 180 + 64.
    let year = year_from(&in_britain(), 2026);
    let expected = [
        "w1 312.00",  // 300 + 12
        "w2 100.00",  // the refund
        "15 212.00",  // 312 − 100
        "w3 100.00",  // opening oak
        "w4 208.00",  // 240 bought, less 32 taken home
        "w8 244.00",  // 180 + 64
        "w9 64.00",   // 100 + 208 − 244: two stools at 32
        "w10 31.20",  // 10 % of 312
        "17 95.20",   // 64 + 31.20
        "21 150.00",  // the shed
        "23 39.00",   // telephone 30, postage 9
        "28 80.00",   // the accountant
        "30 4.00",    // two boxes at 2.00
        "31 368.20",  // 95.20 + 150 + 39 + 80 + 4
        "47 -156.20", // 212 − 368.20
    ];
    assert_eq!(year.lines(), expected);
    let working: Vec<_> = year.report().lines.into_iter().filter(|line| line.working).map(|line| line.line).collect();
    assert_eq!(working, ["w1", "w2", "w3", "w4", "w5", "w6", "w7", "w8", "w9", "w10"]);
    assert!(year.report().cost_of_goods.rounding.bytes().all(|byte| b"0.".contains(&byte)));
}

#[test]
fn what_sa103f_has_no_box_for_is_asked_with_its_amount_and_in_no_figure() {
    let year = year_from(&in_britain(), 2026);
    let asked = question(&year, "capital-allowances");
    assert!(
        asked.question.ends_with(
            "On no line here, and not in the net profit: `Block plane`, in use from 2026-02-01, cost 60.00; `Band saw`, in use from 2026-02-01, cost \
             900.00, 80% for the business"
        ),
        "{}",
        asked.question
    );
    assert_eq!(asked.entries.len(), 2);
    assert!(question(&year, "miles").question.ends_with("not in the net profit: 40 miles driven"));
    // 10 % of 200.00.
    let home = question(&year, "use-of-home");
    assert!(home.question.ends_with("not in the net profit: home workshop (10% of the house costs) 20.00"), "{}", home.question);
    for name in ["tax-year", "basis", "own-use", "trading-allowance", "disallowable", "national-insurance", "vat"] {
        assert!(!question(&year, name).question.contains("On no line here"), "{name}");
    }
    assert!(question(&year, "tax-year").rule.contains("6 April"));
    assert!(year.figures().questions.iter().all(|question| question.name != "business-gifts"));
    let saw = year.figures().equipment.iter().find(|tool| tool.asked && tool.cost.to_string() == "900").expect("the saw");
    assert_eq!((saw.amount.to_string(), saw.left.to_string()), ("0".into(), "720".into()));
}

#[test]
fn the_bridge_of_a_british_year_names_what_is_not_on_the_form() {
    // Margins: 312 − 100 − 31.20 − 9 − 64 − 4. Outside: 150 + 30 + 80. The house's 20.00 is taken off and put back by its name.
    let expected = [
        "paid margins of all products 103.80",
        "expenses not in a margin -260.00",
        "home workshop -20.00",
        "not on this form: use-of-home 20.00",
        "net profit or loss -156.20",
    ];
    assert_eq!(bridge(&year_from(&in_britain(), 2026)), expected);
}

#[test]
fn a_canadian_year_stands_on_the_lines_of_t2125() {
    // The batch takes the opening oak, 100, 5 of the 20 bf at 12.00 with 0.60 freight, 63, and two hours at 18.00: 199 for four stools at
    // 49.75. Two are sold for 240 with shipping 10; the fee is 10 % of 250. One went home. On hand: 15 bf at 12.60 and one stool.
    let year = year_from(&in_canada(), 2026);
    let expected = [
        "3A 250.00",
        "3C 250.00",
        "8000 250.00",
        "8299 250.00",
        "8300 100.00",
        "8320 190.25", // 240 − 49.75
        "8360 36.00",
        "8450 12.00",  // freight
        "8500 238.75", // 189 + 49.75
        "8518 99.50",  // 100 + 190.25 + 36 + 12 − 238.75: two stools
        "8519 150.50",
        "8523 20.00", // half of 40
        "8810 30.00",
        "8811 4.00", // two boxes
        "8860 60.00",
        "9275 9.00",
        "9270 25.00",  // the fee
        "9368 148.00", // 20 + 30 + 4 + 60 + 9 + 25
        "9369 2.50",
        "9945 2.50", // 10 % of 200 are 20.00, limited by line 9369
    ];
    assert_eq!(year.lines(), expected);
    assert_eq!(year.line("9946"), "0.00");
    let home = year.figures().home.as_ref().expect("a workshop");
    assert_eq!((home.before_limit.to_string(), home.excess.to_string()), ("20".into(), "17.5".into()));
    assert!(question(&year, "capital-cost-allowance").question.ends_with("`Band saw`, in use from 2026-02-02, cost 900.00"));
    assert!(question(&year, "motor-vehicle").question.ends_with("25 miles driven"));
    for name in ["gst-hst", "pension-contributions", "basis", "valuation"] {
        assert!(!question(&year, name).question.contains("On no line here"), "{name}");
    }
    // Margins: 250 − 25 − 9 − 99.50 − 4. Outside: 20 + 30 + 60.
    let expected = ["paid margins of all products 112.50", "expenses not in a margin -110.00", "home workshop -2.50"];
    assert_eq!(bridge(&year), expected);
}

/// What leaves in other ways, and what a preparer asks about.
const EVERY_WAY_OUT: &str = "\
gave 2026-08-02 to \"Ann\" as gift
    1 bf oak
gave 2026-08-03 to \"the raffle\" as donation
    1 bf oak
gave 2026-08-04 to \"a shop\" as sample
    1 bf oak
scrapped 2026-08-05
    1 bf oak
worked 2026-08-06
    1h cutting by sam
retired 2026-08-07 saw for 400.00
statement 2026 from fair
    gross 999.00
";

#[test]
fn gifts_and_donations_are_asked_by_the_forms_own_questions_and_by_no_others_limit() {
    let text = format!("{}gave 2026-08-02 to \"Ann\" as gift\n    1 bf oak\n", in_britain());
    // The oak on hand came at 12.00 a board foot; it is off the purchases, and on no line.
    let year = year_from(&text, 2026);
    let asked = question(&year, "business-gifts");
    assert!(asked.question.ends_with("not in the net profit: gifts 12.00"), "{}", asked.question);
    assert!(!year.open().contains(&"gifts/limit"));
    assert_eq!([year.line("w4"), year.line("w9"), year.line("47")], ["196.00", "64.00", "-156.20"]);
    assert!(bridge(&year).contains(&"not on this form: business-gifts 12.00".to_owned()), "{:#?}", bridge(&year));
}

#[test]
fn stock_given_away_out_of_the_opening_stock_is_asked_where_the_form_names_no_rule_for_it() {
    // Given before the batch: 1 bf of the opening oak at 10.00.
    let text = format!("{}gave 2026-02-15 to \"the raffle\" as donation\n    1 bf oak worth 15.00\n", in_britain());
    let year = year_from(&text, 2026);
    let asked = question(&year, "donations/opening-stock");
    assert!(asked.question.starts_with("10.00 of what was donated was taken off the opening stock"), "{}", asked.question);
    assert_eq!(year.line("w3"), "90.00");
    let american = text.replace("GBP", "USD").replace("uk-sa103f", "us-schedule-c").replace("form line rent", "form line 20b");
    let american = american.replace("form line phone", "form line 25").replace("form line accountancy", "form line 17");
    let american = american.replace("    expensed at once\n", "    recovered over 7 years\n");
    assert!(!year_from(&american, 2026).open().contains(&"donations/opening-stock"));
}

#[test]
fn what_a_form_asks_is_answered_by_its_name() {
    let answer = "answered 2026-12-31 \"capital-allowances\" \"annual investment allowance, box 49\"\n";
    let year = year_from(&format!("{}{answer}", in_britain()), 2026);
    assert!(!year.open().contains(&"capital-allowances") && year.open().contains(&"tax-year"));
    assert_eq!(question(&year, "capital-allowances").answer.as_deref(), Some("annual investment allowance, box 49"));
}

/// All that a reader sees of a year: text, JSON and page.
fn seen(year: &Year) -> String {
    let report = year.report();
    let pages = Pages::new(&std::collections::BTreeMap::new(), Neighbours::default()).expect("pages");
    let page = pages.render_year(&report).expect("a page");
    // The style of a page is no sentence of the report.
    let (_, body) = page.split_once("</head>").expect("a head");
    format!("{}\n{}\n{body}", text_year(&report, Look::default()), render_json(&report).expect("as JSON"))
}

#[test]
fn nothing_of_one_countrys_law_is_told_by_anothers_form() {
    let words = [
        "IRC",
        "IRS",
        "Schedule C",
        "Part III",
        "ection 179",
        "ection-179",
        "Form 4797",
        "$",
        "1099",
        "CFR",
        "de minimis",
        "dollar",
        "Medicare",
    ];
    let wide = |text: String| {
        let switched =
            text.replace("    accrual basis\n    stock kept as inventory\n", "    cash basis\n    stock kept as supplies\n");
        [format!("{text}{EVERY_WAY_OUT}"), format!("{switched}{EVERY_WAY_OUT}")]
    };
    for text in wide(in_britain()).into_iter().chain(wide(in_canada())) {
        let seen = seen(&year_from(&text, 2026));
        for word in words {
            // A Canadian dollar has its sign too, so only what is said of law is looked at there.
            if word == "$" && text.contains("CAD") {
                continue;
            }
            let at = seen.find(word);
            assert_eq!(at, None, "`{word}`: {}", at.and_then(|at| seen.get(at.saturating_sub(80)..at + 40)).unwrap_or(""));
        }
        let is_letter = |letter: char| letter.is_alphanumeric();
        assert!(seen.split(|letter| !is_letter(letter)).all(|word| word != "SE"));
        assert!(!seen.contains("Self-employment tax"));
    }
}

#[test]
fn a_rule_that_a_forms_data_lacks_is_said_to_be_missing() {
    let text = in_britain().replace("    accrual basis\n", "    cash basis\n");
    let year = year_from(&text, 2026);
    let asked = question(&year, "stock/inventory-with-cash");
    let said = (asked.rule.as_str(), asked.source.as_str());
    assert_eq!(said, ("this form's data names no rule for this", "forms/uk-sa103f/figures.toml"));
    let note = "stock is kept as inventory: this form's data names no rule for this";
    assert!(year.figures().notes.iter().any(|one| one == note));
}

#[test]
fn a_tool_that_leaves_is_asked_with_what_it_fetched_and_no_gain_is_figured() {
    let text = format!("{}retired 2026-08-01 saw for 500.00\n", in_britain());
    let year = year_from(&text, 2026);
    let asked = question(&year, "capital-allowances");
    assert!(asked.question.ends_with("80% for the business, left on 2026-08-01 for 500.00"), "{}", asked.question);
    assert!(year.report().schedules.tools_gone.is_empty());
    assert!(year.figures().notes.iter().any(|note| note == "`Band saw` left on 2026-08-01 for 500.00: on no line here"));
}

#[test]
fn a_house_cost_on_a_line_of_a_form_that_asks_for_the_workshop_is_a_mistake() {
    let text = in_britain().replace("    counts as house cost\n", "    counts as house cost\n    form line 21\n");
    let told = year_from(&text, 2026).told();
    let expected = "K507 `gas` counts as house cost and also stands on line 21 (Rent, rates, power and insurance costs): it would count twice";
    assert_eq!(told, [expected]);
}

#[test]
fn a_year_of_a_form_without_data_names_the_file() {
    let text = in_britain().replace("2026-", "2023-");
    let told = year_from(&text, 2023).told();
    assert_eq!(told, ["K501 there is no data for the form `uk-sa103f` of 2023: the file `forms/uk-sa103f/2023.toml` is missing"]);
}

#[test]
fn what_is_in_a_margin_and_on_no_line_comes_back_in_the_bridge_by_its_name() {
    let file = include_str!("../../report-templates/forms/uk-sa103f/2026.toml");
    let asked = "[[asked]]\nname = \"carriage\"\nfeeds = [\"postage\"]\nquestion = \"Where does carriage out stand?\"\nrule = \"so\"\n\
                 answer_with = \"answered …\"\nsource = \"labels\"\n";
    let mut forms = Forms::built_in();
    forms.add("uk-sa103f/2026.toml", &format!("{}\n{asked}", file.replace("feeds = [\"postage\"]\n", "")));
    assert_eq!(forms.faults(), []);
    let year = year_with(&in_britain(), 2026, &forms);
    assert_eq!([year.line("23"), year.line("47")], ["30.00", "-147.20"]);
    let said = "Where does carriage out stand? On no line here, and not in the net profit: postage 9.00";
    assert_eq!(question(&year, "carriage").question, said);
    assert!(bridge(&year).contains(&"not on this form: carriage 9.00".to_owned()), "{:#?}", bridge(&year));
}
