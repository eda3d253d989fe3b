//! A line as it was typed, cut into words, for the table of slips.
//!
//! A text in quotes is one word. A comma belongs to no word but is remembered at the word before it; a comma between two
//! digits stays, since `1,250` is one slip. A comment is left aside.

use std::ops::Range;

use chrono::NaiveDate;

use crate::syntax::line_context::{BlockWord, LineContext};
use crate::syntax::words::is_reserved;
use crate::syntax::{DefinitionWord, Verb};
use crate::units::Currency;

pub(super) use crate::syntax::words::is_name;

/// A word of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Word<'t> {
    /// The word, a text with its quotes.
    pub(super) text: &'t str,
    /// Where it begins in the line.
    pub(super) start: usize,
    /// Whether a comma follows.
    pub(super) comma: bool,
    /// Whether it is a text in quotes.
    pub(super) quoted: bool,
}

impl Word<'_> {
    /// One past its last byte.
    pub(super) fn end(&self) -> usize {
        self.start + self.text.len()
    }

    /// Whether it is this word, whatever its case.
    pub(super) fn is(&self, word: &str) -> bool {
        !self.quoted && self.text.eq_ignore_ascii_case(word)
    }

    /// Whether it is one of these words, whatever its case.
    pub(super) fn is_one_of(&self, words: &[&str]) -> bool {
        words.iter().any(|word| self.is(word))
    }

    /// Whether it is digits with at most one point within.
    pub(super) fn is_number(&self) -> bool {
        is_number(self.text)
    }

    /// Whether it is `digits/digits`.
    pub(super) fn is_fraction(&self) -> bool {
        is_fraction(self.text)
    }

    /// Whether it is a name that the language could read, and no word of the language.
    pub(super) fn is_name(&self) -> bool {
        !self.quoted && is_name(self.text) && !is_reserved(self.text)
    }

    /// Whether it is a date as the language writes it.
    pub(super) fn is_date(&self) -> bool {
        crate::units::read_date(self.text).is_ok()
    }
}

/// A line as it was typed.
#[derive(Clone, Debug)]
pub(super) struct Typed<'t> {
    /// The line without indentation, comment and the blanks at its end.
    pub(super) text: &'t str,
    /// The line with its comment.
    pub(super) whole: &'t str,
    /// The comment with its `#`; empty where there is none.
    pub(super) comment: &'t str,
    /// Its words.
    pub(super) words: Vec<Word<'t>>,
    /// Where it stands.
    pub(super) context: LineContext,
    /// The day of the entry above or below, where one is near.
    pub(super) near_date: Option<NaiveDate>,
    /// Whether a quote was opened and not closed.
    pub(super) open_quote: bool,
    /// The lines of a block that stand below it; empty where none does.
    pub(super) below: &'t str,
    /// The shop's currency, where the line says one.
    pub(super) currency: Option<Currency>,
}

impl<'t> Typed<'t> {
    /// Cuts a line into words.
    pub(super) fn of(line: &'t str, context: LineContext, near_date: Option<NaiveDate>) -> Self {
        let line = line.trim_matches(is_blank);
        let mut words: Vec<Word<'t>> = Vec::new();
        let mut open_quote = false;
        let mut comment = "";
        let mut at = 0;
        while let Some(rest) = line.get(at..) {
            let blanks = rest.len() - rest.trim_start_matches(is_blank).len();
            at += blanks;
            let rest = rest.get(blanks..).unwrap_or("");
            let Some(first) = rest.chars().next() else { break };
            if first == '#' {
                comment = rest;
                break;
            }
            if first == ',' {
                if let Some(last) = words.last_mut() {
                    last.comma = true;
                }
                at += 1;
                continue;
            }
            let (length, quoted) = if is_quote(first) {
                let inner = rest.get(first.len_utf8()..).unwrap_or("");
                let close = inner.char_indices().find(|(_, letter)| is_quote(*letter));
                open_quote |= close.is_none();
                (close.map_or(rest.len(), |(close, letter)| first.len_utf8() + close + letter.len_utf8()), true)
            } else {
                (plain_word(rest), false)
            };
            let text = rest.get(..length).unwrap_or(rest);
            words.push(Word { text, start: at, comma: false, quoted });
            at += length;
        }
        let end = line.len() - comment.len();
        let text = line.get(..end).unwrap_or(line).trim_end_matches(is_blank);
        Self { text, whole: line, comment, words, context, near_date, open_quote, below: "", currency: None }
    }

