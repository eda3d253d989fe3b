//! `kerfbook year Y`: the tax year by the form's own lines.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::YearArgs;
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
    let year = year(&args.year).map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    let compiled = &book.compiled;
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
