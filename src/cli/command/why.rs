//! `kerfbook why FIGURE`: the derivation of a figure, down to file and line.

use super::{Done, compile};
use crate::cli::args::{WhyArgs, WhyFormat};
use crate::cli::compile::Compiled;
use crate::cli::faults::{says_nothing_of, too_large};
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::cli::write_report::write_report;
use crate::costing::{CostOptions, cost_book};
use crate::diagnostics::Diagnostics;
use crate::render::render_json;
use crate::render::text::{Look, text_why};
use crate::reports::{Derived, FigureName, Period, WhyReport, report_why};
use crate::year::{Forms, year_of, years_that_count};

/// Runs it.
pub(super) fn run(args: &WhyArgs, streams: &Streams) -> Done {
    let book = compile(&args.book, streams)?;
    let mut compiled = book.compiled;
    figure_year_without_entries(&mut compiled, &book.forms, &args.figure);
    let figure = FigureName::read(&args.figure, &compiled.book, &compiled.years).map_err(|fault| Outcome::refused(fault.0))?;
    if let FigureName::CostOfGoods { year } = figure
        && !compiled.years.iter().any(|one| one.year == year)
    {
        return Err(Outcome::refused(no_year(&compiled, year)));
    }
    let period = figure.period();
    let is_figured = compiled.years.iter().any(|one| Period::year(one.year) == period);
    if let Some(nothing) = says_nothing_of(&compiled, period).filter(|_| !is_figured) {
        return Err(nothing);
    }
    let report = derive(compiled, figure, usize::from(args.levels)).ok_or_else(too_large)?;
    let look = if args.out.is_some() { Look::default() } else { streams.out.look() };
    let made = match args.format {
        WhyFormat::Text => text_why(&report, look),
        WhyFormat::Json => {
            render_json(&report).map_err(|fault| Outcome::refused(format!("the report can't be written as JSON: {fault}")))?
        }
    };
    match &args.out {
        Some(path) => Ok(Outcome::said(write_report(path, &book.folder, &made)?)),
        None => Ok(Outcome::said(made)),
    }
}

/// Figures the year of `year/2027/line-42`, where the book has no entry in it and something counts.
fn figure_year_without_entries(compiled: &mut Compiled, forms: &Forms, figure: &str) {
    let year = figure.strip_prefix("year/").and_then(|rest| rest.split('/').next()?.parse::<i32>().ok());
    let known = |year: &i32| compiled.years.iter().any(|one| one.year == *year);
    let counts = |year: &i32| years_that_count(compiled.books()).is_some_and(|years| years.contains(year));
    let Some(year) = year.filter(|year| !known(year) && counts(year)) else { return };
    let mut told = Diagnostics::default();
    let figured = year_of(compiled.books(), year, forms, &mut told).filter(|_| !told.has_errors());
    compiled.years.extend(figured);
    compiled.years.sort_by_key(|one| one.year);
}

/// Costs the book once more, with its trace, and derives. `None` where a figure is too large to be carried.
fn derive(mut compiled: Compiled, figure: FigureName, levels: usize) -> Option<WhyReport> {
    let options = CostOptions { until: figure.until(), keep_trace: true, ..CostOptions::default() };
    // The whole book was costed without a mistake, so what is costed again has none either. The years are figured already, and nothing in a
    // derivation reads the marks of what is not paid.
    compiled.costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    report_why(&Derived { books: compiled.books(), years: &compiled.years, levels }, &figure)
}

fn no_year(compiled: &Compiled, year: i32) -> String {
    let years: Vec<String> = compiled.years.iter().map(|one| one.year.to_string()).collect();
    if years.is_empty() {
        "the book has no tax year: `shop` names no `tax form`, or there is no form data for its years".to_owned()
    } else {
        format!("the book has no tax year {year}; it has {}", years.join(", "))
    }
}
