//! Any text parses: no panic, no line lost in silence, every finding at a place of the text.

use kerfbook::diagnostics::{Diagnostic, Diagnostics};
use kerfbook::sources::{SourceSet, Span};
use kerfbook::syntax::{SyntaxFile, parse_book};
use proptest::prelude::*;

use crate::how_many::books;

/// Words of the language and what people type beside them.
const SOUP: [&str; 119] = [
    "shop",
    "material",
    "product",
    "line",
    "pattern",
    "step",
    "channel",
    "tool",
    "choices",
    "place",
    "sold",
    "bought",
    "built",
    "paid",
    "gave",
    "worked",
    "sent",
    "sent-back",
    "brought-back",
    "opened",
    "closed",
    "statement",
    "changed",
    "drove",
    "noted",
    "used",
    "took",
    "made",
    "lost",
    "kept",
    "needs",
    "takes",
    "wears",
    "aims",
    "at",
    "packed",
    "with",
    "got",
    "for",
    "from",
    "to",
    "by",
    "via",
    "on",
    "batch",
    "lot",
    "order",
    "orders",
    "receipt",
    "owed",
    "off",
    "home",
    "workshop",
    "share",
    "shared",
    "worth",
    "refunded",
    "as",
    "credit",
    "per",
    "certificate",
    "counted",
    "meant",
    "already",
    "recovered",
    "the",
    "rest",
    "back",
    "stock",
    "scrapped",
    "left",
    "buyer",
    "charged",
    "planned",
    "sales-tax",
    "included",
    "allowed",
    "fee",
    "extra",
    "of",
    "total",
    "goods",
    "freight",
    "discount",
    "value",
    "x",
    "×",
    "=",
    "1",
    "12",
    "0.80",
    "1/2",
    "5/4",
    "61/2",
    "1/3",
    "3%",
    "35%",
    "1h",
    "48m",
    "45m",
    "6h",
    "2026-03-02",
    "2026-02-29",
    "2026",
    "bf",
    "sq",
    "ft",
    "in",
    "ea",
    "h",
    "min",
    "m",
    "cart",
    "wheel-40",
    "red-oak-4/4",
    "\"a text\"",
    "“curly”",
    "\"",
    "licence",
];

fn parsed(texts: &[&str]) -> (SourceSet, SyntaxFile, Vec<Diagnostic>) {
    let mut sources = SourceSet::default();
    for (at, text) in texts.iter().enumerate() {
        sources.add(format!("{at}.kerf"), text).expect("a short text fits");
    }
    let mut found = Diagnostics::default();
    let syntax = parse_book(&sources, &mut found);
    (sources, syntax, found.into_sorted())
}

/// All spans of heads, details and unread lines.
fn kept(syntax: &SyntaxFile) -> Vec<Span> {
    let entries = syntax.entries.iter().map(|one| (one.head, &one.details, &one.unread));
    let definitions = syntax.definitions.iter().map(|one| (one.head, &one.details, &one.unread));
    entries
        .chain(definitions)
        .flat_map(|(head, details, unread)| {
            std::iter::once(head).chain(details.iter().map(|one| one.span)).chain(unread.iter().copied()).collect::<Vec<_>>()
        })
        .collect()
}

/// Every finding lies in the text, at whole characters, and every line that says something is kept or told.
fn check(texts: &[&str]) {
    let (sources, syntax, found) = parsed(texts);
    let whole = sources.whole();
    for one in &found {
        let places = std::iter::once(one.primary.span)
            .chain(one.secondary.iter().map(|label| label.span))
            .chain(one.fixes.iter().map(|fix| fix.span));
        for span in places {
            assert!(span.start <= span.end && whole.get(span.range()).is_some(), "{one:?} in {whole:?}");
        }
    }
    let mut starts: Vec<usize> = kept(&syntax).iter().map(|span| span.range().start).collect();
    starts.extend(found.iter().map(|one| one.primary.span.range().start));
    starts.sort_unstable();
    let mut at = 0;
    for line in whole.split_inclusive('\n') {
        let bare = line.trim_matches([' ', '\t', '\u{a0}', '\u{202f}', '\n']);
        if !bare.is_empty() && !bare.starts_with('#') {
            let first = starts.partition_point(|start| *start < at);
            assert!(starts.get(first).is_some_and(|start| *start < at + line.len()), "lost: {line:?} of {whole:?}");
        }
        at += line.len();
    }
}

/// A book of words thrown together, with a head before all else.
pub(crate) fn soup() -> impl Strategy<Value = String> {
    let word = prop_oneof![8 => prop::sample::select(&SOUP[..]).prop_map(str::to_owned), 1 => "\\PC{0,6}"];
    let gap = prop_oneof![12 => Just(" "), 2 => Just(", "), 1 => Just("\t"), 1 => Just("\u{a0}"), 1 => Just(""), 1 => Just("#"), 1 => Just(",")];
    let line = (prop::bool::weighted(0.7), prop::collection::vec((word, gap), 0..9)).prop_map(|(indented, words)| {
        let mut line = String::from(if indented { "    " } else { "" });
        for (word, gap) in words {
            line.push_str(&word);
            line.push_str(gap);
        }
        line
    });
    prop::collection::vec(line, 0..20).prop_map(|lines| format!("shop \"A shop\"\n{}\n", lines.join("\n")))
}

