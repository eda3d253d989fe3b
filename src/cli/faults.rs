//! What stands in the way of a report: mistakes in the book, a proof that doesn't come out, a figure too large.

use super::compile::Compiled;
use super::outcome::{Outcome, Status};
use super::streams::Streams;
use crate::diagnostics::{Diagnostics, Severity, render_text};
use crate::sources::SourceSet;

/// What stands in the way of a report of a compiled book; `None` where nothing does.
pub(super) fn stands_in_the_way(compiled: &Compiled, streams: &Streams) -> Option<Outcome> {
    if compiled.found.has_errors() {
        return Some(mistakes(&compiled.sources, compiled.found.clone(), streams));
    }
    (!compiled.costed.proof.holds()).then(proof_fails)
}

/// The mistakes of a book as they are told before a report that they prevent.
pub(super) fn mistakes(sources: &SourceSet, found: Diagnostics, streams: &Streams) -> Outcome {
    let count = found.count(Severity::Error);
    let told: Vec<_> = found.into_sorted().into_iter().filter(|one| one.severity == Severity::Error).collect();
    let mut err = render_text(sources, &told, streams.err.style());
    let words = if count == 1 { "one mistake".to_owned() } else { format!("{count} mistakes") };
    err.push_str(&format!("{words} in the book, so there is no report\n"));
    Outcome { out: String::new(), err, status: Status::Mistakes }
}

/// The proof doesn't come out at zero though the book has no mistake: nothing may be shown.
pub(super) fn proof_fails() -> Outcome {
    Outcome::refused(
        "the proof does not come out at zero. This is a fault of the program, not of the book; no report is made, \
         since none could be relied on. Please report it",
    )
}

/// A figure is larger than can be carried.
pub(super) fn too_large() -> Outcome {
    Outcome::refused("a figure of this report is larger than can be carried; a shorter time may have a report")
}
