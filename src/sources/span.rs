//! A stretch of the book's text: two byte positions in the whole [`SourceSet`](crate::sources::SourceSet).
//!
//! Spans cost eight bytes and are the only way in which later stages point at text.

/// A stretch of text, from `start` up to and without `end`, in bytes of the whole source set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// Makes a span from its two ends.
    #[must_use]
    pub const fn new(start: u32, end: u32) -> Self {
        Self { start, end }
    }

    /// The smallest span that covers both.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// The span as a range of bytes.
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    /// Whether nothing is covered.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.end <= self.start
    }
}
