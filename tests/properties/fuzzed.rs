//! What the fuzzer tries, on every book of the examples and tests: so that its functions are compiled and run with all tests, and what it has
//! once found stays found.

use std::path::{Path, PathBuf};

use proptest::prelude::*;
use proptest::sample::Index;

use crate::how_many;

#[expect(unreachable_pub, reason = "the fuzz crate hands these functions to its targets")]
#[path = "../fuzz/src/lib.rs"]
mod tried;

/// All files below a folder whose name has an ending, in the order of their paths.
fn files_below(folder: &str, ending: &str) -> Vec<PathBuf> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    let mut files = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.to_string_lossy().ends_with(ending) {
                files.push(path);
            }
        }
    }
    files.sort();
    files
}

fn bytes(path: &Path) -> Vec<u8> {
    std::fs::read(path).expect("a file")
}

/// A folder's files as one text, its shop first.
fn books() -> Vec<Vec<u8>> {
    let mut books: std::collections::BTreeMap<PathBuf, Vec<u8>> = std::collections::BTreeMap::new();
    let mut files: Vec<PathBuf> =
        ["ledger-examples", "tests/golden", "tests/diagnostics"].iter().flat_map(|folder| files_below(folder, ".kerf")).collect();
    files.sort_by_key(|path| (path.parent().map(Path::to_path_buf), !path.ends_with("shop.kerf"), path.clone()));
    for file in files {
        books.entry(file.parent().expect("a folder").to_path_buf()).or_default().extend(bytes(&file));
    }
    books.into_values().collect()
}

#[test]
fn every_book_of_the_examples_and_tests_passes_what_the_fuzzer_tries() {
    let books = books();
    assert!(books.len() > 100, "{} books", books.len());
    for book in &books {
        tried::parse(book);
        tried::compile(book);
    }
}

#[test]
fn every_line_of_the_reference_may_stand_where_a_number_or_an_entry_is_read() {
    let reference = bytes(&Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/README.md"));
    for line in reference.split(|byte| *byte == b'\n') {
        tried::numbers(line.trim_ascii());
        for word in line.split(|byte| matches!(byte, b' ' | b'`' | b',' | b'|')) {
            tried::numbers(word);
        }
    }
    tried::parse(&reference);
    tried::compile(&reference);
}

#[test]
fn what_the_fuzzer_found_stays_found() {
    let found = files_below("tests/fuzz/found", "");
    assert!(!found.is_empty(), "nothing was ever found");
    for path in found {
        tried::parse(&bytes(&path));
        tried::compile(&bytes(&path));
        tried::numbers(&bytes(&path));
    }
}

proptest! {
    #![proptest_config(how_many::books(60))]

    #[test]
    fn books_that_were_cut_and_put_together_anywhere_pass_too(cuts in prop::collection::vec(any::<[Index; 3]>(), 1..8)) {
        let books = books();
        let mut spliced = Vec::new();
        for [book, one, other] in cuts {
            let book = book.get(&books);
            let (one, other) = (one.index(book.len() + 1), other.index(book.len() + 1));
            spliced.extend(&book[one.min(other)..one.max(other)]);
        }
        tried::parse(&spliced);
        tried::compile(&spliced);
    }
}
