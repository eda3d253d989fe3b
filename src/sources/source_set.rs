//! The book's files laid end to end, in the order of their paths, each ended by a line break.
//!
//! A [`Span`] of the whole finds its file by binary search and its line by counting line breaks in that file; both are
//! needed only when something is told to the reader.

use crate::sources::Span;

/// One file of the book and where its text lies in the whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceFile {
    /// Path below the book's folder, with `/` between its parts.
    pub path: String,
    /// Where its text lies in the source set; the last byte is always a line break.
    pub span: Span,
}

/// A place as people read it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LinePlace<'s> {
    /// Path of the file below the book's folder.
    pub path: &'s str,
    /// Line, counted from 1.
    pub line: usize,
    /// Column in characters, counted from 1.
    pub column: usize,
}

/// Every file of a book as one text.
#[derive(Clone, Debug, Default)]
pub struct SourceSet {
    text: String,
    files: Vec<SourceFile>,
}

impl SourceSet {
    /// Adds a file's text after the others. The text is taken as normalised; a missing last line break is added.
    /// Returns `None`, and adds nothing, where the whole would pass four gigabytes.
    pub fn add(&mut self, path: impl Into<String>, text: &str) -> Option<()> {
        let start = u32::try_from(self.text.len()).ok()?;
        let end = u32::try_from(self.text.len().checked_add(text.len())?.checked_add(1)?).ok()?;
        self.text.push_str(text);
        if !text.ends_with('\n') {
            self.text.push('\n');
        }
        let end = end.min(u32::try_from(self.text.len()).ok()?);
        self.files.push(SourceFile { path: path.into(), span: Span::new(start, end) });
        Some(())
    }

    /// The files, in the order in which they were added.
    #[must_use]
    pub fn files(&self) -> &[SourceFile] {
        &self.files
    }

    /// The whole text.
    #[must_use]
    pub fn whole(&self) -> &str {
        &self.text
    }

    /// The text of a span; empty where the span is not one of this set.
    #[must_use]
    pub fn text(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or("")
    }

    /// The file in which a position lies.
    #[must_use]
    pub fn file_at(&self, position: u32) -> Option<&SourceFile> {
        let after = self.files.partition_point(|file| file.span.start <= position);
        self.files.get(after.checked_sub(1)?)
    }

    /// Path, line and column of a position, as people read them.
    #[must_use]
    pub fn place(&self, position: u32) -> Option<LinePlace<'_>> {
        let file = self.file_at(position)?;
        let before = self.text.get(file.span.start as usize..position as usize)?;
        let line = before.bytes().filter(|byte| *byte == b'\n').count() + 1;
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let column = before.get(line_start..).map_or(0, |text| text.chars().count()) + 1;
        Some(LinePlace { path: &file.path, line, column })
    }

    /// The span of the whole lines that a span touches, without the last line break.
    #[must_use]
    pub fn lines_of(&self, span: Span) -> Span {
        let Some(file) = self.file_at(span.start) else { return span };
        let whole = self.text.as_bytes();
        let mut start = span.start.min(file.span.end);
        while start > file.span.start && whole.get(start as usize - 1) != Some(&b'\n') {
            start -= 1;
        }
        let mut end = span.end.max(span.start).min(file.span.end);
        if end > start && whole.get(end as usize - 1) == Some(&b'\n') {
            end -= 1;
        }
        while end < file.span.end && whole.get(end as usize) != Some(&b'\n') {
            end += 1;
        }
        Span::new(start, end)
    }
}
