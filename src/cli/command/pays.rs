//! `kerfbook pays`: which products, product lines and channels pay.

use chrono::NaiveDate;

use super::show::show;
use super::{Book, Done, compile};
use crate::cli::args::PaysArgs;
use crate::cli::faults::{says_nothing_of, too_large};
use crate::cli::options::period;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::render::html::Pages;
use crate::render::text::text_pays;
use crate::reports::{PaysReport, Period, report_pays};

/// Runs it.
pub(super) fn run(args: &PaysArgs, streams: &Streams) -> Done {
    let days = period(&args.period).map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    if let Some(nothing) = says_nothing_of(&book.compiled, days) {
        return Err(nothing);
    }
    let report = pays_in(&book, days).ok_or_else(too_large)?;
    show(&report, &book, &args.show, streams, text_pays, Pages::render_pays)
}

/// The margins of a period; of a tax year, with its net profit for an hour. `None` where a figure is too large to be carried.
pub(super) fn pays_in(book: &Book, days: Period) -> Option<PaysReport> {
    let compiled = &book.compiled;
    let figures = compiled.book.shop.tax_form.as_deref().and_then(|form| book.forms.figures(form));
    let mile_rate = |day: NaiveDate| figures?.mileage(day).map(|rate| rate.per_mile.0);
    report_pays(&compiled.book, &compiled.log, &compiled.costed, days, &mile_rate, &compiled.years)
}
