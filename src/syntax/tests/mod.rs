//! What the grammar and the lowering make of the language, form by form.

use crate::diagnostics::{Diagnostic, Diagnostics};
use crate::sources::SourceSet;
use crate::syntax::{SyntaxFile, parse_lines};

mod definitions;
mod describe;
mod entries;
mod numbers;
mod pages;
mod prefixes;
mod recovery;
mod turns;
mod whole_language;

/// A book of one file, parsed.
pub(crate) struct Read {
    pub(crate) sources: SourceSet,
    pub(crate) syntax: SyntaxFile,
    pub(crate) found: Vec<Diagnostic>,
}

/// Parses a book of one file.
pub(crate) fn read(text: &str) -> Read {
    let mut sources = SourceSet::default();
    sources.add("book.kerf", text).expect("a short text fits");
    let mut found = Diagnostics::default();
    let syntax = parse_lines(&sources, &mut found);
    Read { sources, syntax, found: found.into_sorted() }
}
