//! Every figure of the reports of what pays, of the proof and of a year's schedules is derived: it is the figure that the report prints, and the steps
//! below a sum come to it in the same unit, at each level, folded and down to the entries.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use chrono::{Datelike, NaiveDate};
use kerfbook::cli::{CompileOptions, compile_book};
use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::names::{ThingId, ThingKind};
use kerfbook::reports::{
    Derived, FigureName, HowDeep, Period, PriceIndex, Wanted, WhyMeasure, WhyReport, WhyRule, WhyStep, report_cost, report_pays,
    report_places, report_price_by, report_proof, report_stock, report_why, report_year,
};
use kerfbook::year::{Books, Figures, Forms, TaxYear, year_of};
use proptest::prelude::*;
use rust_decimal::Decimal;
use serde_json::Value;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::any_book;
use crate::random_shop::random_shop;

pub(crate) fn figure(text: &str) -> Decimal {
    text.parse().expect("a figure")
}

/// What a step's amounts are: its own measure and unit, or those of the report.
fn measure_of(step: &WhyStep, report: WhyMeasure) -> (WhyMeasure, Option<&str>) {
    (step.measure.unwrap_or(report), step.unit.as_deref())
}

/// Goes down a derivation; gives how many steps it has.
pub(crate) fn adds_up(name: &str, step: &WhyStep, report: WhyMeasure) -> usize {
    match step.rule {
        WhyRule::SumOf => {
            let mut sums = (Decimal::ZERO, Decimal::ZERO);
            for below in &step.steps {
                assert_eq!(measure_of(below, report).0, measure_of(step, report).0, "a sum of other things: {name}: {step:#?}");
                if measure_of(step, report).0 == WhyMeasure::Units {
                    assert_eq!(below.unit, step.unit, "a sum of other units: {name}: {step:#?}");
                }
                sums = (sums.0 + figure(&below.paid), sums.1 + figure(&below.full));
            }
            assert_eq!(sums, (figure(&step.paid), figure(&step.full)), "{name}: {step:#?}");
        }
        WhyRule::PartOf => {
            let [whole] = step.steps.as_slice() else { panic!("a part of one thing: {name}: {step:#?}") };
            assert!(figure(&step.paid).abs() <= figure(&whole.paid).abs(), "a part above its whole: {name}: {step:#?}");
        }
        WhyRule::PerUnit => assert_eq!(step.steps.len(), 1, "{name}: {step:#?}"),
        WhyRule::Figured => assert!(!step.steps.is_empty(), "{name}: {step:#?}"),
        WhyRule::Said | WhyRule::Above | WhyRule::Deeper => assert!(step.steps.is_empty(), "{name}: {step:#?}"),
    }
    1 + step.steps.iter().map(|below| adds_up(name, below, report)).sum::<usize>()
}

/// What the reports print, by the names of their figures.
pub(crate) type Printed = BTreeMap<String, Option<String>>;

pub(crate) fn text(value: &Value) -> Option<String> {
    value.as_str().map(str::to_owned).or_else(|| value.as_i64().map(|number| number.to_string()))
}

const COLUMNS: [&str; 13] = [
    "units",
    "revenue",
    "fees",
    "postage",
    "packing",
    "direct_expenses",
    "paid_cost",
    "paid_margin",
    "own_time",
    "overhead",
    "full_margin",
    "own_minutes",
    "earned_per_hour",
];

pub(crate) fn dashed(name: &str) -> String {
    name.replace('_', "-")
}

pub(crate) fn json(report: &impl serde::Serialize) -> Value {
    serde_json::to_value(report).expect("a report is JSON")
}

fn rate_of(figures: Option<&Figures>) -> impl Fn(NaiveDate) -> Option<Decimal> + '_ {
    move |day| figures?.mileage(day).map(|rate| rate.per_mile.0)
}

