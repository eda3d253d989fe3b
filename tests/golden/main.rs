//! Small books and what is expected of them, one folder a case: `tests/golden/<topic>/<case>/`.
//!
//! A case holds `*.kerf` files, whose comments work its figures out by hand, and the expected outputs that it is about:
//! `check.txt` is what `kerfbook check` prints; `cost.json`, `stock.json`, `pays.json`, `proof.json` are the reports, and
//! `year-2026.json` is that of a year. Every JSON is held to its schema in `report-templates/schema/`.
//! With `KERFBOOK_WRITE_GOLDEN=1` in the environment the outputs that a case has are written anew instead of compared: read the difference
//! before you keep it.

mod case;
mod schemas;

use std::fs;
use std::path::{Path, PathBuf};

use case::Case;

/// Every case, in order.
fn cases() -> Vec<Case> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    let topics = folders_in(&folder);
    topics.iter().flat_map(|topic| folders_in(topic)).map(|path| Case::at(&folder, path)).collect()
}

fn folders_in(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    let mut folders: Vec<_> = entries.filter(|path| path.is_dir()).collect();
    folders.sort();
    folders
}

#[test]
fn every_book_gives_what_is_expected_of_it() {
    let cases = cases();
    let broken: Vec<_> = cases.iter().flat_map(Case::differences).collect();
    assert!(broken.is_empty(), "{} outputs differ:\n{}", broken.len(), broken.join("\n"));
    assert!(cases.len() >= 12, "only {} cases", cases.len());
}

#[test]
fn every_case_has_a_book_and_something_to_expect() {
    for case in cases() {
        assert!(case.has_a_book(), "{}: no `*.kerf` file", case.name);
        assert!(!case.outputs().is_empty(), "{}: expects nothing", case.name);
    }
}

#[test]
fn the_proof_of_every_book_without_mistakes_comes_out_at_zero() {
    for case in cases() {
        let told = case.check();
        let holds = told.lines().any(|line| line.starts_with("the proof: ") && line.contains("difference 0.000000 in each of"));
        let waits = told.lines().any(|line| line == "the proof waits until the mistakes are mended");
        let has_mistakes = told.lines().any(|line| line.starts_with("error["));
        assert!(if has_mistakes { waits } else { holds }, "{}: {told}", case.name);
    }
}

#[test]
fn every_report_is_as_its_schema_says() {
    let broken: Vec<_> = cases().iter().flat_map(schemas::faults_of).collect();
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}
