//! The names of batches: those that are written, and `PRODUCT/DATE` of a `built` entry that has none.
//!
//! In: all entries. Out: a list of batches sorted by name, each with the first place that names it; warnings for a batch that only
//! `worked` entries name. A batch may not be named like a line, product or channel, nor as a product's plural.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::diagnostics::{Diagnostics, near_names};
use crate::names::errors::batches as errors;
use crate::names::kinds::named_of;
use crate::names::plural::singular_of;
use crate::names::{BatchId, BatchName, Known, Lookup, Named, ThingKind};
use crate::sources::Span;
use crate::syntax::{
    DefinitionWord, Detail, DetailKind, Entry, HeadPart, ListWord, Plain, Purpose, SaidWhat, Verb, is_measuring_unit,
};

/// The batches of a book, and the heads of `built` entries that need a name and have none.
pub(crate) struct Batches {
    pub(crate) batches: Vec<BatchName>,
    pub(crate) refused: Vec<Span>,
}

/// What is known of a batch so far.
struct Mention {
    day: NaiveDate,
    span: Span,
    only_worked: bool,
    unnamed_build: Option<Span>,
}

/// Gathers the batches of all entries.
pub(crate) fn gather_batches(lookup: &Lookup<'_>, entries: &[Entry], found: &mut Diagnostics) -> Batches {
    let mut mentions: BTreeMap<String, Mention> = BTreeMap::new();
    let mut refused = Vec::new();
    for entry in entries {
        let Some(day) = entry.date else { continue };
        for (code, is_work, explicit) in codes_of(entry) {
            let name = lookup.text(code);
            let known = lookup.book.table.get(name.as_ref()).copied();
            // `on rolling-toys` says the line; `batch rolling-toys` is a mistake.
            if explicit || known.is_none() {
                mention(&mut mentions, name.into_owned(), Mention { day, span: code, only_worked: is_work, unnamed_build: None });
            }
        }
        if entry.verb == Verb::Built && !entry.damaged && batch_part(entry).is_none() {
            match unnamed(lookup, entry, day) {
                Unnamed::Named(name) => {
                    let earlier = mentions.get(&name).and_then(|mention| mention.unnamed_build);
                    if let Some(first) = earlier {
                        let product = name.split_once('/').map_or(name.as_str(), |(product, _)| product);
                        found.push(errors::second_unnamed(
                            entry,
                            first,
                            &name,
                            next_free(lookup, |code| mentions.contains_key(code), product),
                        ));
                        refused.push(entry.head);
                    } else {
                        let span = entry.head;
                        mention(&mut mentions, name, Mention { day, span, only_worked: false, unnamed_build: Some(span) });
                    }
                }
                Unnamed::Several(first, second) => {
                    found.push(errors::several_products_need_a_name(
                        entry,
                        &first,
                        &second,
                        next_free(lookup, |code| mentions.contains_key(code), &first),
                    ));
                    refused.push(entry.head);
                }
                Unnamed::Nothing => {
                    found.push(errors::nothing_made_needs_a_name(entry));
                    refused.push(entry.head);
                }
                Unnamed::Unreadable => refused.push(entry.head),
            }
        }
    }
    refused.sort_unstable();
    let said_elsewhere = unknown_elsewhere(lookup, entries, &mentions);
    let mut batches = Vec::with_capacity(mentions.len());
    let named: Vec<&str> = mentions.iter().filter(|(_, one)| !one.only_worked).map(|(name, _)| name.as_str()).collect();
    for (name, mention) in &mentions {
        if !(mention.only_worked && said_elsewhere.contains(name)) {
            check(lookup, name, mention, &named, found);
        }
        let written = mention.unnamed_build != Some(mention.span);
        batches.push(BatchName { name: name.clone(), span: mention.span, written, first_day: Some(mention.day) });
    }
    Batches { batches, refused }
}

