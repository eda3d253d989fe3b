//! The marks of an unfinished merge: one mistake for the whole of it, with both sides shown.

use crate::diagnostics::Diagnostic;
use crate::sources::{SourceSet, Span};
use crate::syntax::slip_errors::MERGE_MARKS;

/// How far around a mark the others are looked for, in bytes.
const WITHIN: usize = 256 * 1024;

/// Says that a merge is unfinished where a line is one of its marks. All marks of one merge give the same finding, so that
/// it is told once.
pub(super) fn explain_merge(sources: &SourceSet, line: Span) -> Option<Diagnostic> {
    let text = sources.text(line);
    mark(text)?;
    let file = sources.file_at(line.start)?;
    let start = find_up(sources, line, file.span)?;
    let mut found = Diagnostic::new(MERGE_MARKS, start, "a merge was left unfinished here")
        .label("one side begins")
        .note("keep the one side, the other, or both, and delete the lines with the marks");
    let mut at = start;
    while let Some(next) = next_line(sources, at, file.span).filter(|next| (next.start - start.start) as usize <= WITHIN) {
        at = next;
        match mark(sources.text(next)) {
            Some(b'=') => found = found.also(next, "the other side begins"),
            Some(b'>') => return Some(found.also(next, "and ends")),
            Some(b'<') => break,
            Some(_) | None => {}
        }
    }
    Some(found)
}

/// The sign of a merge mark, seven times at the beginning of a line.
fn mark(text: &str) -> Option<u8> {
    let bytes = text.as_bytes();
    let sign = *bytes.first().filter(|sign| b"<=>|".contains(sign))?;
    let seven = bytes.len() >= 7 && bytes.iter().take(7).all(|byte| *byte == sign);
    (seven && bytes.get(7).is_none_or(|next| *next == b' ')).then_some(sign)
}

/// The line with the first mark of the merge to which a mark belongs.
fn find_up(sources: &SourceSet, line: Span, file: Span) -> Option<Span> {
    let mut at = line;
    loop {
        if mark(sources.text(at)) == Some(b'<') {
            return Some(at);
        }
        if at.start <= file.start || (line.start - at.start) as usize > WITHIN {
            return Some(line);
        }
        at = sources.lines_of(Span::new(at.start - 1, at.start - 1));
        if mark(sources.text(at)) == Some(b'>') {
            return Some(line);
        }
    }
}

fn next_line(sources: &SourceSet, line: Span, file: Span) -> Option<Span> {
    let start = line.end.checked_add(1).filter(|start| *start < file.end)?;
    Some(sources.lines_of(Span::new(start, start)))
}