fn print_pays(books: Books<'_>, years: &[TaxYear], figures: Option<&Figures>, year: Option<i32>, out: &mut Printed) {
    let period = year.map_or_else(Period::default, Period::year);
    let tax_year = years.iter().find(|one| Some(one.year) == year);
    let report = report_pays(books.book, books.log, books.costed, period, &rate_of(figures), years).expect("fits");
    let report = json(&report);
    let of_year = year.map_or_else(String::new, |year| format!("/{year}"));
    let mut put = |name: &str, row: &Value| {
        for column in COLUMNS.into_iter().filter(|column| row.get(column).is_some()) {
            out.insert(format!("pays/{name}{of_year}/{}", dashed(column)), text(&row[column]));
        }
    };
    for group in report["groups"].as_array().expect("groups") {
        put(group["name"].as_str().expect("a name"), group);
    }
    put("all", &report["totals"]);
    for rest in report["rest"].as_array().expect("rows") {
        let (by, why) = (rest["by"].as_str().expect("a kind"), dashed(rest["why"].as_str().expect("a key")));
        match rest["name"].as_str() {
            Some(channel) if year.is_none() => put(&format!("rest/{by}/{channel}/{why}"), rest),
            Some(_) => {}
            None => put(&format!("rest/{by}/{why}"), rest),
        }
    }
    fairs_are_their_channels(&report);
    if year.is_none() {
        if report["fairs_total"].is_object() {
            put("rest/fair/all", &report["fairs_total"]);
        }
        for fair in report["fairs"].as_array().expect("fairs") {
            put(fair["name"].as_str().expect("a name"), fair);
        }
    }
    for one in report["verdicts"].as_array().expect("verdicts") {
        if one["by"] != "fair" || year.is_none() {
            let name = one["name"].as_str().expect("a name");
            let of_year = if one["by"] == "fair" { "" } else { of_year.as_str() };
            out.insert(format!("pays/{name}{of_year}/own-costs"), text(&one["if_dropped"]["saves"]));
            out.insert(format!("pays/{name}{of_year}/over-rate"), text(&one["over_rate"]));
        }
    }
    for step in report["hours"].as_array().expect("hours") {
        let name = step["name"].as_str().expect("a step");
        for whose in ["own_minutes", "bought_in_minutes"] {
            out.insert(format!("pays/all{of_year}/hours/{name}/{}", dashed(whose)), text(&step[whose]));
        }
    }
    for name in ["indirect_minutes", "overhead_under_applied"] {
        out.insert(format!("pays/all{of_year}/{}", dashed(name)), text(&report["unassigned"][name]));
    }
    if tax_year.is_some() {
        out.insert(format!("pays/all{of_year}/year-per-hour"), text(&report["year_per_hour"]));
    }
    if year.is_none() {
        print_slow(&report["stock_ages"], out);
        for month in report["months"].as_array().expect("months") {
            let name = month["month"].as_str().expect("a month");
            out.insert(format!("pays/month/{name}/income"), text(&month["revenue"]));
            out.insert(format!("pays/month/{name}/cost"), text(&month["cost"]));
        }
    }
}

/// The block of fairs prints of their channels what these print themselves, and adds up to it.
fn fairs_are_their_channels(report: &Value) {
    let rows = |key: &str| report[key].as_array().expect("rows").iter();
    let fairs = rows("fairs").chain(rows("rest").filter(|row| row["by"] == "fair"));
    let channels: BTreeSet<&str> = fairs.clone().filter_map(|row| row["name"].as_str()?.split('/').next()).collect();
    for column in COLUMNS.iter().filter(|column| !["units", "own_minutes", "earned_per_hour"].contains(column)) {
        let sum = |rows: Vec<&Value>| rows.into_iter().map(|row| figure(row[column].as_str().expect("money"))).sum::<Decimal>();
        let is_its = |row: &&Value| row["by"] == "channel" && row["name"].as_str().is_some_and(|name| channels.contains(name));
        let printed = sum(rows("groups").filter(is_its).collect());
        assert_eq!(sum(fairs.clone().collect()), printed, "{column}");
        let total = &report["fairs_total"][column];
        assert!(total.is_null() || figure(total.as_str().expect("money")) == printed, "{column}: {total}");
    }
}

