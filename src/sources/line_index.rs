//! Where the lines of a source set begin, so that many places can be told quickly.
//!
//! [`SourceSet::place`] counts lines from the start of a file each time; a list of findings asks for so many places that the
//! starts are collected once. Four bytes for each line of the book.

use crate::sources::{LinePlace, SourceSet, Span};

/// The start of every line of a source set.
#[derive(Debug)]
pub struct LineIndex<'s> {
    sources: &'s SourceSet,
    starts: Vec<u32>,
}

impl<'s> LineIndex<'s> {
    /// Collects the line starts.
    #[must_use]
    pub fn of(sources: &'s SourceSet) -> Self {
        let breaks = sources.whole().bytes().zip(1_u32..).filter(|(byte, _)| *byte == b'\n').map(|(_, after)| after);
        Self { sources, starts: std::iter::once(0).chain(breaks).collect() }
    }

    /// Path, line and column of a position; `None` where the position lies in no file.
    #[must_use]
    pub fn place(&self, position: u32) -> Option<LinePlace<'s>> {
        let file = self.sources.file_at(position)?;
        let position = position.min(file.span.end.saturating_sub(1)).max(file.span.start);
        let before_file = self.starts.partition_point(|start| *start < file.span.start);
        let lines = self.starts.partition_point(|start| *start <= position);
        let start = *self.starts.get(lines.checked_sub(1)?)?;
        let column = self.sources.text(Span::new(start, position)).chars().count() + 1;
        Some(LinePlace { path: &file.path, line: lines.saturating_sub(before_file).max(1), column })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_index_tells_the_same_places_as_the_set() {
        let mut sources = SourceSet::default();
        for (path, text) in [("a.kerf", ""), ("b.kerf", "één\n\n  two"), ("c.kerf", "\n\nx\n")] {
            sources.add(path, text).expect("added");
        }
        let index = LineIndex::of(&sources);
        for (position, _) in sources.whole().char_indices() {
            let position = u32::try_from(position).expect("small");
            assert_eq!(index.place(position), sources.place(position), "at {position}");
        }
    }

    #[test]
    fn a_position_past_the_end_is_at_the_last_line_break() {
        let mut sources = SourceSet::default();
        sources.add("a.kerf", "one\ntwo\n").expect("added");
        let place = LineIndex::of(&sources).place(99).expect("in the last file");
        assert_eq!((place.line, place.column), (2, 4));
        assert_eq!(LineIndex::of(&SourceSet::default()).place(0), None);
    }
}
