//! Why a place owes so much for so long, and why so many hours were worked at a step, told down to the entries.
//!
//! Two sales paid after 20 and 31 days: 25.5, so 26 as a rule. On 2026-06-10 the sale of 1 May is owed for 40 days, 14 more; that of 1 June for 9.

use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::reports::{Derived, FigureName, HowDeep, WhyReport, WhyRule, WhyStep, report_why};
use kerfbook::year::Books;

use crate::compiled::compile_texts;
use crate::places::BOOK;

const LATER: &str = "\
received 2026-02-09 from gift-shop
    27.00 for order \"G-2\"
sold 2026-03-01 via gift-shop order \"G-3\"
    1 cart
received 2026-04-01 from gift-shop
    27.00 for order \"G-3\"
sent 2026-04-05 to gift-shop
    2 cart
sold 2026-05-01 via gift-shop order \"G-4\"
    1 cart
sold 2026-06-01 via gift-shop order \"G-5\"
    1 cart
received 2026-06-05 from gift-shop
    10.00 for order \"G-4\"
noted 2026-06-10 \"asked them\"
";

fn why(text: &str, name: &str, today: Option<&str>) -> WhyReport {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let of = Derived::of(Books { costed: &costed, ..compiled.books() }, &[]).expect("costed with its trace");
    let of = of.on(today.map(|day| day.parse().expect("a day")));
    let figure = FigureName::read(name, of.names()).unwrap_or_else(|fault| panic!("{name}: {}", fault.0));
    assert!(of.names().all().contains(&figure), "{name} is in no list");
    report_why(&of, figure, HowDeep::Deep).expect("fits")
}

/// The steps right below a step, each by its amount and the line that says it.
fn below(step: &WhyStep) -> Vec<(&str, &str)> {
    step.steps.iter().map(|one| (one.paid.as_str(), one.at.as_ref().map_or("", |at| at.text.as_str()))).collect()
}

#[test]
fn days_late_name_the_sale_the_day_and_the_sales_that_were_paid_before() {
    let text = format!("{BOOK}{LATER}");
    let report = why(&text, "places/gift-shop/owed/G-4/days-late", None);
    assert!(report.answer.contains("is 14 days late"), "{}", report.answer);
    let [late] = report.steps.as_slice() else { panic!("one figure") };
    let [days, usual] = late.steps.as_slice() else { panic!("days, and what is usual") };
    assert_eq!((late.paid.as_str(), days.paid.as_str(), usual.paid.as_str()), ("14", "40", "-26"));
    assert_eq!(below(days), [("0", "sold 2026-05-01 via gift-shop order \"G-4\""), ("40", "noted 2026-06-10 \"asked them\"")]);
    let mean = &usual.steps[0];
    assert_eq!((mean.rule, mean.paid.as_str(), mean.steps.len()), (WhyRule::Figured, "26", 2));
    assert_eq!(below(&mean.steps[0]), [("0", "sold 2026-03-01 via gift-shop order \"G-3\""), ("31", "27.00 for order \"G-3\"")]);
    assert_eq!(below(&mean.steps[1]), [("0", "sold 2026-01-20 via gift-shop order \"G-2\""), ("20", "27.00 for order \"G-2\"")]);
    // What is not late yet is late for no day; and days count to today, where that is later.
    assert!(why(&text, "places/gift-shop/owed/G-5/days-late", None).answer.contains("is 0 days late"));
    let today = why(&text, "places/gift-shop/owed/G-5/days", Some("2026-07-01"));
    assert!(today.answer.contains("30 days") && today.steps[0].steps[1].says.contains("2026-07-01, today"), "{today:#?}");
}

#[test]
fn what_is_owed_for_a_sale_is_what_it_came_to_less_what_came() {
    let text = format!("{BOOK}{LATER}");
    let open = why(&text, "places/gift-shop/owed/G-4/open", None);
    assert!(open.answer.contains("17.00"), "{}", open.answer);
    let amounts: Vec<&str> = open.steps[0].steps.iter().map(|step| step.paid.as_str()).collect();
    assert_eq!(amounts, ["27.00", "-10.00"]);
    // Two carts, less the one that came back.
    let total = why(&text, "places/gift-shop/owed/G-1/total", None);
    let amounts: Vec<&str> = total.steps[0].steps.iter().map(|step| step.paid.as_str()).collect();
    assert_eq!((total.steps[0].paid.as_str(), amounts), ("9.00", vec!["54.00", "-45.00"]));
    // All of it together, sale by sale.
    let owed = why(&text, "places/gift-shop/owed", None);
    let sales: Vec<&str> = owed.steps[0].steps.iter().filter_map(|step| step.figure.as_deref()).collect();
    assert_eq!(sales, ["G-1", "G-4", "G-5"].map(|order| format!("places/gift-shop/owed/{order}/open")));
    let counted = why(&text, "places/gift-shop/days-since-count", None);
    assert_eq!(below(&counted.steps[0])[0], ("0", "counted 2026-01-30 at gift-shop"));
    assert_eq!(counted.steps[0].paid, "131");
}

#[test]
fn hours_at_a_step_are_told_entry_by_entry_and_an_hour_against_the_rate() {
    // A top of a batch of two cost 5.00 and 45 min and was sold for 30.00 at the door: 25.00 in 45 min are 33.33 an hour, 13.33 over 20.00.
    let text = BOOK.replace("    currency USD\n", "    currency USD\n    owner time 20.00 per h\n")
        + "step turning \"Turning\"\nmaterial oak \"Oak\"\n    measured in bf\nproduct top \"Top\"\n    price 30.00\nchannel door \"At the door\"\n\
           bought 2026-02-01 from mill\n    5 bf oak for 10.00\n\
           built 2026-02-02 batch B1\n    used 5 bf oak\n    took 90m turning\n    made 2 top\n\
           worked 2026-02-03\n    30m turning on gift-shop\n\
           sold 2026-02-04 via door order \"D-1\"\n    1 top\n";
    let report = why(&text, "pays/all/hours/turning/own-minutes", None);
    assert_eq!(report.answer, "120 own minutes were worked at Turning.");
    assert_eq!(below(&report.steps[0]), [("90", "took 90m turning"), ("30", "30m turning on gift-shop")]);
    let none = why(&text, "pays/all/2026/hours/turning/bought-in-minutes", None);
    assert_eq!(none.answer, "0 bought-in minutes were worked at Turning in 2026.");
    let over = why(&text, "pays/door/2026/over-rate", None);
    let amounts: Vec<&str> = over.steps[0].steps.iter().map(|step| step.paid.as_str()).collect();
    assert_eq!((over.steps[0].paid.as_str(), amounts), ("13.333333", vec!["33.333333", "-20.00"]));
    // Of the carts nobody knows the hours.
    let unknown = why(&text, "pays/gift-shop/over-rate", None);
    assert!(unknown.answer.starts_with("There is no figure") && unknown.steps.is_empty(), "{}", unknown.answer);
}
