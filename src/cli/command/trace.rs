//! `kerfbook trace NAME`: where goods came from and where they went.

use super::show::{no_json, show, show_parts};
use super::{Done, compile_with_links};
use crate::cli::args::{Format, TraceArgs};
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::render::html::Pages;
use crate::render::text::text_trace;
use crate::render::trace_in_parts;
use crate::reports::{FigureNames, report_trace};

/// Runs it.
pub(super) fn run(args: &TraceArgs, streams: &Streams) -> Done {
    let book = compile_with_links(&args.book, streams)?;
    let compiled = &book.compiled;
    let names = FigureNames::of(compiled.books(), &compiled.years);
    let report = report_trace(compiled.books(), &names, &args.name).map_err(|fault| Outcome::refused(fault.0))?;
    let shown = match args.show.format {
        Format::Json if args.show.templates.is_none() => {
            trace_in_parts(&report).map_err(|fault| no_json(&fault)).and_then(|parts| show_parts(parts, &book, &args.show))
        }
        _ => show(&report, &book, &args.show, streams, text_trace, Pages::render_trace),
    };
    // A large book, and a long answer, take longer to take apart in memory than the process has left to live.
    std::mem::forget((report, names));
    std::mem::forget(book);
    shown
}