fn print_proof(books: Books<'_>, out: &mut Printed) {
    let report = json(&report_proof(books.book, books.costed, books.log.first_day));
    let mut put = |of_year: &str, components: &Value| {
        for component in components.as_array().expect("components") {
            let name = dashed(component["name"].as_str().expect("a name"));
            out.insert(format!("proof/{name}{of_year}"), text(&component["came_in"]));
            for side in ["came_from", "went_to"] {
                for (flow, amount) in component[side].as_object().expect("flows") {
                    out.insert(format!("proof/{name}{of_year}/{}", dashed(flow)), text(amount));
                }
            }
        }
    };
    put("", &report["components"]);
    for (year, components) in report["years"].as_object().expect("years") {
        put(&format!("/{year}"), components);
    }
}

fn print_year(books: Books<'_>, tax_year: &TaxYear, out: &mut Printed) {
    let year = tax_year.year;
    let report = json(&report_year(books, tax_year).expect("fits"));
    let schedules = &report["schedules"];
    for line in schedules["self_employment"]["lines"].as_array().expect("lines") {
        out.insert(line["figure"].as_str().expect("a name").to_owned(), text(&line["cents"]));
    }
    if let Some(home) = schedules["home_workshop"].as_object() {
        out.insert(format!("year/{year}/home-workshop"), text(&home["amount"]));
    }
    out.insert(format!("year/{year}/mileage"), text(&schedules["mileage"]["amount"]));
    for row in schedules["sales_tax"].as_array().expect("rows") {
        let to = match row["to"].as_str().expect("whose") {
            "" => "shop",
            to => to,
        };
        let period = row["period"].as_str().expect("a period");
        let quarter = period.split_once('-').map_or_else(String::new, |(_, quarter)| format!("/{quarter}"));
        out.insert(format!("year/{year}/sales-tax/{to}{quarter}"), text(&row["owed"]));
    }
    for row in report["bridge"].as_array().expect("steps") {
        let words = row["name"].as_str().expect("words").to_lowercase().replace([',', ':'], "").replace(['/', ' '], "-");
        out.insert(format!("year/{year}/bridge/{words}"), text(&row["amount"]));
    }
}

const PARTS: [&str; 8] = ["materials", "wear", "bought_in_time", "royalty", "paid", "own_time", "overhead", "full"];

/// What a price prints, by names that begin so.
pub(crate) fn print_price(name: &str, report: &Value, out: &mut Printed) {
    out.insert(name.to_owned(), text(&report["per_unit"]["paid"]));
    for part in PARTS {
        out.insert(format!("{name}/{}", dashed(part)), text(&report["per_unit"][part]));
    }
    out.insert(format!("{name}/minutes"), text(&report["minutes_per_unit"]));
    out.insert(format!("{name}/pieces"), text(&report["pieces"]));
    out.insert(format!("{name}/list-price"), text(&report["list_price"]));
    out.insert(format!("{name}/owner-rate"), text(&report["owner_rate"]));
    for channel in report["channels"].as_array().expect("channels") {
        let name = format!("{name}/{}", channel["name"].as_str().expect("a name").replace('/', "_"));
        for (key, column) in [("paid", "least-for-paid"), ("full", "least-for-full"), ("earning", "least-for-earning")] {
            out.insert(format!("{name}/{column}"), text(&channel["floors"][key]));
        }
        out.insert(format!("{name}/leaves-percent"), text(&channel["leaves_percent"]));
        let selling = &channel["selling"];
        for key in ["fixed_fees", "postage", "packing", "sent_pieces", "channel_expenses", "channel_minutes", "channel_revenue"] {
            out.insert(format!("{name}/{}", dashed(key)), text(&selling[key]));
        }
        for key in ["brings_in", "own_expenses", "own_minutes"] {
            out.insert(format!("{name}/{}", dashed(key)), text(&selling[key]));
        }
        out.insert(format!("{name}/selling-pieces"), text(&selling["pieces"]));
        if let Some(met) = channel["break_even"].as_object() {
            for (key, column) in [("money", "money"), ("minutes", "minutes"), ("pieces", "pieces"), ("takings", "takings")] {
                out.insert(format!("{name}/break-even-{column}"), text(&met[key]));
            }
            out.insert(format!("{name}/break-even-with-hours"), text(&met["pieces_with_hours"]));
        }
        for (at, column) in [("at_list_price", "list"), ("at_last_price", "last")] {
            for key in ["receives", "paid_margin", "full_margin", "per_hour"] {
                out.insert(format!("{name}/{column}-{}", dashed(key)), text(&channel[at][key]));
            }
        }
        out.insert(format!("{name}/last-price"), text(&channel["at_last_price"]["price"]));
    }
}

