//! `kerfbook why FIGURE`: the derivation of a figure, down to file and line; without a figure, or with how its name begins, the list of what can
//! be asked.

use serde::Serialize;

use super::plan::{day, refused};
use super::{Done, compile};
use crate::cli::args::{WhyArgs, WhyFormat};
use crate::cli::clock;
use crate::cli::compile::Compiled;
use crate::cli::faults::{says_nothing_of, too_large};
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::cli::write_report::write_report;
use crate::costing::{CostOptions, cost_book};
use crate::diagnostics::Diagnostics;
use crate::render::render_json;
use crate::render::text::{Look, text_figures, text_why};
use crate::reports::{AskFault, Derived, FigureName, HowDeep, Period, WhyReport, list_figures, report_why};
use crate::year::{Forms, year_of, years_that_count};

/// Runs it.
pub(super) fn run(args: &WhyArgs, streams: &Streams) -> Done {
    let book = compile(&args.book, streams)?;
    let mut compiled = book.compiled;
    let typed = args.figure.as_deref().unwrap_or_default();
    figure_year_without_entries(&mut compiled, &book.forms, typed);
    let until = FigureName::until(typed);
    if let Some(nothing) = until.and_then(|day| says_nothing_of(&compiled, Period { from: None, to: Some(day) })) {
        return Err(nothing);
    }
    cost_with_trace(&mut compiled, until);
    let derived = Derived::of(compiled.books(), &compiled.years).ok_or_else(too_large)?;
    let derived = match compiled.book.shop.tax_form.as_deref().and_then(|form| book.forms.figures(form)) {
        Some(figures) => derived.with_figures(figures),
        None => derived,
    };
    let today = args.book.today.as_deref().map(|typed| day("--today", typed)).transpose().map_err(Outcome::refused)?;
    let from = today.or_else(clock::latest_today).or(compiled.costed.until);
    let derived = derived.on(book.today.or(today));
    let (derived, typed) = derived.asking(typed, from).map_err(|fault| match fault {
        AskFault::Figure(fault) => Outcome::refused(fault.0),
        AskFault::Plan(fault) => refused(&compiled, fault),
    })?;
    let typed = typed.as_str();
    let look = if args.out.is_some() { Look::default() } else { streams.out.look() };
    let names = derived.names();
    let made = match FigureName::read(typed, names) {
        Ok(figure) => {
            let report = derive(&compiled, &derived, figure, until.is_some(), how_deep(args))?;
            written(&report, args.format, |report| text_why(report, look))
        }
        Err(_) if typed.is_empty() || FigureName::any_begins(typed, names) => {
            written(&list_figures(names, Some(typed)), args.format, |list| text_figures(list, look))
        }
        Err(fault) => Err(Outcome::refused(fault.0)),
    }?;
    match &args.out {
        Some(path) => Ok(Outcome::said(write_report(path, &book.folder, &made)?)),
        None => Ok(Outcome::said(made)),
    }
}

/// Derives a figure, where the book says something of its days.
fn derive(
    compiled: &Compiled,
    derived: &Derived<'_>,
    figure: FigureName,
    has_day: bool,
    deep: HowDeep,
) -> Result<WhyReport, Outcome> {
    if let FigureName::CostOfGoods { year } = figure
        && !compiled.years.iter().any(|one| one.year == year)
    {
        return Err(Outcome::refused(no_year(compiled, year)));
    }
    let period = figure.period();
    let is_figured = compiled.years.iter().any(|one| Period::year(one.year) == period);
    if let Some(nothing) = says_nothing_of(compiled, period).filter(|_| !is_figured && !has_day) {
        return Err(nothing);
    }
    report_why(derived, figure, deep).ok_or_else(too_large)
}

/// A report as text or JSON.
fn written<R: Serialize>(report: &R, format: WhyFormat, text: impl Fn(&R) -> String) -> Result<String, Outcome> {
    match format {
        WhyFormat::Text => Ok(text(report)),
        WhyFormat::Json => {
            render_json(report).map_err(|fault| Outcome::refused(format!("the report can't be written as JSON: {fault}")))
        }
    }
}

/// Text folds unless more is asked for; JSON is whole unless less is.
fn how_deep(args: &WhyArgs) -> HowDeep {
    match (args.down_to, args.format) {
        (Some(levels), _) => HowDeep::Levels(usize::from(levels)),
        (None, WhyFormat::Text) if !args.deep => HowDeep::Fold,
        (None, WhyFormat::Text | WhyFormat::Json) => HowDeep::Deep,
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

/// Costs the book once more, with its trace.
fn cost_with_trace(compiled: &mut Compiled, until: Option<chrono::NaiveDate>) {
    let options = CostOptions { until, keep_trace: true, ..CostOptions::default() };
    // The whole book was costed without a mistake, so what is costed again has none either. The years are figured already, and nothing in a
    // derivation reads the marks of what is not paid.
    compiled.costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
}

fn no_year(compiled: &Compiled, year: i32) -> String {
    let years: Vec<String> = compiled.years.iter().map(|one| one.year.to_string()).collect();
    if years.is_empty() {
        "the book has no tax year: `shop` names no `tax form`, or there is no form data for its years".to_owned()
    } else {
        format!("the book has no tax year {year}; it has {}", years.join(", "))
    }
}
