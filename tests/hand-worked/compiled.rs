//! A book put through every stage, for its tax years.

use std::path::Path;

use chrono::NaiveDate;
use kerfbook::cli::{CompileOptions, compile_sources};
use kerfbook::costing::CostedBook;
use kerfbook::diagnostics::{Diagnostic, Severity};
use kerfbook::events::EventLog;
use kerfbook::names::ResolvedBook;
use kerfbook::sources::{Loaded, SourceSet, exists_in_book};
use kerfbook::year::{Books, Forms};

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
    /// All of it, as reports take it.
    pub(crate) fn books(&self) -> Books<'_> {
        Books { sources: &self.sources, book: &self.book, log: &self.log, costed: &self.costed }
    }

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

/// Without forms, so that each check figures the years that it asks for.
fn compile(loaded: Loaded, today: Option<NaiveDate>, file_exists: &dyn Fn(&str) -> bool) -> Compiled {
    let options = CompileOptions { today, ..CompileOptions::default() };
    let compiled = compile_sources(loaded, &Forms::default(), options, file_exists);
    let found = compiled.found.into_sorted();
    Compiled { sources: compiled.sources, book: compiled.book, log: compiled.log, costed: compiled.costed, found }
}
