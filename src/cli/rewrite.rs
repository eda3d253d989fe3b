//! Files of a book that are written over with another text: each whole or not at all, and only what was read.
//!
//! A file to which a link leads out of the book's folder is never written, nor one that its owner may not write to, nor one
//! that has changed since it was read.

use std::fs;
use std::path::Path;

use super::write_whole::write_whole;
use crate::sources::{BookFile, LoadError, Loaded, list_files};

/// A file as it was read.
pub(super) struct ReadFile {
    /// Which.
    pub(super) file: BookFile,
    /// Its bytes.
    pub(super) bytes: Vec<u8>,
}

/// Reads every file of a book.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn read_files(folder: &Path) -> Result<Vec<ReadFile>, String> {
    let files = list_files(folder).map_err(|fault| fault.to_string())?;
    let read = |file: BookFile| match fs::read(&file.full) {
        Ok(bytes) => Ok(ReadFile { file, bytes }),
        Err(fault) => Err(format!("`{}` can't be read: {fault}", file.path)),
    };
    files.into_iter().map(read).collect()
}

/// The book of some files, with another text for those that have one.
///
/// # Errors
/// Where the text is over four gigabytes.
pub(super) fn load<'t>(files: &'t [ReadFile], text_of: impl Fn(usize) -> Option<&'t [u8]>) -> Result<Loaded, LoadError> {
    let mut loaded = Loaded::default();
    for (at, read) in files.iter().enumerate() {
        let bytes = text_of(at).unwrap_or(&read.bytes);
        loaded.add(read.file.path.as_str(), bytes).ok_or(LoadError::TooLarge)?;
    }
    Ok(loaded)
}

/// Why a file may not be written, as a half sentence; `None` where it may.
pub(super) fn may_not_be_written(file: &BookFile, folder: &Path) -> Option<String> {
    let (Ok(real), Ok(book)) = (fs::canonicalize(&file.full), fs::canonicalize(folder)) else {
        return Some("is no longer there".to_owned());
    };
    if !real.starts_with(&book) {
        return Some("is a link that leads out of the book".to_owned());
    }
    match fs::metadata(&real) {
        Ok(about) if about.permissions().readonly() => Some("may not be written by you".to_owned()),
        Ok(_) => None,
        Err(fault) => Some(format!("can't be written: {fault}")),
    }
}

/// Writes a file over with another text, whole or not at all.
///
/// # Errors
/// A sentence for the reader, where it may not or can't be written, or was changed since it was read.
pub(super) fn write_over(read: &ReadFile, folder: &Path, text: &str) -> Result<(), String> {
    let path = &read.file.path;
    if let Some(why) = may_not_be_written(&read.file, folder) {
        return Err(format!("`{path}` {why}"));
    }
    if fs::read(&read.file.full).map_or(true, |bytes| bytes != read.bytes) {
        return Err(format!("`{path}` was changed meanwhile, so it stays as it is; run this again"));
    }
    write_whole(&read.file.full, text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(folder: &Path, name: &str, text: &str) -> ReadFile {
        let full = folder.join(name);
        fs::write(&full, text).expect("written");
        ReadFile { file: BookFile { path: name.to_owned(), full }, bytes: text.as_bytes().to_vec() }
    }

    #[test]
    fn a_file_that_was_saved_meanwhile_stays_as_it_is() {
        let folder = tempfile::tempdir().expect("a folder");
        let read = file(folder.path(), "a.kerf", "one\n");
        fs::write(&read.file.full, "two\n").expect("saved");
        let told = write_over(&read, folder.path(), "three\n").expect_err("it was changed");
        assert!(told.contains("changed meanwhile"), "{told}");
        assert_eq!(fs::read_to_string(&read.file.full).expect("read"), "two\n");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_out_of_the_book_is_not_followed_and_one_inside_is() {
        let (folder, outside) = (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder"));
        let real = file(outside.path(), "a.kerf", "one\n");
        let link = BookFile { path: "a.kerf".to_owned(), full: folder.path().join("a.kerf") };
        std::os::unix::fs::symlink(&real.file.full, &link.full).expect("linked");
        let read = ReadFile { file: link, bytes: b"one\n".to_vec() };
        let told = write_over(&read, folder.path(), "two\n").expect_err("it leads out");
        assert!(told.contains("leads out of the book"), "{told}");
        assert_eq!(fs::read_to_string(&real.file.full).expect("read"), "one\n");

        let inside = file(folder.path(), "b.txt", "one\n");
        let link = BookFile { path: "b.kerf".to_owned(), full: folder.path().join("b.kerf") };
        std::os::unix::fs::symlink("b.txt", &link.full).expect("linked");
        write_over(&ReadFile { file: link.clone(), bytes: b"one\n".to_vec() }, folder.path(), "two\n").expect("written");
        assert_eq!(fs::read_to_string(&inside.file.full).expect("read"), "two\n");
        assert!(fs::symlink_metadata(&link.full).expect("there").file_type().is_symlink());
    }

    #[test]
    fn a_file_that_may_only_be_read_stays_as_it_is() {
        let folder = tempfile::tempdir().expect("a folder");
        let read = file(folder.path(), "a.kerf", "one\n");
        let mut about = fs::metadata(&read.file.full).expect("there").permissions();
        about.set_readonly(true);
        fs::set_permissions(&read.file.full, about).expect("set");
        let told = write_over(&read, folder.path(), "two\n").expect_err("it may not");
        assert!(told.contains("may not be written by you"), "{told}");
    }
}
