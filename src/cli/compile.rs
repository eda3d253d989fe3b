//! A book's way through the stages, from its folder to its costs.

use std::path::Path;

use chrono::NaiveDate;

use crate::costing::{CostOptions, CostedBook, cost_book};
use crate::diagnostics::{Diagnostics, tell_damage};
use crate::events::{EventLog, build_events};
use crate::names::{ResolvedBook, resolve_book};
use crate::sources::{LoadError, SourceSet, exists_in_book, load_book};
use crate::syntax::parse_book;

/// A book after all stages up to costing.
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
    /// What every stage found.
    pub found: Diagnostics,
}

/// Takes a book from its folder through every stage up to costing. Mistakes are among what was found; the rest goes on.
///
/// # Errors
/// Where the folder can't be read as a book at all.
pub fn compile_book(folder: &Path, today: Option<NaiveDate>, options: &CostOptions) -> Result<Compiled, LoadError> {
    let loaded = load_book(folder)?;
    let sources = loaded.sources;
    let mut found = Diagnostics::default();
    tell_damage(&loaded.damaged, &mut found);
    let syntax = parse_book(&sources, &mut found);
    let book = resolve_book(&sources, &syntax, &mut found);
    let exists = |path: &str| exists_in_book(folder, path);
    let log = build_events(&sources, &syntax, &book, today, &exists, &mut found);
    let costed = cost_book(&log, &book, options, &mut found);
    Ok(Compiled { sources, entries: syntax.entries.len(), book, log, costed, found })
}
