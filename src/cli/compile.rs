//! A book's way through the stages, from its folder to its costs and tax years.

use std::path::Path;

use chrono::{Datelike, NaiveDate};

use super::progress;
use crate::costing::{CostOptions, CostedBook, cost_book};
use crate::diagnostics::{Diagnostics, tell_damage};
use crate::events::{EventLog, build_events, nothing_expected};
use crate::names::{ResolvedBook, resolve_book};
use crate::sources::{LoadError, Loaded, SourceSet, Span, exists_in_book, load_book};
use crate::syntax::parse_book;
use crate::year::{
    Books, Forms, TaxYear, mark_unpaid, tell_form_lines, tell_loose_answers, tell_years_outside, year_of, years_of,
};

/// A book after all stages up to the tax year.
#[derive(Debug)]
pub struct Compiled {
    /// Its text.
    pub sources: SourceSet,
    /// How many entries it has; definitions don't count.
    pub entries: usize,
    /// Its definitions.
    pub book: ResolvedBook,
    /// Its events.
    pub log: EventLog,
    /// Its costs; not to be shown where `found` has mistakes.
    pub costed: CostedBook,
    /// Its tax years for which there is form data, oldest first; none where the shop names no form or the book has mistakes.
    pub years: Vec<TaxYear>,
    /// What every stage found.
    pub found: Diagnostics,
}

impl Compiled {
    /// What the stage of the tax year reads.
    #[must_use]
    pub fn books(&self) -> Books<'_> {
        Books { sources: &self.sources, book: &self.book, log: &self.log, costed: &self.costed }
    }
}

/// How a book is compiled.
#[derive(Clone, Copy, Debug, Default)]
pub struct CompileOptions {
    /// Days after this one lie in the future.
    pub today: Option<NaiveDate>,
    /// Whether only mistakes, warnings and the proof are wanted, no report: then less is kept in memory.
    pub only_check: bool,
    /// Whether the links are kept, by which goods are followed.
    pub keep_links: bool,
}

/// Takes a book from its folder through every stage, as [`compile_sources`] does.
///
/// # Errors
/// Where the folder can't be read as a book at all.
pub fn compile_book(folder: &Path, forms: &Forms, options: CompileOptions) -> Result<Compiled, LoadError> {
    progress::at("reading the book");
    let loaded = load_book(folder)?;
    Ok(compile_sources(loaded, forms, options, &|path| exists_in_book(folder, path)))
}

/// Takes a book that was read through every stage; `exists` says whether there is a file that the book names. Mistakes are among
/// what was found; the rest goes on, save that a book with mistakes has no tax year.
#[must_use]
pub fn compile_sources(loaded: Loaded, forms: &Forms, options: CompileOptions, exists: &dyn Fn(&str) -> bool) -> Compiled {
    let sources = loaded.sources;
    let mut found = Diagnostics::default();
    tell_damage(&loaded.damaged, &mut found);
    progress::at("reading the entries");
    let syntax = parse_book(&sources, &mut found);
    progress::at("finding what the names mean");
    let book = resolve_book(&sources, &syntax, &mut found);
    let (entries, expected) = (syntax.entries.len(), syntax.expectations());
    progress::at("putting the entries in order");
    let log = build_events(&sources, syntax, &book, options.today, exists, &mut found);
    // A tax year is made of the journal, so a book that names a form keeps it even where no report is wanted.
    let for_reports = !options.only_check || book.shop.tax_form.is_some();
    let costing = CostOptions {
        keep_journal: for_reports,
        keep_stock: for_reports || options.keep_links,
        keep_links: options.keep_links,
        today: options.today,
        ..CostOptions::default()
    };
    progress::at("costing the book");
    // The forms are parsed beside the costing, which takes one thread.
    let parse_forms = || {
        let (first, last) = (log.first_day?, log.events.last()?.date);
        Some(forms.parse_ahead(book.shop.tax_form.as_ref()?, first.year()..=last.year()))
    };
    let (costed, _) = rayon::join(|| cost_book(&log, &book, &costing, &mut found), parse_forms);
    let mut compiled = Compiled { sources, entries, book, log, costed, years: Vec::new(), found };
    let mut is_figured = false;
    if !compiled.found.has_errors() && compiled.costed.proof.holds() {
        if costing.keep_journal {
            compiled.costed = mark_unpaid(compiled.books(), &costing).unwrap_or(compiled.costed);
            compiled.costed.marked = true;
        }
        progress::at("figuring the tax years");
        let mut told = Diagnostics::default();
        let years = years_of(compiled.books(), forms);
        is_figured = !years.is_empty();
        let figured = years.into_iter().filter_map(|year| year_of(compiled.books(), year, forms, &mut told)).collect();
        compiled.years = figured;
        tell_loose_answers(compiled.books(), &compiled.years, &mut told);
        tell_years_outside(compiled.books(), &mut told);
        compiled.found.append(told);
    }
    // Each year that is figured tells of its own form.
    if !is_figured {
        let mut told = Diagnostics::default();
        tell_form_lines(compiled.books(), forms, options.today, &mut told);
        compiled.found.append(told);
    }
    tell_expected_in_vain(&mut compiled.found, expected);
    compiled
}

/// Leaves out the warnings that entries say are expected, and tells the entries that had none. A book with mistakes is not asked
/// for all of its warnings, so nothing is said to be in vain.
fn tell_expected_in_vain(found: &mut Diagnostics, expected: Vec<(Span, Span)>) {
    if expected.is_empty() {
        return;
    }
    let in_vain = found.take_warnings_in(expected.iter().map(|(entry, _)| *entry).collect());
    if found.has_errors() {
        return;
    }
    for (_, line) in expected.iter().filter(|(entry, _)| in_vain.contains(entry)) {
        found.push(nothing_expected(*line));
    }
}
