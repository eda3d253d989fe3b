//! `kerfbook trace NAME`: where goods came from and where they went.

use super::show::show;
use super::{Done, compile_with_links};
use crate::cli::args::TraceArgs;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::render::html::Pages;
use crate::render::text::text_trace;
use crate::reports::{FigureNames, report_trace};

/// Runs it.
pub(super) fn run(args: &TraceArgs, streams: &Streams) -> Done {
    let book = compile_with_links(&args.book, streams)?;
    let compiled = &book.compiled;
    let names = FigureNames::of(compiled.books(), &compiled.years);
    let report = report_trace(compiled.books(), &names, &args.name).map_err(|fault| Outcome::refused(fault.0))?;
    let shown = show(&report, &book, &args.show, streams, text_trace, Pages::render_trace);
    // A large book, and a long answer, take longer to take apart in memory than the process has left to live.
    std::mem::forget((report, names));
    std::mem::forget(book);
    shown
}
