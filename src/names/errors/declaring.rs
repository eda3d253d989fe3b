//! What is wrong with the names of definitions.

use crate::diagnostics::Diagnostic;
use crate::names::errors::{DEFINED_TWICE, DIFFERS_IN_CASE, PLURAL_OF_ANOTHER, TITLE_MISSING};
use crate::names::kinds::{a, word_of};
use crate::sources::Span;
use crate::syntax::Definition;

pub(crate) fn title_missing(name: &str, definition: &Definition) -> Diagnostic {
    let word = word_of(definition.word);
    Diagnostic::new(TITLE_MISSING, definition.head, format!("`{word} {name}` has an empty title"))
        .note("the title in quotes is what reports call it")
}

pub(crate) fn defined_twice(name: &str, first: &Definition, second: &Definition) -> Diagnostic {
    let told = Diagnostic::new(DEFINED_TWICE, second.name, format!("`{name}` is defined twice"))
        .label(format!("defined here again, as {}", a(second.word)))
        .also(first.name, format!("defined here first, as {}", a(first.word)));
    if first.word == second.word {
        told.note("what changes from a day on is said by `changed DATE NAME`, never by a second definition")
    } else {
        told.note("all names of a book are one set; only a place and a channel may share one")
    }
}

pub(crate) fn differs_in_case(name: &str, place: Span, other: &str, first: Span) -> Diagnostic {
    Diagnostic::new(DIFFERS_IN_CASE, place, format!("`{name}` and `{other}` differ only in small and capital letters"))
        .also(first, "defined here")
        .note("case counts in names, and a reader would take these two for one")
}

pub(crate) fn plural_of_another(name: &str, one: Span, plural: &str, many: Span) -> Diagnostic {
    Diagnostic::new(PLURAL_OF_ANOTHER, many, format!("`{plural}` is the plural of `{name}`"))
        .label("this name would also be understood as several of the other")
        .also(one, format!("`{name}` is defined here"))
        .note("after a number an English plural is understood, so that `2 NAMEs` must mean one thing only")
}