fn print_places(books: Books<'_>, out: &mut Printed) {
    let report = json(&report_places(books, None, None, None).expect("fits"));
    for place in report["places"].as_array().expect("places") {
        let name = format!("places/{}", place["name"].as_str().expect("a name").replace('/', "_"));
        out.insert(format!("{name}/owed"), text(&place["owed"]));
        out.insert(format!("{name}/left-at-price"), text(&place["left_at_price"]));
        for key in ["usual_days", "days_since_count"] {
            if !place[key].is_null() {
                out.insert(format!("{name}/{}", dashed(key)), Some(place[key].to_string()));
            }
        }
        for sale in place["owes"].as_array().expect("sales") {
            let sale_of = format!("{name}/owed/{}", sale["order"].as_str().expect("an order").replace('/', "_"));
            out.insert(format!("{sale_of}/total"), text(&sale["total"]));
            out.insert(format!("{sale_of}/open"), text(&sale["open"]));
            out.insert(format!("{sale_of}/days"), Some(sale["days"].to_string()));
            let late = &sale["days_late"];
            out.insert(format!("{sale_of}/days-late"), (!late.is_null()).then(|| late.to_string()));
        }
        let named = |row: &Value| format!("{name}/{}", row["name"].as_str().expect("a name").replace('/', "_"));
        for row in place["count"].as_array().expect("a count") {
            for key in ["counted", "booked", "difference"] {
                out.insert(format!("{}/{key}", named(row)), text(&row[key]));
            }
        }
        if let Some(slip) = place["slip"].as_object() {
            out.insert(format!("{name}/slip-together"), text(&slip["together"]));
            for row in slip["rows"].as_array().expect("rows") {
                out.insert(format!("{}/slip-quantity", named(row)), text(&row["quantity"]));
                out.insert(format!("{}/slip-together", named(row)), text(&row["together"]));
            }
        }
        for slip in place["other_slips"].as_array().expect("slips") {
            let day = slip["date"].as_str().expect("a day");
            out.insert(format!("{name}/slip-together/{day}"), text(&slip["together"]));
            for row in slip["rows"].as_array().expect("rows") {
                out.insert(format!("{}/slip-quantity/{day}", named(row)), text(&row["quantity"]));
                out.insert(format!("{}/slip-together/{day}", named(row)), text(&row["together"]));
            }
        }
        if let Some(short) = place["shortage"].as_object() {
            for key in ["missing_paid", "missing_owed"] {
                out.insert(format!("{name}/{}", dashed(key)), text(&short[key]));
            }
            for row in short["rows"].as_array().expect("rows") {
                out.insert(format!("{}/missing-paid", named(row)), text(&row["paid"]));
                out.insert(format!("{}/missing-owed", named(row)), text(&row["would_owe"]));
            }
        }
        for row in place["rows"].as_array().expect("rows") {
            for key in ["brought", "sold", "taken_away", "otherwise", "left", "left_at_price"] {
                let thing = row["name"].as_str().expect("a name").replace('/', "_");
                out.insert(format!("{name}/{thing}/{}", dashed(key)), text(&row[key]));
            }
        }
    }
}

