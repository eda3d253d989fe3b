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

/// The amounts of a row or sentence, in their order.
fn amounts(text: &str) -> Vec<String> {
    let mut plain = String::new();
    let mut in_tag = false;
    for letter in text.chars() {
        match letter {
            '<' => (in_tag = true, plain.push(' ')).1,
            '>' => in_tag = false,
            ',' => {}
            _ if !in_tag => plain.push(letter),
            _ => {}
        }
    }
    let words = plain.split_whitespace().map(|word| word.trim_matches(|letter: char| !letter.is_ascii_digit()));
    let is_money = |word: &&str| word.rsplit_once('.').is_some_and(|(_, cents)| cents.len() == 2);
    words.filter(is_money).map(str::to_owned).collect()
}

#[test]
fn the_list_of_batches_says_of_each_what_its_own_page_says() {
    let above = tempfile::tempdir().expect("a folder");
    let book = example();
    let ran = run_in(above.path(), &["site", "--book", book.to_str().expect("text"), "--today", "2027-02-01", "--out", "site"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let read = |file: &str| fs::read_to_string(above.path().join("site").join(file)).expect("a page");
    let list = read("batches.html");
    let mut compared = 0;
    for row in list.lines().filter(|line| line.starts_with("<tr") && line.contains("href=batch/")) {
        let page = row.split("href=").nth(1).and_then(|rest| rest.split('>').next()).expect("a link");
        let own = read(page.split('#').next().expect("a file"));
        let says = own.lines().find(|line| line.contains("laid out, ")).expect("what it comes to");
        assert_eq!(amounts(row), amounts(says), "{page}");
        compared += 1;
    }
    assert!(compared > 60, "{compared} batches");
}
