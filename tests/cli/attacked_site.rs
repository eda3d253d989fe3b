//! The site of the book that attacks its pages: nothing that it says has become markup or a name of a file.
//!
//! The browser looks at it more closely (`tests/browser/run.sh`).

use std::fs;
use std::path::{Path, PathBuf};

use crate::shop::run_in;

fn files_below(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    entries.flat_map(|path| if path.is_dir() { files_below(&path) } else { vec![path] }).collect()
}

#[test]
fn a_book_that_attacks_its_pages_is_shown_as_it_is_written() {
    let above = tempfile::tempdir().expect("a folder");
    let book = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/browser/attack");
    let book = book.to_str().expect("text");
    let checked = run_in(above.path(), &["check", "--book", book, "--today", "2026-12-31"]);
    assert!(checked.status == Some(0) && checked.out.contains("no mistakes, no warnings"), "{}", checked.out);
    let ran = run_in(above.path(), &["site", "--book", book, "--today", "2026-12-31", "--out", "site"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let site = above.path().join("site");
    let mut shown = 0;
    for path in files_below(&site) {
        let below = path.strip_prefix(&site).expect("below").to_str().expect("text");
        let is_plain = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || "/.-_".contains(letter);
        assert!(below.chars().all(is_plain) && !below.contains(".."), "{below}");
        let text = fs::read_to_string(&path).expect("text");
        for markup in
            ["<script", "<img", "<iframe", "<marquee", "<svg onload", "<b onmouseover", "=\"javascript:", "='javascript:"]
        {
            assert!(!text.contains(markup), "{below} has {markup}");
        }
        shown += text.matches("&lt;script&gt;").count();
    }
    assert!(shown > 10, "what it says is shown {shown} times");
    assert_eq!(files_below(above.path()).len(), files_below(&site).len(), "something lies beside the site");
}