    /// The word at a place; an empty word past the end.
    pub(super) fn word(&self, at: usize) -> Word<'t> {
        self.words.get(at).copied().unwrap_or(Word { text: "", start: self.text.len(), comma: false, quoted: false })
    }

    /// Where words stand in the line.
    pub(super) fn range(&self, words: Range<usize>) -> Range<usize> {
        let start = self.word(words.start).start;
        let end = words.end.checked_sub(1).filter(|last| *last >= words.start).map_or(start, |last| self.word(last).end());
        start..end
    }

    /// The text of some words with what stands between them.
    pub(super) fn slice(&self, words: Range<usize>) -> &'t str {
        self.text.get(self.range(words)).unwrap_or("")
    }

    /// The line with some words replaced.
    pub(super) fn with(&self, words: Range<usize>, new: &str) -> String {
        self.with_range(self.range(words), new)
    }

    /// The line with a stretch of bytes replaced.
    pub(super) fn with_range(&self, range: Range<usize>, new: &str) -> String {
        let before = self.text.get(..range.start).unwrap_or("");
        let after = self.text.get(range.end..).unwrap_or("");
        format!("{before}{new}{after}")
    }

    /// Whether it is a line of a block and no head.
    pub(super) fn is_detail(&self) -> bool {
        !self.context.column_one
    }

    /// The verb of its entry, or of itself.
    pub(super) fn verb(&self) -> Option<Verb> {
        match self.context.block {
            Some(BlockWord::Entry(verb)) => Some(verb),
            _ => None,
        }
    }

    /// The word of its definition, or of itself.
    pub(super) fn definition(&self) -> Option<DefinitionWord> {
        match self.context.block {
            Some(BlockWord::Definition(word)) => Some(word),
            _ => None,
        }
    }
}

/// How long the word is with which a text begins.
fn plain_word(text: &str) -> usize {
    let mut before = ' ';
    let mut letters = text.char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        if is_blank(letter) || letter == '#' {
            return at;
        }
        let next = letters.peek().map_or(' ', |(_, next)| *next);
        if letter == ',' && !(before.is_ascii_digit() && next.is_ascii_digit()) {
            return at;
        }
        before = letter;
    }
    text.len()
}

/// Whether a letter is a blank between words.
pub(super) fn is_blank(letter: char) -> bool {
    matches!(letter, ' ' | '\t' | '\u{A0}' | '\u{202F}')
}

/// Whether a letter opens or closes a text.
pub(super) fn is_quote(letter: char) -> bool {
    matches!(letter, '"' | '\u{201C}' | '\u{201D}' | '\u{201E}')
}

/// Whether a text is digits with at most one point within.
pub(super) fn is_number(text: &str) -> bool {
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    is_digits(whole) && is_digits(part)
}

/// Whether a text is digits and nothing else.
pub(super) fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether a text is `digits/digits`.
pub(super) fn is_fraction(text: &str) -> bool {
    text.split_once('/').is_some_and(|(above, below)| is_digits(above) && is_digits(below))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(line: &str) -> Typed<'_> {
        Typed::of(line, LineContext { column_one: false, block: None }, None)
    }

    #[test]
    fn a_line_is_cut_into_words_texts_and_commas() {
        let typed = typed("  2 pull-cart , 1,250 x \"a, b # c\",3 d  # e");
        let words: Vec<_> = typed.words.iter().map(|word| (word.text, word.comma)).collect();
        assert_eq!(
            words,
            [
                ("2", false),
                ("pull-cart", true),
                ("1,250", false),
                ("x", false),
                ("\"a, b # c\"", true),
                ("3", false),
                ("d", false)
            ]
        );
        assert_eq!(typed.text, "2 pull-cart , 1,250 x \"a, b # c\",3 d");
        assert_eq!(typed.comment, "# e");
    }

    #[test]
    fn an_inch_sign_after_a_digit_opens_no_text() {
        assert!(!typed("4 boards walnut, 5/4\" x 62\"").open_quote);
        assert!(typed("note \"x").open_quote);
        assert!(!typed("note \u{201C}x\u{201D}").open_quote);
    }

    #[test]
    fn words_can_be_replaced() {
        let typed = typed("31.5 red oak, at 5");
        assert_eq!(typed.slice(1..3), "red oak");
        assert_eq!(typed.with(1..3, "red-oak"), "31.5 red-oak, at 5");
        assert_eq!(typed.with(9..9, "!"), "31.5 red oak, at 5!");
    }

    #[test]
    fn names_and_numbers_are_told_apart() {
        for name in ["red-oak-4/4", "a", "été", "blade-no7", "v1.2"] {
            assert!(is_name(name), "{name}");
        }
        for other in ["4/4-oak", "red-oak.", "red_oak", "a--b", "", "-a", "a/"] {
            assert!(!is_name(other), "{other}");
        }
        assert!(is_number("31.5") && is_number("7") && !is_number(".5") && !is_number("5.") && !is_number("1.2.3"));
    }
}
