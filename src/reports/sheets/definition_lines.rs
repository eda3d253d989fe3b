//! Where the book's definitions say a price, a point of reorder and the like: the line in force on a day, of the definition or of a later `changed`.
//!
//! Only the text is looked at, and only to show it beside the figure that was read of it; where it is not found, the definition's head is shown.

use rustc_hash::FxHashMap;

use super::sheet::SheetPlace;
use crate::sources::SourceSet;

/// The lines of definitions by name and first word, each with the day from which it holds.
#[derive(Debug, Default)]
pub(super) struct DefinitionLines<'s> {
    found: FxHashMap<(&'s str, &'s str), Vec<(&'s str, SheetPlace)>>,
}

/// The words by which lines are looked for.
const WORDS: [&str; 2] = ["price", "reorder"];

impl<'s> DefinitionLines<'s> {
    /// Goes through the text once.
    pub(super) fn of(sources: &'s SourceSet) -> Self {
        let mut lines = Self::default();
        for file in sources.files() {
            let mut of: Option<(&str, &str)> = None;
            for (line, text) in (1_usize..).zip(sources.text(file.span).lines()) {
                let mut words = text.split_whitespace();
                let Some(word) = words.next() else { continue };
                if !text.starts_with([' ', '\t', '#']) {
                    of = match (word, words.next(), words.next()) {
                        ("changed", Some(day), Some(name)) => Some((name, day)),
                        (_, Some(name), _) => Some((name, "")),
                        _ => None,
                    };
                } else if let Some((name, day)) = of.filter(|_| WORDS.contains(&word)) {
                    let place = SheetPlace { file: file.path.clone(), line };
                    lines.found.entry((name, word)).or_default().push((day, place));
                }
            }
        }
        lines
    }

    /// The line of a definition in force on a day that begins with a word.
    pub(super) fn find(&self, name: &str, word: &str, day: &str) -> Option<SheetPlace> {
        let lines = self.found.get(&(name, word))?;
        let in_force = lines.iter().filter(|(from, _)| *from <= day).max_by_key(|(from, _)| *from);
        in_force.map(|(_, place)| place.clone())
    }
}