fn print_cost(books: Books<'_>, year: Option<i32>, out: &mut Printed) {
    let period = year.map_or_else(Period::default, Period::year);
    let report = json(&report_cost(books.book, books.log, books.costed, period, None).expect("fits"));
    let of_year = year.map_or_else(String::new, |year| format!("/{year}"));
    for product in report["products"].as_array().expect("products") {
        let name = format!("cost/{}{of_year}", product["name"].as_str().expect("a name").replace('/', "_"));
        for step in product["steps"].as_array().expect("steps") {
            let step_of = format!("{name}/steps/{}", step["name"].as_str().expect("a step"));
            out.insert(format!("{step_of}/minutes"), text(&step["minutes_per_unit"]));
            out.insert(format!("{step_of}/bought-in-minutes"), text(&step["bought_in_minutes_per_unit"]));
        }
        for used in product["uses"].as_array().expect("uses") {
            let use_of = format!("{name}/uses/{}", used["name"].as_str().expect("a thing").replace('/', "_"));
            out.insert(format!("{use_of}/quantity"), text(&used["quantity"]));
            out.insert(format!("{use_of}/cost"), text(&used["cost"]));
        }
        for batch in product["batches"].as_array().expect("batches").iter().filter(|_| year.is_none()) {
            let batch_of = format!("batch/{}/variances", batch["name"].as_str().expect("a batch").replace('/', "_"));
            for variance in batch["variances"].as_array().expect("variances") {
                let which = variance["name"].as_str().expect("a variance").replace(' ', "-");
                out.insert(format!("{batch_of}/{which}"), text(&variance["amount"]));
            }
        }
    }
}

fn print_patterns(books: Books<'_>, out: &mut Printed) {
    let report = json(&report_stock(books.book, books.log, books.costed, None).expect("fits"));
    for pattern in report["patterns"].as_array().expect("patterns") {
        let name = format!("pattern/{}", pattern["name"].as_str().expect("a name").replace('/', "_"));
        for key in ["made", "permitted", "left", "usual_batch", "due"] {
            out.insert(format!("{name}/{}", dashed(key)), text(&pattern[key]));
        }
        for row in pattern["royalties"].as_array().expect("quarters") {
            let quarter = row["quarter"].as_str().expect("a quarter").replace(' ', "-");
            for key in ["pieces", "royalty", "due"] {
                out.insert(format!("{name}/{quarter}/{key}"), text(&row[key]));
            }
        }
    }
}

fn print_slow(ages: &Value, out: &mut Printed) {
    if ages["on"].is_null() {
        return;
    }
    for key in ["to_90_days", "to_180_days", "to_365_days", "older"] {
        out.insert(format!("slow/{}", dashed(key)), text(&ages["all"][key]));
    }
    for row in ages["slow"].as_array().expect("things") {
        let name = row["name"].as_str().expect("a name").replace('/', "_");
        for key in ["quantity", "slow_quantity", "slow_paid", "oldest_days", "gone_in_a_year", "lasts_months"] {
            out.insert(format!("slow/{name}/{}", dashed(key)), text(&row[key]));
        }
    }
}

fn print_all(books: Books<'_>, years: &[TaxYear], figures: Option<&Figures>) -> Printed {
    let mut printed = Printed::new();
    let (first, last) = (books.log.first_day, books.costed.until);
    if let (Some(first), Some(last)) = (first, last) {
        // What was paid ahead may be meant for the year after the book's last.
        for year in first.year()..=last.year() + 1 {
            print_pays(books, years, figures, Some(year), &mut printed);
            print_cost(books, Some(year), &mut printed);
        }
    }
    print_pays(books, years, figures, None, &mut printed);
    print_cost(books, None, &mut printed);
    print_proof(books, &mut printed);
    print_places(books, &mut printed);
    print_patterns(books, &mut printed);
    let mile_rate = rate_of(figures);
    let index = PriceIndex::of(books, Period::default(), &mile_rate).and_then(|index| index.with_fairs(&mile_rate));
    for (at, thing) in (0_u32..).zip(&books.book.things) {
        let price = || report_price_by(index.as_ref().expect("fits"), ThingId(at), Wanted::default());
        if let Some(report) = Some(thing).filter(|thing| thing.kind == ThingKind::Product).and_then(|_| price().ok()) {
            let name = format!("price/{}", report.name.replace('/', "_"));
            print_price(&name, &json(&report), &mut printed);
        }
    }
    years.iter().for_each(|year| print_year(books, year, &mut printed));
    printed
}

fn is_here(figure: &FigureName) -> bool {
    use FigureName::{CostRow, Pattern, Pays, Places, Price, Proof, Schedule, Slow, Variance};
    matches!(figure, CostRow(_) | Variance(_) | Pays(_) | Proof(_) | Schedule(_) | Price(_) | Places(_) | Pattern(_) | Slow(_))
}

