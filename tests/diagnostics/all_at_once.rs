//! Many mistakes in one book: each is told once, none hides another, and nothing else is told.

use std::collections::BTreeSet;
use std::fs;

use kerfbook::diagnostics::{Severity, explain_preamble, render_short};
use kerfbook::sources::{LineIndex, Loaded, SourceSet};

use crate::cases::cases;
use crate::compiled::{Asked, compile};
use crate::expected::expected_in;

/// A case's text with another name for what an earlier case has defined.
fn with_own_names(text: &str, case: &str, defined: &mut BTreeSet<String>) -> String {
    let mut own = text.to_owned();
    let names: Vec<&str> = text.lines().filter(|line| !line.starts_with([' ', '#'])).filter_map(defined_name).collect();
    for name in names.iter().filter(|name| defined.contains(**name)) {
        let word = |part: &str| part.trim_matches([',', '"', '`', '\n']) == *name;
        let renamed = own.split_inclusive(' ').map(|part| {
            let rest = part.trim_end();
            if word(rest) { part.replacen(name, &format!("{name}-{}", &case[..4]), 1) } else { part.to_owned() }
        });
        own = renamed.collect();
    }
    defined.extend(names.into_iter().map(str::to_owned));
    own
}

/// The name that a line defines.
fn defined_name(line: &str) -> Option<&str> {
    const WORDS: [&str; 10] =
        ["material", "product", "channel", "pattern", "expense", "income", "helper", "place", "step", "tool"];
    let mut words = line.split(' ');
    let known = words.next().is_some_and(|first| WORDS.contains(&first) || first == "line");
    words.next().filter(|_| known)
}

/// Every case about lines and names that stands on the shop of the pages, as a file of one book.
fn one_book() -> SourceSet {
    let mut sources = SourceSet::default();
    sources.add("0-the-shop.kerf", explain_preamble()).expect("added");
    let mut defined = BTreeSet::new();
    for folder in cases() {
        let name = folder.file_name().expect("a name").to_string_lossy().into_owned();
        let files: Vec<_> = fs::read_dir(&folder).expect("a folder").map(|file| file.expect("a file").path()).collect();
        let [file] = files.as_slice() else { continue };
        let of_lines = name.starts_with("k1") || name.starts_with("k2");
        let Ok(text) = fs::read_to_string(file) else { continue };
        if !of_lines || text.contains('\0') || text.lines().any(|line| line.starts_with("shop ")) {
            continue;
        }
        let text = with_own_names(&text, &name, &mut defined);
        sources.add(format!("{name}.kerf"), &text).expect("added");
    }
    sources
}

#[test]
fn two_hundred_mistakes_in_one_book_are_each_told_once_and_nothing_else() {
    let sources = one_book();
    let expected = sources.files().iter().flat_map(|file| expected_in(&file.path, sources.text(file.span)));
    let mut expected: Vec<_> =
        expected.filter(|one| one.code.starts_with("error")).map(|one| (one.path, one.line, one.code)).collect();
    expected.sort();
    let asked = Asked { today: None, file_exists: &|_| true, tax_year: None };
    let compiled = compile(Loaded { sources, damaged: Vec::new() }, asked);
    let index = LineIndex::of(&compiled.sources);
    let found = compiled.found.iter().filter(|one| one.severity == Severity::Error).map(|one| {
        let place = index.place(one.primary.span.start).expect("a place");
        (place.path.to_owned(), place.line, format!("error[{}]", one.code))
    });
    let mut found: Vec<_> = found.collect();
    found.sort();
    let missing: Vec<_> = expected.iter().filter(|one| !found.contains(one)).collect();
    let surplus: Vec<_> = found.iter().filter(|one| !expected.contains(one)).collect();
    assert!(missing.is_empty() && surplus.is_empty(), "missing: {missing:#?}\nsurplus: {surplus:#?}");
    assert_eq!(found, expected, "{}", render_short(&compiled.sources, &compiled.found));
    assert!(expected.len() >= 200, "only {} mistakes", expected.len());
}

/// Lines of the shop of the pages and of a month on it, each changed in one of four ways, one at a time.
#[test]
fn a_change_of_one_line_brings_one_message_save_in_few_places() {
    const MONTH: &str = include_str!("../../ledger-examples/wren-and-gable/2026-02.kerf");
    const SHOP: &str = include_str!("../../ledger-examples/wren-and-gable/shop.kerf");
    let lines: Vec<&str> = MONTH.lines().collect();
    let mistakes = |month: &str| -> Vec<String> {
        let mut sources = SourceSet::default();
        sources.add("2026-02.kerf", month).expect("added");
        sources.add("shop.kerf", SHOP).expect("added");
        let mut found = kerfbook::diagnostics::Diagnostics::default();
        let _ = kerfbook::syntax::parse_book(&sources, &mut found);
        found.into_sorted().iter().map(|one| format!("{}: {}", one.code, one.message)).collect()
    };
    assert_eq!(mistakes(MONTH), Vec::<String>::new());
    let (mut tried, mut several) = (0, Vec::new());
    for (at, line) in lines.iter().enumerate().filter(|(_, line)| !line.trim().is_empty() && !line.trim_start().starts_with('#'))
    {
        let first = line.trim_start();
        let ways = [
            Some(first.to_owned()).filter(|bare| bare != line),
            Some(format!("    {line}")).filter(|_| first == *line),
            Some(String::new()),
            Some(line.replacen(first, &format!("q{}", first.chars().skip(1).collect::<String>()), 1)),
        ];
        for changed in ways.into_iter().flatten() {
            let mut month = lines.clone();
            month[at] = &changed;
            let told = mistakes(&(month.join("\n") + "\n"));
            tried += 1;
            if told.len() > 1 {
                several.push(format!("line {}, `{changed}`: {told:#?}", at + 1));
            }
        }
    }
    assert!(tried > 300, "only {tried} changes");
    assert!(several.len() <= 2, "{} of {tried} changes bring several messages:\n{}", several.len(), several.join("\n"));
}
