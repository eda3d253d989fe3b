//! The stages of `check`, on text that is in memory.

use std::time::Instant;

use kerfbook::costing::{CostOptions, CostedBook, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::events::{EventLog, build_events};
use kerfbook::names::{ResolvedBook, resolve_book};
use kerfbook::sources::SourceSet;
use kerfbook::syntax::{SyntaxFile, parse_book};

fn sources(text: &str) -> SourceSet {
    let mut sources = SourceSet::default();
    sources.add("book.kerf", text).expect("under four gigabytes");
    sources
}

/// Parses and lowers.
pub(crate) fn parse(text: &str) {
    let sources = sources(text);
    std::hint::black_box(parse_book(&sources, &mut Diagnostics::default()));
}

/// The syntax tree, and the set that its spans are of.
pub(crate) fn tree(text: &str) -> (SourceSet, SyntaxFile) {
    let sources = sources(text);
    let mut found = Diagnostics::default();
    let tree = parse_book(&sources, &mut found);
    assert!(found.as_slice().is_empty(), "the generated book reads");
    (sources, tree)
}

/// The whole check.
pub(crate) fn check(text: &str) {
    stages(text);
}

/// The whole check, stage by stage, in nanoseconds.
pub(crate) fn stages(text: &str) -> Vec<(&'static str, u128)> {
    let mut found = Diagnostics::default();
    let mut taken = Vec::new();
    let mut last = Instant::now();
    let mut lap = |stage: &'static str| {
        taken.push((stage, last.elapsed().as_nanos()));
        last = Instant::now();
    };
    let sources = sources(text);
    lap("laying the files end to end");
    let syntax = parse_book(&sources, &mut found);
    lap("parsing and lowering");
    let book = resolve_book(&sources, &syntax, &mut found);
    lap("names");
    let log = build_events(&sources, syntax, &book, None, &|_| true, &mut found);
    lap("events");
    let costed =
        cost_book(&log, &book, &CostOptions { keep_journal: false, keep_stock: false, ..CostOptions::default() }, &mut found);
    lap("costing");
    assert!(!found.has_errors(), "the generated book has no mistakes: {:?}", found.as_slice().first());
    assert!(costed.proof.holds(), "the proof holds");
    drop((log, book, costed, sources));
    lap("letting the rest go");
    taken
}

/// A book up to its events.
pub(crate) struct UpToEvents {
    log: EventLog,
    book: ResolvedBook,
}

/// Takes a book up to its events.
pub(crate) fn up_to_events(text: &str) -> UpToEvents {
    let (sources, syntax) = tree(text);
    let mut found = Diagnostics::default();
    let book = resolve_book(&sources, &syntax, &mut found);
    let log = build_events(&sources, syntax, &book, None, &|_| true, &mut found);
    UpToEvents { log, book }
}

/// Costs a book with its journal, and with the trace or without.
pub(crate) fn cost(events: &UpToEvents, keep_trace: bool) -> CostedBook {
    let options = CostOptions { keep_journal: true, keep_trace, ..CostOptions::default() };
    let costed = cost_book(&events.log, &events.book, &options, &mut Diagnostics::default());
    assert!(costed.proof.holds(), "the proof holds");
    costed
}
