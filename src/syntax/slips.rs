//! What a line that could not be read was probably meant to say.
//!
//! In: the line and where it stands. Out: one finding with the corrected line, where there is one.

use crate::diagnostics::{Code, Diagnostic};
use crate::sources::{SourceSet, Span};
use crate::syntax::line_context::LineContext;

/// A line that no form of the language fits.
pub(crate) const UNREAD_LINE: Code = Code(100);

/// Says what is wrong with a line that could not be read. `line` is without indentation and line break.
pub(crate) fn explain_bad_line(sources: &SourceSet, line: Span, context: LineContext) -> Diagnostic {
    let text = sources.text(line);
    let what = match (context.column_one, context.block) {
        (true, _) => "an entry or a definition",
        (false, Some(_)) => "a line of the block above",
        (false, None) => "a line of an entry or a definition",
    };
    Diagnostic::new(UNREAD_LINE, line, format!("`{text}` does not read as {what}"))
}
