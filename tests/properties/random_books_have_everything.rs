//! The random books are no empty talk: in a few hundred of them every kind of entry and line stands, and often enough.

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

use crate::random_book::any_book;

/// Heads and lines that must stand in some books, each by its first words or by a part of it.
const HEADS: [&str; 28] = [
    "opened",
    "changed",
    "bought",
    "paid",
    "built",
    "started",
    "continued",
    "finished",
    "worked",
    "sold",
    "received",
    "sent",
    "brought-back",
    "returned",
    "sent-back",
    "credited",
    "counted",
    "took-home",
    "gave",
    "scrapped",
    "used-up",
    "found",
    "contributed",
    "swapped",
    "drove",
    "retired",
    "noted",
    "scrapped 2",
];
const LINES: [&str; 64] = [
    "freight ",
    "shared by quantity",
    "shared by value",
    "sales-tax ",
    "discount ",
    "discount 7.5%",
    "counted ",
    " boards oak",
    "unpaid",
    "paid ",
    "credit ",
    "licence",
    " for home",
    " for supplies",
    "1 saw for",
    " on batch ",
    ", lot ",
    " lot ",
    "used as planned",
    "took as planned",
    " as planned",
    "aims at",
    "the rest 35%",
    "the rest 0%",
    "nothing else",
    "charged off",
    "lost ",
    "kept ",
    " worth ",
    "share 3",
    "shared by price",
    "shared by count",
    "made nothing",
    "made 1 jig",
    " pin",
    "by sam",
    "by jamie at",
    "by \"Lee\" for",
    "needs ",
    "takes ",
    "wears ",
    "price ",
    "costing ",
    "overhead ",
    "owner time ",
    "shipping ",
    "postage ",
    "packed with",
    "fee ",
    "extra fee",
    "for engraving",
    " back",
    "card ",
    "over ",
    "short ",
    "back to stock",
    ", scrapped",
    "left with buyer",
    "fee back",
    "as credit",
    "refunded ",
    "1 EUR = 1.",
    "gave 1",
    "got ",
];

/// What must stand in some entries of a kind.
const SAID: [(&str, &str); 6] = [
    ("opened", " at "),
    ("counted", " lot "),
    ("returned", " via "),
    ("sold", "1 EUR = "),
    ("bought", "1 EUR = "),
    ("received", "1 EUR = "),
];

#[test]
fn every_kind_of_entry_and_line_stands_in_some_random_books() {
    let mut runner = TestRunner::deterministic();
    let mut heads = [0u32; HEADS.len()];
    let mut lines = [0u32; LINES.len()];
    let mut said = [0u32; SAID.len()];
    let (mut entries, mut over_a_year_end, mut via_all) = (0usize, 0u32, std::collections::BTreeSet::new());
    for _ in 0..200 {
        let book = any_book(1..120).new_tree(&mut runner).expect("a book").current();
        entries += book.entries.len();
        let days = book.days();
        if days.first().and_then(|day| day.get(..4)) != days.last().and_then(|day| day.get(..4)) {
            over_a_year_end += 1;
        }
        for block in &book.entries {
            for (count, head) in heads.iter_mut().zip(HEADS) {
                *count += u32::from(block.head.starts_with(head));
            }
            if let Some((_, channel)) = block.head.split_once(" via ").filter(|_| block.head.starts_with("sold")) {
                via_all.insert(channel.split(' ').next().unwrap_or_default().to_owned());
            }
            for (count, (verb, part)) in said.iter_mut().zip(SAID) {
                let is_so = |text: &String| text.contains(part);
                *count += u32::from(block.head.starts_with(verb) && (is_so(&block.head) || block.lines.iter().any(is_so)));
            }
            for (count, wanted) in lines.iter_mut().zip(LINES) {
                *count += u32::from(block.lines.iter().any(|line| line.contains(wanted)));
            }
        }
    }
    let rare = |counts: &[u32], names: &[&str]| -> Vec<String> {
        counts.iter().zip(names).filter(|(count, _)| **count < 10).map(|(count, name)| format!("{name}: {count}")).collect()
    };
    let missing = [rare(&heads, &HEADS), rare(&lines, &LINES), rare(&said, &SAID.map(|(verb, _)| verb))].concat();
    assert!(missing.is_empty(), "hardly ever written: {missing:?}");
    assert!(entries > 200 * 40, "{entries} entries in 200 books");
    assert!(over_a_year_end > 40, "{over_a_year_end} of 200 books go over a year's end");
    assert_eq!(via_all.len(), 6, "{via_all:?}");
}
