//! How names and codes are spelled, and which words are never one.
//!
//! A name begins with a letter, goes on with letters, marks and digits, and with `-` `.` `/` only between two of those. A code
//! may begin with a digit. The grammar stops only at the words that must end an item's name; here all of them are known.

use unicode_normalization::char::is_combining_mark;

use crate::syntax::line_context::BlockWord;
use crate::syntax::placement_table::{DEFINITIONS, VERBS};
use crate::units::Unit;

/// What corrections leave to the reader where a name stands.
pub(crate) const LEFT_TO_THE_READER: [&str; 2] = ["NAME", "BATCH"];

/// Whether a text is spelled as a name.
pub(crate) fn is_name(text: &str) -> bool {
    text.chars().next().is_some_and(char::is_alphabetic) && is_spelled(text)
}

/// Whether a text is spelled as a code: a name that may begin with a digit.
pub(crate) fn is_code(text: &str) -> bool {
    text.chars().next().is_some_and(char::is_alphanumeric) && is_spelled(text)
}

fn is_spelled(text: &str) -> bool {
    let mut after_joint = true;
    if text.is_ascii() {
        for byte in text.bytes() {
            let is_joint = matches!(byte, b'-' | b'.' | b'/');
            if is_joint && after_joint || !is_joint && !byte.is_ascii_alphanumeric() {
                return false;
            }
            after_joint = is_joint;
        }
        return !after_joint;
    }
    for c in text.chars() {
        match c {
            '-' | '.' | '/' if after_joint => return false,
            '-' | '.' | '/' => after_joint = true,
            _ if c.is_alphanumeric() || is_combining_mark(c) => after_joint = false,
            _ => return false,
        }
    }
    !after_joint
}

/// Whether a word is reserved, units included.
pub(crate) fn is_reserved(text: &str) -> bool {
    is_word_of_language(text) || is_measuring_unit(text)
}

/// Whether a word is never a name or a code, wherever it stands; the measuring units aside, which [`is_measuring_unit`] knows.
#[rustfmt::skip]
pub(crate) fn is_word_of_language(text: &str) -> bool {
    matches!(
        text,
        "already" | "as" | "at" | "back" | "batch" | "by" | "certificate" | "charged" | "counted" | "for" | "from" | "home"
        | "left" | "lot" | "meant" | "of" | "off" | "on" | "order" | "orders" | "owed" | "per" | "receipt" | "refunded"
        | "sales-tax" | "scrapped" | "share" | "shared" | "shop" | "the" | "to" | "via" | "with" | "worth" | "x" | "sq" | "cu" | "fl"
    )
}

/// Whether a word is a measuring unit of one word; `pair`, `dozen` and `gross` are not reserved and not meant here.
pub(crate) fn is_measuring_unit(text: &str) -> bool {
    text.len() <= 3 && !matches!(text, "pair" | "dozen" | "gross") && Unit::parse(text).is_some()
}

/// Whether a word begins a unit of two words (`sq ft`, `cu in`, `fl oz`).
pub(crate) fn begins_two_word_unit(text: &str) -> bool {
    matches!(text, "sq" | "cu" | "fl")
}

/// The first word of a line: what stands before its first blank, comma or end.
pub(crate) fn first_word(line: &str) -> &str {
    line.split([' ', ',', '\n', '\t', '\u{a0}', '\u{202f}', '#']).next().unwrap_or("")
}

/// What block a first word begins. `brought` is the first word of `brought back`.
pub(crate) fn head_word(word: &str) -> Option<BlockWord> {
    let word = if word == "brought" { "brought-back" } else { word };
    let verb = VERBS.iter().find(|(known, _)| *known == word).map(|(_, verb)| BlockWord::Entry(*verb));
    verb.or_else(|| DEFINITIONS.iter().find(|(known, _)| *known == word).map(|(_, word)| BlockWord::Definition(*word)))
}

/// Whether a first word at column 1 always begins a block: `line`, `pattern`, `paid` and `gave` begin details too.
pub(crate) fn always_begins_block(word: &str) -> bool {
    !matches!(word, "line" | "pattern" | "paid" | "gave") && head_word(word).is_some()
}
