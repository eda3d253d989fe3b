//! The papers of a record: files and notes in the entries of its batches, and in the product's definition.

use std::collections::{BTreeMap, BTreeSet};

use crate::events::{Event, EventKind, Paper};
use crate::names::{BatchId, ThingId};
use crate::reports::RecordPaper;
use crate::year::Books;

/// The entries in which something is said of each batch, in the order in which they happened.
pub(super) struct BatchEntries<'a> {
    books: Books<'a>,
    entries: BTreeMap<BatchId, Vec<&'a Event>>,
}

impl<'a> BatchEntries<'a> {
    /// Goes once through the entries; where the book has no papers, through none.
    pub(super) fn of(books: Books<'a>) -> Self {
        let mut entries: BTreeMap<BatchId, Vec<&Event>> = BTreeMap::new();
        let events = if books.log.papers.is_empty() { &[] } else { books.log.events.as_slice() };
        for event in events {
            let batch = match &event.kind {
                EventKind::Batch(work) => work.batch,
                EventKind::GaveUp(batch) => *batch,
                _ => continue,
            };
            entries.entry(batch).or_default().push(event);
        }
        Self { books, entries }
    }

    /// The papers of a product's definition, and of some batches, the first of them first.
    pub(super) fn papers(&self, product: ThingId, first: BatchId, parts: &BTreeSet<BatchId>) -> Vec<RecordPaper> {
        let book = self.books.book;
        let mut list = Vec::new();
        let named = &book.thing(product).named;
        for paper in self.books.log.papers.of_block(named.span) {
            list.push(self.paper(paper, format!("product {}", named.name), None));
        }
        for batch in std::iter::once(first).chain(parts.iter().copied().filter(|batch| *batch != first)) {
            // An entry may have become several events.
            let mut told = BTreeSet::new();
            for event in self.entries.get(&batch).into_iter().flatten().filter(|event| told.insert(event.span)) {
                for paper in self.books.log.papers.of_block(event.span) {
                    list.push(self.paper(paper, format!("batch {}", book.batch(batch).name), Some(event.date.to_string())));
                }
            }
        }
        list
    }

    fn paper(&self, paper: &Paper, of: String, date: Option<String>) -> RecordPaper {
        let text = self.books.sources.text(paper.text).to_owned();
        let (file, note) = if paper.is_file { (Some(text), None) } else { (None, Some(text)) };
        RecordPaper { of, date, file, note }
    }
}
