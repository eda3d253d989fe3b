//! A book put through every stage, for its tax years.

use std::path::Path;

use chrono::NaiveDate;
use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::{Diagnostic, Diagnostics, Severity, tell_damage};
use kerfbook::events::{EventLog, build_events};
use kerfbook::names::{ResolvedBook, resolve_book};
use kerfbook::sources::{Loaded, SourceSet, exists_in_book};
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

impl Compiled {
    /// Whether a mistake was found.
    pub(crate) fn has_mistakes(&self) -> bool {
        self.found.iter().any(|one| one.severity == Severity::Error)
    }
}

/// Compiles texts, each as a file of that path. Every file that a text names is taken to exist.
pub(crate) fn compile_texts(files: &[(&str, &str)]) -> Compiled {
    let mut sources = SourceSet::default();
    for (path, text) in files {
        sources.add(*path, text).expect("under four gigabytes");
    }
    compile(Loaded { sources, damaged: Vec::new() }, None, &|_| true)
}

/// Compiles a loaded book that lies in a folder, on a day.
pub(crate) fn compile_loaded(loaded: Loaded, folder: &Path, today: Option<NaiveDate>) -> Compiled {
    compile(loaded, today, &|path| exists_in_book(folder, path))
}

fn compile(loaded: Loaded, today: Option<NaiveDate>, file_exists: &dyn Fn(&str) -> bool) -> Compiled {
    let mut found = Diagnostics::default();
    tell_damage(&loaded.damaged, &mut found);
    let sources = loaded.sources;
    let syntax = parse_book(&sources, &mut found);
    let book = resolve_book(&sources, &syntax, &mut found);
    let log = build_events(&sources, syntax, &book, today, file_exists, &mut found);
    let mut costed = cost_book(&log, &book, &CostOptions::default(), &mut found);
    let books = Books { sources: &sources, book: &book, log: &log, costed: &costed };
    if let Some(marked) = mark_unpaid(books, &CostOptions::default()) {
        costed = marked;
    }
    Compiled { sources, book, log, costed, found: found.into_sorted() }
}
