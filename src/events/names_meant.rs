//! Which things may be meant by words that name none: two of them joined, or one that is a part of a name.

use std::sync::OnceLock;

use rustc_hash::FxHashMap;

use crate::names::{Known, ResolvedBook, ThingId};

/// The parts of the names of things, each with the things in whose names it stands; looked up only where a line could not be read.
#[derive(Default)]
pub(crate) struct NameParts(OnceLock<FxHashMap<String, Vec<ThingId>>>);

/// The shortest part that may stand for a name, in letters.
const SHORTEST: usize = 3;

impl NameParts {
    /// The only thing in whose name a word, or one of it, is a part: `wicks` of `wick-cd`. Words in which all that is cut or sold is counted
    /// say nothing of it.
    pub(crate) fn with_part(&self, book: &ResolvedBook, word: &str) -> Option<ThingId> {
        const COUNTS: [&str; 8] = ["board", "boards", "piece", "pieces", "sheet", "sheets", "box", "boxes"];
        if word.chars().count() < SHORTEST || !word.contains(char::is_alphabetic) || COUNTS.contains(&word) {
            return None;
        }
        let parts = self.0.get_or_init(|| parts_of(book));
        let things = forms_of(word).into_iter().flatten().find_map(|word| parts.get(word))?;
        if let [only] = things.as_slice() { Some(*only) } else { None }
    }
}

/// A word as it stands, and without the ending of many.
fn forms_of(word: &str) -> [Option<&str>; 3] {
    [Some(word), word.strip_suffix('s'), word.strip_suffix("es")]
}

fn parts_of(book: &ResolvedBook) -> FxHashMap<String, Vec<ThingId>> {
    let mut parts: FxHashMap<String, Vec<ThingId>> = FxHashMap::default();
    for (id, thing) in (0..).map(ThingId).zip(&book.things) {
        for part in thing.named.name.split(['-', '/', '.']).filter(|part| part.chars().count() >= SHORTEST) {
            let things = parts.entry(part.to_owned()).or_default();
            if things.last() != Some(&id) {
                things.push(id);
            }
        }
    }
    parts
}

/// The thing that a word names, or one of what it says are many.
pub(crate) fn thing_named(book: &ResolvedBook, word: &str) -> Option<ThingId> {
    forms_of(word).into_iter().flatten().find_map(|word| match book.table.get(word) {
        Some(Known::Thing(thing)) => Some(*thing),
        _ => None,
    })
}

/// The thing that two words name that stand one behind the other: `bees wax` of `beeswax`, `card stock` of `card-stock`.
pub(crate) fn thing_of_two(book: &ResolvedBook, first: &str, second: &str) -> Option<ThingId> {
    let joined = format!("{first}{second}").to_lowercase();
    thing_named(book, &joined).or_else(|| thing_named(book, &format!("{first}-{second}").to_lowercase()))
}
