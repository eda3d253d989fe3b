//! Waits for a save: looks at a book's files again and again until one of them is another, new or gone.
//!
//! Looking again is chosen over being told by the system: it sees an editor that saves by renaming, a folder on a network and a
//! file that a `.gitignore` no longer names, by the very list by which the book is read, and it needs nothing but the
//! files' times. A look costs as much as listing the folder, and one is taken every 300 ms, or more seldom where it takes long.

mod seen;

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

use super::clock::Timer;
use crate::sources::exists_in_book;

use self::seen::Seen;

pub(super) use self::seen::{Changes, stand_for};

/// How long it rests between two looks.
const REST: Duration = Duration::from_millis(300);
/// How much longer it rests than a look took, so that a very large folder is not looked at all the time.
const REST_PER_LOOK: u32 = 20;
/// The longest that it rests: a machine that stands still during one look must not let the next save wait.
const REST_AT_MOST: Duration = Duration::from_secs(2);
/// How long a save may go on: files are looked at until they stay the same for so long, and no longer than so many times.
const SETTLES: Duration = Duration::from_millis(40);
const SETTLES_AT_MOST: usize = 50;

/// What is watched.
#[derive(Debug)]
pub(super) struct Watch {
    folder: PathBuf,
    templates: Option<PathBuf>,
    seen: Seen,
    papers: RefCell<BTreeMap<String, bool>>,
}

impl Watch {
    /// Watches a book's folder, its own forms in it, and a folder of templates.
    pub(super) fn begin(folder: &Path, templates: Option<&Path>) -> Self {
        let (folder, templates) = (folder.to_owned(), templates.map(Path::to_owned));
        let seen = Seen::look(&folder, templates.as_deref(), &BTreeMap::new());
        Self { folder, templates, seen, papers: RefCell::default() }
    }

    /// Whether there is a paper that the book names (`file "receipts/A-1182.pdf"`). What was asked for is watched too, up to the
    /// next save.
    pub(super) fn has_paper(&self, path: &str) -> bool {
        let there = exists_in_book(&self.folder, path);
        self.papers.borrow_mut().insert(path.to_owned(), there);
        there
    }

    /// Waits until something is other than when it was looked at last, and gives what happened. What changed since the
    /// last look, while the book was compiled, counts. What happened while a save went on is told as it stands at its end: a file
    /// that was written and removed at once is removed.
    pub(super) fn wait(&mut self) -> Changes {
        self.seen.papers = self.papers.take();
        loop {
            let timer = Timer::start();
            let now = self.look();
            if !self.seen.changes(&now).is_empty() {
                return self.told_when_settled(now);
            }
            // What was seen is kept up to date: of a file that is no longer fresh its text is not read again.
            self.seen = now;
            sleep(rest_after(timer.taken()));
        }
    }

    /// What happened, once a save that a look saw is over.
    fn told_when_settled(&mut self, now: Seen) -> Changes {
        let first = self.seen.changes(&now);
        let settled = self.settle(now);
        let in_the_end = self.seen.changes(&settled);
        self.seen = settled;
        // What was undone at once may have been compiled in between: it is told too.
        if in_the_end.is_empty() { first } else { in_the_end }
    }

    /// Looks until two looks are alike, since an editor may write a file in several steps.
    fn settle(&self, mut now: Seen) -> Seen {
        for _ in 0..SETTLES_AT_MOST {
            sleep(SETTLES);
            let later = self.look();
            let settled = now.changes(&later).is_empty();
            now = later;
            if settled {
                break;
            }
        }
        now
    }

    fn look(&self) -> Seen {
        Seen::look(&self.folder, self.templates.as_deref(), &self.seen.papers)
    }
}

