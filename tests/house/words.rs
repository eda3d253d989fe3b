//! Words that are never written: ways round a lint, things left for later, another program's habits.

use crate::source_file::{SourceFile, files_below, sources};

/// Ways round a lint, and things left for later. Each is put together of two halves, so that this file holds none and is looked at too.
const NEVER: [&str; 12] = [
    concat!("#[", "allow("),
    concat!("#![", "allow("),
    concat!("#[", "ignore"),
    concat!("to", "do!("),
    concat!("unim", "plemented!("),
    concat!("db", "g!("),
    concat!("TO", "DO"),
    concat!("FIX", "ME"),
    concat!("HA", "CK"),
    concat!("XX", "X"),
    concat!("un", "safe "),
    concat!("get_", "unchecked"),
];

/// A lint that is expected, and one expected of all that stands in a file.
const EXPECT: &str = concat!("#[", "expect(");
const EXPECT_WITHIN: &str = concat!("#![", "expect(");

/// Where only a builder's machine has something.
const BUILDERS_PATHS: [&str; 4] = [concat!("/wo", "rk/"), concat!("/tm", "p/kb"), concat!("/ho", "me/"), concat!("/ro", "ot/")];

fn every_rust_file() -> impl Iterator<Item = SourceFile> {
    sources().into_iter().chain(files_below("tests", &[".rs"]))
}

fn told(files: impl Iterator<Item = SourceFile>, wrong: impl Fn(&str) -> Option<String>) -> Vec<String> {
    let mut all = Vec::new();
    for file in files {
        let found = file
            .text
            .lines()
            .enumerate()
            .filter_map(|(number, line)| Some(format!("{}:{}: {}", file.path, number + 1, wrong(line)?)));
        all.extend(found);
    }
    all
}

#[test]
fn nothing_is_left_for_later_and_no_lint_is_silenced() {
    let wrong = told(every_rust_file(), |line| NEVER.iter().find(|word| line.contains(**word)).map(|word| format!("`{word}`")));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_expected_lint_gives_its_reason() {
    let mut wrong = Vec::new();
    for file in every_rust_file() {
        for (at, _) in file.text.match_indices(EXPECT).chain(file.text.match_indices(EXPECT_WITHIN)) {
            let end = file.text[at..].find(")]").map_or(file.text.len(), |end| at + end);
            if !file.text[at..end].contains("reason = \"") {
                wrong.push(format!("{}: {}", file.path, &file.text[at..end]));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn names_are_brought_in_one_by_one() {
    let outside_tests = sources().into_iter().filter(|file| !file.is_test());
    let mut wrong = Vec::new();
    for file in outside_tests {
        wrong.extend(file.without_tests().lines().filter(|line| line.trim() == "use super::*;").map(|_| file.path.clone()));
    }
    assert!(wrong.is_empty(), "`use super::*` outside tests: {}", wrong.join(", "));
}

#[test]
fn no_path_of_a_builders_machine_is_written_down() {
    let all = ["src", "tests", "grammar", "ledger-examples", "report-templates"];
    let ends = [".rs", ".md", ".kerf", ".pest", ".html", ".toml", ".json", ".txt", ".sh", ".js", ".mjs"];
    let files = all.iter().flat_map(|folder| files_below(folder, &ends));
    let wrong = told(files, |line| BUILDERS_PATHS.iter().find(|path| line.contains(**path)).map(|path| format!("`{path}`")));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
