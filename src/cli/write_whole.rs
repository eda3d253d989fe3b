//! Files that are written whole or not at all: beside their place under another name first, then moved there.

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// How the name of what is written beside its place begins.
pub(super) const BESIDE: &str = ".kerfbook-";

/// Writes a file whole or not at all. What stood there is replaced; where it was a link, what it leads to. A place that is no
/// ordinary file (a terminal, a pipe) is written to as it is.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn write_whole(path: &Path, text: &str) -> Result<(), String> {
    let folder = folder_of(path);
    if !folder.exists() {
        return Err(format!("`{}` can't be written: there is no folder `{}`", path.display(), folder.display()));
    }
    try_write(path, text).map_err(|fault| format!("`{}` can't be written: {fault}", path.display()))
}

fn try_write(path: &Path, text: &str) -> io::Result<()> {
    let place = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let before = fs::metadata(&place).ok();
    if before.as_ref().is_some_and(|about| !about.is_file() && !about.is_dir()) {
        return OpenOptions::new().write(true).open(&place)?.write_all(text.as_bytes());
    }
    // The fault without the name of the file beside, of which the reader knows nothing.
    let mut beside = new_file(&folder_of(&place)).map_err(|fault| io::Error::from(fault.kind()))?;
    beside.write_all(text.as_bytes())?;
    if let Some(before) = before.filter(fs::Metadata::is_file) {
        fs::set_permissions(beside.path(), before.permissions())?;
    }
    beside.as_file().sync_all()?;
    beside.persist(&place).map_err(|fault| fault.error)?;
    Ok(())
}

/// The folder in which a path lies.
pub(super) fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

#[cfg(unix)]
fn new_file(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    use std::os::unix::fs::PermissionsExt;
    // As any new file: what the owner's mask leaves of reading and writing for all.
    tempfile::Builder::new().prefix(BESIDE).permissions(fs::Permissions::from_mode(0o666)).tempfile_in(folder)
}

#[cfg(not(unix))]
fn new_file(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    tempfile::Builder::new().prefix(BESIDE).tempfile_in(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .expect("a folder")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_is_replaced_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("cost.html");
        write_whole(&path, "first").expect("written");
        write_whole(&path, "second").expect("written");
        assert_eq!(fs::read_to_string(&path).expect("read"), "second");
        assert_eq!(names(folder.path()), ["cost.html"]);
    }

    #[test]
    fn where_it_can_t_be_written_nothing_changes() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir(folder.path().join("cost.html")).expect("made");
        let told = write_whole(&folder.path().join("cost.html"), "x").expect_err("a folder stands there");
        assert!(told.contains("can't be written"), "{told}");
        assert_eq!(names(folder.path()), ["cost.html"]);
        let told = write_whole(&folder.path().join("none/cost.html"), "x").expect_err("no such folder");
        assert!(told.contains("there is no folder `") && !told.contains(".kerfbook-"), "{told}");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link_and_permissions_stay() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().expect("a folder");
        let (real, link) = (folder.path().join("real.html"), folder.path().join("link.html"));
        fs::write(&real, "first").expect("written");
        fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).expect("set");
        std::os::unix::fs::symlink(&real, &link).expect("linked");
        write_whole(&link, "second").expect("written");
        assert_eq!(fs::read_to_string(&real).expect("read"), "second");
        assert!(fs::symlink_metadata(&link).expect("there").file_type().is_symlink());
        assert_eq!(fs::metadata(&real).expect("there").permissions().mode() & 0o777, 0o640);
    }

    #[cfg(unix)]
    #[test]
    fn what_is_no_ordinary_file_is_written_to_and_not_replaced() {
        write_whole(Path::new("/dev/null"), "x").expect("written");
        assert!(!fs::metadata("/dev/null").expect("there").is_file());
    }
}
