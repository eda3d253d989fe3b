//! Finds the book that a folder belongs to: here, or the nearest folder above that holds a `shop` entry.
//!
//! Of a folder above, its own files are looked at, and those of the folders in it only where the way there came through
//! folders with `*.kerf` files; so nobody's home folder becomes a book because a book lies somewhere below it.

use std::fs::{self, File};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};

use super::files::{IgnoreRules, is_hidden, is_kerf};

/// How many folders deep a `shop` entry is looked for below the folder where the search begins.
const DEPTH_HERE: usize = 3;

/// The folder of the book to which `start` belongs, or `None`. What can't be read counts as not there.
#[must_use]
pub fn find_book(start: &Path) -> Option<PathBuf> {
    let start = fs::canonicalize(start).ok()?;
    let mut depth = DEPTH_HERE;
    for folder in start.ancestors() {
        let holds = look(folder, depth, &mut IgnoreRules::of(folder));
        if holds.shop {
            return Some(folder.to_owned());
        }
        depth = if holds.files { 2 } else { 1 };
    }
    None
}

/// What a folder holds.
#[derive(Default)]
struct Holds {
    /// A `*.kerf` file with a `shop` entry, itself or as deep as was looked.
    shop: bool,
    /// A `*.kerf` file of its own.
    files: bool,
}

/// Looks through a folder: its own files first, then `depth - 1` folders deep.
fn look(folder: &Path, depth: usize, ignored: &mut IgnoreRules) -> Holds {
    let mut holds = Holds::default();
    let Ok(entries) = fs::read_dir(folder) else { return holds };
    let mut deeper = Vec::new();
    let mut entries: Vec<_> = entries.flatten().collect();
    // Most books have their shop in a file of that name: then no other need be read.
    entries.sort_by_key(|entry| entry.file_name() != "shop.kerf");
    for entry in entries {
        let path = entry.path();
        let Ok(kind) = fs::metadata(&path) else { continue };
        if is_hidden(&entry.file_name()) || ignored.names(&path, kind.is_dir()) {
            continue;
        }
        if kind.is_file() && is_kerf(&path) {
            holds.files = true;
            holds.shop |= has_shop_entry(&path);
        } else if kind.is_dir() {
            deeper.push(path);
        }
        if holds.shop {
            return holds;
        }
    }
    holds.shop = depth > 1 && deeper.iter().any(|below| look(below, depth - 1, ignored).shop);
    holds
}

/// Whether a line of a file begins with `shop` and a blank or a quote.
fn has_shop_entry(path: &Path) -> bool {
    let Ok(file) = File::open(path) else { return false };
    let mut reader = BufReader::new(file);
    let mut line = Vec::new();
    loop {
        line.clear();
        match reader.read_until(b'\n', &mut line) {
            Ok(0) | Err(_) => return false,
            Ok(_) => {}
        }
        let text = line.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(&line);
        if let Some(after) = text.strip_prefix(b"shop")
            && after.first().is_none_or(|next| next.is_ascii_whitespace() || *next == b'"' || !next.is_ascii())
        {
            return true;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
        let folder = tempfile::tempdir().expect("a folder");
        for (path, text) in files {
            let full = folder.path().join(path);
            fs::create_dir_all(full.parent().expect("a parent")).expect("made");
            fs::write(full, text).expect("written");
        }
        folder
    }

    fn found(folder: &tempfile::TempDir, start: &str) -> Option<String> {
        let top = fs::canonicalize(folder.path()).expect("real");
        find_book(&top.join(start)).and_then(|book| Some(book.strip_prefix(top).ok()?.display().to_string()))
    }

    const SHOP: &str = "\u{FEFF}shop \"Wren & Gable Woodshop\"\n";

    #[test]
    fn the_book_is_here_or_the_nearest_folder_above() {
        let folder = folder(&[("shop.kerf", SHOP), ("inner/shop.kerf", SHOP), ("inner/a/b/x.txt", ""), ("c/x.txt", "")]);
        assert_eq!(found(&folder, "").as_deref(), Some(""));
        assert_eq!(found(&folder, "c").as_deref(), Some(""));
        assert_eq!(found(&folder, "inner").as_deref(), Some("inner"));
        assert_eq!(found(&folder, "inner/a/b").as_deref(), Some("inner"));
    }

    #[test]
    fn a_month_s_folder_beside_the_definitions_belongs_to_the_book_above() {
        let folder = folder(&[("book/names/shop.kerf", SHOP), ("book/2026/03.kerf", "noted 2026-03-01 \"x\"\n")]);
        assert_eq!(found(&folder, "book/2026").as_deref(), Some("book"));
    }

    #[test]
    fn a_folder_above_is_no_book_because_one_lies_below_it() {
        let folder = folder(&[("book/shop.kerf", SHOP), ("letters/x.txt", "")]);
        assert_eq!(found(&folder, "letters"), None);
    }

    #[test]
    fn a_word_that_only_begins_like_shop_is_no_entry() {
        let folder = folder(&[("a.kerf", "shopping \"x\"\n# shop \"x\"\n"), (".hidden/shop.kerf", SHOP)]);
        assert_eq!(found(&folder, ""), None);
    }
}
