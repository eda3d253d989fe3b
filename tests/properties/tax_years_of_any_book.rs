//! Random books of every kind of entry under all four combinations of the switches: Part III ties exactly, printed lines foot, the bridge closes,
//! one year begins with what the last one ended with, and what is dated later moves nothing.

use chrono::Datelike;
use kerfbook::costing::{Component, CostOptions, CostVector, Flow, Movement};
use kerfbook::diagnostics::{Diagnostics, Severity, render_short};
use kerfbook::names::{Basis, StockKept, ThingKind};
use kerfbook::units::Fixed6;
use kerfbook::year::{Books, Forms, TaxYear, mark_unpaid, year_of};
use proptest::prelude::*;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::{Pages, any_book};

const YEARS: std::ops::RangeInclusive<i32> = 2026..=2028;

const COMBINATIONS: [(&str, &str); 4] =
    [("accrual", "inventory"), ("cash", "inventory"), ("accrual", "supplies"), ("cash", "supplies")];

/// The pages with other switches.
fn switched(pages: &Pages, (basis, stock): (&str, &str)) -> Pages {
    let other = |text: &str| {
        let text = text.replace("cash basis", "accrual basis").replace("kept as supplies", "kept as inventory");
        text.replace("accrual basis", &format!("{basis} basis")).replace("kept as inventory", &format!("kept as {stock}"))
    };
    pages.iter().map(|(path, text)| (path.clone(), other(text))).collect()
}

/// The form of 2026 for later years too, with the figures of 2026.
fn forms() -> Forms {
    let read = |file: &str| {
        let path = format!("{}/report-templates/forms/us-schedule-c/{file}", env!("CARGO_MANIFEST_DIR"));
        std::fs::read_to_string(path).expect("a built-in file")
    };
    let mut figures: toml::Table = read("figures.toml").parse().expect("a file of figures");
    for (_, list) in figures.iter_mut() {
        let Some(list) = list.as_array_mut() else { continue };
        let later = (2027..=2028).flat_map(|year| {
            let of_2026 = |entry: &&toml::Value| {
                let year = entry.get("year").or_else(|| entry.get("in_use_year")).and_then(toml::Value::as_integer);
                let from = entry.get("from").and_then(toml::Value::as_str);
                year == Some(2026) || from.is_some_and(|day| day.starts_with("2026"))
            };
            let moved = |entry: &toml::Value| {
                let mut entry = entry.clone();
                for key in ["year", "in_use_year"] {
                    if let Some(of) = entry.get_mut(key) {
                        *of = toml::Value::Integer(year);
                    }
                }
                for key in ["from", "to"] {
                    if let Some(day) = entry.get_mut(key) {
                        *day = toml::Value::String(day.as_str().expect("a day").replace("2026", &year.to_string()));
                    }
                }
                entry
            };
            list.iter().filter(of_2026).map(moved).collect::<Vec<_>>()
        });
        let later: Vec<_> = later.collect();
        list.extend(later);
    }
    let mut forms = Forms::built_in();
    for year in 2027..=2028 {
        forms.add(&format!("us-schedule-c/{year}.toml"), &read("2026.toml").replace("year = 2026", &format!("year = {year}")));
    }
    forms.add("us-schedule-c/figures.toml", &figures.to_string());
    assert_eq!(forms.faults(), []);
    forms
}

/// A tax year, and what moved in it.
type YearAndMoves = (TaxYear, Vec<Movement>);

fn figured(pages: &Pages, forms: &Forms) -> Result<(CompiledPages, Vec<YearAndMoves>), String> {
    let compiled = CompiledPages::of(pages);
    let costed = compiled.cost(None)?;
    let with = |costed| Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed };
    let marked = mark_unpaid(with(&costed), &CostOptions::default());
    let costed = marked.as_ref().unwrap_or(&costed);
    let mut years = Vec::new();
    for of in YEARS {
        let mut found = Diagnostics::default();
        let year = year_of(with(costed), of, forms, &mut found);
        if found.count(Severity::Error) > 0 {
            return Err(format!("{of}: {}", render_short(&compiled.sources, found.as_slice())));
        }
        let moved = costed.movements.iter().filter(|one| one.date.year() == of).cloned().collect();
        years.push((year.ok_or("no tax year")?, moved));
    }
    Ok((compiled, years))
}

fn sum(amounts: impl IntoIterator<Item = Fixed6>) -> Fixed6 {
    Fixed6::checked_sum(amounts).expect("fits")
}

fn cents(year: &TaxYear, line: &str) -> Fixed6 {
    year.line(line).expect("a line").cents
}

/// Every line that adds others is their sum, in cents and as printed.
fn foots(year: &TaxYear) -> Result<(), String> {
    for line in year.lines.iter().filter(|line| !line.adds.is_empty()) {
        let added = |of: fn(&kerfbook::year::TaxLine) -> Fixed6| {
            let signed = line.adds.iter().map(|(plus, at)| {
                let amount = of(&year.lines[*at]);
                if *plus { amount } else { Fixed6::ZERO.checked_sub(amount).expect("fits") }
            });
            sum(signed)
        };
        if (added(|line| line.cents), added(|line| line.printed)) != (line.cents, line.printed) {
            return Err(format!("{}: line {} does not foot", year.year, line.number));
        }
    }
    Ok(())
}

