//! How far a line reads that can't be read whole: the column at which a mistake stands.
//!
//! The grammar's own position falls back to the last rule that began, often the start of the line. Here the line is cut shorter,
//! word by word, until what is left is a line of the language; the mistake stands behind it.

use crate::syntax::grammar::Rule;
use crate::syntax::lower_definition::lower_definition;
use crate::syntax::lower_detail::lower_detail;
use crate::syntax::lower_head::lower_head;
use crate::syntax::lower_leaf::Leaves;
use crate::syntax::nodes::{Siblings, parse_lines};

/// At most this many words are tried; a longer line is told as a whole.
const MOST_WORDS: usize = 60;

/// How many bytes of a line read as a line by themselves, from its beginning up to the end of a word; `None` where no beginning of
/// it does. `line` is without indentation and comment.
pub(crate) fn strict_line(line: &str) -> Option<usize> {
    let ends = line.match_indices([' ', ',', '\t', '\u{a0}']).map(|(at, _)| at);
    let ends: Vec<usize> = ends.take(MOST_WORDS + 1).collect();
    if ends.len() > MOST_WORDS {
        return None;
    }
    ends.into_iter().rev().filter(|end| *end > 0).find(|end| line.get(..*end).is_some_and(reads))
}

/// Whether a text reads as one line, with all its figures.
fn reads(text: &str) -> bool {
    let ready = format!("{text}\n");
    let Some(nodes) = parse_lines(Rule::line_alone, &ready, 0) else { return false };
    let leaves = Leaves::new(&ready);
    let Some(line) = Siblings::of(&nodes).next().and_then(|whole| { whole }.inner.next()) else { return false };
    match line.node.rule {
        Rule::detail => lower_detail(leaves, line).is_ok(),
        Rule::entry => lower_head(leaves, line).is_ok(),
        Rule::definition => lower_definition(leaves, line).1.is_none(),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::strict_line;

    #[test]
    fn the_longest_beginning_that_reads_is_found() {
        for (line, reads) in [
            ("31.5 bf red-oak 5.90", "31.5 bf red-oak"),
            ("freight 18.00 by value", "freight 18.00"),
            ("45m sanding PC-014", "45m sanding"),
            ("paid 2026-03-05 to ridgeline-lumber 85.00 for booth-fee", "paid 2026-03-05 to ridgeline-lumber"),
            ("12 cutting-board, 7 back, 3 at60.00", "12 cutting-board, 7 back"),
            ("built 2026-03-09 PC-014", "built 2026-03-09"),
            ("sold 2026-03-20 via web-page ordr W-1", "sold 2026-03-20 via web-page"),
        ] {
            assert_eq!(strict_line(line).and_then(|end| line.get(..end)), Some(reads), "{line}");
        }
    }

    #[test]
    fn a_line_of_which_nothing_reads_has_no_column() {
        assert_eq!(strict_line("nonsense of a kind"), None);
        assert_eq!(strict_line(""), None);
        assert_eq!(strict_line(&"a ".repeat(1000)), None);
    }
}
