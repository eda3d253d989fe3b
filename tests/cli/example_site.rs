//! The site of the example book as a whole: small enough to be sent by mail.

use std::fs;
use std::path::Path;

use crate::shop::{example, run_in};

/// The most that it may hold, in bytes.
const MOST: u64 = 5_000_000;

fn bytes_below(folder: &Path) -> u64 {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    entries.map(|path| if path.is_dir() { bytes_below(&path) } else { fs::metadata(&path).expect("a file").len() }).sum()
}

#[test]
fn the_example_s_site_has_less_than_five_megabytes() {
    let above = tempfile::tempdir().expect("a folder");
    let book = example();
    let ran = run_in(above.path(), &["site", "--book", book.to_str().expect("text"), "--today", "2027-02-01", "--out", "site"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let bytes = bytes_below(&above.path().join("site"));
    assert!(bytes > 100_000 && bytes < MOST, "{bytes} bytes");
}
