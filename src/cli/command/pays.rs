//! `kerfbook pays`: which products, product lines and channels pay.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::PaysArgs;
use crate::cli::compile::Compiled;
use crate::cli::faults::too_large;
use crate::cli::options::period;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::render::html::Pages;
use crate::render::text::text_pays;
use crate::reports::{PaysReport, Period, report_pays};

/// Runs it.
pub(super) fn run(args: &PaysArgs, streams: &Streams) -> Done {
    let days = period(&args.period).map_err(Outcome::refused)?;
    let compiled = compile(&args.book, streams)?;
    let report = pays_in(&compiled, days).ok_or_else(too_large)?;
    show(&report, &args.show, streams, text_pays, Pages::render_pays)
}

/// The margins of a period. `None` where a figure is too large to be carried.
pub(super) fn pays_in(compiled: &Compiled, days: Period) -> Option<PaysReport> {
    report_pays(&compiled.book, &compiled.log, &compiled.costed, days, &|_| None, None)
}
