//! The text cut into pieces that can be parsed side by side, and made ready for the grammar.
//!
//! A cut is made only before a line at column 1 that begins a block for certain; a piece never crosses a file. Tabs and
//! no-break spaces are made blanks and curly quotes straight ones, each over as many bytes as it had, so that positions stay.
//! Must not: change a text within quotes, or any byte count.

use std::borrow::Cow;

use crate::diagnostics::Diagnostics;
use crate::sources::{SourceSet, Span};
use crate::syntax::errors;
use crate::syntax::words::{always_begins_block, first_word};

/// About how long a piece is, in bytes; between 16 and 256 KB the speed is the same.
const PIECE: usize = 64 * 1024;

/// The longest line that is read, in bytes; a longer one is told and skipped, so that no line can fill the memory.
pub(crate) const LONGEST_LINE: usize = 64 * 1024;

/// A part of one file, from the beginning of a line to the end of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Piece {
    /// Where it lies.
    pub(crate) span: Span,
}

/// Cuts all files into pieces, in their order.
pub(crate) fn cut_pieces(sources: &SourceSet) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for file in sources.files() {
        let text = sources.text(file.span);
        let mut start = 0;
        while start < text.len() {
            let end = next_cut(text, start.saturating_add(PIECE));
            let at = |position: usize| file.span.start.saturating_add(u32::try_from(position).unwrap_or(u32::MAX));
            pieces.push(Piece { span: Span::new(at(start), at(end)) });
            start = end;
        }
    }
    pieces
}

/// The first place from `from` on at which a block begins for certain, or the end of the text.
fn next_cut(text: &str, from: usize) -> usize {
    let bytes = text.as_bytes();
    let mut at = from;
    while at < bytes.len() {
        let Some(step) = bytes.get(at..).and_then(|rest| rest.iter().position(|byte| *byte == b'\n')) else { break };
        at += step + 1;
        if text.get(at..).is_some_and(|rest| always_begins_block(first_word(first_bytes(rest)))) {
            return at;
        }
    }
    bytes.len()
}

/// Enough of a line to hold any head word.
fn first_bytes(text: &str) -> &str {
    text.char_indices().nth(16).map_or(text, |(end, _)| text.get(..end).unwrap_or(text))
}

/// The piece as the grammar reads it, of the same length in bytes. Lines that are too long are told and blotted out.
pub(crate) fn make_ready<'s>(text: &'s str, base: u32, found: &mut Diagnostics, unread: &mut Vec<Span>) -> Cow<'s, str> {
    let long = has_long_line(text);
    if !long && !needs_work(text) {
        return Cow::Borrowed(text);
    }
    let mut ready = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        if line.len() > LONGEST_LINE {
            let start = base.saturating_add(u32::try_from(ready.len()).unwrap_or(u32::MAX));
            let span = Span::new(start, start.saturating_add(u32::try_from(line.len().saturating_sub(1)).unwrap_or(u32::MAX)));
            found.push(errors::line_too_long(span, line.len()));
            unread.push(span);
            ready.extend(std::iter::repeat_n('#', line.len() - 1));
            ready.push('\n');
        } else if needs_work(line) {
            straighten(line, &mut ready);
        } else {
            ready.push_str(line);
        }
    }
    Cow::Owned(ready)
}

/// Whether a line is longer than [`LONGEST_LINE`]: then a window of half its length has no line break.
fn has_long_line(text: &str) -> bool {
    text.as_bytes().chunks(LONGEST_LINE / 2).filter(|window| !window.contains(&b'\n')).count() > 0
        && text.split_inclusive('\n').any(|line| line.len() > LONGEST_LINE)
}

/// Whether a tab, a no-break space, a curly quote or a comment without a blank before it stands in the text.
fn needs_work(text: &str) -> bool {
    let mut before = b'\n';
    let bytes = text.as_bytes();
    for (at, byte) in bytes.iter().enumerate() {
        let needed = match byte {
            b'\t' => true,
            b'#' => !matches!(before, b' ' | b'\n'),
            0xC2 => bytes.get(at + 1) == Some(&0xA0),
            0xE2 => bytes.get(at + 1) == Some(&0x80) && matches!(bytes.get(at + 2), Some(0xAF | 0x9C | 0x9D | 0x9E)),
            _ => false,
        };
        if needed {
            return true;
        }
        before = *byte;
    }
    false
}

/// Writes a line with plain blanks and quotes; its comment, if any, is made blanks.
fn straighten(line: &str, ready: &mut String) {
    let mut in_text = false;
    let mut in_comment = false;
    for c in line.chars() {
        match c {
            '\n' => ready.push(c),
            _ if in_comment => ready.extend(std::iter::repeat_n(' ', c.len_utf8())),
            '“' | '”' | '„' => {
                ready.push_str(if in_text { "\"  " } else { "  \"" });
                in_text = !in_text;
            }
            '"' => {
                ready.push(c);
                in_text = !in_text;
            }
            _ if in_text => ready.push(c),
            '\t' | '\u{a0}' | '\u{202f}' => ready.extend(std::iter::repeat_n(' ', c.len_utf8())),
            '#' => {
                in_comment = true;
                ready.push(' ');
            }
            _ => ready.push(c),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{LONGEST_LINE, cut_pieces, make_ready};
    use crate::diagnostics::Diagnostics;
    use crate::sources::SourceSet;

    fn ready(text: &str) -> String {
        let mut found = Diagnostics::default();
        let mut unread = Vec::new();
        make_ready(text, 0, &mut found, &mut unread).into_owned()
    }

    #[test]
    fn tabs_and_no_break_spaces_are_made_blanks_of_the_same_length() {
        assert_eq!(ready("\t2\u{a0}cart\u{202f}at 5\n"), " 2  cart   at 5\n");
    }

    #[test]
    fn curly_quotes_become_straight_ones_and_their_text_stays() {
        assert_eq!(ready("note “a\tb # c” # d\n"), "note   \"a\tb # c\"      \n");
        assert_eq!(ready("note „a\" x\t\n"), "note   \"a\" x \n");
    }

    #[test]
    fn a_comment_may_stand_right_behind_a_word() {
        assert_eq!(ready("home#here\n"), "home     \n");
        assert_eq!(ready("home # here\n"), "home # here\n");
    }

    #[test]
    fn a_line_over_the_longest_is_told_and_blotted_out() {
        let text = format!("shop \"a\"\n    note \"{}\"\n", "é".repeat(LONGEST_LINE));
        let (mut found, mut unread) = (Diagnostics::default(), Vec::new());
        let ready = make_ready(&text, 7, &mut found, &mut unread);
        assert_eq!(ready.len(), text.len());
        assert!(ready.ends_with("##\n"));
        assert_eq!(found.as_slice().len(), 1);
        assert_eq!(unread.first().map(|span| span.start), Some(16));
    }

    #[test]
    fn pieces_cover_every_file_and_are_cut_before_head_words_only() {
        let mut sources = SourceSet::default();
        let block = "sold 2026-03-20 via web\n    2 cart\npaid 2026-03-22\nline x\n# note\n";
        for name in ["a.kerf", "b.kerf"] {
            sources.add(name, &block.repeat(3000)).expect("fits");
        }
        let pieces = cut_pieces(&sources);
        assert!(pieces.len() > 4, "{}", pieces.len());
        let mut end = 0;
        for piece in &pieces {
            assert_eq!(piece.span.start, end);
            assert!(sources.text(piece.span).starts_with("sold "));
            end = piece.span.end;
        }
        assert_eq!(end as usize, sources.whole().len());
    }
}
