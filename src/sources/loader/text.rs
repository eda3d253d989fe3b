//! From a file's bytes to text with one kind of line break.
//!
//! The byte order mark is dropped, `CR LF` and a lone `CR` become a line break. What is not UTF-8 is replaced, so that the
//! other mistakes of the file can still be told. No input or output here.

use std::borrow::Cow;
use std::ops::Range;

use super::Damage;

/// The sign that stands for bytes that are not text.
const REPLACEMENT: char = '\u{FFFD}';

/// A file's text and what was wrong with its bytes.
#[derive(Debug)]
pub(super) struct ReadText<'b> {
    /// The text, normalised.
    pub(super) text: Cow<'b, str>,
    /// The first damage, and where it stands in the normalised text.
    pub(super) damage: Option<(Damage, Range<usize>)>,
}

/// Reads bytes as text.
pub(super) fn read_text(bytes: &[u8]) -> ReadText<'_> {
    if bytes.starts_with(b"\xFF\xFE") || bytes.starts_with(b"\xFE\xFF") {
        return unread(Damage::Utf16);
    }
    if let Some(offset) = bytes.iter().position(|byte| *byte == 0) {
        return unread(Damage::NotText { offset });
    }
    let without_mark = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let skipped = bytes.len() - without_mark.len();
    match std::str::from_utf8(without_mark) {
        Ok(text) => ReadText { text: one_kind_of_line_break(text), damage: None },
        Err(why) => {
            let offset = why.valid_up_to();
            let valid = without_mark.get(..offset).and_then(|valid| std::str::from_utf8(valid).ok()).unwrap_or("");
            let start = one_kind_of_line_break(valid).len();
            let wrong = without_mark.utf8_chunks().filter(|chunk| !chunk.invalid().is_empty()).count();
            let damage = Damage::NotUtf8 {
                offset: offset + skipped,
                byte: without_mark.get(offset).copied().unwrap_or(0),
                more: wrong.saturating_sub(1),
            };
            let text = String::from_utf8_lossy(without_mark);
            let text = Cow::Owned(one_kind_of_line_break(&text).into_owned());
            ReadText { text, damage: Some((damage, start..start + REPLACEMENT.len_utf8())) }
        }
    }
}

/// A file of which nothing is read: one empty line stands for it.
fn unread(damage: Damage) -> ReadText<'static> {
    ReadText { text: Cow::Borrowed("\n"), damage: Some((damage, 0..0)) }
}

/// Writes every line break as `LF`.
fn one_kind_of_line_break(text: &str) -> Cow<'_, str> {
    if !text.contains('\r') {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('\r') {
        let (before, after) = rest.split_at(at);
        out.push_str(before);
        out.push('\n');
        let after = after.strip_prefix('\r').unwrap_or(after);
        rest = after.strip_prefix('\n').unwrap_or(after);
    }
    out.push_str(rest);
    Cow::Owned(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wrong_byte_after_a_carriage_return_is_found_where_it_stands() {
        let read = read_text(b"\xEF\xBB\xBFa\r\nb\r\n\xFF");
        assert_eq!(read.text, "a\nb\n\u{FFFD}");
        assert_eq!(read.damage, Some((Damage::NotUtf8 { offset: 9, byte: 0xFF, more: 0 }, 4..7)));
    }

    #[test]
    fn a_cut_letter_at_the_end_is_one_wrong_stretch() {
        let read = read_text(b"caf\xC3");
        assert_eq!(read.damage, Some((Damage::NotUtf8 { offset: 3, byte: 0xC3, more: 0 }, 3..6)));
    }

    #[test]
    fn clean_text_is_not_copied() {
        assert!(matches!(read_text(b"\xEF\xBB\xBFa\nb").text, Cow::Borrowed("a\nb")));
    }
}
