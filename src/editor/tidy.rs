//! One file laid out anew: its lines, the blank ones between them, its line breaks.
//!
//! Of several blank lines below one another one stays, and none stays at the beginning and the end of a file. A line that can't be
//! read stays as it is, to the byte. A byte order mark goes, the last line has its line break.

use std::fmt;

use crate::editor::layout::lay_out;
use crate::editor::line_ends::{line_break, raw_lines};
use crate::syntax::{LineIs, bare_words, written_lines};

/// The byte order mark.
const MARK: char = '\u{FEFF}';

/// A file laid out anew.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tidied {
    /// Its text.
    pub text: String,
    /// The lines that can't be read and stayed as they are, from 1, as they were numbered before.
    pub left: Vec<usize>,
}

/// Why a file can't be laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotTidied {
    /// A byte that is no text, with how many come before it.
    NotUtf8(usize),
    /// A zero byte, with how many come before it.
    NotText(usize),
    /// The words would not be the same; a fault of the program.
    OtherWords,
}

impl fmt::Display for NotTidied {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotUtf8(offset) => write!(f, "is not UTF-8 from offset {offset} on"),
            Self::NotText(offset) => write!(f, "is not text: byte 00 at offset {offset}"),
            Self::OtherWords => write!(f, "would not have the same words, which is a fault of the program; please report it"),
        }
    }
}

/// Lays a file out anew.
///
/// # Errors
/// Where its bytes are not all text: then nothing of it can be known to stay.
pub fn tidy_bytes(bytes: &[u8]) -> Result<Tidied, NotTidied> {
    if let Some(offset) = bytes.iter().position(|byte| *byte == 0) {
        return Err(NotTidied::NotText(offset));
    }
    let text = std::str::from_utf8(bytes).map_err(|why| NotTidied::NotUtf8(why.valid_up_to()))?;
    tidy_text(text.strip_prefix(MARK).unwrap_or(text))
}

fn tidy_text(text: &str) -> Result<Tidied, NotTidied> {
    let raw = raw_lines(text);
    let own_break = line_break(&raw);
    let normal: String = raw.iter().flat_map(|line| [line.text, "\n"]).collect();
    let mut tidied = Tidied { text: String::with_capacity(text.len()), left: Vec::new() };
    let mut gap = false;
    for (number, (line, raw)) in (1..).zip(written_lines(&normal).iter().zip(&raw)) {
        if line.kind == LineIs::Blank {
            gap = !tidied.text.is_empty();
            continue;
        }
        if std::mem::take(&mut gap) {
            tidied.text.push_str(own_break);
        }
        match lay_out(line) {
            Some(laid_out) => {
                tidied.text.push_str(&laid_out);
                tidied.text.push_str(own_break);
            }
            None => {
                tidied.left.push(number);
                tidied.text.push_str(raw.text);
                tidied.text.push_str(if raw.end.is_empty() { own_break } else { raw.end });
            }
        }
    }
    let after: String = raw_lines(&tidied.text).iter().flat_map(|line| [line.text, "\n"]).collect();
    if bare_words(&normal) != bare_words(&after) {
        return Err(NotTidied::OtherWords);
    }
    // What was no mark before, since something stood above it, must not become one.
    if tidied.text.starts_with(MARK) {
        tidied.text.insert(0, MARK);
    }
    Ok(tidied)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tidied(text: &str) -> String {
        let once = tidy_bytes(text.as_bytes()).expect("text").text;
        assert_eq!(tidy_bytes(once.as_bytes()).expect("text").text, once, "{text:?}");
        once
    }

    #[test]
    fn a_book_has_one_layout() {
        let written = "\u{FEFF}\n\n# March\n\n\n\nsold  2026-03-20\tvia web-page order “W-0031”\n\t2\u{a0}pull-cart ,1 village-set   for 60.00# gift\n\n\n  note \"two  blanks\"  \n\n";
        let expected = "# March\n\nsold 2026-03-20 via web-page order \"W-0031\"\n    2 pull-cart, 1 village-set for 60.00                   # gift\n\n    note \"two  blanks\"\n";
        assert_eq!(tidied(written), expected);
    }

    #[test]
    fn line_breaks_are_of_one_kind_and_the_last_line_has_one() {
        assert_eq!(tidied("noted 2026-01-01  \"x\"\r\n\r\n\r\nhome"), "noted 2026-01-01 \"x\"\r\n\r\nhome\r\n");
        assert_eq!(tidied("noted 2026-01-01  \"x\"\r\n\n# x\r# y"), "noted 2026-01-01 \"x\"\n\n# x\n# y\n");
        assert_eq!(tidied(""), "");
        assert_eq!(tidied("\u{FEFF}# x"), "# x\n");
        for twice in ["\u{FEFF}\u{FEFF}# x\n", "\n\u{FEFF}# x\n"] {
            assert_eq!(tidied(twice), "\u{FEFF}\u{FEFF}# x\n");
        }
        assert_eq!(tidied("\r\n \t\n"), "");
    }

    #[test]
    fn what_can_t_be_read_stays_to_the_byte_and_is_named() {
        let text = "built 2026-03-09  batch PC-014\n\tusd  5 bf red-oak\t \n    used   4 ea wheel-40\nmade 6  cart\n  sold 2026-03-02  via x\n    note \"open  # end \n";
        let tidied = tidy_bytes(text.as_bytes()).expect("text");
        assert_eq!(tidied.left, [2, 4, 5, 6]);
        let lines: Vec<&str> = tidied.text.split('\n').collect();
        assert_eq!(lines[..3], ["built 2026-03-09 batch PC-014", "\tusd  5 bf red-oak\t ", "    used 4 ea wheel-40"]);
        assert_eq!(lines[3..6], ["made 6  cart", "  sold 2026-03-02  via x", "    note \"open  # end "]);
        let mixed = "  ??? \r\nhome\n  !!!\rx?".to_owned();
        assert_eq!(tidy_bytes(mixed.as_bytes()).expect("text").text, "  ??? \r\nhome\n  !!!\rx?\n");
    }

    #[test]
    fn bytes_that_are_no_text_are_refused() {
        assert_eq!(tidy_bytes(b"caf\xE9"), Err(NotTidied::NotUtf8(3)));
        assert_eq!(tidy_bytes(b"\xFF\xFEa\0"), Err(NotTidied::NotText(3)));
        assert_eq!(tidy_bytes(b"a\0b"), Err(NotTidied::NotText(1)));
    }
}
