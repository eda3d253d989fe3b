//! A name written as several words or in quotes: the name that is offered for it is one that the book defines.
//!
//! In: what the syntax stage told of such names, which knows none, and all definitions and batches of the book. Out: the same
//! findings, with the joined name where it is defined, else with near ones that are, else with none. Must not: touch any other
//! finding.

use rustc_hash::FxHashSet;

use crate::diagnostics::Diagnostics;
use crate::names::errors::looking_up::offer_defined;
use crate::sources::SourceSet;
use crate::syntax::{HeadPart, SyntaxFile};

/// Goes over the findings that joined a name.
pub(crate) fn offer_defined_names(sources: &SourceSet, syntax: &SyntaxFile, found: &mut Diagnostics) {
    let mut names: Option<FxHashSet<String>> = None;
    found.revise(|told| {
        if let Some(joined) = told.joined.take() {
            let names = names.get_or_insert_with(|| defined_names(sources, syntax));
            offer_defined(sources, told, &joined, names);
        }
    });
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
