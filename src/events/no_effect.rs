//! Forms that are read and checked and move no figure yet: said, so that nothing that was written is ignored in silence.

use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::sources::Span;
use crate::syntax::{DetailKind, Item, SaidWhat, Verb};

/// Tells that an entry, which was read, has no effect yet.
pub(crate) fn tell_entry(reader: &mut EntryReader<'_>, what: &str) {
    reader.tell(errors::entries::no_effect_yet(reader.entry.head, what));
}

/// Tells what is said in an entry and has no effect in this entry.
pub(crate) fn tell_said(reader: &mut EntryReader<'_>) {
    for detail in &reader.entry.details {
        match &detail.kind {
            DetailKind::ExchangeRate { .. } if !has_money(reader.entry.verb) => {
                reader.tell(errors::entries::no_effect_here(detail.span, "a rate", "no sum of money stands in this entry"));
            }
            _ => {}
        }
    }
}

/// Whether sums of money may stand in an entry.
fn has_money(verb: Verb) -> bool {
    !matches!(
        verb,
        Verb::Changed
            | Verb::BroughtBack
            | Verb::Counted
            | Verb::TookHome
            | Verb::Scrapped
            | Verb::UsedUp
            | Verb::Found
            | Verb::Drove
            | Verb::Odometer
            | Verb::Noted
            | Verb::Answered
    )
}

/// A figure of nothing, which moves nothing.
pub(crate) fn tell_nothing(reader: &mut EntryReader<'_>, is_nothing: bool, figure: Span, why: &str) {
    if is_nothing {
        let words = format!("`{}`", reader.text(figure));
        reader.tell(errors::entries::no_effect_here(figure, &words, why));
    }
}

/// What a buyer is charged or spared is always shared by value.
pub(crate) fn tell_sharing(reader: &mut EntryReader<'_>, shared: bool, line: Span) {
    if shared {
        reader.tell(errors::entries::no_effect_here(
            line,
            "`shared by`",
            "over the lines of a sale it is always shared by value",
        ));
    }
}

/// Tells what is said of a tool or licence and means something only of goods, or the other way round.
pub(crate) fn tell_of_item(reader: &mut EntryReader<'_>, item: &Item, is_stock: bool) {
    for said in &item.said {
        let words = match said.what {
            SaidWhat::Lot(_) if !is_stock => "`lot`",
            SaidWhat::Counted(_) if !is_stock => "`counted`",
            SaidWhat::Hours(_) if !is_stock => "a time",
            SaidWhat::AlreadyRecovered(_) if is_stock => "`already recovered`",
            _ => continue,
        };
        let why = if is_stock { "it is said of tools" } else { "it is said of goods, and this is none" };
        reader.tell(errors::entries::no_effect_here(said.span, words, why));
    }
}
