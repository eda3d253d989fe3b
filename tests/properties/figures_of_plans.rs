//! Every figure of a plan, and of a price that is asked with wishes, is derived: its name reads back, it is the figure that the report prints, and the
//! steps below a sum come to it in the same unit, at each level, folded and down to the entries.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use chrono::{Days, NaiveDate};
use kerfbook::cli::{CompileOptions, compile_book};
use kerfbook::names::ThingId;
use kerfbook::reports::{
    Derived, FigureName, HowDeep, Period, PlanAsked, Wanted, WhyStep, report_plan, report_price, report_why,
};
use kerfbook::units::Fixed6;
use kerfbook::year::{Books, Forms};
use proptest::prelude::*;
use rust_decimal::Decimal;
use serde_json::Value;

use crate::compiled_pages::CompiledPages;
use crate::figures_of_reports::{Printed, adds_up, dashed, figure, json, print_price, text, traced};
use crate::how_many::books;
use crate::random_book::any_book;

/// How many figures of plans and of prices were derived.
#[derive(Default)]
struct Seen {
    plans: usize,
    figures: usize,
    steps: usize,
    bought: usize,
    leaves_of: BTreeSet<String>,
}

fn put(out: &mut Printed, name: String, row: &Value, keys: &[&str]) {
    for key in keys {
        let value = &row[key];
        let printed = text(value).or_else(|| value.as_u64().map(|number| number.to_string()));
        out.insert(format!("{name}/{}", dashed(key)), printed);
    }
}

/// What a plan prints, by the names of its figures.
fn printed_of_plan(report: &Value) -> Printed {
    let mut out = Printed::new();
    let plan = report["figure"].as_str().expect("a name");
    put(
        &mut out,
        plan.to_owned(),
        report,
        &["cash_needed", "helper_pay", "royalties", "due_later", "own_minutes", "helper_minutes"],
    );
    let builds = [
        "asked",
        "for_parts",
        "on_hand",
        "on_the_bench",
        "elsewhere",
        "to_build",
        "to_begin",
        "expected_good",
        "lost_percent",
        "learnt_from_batches",
    ];
    for (rows, word, keys) in [
        ("builds", "build", builds.as_slice()),
        ("materials", "material", &["by_recipe", "needed", "on_hand", "elsewhere", "short"]),
        ("buys", "buy", &["short", "packs", "buy", "pack_cost", "cost"]),
        ("steps", "step", &["planned", "expected", "by_helpers", "best"]),
        ("offcuts", "offcut", &["on_hand"]),
        ("licences", "licence", &["needed", "left", "on_the_bench", "short", "buy", "cost"]),
    ] {
        for row in report[rows].as_array().expect("rows") {
            let name = row["name"].as_str().expect("a name").replace('/', "_");
            put(&mut out, format!("{plan}/{word}/{name}"), row, keys);
        }
    }
    for row in report["costs"].as_array().expect("rows") {
        let name = format!("{plan}/cost/{}", row["name"].as_str().expect("a name").replace('/', "_"));
        out.insert(name.clone(), text(&row["per_unit"]["paid"]));
        let parts = ["materials", "wear", "bought_in_time", "royalty", "paid", "own_time", "overhead", "full"];
        put(&mut out, name.clone(), &row["per_unit"], &parts);
        out.insert(format!("{name}/minutes"), text(&row["minutes_per_unit"]));
    }
    if let Some(by) = report["by"].as_object() {
        let name = format!("{plan}/by/{}", by["day"].as_str().expect("a day"));
        put(&mut out, name, &report["by"], &["hours_per_week", "there_are", "needed"]);
    }
    out
}

fn gather_figures(step: &WhyStep, out: &mut BTreeSet<String>) {
    if let Some(figure) = &step.figure {
        out.extend(figure.split('/').next().map(str::to_owned));
    }
    step.steps.iter().for_each(|below| gather_figures(below, out));
}

/// Derives all figures that were asked for; what begins otherwise is held elsewhere.
fn derive_asked(of: &Derived<'_>, begins: &str, mut printed: Printed, seen: &mut Seen) {
    for name in of.names().all() {
        let text = name.text(of.names());
        if !text.starts_with(&format!("{begins}/")) && text != begins {
            continue;
        }
        assert_eq!(FigureName::read(&text, of.names()), Ok(name), "{text}");
        seen.figures += 1;
        for deep in [HowDeep::Deep, HowDeep::Fold] {
            let report = report_why(of, name, deep).unwrap_or_else(|| panic!("{text} fits"));
            assert_eq!(report.figure, text);
            for step in &report.steps {
                seen.steps += adds_up(&text, step, report.measure);
                gather_figures(step, &mut seen.leaves_of);
            }
            let top = report.steps.first().map(|step| figure(&step.paid));
            match printed.get(&text) {
                Some(None) => {
                    let says_why = ["not known", "no "].iter().any(|why| report.answer.contains(why));
                    assert!(says_why && top.is_none(), "{text}: {}", report.answer);
                }
                Some(Some(printed)) => {
                    let (top, printed) = (top.unwrap_or_default(), figure(printed));
                    let is_rounded = text.ends_with("-per-hour");
                    let off = (top - printed).abs();
                    assert!(off == Decimal::ZERO || is_rounded && off < Decimal::new(1, 2), "{text}: {top} and not {printed}");
                }
                // Of parts that a plan builds the report prints no cost, though what is asked for is told by it.
                None => assert!(text.contains("/cost/"), "{text} stands in no report: {}", report.answer),
            }
        }
        printed.remove(&text);
    }
    assert!(printed.is_empty(), "not derived: {:?}", printed.keys().take(9).collect::<Vec<_>>());
}

