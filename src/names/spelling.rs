//! The one form in which names are compared.
//!
//! Names are compared after Unicode's canonical composition (NFC), so that `café` is one name however the keyboard wrote it.
//! How a name is spelled is checked where it is read.

use std::borrow::Cow;

use unicode_normalization::{IsNormalized, UnicodeNormalization, is_nfc_quick};

/// A text in the form in which names are compared: composed, otherwise as written. Plain text is borrowed.
pub(crate) fn normalised(text: &str) -> Cow<'_, str> {
    if text.is_ascii() || is_nfc_quick(text.chars()) == IsNormalized::Yes {
        Cow::Borrowed(text)
    } else {
        Cow::Owned(text.nfc().collect())
    }
}

/// The words of a unit as they are compared, with one blank between them. What is written so is borrowed.
pub(crate) fn unit_words(text: &str) -> Cow<'_, str> {
    let mut words = text.split_whitespace();
    match (words.next(), words.next(), words.next()) {
        (Some(one), None, _) if one.len() == text.len() => normalised(text),
        (Some(one), Some(two), None) if text.len() == one.len() + 1 + two.len() && text.is_ascii() => {
            if text.as_bytes().get(one.len()) == Some(&b' ') { Cow::Borrowed(text) } else { Cow::Owned(format!("{one} {two}")) }
        }
        _ => Cow::Owned(normalised(&text.split_whitespace().collect::<Vec<_>>().join(" ")).into_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_composed_and_a_decomposed_letter_are_one() {
        assert_eq!(normalised("cafe\u{301}"), normalised("caf\u{e9}"));
        assert!(matches!(normalised("red-oak"), Cow::Borrowed(_)));
    }

    #[test]
    fn the_words_of_a_unit_have_one_blank_between_them() {
        assert_eq!(unit_words("sq   ft"), "sq ft");
        assert_eq!(unit_words("sq\tft"), "sq ft");
        assert_eq!(unit_words("sq ft"), "sq ft");
        assert_eq!(unit_words("bf"), "bf");
        assert_eq!(unit_words(""), "");
    }
}
