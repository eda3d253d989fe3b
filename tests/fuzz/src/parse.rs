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
    let told = found.iter().map(|one| one.primary.span.range().start);
    let mut starts: Vec<usize> = kept(&syntax).iter().map(|span| span.range().start).chain(told.clone()).collect();
    starts.sort_unstable();
    let heads = syntax.entries.iter().map(|one| one.head).chain(syntax.definitions.iter().map(|one| one.head));
    let heads: Vec<usize> = heads.map(|head| head.range().start).collect();
    for file in sources.files() {
        let file = file.span.range();
        let first_head = heads.iter().copied().filter(|at| file.contains(at)).min().unwrap_or(file.end);
        // What stands above all heads of a file belongs to nothing. It is told, but not line by line.
        let above = whole[file.start..first_head].split_inclusive('\n').any(says_something);
        assert!(!above || told.clone().any(|at| (file.start..first_head).contains(&at)), "nothing told above the first head");
        let mut at = first_head;
        for line in whole[first_head..file.end].split_inclusive('\n') {
            let first = starts.partition_point(|start| *start < at);
            let is_kept = starts.get(first).is_some_and(|start| *start < at + line.len());
            assert!(is_kept || !says_something(line), "lost: {line:?}");
            at += line.len();
        }
    }
    let _ = render_text(&sources, &found, TextStyle::default());
    let _ = render_short(&sources, &found);
    let _ = render_json(&sources, &found);
}

/// Whether a line is more than blanks and a comment.
fn says_something(line: &str) -> bool {
    let bare = line.trim_matches([' ', '\t', '\u{a0}', '\u{202f}', '\n']);
    !bare.is_empty() && !bare.starts_with('#')
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
