//! Labels: the codes and names that are never defined, only equal or not.
//!
//! In: all entries. Out: every text of a lot, order, receipt, supplier, buyer, payee and tax account, each once, sorted; and the
//! parties apart, so that a near miss can be warned of. Batches, helpers, channels and patterns have labels too, since lots and
//! parties may be named by them.

use std::borrow::Cow;

use rayon::prelude::*;

use crate::names::Lookup;
use crate::sources::Span;
use crate::syntax::{Detail, DetailKind, Entry, HeadPart, Party, Purpose, Reference, SaidWhat, Verb, is_measuring_unit};

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

/// A label, and its place where it names a party.
type Mention<'b> = (Cow<'b, str>, Option<Span>);

/// Entries that one thread takes at a time: enough to be worth it, few enough to sort within a processor's own memory.
const AT_A_TIME: usize = 4096;

/// Gathers the labels of all entries.
pub(crate) fn gather_labels<'b>(lookup: &Lookup<'b>, entries: &[Entry]) -> Labels<'b> {
    let gathered: Vec<(Vec<Mention<'b>>, Vec<Span>)> =
        entries.par_chunks(AT_A_TIME).map(|some| mentions_of(lookup, some)).collect();
    let mut mentions = names_with_labels(lookup);
    let mut units_as_lots = Vec::new();
    for (some, units) in gathered {
        mentions.extend(some);
        units_as_lots.extend(units);
    }
    // Runs that are sorted already, which a stable sort only merges.
    mentions.par_sort();
    keep_one_of_each(&mut mentions);
    let parties = mentions.iter().filter_map(|(text, party)| Some((text.clone(), (*party)?))).collect();
    let texts = mentions.into_iter().map(|(text, _)| text.into_owned()).collect();
    Labels { texts, parties, units_as_lots }
}

/// The labels of some entries, sorted, each once.
fn mentions_of<'b>(lookup: &Lookup<'b>, entries: &[Entry]) -> (Vec<Mention<'b>>, Vec<Span>) {
    let (mut mentions, mut units_as_lots) = (Vec::new(), Vec::new());
    for entry in entries {
        labels_of(entry, &mut |span, used| {
            let text = lookup.text(span);
            if used == Use::Lot && is_measuring_unit(&text) {
                units_as_lots.push(span);
            }
            mentions.push((text, (used == Use::Party).then_some(span)));
        });
    }
    mentions.sort_unstable();
    keep_one_of_each(&mut mentions);
    (mentions, units_as_lots)
}

/// Of sorted mentions of one text keeps one, with the first place at which it names a party.
fn keep_one_of_each(mentions: &mut Vec<Mention<'_>>) {
    mentions.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 = kept.1.into_iter().chain(next.1).min();
        }
        same
    });
}

/// Defined names that have a label: lots are named by batches, parties and payees by helpers, channels and patterns.
fn names_with_labels<'b>(lookup: &Lookup<'b>) -> Vec<Mention<'b>> {
    let book = lookup.book;
    let helpers = book.helpers.iter().map(|helper| &helper.named);
    let channels = book.channels.iter().map(|channel| &channel.named);
    let patterns = book.patterns.iter().map(|pattern| &pattern.named);
    let names = helpers.chain(channels).chain(patterns).map(|named| named.name.as_str());
    let batches = book.batches.iter().map(|batch| batch.name.as_str());
    let accounts = &book.shop.sales_tax_to;
    let accounts = accounts.changes().iter().map(|(_, to)| to).chain([accounts.first()]).flatten().map(String::as_str);
    names.chain(batches).chain(accounts).map(|name| (Cow::Borrowed(name), None)).collect()
}

fn labels_of(entry: &Entry, take: &mut impl FnMut(Span, Use)) {
    // Goods go from place to place there; a place is no party.
    let whom = if matches!(entry.verb, Verb::Sent | Verb::BroughtBack) { Use::Other } else { Use::Party };
    for (part, _) in &entry.parts {
        match part {
            HeadPart::From(party) | HeadPart::To(party) | HeadPart::By(party) | HeadPart::With(party) => take(party.span, whom),
            HeadPart::Receipt(name) | HeadPart::Order(name) => take(*name, Use::Other),
            HeadPart::Via(_)
            | HeadPart::At(_)
            | HeadPart::Batch(_)
            | HeadPart::On(_)
            | HeadPart::As(_)
            | HeadPart::Subject(_)
            | HeadPart::Shop
            | HeadPart::Amount(_)
            | HeadPart::For(..)
            | HeadPart::Text(_) => {}
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
        Reference::Bought(..) | Reference::Sold(..) => {}
    }
}
