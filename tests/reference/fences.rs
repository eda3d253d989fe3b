//! The fenced blocks of a Markdown page that hold examples, and what their fences promise.

use std::collections::BTreeSet;

/// What a fence promises.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Promise {
    /// `kerf preamble`: a part of the book on which the others stand.
    Preamble,
    /// `kerf`, `kerf book`, with `warns K930`: no mistakes, and no warnings but those.
    Compiles {
        /// Whether it is a whole book.
        alone: bool,
        /// The warnings that it must bring.
        warns: BTreeSet<String>,
    },
    /// `kerf wrong K203`: these mistakes and no others.
    Wrong(BTreeSet<String>),
}

/// A block.
pub(crate) struct Block {
    /// The line of its fence.
    pub(crate) line: usize,
    /// What its fence promises.
    pub(crate) promise: Promise,
    /// Its text.
    pub(crate) text: String,
}

/// Every block of a page that is fenced as `kerf`.
pub(crate) fn blocks(page: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    let mut other = false;
    for (number, line) in page.lines().enumerate() {
        let fence = line.strip_prefix("```");
        match (&mut open, fence) {
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (Some(block), None) => {
                block.text.push_str(line);
                block.text.push('\n');
            }
            (None, Some(info)) if !other => match promise(info, number + 1) {
                Some(promise) => open = Some(Block { line: number + 1, promise, text: String::new() }),
                None => other = true,
            },
            (None, Some(_)) => other = false,
            (None, None) => {}
        }
    }
    assert!(open.is_none() && !other, "a fence is never closed");
    blocks
}

fn promise(info: &str, line: usize) -> Option<Promise> {
    let mut words = info.split_whitespace();
    if words.next() != Some("kerf") {
        return None;
    }
    let rest: Vec<_> = words.collect();
    let codes = |codes: &[&str]| codes.iter().map(|code| (*code).to_owned()).collect::<BTreeSet<_>>();
    Some(match rest.as_slice() {
        ["preamble"] => Promise::Preamble,
        [] => Promise::Compiles { alone: false, warns: BTreeSet::new() },
        ["book"] => Promise::Compiles { alone: true, warns: BTreeSet::new() },
        ["warns", rest @ ..] if !rest.is_empty() => Promise::Compiles { alone: false, warns: codes(rest) },
        ["book", "warns", rest @ ..] if !rest.is_empty() => Promise::Compiles { alone: true, warns: codes(rest) },
        ["wrong", rest @ ..] if !rest.is_empty() => Promise::Wrong(codes(rest)),
        _ => panic!("line {line}: a fence says `{info}`"),
    })
}

#[test]
fn blocks_are_found_with_what_their_fences_promise() {
    let page = "a\n```kerf book\nx\n  y\n```\n```text\n```\n```kerf wrong K203 K204\nz\n```\n";
    let found = blocks(page);
    assert_eq!(found.len(), 2);
    assert_eq!((found[0].line, found[0].text.as_str()), (2, "x\n  y\n"));
    assert_eq!(found[0].promise, Promise::Compiles { alone: true, warns: BTreeSet::new() });
    assert_eq!(found[1].promise, Promise::Wrong(["K203".to_owned(), "K204".to_owned()].into()));
}
