//! `changed` entries, gathered by what they change.
//!
//! In: all entries and the table of names. Out: for the shop and each name the changed lines, in the order of their days. Lines
//! that the definition doesn't have are told here, since only the name says which definition it is.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::diagnostics::Diagnostics;
use crate::names::Known;
use crate::names::declare::Declared;
use crate::names::errors::{defining, looking_up};
use crate::names::spelling::normalised;
use crate::sources::{SourceSet, Span};
use crate::syntax::{Definition, DefinitionWord, Detail, Entry, HeadPart, SyntaxFile, Verb, may_stand_in_definition};

/// The lines of one `changed` entry.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Change<'s> {
    pub(crate) day: NaiveDate,
    pub(crate) details: &'s [Detail],
}

/// All changes of a book.
#[derive(Clone, Debug, Default)]
pub(crate) struct Changes<'s> {
    of_shop: Vec<Change<'s>>,
    of_name: BTreeMap<String, Vec<Change<'s>>>,
}

impl<'s> Changes<'s> {
    /// The changes of the shop, in the order of their days.
    pub(crate) fn of_shop(&self) -> &[Change<'s>] {
        &self.of_shop
    }

    /// The changes of a name, in the order of their days. Of a place and a channel of one name it is the channel's.
    pub(crate) fn of_name(&self, name: &str) -> &[Change<'s>] {
        self.of_name.get(name).map_or(&[], Vec::as_slice)
    }
}

/// What a `changed` entry changes.
enum Subject {
    Shop,
    Name(Span),
}

/// Gathers all `changed` entries, and tells unknown names and lines that don't belong.
pub(crate) fn gather_changes<'s>(
    sources: &SourceSet,
    syntax: &'s SyntaxFile,
    declared: &Declared<'_>,
    found: &mut Diagnostics,
) -> Changes<'s> {
    let mut changes = Changes::default();
    for entry in syntax.entries.iter().filter(|entry| entry.verb == Verb::Changed) {
        let (Some(day), Some(subject)) = (entry.date, subject_of(entry)) else { continue };
        let change = Change { day, details: &entry.details };
        match subject {
            Subject::Shop => {
                tell_misplaced(entry, DefinitionWord::Shop, found);
                changes.of_shop.push(change);
            }
            Subject::Name(span) => {
                let name = normalised(sources.text(span)).into_owned();
                match declared.table.get(&name) {
                    None => found.push(looking_up::nothing_to_change(&name, span, declared.names())),
                    Some(known) => {
                        if let Some(definition) = declared.definition(*known) {
                            tell_misplaced(entry, definition.word, found);
                        }
                        changes.of_name.entry(name).or_default().push(change);
                    }
                }
            }
        }
    }
    changes.of_shop.sort_by_key(|change| change.day);
    for list in changes.of_name.values_mut() {
        list.sort_by_key(|change| change.day);
    }
    changes
}

fn subject_of(entry: &Entry) -> Option<Subject> {
    entry.parts.iter().find_map(|(part, _)| match part {
        HeadPart::Shop => Some(Subject::Shop),
        HeadPart::Subject(name) => Some(Subject::Name(*name)),
        _ => None,
    })
}

fn tell_misplaced(entry: &Entry, word: DefinitionWord, found: &mut Diagnostics) {
    for detail in &entry.details {
        if !may_stand_in_definition(word, &detail.kind) {
            found.push(defining::not_of_this_kind(detail.span, word));
        }
    }
}

impl Declared<'_> {
    /// The definition of a name; `None` where the name could not be read.
    pub(crate) fn definition(&self, known: Known) -> Option<&Definition> {
        let (kind, at) = match known {
            Known::Place(id) => (DefinitionWord::Place, id.index()),
            Known::Step(id) => (DefinitionWord::Step, id.index()),
            Known::Thing(id) => (DefinitionWord::Material, id.index()),
            Known::Line(id) => (DefinitionWord::Line, id.index()),
            Known::Pattern(id) => (DefinitionWord::Pattern, id.index()),
            Known::Helper(id) => (DefinitionWord::Helper, id.index()),
            Known::Channel(id) => (DefinitionWord::Channel, id.index()),
            Known::Expense(id) => (DefinitionWord::Expense, id.index()),
            Known::Income(id) => (DefinitionWord::Income, id.index()),
            Known::Tool(id) => (DefinitionWord::Tool, id.index()),
            Known::Poisoned => return None,
        };
        self.of(kind).get(at).map(|declaration| declaration.definition)
    }
}
