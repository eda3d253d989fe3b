//! `kerfbook trace NAME`: where goods came from and where they went.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::TraceArgs;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::costing::{CostOptions, cost_book};
use crate::diagnostics::Diagnostics;
use crate::render::html::Pages;
use crate::render::text::text_trace;
use crate::reports::{FigureNames, report_trace};

/// Runs it.
pub(super) fn run(args: &TraceArgs, streams: &Streams) -> Done {
    let mut book = compile(&args.book, streams)?;
    // The book was costed without a mistake: costed with its trace it has none either.
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let compiled = &mut book.compiled;
    compiled.costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let names = FigureNames::of(compiled.books(), &compiled.years);
    let report = report_trace(compiled.books(), &names, &args.name).map_err(|fault| Outcome::refused(fault.0))?;
    show(&report, &book, &args.show, streams, text_trace, Pages::render_trace)
}
