//! Findings as one line each: `path:line:col: error[K203]: message`.

use std::fmt::Write as _;

use crate::diagnostics::{Diagnostic, Severity};
use crate::sources::{LineIndex, SourceSet};

/// Writes each finding as one line, in the order given. Lines and columns are counted from 1, columns in characters.
#[must_use]
pub fn render_short(sources: &SourceSet, diagnostics: &[Diagnostic]) -> String {
    let index = LineIndex::of(sources);
    let mut out = String::new();
    for one in diagnostics {
        let place = index.place(one.primary.span.start);
        let place = place.map_or_else(String::new, |at| format!("{}:{}:{}: ", at.path, at.line, at.column));
        let message = one.message.replace(['\n', '\r'], " ");
        // Writing to a string does not fail.
        let _ = writeln!(out, "{place}{}[{}]: {message}", word(one.severity), one.code);
    }
    out
}

/// The word for a severity.
pub(super) const fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Question => "question",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostics::Code;
    use crate::sources::Span;

    #[test]
    fn a_finding_is_one_line_with_its_column_in_characters() {
        let mut sources = SourceSet::default();
        sources.add("2026/03.kerf", "noted 2026-03-01 \"x\"\nété 5\n").expect("added");
        let found = Diagnostic::new(Code(203), Span::new(27, 28), "no `5`\nhere");
        assert_eq!(render_short(&sources, &[found]), "2026/03.kerf:2:5: error[K203]: no `5` here\n");
    }
}
