//! A folder of files that is written whole or not at all, and that replaces only what was written the same way before.
//!
//! The files are written to a folder beside it, one by one as they are made, which then takes its place. A file `.kerfbook-site` in it lists what was
//! written; a folder that holds anything else is left as it is, and told.
//!
//! Where a run is killed, the folder beside stays. A file `.kerfbook-unfinished` in it says that it is nobody's: the next run after an hour, in which no
//! site is still being written, takes it away.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use super::clock;
use super::write_whole::{BESIDE, folder_of};

/// Lists the files of a site, one a line.
const LIST: &str = ".kerfbook-site";

/// Stands in a folder beside, for as long as it may be taken away.
const UNFINISHED: &str = ".kerfbook-unfinished";

/// How old the folder of a run that was killed is at least when it is taken away.
const STALE: Duration = Duration::from_secs(3_600);

/// A folder that is being written, beside the one whose place it takes at the end.
pub(super) struct SiteFolder {
    /// As the reader named it.
    named: PathBuf,
    place: PathBuf,
    above: PathBuf,
    stands: Stands,
    fresh: tempfile::TempDir,
    files: Mutex<BTreeSet<String>>,
}

impl SiteFolder {
    /// Begins a folder.
    ///
    /// # Errors
    /// A sentence for the reader: where the folder holds what was not written by an earlier run, or can't be written.
    pub(super) fn begin(folder: &Path) -> Result<Self, String> {
        let place = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
        let stands = stands_there(&place)?;
        let told = |fault| cannot_write(folder, &fault);
        let above = folder_of(&place);
        fs::create_dir_all(&above).map_err(told)?;
        take_stale_away(&above);
        let fresh = new_folder(&above).map_err(told)?;
        fs::write(fresh.path().join(UNFINISHED), "").map_err(told)?;
        Ok(Self { named: folder.to_owned(), place, above, stands, fresh, files: Mutex::default() })
    }

    /// Writes one of its files; `/` parts folders. Files may be written side by side.
    ///
    /// # Errors
    /// A sentence for the reader: where it can't be written, or was written before.
    pub(super) fn write(&self, name: &str, text: &str) -> Result<(), String> {
        let mut files = self.files.lock().unwrap_or_else(PoisonError::into_inner);
        if !files.insert(name.to_owned()) {
            return Err(format!("`{name}` of the site would be written twice; this is a fault of the program"));
        }
        drop(files);
        let file = self.fresh.path().join(name);
        let folder = name.rsplit_once('/').map_or(Ok(()), |(folder, _)| fs::create_dir_all(self.fresh.path().join(folder)));
        folder.and_then(|()| fs::write(file, text)).map_err(|fault| cannot_write(&self.named, &fault))
    }

    /// Puts the folder in its place, and says how many pages it has.
    ///
    /// # Errors
    /// A sentence for the reader.
    pub(super) fn finish(self) -> Result<usize, String> {
        let files = self.files.into_inner().unwrap_or_else(PoisonError::into_inner);
        let list: String = files.iter().map(|name| format!("{name}\n")).collect();
        let told = |fault| cannot_write(&self.named, &fault);
        fs::write(self.fresh.path().join(LIST), list).map_err(told)?;
        fs::remove_file(self.fresh.path().join(UNFINISHED)).map_err(told)?;
        put_in_place(self.fresh, &self.place, &self.above, self.stands).map_err(told)?;
        Ok(files.iter().filter(|name| name.ends_with(".html")).count())
    }
}

fn cannot_write(folder: &Path, fault: &io::Error) -> String {
    format!("`{}` can't be written: {fault}", folder.display())
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
    if place.is_dir() {
        // A terminal that stands in the folder goes on standing in it.
        return move_into(&fresh, &place, files);
    }
    fs::rename(fresh.path(), &place).map_err(told)?;
    let _ = fresh.keep();
    Ok(())
}

/// Moves what was written into a folder that is empty; where one can't be moved, those that were are taken out again.
fn move_into(fresh: &tempfile::TempDir, place: &Path, files: &BTreeMap<String, String>) -> Result<(), String> {
    if let Some((name, _)) = names_in(place)?.first() {
        return Err(format!("`{}` is not empty: it holds `{name}`", place.display()));
    }
    for name in files.keys() {
        if let Err(fault) = fs::rename(fresh.path().join(name), place.join(name)) {
            for moved in files.keys().take_while(|moved| *moved != name) {
                let _ = fs::remove_file(place.join(moved));
            }
            return Err(cannot_write(place, &fault));
        }
    }
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
    let ours: BTreeSet<&str> = list.lines().chain(std::iter::once(LIST)).collect();
    let folders: BTreeSet<&str> = ours.iter().filter_map(|name| name.split_once('/')).map(|(folder, _)| folder).collect();
    for (name, is_folder) in names_in(place)? {
        let is_ours = match is_folder {
            true => folders.contains(name.as_str()) && holds_only_ours(place, &name, &ours)?,
            false => ours.contains(name.as_str()),
        };
        if !is_ours {
            return Err(format!(
                "`{}` holds `{name}`, which an earlier `kerfbook site` did not write; choose a new or empty folder",
                place.display()
            ));
        }
    }
    Ok(Stands::Ours)
}

/// Whether a folder of a site holds nothing but its pages.
fn holds_only_ours(place: &Path, folder: &str, ours: &BTreeSet<&str>) -> Result<bool, String> {
    let names = names_in(&place.join(folder))?;
    Ok(names.into_iter().all(|(name, is_folder)| !is_folder && ours.contains(format!("{folder}/{name}").as_str())))
}

