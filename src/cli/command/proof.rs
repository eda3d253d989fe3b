//! `kerfbook proof`: nothing is lost, component by component.

use super::show::show;
use super::{Done, compile};
use crate::cli::args::ProofArgs;
use crate::cli::streams::Streams;
use crate::render::html::Pages;
use crate::render::text::text_proof;
use crate::reports::report_proof;

/// Runs it.
pub(super) fn run(args: &ProofArgs, streams: &Streams) -> Done {
    let book = compile(&args.book, streams)?;
    let report = report_proof(&book.compiled.book, &book.compiled.costed, book.compiled.log.first_day);
    show(&report, &book, &args.show, streams, text_proof, Pages::render_proof)
}
