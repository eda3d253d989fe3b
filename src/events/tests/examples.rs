//! The example books of the repository hold no mistake.

use crate::diagnostics::Severity;
use crate::events::tests::{Read, read_folder};

fn examples() -> Vec<(String, Read)> {
    let mut folders: Vec<_> =
        std::fs::read_dir("ledger-examples").expect("examples").map(|one| one.expect("a folder").path()).collect();
    folders.sort();
    folders.retain(|path| path.is_dir());
    folders.into_iter().map(|path| (path.display().to_string(), read_folder(&path))).collect()
}

#[test]
fn every_example_book_becomes_events_without_a_mistake() {
    let examples = examples();
    assert!(examples.len() > 5);
    for (folder, read) in examples {
        let mistakes: Vec<String> =
            read.found.iter().filter(|one| one.severity == Severity::Error).map(|one| read.line_of(one)).collect();
        assert!(mistakes.is_empty(), "{folder}: {mistakes:#?}");
        assert!(!read.log.events.is_empty(), "{folder}");
        assert!(read.log.uncertain.is_empty(), "{folder}");
    }
}
