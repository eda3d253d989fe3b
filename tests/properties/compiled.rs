//! A book that is given as text, put through every stage up to costing.

use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::{Diagnostic, Diagnostics};
use kerfbook::events::{EventLog, build_events};
use kerfbook::names::{ResolvedBook, resolve_book};
use kerfbook::sources::SourceSet;
use kerfbook::syntax::parse_book;
use kerfbook::year::{Books, mark_unpaid};

/// A compiled book.
pub(crate) struct Compiled {
    /// Its text.
    pub(crate) sources: SourceSet,
    /// Its definitions.
    pub(crate) book: ResolvedBook,
    /// Its entries.
    pub(crate) log: EventLog,
    /// Its figures.
    pub(crate) costed: CostedBook,
    /// All that was found, in the order of the text.
    pub(crate) found: Vec<Diagnostic>,
}

/// Compiles texts, each as a file of that path. Every file that a text names is taken to exist.
pub(crate) fn compile_texts(files: &[(&str, &str)]) -> Compiled {
    let mut sources = SourceSet::default();
    for (path, text) in files {
        sources.add(*path, text).expect("under four gigabytes");
    }
    let mut found = Diagnostics::default();
    let syntax = parse_book(&sources, &mut found);
    let book = resolve_book(&sources, &syntax, &mut found);
    let log = build_events(&sources, syntax, &book, None, &|_| true, &mut found);
    let mut costed = cost_book(&log, &book, &CostOptions::default(), &mut found);
    let books = Books { sources: &sources, book: &book, log: &log, costed: &costed };
    if let Some(marked) = mark_unpaid(books, &CostOptions::default()) {
        costed = marked;
    }
    Compiled { sources, book, log, costed, found: found.into_sorted() }
}
