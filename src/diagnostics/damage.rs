//! The mistakes that the loader found: files whose bytes are not all text.
//!
//! In: the [`DamagedFile`]s of a loaded book. Out: a finding for each, at the first wrong byte. They stand here because the
//! loader comes before the findings and knows nothing of them.

use crate::diagnostics::{Code, Diagnostic, Diagnostics};
use crate::sources::{Damage, DamagedFile};

/// A byte that is not UTF-8.
pub const NOT_UTF_8: Code = Code(198);
/// A file that is not text of one byte for a plain letter.
pub const NOT_TEXT: Code = Code(199);

/// Tells each damaged file.
pub fn tell_damage(damaged: &[DamagedFile], found: &mut Diagnostics) {
    for file in damaged {
        found.push(explain_damage(file));
    }
}

fn explain_damage(file: &DamagedFile) -> Diagnostic {
    let path = &file.path;
    match file.damage {
        Damage::NotUtf8 { offset, byte, more } => {
            let message = format!("`{path}` is not UTF-8: byte {byte:02X} at offset {offset} is no letter");
            let told = Diagnostic::new(NOT_UTF_8, file.span, message).label("here");
            let told = match more {
                0 => told,
                1 => told.note("one more place in this file is wrong in the same way"),
                more => told.note(format!("{more} more places in this file are wrong in the same way")),
            };
            told.note("save the file again with the encoding UTF-8; letters with marks are then kept")
        }
        Damage::Utf16 => Diagnostic::new(NOT_TEXT, file.span, format!("`{path}` is UTF-16, from its first two bytes"))
            .note("nothing of this file was read; save it again with the encoding UTF-8"),
        Damage::NotText { offset } => {
            let message = format!("`{path}` is not text: byte 00 at offset {offset}");
            Diagnostic::new(NOT_TEXT, file.span, message)
                .note("nothing of this file was read; a `*.kerf` file is plain text in UTF-8")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sources::Span;

    fn told(damage: Damage) -> Diagnostic {
        explain_damage(&DamagedFile { path: "2026/03.kerf".to_owned(), span: Span::new(4, 7), damage })
    }

    #[test]
    fn a_wrong_byte_is_told_with_file_and_byte() {
        let told = told(Damage::NotUtf8 { offset: 812, byte: 0xE9, more: 2 });
        assert_eq!(told.message, "`2026/03.kerf` is not UTF-8: byte E9 at offset 812 is no letter");
        assert_eq!(told.notes.first().map(String::as_str), Some("2 more places in this file are wrong in the same way"));
    }

    #[test]
    fn a_file_that_was_not_read_says_so() {
        assert_eq!(told(Damage::Utf16).code, NOT_TEXT);
        assert!(told(Damage::NotText { offset: 3 }).notes.iter().any(|note| note.contains("nothing of this file was read")));
    }
}
