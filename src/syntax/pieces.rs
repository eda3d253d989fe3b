//! The text cut into pieces that can be parsed side by side.
//!
//! A cut is made only before a line at column 1 that begins a block for certain, since a detail at column 1 must see the block
//! above; a piece never crosses a file.

use crate::sources::{SourceSet, Span};
use crate::syntax::words::{always_begins_block, first_word};

/// About how long a piece of a large book is, in bytes; between 16 and 256 KB the speed is the same.
pub(crate) const PIECE: usize = 64 * 1024;

/// A shorter piece is not worth its making.
const SHORTEST: usize = 4 * 1024;

/// How many pieces a small book is to have at least, so that no thread waits long for another.
const AT_LEAST: usize = 16;

/// About how long the pieces of a book of so many bytes are.
pub(crate) fn piece_of(bytes: usize) -> usize {
    (bytes / AT_LEAST).clamp(SHORTEST, PIECE)
}

/// A part of one file, from the beginning of a line to the end of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Piece {
    /// Where it lies.
    pub(crate) span: Span,
}

/// Cuts all files into pieces of about `size` bytes, in their order.
pub(crate) fn cut_pieces(sources: &SourceSet, size: usize) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for file in sources.files() {
        let text = sources.text(file.span);
        let mut start = 0;
        while start < text.len() {
            let end = next_cut(text, start.saturating_add(size));
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

#[cfg(test)]
mod tests {
    use super::{PIECE, cut_pieces};
    use crate::sources::SourceSet;

    #[test]
    fn pieces_cover_every_file_and_are_cut_before_head_words_only() {
        let mut sources = SourceSet::default();
        let block = "sold 2026-03-20 via web\n    2 cart\npaid 2026-03-22\nline x\n# note\n";
        for name in ["a.kerf", "b.kerf"] {
            sources.add(name, &block.repeat(3000)).expect("fits");
        }
        let pieces = cut_pieces(&sources, PIECE);
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
