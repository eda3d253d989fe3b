//! Many mistakes in one book: each is told once, none hides another, and nothing else is told.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

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

/// A line changed: its indentation taken away, one added, the line removed, its first letter another.
fn changes_of(line: &str) -> impl Iterator<Item = String> {
    let first = line.trim_start();
    let ways = [
        Some(first.to_owned()).filter(|bare| bare != line),
        Some(format!("    {line}")).filter(|_| first == line),
        Some(String::new()),
        Some(line.replacen(first, &format!("q{}", first.chars().skip(1).collect::<String>()), 1)),
    ];
    ways.into_iter().flatten()
}

/// Lines of a month, each changed in one of four ways, one at a time: what is told of each change, and how many were tried. One line of
/// `every` is changed.
fn told_of_changes(month: &str, every: usize, mistakes: impl Fn(&str) -> Vec<String>) -> (usize, Vec<(String, Vec<String>)>) {
    let lines: Vec<&str> = month.lines().collect();
    assert_eq!(mistakes(month), Vec::<String>::new());
    let (mut tried, mut several) = (0, Vec::new());
    let says = |line: &str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
    for (at, line) in lines.iter().enumerate().filter(|(at, line)| at % every == 0 && says(line)) {
        for changed in changes_of(line) {
            let mut month = lines.clone();
            month[at] = &changed;
            tried += 1;
            let told = mistakes(&(month.join("\n") + "\n"));
            if told.len() > 1 {
                several.push((format!("line {}, `{changed}`", at + 1), told));
            }
        }
    }
    (tried, several)
}

const MONTH: &str = include_str!("../../ledger-examples/wren-and-gable/2026-02.kerf");

#[test]
fn a_change_of_one_line_brings_one_message_save_in_few_places() {
    const SHOP: &str = include_str!("../../ledger-examples/wren-and-gable/shop.kerf");
    let (tried, several) = told_of_changes(MONTH, 1, |month| {
        let mut sources = SourceSet::default();
        sources.add("2026-02.kerf", month).expect("added");
        sources.add("shop.kerf", SHOP).expect("added");
        let mut found = kerfbook::diagnostics::Diagnostics::default();
        let _ = kerfbook::syntax::parse_book(&sources, &mut found);
        found.into_sorted().iter().map(|one| format!("{}: {}", one.code, one.message)).collect()
    });
    assert!(tried > 300, "only {tried} changes");
    assert!(several.len() <= 2, "{} of {tried} changes bring several messages:\n{several:#?}", several.len());
}

/// The same over all months: what a lost line leads to on a later day is not told beside it.
#[test]
fn a_change_of_one_line_is_felt_nowhere_else_in_the_book() {
    let book = Path::new(env!("CARGO_MANIFEST_DIR")).join("ledger-examples/wren-and-gable");
    let mut files: Vec<_> = fs::read_dir(&book).expect("the book").map(|file| file.expect("a file").path()).collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "kerf") && !file.ends_with("2026-02.kerf"));
    files.sort();
    let others: Vec<(String, String)> = files
        .iter()
        .map(|file| (file.file_name().expect("a name").to_string_lossy().into_owned(), fs::read_to_string(file).expect("text")))
        .collect();
    let (tried, several) = told_of_changes(MONTH, 3, |month| {
        let mut sources = SourceSet::default();
        for (name, text) in &others {
            sources.add(name.as_str(), text).expect("added");
        }
        sources.add("2026-02.kerf", month).expect("added");
        let asked = Asked { today: None, file_exists: &|_| true, tax_year: None };
        let compiled = compile(Loaded { sources, damaged: Vec::new() }, asked);
        let told = compiled.found.iter().filter(|one| one.severity == Severity::Error);
        told.map(|one| format!("{}: {}", one.code, one.message)).collect()
    });
    assert!(tried > 100, "only {tried} changes");
    assert!(several.len() <= 1, "{} of {tried} changes bring several messages:\n{several:#?}", several.len());
}
