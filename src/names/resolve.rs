//! The stage from end to end: names first, then what needs no other name, then what does, then batches and labels.
//!
//! Each pass leans on the table of the one before, so that definitions may stand in any file and order.

use crate::diagnostics::Diagnostics;
use crate::names::batches::gather_batches;
use crate::names::changes::{Changes, gather_changes};
use crate::names::declare::{Declaration, Declared, declare_names};
use crate::names::definition_lines::{DefinitionLines, Reading};
use crate::names::errors::{batches, recipes};
use crate::names::home::find_home;
use crate::names::joined_names::offer_defined_names;
use crate::names::labels::gather_labels;
use crate::names::money_signs::doubt_other_money;
use crate::names::near_misses::tell_near_misses;
use crate::names::recipe::{resolve_needs, resolve_takes, resolve_wears};
use crate::names::resolve_people::{resolve_helpers, resolve_patterns};
use crate::names::resolve_shop::{resolve_choices, resolve_shop};
use crate::names::resolve_thing::{link_thing, resolve_things};
use crate::names::resolve_tool::resolve_tools;
use crate::names::resolve_trade::{resolve_categories, resolve_channels};
use crate::names::rings::tell_rings;
use crate::names::{Dated, Known, Lookup, Place, ResolvedBook, Step, TextIndex, ThingId, ThingKind};
use crate::sources::SourceSet;
use crate::syntax::{DefinitionWord, DetailKind, Plain, SyntaxFile};

/// Resolves every definition of a book, and gathers the names of its batches and its labels. What is wrong is told, and the rest
/// goes on: a definition keeps what could be read of it, and a name whose meaning is unclear stays silent from here on.
#[must_use]
pub fn resolve_book(sources: &SourceSet, syntax: &SyntaxFile, found: &mut Diagnostics) -> ResolvedBook {
    let mut declared = declare_names(sources, syntax, found);
    let changes = gather_changes(sources, syntax, &declared, found);
    let mut book = ResolvedBook::of_shop(resolve_shop(sources, syntax, &changes, found));
    let currency = book.shop.currency;
    let form = book.shop.tax_form.clone();
    book.choices = resolve_choices(syntax, currency, found);
    book.places = resolve_places(sources, &declared, &changes, found);
    book.steps = resolve_steps(sources, &declared, &changes, found);
    book.lines = declared.of(DefinitionWord::Line).iter().map(|line| line.named(sources)).collect();
    book.patterns = resolve_patterns(sources, &declared, &changes, found);
    book.helpers = resolve_helpers(sources, &declared, &changes, found);
    book.channels = resolve_channels(sources, &declared, &changes, found);
    book.expenses = resolve_categories(sources, &declared, &changes, DefinitionWord::Expense, form.as_deref(), found);
    book.incomes = resolve_categories(sources, &declared, &changes, DefinitionWord::Income, form.as_deref(), found);
    book.tools = resolve_tools(sources, &declared, &changes, currency, found);
    let (things, unmeasured) = resolve_things(sources, &declared, &changes, found);
    book.things = things;
    for name in &unmeasured {
        declared.table.insert(name.clone(), Known::Poisoned);
    }
    book.table = std::mem::take(&mut declared.table);
    book.place_table = std::mem::take(&mut declared.place_table);
    link_names(sources, &mut book, &declared, &changes, &unmeasured, found);
    tell_rings(&book.things, found);
    tell_unworn(&book, found);
    book.shop.home = find_home(sources, &book, syntax, found);
    let gathered = gather_batches(&Lookup::new(&book, sources), &syntax.entries, found);
    book.batch_index = TextIndex::of(gathered.batches.iter().map(|batch| batch.name.as_str()));
    book.batches = gathered.batches;
    book.refused_builds = gathered.refused;
    let labels = gather_labels(&Lookup::new(&book, sources), &syntax.entries);
    for lot in &labels.units_as_lots {
        found.push(batches::unit_as_code(sources.text(*lot), *lot));
    }
    tell_near_misses(sources, &book, &labels, found);
    let texts = labels.texts;
    book.label_index = TextIndex::of(texts.iter().map(String::as_str));
    book.labels = texts;
    offer_defined_names(sources, syntax, &book, found);
    doubt_other_money(sources, book.shop.currency, found);
    book
}