/// How long it rests after a look that took so long.
fn rest_after(look: Duration) -> Duration {
    look.saturating_mul(REST_PER_LOOK).clamp(REST, REST_AT_MOST)
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    fn book() -> tempfile::TempDir {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("a.kerf"), "one\n").expect("written");
        fs::write(folder.path().join("b.kerf"), "two\n").expect("written");
        folder
    }

    #[test]
    fn a_save_before_the_wait_counts() {
        let folder = book();
        let mut watch = Watch::begin(folder.path(), None);
        fs::write(folder.path().join("a.kerf"), "three\n").expect("written");
        assert_eq!(watch.wait().words(), "saved: a.kerf");
    }

    #[test]
    fn a_text_of_the_same_length_and_time_is_another() {
        let folder = book();
        let path = folder.path().join("a.kerf");
        let time = fs::metadata(&path).expect("there").modified().expect("a time");
        let mut watch = Watch::begin(folder.path(), None);
        fs::write(&path, "eno\n").expect("written");
        fs::File::options().append(true).open(&path).expect("there").set_modified(time).expect("set");
        assert_eq!(watch.wait().words(), "saved: a.kerf");
    }

    #[test]
    fn new_and_removed_files_are_seen() {
        let folder = book();
        let mut watch = Watch::begin(folder.path(), None);
        fs::create_dir(folder.path().join("2026")).expect("made");
        fs::write(folder.path().join("2026/03.kerf"), "").expect("written");
        assert_eq!(watch.wait().words(), "new: 2026/03.kerf");
        fs::rename(folder.path().join("b.kerf"), folder.path().join("c.kerf")).expect("renamed");
        assert_eq!(watch.wait().words(), "new: c.kerf; removed: b.kerf");
    }

    #[test]
    fn a_book_s_forms_and_papers_and_the_templates_are_seen() {
        let folder = book();
        let templates = tempfile::tempdir().expect("a folder");
        let mut watch = Watch::begin(folder.path(), Some(templates.path()));
        assert!(!watch.has_paper("receipts/A-1.pdf"));
        fs::create_dir(folder.path().join("receipts")).expect("made");
        fs::write(folder.path().join("receipts/A-1.pdf"), "x").expect("written");
        assert_eq!(watch.wait().words(), "new: receipts/A-1.pdf");
        fs::create_dir(folder.path().join("forms")).expect("made");
        fs::write(folder.path().join("forms/own.toml"), "x").expect("written");
        fs::write(templates.path().join("page.css"), "x").expect("written");
        assert_eq!(watch.wait().words(), "new: forms/own.toml, templates: page.css");
    }

    #[test]
    fn what_happens_while_a_save_goes_on_is_told_as_it_ends() {
        let folder = book();
        let path = folder.path().join("a.kerf");
        let mut watch = Watch::begin(folder.path(), None);
        fs::write(&path, "three\n").expect("written");
        let saved = watch.look();
        assert_eq!(watch.seen.changes(&saved).words(), "saved: a.kerf");
        fs::remove_file(&path).expect("removed");
        assert_eq!(watch.told_when_settled(saved).words(), "removed: a.kerf");
        assert!(watch.seen.changes(&watch.look()).is_empty(), "nothing is told twice");
    }

    #[test]
    fn what_is_undone_while_a_save_goes_on_is_told_too() {
        let folder = book();
        let path = folder.path().join("c.kerf");
        let mut watch = Watch::begin(folder.path(), None);
        fs::write(&path, "three\n").expect("written");
        let saved = watch.look();
        fs::remove_file(&path).expect("removed");
        assert_eq!(watch.told_when_settled(saved).words(), "new: c.kerf");
    }

    #[test]
    fn a_look_that_took_long_lets_no_save_wait_for_long() {
        assert_eq!(rest_after(Duration::ZERO), REST);
        assert_eq!(rest_after(Duration::from_millis(50)), Duration::from_secs(1));
        assert_eq!(rest_after(Duration::from_secs(60)), REST_AT_MOST);
    }

    #[test]
    fn a_book_that_goes_away_and_comes_back_is_seen() {
        let above = tempfile::tempdir().expect("a folder");
        let (book, aside) = (above.path().join("book"), above.path().join("aside"));
        fs::create_dir(&book).expect("made");
        fs::write(book.join("a.kerf"), "x").expect("written");
        let mut watch = Watch::begin(&book, None);
        fs::rename(&book, &aside).expect("moved");
        assert_eq!(watch.wait().words(), "removed: a.kerf");
        fs::rename(&aside, &book).expect("moved");
        assert_eq!(watch.wait().words(), "new: a.kerf");
    }

    #[test]
    fn many_changes_are_named_in_few_words() {
        let names = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>();
        let of =
            |saved: &[&str], removed: &[&str]| Changes { saved: names(saved), removed: names(removed), ..Changes::default() };
        assert_eq!(of(&["a"], &[]).words(), "saved: a");
        assert_eq!(of(&["a", "b", "c"], &["d"]).words(), "saved: a, b, c; removed: d");
        assert_eq!(of(&["a", "b", "c", "d", "e"], &[]).words(), "saved: a, b, c and 2 more");
    }
}
