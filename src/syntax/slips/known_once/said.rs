//! The words and figures that a line below a definition has.

use super::super::slip::Slip;
use super::super::typed::{Typed, is_number};
use crate::syntax::DefinitionWord;
use crate::syntax::slip_errors::DETAIL_FORM;

/// What a line below a definition says, in any order.
pub(super) struct Said<'a, 't> {
    typed: &'a Typed<'t>,
    /// The words in small letters, without a colon, an equals sign or a currency's sign.
    words: Vec<String>,
}

impl<'a, 't> Said<'a, 't> {
    /// The words of a line that stands below a definition of this kind.
    pub(super) fn of(typed: &'a Typed<'t>, block: DefinitionWord) -> Option<Self> {
        (typed.is_detail() && typed.definition() == Some(block) && !typed.words.is_empty()).then(|| Self {
            typed,
            words: typed.words.iter().map(|word| word.text.trim_end_matches([':', '=']).to_lowercase()).collect(),
        })
    }

    /// The first word.
    pub(super) fn first(&self) -> &str {
        self.words.first().map_or("", String::as_str)
    }

    /// The last word.
    pub(super) fn last(&self) -> &str {
        self.words.last().map_or("", String::as_str)
    }

    /// Whether the line begins with one of these words.
    pub(super) fn begins(&self, words: &[&str]) -> bool {
        words.contains(&self.first())
    }

    /// Whether one of these words stands anywhere in the line.
    pub(super) fn has(&self, words: &[&str]) -> bool {
        self.words.iter().any(|word| words.contains(&word.as_str()))
    }

    /// Whether the line is these words and no more.
    pub(super) fn is(&self, line: &str) -> bool {
        self.words.iter().map(String::as_str).eq(line.split(' '))
    }

    /// How many words there are.
    pub(super) fn len(&self) -> usize {
        self.words.len()
    }

    /// A word by its place, in small letters; empty past the end.
    pub(super) fn word(&self, at: usize) -> &str {
        self.words.get(at).map_or("", String::as_str)
    }

    /// The first figure that is no part of a hundred, without a currency's sign and without `/h`: `$22/h` is 22.
    pub(super) fn figure(&self) -> Option<&str> {
        self.figure_at().and_then(|at| bare_figure(self.word(at)))
    }

    /// Where the first figure stands.
    pub(super) fn figure_at(&self) -> Option<usize> {
        (0..self.len()).find(|at| bare_figure(self.word(*at)).is_some() && !["%", "percent"].contains(&self.word(at + 1)))
    }

    /// The first part of a hundred, as the language writes it: `40%`, also of `40 %` and `40 percent`.
    pub(super) fn percent(&self) -> Option<String> {
        (0..self.len()).find_map(|at| match (self.word(at).strip_suffix('%'), self.word(at + 1)) {
            (Some(figure), _) if is_number(figure) => Some(format!("{figure}%")),
            (None, "%" | "percent") if is_number(self.word(at)) => Some(format!("{}%", self.word(at))),
            _ => None,
        })
    }

    /// Whether the line begins with a figure or a part of a hundred.
    pub(super) fn figure_or_percent_first(&self) -> bool {
        self.figure_at() == Some(0) || is_number(self.first().trim_end_matches('%'))
    }

    /// The last word, where it is a name.
    pub(super) fn last_name(&self) -> Option<&'t str> {
        self.typed.words.last().filter(|word| word.is_name()).map(|word| word.text)
    }

    /// A slip of the whole line that has no correction.
    pub(super) fn told(&self, message: impl Into<String>) -> Slip {
        Slip::new(DETAIL_FORM, 0..self.typed.text.len(), message)
    }

    /// What the whole line says has no place here, and where it is said instead.
    pub(super) fn said_elsewhere(&self, message: impl Into<String>, note: impl Into<String>) -> Slip {
        self.told(message).note(note).settled()
    }

    /// A slip of the whole line, with the line as it should read; nothing where that is what stands there.
    pub(super) fn meant(&self, message: impl Into<String>, line: impl Into<String>) -> Option<Slip> {
        let line = line.into();
        (line != self.typed.text).then(|| self.told(message).fix("in the words of the book", line))
    }
}

/// A figure without a currency's sign, and without `/h`.
fn bare_figure(word: &str) -> Option<&str> {
    let word = word.trim_start_matches(['$', '€', '£']);
    let word = ["/h", "/hr", "/hour"].iter().find_map(|end| word.strip_suffix(end)).unwrap_or(word);
    is_number(word).then_some(word)
}
