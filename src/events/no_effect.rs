//! Forms that are read and checked and move no figure yet: said, so that nothing that was written is ignored in silence.

use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::syntax::{DetailKind, SaidWhat, Verb};

/// Entries without effect yet, and what they are called.
const ENTRIES: [(Verb, &str); 4] = [
    (Verb::Odometer, "an odometer's reading"),
    (Verb::Statement, "a channel's statement"),
    (Verb::Answered, "an answer to an open question"),
    (Verb::Closed, "a closed year"),
];

/// Tells the forms of an entry that have no effect yet.
pub(crate) fn tell(reader: &mut EntryReader<'_>) {
    let entry = reader.entry;
    if let Some((_, what)) = ENTRIES.iter().find(|(verb, _)| *verb == entry.verb) {
        reader.tell(errors::entries::no_effect_yet(entry.head, what));
    }
    for detail in &entry.details {
        if let DetailKind::Items(_, items) = &detail.kind {
            for said in items.iter().flat_map(|item| &item.said) {
                if matches!(said.what, SaidWhat::Certificate(_)) {
                    reader.tell(errors::entries::no_effect_yet(said.span, "a certificate"));
                }
            }
        }
    }
}
