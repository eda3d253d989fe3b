//! A file's text as it is written, line by line: which lines read, and how their words stand with one blank between them.
//!
//! In: the text of one file. Out: a [`WrittenLine`] for each line, blank ones and remarks too, in their order. Whoever lays a book
//! out anew needs no more. Must not: tell a mistake, or join lines to blocks.

use rayon::prelude::*;

use crate::syntax::grammar::Rule;
use crate::syntax::lower_definition::lower_definition;
use crate::syntax::lower_detail::lower_detail;
use crate::syntax::lower_head::lower_head;
use crate::syntax::lower_leaf::Leaves;
use crate::syntax::nodes::{Siblings, parse_lines};
use crate::syntax::pieces::PIECE;
use crate::syntax::squeeze::{blanks_before, comment_in, squeeze, without_blanks_behind};

/// A line of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrittenLine<'t> {
    /// What it is.
    pub kind: LineIs,
    /// The blanks before its first word or its comment.
    pub before: &'t str,
    /// Its words, with one blank between them; empty where it has none or could not be read.
    pub words: String,
    /// Its comment from the `#` on, without blanks at its end; empty where there is none.
    pub comment: &'t str,
}

/// What a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineIs {
    /// Nothing but blanks.
    Blank,
    /// A comment and nothing else.
    Remark,
    /// A head at the left edge that reads.
    Head,
    /// An indented line that reads as a detail.
    Detail,
    /// A line that can't be read, or stands at the left edge and belongs to a block, or is indented and begins one.
    Unread,
}

/// Reads the lines of a file's text, whose line breaks are `\n`.
#[must_use]
pub fn written_lines(text: &str) -> Vec<WrittenLine<'_>> {
    let pieces = cut_at_line_ends(text);
    let lines: Vec<Vec<WrittenLine<'_>>> = pieces.par_iter().with_max_len(1).map(|piece| lines_of_piece(piece)).collect();
    lines.into_iter().flatten().collect()
}

/// A text's words as the language reads them: comments and blank lines left out, one blank between words, each line ended by a line
/// break. Texts with the same words say the same.
#[must_use]
pub fn bare_words(text: &str) -> String {
    squeeze(text).text
}

/// Cuts a text at the ends of lines into pieces that can be read side by side.
fn cut_at_line_ends(text: &str) -> Vec<&str> {
    let (mut pieces, mut rest) = (Vec::new(), text);
    while !rest.is_empty() {
        let bytes = rest.as_bytes();
        let from = PIECE.min(bytes.len());
        let end = bytes.get(from..).and_then(|behind| behind.iter().position(|byte| *byte == b'\n'));
        let (piece, behind) = rest.split_at(end.map_or(bytes.len(), |step| from + step + 1));
        pieces.push(piece);
        rest = behind;
    }
    pieces
}

fn lines_of_piece(piece: &str) -> Vec<WrittenLine<'_>> {
    let read = lines_that_read(piece);
    let (mut lines, mut start) = (Vec::new(), 0_usize);
    for whole in piece.split_inclusive('\n') {
        let line = whole.strip_suffix('\n').unwrap_or(whole);
        // What reads begins at the line's first word.
        let first = start + blanks_before(line);
        let kind = read.binary_search_by_key(&first, |(at, _)| *at).ok().and_then(|at| read.get(at)).map(|(_, kind)| *kind);
        lines.push(written_line(line, kind));
        start += whole.len();
    }
    lines
}

fn written_line(line: &str, read: Option<LineIs>) -> WrittenLine<'_> {
    let (before, behind) = line.split_at(blanks_before(line));
    let comment = comment_in(line).and_then(|at| line.get(at..)).map_or("", without_blanks_behind);
    let kind = match read {
        _ if behind.is_empty() => LineIs::Blank,
        _ if behind.starts_with('#') => LineIs::Remark,
        Some(kind) => kind,
        None => LineIs::Unread,
    };
    let words = match kind {
        LineIs::Head | LineIs::Detail => squeeze(line).text.trim_matches([' ', '\n']).to_owned(),
        LineIs::Blank | LineIs::Remark | LineIs::Unread => String::new(),
    };
    WrittenLine { kind, before, words, comment }
}

/// Where the lines begin that read whole, without a mistake of their own, at the edge at which they belong.
fn lines_that_read(piece: &str) -> Vec<(usize, LineIs)> {
    let Some(nodes) = parse_lines(Rule::piece, piece, 0) else { return Vec::new() };
    let Some(lines) = Siblings::of(&nodes).next().map(|piece| piece.inner) else { return Vec::new() };
    let leaves = Leaves::new(piece);
    lines
        .filter_map(|line| {
            let kind = match line.node.rule {
                Rule::entry if lower_head(leaves, line).is_ok() => LineIs::Head,
                Rule::definition if lower_definition(leaves, line).1.is_none() => LineIs::Head,
                Rule::detail if lower_detail(leaves, line).is_ok() => LineIs::Detail,
                _ => return None,
            };
            Some((line.node.span.range().start, kind))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(text: &str) -> Vec<LineIs> {
        written_lines(text).into_iter().map(|line| line.kind).collect()
    }

    #[test]
    fn lines_are_told_apart_by_what_they_are() {
        use LineIs::{Blank, Detail, Head, Remark, Unread};
        let text = "# a\n\nsold  2026-03-20 via web # b\n\t2 cart ,3 box\n \u{a0}\n   # c\n2 cart\n  noted 2026-01-01 \"x\"\n    1/3 ea cart\n    ???";
        assert_eq!(kinds(text), [Remark, Blank, Head, Detail, Blank, Remark, Unread, Unread, Unread, Unread]);
        let lines = written_lines(text);
        assert_eq!((lines[2].words.as_str(), lines[2].comment), ("sold 2026-03-20 via web", "# b"));
        assert_eq!((lines[3].words.as_str(), lines[3].before), ("2 cart, 3 box", "\t"));
        assert_eq!((lines[5].before, lines[5].comment), ("   ", "# c"));
    }

    #[test]
    fn a_text_of_many_pieces_has_every_line() {
        let block = "sold 2026-03-20 via web\n    2 cart # two\n\n";
        assert_eq!(written_lines(&block.repeat(9_000)).len(), 27_000);
        assert!(written_lines(&block.repeat(9_000)).chunks(3).all(|three| three == written_lines(block)));
        assert_eq!(written_lines(""), []);
    }
}
