//! The one layout of a book, line by line.
//!
//! Every rule looks at one line alone, so that a change of one line never moves its neighbours: a head begins at the left edge, a
//! detail four blanks behind it, one blank stands between words, and a comment behind them begins in the first of two columns that
//! they leave free, or two blanks behind a line that leaves neither.

use unicode_width::UnicodeWidthStr;

use crate::syntax::{LineIs, WrittenLine};

/// How far a detail is indented, in columns.
const INDENT: usize = 4;
/// How many columns stand before a comment behind words: the first of these that they leave room for.
const COMMENT_AT: [usize; 2] = [38, 59];
/// How many blanks stand at least between words and their comment.
const GAP: usize = 2;
/// A comment alone on its line that is indented so far belongs to those of the first column, or of the second; any other to the
/// details.
const BESIDE_FROM: [usize; 2] = [20, 49];
/// How many columns a tab before a comment counts for.
const TAB: usize = 4;

/// A line as it is laid out, without its line break; `None` for one that can't be read and stays as it is.
pub(super) fn lay_out(line: &WrittenLine<'_>) -> Option<String> {
    match line.kind {
        LineIs::Unread => None,
        LineIs::Blank => Some(String::new()),
        LineIs::Remark => Some(format!("{}{}", " ".repeat(remark_indent(line.before)), line.comment)),
        LineIs::Head => Some(with_comment(line.words.clone(), line.comment)),
        LineIs::Detail => Some(with_comment(format!("{}{}", " ".repeat(INDENT), line.words), line.comment)),
    }
}

/// How far a comment alone on its line is indented.
fn remark_indent(before: &str) -> usize {
    let columns: usize = before.chars().map(|blank| if blank == '\t' { TAB } else { 1 }).sum();
    match columns {
        0 => 0,
        columns if columns < BESIDE_FROM[0] => INDENT,
        columns if columns < BESIDE_FROM[1] => COMMENT_AT[0],
        _ => COMMENT_AT[1],
    }
}

fn with_comment(mut words: String, comment: &str) -> String {
    if !comment.is_empty() {
        let width = words.width();
        let column = COMMENT_AT.into_iter().find(|column| width + GAP <= *column).unwrap_or(width + GAP);
        words.push_str(&" ".repeat(column - width));
        words.push_str(comment);
    }
    words
}

#[cfg(test)]
mod tests {
    use crate::editor::tidy_bytes;

    fn tidied(line: &str) -> String {
        tidy_bytes(line.as_bytes()).expect("text").text
    }

    #[test]
    fn a_comment_begins_in_the_first_free_column_or_two_blanks_behind_a_long_line() {
        let columns = |width: usize| {
            let words = format!("step {} \"x\"", "a".repeat(width - 9));
            let line = tidied(&format!("{words} # x\n"));
            assert!(line.starts_with(&words) && line.ends_with("# x\n"), "{line}");
            line.find('#').expect("a comment")
        };
        assert_eq!([10, 36, 37, 57, 58, 70].map(columns), [38, 38, 59, 59, 60, 72]);
    }

    #[test]
    fn wide_letters_take_two_columns_and_marks_none() {
        for (title, columns) in [("漆", 2), ("e\u{301}", 1), ("\u{e9}", 1), ("\u{1f333}", 2)] {
            let head = format!("step a \"{title}\"");
            assert_eq!(tidied(&format!("{head}# x\n")), format!("{head}{}# x\n", " ".repeat(38 - 9 - columns)), "{title}");
        }
    }

    #[test]
    fn a_comment_alone_stands_at_the_edge_with_the_details_or_below_those_behind_words() {
        for (written, blanks) in [
            ("# x", 0),
            (" # x", 4),
            ("\t# x", 4),
            ("          # x", 4),
            ("\t\t\t\t\t\t# x", 38),
            (&format!("{}# x", " ".repeat(60)), 59),
        ] {
            assert_eq!(tidied(&format!("{written}  \t\n")), format!("{}# x\n", " ".repeat(blanks)), "{written:?}");
        }
    }

    #[test]
    fn a_change_of_one_line_moves_no_other() {
        let before = "sold 2026-03-20 via web # a\n    2 cart # b\n    shipping 9.50 # c\n";
        let after = before.replace("2 cart", "2 cart at 44.00, lot PC-001, 1 village-set for 60.00");
        let (before, after) = (tidied(before), tidied(&after));
        let differ = before.lines().zip(after.lines()).filter(|(before, after)| before != after).count();
        assert_eq!(differ, 1);
    }
}
