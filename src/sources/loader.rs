//! Reads a book: every `*.kerf` file in a folder and below, in the order of their paths, as one [`SourceSet`].
//!
//! In: a folder. Out: [`Loaded`], or a [`LoadError`] that names every place that could not be read. Hidden files and what
//! `.gitignore` names are left aside. Nothing here knows what the text means; with its parts in `loader/` this is the only
//! place in the library that reads files.

mod error;
mod files;
mod find;
mod text;

use std::fs;
use std::path::{Component, Path};

use crate::sources::{SourceSet, Span};

pub use error::{LoadError, UnreadablePlace};
pub use files::{BookFile, list_files};
pub use find::find_book;

/// A book's text as it was read.
#[derive(Clone, Debug, Default)]
pub struct Loaded {
    /// Every file, without byte order mark and carriage returns.
    pub sources: SourceSet,
    /// Files whose bytes are not all text; each is a mistake in the book (`diagnostics::tell_damage`).
    pub damaged: Vec<DamagedFile>,
}

/// A file whose bytes are not all text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DamagedFile {
    /// Its path below the book's folder.
    pub path: String,
    /// Where the damage stands in the source set: the sign that replaces the first wrong byte, or the file's only, empty line.
    pub span: Span,
    /// What is wrong with it.
    pub damage: Damage,
}

/// What is wrong with a file's bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Damage {
    /// A byte that is not UTF-8. Each wrong stretch is read as the replacement sign, the rest of the file as it stands.
    NotUtf8 {
        /// How many bytes of the file come before it.
        offset: usize,
        /// The byte.
        byte: u8,
        /// How many further stretches of the file are wrong.
        more: usize,
    },
    /// Two bytes for each letter; nothing of it is read.
    Utf16,
    /// A zero byte, so that it is no text at all; nothing of it is read.
    NotText {
        /// How many bytes of the file come before it.
        offset: usize,
    },
}

impl Loaded {
    /// Adds a file of which the bytes are known. `None`, and nothing is added, where the whole would pass four gigabytes.
    pub fn add(&mut self, path: impl Into<String>, bytes: &[u8]) -> Option<()> {
        let path = path.into();
        let read = text::read_text(bytes);
        let start = self.sources.whole().len();
        self.sources.add(path.as_str(), &read.text)?;
        if let Some((damage, range)) = read.damage {
            let at = |within: usize| u32::try_from(start + within).unwrap_or(u32::MAX);
            let span = Span::new(at(range.start), at(range.end));
            self.damaged.push(DamagedFile { path, span, damage });
        }
        Some(())
    }
}

/// Reads every `*.kerf` file of a folder and below.
///
/// The order of the files is that of their paths, byte by byte, with `/` between the parts. Links are followed; a file that
/// is reached in two ways is read once.
///
/// # Errors
/// Where the folder is missing, is no folder, holds no `*.kerf` file, holds a file or folder that can't be read or a link
/// that leads back to a folder above it, or where the text is over four gigabytes.
pub fn load_book(folder: &Path) -> Result<Loaded, LoadError> {
    let found = files::list_files(folder)?;
    let mut loaded = Loaded::default();
    let mut unreadable = Vec::new();
    for file in found {
        let bytes = match fs::read(&file.full) {
            Ok(bytes) => bytes,
            Err(why) => {
                unreadable.push(UnreadablePlace::new(file.path, error::reason(&why)));
                continue;
            }
        };
        loaded.add(file.path, &bytes).ok_or(LoadError::TooLarge)?;
    }
    if unreadable.is_empty() { Ok(loaded) } else { Err(LoadError::Unreadable(unreadable)) }
}

