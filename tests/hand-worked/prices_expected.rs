//! The price of what was never finished, asked back from what a plan of one expects, worked by hand.
//!
//! A toy needs two blocks and 10 ml of oil, takes 12 min of packing and bears a royalty of 0.50; a block needs 0.5 bf of maple and takes 6 min of
//! sawing, which wears a blade in 30 min. On hand are 4 bf of maple at 6.00, a can of 50 ml of oil for 10.00 and 2 blades at 3.00.
//!
//! Two blocks: 1 bf are 6.00, 12 min of sawing wear 0.4 blade, 1.20, and are 4.80 of own time at 24.00 and 1.20 of overhead at 6.00. The toy: 10 ml are
//! 2.00, packing is 4.80 and 1.20, the royalty 0.50. So 9.70 are laid out; with 9.60 of own time and 2.40 of overhead it is 21.70, in 24 min.
//!
//! The fair takes 10 %: 9.70 / 0.9 = 10.777…, 10.78; 21.70 / 0.9 = 24.111…, 24.12. At 40.00 it leaves 36.00, 26.30 over what is laid out and 14.30 over
//! all; (26.30 − 2.40) / 24 min are 59.75 an hour.

use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::names::ThingId;
use kerfbook::reports::{
    Derived, FigureName, HowDeep, Period, PriceFault, PriceReport, Wanted, WhyReport, WhyRule, WhyStep, report_plan,
    report_price, report_why,
};
use kerfbook::year::Books;
use rust_decimal::Decimal;

use crate::compiled::{Compiled, compile_texts};

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 24.00 per h
    overhead 6.00 per h
place bench \"Bench\"
    home
step sawing \"Sawing\"
    wears 1 blade per 30 min
step packing \"Packing\"
material maple \"Maple\"
    measured in bf
material oil \"Oil\"
    measured in ml
    1 can = 50 ml
material blade \"Blade\"
    measured in ea
    as wear
pattern toy-plan \"Plan of the toy\"
    royalty 0.50 per ea
product block \"Block\"
    needs 0.5 bf maple
    takes 6m sawing
product toy \"Toy\"
    needs 2 block, 10 ml oil
    takes 12m packing
    pattern toy-plan
    price 40.00
product sign \"Sign\"
    price 5.00
channel fair \"Fair\"
    fee 10% of total
";
const BOUGHT: &str = "\
bought 2026-01-02 from mill
    4 bf maple for 24.00
    1 can oil for 10.00
    2 blade for 6.00
";

fn compiled(text: &str) -> Compiled {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    compiled
}

fn thing(compiled: &Compiled, name: &str) -> ThingId {
    let at = compiled.book.things.iter().position(|thing| thing.named.name == name).expect("defined");
    ThingId(u32::try_from(at).expect("few"))
}

fn priced(text: &str, name: &str, period: Period) -> Result<PriceReport, PriceFault> {
    let compiled = compiled(text);
    report_price(compiled.books(), thing(&compiled, name), (period, &|_| None), Wanted::default())
}

fn refused(text: &str, name: &str, period: Period) -> String {
    let compiled = compiled(text);
    let product = thing(&compiled, name);
    let fault = report_price(compiled.books(), product, (period, &|_| None), Wanted::default()).expect_err("no price");
    fault.says(&compiled.book, product)
}

fn days(from: &str, to: &str) -> Period {
    Period { from: Some(from.parse().expect("a day")), to: Some(to.parse().expect("a day")) }
}