/// Holds a derivation to what its report prints: minutes, pieces, proofs and lines to the last digit, a column that is rounded so that it adds up to
/// less than a cent.
fn is_printed(report: &WhyReport, printed: Option<&str>) {
    let name = &report.figure;
    let Some(printed) = printed else {
        assert!(["not known", "no ", "Nothing"].iter().any(|why| report.answer.contains(why)), "{name}: {}", report.answer);
        return;
    };
    let top = report.steps.first().map_or(Decimal::ZERO, |step| figure(&step.paid));
    let is_slow = name.starts_with("slow/");
    let is_rounded = name.starts_with("pays/") || is_slow || name.contains("/bridge/") || name.ends_with("-per-hour");
    let is_rounded = is_rounded || name.ends_with("/missing-paid") || name.contains("/variances/");
    let off = (top - figure(printed)).abs();
    // Own costs are the sum of five such columns.
    let most = if name.ends_with("/own-costs") { Decimal::new(5, 2) } else { Decimal::new(1, 2) };
    assert!(off == Decimal::ZERO || is_rounded && off < most, "{name}: {top} and not {printed}");
    let is_money = name.ends_with("-paid") || name.matches('/').count() == 1;
    let whole = name.ends_with("/units") || name.ends_with("-minutes") || is_slow && !is_money;
    let is_exact = name.starts_with("places/") && !name.ends_with("/missing-paid");
    let whole = whole || is_exact || name.starts_with("pattern/");
    assert!(!whole || off == Decimal::ZERO, "{name}: {top} and not {printed}");
    if name.starts_with("pays/") && !report.steps.is_empty() {
        let shown = figure(printed).abs().normalize().to_string();
        assert!(report.answer.contains(printed) || report.answer.contains(&shown), "{name}, {printed}: {}", report.answer);
    }
}

/// Derives all these figures of a book; gives how many steps they have.
fn derive_all(books: Books<'_>, years: &[TaxYear], figures: Option<&Figures>) -> usize {
    let of = Derived::of(books, years).expect("costed with its trace");
    let of = match figures {
        Some(figures) => of.with_figures(figures),
        None => of,
    };
    let mut printed = print_all(books, years, figures);
    let mut steps = 0;
    for name in of.names().all().into_iter().filter(is_here) {
        let text = name.text(of.names());
        assert_eq!(FigureName::read(&text, of.names()), Ok(name), "{text}");
        for deep in [HowDeep::Deep, HowDeep::Fold] {
            let report = report_why(&of, name, deep).unwrap_or_else(|| panic!("{text} fits"));
            steps += report.steps.iter().map(|step| adds_up(&text, step, report.measure)).sum::<usize>();
            match printed.get(&text) {
                Some(printed) => is_printed(&report, printed.as_deref()),
                // A fair that could be learnt from, and no price that would meet it.
                None if text.contains("/break-even-") => is_printed(&report, None),
                None => assert!(
                    text.contains("/equipment/") || text.contains("/box-"),
                    "{text} stands in no report: {}",
                    report.answer
                ),
            }
        }
        printed.remove(&text);
    }
    // After the book's last year there is nothing to tell where nothing is meant for it, but for what its tools cost; and of a month without sales there is none.
    let after = books.costed.until.map(|day| format!("/{}/", day.year() + 1)).unwrap_or_default();
    printed.retain(|name, printed| {
        let is_nothing = printed.as_deref().is_none_or(|printed| figure(printed).is_zero());
        let is_after = name.contains(&after) && (is_nothing || name.ends_with("overhead-under-applied"));
        let is_no_time = is_nothing && name.starts_with("cost/") && name.contains("/steps/");
        let is_no_month = is_nothing && name.starts_with("pays/month/");
        !(is_after || is_no_time || is_no_month)
    });
    assert!(printed.is_empty(), "not derived: {:?}", printed.keys().take(9).collect::<Vec<_>>());
    for year in years {
        equipment(&of, books, year);
    }
    steps
}

