//! A book put through every stage, for the tests that read whole books.

use chrono::NaiveDate;
use kerfbook::costing::{CostOptions, cost_book};
use kerfbook::diagnostics::{Diagnostic, Diagnostics, Severity, tell_damage};
use kerfbook::events::build_events;
use kerfbook::names::resolve_book;
use kerfbook::sources::{Loaded, SourceSet};
use kerfbook::syntax::parse_book;
use kerfbook::year::{Books, Forms, mark_unpaid, tell_loose_answers, year_of, years_of};

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
    let mut found = Diagnostics::default();
    tell_damage(&loaded.damaged, &mut found);
    let sources = loaded.sources;
    let syntax = parse_book(&sources, &mut found);
    let book = resolve_book(&sources, &syntax, &mut found);
    let log = build_events(&sources, syntax, &book, asked.today, asked.file_exists, &mut found);
    let mut costed = cost_book(&log, &book, &CostOptions::default(), &mut found);
    if !found.has_errors() {
        let books = Books { sources: &sources, book: &book, log: &log, costed: &costed };
        if let Some(marked) = mark_unpaid(books, &CostOptions::default()) {
            costed = marked;
        }
        let books = Books { sources: &sources, book: &book, log: &log, costed: &costed };
        let (years, forms) = match asked.tax_year {
            Some((year, forms)) => (vec![year], forms),
            None => (years_of(books, &built_in), &built_in),
        };
        // What is wrong with one is among what was found.
        let figured: Vec<_> = years.into_iter().filter_map(|year| year_of(books, year, forms, &mut found)).collect();
        tell_loose_answers(books, &figured, &mut found);
    }
    Compiled { sources, found: found.into_sorted(), proof_holds: costed.proof.holds() }
}
