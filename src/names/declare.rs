//! Which names a book defines, in whatever file and order, and what is wrong with the names themselves.
//!
//! In: all definitions. Out: the definitions of each kind in the order of their names, which gives the ids, and the table of
//! names. All names are one set, save that a place and a channel may share one. Of two definitions of one name the first stands.

use std::collections::BTreeMap;

use rustc_hash::FxHashMap;

use crate::diagnostics::{Diagnostics, Label};
use crate::names::errors::declaring;
use crate::names::plural::plurals_of;
use crate::names::spelling::normalised;
use crate::names::{ChannelId, ExpenseId, HelperId, IncomeId, Known, LineId, Named, PatternId, PlaceId, StepId, ThingId, ToolId};
use crate::sources::{SourceSet, Span};
use crate::syntax::{Definition, DefinitionWord, RESERVED_NAME, SyntaxFile, is_reserved};

/// A definition with its name as names are compared.
#[derive(Clone, Debug)]
pub(crate) struct Declaration<'s> {
    pub(crate) name: String,
    pub(crate) definition: &'s Definition,
}

impl Declaration<'_> {
    /// Name, title and place.
    pub(crate) fn named(&self, sources: &SourceSet) -> Named {
        Named {
            name: self.name.clone(),
            title: sources.text(self.definition.title).to_owned(),
            span: self.definition.name,
            incomplete: self.definition.damaged || !self.definition.unread.is_empty(),
        }
    }
}

/// The names of a book.
#[derive(Clone, Debug, Default)]
pub(crate) struct Declared<'s> {
    /// Definitions by kind, in the order of their names. Products stand with the materials.
    kinds: BTreeMap<DefinitionWord, Vec<Declaration<'s>>>,
    pub(crate) table: FxHashMap<String, Known>,
    pub(crate) place_table: FxHashMap<String, PlaceId>,
}

impl<'s> Declared<'s> {
    /// The definitions of a kind, in the order of their ids. Materials and products are one list, under `Material`.
    pub(crate) fn of(&self, kind: DefinitionWord) -> &[Declaration<'s>] {
        self.kinds.get(&kind).map_or(&[], Vec::as_slice)
    }

    /// Every defined name.
    pub(crate) fn names(&self) -> impl Iterator<Item = &str> {
        self.kinds.values().flatten().map(|declaration| declaration.name.as_str())
    }
}

/// Takes all names and tells what is wrong with them.
pub(crate) fn declare_names<'s>(sources: &SourceSet, syntax: &'s SyntaxFile, found: &mut Diagnostics) -> Declared<'s> {
    let mut by_name: BTreeMap<String, Vec<&'s Definition>> = BTreeMap::new();
    for definition in &syntax.definitions {
        if matches!(definition.word, DefinitionWord::Shop | DefinitionWord::Choices) || definition.name.is_empty() {
            continue;
        }
        let name = normalised(sources.text(definition.name)).into_owned();
        if definition.title.is_empty() && !definition.damaged {
            found.push(declaring::title_missing(&name, definition));
        }
        by_name.entry(name).or_default().push(definition);
    }
    let mut declared = Declared::default();
    for (name, definitions) in &by_name {
        for definition in without_duplicates(name, definitions, found) {
            let kind = match definition.word {
                DefinitionWord::Product => DefinitionWord::Material,
                other => other,
            };
            declared.kinds.entry(kind).or_default().push(Declaration { name: name.clone(), definition });
        }
    }
    check_case(&by_name, found);
    check_plurals(&by_name, found);
    fill_tables(&mut declared);
    join_reserved(sources, syntax, found);
    for poisoned in &syntax.poisoned_names {
        // A name of several words stands for the joined one, with which it is to be corrected.
        let name = normalised(sources.text(*poisoned)).split_whitespace().collect::<Vec<_>>().join("-");
        declared.table.entry(name).or_insert(Known::Poisoned);
    }
    declared
}

