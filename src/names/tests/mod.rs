//! The stage on books as text.

mod batches;
mod changes;
mod counting;
mod definitions;
mod lookups;
mod names;
mod pages;

use chrono::NaiveDate;

use super::*;
use crate::diagnostics::{Diagnostic, Diagnostics, explain_preamble};
use crate::sources::SourceSet;
use crate::syntax::{DefinitionWord, DetailKind, Item, SyntaxFile, parse_book};

/// A book, read and resolved.
struct Read {
    sources: SourceSet,
    syntax: SyntaxFile,
    book: ResolvedBook,
    found: Vec<Diagnostic>,
}

impl Read {
    fn thing(&self, name: &str) -> &Thing {
        match self.book.table.get(name) {
            Some(Known::Thing(id)) => self.book.thing(*id),
            other => panic!("{name} is {other:?}"),
        }
    }

    fn lookup(&self) -> Lookup<'_> {
        Lookup::new(&self.book, &self.sources)
    }

    /// The items of the last entry.
    fn items(&self) -> Vec<&Item> {
        let last = self.syntax.entries.last().expect("an entry");
        let lists = last.details.iter().filter_map(|detail| match &detail.kind {
            DetailKind::Items(_, items) => Some(items),
            _ => None,
        });
        lists.flatten().collect()
    }
}

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

/// Reads files as one book.
fn read_files(files: &[&str]) -> Read {
    let mut sources = SourceSet::default();
    for (at, file) in files.iter().enumerate() {
        sources.add(format!("{at}.kerf"), file).expect("added");
    }
    let mut found = Diagnostics::default();
    let syntax = parse_book(&sources, &mut found);
    let book = resolve_book(&sources, &syntax, &mut found);
    Read { sources, syntax, book, found: found.into_sorted() }
}

/// Reads a text behind the small shop of the explain pages.
fn read(text: &str) -> Read {
    read_files(&[explain_preamble(), text])
}

/// Codes and messages of what is told of a text behind the small shop.
fn told(text: &str) -> Vec<String> {
    messages(&read(text).found)
}

fn messages(found: &[Diagnostic]) -> Vec<String> {
    found.iter().map(|one| format!("{}: {}", one.code, one.message)).collect()
}

/// The text with the first fix of the only finding applied.
fn corrected(text: &str) -> String {
    let read = read(text);
    let [one] = read.found.as_slice() else { panic!("{:#?}", messages(&read.found)) };
    let fix = one.fixes.first().expect("a fix");
    let start = read.sources.files().last().expect("a file").span.start as usize;
    let mut text = text.to_owned();
    text.replace_range(fix.span.start as usize - start..fix.span.end as usize - start, &fix.replacement);
    text
}
