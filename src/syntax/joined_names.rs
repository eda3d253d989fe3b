//! A name written as several words or in quotes: the name that is offered for it is one that the book defines.
//!
//! In: what the table of slips said, which knows no name, and all definitions and batches of the book. Out: the same findings,
//! with the joined name where it is defined, else with near ones that are, else with none. Must not: touch any other finding.

use rustc_hash::FxHashSet;

use crate::diagnostics::{Diagnostic, Diagnostics, Fix, corrected_lines, near_names};
use crate::sources::SourceSet;
use crate::syntax::slip_errors::{HEAD_PART_WORD, NAME_SPELLING};
use crate::syntax::words::is_name;
use crate::syntax::{HeadPart, SyntaxFile};

/// How many names are offered of which one is a part of the other.
const MOST: usize = 3;

/// Goes over the findings of the table of slips.
pub(crate) fn offer_defined_names(sources: &SourceSet, syntax: &SyntaxFile, found: &mut Diagnostics) {
    let mut names: Option<FxHashSet<String>> = None;
    found.revise(|told| {
        if let Some(joined) = joined_name(sources, told) {
            let names = names.get_or_insert_with(|| defined_names(sources, syntax));
            offer(sources, told, &joined, names);
        }
    });
}

/// The one name that a finding joined of what was written; `None` for any other finding.
fn joined_name(sources: &SourceSet, told: &Diagnostic) -> Option<String> {
    let written = sources.text(told.primary.span);
    let joined = written.trim_matches(['"', '\u{201C}', '\u{201D}', '\u{201E}']).split_whitespace().collect::<Vec<_>>().join("-");
    let says_so = told.message.ends_with(&format!("`{joined}`"));
    let of_names =
        told.code == NAME_SPELLING || told.code == HEAD_PART_WORD && told.message.contains("a name, which is one word");
    (of_names && says_so && is_name(&joined) && !told.fixes.is_empty()).then_some(joined)
}

/// All that has a name: what is defined, what a damaged definition probably defines, and the batches.
fn defined_names(sources: &SourceSet, syntax: &SyntaxFile) -> FxHashSet<String> {
    let mut names: FxHashSet<String> = FxHashSet::default();
    for definition in &syntax.definitions {
        names.insert(sources.text(definition.name).to_owned());
        if definition.damaged {
            let words = sources.text(definition.head).split_whitespace().skip(1);
            let words: Vec<&str> = words.take_while(|word| !word.starts_with(['"', '\u{201C}'])).collect();
            names.insert(words.join("-"));
        }
    }
    for entry in &syntax.entries {
        names.extend(entry.parts.iter().filter_map(|(part, _)| match part {
            HeadPart::Batch(code) => Some(sources.text(*code).to_owned()),
            _ => None,
        }));
    }
    names
}

fn offer(sources: &SourceSet, told: &mut Diagnostic, joined: &str, names: &FxHashSet<String>) {
    // A correction that parts the words (`sanding on stool`) is one only where each of them is a name.
    let parts = sources.text(told.primary.span).split_whitespace().all(|word| names.contains(word));
    let (mut lines, parted): (Vec<_>, Vec<_>) = told
        .fixes
        .drain(..)
        .map(|fix| (corrected_lines(sources, &fix), fix))
        .partition(|(line, _)| line.text.split([' ', ',', '\n']).any(|word| word == joined));
    let parted = parted.into_iter().map(|(_, fix)| fix).filter(|_| parts);
    if names.contains(joined) {
        told.fixes.extend(lines.into_iter().map(|(_, fix)| fix).chain(parted));
        return;
    }
    told.fixes.extend(parted);
    if !told.fixes.is_empty() {
        lines.clear();
    }
    let mut known: Vec<&str> = names.iter().map(String::as_str).collect();
    known.sort_unstable();
    let mut meant = near_names(joined, known.iter().copied());
    if meant.is_empty() {
        // `hard maple` where there is but `maple`, `"oak"` where there is but `red-oak`; the longest first.
        let within = |whole: &str, part: &str| format!("-{whole}-").contains(&format!("-{part}-"));
        meant = known.iter().copied().filter(|name| within(joined, name) || within(name, joined)).collect();
        meant.sort_by_key(|name| std::cmp::Reverse(name.len()));
        meant.truncate(MOST);
    }
    told.message = format!("a name is one word, and `{joined}` is not defined");
    for name in &meant {
        told.fixes.extend(lines.iter().map(|(line, _)| Fix {
            message: format!("did you mean `{name}`?"),
            span: line.span,
            replacement: line.text.replacen(joined, name, 1),
        }));
    }
    if told.fixes.is_empty() {
        told.notes.push(format!("define it in any file, as in `material {joined} \"…\"`, or write a name that is defined"));
    }
}
