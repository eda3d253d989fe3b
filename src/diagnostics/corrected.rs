//! The corrected line: what a line of the book reads like after a fix.

use crate::diagnostics::Fix;
use crate::sources::{SourceSet, Span};

/// A fix as whole lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CorrectedLines {
    /// The lines that are replaced, without the last line break.
    pub span: Span,
    /// What stands there afterwards; empty where the fix takes the line away.
    pub text: String,
}

/// The lines that a fix touches, as they read afterwards. A fix may make several lines of one.
#[must_use]
pub fn corrected_lines(sources: &SourceSet, fix: &Fix) -> CorrectedLines {
    let span = sources.lines_of(fix.span);
    let before = sources.text(Span::new(span.start, fix.span.start.max(span.start)));
    let after = sources.text(Span::new(fix.span.end.min(span.end), span.end));
    let text = format!("{before}{}{after}", fix.replacement);
    CorrectedLines { span, text: text.trim_end().to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn corrected(start: u32, end: u32, replacement: &str) -> String {
        let mut sources = SourceSet::default();
        sources.add("a.kerf", "bought 2026-03-02\n    31.5 red-oak at 5.90 # dry\n").expect("added");
        let fix = Fix { message: String::new(), span: Span::new(start, end), replacement: replacement.to_owned(), sure: false };
        corrected_lines(&sources, &fix).text
    }

    #[test]
    fn what_stands_around_the_change_stays() {
        assert_eq!(corrected(27, 27, "bf "), "    31.5 bf red-oak at 5.90 # dry");
    }

    #[test]
    fn a_fix_may_span_lines_or_make_two_of_one() {
        assert_eq!(corrected(17, 22, "\n    "), "bought 2026-03-02\n    31.5 red-oak at 5.90 # dry");
        assert_eq!(corrected(22, 48, ""), "");
    }
}
