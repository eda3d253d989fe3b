//! Papers and notes that stand in entries and definitions (`file "…"`, `note "…"`). No figure hangs on them; a record lists them.

use crate::sources::Span;
use crate::syntax::{Detail, DetailKind};

/// A `file` or `note` line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Paper {
    /// The whole entry or definition in which it stands.
    pub block: Span,
    /// What stands between its quotes: a path below the book's folder, or words.
    pub text: Span,
    /// Whether it names a file.
    pub is_file: bool,
}

/// All of a book, in the order of the text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Papers(Vec<Paper>);

impl Papers {
    /// Takes those of an entry or definition.
    pub(crate) fn take(&mut self, block: Span, details: &[Detail]) {
        self.0.extend(details.iter().filter_map(|detail| match detail.kind {
            DetailKind::File(text) => Some(Paper { block, text, is_file: true }),
            DetailKind::Note(text) => Some(Paper { block, text, is_file: false }),
            _ => None,
        }));
    }

    /// Takes those of another part of the book; [`Papers::sort`] belongs behind the last.
    pub(crate) fn extend(&mut self, other: Self) {
        self.0.extend(other.0);
    }

    /// Puts them in the order of the text.
    pub(crate) fn sort(&mut self) {
        self.0.sort_unstable_by_key(|paper| paper.text);
        self.0.shrink_to_fit();
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The paths that are named.
    pub(crate) fn files(&self) -> impl Iterator<Item = Span> {
        self.0.iter().filter(|paper| paper.is_file).map(|paper| paper.text)
    }

    /// Those of the entry or definition in which a place of the text lies.
    pub fn of_block(&self, place: Span) -> impl Iterator<Item = &Paper> {
        let from = self.0.partition_point(|paper| paper.block.end <= place.start);
        let papers = self.0.get(from..).unwrap_or(&[]);
        papers.iter().take_while(move |paper| paper.block.start <= place.start)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn papers_are_found_by_any_place_of_their_entry() {
        let paper = |block: (u32, u32), at: u32| Paper {
            block: Span::new(block.0, block.1),
            text: Span::new(at, at + 1),
            is_file: at.is_multiple_of(2),
        };
        let mut papers = Papers(vec![paper((30, 40), 34), paper((0, 10), 5), paper((0, 10), 2)]);
        papers.sort();
        let found = |at: u32| papers.of_block(Span::new(at, at + 1)).map(|paper| paper.text.start).collect::<Vec<_>>();
        assert_eq!((found(0), found(9), found(10), found(35), found(40)), (vec![2, 5], vec![2, 5], vec![], vec![34], vec![]));
        assert_eq!(papers.files().map(|text| text.start).collect::<Vec<_>>(), [2, 34]);
    }
}
