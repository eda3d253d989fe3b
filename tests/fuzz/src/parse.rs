//! Parsing: no panic, every finding at a place of the text, and every line that says something is kept in a block or told.

use kerfbook::diagnostics::{Diagnostics, TextStyle, render_json, render_short, render_text};
use kerfbook::sources::{SourceSet, Span};
use kerfbook::syntax::{SyntaxFile, parse_book};

/// Parses the bytes as a book of one file, and of two where they have a zero byte.
pub fn parse(bytes: &[u8]) {
    let files: Vec<String> = bytes.splitn(2, |byte| *byte == 0).map(super::as_text).collect();
    let mut sources = SourceSet::default();
    for (at, text) in files.iter().enumerate() {
        sources.add(format!("{at}.kerf"), text).expect("short texts fit");
    }
    let mut found = Diagnostics::default();
    let syntax = parse_book(&sources, &mut found);
    let found = found.into_sorted();
    let whole = sources.whole();
    for one in &found {
        let labels = one.secondary.iter().map(|label| label.span);
        let spans = labels.chain(one.fixes.iter().map(|fix| fix.span)).chain([one.primary.span]);
        for span in spans {
            assert!(span.start <= span.end && whole.get(span.range()).is_some(), "{one:?}");
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
            assert!(starts.get(first).is_some_and(|start| *start < at + line.len()), "lost: {line:?}");
        }
        at += line.len();
    }
    let _ = render_text(&sources, &found, TextStyle::default());
    let _ = render_short(&sources, &found);
    let _ = render_json(&sources, &found);
}

/// All spans of heads, details and unread lines.
fn kept(syntax: &SyntaxFile) -> Vec<Span> {
    let mut spans = Vec::new();
    for one in &syntax.entries {
        spans.push(one.head);
        spans.extend(one.details.iter().map(|detail| detail.span).chain(one.unread.iter().copied()));
    }
    for one in &syntax.definitions {
        spans.push(one.head);
        spans.extend(one.details.iter().map(|detail| detail.span).chain(one.unread.iter().copied()));
    }
    spans
}