fn lines_of<'s>(declaration: &Declaration<'s>, changes: &'s Changes<'s>) -> DefinitionLines<'s> {
    DefinitionLines::new(&declaration.definition.details, changes.of_name(&declaration.name))
}

fn resolve_places(sources: &SourceSet, declared: &Declared<'_>, changes: &Changes<'_>, found: &mut Diagnostics) -> Vec<Place> {
    let mut places = Vec::new();
    for declaration in declared.of(DefinitionWord::Place) {
        // Changes of a name that is a channel's too are the channel's.
        let shared = !matches!(declared.table.get(&declaration.name), Some(Known::Place(_)));
        let of_place = if shared { &[][..] } else { changes.of_name(&declaration.name) };
        let lines = DefinitionLines::new(&declaration.definition.details, of_place);
        let home = lines.has(found, |detail| matches!(detail.kind, DetailKind::Plain(Plain::Home)));
        places.push(Place { named: declaration.named(sources), home });
    }
    places
}

/// Steps without what they wear, which names other things.
fn resolve_steps(sources: &SourceSet, declared: &Declared<'_>, changes: &Changes<'_>, found: &mut Diagnostics) -> Vec<Step> {
    let mut steps = Vec::new();
    for declaration in declared.of(DefinitionWord::Step) {
        let indirect = lines_of(declaration, changes).dated(false, found, |detail, _| match detail.kind {
            DetailKind::Plain(Plain::Indirect) => Reading::Is(true),
            _ => Reading::Other,
        });
        steps.push(Step { named: declaration.named(sources), wears: Dated::new(Vec::new()), indirect });
    }
    steps
}

/// Looks up the names that definitions say of others.
fn link_names(
    sources: &SourceSet,
    book: &mut ResolvedBook,
    declared: &Declared<'_>,
    changes: &Changes<'_>,
    unmeasured: &[String],
    found: &mut Diagnostics,
) {
    let lookup = Lookup::new(book, sources);
    let mut links = Vec::with_capacity(book.things.len());
    for (at, declaration) in declared.of(DefinitionWord::Material).iter().enumerate() {
        let Ok(id) = u32::try_from(at).map(ThingId) else { break };
        let lines = lines_of(declaration, changes);
        // Sorted, as the declarations are.
        let is_measured = unmeasured.binary_search(&declaration.name).is_err();
        let link = link_thing(&lookup, id, lines, is_measured, found);
        links.push((link, resolve_needs(&lookup, id, lines, found), resolve_takes(&lookup, id, lines, found)));
    }
    let mut wears = Vec::with_capacity(book.steps.len());
    for declaration in declared.of(DefinitionWord::Step) {
        wears.push(resolve_wears(&lookup, lines_of(declaration, changes), found));
    }
    for (thing, (link, needs, takes)) in book.things.iter_mut().zip(links) {
        thing.reorder_at = link.reorder_at;
        thing.from = link.from;
        thing.line = link.line;
        thing.pattern = link.pattern;
        thing.recipe_incomplete |= !needs.whole || !takes.whole;
        thing.needs = needs.list;
        thing.takes = takes.list;
    }
    for (step, wears) in book.steps.iter_mut().zip(wears) {
        step.named.incomplete |= !wears.whole;
        step.wears = wears.list;
    }
}

/// Warns of things `as wear` that no step wears and no recipe needs.
fn tell_unworn(book: &ResolvedBook, found: &mut Diagnostics) {
    let mut worn = vec![false; book.things.len()];
    for step in &book.steps {
        let lists = step.wears.changes().iter().map(|(_, list)| list);
        for wear in lists.chain([step.wears.first()]).flatten() {
            if let Some(worn) = worn.get_mut(wear.thing.index()) {
                *worn = true;
            }
        }
    }
    for thing in &book.things {
        let lists = thing.needs.changes().iter().map(|(_, list)| list);
        for need in lists.chain([thing.needs.first()]).flatten() {
            if let Some(worn) = worn.get_mut(need.thing.index()) {
                *worn = true;
            }
        }
    }
    // An unread line of a step may be the one that wears it.
    if book.steps.iter().any(|step| step.named.incomplete) {
        return;
    }
    for (thing, worn) in book.things.iter().zip(worn) {
        if thing.kind == ThingKind::Wear && !worn {
            found.push(recipes::worn_by_no_step(&thing.named));
        }
    }
}
