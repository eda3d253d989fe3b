//! Small rooms: a file is one noun, opens with what it is, and stays small; a folder holds nothing that nobody asked for.

use std::fs;

use crate::source_file::{files_below, root, sources};

/// A file is looked at twice at 400 lines; at this many, its tests aside, it is cut.
const MOST_LINES: usize = 600;

/// Names that say nothing of what is in a file.
const EMPTY_NAMES: [&str; 10] = ["utils", "util", "helpers", "helper", "common", "misc", "manager", "data", "info", "shared"];

#[test]
fn no_file_is_longer_than_its_room() {
    let long = |path: &str, lines: usize| (lines > MOST_LINES).then(|| format!("{path}: {lines} lines"));
    let sources: Vec<_> = sources();
    let in_sources =
        sources.iter().filter(|file| !file.is_test()).filter_map(|file| long(&file.path, file.without_tests().lines().count()));
    let tests = files_below("tests", &[".rs"]);
    let in_tests = tests.iter().filter_map(|file| long(&file.path, file.text.lines().count()));
    let long: Vec<_> = in_sources.chain(in_tests).collect();
    assert!(long.is_empty(), "{}", long.join("\n"));
}

#[test]
fn every_file_opens_with_what_it_is() {
    for file in sources().into_iter().chain(files_below("tests", &[".rs"])) {
        let opening = file.text.lines().take_while(|line| line.starts_with("//!")).count();
        assert!((1..=20).contains(&opening), "{}: opens with {opening} lines of `//!`", file.path);
    }
}

#[test]
fn the_door_is_thin() {
    let lines = fs::read_to_string(root().join("src/main.rs")).expect("main.rs").lines().count();
    assert!(lines <= 40, "src/main.rs has {lines} lines");
}

#[test]
fn no_file_or_folder_has_an_empty_name() {
    for file in sources().into_iter().chain(files_below("tests", &[".rs"])) {
        for part in file.path.split('/') {
            let name = part.strip_suffix(".rs").unwrap_or(part);
            assert!(!EMPTY_NAMES.contains(&name), "{}: `{name}` says nothing", file.path);
        }
    }
}

#[test]
fn the_top_holds_only_what_belongs_there() {
    let belongs = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "rustfmt.toml",
        "grammar",
        "src",
        "tests",
        "ledger-examples",
        "report-templates",
        "target",
    ];
    for entry in fs::read_dir(root()).expect("the root") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        assert!(name.starts_with('.') || belongs.contains(&name.as_str()), "`{name}` does not belong at the top");
    }
}
