//! Every code that a stage can tell has its page, and its case in `tests/diagnostics/`.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use kerfbook::diagnostics::{Code, all_codes};

use crate::source_file::{root, sources};

/// Codes that no book can bring about: K599 is a mistake of the program, told instead of a wrong figure.
const WITHOUT_A_CASE: [u16; 1] = [599];

/// Every code that the source writes as `Code(NNN)`, with the file in which it first stands.
fn codes_in_source() -> BTreeMap<u16, String> {
    let mut codes = BTreeMap::new();
    for file in sources().iter().filter(|file| !file.is_test()) {
        for (at, start) in file.without_tests().match_indices("Code(") {
            let digits = &file.without_tests()[at + start.len()..];
            let end = digits.find(|c: char| !c.is_ascii_digit()).unwrap_or(0);
            if let Ok(number) = digits[..end].parse() {
                codes.entry(number).or_insert_with(|| file.path.clone());
            }
        }
    }
    codes
}

/// The codes that have a case: the folders `k203-a-length-bought-by-weight`.
fn codes_with_a_case() -> BTreeSet<u16> {
    let folders = fs::read_dir(root().join("tests/diagnostics")).expect("the cases");
    let names = folders.filter_map(|entry| entry.ok().map(|entry| entry.file_name().to_string_lossy().into_owned()));
    names.filter_map(|name| name.strip_prefix('k')?.split_once('-')?.0.parse().ok()).collect()
}

#[test]
fn every_code_has_a_page_and_every_page_a_code() {
    let used: BTreeSet<_> = codes_in_source().into_keys().collect();
    let explained: BTreeSet<_> = all_codes().map(|code| code.0).collect();
    let without_page: Vec<_> = used.difference(&explained).map(|code| Code(*code).to_string()).collect();
    let without_use: Vec<_> = explained.difference(&used).map(|code| Code(*code).to_string()).collect();
    assert!(
        without_page.is_empty() && without_use.is_empty(),
        "no page: {without_page:?}; a page without a use: {without_use:?}"
    );
}

#[test]
fn every_code_has_a_case() {
    let cases = codes_with_a_case();
    let codes = codes_in_source();
    let missing: Vec<_> = codes
        .iter()
        .filter(|(code, _)| !cases.contains(code) && !WITHOUT_A_CASE.contains(code))
        .map(|(code, file)| format!("{} ({file})", Code(*code)))
        .collect();
    assert!(missing.is_empty(), "no case in tests/diagnostics: {}", missing.join(", "));
    let unknown: Vec<_> = cases.iter().filter(|code| !codes.contains_key(code)).collect();
    assert!(unknown.is_empty(), "a case of no code: {unknown:?}");
}
