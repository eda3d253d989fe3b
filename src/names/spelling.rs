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

/// The words of a unit as they are compared, with one blank between them.
pub(crate) fn unit_words(text: &str) -> String {
    let mut words = String::with_capacity(text.len());
    for word in text.split_whitespace() {
        if !words.is_empty() {
            words.push(' ');
        }
        words.push_str(&normalised(word));
    }
    words
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
        assert_eq!(unit_words("bf"), "bf");
    }
}
