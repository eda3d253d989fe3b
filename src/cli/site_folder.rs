//! A folder of files that is written whole or not at all, and that replaces only what was written the same way before.
//!
//! The files are written to a folder beside it, which then takes its place. A file `.kerfbook-site` in it lists what was
//! written; a folder that holds anything else is left as it is, and told.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::progress;
use super::write_whole::folder_of;

/// Lists the files of a site, one a line.
const LIST: &str = ".kerfbook-site";

/// Writes files, by their names, as the folder's whole content.
///
/// # Errors
/// A sentence for the reader: where the folder holds what was not written by an earlier run, or can't be written.
pub(super) fn write_folder(folder: &Path, files: &BTreeMap<String, String>) -> Result<(), String> {
    let place = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    let stands = stands_there(&place)?;
    let told = |fault: io::Error| format!("`{}` can't be written: {fault}", folder.display());
    let above = folder_of(&place);
    fs::create_dir_all(&above).map_err(told)?;
    let fresh = new_folder(&above).map_err(told)?;
    for (done, (name, text)) in files.iter().enumerate() {
        progress::at_part("writing pages", done, files.len());
        fs::write(fresh.path().join(name), text).map_err(told)?;
    }
    let list: String = files.keys().map(|name| format!("{name}\n")).collect();
    fs::write(fresh.path().join(LIST), list).map_err(told)?;
    put_in_place(fresh, &place, &above, stands).map_err(told)
}

/// Writes files, by their names, as the content of a folder that does not exist yet or is empty, whole or not at all.
///
/// # Errors
/// A sentence for the reader.
pub(super) fn write_new_folder(folder: &Path, files: &BTreeMap<String, String>) -> Result<(), String> {
    let told = |fault: io::Error| format!("`{}` can't be written: {fault}", folder.display());
    let place = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    let above = folder_of(&place);
    fs::create_dir_all(&above).map_err(told)?;
    let fresh = new_folder(&above).map_err(told)?;
    for (name, text) in files {
        fs::write(fresh.path().join(name), text).map_err(told)?;
    }
    // An empty folder gives way; one that is not empty makes the move fail, and stays.
    if place.is_dir() {
        fs::remove_dir(&place).map_err(told)?;
    }
    fs::rename(fresh.path(), &place).map_err(told)?;
    let _ = fresh.keep();
    Ok(())
}

/// What stands where the folder is to be.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stands {
    Nothing,
    /// An empty folder or a site.
    Ours,
}

/// Looks at what stands there, and refuses what must not be replaced.
fn stands_there(place: &Path) -> Result<Stands, String> {
    if !place.exists() {
        return Ok(Stands::Nothing);
    }
    if !place.is_dir() {
        return Err(format!("`{}` is not a folder", place.display()));
    }
    let list = fs::read_to_string(place.join(LIST)).unwrap_or_default();
    let ours: Vec<&str> = list.lines().chain(std::iter::once(LIST)).collect();
    let entries = fs::read_dir(place).map_err(|fault| format!("`{}` can't be read: {fault}", place.display()))?;
    for entry in entries {
        let entry = entry.map_err(|fault| format!("`{}` can't be read: {fault}", place.display()))?;
        let name = entry.file_name();
        let is_ours = !entry.path().is_dir() && name.to_str().is_some_and(|name| ours.contains(&name));
        if !is_ours {
            return Err(format!(
                "`{}` holds `{}`, which an earlier `kerfbook site` did not write; choose a new or empty folder",
                place.display(),
                name.to_string_lossy()
            ));
        }
    }
    Ok(Stands::Ours)
}

