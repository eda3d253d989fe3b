//! `worked`: hours outside a `built` entry, on a batch, a line, a product, a channel, or on nothing in particular.

use crate::events::EventKind;
use crate::events::entry_reader::EntryReader;
use crate::syntax::{DetailKind, ListWord};

/// Reads a `worked` entry.
pub(crate) fn build_worked(reader: &mut EntryReader<'_>) {
    let mut lines = Vec::new();
    reader.each_line(|reader, detail| {
        if let DetailKind::Items(ListWord::Bare, items) = &detail.kind {
            for item in items {
                lines.extend(reader.time_line(item));
            }
        }
    });
    if !lines.is_empty() {
        reader.happened(EventKind::Worked(lines));
    }
}