/// Whether a path that a book names (`file "receipts/A-1182.pdf"`) exists in the book's folder or below. A path from the
/// root of the disk, or one that climbs out of the folder, does not.
#[must_use]
pub fn exists_in_book(folder: &Path, relative: &str) -> bool {
    let relative = Path::new(relative);
    let mut depth = 0_usize;
    for part in relative.components() {
        match part {
            Component::Normal(_) => depth += 1,
            Component::CurDir => {}
            Component::ParentDir if depth > 0 => depth -= 1,
            Component::ParentDir | Component::RootDir | Component::Prefix(_) => return false,
        }
    }
    folder.join(relative).exists()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn book(files: &[(&str, &[u8])]) -> tempfile::TempDir {
        let folder = tempfile::tempdir().expect("a folder");
        for (path, bytes) in files {
            let full = folder.path().join(path);
            fs::create_dir_all(full.parent().expect("a parent")).expect("made");
            fs::write(full, bytes).expect("written");
        }
        folder
    }

    fn paths(loaded: &Loaded) -> Vec<&str> {
        loaded.sources.files().iter().map(|file| file.path.as_str()).collect()
    }

    #[test]
    fn every_file_in_the_folder_and_below_is_read_in_the_order_of_its_path() {
        let folder =
            book(&[("b.kerf", b"b\n"), ("a/z.kerf", b"z\n"), ("a.kerf", b"a\n"), ("a/b/c.kerf", b"c"), ("notes.txt", b"no")]);
        let loaded = load_book(folder.path()).expect("loads");
        assert_eq!(paths(&loaded), ["a.kerf", "a/b/c.kerf", "a/z.kerf", "b.kerf"]);
        assert_eq!(loaded.sources.whole(), "a\nc\nz\nb\n");
    }

    #[test]
    fn hidden_files_and_what_gitignore_names_are_left_aside() {
        let folder = book(&[
            ("a.kerf", b"a\n"),
            (".b.kerf", b"b\n"),
            (".old/c.kerf", b"c\n"),
            (".gitignore", b"draft*.kerf\n/out/\n!draft-keep.kerf\n"),
            ("draft-1.kerf", b"d\n"),
            ("draft-keep.kerf", b"k\n"),
            ("out/e.kerf", b"e\n"),
            ("sub/out/f.kerf", b"f\n"),
            ("sub/.gitignore", b"g.kerf\n!draft-2.kerf\n"),
            ("sub/g.kerf", b"g\n"),
            ("sub/draft-2.kerf", b"h\n"),
            ("g.kerf", b"i\n"),
        ]);
        let loaded = load_book(folder.path()).expect("loads");
        assert_eq!(paths(&loaded), ["a.kerf", "draft-keep.kerf", "g.kerf", "sub/draft-2.kerf", "sub/out/f.kerf"]);
    }

    #[test]
    fn the_gitignore_of_the_repository_above_counts_unless_it_names_the_book_itself() {
        let folder = book(&[
            (".git/HEAD", b"x"),
            (".gitignore", b"draft.kerf\n/scratch/\n"),
            ("book/a.kerf", b"a\n"),
            ("book/draft.kerf", b"d\n"),
            ("scratch/book/draft.kerf", b"d\n"),
        ]);
        assert_eq!(paths(&load_book(&folder.path().join("book")).expect("loads")), ["a.kerf"]);
        assert_eq!(paths(&load_book(&folder.path().join("scratch/book")).expect("loads")), ["draft.kerf"]);
    }

    #[test]
    fn byte_order_mark_and_carriage_returns_are_skipped() {
        let folder = book(&[("a.kerf", b"\xEF\xBB\xBFone\r\ntwo\rthree\r\n")]);
        let loaded = load_book(folder.path()).expect("loads");
        assert_eq!(loaded.sources.whole(), "one\ntwo\nthree\n");
        assert!(loaded.damaged.is_empty());
    }

    #[test]
    fn a_byte_that_is_no_utf_8_is_named_and_the_rest_is_read() {
        let folder = book(&[("a.kerf", b"fine\n"), ("b.kerf", b"one\r\ncaf\xE9 \xE9\r\nthree\n")]);
        let loaded = load_book(folder.path()).expect("loads");
        assert_eq!(loaded.sources.whole(), "fine\none\ncaf\u{FFFD} \u{FFFD}\nthree\n");
        let damaged = loaded.damaged.first().expect("one");
        assert_eq!(damaged.path, "b.kerf");
        assert_eq!(damaged.damage, Damage::NotUtf8 { offset: 8, byte: 0xE9, more: 1 });
        assert_eq!(loaded.sources.text(damaged.span), "\u{FFFD}");
        assert_eq!(loaded.sources.place(damaged.span.start).map(|place| (place.line, place.column)), Some((2, 4)));
    }

    #[test]
    fn a_file_of_two_byte_letters_or_zero_bytes_is_damaged_as_a_whole() {
        let folder = book(&[("a.kerf", b"\xFF\xFEs\0h\0"), ("b.kerf", b"sh\0op\n"), ("c.kerf", b"fine\n")]);
        let loaded = load_book(folder.path()).expect("loads");
        assert_eq!(loaded.sources.whole(), "\n\nfine\n");
        let damage: Vec<_> = loaded.damaged.iter().map(|one| (one.path.as_str(), one.damage)).collect();
        assert_eq!(damage, [("a.kerf", Damage::Utf16), ("b.kerf", Damage::NotText { offset: 2 })]);
        assert_eq!(loaded.sources.file_at(loaded.damaged[1].span.start).map(|file| file.path.as_str()), Some("b.kerf"));
    }

    #[test]
    fn an_empty_folder_a_missing_one_and_a_file_are_told_apart() {
        let folder = book(&[("notes.txt", b"x")]);
        assert!(matches!(load_book(folder.path()), Err(LoadError::Empty { .. })));
        assert!(matches!(load_book(&folder.path().join("none")), Err(LoadError::Missing { .. })));
        assert!(matches!(load_book(&folder.path().join("notes.txt")), Err(LoadError::NotAFolder { .. })));
    }

    #[cfg(unix)]
    #[test]
    fn a_folder_that_links_to_itself_is_named() {
        let folder = book(&[("a/b.kerf", b"b\n")]);
        std::os::unix::fs::symlink(folder.path(), folder.path().join("a/again")).expect("linked");
        let Err(LoadError::Unreadable(places)) = load_book(folder.path()) else { panic!("a loop must be told") };
        assert_eq!(places.len(), 1);
        assert_eq!(places[0].path, "a/again");
        assert!(places[0].reason.contains("leads back"), "{}", places[0].reason);
    }

    #[cfg(unix)]
    #[test]
    fn a_file_that_is_reached_in_two_ways_is_read_once() {
        let folder = book(&[("b/one.kerf", b"1\n")]);
        std::os::unix::fs::symlink(folder.path().join("b"), folder.path().join("a")).expect("linked");
        assert_eq!(load_book(folder.path()).expect("loads").sources.whole(), "1\n");
    }

    #[cfg(unix)]
    #[test]
    fn a_dead_link_matters_only_where_a_file_of_the_book_should_be() {
        let folder = book(&[("a.kerf", b"a\n")]);
        for name in ["photo.jpg", ".#a.kerf"] {
            std::os::unix::fs::symlink("nowhere", folder.path().join(name)).expect("linked");
        }
        assert!(load_book(folder.path()).is_ok());
        std::os::unix::fs::symlink("nowhere", folder.path().join("b.kerf")).expect("linked");
        let Err(LoadError::Unreadable(places)) = load_book(folder.path()) else { panic!("must be told") };
        assert_eq!(places[0].path, "b.kerf");
    }

    #[test]
    fn a_named_file_is_looked_for_in_the_book_only() {
        let folder = book(&[("receipts/A-1.pdf", b"x"), ("book/a.kerf", b"a\n")]);
        assert!(exists_in_book(folder.path(), "receipts/A-1.pdf"));
        assert!(exists_in_book(folder.path(), "book/../receipts/A-1.pdf"));
        assert!(!exists_in_book(folder.path(), "receipts/A-2.pdf"));
        assert!(!exists_in_book(&folder.path().join("book"), "../receipts/A-1.pdf"));
        assert!(!exists_in_book(folder.path(), &folder.path().join("receipts/A-1.pdf").display().to_string()));
    }
}