fn put_in_place(fresh: tempfile::TempDir, place: &Path, above: &Path, stands: Stands) -> io::Result<()> {
    if stands == Stands::Nothing {
        fs::rename(fresh.path(), place)?;
        let _ = fresh.keep();
        return Ok(());
    }
    let aside = new_folder(above)?;
    let old = aside.path().join("old");
    fs::rename(place, &old)?;
    if let Err(fault) = fs::rename(fresh.path(), place) {
        // The old site goes back to its place; where even that fails, it is kept aside rather than lost.
        if fs::rename(&old, place).is_err() {
            let kept: PathBuf = aside.keep();
            return Err(io::Error::other(format!("{fault}; the old one is kept in `{}`", kept.display())));
        }
        return Err(fault);
    }
    let _ = fresh.keep();
    Ok(())
}

#[cfg(unix)]
fn new_folder(above: &Path) -> io::Result<tempfile::TempDir> {
    use std::os::unix::fs::PermissionsExt;
    tempfile::Builder::new().prefix(".kerfbook-").permissions(fs::Permissions::from_mode(0o777)).tempdir_in(above)
}

#[cfg(not(unix))]
fn new_folder(above: &Path) -> io::Result<tempfile::TempDir> {
    tempfile::Builder::new().prefix(".kerfbook-").tempdir_in(above)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(names: &[&str]) -> BTreeMap<String, String> {
        names.iter().map(|name| ((*name).to_owned(), format!("this is {name}"))).collect()
    }

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .expect("a folder")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_site_takes_the_place_of_the_one_before() {
        let above = tempfile::tempdir().expect("a folder");
        let site = above.path().join("deep/site");
        write_folder(&site, &files(&["index.html", "year-2025.html"])).expect("written");
        write_folder(&site, &files(&["index.html", "year-2026.html"])).expect("written");
        assert_eq!(names(&site), [".kerfbook-site", "index.html", "year-2026.html"]);
        assert_eq!(names(&above.path().join("deep")), ["site"]);
    }

    #[test]
    fn an_empty_folder_is_taken() {
        let above = tempfile::tempdir().expect("a folder");
        write_folder(above.path(), &files(&["index.html"])).expect("written");
        assert_eq!(names(above.path()), [".kerfbook-site", "index.html"]);
    }

    #[test]
    fn a_folder_that_holds_something_else_is_left_alone() {
        let above = tempfile::tempdir().expect("a folder");
        let site = above.path().join("site");
        write_folder(&site, &files(&["index.html"])).expect("written");
        fs::write(site.join("receipt.pdf"), "dear").expect("written");
        let told = write_folder(&site, &files(&["index.html"])).expect_err("refused");
        assert!(told.contains("holds `receipt.pdf`"), "{told}");
        assert_eq!(fs::read_to_string(site.join("receipt.pdf")).expect("there"), "dear");
        assert_eq!(names(above.path()), ["site"]);
    }

    #[test]
    fn a_folder_called_like_a_page_is_not_taken_for_one() {
        let above = tempfile::tempdir().expect("a folder");
        let site = above.path().join("site");
        write_folder(&site, &files(&["index.html"])).expect("written");
        fs::remove_file(site.join("index.html")).expect("removed");
        fs::create_dir(site.join("index.html")).expect("made");
        assert!(write_folder(&site, &files(&["index.html"])).is_err());
    }

    #[test]
    fn a_file_is_not_taken_for_a_folder() {
        let above = tempfile::tempdir().expect("a folder");
        fs::write(above.path().join("site"), "x").expect("written");
        assert!(write_folder(&above.path().join("site"), &files(&["index.html"])).is_err());
        assert_eq!(names(above.path()), ["site"]);
    }

    #[test]
    fn a_new_folder_never_takes_the_place_of_one_that_holds_something() {
        let above = tempfile::tempdir().expect("a folder");
        let book = above.path().join("book");
        write_new_folder(&book, &files(&["shop.kerf"])).expect("written");
        assert!(write_new_folder(&book, &files(&["other.kerf"])).is_err());
        assert_eq!(names(&book), ["shop.kerf"]);
        assert_eq!(names(above.path()), ["book"]);
    }
}