/// What of a cost waits in the goods.
fn waits(vector: &CostVector, kept: StockKept) -> Fixed6 {
    let all = [Component::Materials, Component::Freight, Component::Wear, Component::BoughtInTime, Component::Royalty];
    let components = if kept == StockKept::Inventory { &all[..] } else { &all[..2] };
    sum(components.iter().map(|component| vector.get(*component)))
}

/// The cost of goods, to six digits, out of the engine's movements alone: what was sold, scrapped, missing and lost out of the classes inside Part III, what
/// was donated but for the opening stock's part, and what suppliers gave back beside its cost. On the accrual basis nothing else moves lines 35 to 41.
fn ties(compiled: &CompiledPages, year: &TaxYear, moved: &[Movement]) -> Result<(), String> {
    let (cost, went) = (&year.cost_of_goods, &year.cost_of_goods.went_to);
    let of = |flow: Flow, packing_too: bool| {
        let inside = |one: &&Movement| {
            let kind = one.thing.map(|thing| compiled.book.thing(thing).kind);
            one.flow == flow && (packing_too || kind != Some(ThingKind::Packing))
        };
        sum(moved.iter().filter(inside).map(|one| waits(&one.vector, year.stock)))
    };
    let off_the_start = sum(cost.donations.iter().map(|item| item.amount));
    let derived = [
        // Packing that was sold was part of the goods after all.
        ("sold", went.sold, of(Flow::Sold, true)),
        ("scrapped", went.scrapped, of(Flow::Scrapped, false)),
        ("abnormal", went.abnormal, of(Flow::AbnormalLoss, false)),
        ("missing", went.missing, of(Flow::Missing, false)),
        ("price difference", went.price_difference, of(Flow::PriceDifference, false)),
        ("donated", went.donated, of(Flow::Donated, false).checked_sub(off_the_start).expect("fits")),
    ];
    for (name, shown, derived) in derived {
        if shown != derived {
            return Err(format!("{}: {name} is {shown}, the engine's movements say {derived}", year.year));
        }
    }
    if !cost.donations.iter().all(|item| item.amount.is_positive()) {
        return Err(format!("{}: a donation takes nothing off the opening stock", year.year));
    }
    if year.basis == Basis::Accrual {
        let engine = sum(derived.iter().map(|(_, _, amount)| *amount)).checked_sub(of(Flow::Unrecorded, false)).expect("fits");
        if engine != cost.exact {
            return Err(format!("{}: lines 35 to 41 come to {}, the engine's movements to {engine}", year.year, cost.exact));
        }
    }
    Ok(())
}

fn lines(year: &TaxYear) -> Vec<String> {
    year.lines.iter().map(|line| format!("{} {} {}", line.number, line.cents, line.printed)).collect()
}

proptest! {
    #![proptest_config(books(24))]

    #[test]
    fn under_all_four_combinations_every_year_ties_foots_and_bridges(book in any_book(40..160)) {
        let forms = forms();
        for combination in COMBINATIONS {
            let (compiled, years) = figured(&switched(&book.pages(), combination), &forms).map_err(TestCaseError::fail)?;
            let mut closing = None;
            for (year, moved) in &years {
                foots(year).map_err(TestCaseError::fail)?;
                ties(&compiled, year, moved).map_err(TestCaseError::fail)?;
                let (net, steps) = year.bridge.split_last().expect("a bridge");
                prop_assert_eq!(sum(steps.iter().map(|line| line.amount)), year.net_cents());
                prop_assert_eq!(net.amount, year.net_cents());
                if let Some(closing) = closing {
                    let donated = sum(year.cost_of_goods.donations.iter().map(|item| item.amount));
                    let off = sum([cents(year, "35"), donated]).checked_sub(closing).expect("fits");
                    // Both are rounded to the cent apart.
                    prop_assert!(off.micros().abs() <= 10_000, "{} {combination:?}: off by {off}", year.year);
                }
                closing = Some(cents(year, "41"));
            }
        }
    }

    #[test]
    fn what_is_dated_after_a_year_moves_no_line_of_it(book in any_book(40..160), basis in 0..4usize) {
        let forms = forms();
        let (_, whole) = figured(&switched(&book.pages(), COMBINATIONS[basis]), &forms).map_err(TestCaseError::fail)?;
        for (at, of) in [(0, 2026), (1, 2027)] {
            let then = book.until(&format!("{of}-12-31"));
            let (_, then) = figured(&switched(&then.pages(), COMBINATIONS[basis]), &forms).map_err(TestCaseError::fail)?;
            prop_assert_eq!(lines(&whole[at].0), lines(&then[at].0), "{} {:?}", of, COMBINATIONS[basis]);
            // The bridge says of a deposit for what it was, which its sale tells only when it comes; its sum is that of the lines.
        }
    }
}
