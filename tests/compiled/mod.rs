//! A book put through every stage, for the tests that read whole books.

use chrono::NaiveDate;
use kerfbook::cli::{CompileOptions, compile_sources};
use kerfbook::diagnostics::{Diagnostic, Severity};
use kerfbook::sources::{Loaded, SourceSet};
use kerfbook::year::{Forms, year_of};

/// A compiled book.
pub(crate) struct Compiled {
    /// Its text.
    pub(crate) sources: SourceSet,
    /// All that was found, in the order of the text.
    pub(crate) found: Vec<Diagnostic>,
    proof_holds: bool,
}

impl Compiled {
    /// Whether its figures may be shown: it has no mistakes, and the proof comes out at zero.
    ///
    /// # Panics
    /// Where it has no mistakes and the proof does not hold.
    pub(crate) fn is_sound(&self) -> bool {
        let mistakes = self.found.iter().any(|one| one.severity == Severity::Error);
        assert!(mistakes || self.proof_holds, "the proof does not hold");
        !mistakes
    }
}

/// What the day and the folder are at which a book is compiled, and which tax year is asked for.
#[derive(Clone, Copy)]
pub(crate) struct Asked<'a> {
    /// The day that counts as today.
    pub(crate) today: Option<NaiveDate>,
    /// Whether a file that the book names exists.
    pub(crate) file_exists: &'a dyn Fn(&str) -> bool,
    /// The tax year to figure, and by which forms; otherwise all that the book has, by the built-in forms. None is figured of a book with mistakes.
    pub(crate) tax_year: Option<(i32, &'a Forms)>,
}

/// Compiles a loaded book.
pub(crate) fn compile(loaded: Loaded, asked: Asked<'_>) -> Compiled {
    let built_in = Forms::built_in();
    let forms = asked.tax_year.map_or(&built_in, |(_, forms)| forms);
    let options = CompileOptions { today: asked.today, ..CompileOptions::default() };
    let compiled = compile_sources(loaded, forms, options, asked.file_exists);
    let mut found = compiled.found.clone();
    if let Some((year, forms)) = asked.tax_year
        && !found.has_errors()
        && compiled.years.iter().all(|one| one.year != year)
    {
        // A year without form data is figured all the same, as `kerfbook year` does; what is missing is among what was found.
        let _ = year_of(compiled.books(), year, forms, &mut found);
    }
    Compiled { found: found.into_sorted(), proof_holds: compiled.costed.proof.holds(), sources: compiled.sources }
}
