//! The kinds of names in the words of the book: `material`, `a material`, `material, product or tool`.

use crate::names::{Known, Named, ResolvedBook, ThingKind};
use crate::syntax::DefinitionWord;

/// The word with which a kind is defined.
pub(crate) const fn word_of(kind: DefinitionWord) -> &'static str {
    match kind {
        DefinitionWord::Shop => "shop",
        DefinitionWord::Choices => "choices",
        DefinitionWord::Place => "place",
        DefinitionWord::Step => "step",
        DefinitionWord::Material => "material",
        DefinitionWord::Product => "product",
        DefinitionWord::Line => "line",
        DefinitionWord::Pattern => "pattern",
        DefinitionWord::Helper => "helper",
        DefinitionWord::Channel => "channel",
        DefinitionWord::Expense => "expense",
        DefinitionWord::Income => "income",
        DefinitionWord::Tool => "tool",
    }
}

/// The word with its article, for a sentence.
pub(crate) fn a(kind: DefinitionWord) -> String {
    let word = word_of(kind);
    let article = match kind {
        DefinitionWord::Shop | DefinitionWord::Choices => "the",
        DefinitionWord::Expense | DefinitionWord::Income => "an",
        _ => "a",
    };
    format!("{article} {word}")
}

/// Several kinds as a sentence says them: `material, product or tool`.
pub(crate) fn any_of(kinds: &[DefinitionWord]) -> String {
    any_word_of(&kinds.iter().map(|kind| word_of(*kind).to_owned()).collect::<Vec<_>>())
}

/// Several words as a sentence says them: `cutting, sanding or packing`.
pub(crate) fn any_word_of(words: &[String]) -> String {
    match words.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, first)) => format!("{} or {last}", first.join(", ")),
    }
}

/// The kind of a name that is known; `None` for a name that could not be read.
pub(crate) fn kind_of(book: &ResolvedBook, known: Known) -> Option<DefinitionWord> {
    Some(match known {
        Known::Place(_) => DefinitionWord::Place,
        Known::Step(_) => DefinitionWord::Step,
        Known::Thing(id) => match book.things.get(id.index())?.kind {
            ThingKind::Product => DefinitionWord::Product,
            ThingKind::Material | ThingKind::Wear | ThingKind::Packing => DefinitionWord::Material,
        },
        Known::Line(_) => DefinitionWord::Line,
        Known::Pattern(_) => DefinitionWord::Pattern,
        Known::Helper(_) => DefinitionWord::Helper,
        Known::Channel(_) => DefinitionWord::Channel,
        Known::Expense(_) => DefinitionWord::Expense,
        Known::Income(_) => DefinitionWord::Income,
        Known::Tool(_) => DefinitionWord::Tool,
        Known::Poisoned => return None,
    })
}

/// Name, title and place of a name that is known; `None` for a name that could not be read.
pub(crate) fn named_of(book: &ResolvedBook, known: Known) -> Option<&Named> {
    Some(match known {
        Known::Place(id) => &book.places.get(id.index())?.named,
        Known::Step(id) => &book.steps.get(id.index())?.named,
        Known::Thing(id) => &book.things.get(id.index())?.named,
        Known::Line(id) => book.lines.get(id.index())?,
        Known::Pattern(id) => &book.patterns.get(id.index())?.named,
        Known::Helper(id) => &book.helpers.get(id.index())?.named,
        Known::Channel(id) => &book.channels.get(id.index())?.named,
        Known::Expense(id) => &book.expenses.get(id.index())?.named,
        Known::Income(id) => &book.incomes.get(id.index())?.named,
        Known::Tool(id) => &book.tools.get(id.index())?.named,
        Known::Poisoned => return None,
    })
}

/// The names of a kind, in their own order.
pub(crate) fn names_of(book: &ResolvedBook, kind: DefinitionWord) -> Vec<&str> {
    nameds_of(book, kind).into_iter().map(|named| named.name.as_str()).collect()
}

/// All of a kind with their names, titles and places, in their own order.
pub(crate) fn nameds_of(book: &ResolvedBook, kind: DefinitionWord) -> Vec<&Named> {
    fn all<T>(list: &[T], named: impl Fn(&T) -> &Named) -> Vec<&Named> {
        list.iter().map(named).collect()
    }
    match kind {
        DefinitionWord::Shop | DefinitionWord::Choices => Vec::new(),
        DefinitionWord::Place => all(&book.places, |one| &one.named),
        DefinitionWord::Step => all(&book.steps, |one| &one.named),
        DefinitionWord::Material | DefinitionWord::Product => {
            let product = kind == DefinitionWord::Product;
            let of_kind = book.things.iter().filter(|thing| (thing.kind == ThingKind::Product) == product);
            of_kind.map(|thing| &thing.named).collect()
        }
        DefinitionWord::Line => all(&book.lines, |one| one),
        DefinitionWord::Pattern => all(&book.patterns, |one| &one.named),
        DefinitionWord::Helper => all(&book.helpers, |one| &one.named),
        DefinitionWord::Channel => all(&book.channels, |one| &one.named),
        DefinitionWord::Expense => all(&book.expenses, |one| &one.named),
        DefinitionWord::Income => all(&book.incomes, |one| &one.named),
        DefinitionWord::Tool => all(&book.tools, |one| &one.named),
    }
}
