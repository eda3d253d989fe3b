//! A bare line of a batch that says what went wrong: `2 cracked`, `2 mugs cracked`, `1 broken mug`.

use crate::diagnostics::Diagnostic;
use crate::sources::SourceSet;
use crate::syntax::placement_errors as told;
use crate::syntax::{AmountKind, Detail, DetailKind, Entry, ListWord};

/// What is said of a piece that is no good.
const SPOILED: [&str; 20] = [
    "cracked",
    "broken",
    "broke",
    "split",
    "ruined",
    "spoiled",
    "spoilt",
    "burnt",
    "burned",
    "chipped",
    "warped",
    "failed",
    "bad",
    "torn",
    "scrapped",
    "dropped",
    "lost",
    "wasted",
    "defective",
    "rejected",
];

/// Tells of such a line, with `lost` and the piece: the one that it names, else the only one that the batch makes.
pub(super) fn spoiled_in_batch(sources: &SourceSet, entry: &Entry, detail: &Detail, indent: &str) -> Option<Diagnostic> {
    let words: Vec<&str> = sources.text(detail.span).split_whitespace().collect();
    let is_bad = |word: &str| SPOILED.contains(&word);
    let (count, piece, how) = match *words.as_slice() {
        [count, how] if is_bad(how) => (count, only_made(sources, entry).unwrap_or("NAME"), how),
        [count, piece, how] if is_bad(how) => (count, piece, how),
        [count, how, piece] if is_bad(how) => (count, piece, how),
        _ => return None,
    };
    Some(told::spoiled_in_batch(detail.span, (count, piece, how), indent))
}

/// The only thing that the entry says was made.
fn only_made<'s>(sources: &'s SourceSet, entry: &Entry) -> Option<&'s str> {
    let mut made = entry.details.iter().filter_map(|detail| match &detail.kind {
        DetailKind::Items(ListWord::Made, items) => Some(items),
        _ => None,
    });
    match (made.next()?.as_slice(), made.next()) {
        ([one], None) if !matches!(one.amount.kind, AmountKind::Time) => {
            Some(sources.text(one.name)).filter(|name| !name.is_empty())
        }
        _ => None,
    }
}
