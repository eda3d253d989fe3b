//! *What would it take?* as text: what to build, what to buy, how long, at what cost, and whether it fits.

use super::bar::{Bars, bar_heading};
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use super::{number, time};
use crate::render::answer_to_decide::answer_plan;
use crate::render::html::Question;
use crate::render::number_format::{Shown, is_zero, to_three};
use crate::reports::{PlanCost, PlanReport};

/// Renders a plan.
#[must_use]
pub fn text_plan(report: &PlanReport, look: Look) -> String {
    let answer = answer_plan(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Plan.asked(), &report.head, &answer);
    sheet.table("What to build, parts first", builds(report));
    sheet.table("What to buy and pay", buys(report));
    sheet.table("What to make that has no recipe", makes(report));
    sheet.table("How long it takes", steps(report));
    sheet.table("What one is expected to cost", costs(report));
    sheet.table("What it needs", materials(report));
    sheet.table("Offcuts that may serve", offcuts(report));
    sheet.notes(&report.notes);
    sheet.close()
}

/// A quantity, at most three digits after the point.
fn quantity(figure: &str) -> String {
    number(&to_three(figure))
}

fn builds(report: &PlanReport) -> Table {
    let mut table = Table::new([
        ("What", Stand::Left),
        ("Asked", Stand::Point),
        ("For parts", Stand::Point),
        ("On hand", Stand::Point),
        ("On the bench", Stand::Point),
        ("Elsewhere", Stand::Point),
        ("To build", Stand::Point),
        ("To begin", Stand::Point),
        ("Learnt from", Stand::Left),
    ]);
    for one in &report.builds {
        let learnt = match one.learnt_from_batches {
            0 => "no batch yet".to_owned(),
            1 => format!("1 batch, {}% lost", one.lost_percent),
            many => format!("{many} batches, {}% lost", one.lost_percent),
        };
        let figures = [&one.asked, &one.for_parts, &one.on_hand, &one.on_the_bench, &one.elsewhere, &one.to_build, &one.to_begin];
        let mut row = vec![one.title.clone()];
        row.extend(figures.map(|figure| quantity(figure)));
        row.push(learnt);
        table.row(row);
    }
    table
}

fn buys(report: &PlanReport) -> Table {
    let mut table = Table::new([
        ("What", Stand::Left),
        ("Short", Stand::Point),
        ("", Stand::Left),
        ("Buy", Stand::Point),
        ("", Stand::Left),
        ("From", Stand::Left),
        ("Last", Stand::Left),
        ("Each", Stand::Point),
        ("Cost", Stand::Point),
    ]);
    let or = |text: &Option<String>, other: &str| text.clone().unwrap_or_else(|| other.to_owned());
    for one in &report.buys {
        table.row(vec![
            one.title.clone(),
            quantity(&one.short),
            one.unit.clone(),
            quantity(&one.packs),
            one.pack_words.clone(),
            or(&one.supplier, "-"),
            or(&one.last_bought, "never"),
            one.pack_cost.as_deref().map_or_else(|| "-".to_owned(), number),
            one.cost.as_deref().map_or_else(|| "no price".to_owned(), number),
        ]);
    }
    for one in report.licences.iter().filter(|one| !is_zero(&one.buy)) {
        table.row(vec![
            format!("Licence of {}", one.title),
            quantity(&one.short),
            "ea".to_owned(),
            quantity(&one.buy),
            if one.buy == "1" { "licence" } else { "licences" }.to_owned(),
            or(&one.supplier, "-"),
            or(&one.last_bought, "never"),
            one.licence_cost.as_deref().map_or_else(|| "-".to_owned(), number),
            one.cost.as_deref().map_or_else(|| "no price".to_owned(), number),
        ]);
    }
    let paid = [("Helpers, on the day of their work", &report.helper_pay), ("Royalties, when it is made", &report.royalties)];
    let paid: Vec<(&str, &String)> = paid.into_iter().filter(|(_, money)| !is_zero(money)).collect();
    for (what, money) in &paid {
        let mut row = vec![(*what).to_owned()];
        row.extend(std::iter::repeat_n(String::new(), 7));
        row.push(number(money));
        table.row(row);
    }
    if !paid.is_empty() || !report.buys.is_empty() || report.licences.iter().any(|one| !is_zero(&one.buy)) {
        let all = if report.unpriced > 0 { "All, at least" } else { "All" };
        let mut row = vec![all.to_owned()];
        row.extend(std::iter::repeat_n(String::new(), 7));
        row.push(number(&report.cash_needed));
        table.total(row);
    }
    table
}

