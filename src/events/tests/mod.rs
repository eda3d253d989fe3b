//! Books as text, read up to their events.

mod batches;
mod bought;
mod day;
mod examples;
mod goods_out;
mod money_out_and_in;
mod pages;
mod sold;
mod totals;
mod whole_book;

use std::path::Path;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::diagnostics::{Code, Diagnostic, Diagnostics};
use crate::events::{EventLog, build_events};
use crate::names::{ResolvedBook, resolve_book};
use crate::sources::SourceSet;
use crate::syntax::parse_book;
use crate::units::Fixed6;

/// A number.
pub(crate) fn number(text: &str) -> Decimal {
    Decimal::from_str_exact(text).expect("a number")
}

/// A sum of money, or minutes.
pub(crate) fn money(text: &str) -> Fixed6 {
    Fixed6::from_decimal_exact(number(text)).expect("a sum")
}

/// A small shop, whose names the books of the tests use.
pub(crate) const SHOP: &str = include_str!("shop.kerf");

/// A book that was read.
pub(crate) struct Read {
    pub(crate) sources: SourceSet,
    pub(crate) book: ResolvedBook,
    pub(crate) log: EventLog,
    pub(crate) found: Vec<Diagnostic>,
}

/// Reads files of a book; a file is there if its name begins with `there`.
pub(crate) fn read_files(files: &[(&str, &str)], today: Option<&str>) -> Read {
    read_all(files, today, &|path| path.starts_with("there"))
}

/// Reads a book's folder without the folders in it.
pub(crate) fn read_folder(folder: &Path) -> Read {
    let mut paths: Vec<_> = std::fs::read_dir(folder).expect("a folder").map(|one| one.expect("a file").path()).collect();
    paths.sort();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "kerf"));
    let texts: Vec<(String, String)> =
        paths.iter().map(|path| (path.display().to_string(), std::fs::read_to_string(path).expect("a text"))).collect();
    let files: Vec<(&str, &str)> = texts.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    read_all(&files, None, &|path| folder.join(path).is_file())
}

fn read_all(files: &[(&str, &str)], today: Option<&str>, file_exists: &dyn Fn(&str) -> bool) -> Read {
    let mut sources = SourceSet::default();
    for (path, text) in files {
        sources.add(*path, text).expect("a small book");
    }
    let mut found = Diagnostics::default();
    let syntax = parse_book(&sources, &mut found);
    let book = resolve_book(&sources, &syntax, &mut found);
    let today = today.map(|today| today.parse::<NaiveDate>().expect("a day"));
    let log = build_events(&sources, syntax, &book, today, file_exists, &mut found);
    Read { sources, book, log, found: found.into_sorted() }
}

/// Reads the small shop's definitions and these entries.
pub(crate) fn read(entries: &str) -> Read {
    read_files(&[("shop.kerf", SHOP), ("year.kerf", entries)], None)
}

impl Read {
    /// What was found, one finding a line, with the text at its place.
    pub(crate) fn told(&self) -> Vec<String> {
        self.found.iter().map(|one| self.line_of(one)).collect()
    }

    /// A finding in one line, with the text at its place.
    pub(crate) fn line_of(&self, one: &Diagnostic) -> String {
        format!("{} {} | {}", one.code, one.message, self.sources.text(one.primary.span))
    }

    /// The only finding.
    pub(crate) fn only(&self, code: Code) -> &Diagnostic {
        assert_eq!(self.found.len(), 1, "{:#?}", self.told());
        let one = self.found.first().expect("a finding");
        assert_eq!(one.code, code, "{:#?}", self.told());
        one
    }

    /// Checks that nothing was found.
    pub(crate) fn is_clean(&self) -> &Self {
        assert!(self.found.is_empty(), "{:#?}", self.told());
        self
    }
}
