//! `kerfbook year Y`: the tax year by the form's own lines.

use chrono::Datelike;

use super::show::show;
use super::{Done, compile};
use crate::cli::args::YearArgs;
use crate::cli::compile::Compiled;
use crate::cli::faults::{mistakes, says_nothing_of_year, too_large};
use crate::cli::options::year;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::diagnostics::Diagnostics;
use crate::render::html::Pages;
use crate::render::text::text_year;
use crate::reports::report_year;
use crate::year::year_of;

/// Runs it.
pub(super) fn run(args: &YearArgs, streams: &Streams) -> Done {
    let typed = args.year.as_deref().map(year).transpose().map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    let compiled = &book.compiled;
    let year = typed.map_or_else(|| only_year(compiled), Ok)?;
    if let Some(nothing) = says_nothing_of_year(compiled, year) {
        return Err(nothing);
    }
    // A year without form data is figured here, to say what is missing.
    let mut told = Diagnostics::default();
    let figured = match compiled.years.iter().find(|one| one.year == year) {
        Some(known) => Some(known.clone()),
        None => year_of(compiled.books(), year, &book.forms, &mut told),
    };
    let Some(figured) = figured.filter(|_| !told.has_errors()) else {
        return Err(mistakes(&compiled.sources, told, streams));
    };
    let report = report_year(compiled.books(), &figured).ok_or_else(too_large)?;
    show(&report, &book, &args.show, streams, text_year, Pages::render_year)
}

/// The year of a book whose entries are all of one; else it is asked which.
fn only_year(compiled: &Compiled) -> Result<i32, Outcome> {
    match (compiled.log.first_day, compiled.costed.until) {
        (Some(first), Some(last)) if first.year() == last.year() => Ok(first.year()),
        (Some(first), Some(last)) => Err(Outcome::refused(format!(
            "which year? the book's entries are of {} to {}: `kerfbook year {}`",
            first.year(),
            last.year(),
            first.year()
        ))),
        _ => Err(Outcome::refused("which year? the book has no entries yet: `kerfbook year Y`")),
    }
}
