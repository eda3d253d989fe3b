//! Lines and words of an entry that belong in its head: `order "1042"` among the lines of a sale, `batch X1` behind an item.
//!
//! In: an entry so far and a line that could not be read, or may not stand there. Out: the finding with the head as it should
//! read and the entry's lines up to this one. Must not: look at names.

use crate::diagnostics::Diagnostic;
use crate::sources::{SourceSet, Span};
use crate::syntax::corrected_line::reads;
use crate::syntax::line_context::BlockWord;
use crate::syntax::placement_heads::{HeadKind, head_kind, head_row, head_words};
use crate::syntax::placement_table::verb_word;
use crate::syntax::slip_errors::HEAD_PART_WORD;
use crate::syntax::slips::distance_said;
use crate::syntax::words::is_name;
use crate::syntax::{Entry, Verb};

/// How many bytes of an entry a correction may show again.
const MOST_SHOWN: usize = 600;

/// A line that was meant for the head of its entry.
pub(crate) struct ForTheHead {
    /// What is told.
    pub(crate) told: Diagnostic,
    /// Whether the head lacks that part, which is then no second mistake.
    pub(crate) lacking: bool,
}

/// Says that a line, or the end of it, belongs in the head; `None` where it doesn't.
pub(crate) fn for_the_head(sources: &SourceSet, entry: &Entry, line: Span) -> Option<ForTheHead> {
    let text = sources.text(line);
    let text = text.split_once(" #").map_or(text, |(text, _)| text).trim();
    distance(sources, entry, line, text)
        .or_else(|| whole_line(sources, entry, line, text))
        .or_else(|| batch_behind_item(sources, entry, line, text))
}

/// `22 mi to the fair` below a head without a distance
fn distance(sources: &SourceSet, entry: &Entry, line: Span, text: &str) -> Option<ForTheHead> {
    let lacks = entry.verb == Verb::Drove && !entry.parts.iter().any(|(part, _)| head_kind(part) == HeadKind::Amount);
    let said = distance_said(text).filter(|_| lacks)?;
    tell(sources, entry, line, HeadKind::Amount, line, &said, None)
}

/// `order 1042`, `via web-page`, `from ridgeline lumber`
fn whole_line(sources: &SourceSet, entry: &Entry, line: Span, text: &str) -> Option<ForTheHead> {
    let (word, rest) = text.split_once(char::is_whitespace)?;
    let kind = lacking_part(entry, word)?;
    let rest = rest.trim();
    let value = match kind {
        _ if rest.is_empty() || rest.contains(',') => return None,
        _ if rest.starts_with(['"', '\u{201C}']) => rest.to_owned(),
        HeadKind::Order => format!("\"{rest}\""),
        HeadKind::From | HeadKind::To | HeadKind::By | HeadKind::With if !is_name(rest) => format!("\"{rest}\""),
        _ => rest.to_owned(),
    };
    tell(sources, entry, line, kind, line, &format!("{word} {value}"), None)
}

/// `made 1 pull-cart batch X1` under a head without a batch
fn batch_behind_item(sources: &SourceSet, entry: &Entry, line: Span, text: &str) -> Option<ForTheHead> {
    let (item, code) = text.rsplit_once(" batch ").filter(|_| entry.verb.is_of_a_batch())?;
    let item = item.trim_end_matches([' ', ',']);
    let kind = lacking_part(entry, "batch")?;
    let words = u32::try_from(item.len()).ok()?;
    let place = Span::new(line.start.saturating_add(words), line.start.saturating_add(u32::try_from(text.len()).ok()?));
    reads(item, false, Some(BlockWord::Entry(entry.verb)))
        .then(|| tell(sources, entry, line, kind, place, &format!("batch {code}"), Some(item)))?
}

/// The part of a head that a word begins, where this entry may have it and has none.
fn lacking_part(entry: &Entry, word: &str) -> Option<HeadKind> {
    let parts = head_row(entry.verb).parts.iter().map(|(kind, _)| *kind);
    let kind = parts.into_iter().find(|kind| head_words(*kind).0 == word && *kind != HeadKind::Receipt)?;
    (!entry.parts.iter().any(|(part, _)| head_kind(part) == kind)).then_some(kind)
}

fn tell(
    sources: &SourceSet,
    entry: &Entry,
    line: Span,
    kind: HeadKind,
    place: Span,
    part: &str,
    item: Option<&str>,
) -> Option<ForTheHead> {
    let head = format!("{} {part}", sources.text(entry.head));
    let word = head_words(kind).0;
    if entry.damaged {
        // The head has a mistake of its own, which was told; a correction of both is not offered.
        let told = Diagnostic::new(HEAD_PART_WORD, place, format!("`{word}` stands in the head of `{}`", verb_word(entry.verb)));
        let told = told.note(format!("put `{part}` there, as in `{}`", head_row(entry.verb).form));
        return Some(ForTheHead { told, lacking: false });
    }
    if !reads(&head, true, None) {
        return None;
    }
    let message = format!("`{word}` stands in the head of `{}`: `{head}`", verb_word(entry.verb));
    let told = Diagnostic::new(HEAD_PART_WORD, place, message);
    let start = sources.lines_of(Span::new(line.start, line.start)).start;
    let between = sources.text(Span::new(entry.head.end, start)).trim_end_matches('\n');
    let indent = sources.text(Span::new(start, line.start));
    let indent = if indent.is_empty() { "    " } else { indent };
    let rest = item.map(|item| format!("\n{indent}{item}")).unwrap_or_default();
    let told = if between.len() <= MOST_SHOWN {
        told.fix("put it there", Span::new(entry.head.end, line.end), format!(" {part}{between}{rest}"))
    } else {
        told.fix("put it there, and take it out here", Span::new(entry.head.end, entry.head.end), format!(" {part}"))
    };
    Some(ForTheHead { told, lacking: !matches!(kind, HeadKind::Order | HeadKind::At) })
}