fn derive_plan(books: Books<'_>, builds: &[(ThingId, Decimal)], seen: &mut Seen) {
    let last = books.costed.until.expect("entries");
    let by = last.checked_add_days(Days::new(30)).expect("a day");
    let asked = PlanAsked { builds: builds.to_vec(), by: Some((last, by)) };
    let Ok(report) = report_plan(books, &asked) else { return };
    let report = json(&report);
    let begins = report["figure"].as_str().expect("a name");
    let typed = format!("{begins}/by/{by}/needed");
    let of = Derived::of(books, &[]).expect("costed with its trace");
    let (of, spelled) = of.asking(&typed, Some(last)).expect("a plan");
    assert_eq!(spelled, typed);
    seen.plans += 1;
    seen.bought += report["buys"].as_array().expect("rows").len();
    // A column of money adds up to the sum that is printed below it.
    let rows = ["buys", "licences"].into_iter().flat_map(|rows| report[rows].as_array().expect("rows"));
    let costs = rows.filter_map(|buy| text(&buy["cost"]));
    let paid = ["helper_pay", "royalties"].map(|key| figure(report[key].as_str().expect("money")));
    let sum: Decimal = costs.map(|cost| figure(&cost)).chain(paid).sum();
    assert_eq!(sum, figure(report["cash_needed"].as_str().expect("money")), "{begins}");
    derive_asked(&of, begins, printed_of_plan(&report), seen);
}

/// Plans one and many of each thing that has a recipe, and the first three together.
fn derive_plans(books: Books<'_>, seen: &mut Seen) {
    let Some(day) = books.costed.until else { return };
    let is_built = |thing: &ThingId| {
        let thing = books.book.thing(*thing);
        !thing.needs.on(day).is_empty() || !thing.takes.on(day).is_empty()
    };
    let things = (0_u32..).map(ThingId).take(books.book.things.len());
    let built: Vec<ThingId> = things.filter(is_built).take(5).collect();
    for (at, thing) in (0_i64..).zip(&built) {
        derive_plan(books, &[(*thing, Decimal::from(1 + at * 57))], seen);
    }
    let together: Vec<(ThingId, Decimal)> = built.iter().take(3).map(|thing| (*thing, Decimal::from(23))).collect();
    if together.len() > 1 {
        derive_plan(books, &together, seen);
    }
}

fn derive_prices(books: Books<'_>, seen: &mut Seen) {
    let money = |text: &str| Fixed6::from_decimal_exact(figure(text));
    let wanted = Wanted { per_hour: money("25"), margin: Some(figure("12.5")), fixed: money("160").zip(money("960")) };
    let things = (0_u32..).map(ThingId).take(books.book.things.len());
    for thing in things.filter(|thing| books.book.thing(*thing).kind == kerfbook::names::ThingKind::Product).take(6) {
        let Ok(report) = report_price(books, thing, (Period::default(), &|_| None), wanted) else { continue };
        let report = json(&report);
        let name = report["name"].as_str().expect("a name").replace('/', "_");
        let begins = format!("price/{name}+earn_25+margin_12.5%+fixed_160+hours_16h");
        let mut printed = BTreeMap::new();
        print_price(&begins, &report, &mut printed);
        for channel in report["channels"].as_array().expect("channels") {
            let name = format!("{begins}/{}", channel["name"].as_str().expect("a name").replace('/', "_"));
            printed.insert(format!("{name}/least-for-margin"), text(&channel["floors"]["margin"]));
            for column in ["money", "minutes", "pieces", "takings", "with-hours"] {
                // Where there is no price nothing can be met.
                printed.entry(format!("{name}/break-even-{column}")).or_insert(None);
            }
        }
        let of = Derived::of(books, &[]).expect("costed with its trace");
        let typed = format!("price/{name}+hours_16h+fixed_160.00+earn_25.00+margin_12.5%");
        let (of, spelled) = of.asking(&typed, None).expect("a price");
        assert_eq!(spelled, begins);
        derive_asked(&of, &begins, printed, seen);
    }
}

proptest! {
    #![proptest_config(books(10))]

    #[test]
    fn every_figure_of_a_plan_of_a_random_book_is_derived_to_the_last_digit(book in any_book(1..90)) {
        let compiled = CompiledPages::of(&book.pages());
        compiled.cost(None).map_err(TestCaseError::fail)?;
        let costed = traced(&compiled.log, &compiled.book);
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
        let mut seen = Seen::default();
        derive_plans(books, &mut seen);
        derive_prices(books, &mut seen);
    }
}

#[test]
fn every_figure_of_a_plan_of_the_example_books_is_derived_to_the_last_digit() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("ledger-examples");
    let mut seen = Seen::default();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if !path.is_dir() {
            continue;
        }
        let options = CompileOptions { today: NaiveDate::from_ymd_opt(2027, 2, 1), ..CompileOptions::default() };
        let compiled = compile_book(&path, &Forms::built_in(), options).expect("a book");
        let costed = traced(&compiled.log, &compiled.book);
        let books = Books { costed: &costed, ..compiled.books() };
        derive_plans(books, &mut seen);
        derive_prices(books, &mut seen);
    }
    assert!(seen.plans >= 6 && seen.bought > 9, "{} plans, {} things to buy", seen.plans, seen.bought);
    assert!(seen.figures > 1000 && seen.steps > 10_000, "{} figures, {} steps", seen.figures, seen.steps);
    for kind in ["plan", "price", "batch", "lot", "stock"] {
        assert!(seen.leaves_of.contains(kind), "no step stands for a figure of {kind}: {:?}", seen.leaves_of);
    }
}
