//! *What must it fetch?* as text: the least prices, then what the present ones earn, then when a fixed cost is met.

use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use super::{number, time};
use crate::render::answer_to_decide::answer_price;
use crate::render::html::Question;
use crate::render::number_format::{Shown, money};
use crate::reports::{ChannelPrice, PriceEarns, PriceReport};

/// Renders the prices.
#[must_use]
pub fn text_price(report: &PriceReport, look: Look) -> String {
    let answer = answer_price(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Price.asked(), &report.head, &answer);
    sheet.paragraph(&match report.expected {
        true => format!("One costs, {}:", report.cost_from),
        false => format!("One costs, over {} ({}):", pieces_of(&report.pieces), report.cost_from),
    });
    sheet.table("What one costs", cost(report));
    sheet.table("What it must fetch, at least, to cover", floors(report));
    sheet.table("What its price earns now", earns(report));
    let met =
        if report.fixed.is_some() { "Pieces until the fixed cost is met" } else { "Pieces until a fair like the last is met" };
    sheet.table(met, break_even(report));
    sheet.table("What selling a piece costs there", terms(report));
    sheet.notes(&report.notes);
    sheet.close()
}

fn cost(report: &PriceReport) -> Table {
    let one = &report.per_unit;
    let knows_hours = report.minutes_per_unit.is_some();
    let mut table = Table::new([("", Stand::Left), ("A piece", Stand::Point)]);
    for (name, figure) in [
        ("Materials", &one.materials),
        ("Wear", &one.wear),
        ("Bought-in time", &one.bought_in_time),
        ("Royalty", &one.royalty),
        ("Laid out", &one.paid),
        ("Overhead", &one.overhead),
        ("Own time", &one.own_time),
        ("Full cost", &one.full),
    ] {
        // Without hours neither their money nor the whole is known.
        let known = knows_hours || !matches!(name, "Own time" | "Full cost");
        table.row(vec![name.to_owned(), if known { number(figure) } else { "unknown".to_owned() }]);
    }
    table.row(vec!["Your time".to_owned(), time(report.minutes_per_unit.as_deref(), "unknown")]);
    table
}

fn floors(report: &PriceReport) -> Table {
    let mut columns =
        vec![("Sold by".to_owned(), Stand::Left), ("Laid out".to_owned(), Stand::Point), ("Full cost".to_owned(), Stand::Point)];
    if let Some(rate) = &report.wanted_per_hour {
        columns.push((format!("{}/hour", money(rate, &report.head.currency, Shown::Terminal)), Stand::Point));
    }
    if let Some(margin) = &report.wanted_margin {
        columns.push((format!("{margin}% left"), Stand::Point));
    }
    let mut table = Table::with_columns(columns);
    for channel in &report.channels {
        let hours_known = report.minutes_per_unit.is_some();
        let floor = |figure: &Option<String>| match (figure, hours_known) {
            (Some(figure), _) => number(figure),
            (None, true) => "no price".to_owned(),
            (None, false) => "-".to_owned(),
        };
        let mut row = vec![channel.title.clone(), floor(&channel.floors.paid), floor(&channel.floors.full)];
        if report.wanted_per_hour.is_some() {
            row.push(floor(&channel.floors.earning));
        }
        if report.wanted_margin.is_some() {
            row.push(floor(&channel.floors.margin));
        }
        table.row(row);
    }
    table
}

/// The price by which a channel is judged: the list price, else the last.
pub(crate) fn judged(channel: &ChannelPrice) -> Option<&PriceEarns> {
    channel.at_list_price.as_ref().or(channel.at_last_price.as_ref())
}

fn earns(report: &PriceReport) -> Table {
    let mut table = Table::new([
        ("Sold by", Stand::Left),
        ("At", Stand::Point),
        ("You receive", Stand::Point),
        ("Paid margin", Stand::Point),
        ("Full margin", Stand::Point),
        ("An hour", Stand::Point),
    ]);
    let unknown = |figure: Option<&str>| figure.map_or_else(|| "unknown".to_owned(), number);
    for channel in &report.channels {
        let mut prices: Vec<&PriceEarns> = judged(channel).into_iter().collect();
        prices.extend(channel.at_last_price.as_ref().filter(|last| prices.iter().all(|one| one.price != last.price)));
        for at in prices {
            table.row(vec![
                channel.title.clone(),
                number(&at.price),
                number(&at.receives),
                number(&at.paid_margin),
                unknown(at.full_margin.as_deref()),
                match (&at.per_hour, &at.full_margin) {
                    // Its hours are known, and there are none.
                    (None, Some(_)) => "-".to_owned(),
                    (per_hour, _) => unknown(per_hour.as_deref()),
                },
            ]);
        }
    }
    table
}

fn break_even(report: &PriceReport) -> Table {
    let mut table = Table::new([
        ("Sold by", Stand::Left),
        ("To meet", Stand::Point),
        ("Your hours", Stand::Right),
        ("Money back", Stand::Point),
        ("For sales of", Stand::Point),
        ("Hours paid", Stand::Point),
    ]);
    for channel in &report.channels {
        let Some(met) = &channel.break_even else { continue };
        let figure = |figure: &Option<String>| figure.as_deref().map_or_else(|| "never".to_owned(), number);
        table.row(vec![
            channel.title.clone(),
            number(&met.money),
            time(Some(&met.minutes), ""),
            figure(&met.pieces),
            figure(&met.takings),
            figure(&met.pieces_with_hours),
        ]);
    }
    table
}

fn terms(report: &PriceReport) -> Table {
    let mut table = Table::new([
        ("Sold by", Stand::Left),
        ("Terms", Stand::Left),
        ("Postage", Stand::Point),
        ("Packing", Stand::Point),
        ("Expenses", Stand::Point),
        ("Your time", Stand::Right),
        ("Learnt from", Stand::Left),
    ]);
    for channel in &report.channels {
        let selling = &channel.selling;
        table.row(vec![
            channel.title.clone(),
            channel.terms.clone(),
            number(&selling.postage),
            number(&selling.packing),
            number(&selling.own_expenses),
            time(Some(&selling.own_minutes), "unknown"),
            selling.learnt_from_in_words(&number),
        ]);
    }
    table
}

/// `1 piece`, `24 pieces`.
fn pieces_of(pieces: &str) -> String {
    let noun = if pieces == "1" { "piece" } else { "pieces" };
    format!("{} {noun}", number(pieces))
}
