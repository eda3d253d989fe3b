//! A name written as several words or in quotes: the name that is offered for it is one that the book defines.
//!
//! In: what the syntax stage told of such names, which knows none, and all definitions and batches of the book. Out: the same
//! findings, with the joined name where it is defined, else with what is defined and may be meant, else with none. Must not: touch
//! any other finding.

use rustc_hash::FxHashSet;

use crate::diagnostics::{Diagnostic, Diagnostics, Fix};
use crate::names::ResolvedBook;
use crate::names::errors::looking_up::MONEY_IS_PAID;
use crate::names::joiner::Joiner;
use crate::names::plural::singulars_of;
use crate::names::spelling::normalised;
use crate::sources::SourceSet;
use crate::syntax::{
    Definition, DefinitionWord, DetailKind, HEAD_PART_WORD, HeadPart, NAME_SPELLING, QUANTITY_FIRST, SyntaxFile,
};

/// Codes of slips, which the syntax stage tells.
const SLIPS: std::ops::Range<u16> = 150..200;

/// Goes over the findings that joined a name.
pub(crate) fn offer_defined_names(sources: &SourceSet, syntax: &SyntaxFile, book: &ResolvedBook, found: &mut Diagnostics) {
    let mut names: Option<FxHashSet<String>> = None;
    found.revise(|told| {
        let joined = told.joined.take();
        if joined.is_none() && !SLIPS.contains(&told.code.0) {
            return;
        }
        let names = names.get_or_insert_with(|| defined_names(sources, syntax));
        let joiner = Joiner { sources, book, names };
        match joined {
            Some(joined) if told.code == QUANTITY_FIRST => turned_round(sources, syntax, told, &joined),
            Some(joined) => joiner.offer_defined(told, &joined),
            None if told.code == HEAD_PART_WORD => joiner.name_in_quotes(told),
            None if told.code == NAME_SPELLING => joiner.remark_with_a_name(told),
            None => joiner.mend_invented(told),
        }
    });
}

/// `booth 60`: the figure is a quantity only of what is counted; of an expense it is money, of nothing that is defined either.
fn turned_round(sources: &SourceSet, syntax: &SyntaxFile, told: &mut Diagnostic, typed: &str) {
    use DefinitionWord as D;
    let definition_of = |name: &str| {
        let defines = |definition: &&Definition| normalised(sources.text(definition.name)) == name;
        syntax.definitions.iter().find(defines)
    };
    let name = normalised(typed);
    let definition = definition_of(&name).or_else(|| singulars_of(&name).iter().find_map(|one| definition_of(one)));
    let unit = definition.and_then(|definition| {
        definition.details.iter().find_map(|detail| match detail.kind {
            DetailKind::MeasuredIn(unit) => Some(sources.text(unit)).filter(|unit| *unit != "ea"),
            _ => None,
        })
    });
    let place = told.primary.span;
    let figure = sources.text(place).split_whitespace().nth(1).unwrap_or("60.00");
    match definition.map(|definition| definition.word) {
        // A quantity of it has a unit.
        Some(D::Material) if unit.is_some() => {
            let unit = unit.unwrap_or("ea");
            told.message = format!("the quantity comes first, with its unit: `{figure} {unit} {name}`");
            told.fixes.clear();
            let line = Fix {
                message: "if that is how much".into(),
                span: place,
                replacement: format!("{figure} {unit} {name}"),
                sure: false,
            };
            told.fixes.push(line);
        }
        Some(D::Material | D::Product | D::Tool | D::Pattern) => {}
        Some(D::Expense | D::Income) => {
            told.fixes.clear();
            told.message = format!("a sum of money stands before `for`: `{figure} for {name}`");
            told.notes.push(MONEY_IS_PAID.to_owned());
        }
        _ => {
            told.fixes.clear();
            told.message = format!("a line begins with its quantity or sum, and `{name}` is not defined");
            told.notes.push("goods are defined in any file: `material NAME \"…\"`, `tool NAME \"…\"`".to_owned());
            told.notes.push(format!("for money, `{figure} for {name}`: {MONEY_IS_PAID}"));
        }
    }
}

/// All that has a name: what is defined, what a damaged definition probably defines, and the batches.
fn defined_names(sources: &SourceSet, syntax: &SyntaxFile) -> FxHashSet<String> {
    let mut names: FxHashSet<String> = FxHashSet::default();
    for definition in &syntax.definitions {
        names.insert(sources.text(definition.name).to_owned());
        if definition.damaged {
            let words = sources.text(definition.head).split_whitespace().skip(1);
            let words: Vec<&str> = words.take_while(|word| !word.starts_with(['"', '\u{201C}'])).collect();
            names.insert(words.join("-"));
        }
    }
    for entry in &syntax.entries {
        names.extend(entry.parts.iter().filter_map(|(part, _)| match part {
            HeadPart::Batch(code) => Some(sources.text(*code).to_owned()),
            _ => None,
        }));
    }
    names
}