/// The names that only work mentions and that entries say as channels or goods: each is told there, and is no batch.
fn unknown_elsewhere(lookup: &Lookup<'_>, entries: &[Entry], mentions: &BTreeMap<String, Mention>) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let doubted = |name: &str| mentions.get(name).is_some_and(|mention| mention.only_worked);
    if !mentions.values().any(|mention| mention.only_worked) {
        return names;
    }
    for entry in entries {
        for (part, _) in &entry.parts {
            if let HeadPart::Via(name) = part {
                names.extend(Some(lookup.text(*name)).filter(|name| doubted(name)).map(Cow::into_owned));
            }
        }
        for detail in &entry.details {
            if let DetailKind::Items(word, items) = &detail.kind
                && !(entry.verb == Verb::Worked || *word == ListWord::Took)
            {
                let said = items.iter().map(|item| lookup.text(item.name)).filter(|name| doubted(name));
                names.extend(said.map(Cow::into_owned));
            }
        }
    }
    names.retain(|name| !lookup.book.table.contains_key(name));
    names
}

fn mention(mentions: &mut BTreeMap<String, Mention>, name: String, new: Mention) {
    let Some(known) = mentions.get_mut(&name) else {
        mentions.insert(name, new);
        return;
    };
    known.only_worked &= new.only_worked;
    known.unnamed_build = known.unnamed_build.or(new.unnamed_build);
    if (new.day, new.span) < (known.day, known.span) {
        (known.day, known.span) = (new.day, new.span);
    }
}

/// The codes that an entry names a batch with: the place, whether it is `worked … on`, whether the word `batch` may only mean a
/// batch there.
fn codes_of(entry: &Entry) -> Vec<(Span, bool, bool)> {
    // Giving a batch up begins none; its name is looked up as any other.
    let begins = batch_part(entry).filter(|_| entry.verb != Verb::Scrapped);
    let mut codes: Vec<(Span, bool, bool)> = begins.map(|code| (code, false, true)).into_iter().collect();
    for detail in &entry.details {
        match (&detail.kind, entry.verb) {
            (DetailKind::Money { purpose, .. }, Verb::Bought | Verb::Opened) => {
                if let Purpose::OnBatch(code) = purpose.as_ref() {
                    codes.push((*code, false, false));
                }
            }
            (DetailKind::Items(ListWord::Bare | ListWord::Took, items), Verb::Worked) => {
                for said in items.iter().flat_map(|item| &item.said) {
                    if let SaidWhat::On(code) = said.what {
                        codes.push((code, true, false));
                    }
                }
            }
            _ => {}
        }
    }
    codes
}

fn batch_part(entry: &Entry) -> Option<Span> {
    entry.parts.iter().find_map(|(part, _)| match part {
        HeadPart::Batch(code) => Some(*code),
        _ => None,
    })
}

/// The name of a `built` entry that has none.
enum Unnamed {
    Named(String),
    Several(String, String),
    Nothing,
    /// What it makes is not known; that is told where the line is read.
    Unreadable,
}

fn unnamed(lookup: &Lookup<'_>, entry: &Entry, day: NaiveDate) -> Unnamed {
    let mut product: Option<&str> = None;
    // An entry that says nothing of what it made lacks more than a name; that is told where its lines are read.
    let says =
        |detail: &&Detail| matches!(detail.kind, DetailKind::Items(ListWord::Made, _) | DetailKind::Plain(Plain::MadeNothing));
    let mut unreadable = !entry.unread.is_empty() || entry.details.iter().find(says).is_none();
    for detail in &entry.details {
        let DetailKind::Items(ListWord::Made, items) = &detail.kind else { continue };
        for item in items {
            let known = lookup.quiet_find(item.name, crate::names::GOODS_AND_TOOLS, Some(item.amount.value));
            match known.ok().and_then(|known| named_of(lookup.book, known)) {
                None => unreadable = true,
                Some(named) => match product {
                    Some(first) if first != named.name => return Unnamed::Several(first.to_owned(), named.name.clone()),
                    _ => product = Some(&named.name),
                },
            }
        }
    }
    match product {
        Some(product) => Unnamed::Named(format!("{product}/{day}")),
        None if unreadable => Unnamed::Unreadable,
        None => Unnamed::Nothing,
    }
}

