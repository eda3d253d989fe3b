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
    let compiled = compile(&args.book, streams)?;
    let report = report_proof(&compiled.book, &compiled.costed, compiled.log.first_day);
    show(&report, &args.show, streams, text_proof, Pages::render_proof)
}
