//! An entry's own text in one form: what decides the order of entries that nothing else puts in order.
//!
//! It is the text as `tidy` lays it out, without comments, empty lines and indentation, and with the details in the order of their
//! own texts, since the order in which they are written means nothing. So two entries compare alike wherever they
//! stand and however they are laid out, and never by file or line.

use crate::sources::{SourceSet, Span};
use crate::syntax::bare_words;

/// The text of an entry in one form.
pub(crate) fn entry_text(sources: &SourceSet, entry: Span) -> String {
    let mut text = String::with_capacity(entry.range().len());
    for line in sources.text(entry).lines() {
        let start = text.len();
        if start > 0 {
            text.push('\n');
        }
        let before = text.len();
        let line = line.trim_matches(' ');
        if is_plain(line) {
            text.push_str(line)
        } else {
            text.push_str(bare_words(line).trim_matches([' ', '\n']))
        }
        if text.len() == before {
            text.truncate(start);
        }
    }
    with_details_in_order(text)
}

/// The head, then the details in the order of their texts.
fn with_details_in_order(text: String) -> String {
    let mut details = text.split('\n').skip(1);
    let mut last = details.next().unwrap_or_default();
    let in_order = details.all(|line| {
        let after = last <= line;
        last = line;
        after
    });
    if in_order {
        return text;
    }
    let mut lines: Vec<&str> = text.split('\n').collect();
    if let Some((_, details)) = lines.split_first_mut() {
        details.sort_unstable();
    }
    lines.join("\n")
}

/// Whether a line has nothing to leave out: most lines are so.
fn is_plain(line: &str) -> bool {
    let mut last = 0;
    line.bytes().all(|byte| {
        let parted = byte == b' ' || last != b',';
        let plain = byte.is_ascii() && !matches!(byte, b'#' | b'\t') && parted && !(last == b' ' && matches!(byte, b' ' | b','));
        last = byte;
        plain
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(written: &str) -> String {
        let mut sources = SourceSet::default();
        sources.add("book.kerf", written).expect("a small text");
        let all = Span::new(0, u32::try_from(sources.whole().len()).expect("a small text"));
        entry_text(&sources, all)
    }

    #[test]
    fn layout_and_comments_are_left_out() {
        let plain = text("scrapped 2026-08-02\n    2.0 bf poplar \"worm\"\n");
        let laid_out = text("scrapped  2026-08-02   # a pity\n\n  # two\n\t2.0 bf\u{a0}poplar “worm”   # boards\n");
        assert_eq!(plain, laid_out);
        assert_eq!(plain, "scrapped 2026-08-02\n2.0 bf poplar \"worm\"");
    }

    #[test]
    fn commas_stand_as_in_a_tidied_line() {
        let plain = text("used-up 2026-08-02\n    1 a, 2 b, 3 c\n");
        assert_eq!(plain, text("used-up 2026-08-02\n    1 a,2 b ,\u{202f}3 c\n"));
    }

    #[test]
    fn the_order_of_details_is_left_out() {
        let one = text("counted 2026-08-02\n    2 bf poplar\n    1 bf oak\n");
        assert_eq!(one, text("counted 2026-08-02\n    1 bf oak\n    2 bf poplar\n"));
        assert_eq!(one, "counted 2026-08-02\n1 bf oak\n2 bf poplar");
    }

    #[test]
    fn a_number_sign_in_quotes_is_no_comment() {
        assert_eq!(text("noted 2026-02-10 \"no. # 7\""), "noted 2026-02-10 \"no. # 7\"");
    }
}