proptest! {
    #![proptest_config(books(256))]

    #[test]
    fn any_text_parses(text in "\\PC{0,200}", more in "(?s).{0,80}") {
        check(&[&format!("shop \"A\"\n{}\n{}", text.replace('\r', ""), more.replace('\r', ""))]);
    }

    #[test]
    fn any_bytes_parse(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let text = String::from_utf8_lossy(&bytes).replace('\r', " ");
        let (_, syntax, found) = parsed(&[&text]);
        prop_assert!(found.len() <= text.lines().count() + 1);
        prop_assert!(syntax.entries.len() + syntax.definitions.len() <= text.lines().count());
    }

    #[test]
    fn any_soup_of_words_parses_and_no_line_is_lost(text in soup()) {
        check(&[&text]);
    }

    #[test]
    fn a_book_cut_before_a_head_gives_the_same_blocks(first in soup(), second in soup()) {
        check_cut(&first, &second);
    }
}

/// Two texts give the same blocks and the same lines are told, in one file and in two.
fn check_cut(first: &str, second: &str) {
    let (one_sources, one, one_found) = parsed(&[&format!("{first}{second}")]);
    let (two_sources, two, two_found) = parsed(&[first, second]);
    let texts = |sources: &SourceSet, syntax: &SyntaxFile| -> Vec<String> {
        kept(syntax).iter().map(|span| sources.text(*span).to_owned()).collect()
    };
    assert_eq!(texts(&one_sources, &one), texts(&two_sources, &two));
    // A finding may use the day of an entry above it in its file; the line that is told may not depend on the file.
    let lines = |found: &[Diagnostic]| -> Vec<usize> {
        let line = |at: usize| one_sources.whole().bytes().take(at).filter(|b| *b == b'\n').count();
        found.iter().map(|one| line(one.primary.span.range().start)).collect()
    };
    assert_eq!(lines(&one_found), lines(&two_found));
    assert_eq!(one_sources.whole(), two_sources.whole());
}

#[test]
fn a_shop_with_a_day_for_its_title_changes_nothing_in_the_next_file() {
    for (first, second) in [
        ("shop \"A shop\"\nshop 2026-03-02\n", "shop \"A shop\"\nsold shop shop\n"),
        ("shop \"A shop\"\n", "shop \"A shop\"\nshop 2026-03-02\nsold shop shop\n"),
        ("shop \"A shop\"\nshop 2026-03-02\nsold shop shop\n", "shop \"A shop\"\n"),
        ("shop \"A shop\"\nshop 2026-03-02\nsold shop shop\nshop \"A shop\"\n", "shop \"A shop\"\nsold shop shop\n"),
    ] {
        check_cut(first, second);
        // Not only the same lines: a shop has no day that another file could lend.
        let words = |texts: &[&str]| -> Vec<String> { parsed(texts).2.iter().map(|one| one.message.clone()).collect() };
        assert_eq!(words(&[&format!("{first}{second}")]), words(&[first, second]));
    }
}

#[test]
fn ten_megabytes_in_one_line_are_told_and_not_read() {
    for part in ["1", "1 a, ", "\"a\" ", "“", "# ", "é", " "] {
        let line = part.repeat(10_000_000 / part.len());
        for indent in ["", "    used "] {
            let text = format!("built 2026-03-09 batch B\n    used 1 oak\n{indent}{line}\n    made 1 cart\n");
            let (_, syntax, found) = parsed(&[&text]);
            let says_nothing = indent.trim().is_empty() && matches!(part, "# " | " ");
            assert_eq!(found.len(), usize::from(!says_nothing), "{indent}{part}");
            assert_eq!(syntax.entries.first().map(|entry| entry.details.len()), Some(2), "{indent}{part}");
        }
    }
}

#[test]
fn lines_up_to_the_longest_are_read_without_much_ado() {
    let list = vec!["1 oak lot L-1"; 4000].join(", ");
    let (_, syntax, found) = parsed(&[&format!("built 2026-03-09 batch B\n    used {list}\n")]);
    assert_eq!(found, []);
    assert_eq!(syntax.entries.first().map(|entry| entry.details.len()), Some(1));
    for part in ["1", "1 a, ", "a ", "\"", "1 x ", "1/2 ", ",", "é ", "1h ", "used ", "1 1 "] {
        let line = part.repeat(60_000 / part.len());
        check(&[&format!("shop \"A\"\n    {line}\n{line}\n    used {line}\nsold 2026-03-20 {line}\n")]);
    }
}

#[test]
fn a_hundred_thousand_entries_of_one_day_and_one_entry_of_as_many_lines_are_read() {
    let many = "sold 2026-03-20 via fair\n    1 cart for 5.00\n".repeat(100_000);
    let (_, syntax, found) = parsed(&[&many]);
    assert_eq!((found.len(), syntax.entries.len()), (0, 100_000));
    let long = format!("sold 2026-03-20 via fair\n{}", "    1 cart for 5.00\n".repeat(100_000));
    let (_, syntax, found) = parsed(&[&long]);
    assert_eq!((found.len(), syntax.entries.first().map(|entry| entry.details.len())), (0, Some(100_000)));
}