/// A tool's figure is what its rows recover in the year, and what is left of them.
fn equipment(of: &Derived<'_>, books: Books<'_>, year: &TaxYear) {
    let report = json(&report_year(books, year).expect("fits"));
    let mut sums: BTreeMap<String, (Decimal, Decimal, Decimal)> = BTreeMap::new();
    for row in report["schedules"]["equipment"].as_array().expect("rows") {
        let of = |key: &str| figure(row[key].as_str().expect("money"));
        let life = row["life"].as_array().expect("years").iter();
        let life = life.flat_map(|one| ["at_once", "bonus", "table"].map(|key| figure(one[key].as_str().expect("money"))));
        let sum = sums.entry(row["name"].as_str().expect("a name").to_owned()).or_default();
        *sum = (sum.0 + of("this_year"), sum.1 + of("left"), sum.2 + life.sum::<Decimal>());
    }
    for (name, (this_year, left, life)) in sums {
        let figure_name = format!("year/{}/equipment/{name}", year.year);
        let figure_name = FigureName::read(&figure_name, of.names()).expect("a figure");
        let report = report_why(of, figure_name, HowDeep::Deep).expect("fits");
        let told = |words: &str| {
            let of_words = report.steps.iter().filter(|step| step.says.contains(words));
            of_words.map(|step| figure(&step.paid)).sum::<Decimal>()
        };
        assert_eq!(told(", recovered in"), this_year, "{name}");
        if report.steps.iter().any(|step| step.says.contains(", left after")) {
            assert_eq!(told(", left after"), left, "{name}");
        }
        assert_eq!(told(", over its life"), life, "{name}");
    }
}

pub(crate) fn traced(log: &kerfbook::events::EventLog, book: &kerfbook::names::ResolvedBook) -> CostedBook {
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    cost_book(log, book, &options, &mut Diagnostics::default())
}

proptest! {
    #![proptest_config(books(10))]

    #[test]
    fn every_figure_of_the_reports_of_a_random_book_is_derived_to_the_last_digit(book in any_book(1..90)) {
        let compiled = CompiledPages::of(&book.pages());
        compiled.cost(None).map_err(TestCaseError::fail)?;
        let costed = traced(&compiled.log, &compiled.book);
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
        let forms = Forms::built_in();
        let years = kerfbook::year::years_of(books, &forms);
        let years = years.into_iter().filter_map(|year| year_of(books, year, &forms, &mut Diagnostics::default()));
        let years: Vec<TaxYear> = years.collect();
        let figures = compiled.book.shop.tax_form.as_deref().and_then(|form| forms.figures(form));
        derive_all(books, &years, figures);
    }
}

#[test]
fn every_figure_of_the_reports_of_random_years_is_derived_to_the_last_digit() {
    let forms = Forms::built_in();
    for seed in 0..2 {
        for (basis, stock) in [("accrual", "inventory"), ("cash", "inventory"), ("cash", "supplies")] {
            let shop = format!("    costing fifo\n    {basis} basis\n    stock kept as {stock}\n");
            let compiled = CompiledPages::of(&vec![("book.kerf".to_owned(), random_shop(seed, &shop, true))]);
            let costed = traced(&compiled.log, &compiled.book);
            let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &costed };
            let years = (2024..=2026).filter_map(|year| year_of(books, year, &forms, &mut Diagnostics::default()));
            let years: Vec<TaxYear> = years.collect();
            assert_eq!(years.len(), 3);
            let steps = derive_all(books, &years, forms.figures("us-schedule-c"));
            assert!(steps > 1000, "seed {seed}: only {steps} steps");
        }
    }
}

#[test]
fn every_figure_of_the_reports_of_the_example_books_is_derived_to_the_last_digit() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("ledger-examples");
    let mut all = 0;
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if !path.is_dir() {
            continue;
        }
        let forms = Forms::built_in();
        let options = CompileOptions { today: NaiveDate::from_ymd_opt(2027, 2, 1), ..CompileOptions::default() };
        let compiled = compile_book(&path, &forms, options).expect("a book");
        let costed = traced(&compiled.log, &compiled.book);
        let figures = compiled.book.shop.tax_form.as_deref().and_then(|form| forms.figures(form));
        all += derive_all(Books { costed: &costed, ..compiled.books() }, &compiled.years, figures);
    }
    assert!(all > 5000, "only {all} steps");
}
