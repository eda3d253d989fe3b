//! Forms that are read and checked and move no figure yet: said, so that nothing that was written is ignored in silence.

use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::syntax::{DetailKind, SaidWhat};

/// Tells that an entry, which was read, has no effect yet.
pub(crate) fn tell_entry(reader: &mut EntryReader<'_>, what: &str) {
    reader.tell(errors::entries::no_effect_yet(reader.entry.head, what));
}

/// Tells what is said of an entry's items and has no effect yet.
pub(crate) fn tell_said(reader: &mut EntryReader<'_>) {
    for detail in &reader.entry.details {
        let DetailKind::Items(_, items) = &detail.kind else { continue };
        for said in items.iter().flat_map(|item| &item.said) {
            if matches!(said.what, SaidWhat::Certificate(_)) {
                reader.tell(errors::entries::no_effect_yet(said.span, "a certificate"));
            }
        }
    }
}
