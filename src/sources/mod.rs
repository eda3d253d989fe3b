//! Stage 1: the book's files as one text.
//!
//! In: a folder. Out: a [`SourceSet`], every `*.kerf` file normalised (no BOM, no CR) and laid end to end, so that a
//! [`Span`] is two numbers and finds its own file. Must not: know what the text means. The loader is the only place in the
//! library that reads files.

mod line_index;
mod loader;
mod source_set;
mod span;

pub use line_index::LineIndex;
pub use loader::{
    BookFile, Damage, DamagedFile, LoadError, Loaded, UnreadablePlace, exists_in_book, find_book, list_files, load_book,
};
pub use source_set::{LinePlace, SourceFile, SourceSet};
pub use span::Span;