/// Where a definition gives a word of the language as a name, the lines that use it are told with it, and not each as a mistake of its own.
fn join_reserved(sources: &SourceSet, syntax: &SyntaxFile, found: &mut Diagnostics) {
    let heads: Vec<Span> = syntax.poisoned_names.iter().copied().filter(|name| is_reserved(sources.text(*name))).collect();
    if heads.is_empty() {
        return;
    }
    // Of several such definitions the last before the line, else the first.
    let head_of = |span: Span| {
        let of_word = || heads.iter().filter(|head| sources.text(**head) == sources.text(span)).copied();
        of_word().filter(|head| head.start < span.start).max_by_key(|head| head.start).or_else(|| of_word().next())
    };
    let used = found.take_out(|one| {
        let at = one.primary.span;
        one.code == RESERVED_NAME && !heads.contains(&at) && head_of(at).is_some()
    });
    for one in used {
        let at = one.primary.span;
        let Some(head) = head_of(at) else { continue };
        found.revise(|told| {
            if told.code == RESERVED_NAME && told.primary.span == head {
                told.secondary.push(Label { span: at, text: "and here it is used".to_owned() });
            }
        });
    }
}

/// The definitions of one name that stand: the first, or a place and a channel.
fn without_duplicates<'s>(name: &str, definitions: &[&'s Definition], found: &mut Diagnostics) -> Vec<&'s Definition> {
    let mut standing: Vec<&Definition> = Vec::new();
    for definition in definitions {
        let may_share = |other: &&Definition| {
            matches!(
                (other.word, definition.word),
                (DefinitionWord::Place, DefinitionWord::Channel) | (DefinitionWord::Channel, DefinitionWord::Place)
            )
        };
        match standing.iter().find(|other| !may_share(other)) {
            Some(first) => found.push(declaring::defined_twice(name, first, definition)),
            None => standing.push(definition),
        }
    }
    standing
}

fn check_case(by_name: &BTreeMap<String, Vec<&Definition>>, found: &mut Diagnostics) {
    let mut by_letters: BTreeMap<String, Vec<(&str, &Definition)>> = BTreeMap::new();
    for (name, definitions) in by_name {
        if let Some(first) = definitions.first() {
            by_letters.entry(name.to_lowercase()).or_default().push((name, first));
        }
    }
    for same in by_letters.values_mut() {
        same.sort_by_key(|(_, definition)| definition.name);
        if let Some(((first, definition), others)) = same.split_first() {
            for (name, other) in others {
                found.push(declaring::differs_in_case(name, other.name, first, definition.name));
            }
        }
    }
}

const fn is_countable(kind: DefinitionWord) -> bool {
    matches!(kind, DefinitionWord::Material | DefinitionWord::Product | DefinitionWord::Tool)
}

fn check_plurals(by_name: &BTreeMap<String, Vec<&Definition>>, found: &mut Diagnostics) {
    let countable = |name: &str| {
        let definitions = by_name.get(name)?;
        definitions.iter().find(|one| is_countable(one.word)).copied()
    };
    for name in by_name.keys() {
        let Some(one) = countable(name) else { continue };
        for plural in plurals_of(name) {
            if let Some(many) = countable(&plural) {
                found.push(declaring::plural_of_another(name, one.name, &plural, many.name));
            }
        }
    }
}

fn fill_tables(declared: &mut Declared<'_>) {
    let (table, places) = (&mut declared.table, &mut declared.place_table);
    for (kind, list) in &declared.kinds {
        for (at, declaration) in list.iter().enumerate() {
            let Ok(at) = u32::try_from(at) else { break };
            let known = match kind {
                DefinitionWord::Shop | DefinitionWord::Choices => continue,
                DefinitionWord::Place => {
                    places.insert(declaration.name.clone(), PlaceId(at));
                    Known::Place(PlaceId(at))
                }
                DefinitionWord::Step => Known::Step(StepId(at)),
                DefinitionWord::Material | DefinitionWord::Product => Known::Thing(ThingId(at)),
                DefinitionWord::Line => Known::Line(LineId(at)),
                DefinitionWord::Pattern => Known::Pattern(PatternId(at)),
                DefinitionWord::Helper => Known::Helper(HelperId(at)),
                // Channels come after places, so that of a shared name the channel stays in the table.
                DefinitionWord::Channel => Known::Channel(ChannelId(at)),
                DefinitionWord::Expense => Known::Expense(ExpenseId(at)),
                DefinitionWord::Income => Known::Income(IncomeId(at)),
                DefinitionWord::Tool => Known::Tool(ToolId(at)),
            };
            table.insert(declaration.name.clone(), known);
        }
    }
}
