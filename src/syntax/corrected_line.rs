//! Whether a line reads, whole and without a mistake, and may stand where it is: a corrected line is offered only where it does.
//!
//! The line is parsed on its own, as the grammar and the lowering would read it in a book, and held against the placement table
//! as a line of its block.

use crate::syntax::grammar::Rule;
use crate::syntax::line_context::BlockWord;
use crate::syntax::lower_definition::lower_definition;
use crate::syntax::lower_detail::lower_detail;
use crate::syntax::lower_head::lower_head;
use crate::syntax::lower_leaf::Leaves;
use crate::syntax::nodes::{Branch, Siblings, parse_lines};
use crate::syntax::placement::may_stand;
use crate::syntax::unread_line::known_head;

/// Whether a text reads. The first line is a head where `head` is true, and all others are lines of its block; else all are lines
/// of `block`, or of any where that is not known.
pub(crate) fn reads(text: &str, head: bool, block: Option<BlockWord>) -> bool {
    let block = if head { known_head(text) } else { block };
    let mut ready = String::with_capacity(text.len() + 8);
    for (at, line) in text.lines().enumerate() {
        let line = line.trim_start();
        ready.push_str(if head && at == 0 { "" } else { "    " });
        ready.push_str(line);
        ready.push('\n');
    }
    let Some(nodes) = parse_lines(Rule::piece, &ready, 0) else { return false };
    let Some(piece) = Siblings::of(&nodes).next() else { return false };
    let lines: Vec<_> = piece.inner.filter(|line| line.node.rule != Rule::EOI).collect();
    let leaves = Leaves::new(&ready);
    let expected = ready.lines().filter(|line| !line.trim_start().is_empty() && !line.trim_start().starts_with('#')).count();
    lines.len() == expected
        && lines
            .into_iter()
            .enumerate()
            .all(|(at, line)| if head && at == 0 { head_reads(leaves, line) } else { line_reads(leaves, line, block) })
}

fn head_reads(leaves: Leaves<'_>, line: Branch<'_>) -> bool {
    match line.node.rule {
        Rule::entry => lower_head(leaves, line).is_ok(),
        Rule::definition => lower_definition(leaves, line).1.is_none(),
        _ => false,
    }
}

fn line_reads(leaves: Leaves<'_>, line: Branch<'_>, block: Option<BlockWord>) -> bool {
    let Some((detail, second)) =
        Some(line).filter(|line| line.node.rule == Rule::detail).and_then(|line| lower_detail(leaves, line).ok())
    else {
        return false;
    };
    let stands = |kind| block.is_none_or(|block| may_stand(block, kind));
    stands(&detail.kind) && second.as_ref().is_none_or(|second| stands(&second.kind))
}

#[cfg(test)]
mod tests {
    use super::reads;
    use crate::syntax::Verb;
    use crate::syntax::line_context::BlockWord;

    #[test]
    fn a_line_reads_where_the_book_would_read_it() {
        for detail in ["31.5 bf red-oak at 5.90", "paid 2026-03-30", "note \"x\" # y", "2 pull-cart\ndiscount 10%", "# only this"]
        {
            assert!(reads(detail, false, None), "{detail}");
        }
        for head in
            ["sold 2026-03-20 via web-page", "material red-oak \"Red oak\"", "paid 2026-03-05 to ada\n85.00 for booth-fee"]
        {
            assert!(reads(head, true, None), "{head}");
        }
    }

    #[test]
    fn a_line_does_not_read_where_it_is_damaged_or_stands_elsewhere() {
        for detail in ["31.5 bf red oak dry", "at 5", "1/3 ea x", "sold 2026-03-20 via web-page", "2 pull-cart\n$5", ""] {
            assert!(!reads(detail, false, None) || detail.is_empty(), "{detail}");
        }
        for head in ["sold 2026-02-30 via x", "31.5 bf red-oak", "material x", "sodl 2026-03-20"] {
            assert!(!reads(head, true, None), "{head}");
        }
    }
    #[test]
    fn a_line_does_not_read_where_its_block_may_not_have_it() {
        let reads_in = |verb, line| reads(line, false, Some(BlockWord::Entry(verb)));
        assert!(reads_in(Verb::Sold, "3 pull-cart at 42.00") && !reads_in(Verb::Counted, "3 pull-cart at 42.00"));
        assert!(reads_in(Verb::Paid, "85.00 for booth-fee") && !reads_in(Verb::Paid, "hours 12.00 per week"));
        assert!(reads_in(Verb::Built, "made 3 pull-cart, shared by count") && !reads_in(Verb::Built, "3 pull-cart"));
        assert!(reads("paid 2026-03-05 to ada\n85.00 for booth-fee", true, None));
        assert!(!reads("paid 2026-03-05 to ada\n2 pull-cart at 42.00", true, None));
    }
}