fn figure(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

#[test]
fn what_was_never_finished_is_priced_by_what_a_plan_of_one_expects_and_says_so() {
    let report = priced(&format!("{BOOK}{BOUGHT}"), "toy", Period::default()).expect("a price");
    assert!(report.expected);
    assert_eq!(report.cost_from, "expected by its recipe and what things cost on 2026-01-02: none was finished yet");
    let one = &report.per_unit;
    let parts = [&one.materials, &one.wear, &one.royalty, &one.paid, &one.own_time, &one.overhead, &one.full];
    assert_eq!(parts, ["8.00", "1.20", "0.50", "9.70", "9.60", "2.40", "21.70"]);
    assert_eq!((report.pieces.as_str(), report.minutes_per_unit.as_deref()), ("1", Some("24")));
    let [fair] = report.channels.as_slice() else { panic!("one channel") };
    assert_eq!((fair.floors.paid.as_deref(), fair.floors.full.as_deref()), (Some("10.78"), Some("24.12")));
    let list = fair.at_list_price.as_ref().expect("a list price");
    assert_eq!((list.paid_margin.as_str(), list.full_margin.as_deref()), ("26.30", Some("14.30")));
    assert_eq!(list.per_hour.as_deref(), Some("59.75"));
    let told = report.notes.iter().any(|note| note.contains("not measured") && note.contains("`kerfbook plan 1 toy`"));
    assert!(told, "{:#?}", report.notes);
}

#[test]
fn it_is_the_cost_that_the_plan_prints() {
    let compiled = compiled(&format!("{BOOK}{BOUGHT}"));
    let toy = thing(&compiled, "toy");
    let price = report_price(compiled.books(), toy, (Period::default(), &|_| None), Wanted::default()).expect("a price");
    let asked = kerfbook::reports::PlanAsked { builds: vec![(toy, Decimal::ONE)], by: None };
    let plan = report_plan(compiled.books(), &asked).expect("a plan");
    assert_eq!(plan.costs[0].per_unit, price.per_unit);
    assert_eq!(Some(plan.costs[0].minutes_per_unit.as_str()), price.minutes_per_unit.as_deref());
}

#[test]
fn once_one_was_finished_the_price_is_of_what_was_measured() {
    let built = "built 2026-01-05 batch T1\n    used 2 bf maple\n    took 30m packing\n    made 1 toy\n";
    let book = format!("{BOOK}{BOUGHT}{built}");
    let report = priced(&book, "toy", Period::default()).expect("a price");
    assert!(!report.expected);
    // 12.00 of maple, 12.00 of own time, 3.00 of overhead and 0.50 of royalty.
    assert_eq!((report.per_unit.paid.as_str(), report.per_unit.full.as_str()), ("12.50", "27.50"));
    // All are sold, and of days in which none was finished nothing is expected: what was finished says more.
    let sold = format!("{book}sold 2026-01-06 via fair\n    1 toy\n");
    let said = refused(&sold, "toy", days("2026-01-06", "2026-01-06"));
    assert!(said.contains("none was finished in those days") && said.contains("without days"), "{said}");
}

#[test]
fn what_the_recipe_needs_and_nothing_prices_is_named_with_what_to_do() {
    let no_oil = BOUGHT.replace("    1 can oil for 10.00\n", "");
    let said = refused(&format!("{BOOK}{no_oil}"), "toy", Period::default());
    assert_eq!(
        said,
        "nothing says what a `toy` costs: none was finished yet, and nothing says what its recipe needs of `oil` costs; \
         enter the first purchase with `bought`, or what is there with `opened`"
    );
    // What a part needs counts too, and so does a licence of which none was bought.
    let limited = BOOK.replace("    royalty 0.50 per ea\n", "    allows 4 ea for sale\n");
    let no_maple = BOUGHT.replace("    4 bf maple for 24.00\n", "");
    let said = refused(&format!("{limited}{no_maple}"), "toy", Period::default());
    assert!(said.contains("needs of `maple`, a licence of `toy-plan` costs"), "{said}");
    // The ten ml that it needs are there. Where five are, the other five have no price.
    let opened = format!("{BOOK}opened 2026-01-01\n    10 ml oil for 2.00\n{no_oil}");
    let report = priced(&opened, "toy", Period::default()).expect("a price");
    assert_eq!(report.per_unit.materials, "8.00");
    let said = refused(&opened.replace("10 ml oil for 2.00", "5 ml oil for 1.00"), "toy", Period::default());
    assert!(said.contains("nothing says what its recipe needs of `oil` costs"), "{said}");
    // A sign has no recipe.
    let said = refused(&format!("{BOOK}{BOUGHT}"), "sign", Period::default());
    assert!(said.contains("it has no recipe") && said.contains("`needs` and `takes`"), "{said}");
}

#[test]
fn a_recipe_that_says_no_time_and_parts_that_came_without_hours_leave_the_hours_unknown() {
    let no_time = BOOK.replace("    takes 12m packing\n", "").replace("    takes 6m sawing\n", "");
    let report = priced(&format!("{no_time}{BOUGHT}"), "toy", Period::default()).expect("a price");
    assert_eq!((report.per_unit.paid.as_str(), report.minutes_per_unit.as_deref()), ("8.50", None));
    assert!(report.notes.iter().any(|note| note.contains("says no time")), "{:#?}", report.notes);
    assert_eq!(report.channels[0].floors.full, None);
    // Blocks that were there when the book began, of which nobody knows the hours: 3.00 for two, 2.00 of oil and 0.50.
    let opened = format!("{BOOK}opened 2026-01-01\n    8 block for 12.00\n{BOUGHT}");
    let report = priced(&opened, "toy", Period::default()).expect("a price");
    assert_eq!((report.per_unit.paid.as_str(), report.minutes_per_unit.as_deref()), ("5.50", None));
}

/// Derives a figure of the book's prices.
fn why(text: &str, name: &str, deep: HowDeep) -> WhyReport {
    let compiled = compiled(text);
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let of = Derived::of(Books { costed: &costed, ..compiled.books() }, &[]).expect("costed with its trace");
    let figure = FigureName::read(name, of.names()).expect("a figure");
    assert!(of.names().all().contains(&figure) || name.starts_with("price/sign"), "{name} is in no list");
    report_why(&of, figure, deep).expect("fits")
}

/// The sum of the steps at the ends of sums below a step.
fn leaves(step: &WhyStep) -> Decimal {
    match step.rule {
        WhyRule::SumOf => step.steps.iter().map(leaves).sum(),
        _ => figure(&step.paid),
    }
}

#[test]
fn the_expected_cost_is_told_item_by_item_and_its_leaves_add_up_to_it() {
    let book = format!("{BOOK}{BOUGHT}");
    let report = why(&book, "price/toy/paid", HowDeep::Fold);
    assert_eq!(
        report.answer,
        "In one toy are 9.70 of paid cost (expected by its recipe and what things cost on 2026-01-02: none was finished yet)."
    );
    let [top] = report.steps.as_slice() else { panic!("one step") };
    let [all] = top.steps.as_slice() else { panic!("the plan") };
    assert_eq!((all.paid.as_str(), all.figure.as_deref()), ("9.70", Some("plan/1_toy/cost/toy/paid")));
    let items: Vec<(&str, &str)> = all.steps.iter().map(|step| (step.says.as_str(), step.paid.as_str())).collect();
    assert_eq!(
        items,
        [
            ("2 block of those that are built first", "7.20"),
            ("10 ml oil from what is on hand", "2.00"),
            ("royalty of toy-plan", "0.50")
        ]
    );
    for (part, sum) in [("paid", "9.70"), ("own-time", "9.60"), ("overhead", "2.40"), ("full", "21.70"), ("minutes", "24")] {
        let report = why(&book, &format!("price/toy/{part}"), HowDeep::Deep);
        let plan = &report.steps[0].steps[0];
        assert_eq!((plan.paid.as_str(), leaves(plan)), (sum, figure(sum)), "{part}: {report:#?}");
    }
    let hour = why(&book, "price/toy/fair/list-per-hour", HowDeep::Deep);
    assert_eq!(hour.steps[0].paid, "59.75");
    let least = why(&book, "price/toy/fair/least-for-full", HowDeep::Fold);
    assert!(least.answer.ends_with("is 24.12."), "{}", least.answer);
    // What has no price says why, in the words of the report.
    let none = why(&book, "price/sign", HowDeep::Fold);
    assert!(none.answer.starts_with("Nothing says what a `sign` costs") && none.steps.is_empty(), "{}", none.answer);
}
