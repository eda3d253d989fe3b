//! A book that is given as text, put through every stage.

use kerfbook::cli::{CompileOptions, compile_sources};
use kerfbook::costing::CostedBook;
use kerfbook::diagnostics::Diagnostic;
use kerfbook::events::EventLog;
use kerfbook::names::ResolvedBook;
use kerfbook::sources::{Loaded, SourceSet};
use kerfbook::year::Forms;

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

/// Compiles texts, each as a file of that path. Every file that a text names is taken to exist. Without forms, so that each check
/// figures the years that it asks for.
pub(crate) fn compile_texts(files: &[(&str, &str)]) -> Compiled {
    let mut sources = SourceSet::default();
    for (path, text) in files {
        sources.add(*path, text).expect("under four gigabytes");
    }
    let loaded = Loaded { sources, damaged: Vec::new() };
    let compiled = compile_sources(loaded, &Forms::default(), CompileOptions::default(), &|_| true);
    let found = compiled.found.into_sorted();
    Compiled { sources: compiled.sources, book: compiled.book, log: compiled.log, costed: compiled.costed, found }
}