impl Lookup<'_> {
    /// The batch of a `built`, `started`, `continued` or `finished` entry, or of `scrapped … batch`: by its code, or by
    /// `PRODUCT/DATE`. `None` where that is missing, which has been told.
    #[must_use]
    pub fn batch_of(&self, entry: &Entry) -> Option<BatchId> {
        if let Some(code) = batch_part(entry) {
            return self.book.batch_id(&self.text(code));
        }
        if entry.verb != Verb::Built || self.book.refused_builds.binary_search(&entry.head).is_ok() {
            return None;
        }
        match unnamed(self, entry, entry.date?) {
            Unnamed::Named(name) => self.book.batch_id(&name),
            Unnamed::Several(..) | Unnamed::Nothing | Unnamed::Unreadable => None,
        }
    }
}

/// A code for a batch of a product that no batch has yet: `PC-001`.
fn next_free(lookup: &Lookup<'_>, taken: impl Fn(&str) -> bool, product: &str) -> String {
    let letters: String =
        product.split(['-', '.', '/']).filter_map(|part| part.chars().next()).flat_map(char::to_uppercase).collect();
    let free = |code: &String| !taken(code) && !lookup.book.table.contains_key(code);
    (1..).map(|number: u32| format!("{letters}-{number:03}")).find(free).unwrap_or_default()
}

fn check(lookup: &Lookup<'_>, name: &str, mention: &Mention, named: &[&str], found: &mut Diagnostics) {
    if mention.unnamed_build == Some(mention.span) {
        return;
    }
    let known = lookup.book.table.get(name).copied();
    if let Some(known @ (Known::Line(_) | Known::Channel(_) | Known::Thing(_))) = known
        && let Some(taken) = taken_by(lookup, known)
    {
        let other = named_of(lookup.book, known);
        found.push(errors::named_like_another(
            name,
            mention.span,
            taken,
            other,
            next_free(lookup, |code| named.contains(&code), name),
        ));
        return;
    }
    // `on journals` would mean the product to every reader.
    if let Some(product) = known.is_none().then(|| plural_of_product(lookup, name)).flatten() {
        found.push(errors::named_as_its_plural(
            name,
            mention.span,
            product,
            next_free(lookup, |code| named.contains(&code), &product.name),
        ));
        return;
    }
    if known == Some(Known::Poisoned) {
        return;
    }
    if is_measuring_unit(name) {
        found.push(errors::unit_as_code(name, mention.span));
    } else if mention.only_worked {
        let candidates = named.iter().copied().chain(targets(lookup));
        let near: Vec<String> = near_names(name, candidates).into_iter().map(str::to_owned).collect();
        found.push(errors::only_worked(name, mention.span, &near));
    }
}

/// The product of which a name is the plural.
fn plural_of_product<'b>(lookup: &Lookup<'b>, name: &str) -> Option<&'b Named> {
    let products = lookup.book.things.iter().filter(|thing| thing.kind == ThingKind::Product);
    products.map(|thing| &thing.named).find(|product| singular_of(name, &product.name))
}

/// The kind of a name that no batch may have.
fn taken_by(lookup: &Lookup<'_>, known: Known) -> Option<DefinitionWord> {
    match known {
        Known::Line(_) => Some(DefinitionWord::Line),
        Known::Channel(_) => Some(DefinitionWord::Channel),
        Known::Thing(id) => (lookup.book.thing(id).kind == ThingKind::Product).then_some(DefinitionWord::Product),
        _ => None,
    }
}

/// The names that may stand after `on` besides batches.
pub(crate) fn targets<'b>(lookup: &Lookup<'b>) -> impl Iterator<Item = &'b str> {
    let book = lookup.book;
    let products = book.things.iter().filter(|thing| thing.kind == ThingKind::Product).map(|thing| &thing.named);
    let lines = book.lines.iter();
    let channels = book.channels.iter().map(|channel| &channel.named);
    products.chain(lines).chain(channels).map(|named| named.name.as_str())
}
