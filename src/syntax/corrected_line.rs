//! Whether a line reads, whole and without a mistake: a corrected line is offered only where it does.
//!
//! The line is parsed on its own, as the grammar and the lowering would read it in a book.

use crate::syntax::grammar::Rule;
use crate::syntax::lower_definition::lower_definition;
use crate::syntax::lower_detail::lower_detail;
use crate::syntax::lower_head::lower_head;
use crate::syntax::lower_leaf::Leaves;
use crate::syntax::nodes::{Branch, Siblings, parse_lines};

/// Whether a text reads. The first line is a head where `head` is true, all others are lines of its block.
pub(crate) fn reads(text: &str, head: bool) -> bool {
    let mut block = String::with_capacity(text.len() + 8);
    for (at, line) in text.lines().enumerate() {
        let line = line.trim_start();
        block.push_str(if head && at == 0 { "" } else { "    " });
        block.push_str(line);
        block.push('\n');
    }
    let Some(nodes) = parse_lines(Rule::piece, &block, 0) else { return false };
    let Some(piece) = Siblings::of(&nodes).next() else { return false };
    let lines: Vec<_> = piece.inner.filter(|line| line.node.rule != Rule::EOI).collect();
    let leaves = Leaves::new(&block);
    let expected = block.lines().filter(|line| !line.trim_start().is_empty() && !line.trim_start().starts_with('#')).count();
    lines.len() == expected && lines.into_iter().enumerate().all(|(at, line)| line_reads(leaves, line, head && at == 0))
}

fn line_reads(leaves: Leaves<'_>, line: Branch<'_>, head: bool) -> bool {
    match line.node.rule {
        Rule::entry => head && lower_head(leaves, line).is_ok(),
        Rule::definition => head && lower_definition(leaves, line).1.is_none(),
        Rule::detail => !head && lower_detail(leaves, line).is_ok(),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::reads;

    #[test]
    fn a_line_reads_where_the_book_would_read_it() {
        for detail in ["31.5 bf red-oak at 5.90", "paid 2026-03-30", "note \"x\" # y", "2 pull-cart\ndiscount 10%", "# only this"]
        {
            assert!(reads(detail, false), "{detail}");
        }
        for head in
            ["sold 2026-03-20 via web-page", "material red-oak \"Red oak\"", "paid 2026-03-05 to ada\n85.00 for booth-fee"]
        {
            assert!(reads(head, true), "{head}");
        }
    }

    #[test]
    fn a_line_does_not_read_where_it_is_damaged_or_stands_elsewhere() {
        for detail in ["31.5 bf red oak dry", "at 5", "1/3 ea x", "sold 2026-03-20 via web-page", "2 pull-cart\n$5", ""] {
            assert!(!reads(detail, false) || detail.is_empty(), "{detail}");
        }
        for head in ["sold 2026-02-30 via x", "31.5 bf red-oak", "material x", "sodl 2026-03-20"] {
            assert!(!reads(head, true), "{head}");
        }
    }
}
