//! Labels: the codes and names that are never defined, only equal or not.
//!
//! In: all entries. Out: every text of a lot, order, receipt, supplier, buyer, payee and tax account, each once, sorted; and the
//! parties apart, so that a near miss can be warned of. Batches, helpers, channels and patterns have labels too, since lots and
//! parties may be named by them.

use std::borrow::Cow;

use rustc_hash::FxHashMap;

use crate::names::Lookup;
use crate::sources::Span;
use crate::syntax::{Detail, DetailKind, Entry, HeadPart, Party, Purpose, Reference, SaidWhat, is_measuring_unit};

/// The labels of a book.
pub(crate) struct Labels<'b> {
    /// Every label once, sorted.
    pub(crate) texts: Vec<String>,
    /// Every supplier, buyer and payee with its first place, sorted by name.
    pub(crate) parties: Vec<(Cow<'b, str>, Span)>,
    /// Lots' codes that are units, which no code may be.
    pub(crate) units_as_lots: Vec<Span>,
}

/// What a label names.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Use {
    Party,
    Lot,
    Other,
}

/// Gathers the labels of all entries.
pub(crate) fn gather_labels<'b>(lookup: &Lookup<'b>, entries: &[Entry]) -> Labels<'b> {
    let mut all: FxHashMap<Cow<'b, str>, Option<Span>> = FxHashMap::default();
    let mut units_as_lots = Vec::new();
    for entry in entries {
        labels_of(entry, &mut |span, used| {
            let text = lookup.text(span);
            if used == Use::Lot && is_measuring_unit(&text) {
                units_as_lots.push(span);
            }
            let party = all.entry(text).or_default();
            if used == Use::Party {
                *party = Some(party.map_or(span, |first| first.min(span)));
            }
        });
    }
    let book = lookup.book;
    let helpers = book.helpers.iter().map(|helper| &helper.named);
    let channels = book.channels.iter().map(|channel| &channel.named);
    let patterns = book.patterns.iter().map(|pattern| &pattern.named);
    for named in helpers.chain(channels).chain(patterns) {
        all.entry(Cow::Borrowed(&named.name)).or_default();
    }
    for batch in &book.batches {
        all.entry(Cow::Borrowed(&batch.name)).or_default();
    }
    for account in [book.shop.sales_tax_to.first()].into_iter().chain(book.shop.sales_tax_to.changes().iter().map(|(_, to)| to)) {
        if let Some(account) = account {
            all.entry(Cow::Borrowed(account.as_str())).or_default();
        }
    }
    // Taken out of the table in whatever order, and sorted at once.
    let mut sorted: Vec<(Cow<'b, str>, Option<Span>)> = all.into_iter().collect();
    sorted.sort_unstable();
    let parties = sorted.iter().filter_map(|(text, party)| Some((text.clone(), (*party)?))).collect();
    let texts = sorted.into_iter().map(|(text, _)| text.into_owned()).collect();
    Labels { texts, parties, units_as_lots }
}

fn labels_of(entry: &Entry, take: &mut impl FnMut(Span, Use)) {
    for (part, _) in &entry.parts {
        match part {
            HeadPart::From(party) | HeadPart::To(party) | HeadPart::By(party) | HeadPart::With(party) => {
                take(party.span, Use::Party);
            }
            HeadPart::Receipt(name) | HeadPart::Order(name) => take(*name, Use::Other),
            HeadPart::Via(_) | HeadPart::At(_) | HeadPart::Batch(_) | HeadPart::On(_) | HeadPart::As(_) | HeadPart::Subject(_)
            | HeadPart::Shop | HeadPart::Amount(_) | HeadPart::For(..) | HeadPart::Text(_) => {}
        }
    }
    for detail in &entry.details {
        labels_of_detail(detail, take);
    }
}

fn labels_of_detail(detail: &Detail, take: &mut impl FnMut(Span, Use)) {
    match &detail.kind {
        DetailKind::Items(_, items) => items.iter().flat_map(|item| &item.said).for_each(|said| label_said(&said.what, take)),
        DetailKind::Money { purpose, said, .. } => {
            said.iter().for_each(|said| label_said(&said.what, take));
            match purpose.as_ref() {
                Purpose::OwedBy(party, reference) | Purpose::OwedTo(party, reference) => {
                    take(party.span, Use::Party);
                    reference.iter().for_each(|reference| label_of_reference(reference, take));
                }
                Purpose::Settles(references) => references.iter().for_each(|reference| label_of_reference(reference, take)),
                Purpose::SalesTax { to: Some(to), .. } => take(*to, Use::Other),
                // A helper that is not defined is a name only.
                Purpose::For(name) => take(*name, Use::Other),
                Purpose::SalesTax { to: None, .. } | Purpose::ForHome | Purpose::OnBatch(_) | Purpose::Off(_) => {}
            }
        }
        DetailKind::SalesTax { to: Some(to), .. } => take(*to, Use::Other),
        DetailKind::To(party) => take(party.span, Use::Party),
        DetailKind::Receipt(name) => take(*name, Use::Other),
        _ => {}
    }
}

fn label_said(what: &SaidWhat, take: &mut impl FnMut(Span, Use)) {
    match what {
        SaidWhat::Lot(code) => take(*code, Use::Lot),
        SaidWhat::By(Party { span, .. }) => take(*span, Use::Party),
        _ => {}
    }
}

fn label_of_reference(reference: &Reference, take: &mut impl FnMut(Span, Use)) {
    match reference {
        Reference::Receipt(name) | Reference::Order(name) => take(*name, Use::Other),
        Reference::Bought(..) => {}
    }
}
