//! Goods whose quantity is said twice: `3 hides, 66 sq ft leather, at 9.20`, by the pack and by its measure.

use crate::diagnostics::Diagnostic;
use crate::sources::{SourceSet, Span};

/// Offers the second measure alone, with the first as a text behind the line, where `first` is followed by another quantity. `told` as it is
/// where it is not.
pub(crate) fn offer_one_measure(sources: &SourceSet, told: Diagnostic, first: Span) -> Diagnostic {
    let line = sources.lines_of(Span::new(first.start, first.start));
    let behind = sources.text(Span::new(first.end, line.end.max(first.end)));
    // A text may hold the sign of a comment: then nothing is offered.
    let (said, comment) = behind.split_once('#').unwrap_or((behind, ""));
    let rest = said.trim_start().strip_prefix(',').map(str::trim);
    let Some(rest) = rest.filter(|rest| rest.starts_with(|letter: char| letter.is_ascii_digit())) else { return told };
    if rest.contains(['"', '“']) || comment.contains('"') {
        return told;
    }
    let end = first.end.saturating_add(u32::try_from(said.trim_end().len()).unwrap_or(0));
    let memo = sources.text(first);
    told.fix(
        "one measure is enough; the other may stand behind it as a text",
        Span::new(first.start, end),
        format!("{rest} \"{memo}\""),
    )
}