fn makes(report: &PlanReport) -> Table {
    let mut table = Table::new([
        ("What", Stand::Left),
        ("Short", Stand::Point),
        ("", Stand::Left),
        ("Made last", Stand::Left),
        ("On", Stand::Left),
        ("One cost", Stand::Point),
    ]);
    for one in &report.makes {
        table.row(vec![
            one.title.clone(),
            quantity(&one.short),
            one.unit.clone(),
            format!("batch {}", one.batch),
            one.last_made.clone(),
            number(&one.unit_cost),
        ]);
    }
    table
}

/// Helpers' time, where there is some.
fn of_helpers(minutes: &str) -> String {
    if is_zero(minutes) { String::new() } else { time(Some(minutes), "") }
}

fn steps(report: &PlanReport) -> Table {
    let mut table = Table::new([
        ("Step", Stand::Left),
        ("Planned", Stand::Right),
        ("Expected", Stand::Right),
        ("By helpers", Stand::Right),
        ("Best seen", Stand::Right),
        (&bar_heading(["expected"]), Stand::Bar),
    ]);
    let bars = Bars::over(report.steps.iter().map(|step| vec![step.expected.as_str()]));
    for step in &report.steps {
        table.row(vec![
            step.title.clone(),
            time(Some(&step.planned), ""),
            time(Some(&step.expected), ""),
            of_helpers(&step.by_helpers),
            time(step.best.as_deref(), "-"),
            bars.draw(&[&step.expected]),
        ]);
    }
    let own = time(Some(&report.own_minutes), "");
    let own = if report.without_hours.is_empty() || !is_zero(&report.own_minutes) { own } else { "not known".to_owned() };
    let yours = if report.without_hours.is_empty() { "Yours in all" } else { "Yours in all, at least" };
    let yours = if own == "not known" { "Yours in all" } else { yours };
    let all = vec![yours.to_owned(), String::new(), own, of_helpers(&report.helper_minutes), String::new(), String::new()];
    table.total(all);
    table
}

/// A figure of a cost, or what is known of it.
fn known(cost: &PlanCost, name: &str, figure: &str, text: String) -> String {
    match cost.at_least.iter().any(|one| one == name) {
        false => text,
        true if is_zero(figure) => "-".to_owned(),
        true => format!("at least {text}"),
    }
}

fn costs(report: &PlanReport) -> Table {
    let mut table = Table::new([
        ("What", Stand::Left),
        ("Pieces", Stand::Point),
        ("Materials", Stand::Point),
        ("Wear", Stand::Point),
        ("Bought-in time", Stand::Point),
        ("Royalty", Stand::Point),
        ("Laid out", Stand::Point),
        ("Own time", Stand::Point),
        ("Overhead", Stand::Point),
        ("Full cost", Stand::Point),
        ("Your time", Stand::Right),
    ]);
    for one in &report.costs {
        let unit = &one.per_unit;
        let mut row = vec![one.title.clone(), number(&one.pieces)];
        row.extend(
            [
                ("materials", &unit.materials),
                ("wear", &unit.wear),
                ("bought_in_time", &unit.bought_in_time),
                ("royalty", &unit.royalty),
                ("paid", &unit.paid),
                ("own_time", &unit.own_time),
                ("overhead", &unit.overhead),
                ("full", &unit.full),
            ]
            .map(|(name, figure)| known(one, name, figure, number(figure))),
        );
        let minutes = &one.minutes_per_unit;
        row.push(known(one, "minutes_per_unit", minutes, time(Some(minutes), "")));
        table.row(row);
    }
    table
}

fn materials(report: &PlanReport) -> Table {
    let mut table = Table::new([
        ("What", Stand::Left),
        ("By recipe", Stand::Point),
        ("Needed", Stand::Point),
        ("", Stand::Left),
        ("On hand", Stand::Point),
        ("Elsewhere", Stand::Point),
        ("By", Stand::Left),
    ]);
    for one in report.materials.iter().filter(|one| !is_zero(&one.needed)) {
        let elsewhere = if is_zero(&one.elsewhere) { String::new() } else { quantity(&one.elsewhere) };
        table.row(vec![
            one.title.clone(),
            quantity(&one.by_recipe),
            quantity(&one.needed),
            one.unit.clone(),
            quantity(&one.on_hand),
            elsewhere,
            one.learnt_from.clone(),
        ]);
    }
    table
}

fn offcuts(report: &PlanReport) -> Table {
    let mut table = Table::new([("What", Stand::Left), ("Of", Stand::Left), ("On hand", Stand::Point), ("", Stand::Left)]);
    for one in &report.offcuts {
        table.row(vec![one.title.clone(), one.of.clone(), quantity(&one.on_hand), one.unit.clone()]);
    }
    table
}
