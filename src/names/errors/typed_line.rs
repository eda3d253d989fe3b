//! The line in which a name was typed, for what is said of it: its first word, the unit before the name, the verb of its entry.

use rust_decimal::Decimal;

use crate::sources::{SourceSet, Span};
use crate::syntax::{Verb, begins_block, verb_of_line};
use crate::units::{Unit, canonical_unit, read_decimal};

/// How far above a line its entry's head is looked for, in bytes.
const HEAD_WITHIN: u32 = 8192;

/// A line with a name.
#[derive(Clone, Copy, Debug)]
pub(crate) struct TypedLine<'s> {
    /// Its first word.
    pub(crate) first: &'s str,
    /// The unit before the name.
    pub(crate) unit: Option<Unit>,
    /// Whether a count of more than one stands right before the name.
    pub(crate) of_many: bool,
    /// Whether nothing but a figure stands before the name, and nothing behind it.
    pub(crate) bare: bool,
    /// The verb of the entry.
    pub(crate) verb: Option<Verb>,
    /// The head of the entry.
    pub(crate) head: &'s str,
    /// All of the line.
    pub(crate) text: &'s str,
    /// Whether the line is the entry's head.
    pub(crate) is_head: bool,
}

impl<'s> TypedLine<'s> {
    /// The line of a name.
    pub(crate) fn of(sources: &'s SourceSet, name: Span) -> Self {
        let line = sources.lines_of(Span::new(name.start, name.start));
        let before = sources.text(Span::new(line.start, name.start)).trim();
        let behind = sources.text(Span::new(name.end, line.end.max(name.end)));
        let behind = behind.split('#').next().unwrap_or("").trim();
        let words: Vec<&str> = before.split_whitespace().collect();
        let first = words.first().copied().unwrap_or("");
        let figure = |word: &str| word.starts_with(|letter: char| letter.is_ascii_digit());
        let unit = match words.as_slice() {
            [.., number, one, two] if figure(number) => canonical_unit(&format!("{one} {two}")).or_else(|| unit_named(one, two)),
            [.., number, one] if figure(number) => Unit::parse(one).or_else(|| canonical_unit(one)),
            _ => None,
        };
        let of_many = words.last().is_some_and(|word| read_decimal(word).is_ok_and(|count| count > Decimal::ONE));
        let bare = words.len() == 1 && figure(first) && behind.is_empty();
        let (verb, head) = head_above(sources, line).map_or((None, ""), |(verb, head)| (Some(verb), head));
        let text = sources.text(line);
        Self { first, unit, of_many, bare, verb, head, text, is_head: begins_block(first) && text.starts_with(first) }
    }
}

/// A unit of two words.
fn unit_named(one: &str, two: &str) -> Option<Unit> {
    Unit::parse(&format!("{one} {two}"))
}

/// The nearest line from this one upwards that begins an entry at column 1; `None` where a definition begins nearer.
fn head_above(sources: &SourceSet, line: Span) -> Option<(Verb, &str)> {
    let file = sources.file_at(line.start)?;
    let mut at = line;
    while at.start > file.span.start && line.start - at.start < HEAD_WITHIN {
        let text = sources.text(at);
        if text.starts_with(char::is_alphabetic) {
            if let Some(verb) = verb_of_line(text) {
                return Some((verb, text));
            }
            if text.split_whitespace().next().is_some_and(begins_block) {
                return None;
            }
        }
        at = sources.lines_of(Span::new(at.start - 1, at.start - 1));
    }
    let text = sources.text(at);
    verb_of_line(text).map(|verb| (verb, text))
}