/// The names in a folder, sorted, and whether each is a folder. What a link leads to is none of the site's, so a link counts as a folder.
fn names_in(folder: &Path) -> Result<Vec<(String, bool)>, String> {
    let told = |fault: io::Error| format!("`{}` can't be read: {fault}", folder.display());
    let mut names = Vec::new();
    for entry in fs::read_dir(folder).map_err(told)? {
        let entry = entry.map_err(told)?;
        let is_file = entry.file_type().map_err(told)?.is_file();
        names.push((entry.file_name().to_string_lossy().into_owned(), !is_file));
    }
    names.sort();
    Ok(names)
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
    // The old site is nobody's from here on, even where the run is killed before it is gone.
    let _ = fs::write(aside.path().join(UNFINISHED), "");
    Ok(())
}

/// Takes away what runs that were killed left beside a folder: folders with the name and the mark of one, an hour old. What can't be taken away stays,
/// since nothing depends on it.
fn take_stale_away(above: &Path) {
    for entry in fs::read_dir(above).into_iter().flatten().flatten() {
        let is_named = entry.file_name().to_str().is_some_and(|name| name.starts_with(BESIDE));
        let is_folder = entry.file_type().is_ok_and(|about| about.is_dir());
        let mark = entry.path().join(UNFINISHED);
        if is_named && is_folder && fs::symlink_metadata(&mark).is_ok_and(|about| about.is_file() && is_stale(&about)) {
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

fn is_stale(about: &fs::Metadata) -> bool {
    about.modified().ok().and_then(|then| clock::now().duration_since(then).ok()).is_some_and(|age| age >= STALE)
}

#[cfg(unix)]
fn new_folder(above: &Path) -> io::Result<tempfile::TempDir> {
    use std::os::unix::fs::PermissionsExt;
    tempfile::Builder::new().prefix(BESIDE).permissions(fs::Permissions::from_mode(0o777)).tempdir_in(above)
}

#[cfg(not(unix))]
fn new_folder(above: &Path) -> io::Result<tempfile::TempDir> {
    tempfile::Builder::new().prefix(BESIDE).tempdir_in(above)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn write_folder(folder: &Path, files: &BTreeMap<String, String>) -> Result<usize, String> {
        let site = SiteFolder::begin(folder)?;
        for (name, text) in files {
            site.write(name, text)?;
        }
        site.finish()
    }

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
    fn an_empty_folder_stays_the_folder_that_it_is_and_one_with_a_file_stays_as_it_is() {
        let above = tempfile::tempdir().expect("a folder");
        let place = above.path().join("book");
        fs::create_dir(&place).expect("made");
        // What is open stays open where the folder is the same.
        let open = fs::read_dir(&place).expect("a folder");
        write_new_folder(&place, &files(&["a.kerf", "b.kerf"])).expect("written");
        assert_eq!((names(&place), open.count()), (vec!["a.kerf".to_owned(), "b.kerf".to_owned()], 2));
        let told = write_new_folder(&place, &files(&["a.kerf", "c.kerf"])).expect_err("not empty");
        assert!(told.contains("is not empty: it holds `a.kerf`"), "{told}");
        assert_eq!(names(&place), ["a.kerf", "b.kerf"]);
        assert_eq!(names(above.path()), ["book"]);
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
    fn what_a_killed_run_left_is_taken_away_after_an_hour_and_nothing_else_is() {
        let above = tempfile::tempdir().expect("a folder");
        let made = |name: &str, mark: bool, hours: u64| {
            let folder = above.path().join(name);
            fs::create_dir_all(folder.join("thing")).expect("made");
            if mark {
                fs::write(folder.join(UNFINISHED), "").expect("written");
                let file = fs::File::options().append(true).open(folder.join(UNFINISHED)).expect("there");
                file.set_modified(clock::now() - Duration::from_secs(hours * 3_600 + 60)).expect("set");
            }
        };
        made(".kerfbook-left", true, 1);
        made(".kerfbook-runs", true, 0);
        made(".kerfbook-mine", false, 9);
        made("mine", true, 9);
        write_folder(&above.path().join("site"), &files(&["index.html"])).expect("written");
        assert_eq!(names(above.path()), [".kerfbook-mine", ".kerfbook-runs", "mine", "site"]);
        assert_eq!(names(&above.path().join("site")), [".kerfbook-site", "index.html"]);
    }

    #[test]
    fn a_run_that_ends_early_leaves_a_folder_that_is_marked() {
        let above = tempfile::tempdir().expect("a folder");
        let site = SiteFolder::begin(&above.path().join("site")).expect("begun");
        assert_eq!(names(site.fresh.path()), [UNFINISHED]);
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
    fn a_paper_in_one_of_its_folders_is_left_alone() {
        let above = tempfile::tempdir().expect("a folder");
        let site = above.path().join("site");
        let written = files(&["index.html", "thing/oak.html"]);
        write_folder(&site, &written).expect("written");
        write_folder(&site, &written).expect("written again");
        fs::write(site.join("thing/receipt.pdf"), "dear").expect("written");
        let told = write_folder(&site, &written).expect_err("refused");
        assert!(told.contains("holds `thing`"), "{told}");
        fs::remove_file(site.join("thing/receipt.pdf")).expect("removed");
        fs::create_dir(site.join("own")).expect("made");
        assert!(write_folder(&site, &written).is_err());
    }

    #[test]
    fn a_site_that_is_not_finished_leaves_the_one_before() {
        let above = tempfile::tempdir().expect("a folder");
        let site = above.path().join("site");
        write_folder(&site, &files(&["index.html"])).expect("written");
        let begun = SiteFolder::begin(&site).expect("begun");
        begun.write("thing/oak.html", "half").expect("written");
        assert!(begun.write("thing/oak.html", "again").is_err());
        drop(begun);
        assert_eq!(names(&site), [".kerfbook-site", "index.html"]);
        assert_eq!(names(above.path()), ["site"]);
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
