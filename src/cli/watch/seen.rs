//! How the files of a book look from outside: their names, lengths and times.
//!
//! A file that was written within the last seconds could be written once more within the same tick of its disk's clock (two
//! seconds on some), with the same length; of such a file the text is compared as well.

use std::collections::BTreeMap;
use std::fs;
use std::hash::Hasher;
use std::path::Path;
use std::time::{Duration, SystemTime};

use rustc_hash::FxHasher;
use walkdir::WalkDir;

use crate::cli::clock;
use crate::sources::{exists_in_book, list_files};

/// How long a file counts as just written.
const FRESH: Duration = Duration::from_secs(4);

/// What a look saw.
#[derive(Clone, Debug, Default)]
pub(in crate::cli) struct Seen {
    files: BTreeMap<String, Trace>,
    /// Why the book's files can't be listed.
    fault: Option<String>,
    /// Whether there are the papers that the book names.
    pub(super) papers: BTreeMap<String, bool>,
}

/// How a file looked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Trace {
    length: u64,
    modified: Option<SystemTime>,
    /// Stands for the text of a file that was just written.
    text: Option<u64>,
}

impl Trace {
    fn of(path: &Path) -> Self {
        let Ok(about) = fs::metadata(path) else { return Self::default() };
        let modified = about.modified().ok();
        let is_fresh = modified.is_none_or(|then| clock::now().duration_since(then).map_or(true, |age| age < FRESH));
        let text = is_fresh.then(|| fs::read(path).map_or(0, |text| stand_for(&text)));
        Self { length: about.len(), modified, text }
    }

    fn is_like(self, other: Self) -> bool {
        let same_text = self.text.zip(other.text).is_none_or(|(one, other)| one == other);
        same_text && (self.length, self.modified) == (other.length, other.modified)
    }
}

/// What happened between two looks: the names of files, in their order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::cli) struct Changes {
    /// Other than before.
    pub(super) saved: Vec<String>,
    /// Not there before.
    pub(super) new: Vec<String>,
    /// There no longer.
    pub(super) removed: Vec<String>,
}

impl Changes {
    pub(super) fn is_empty(&self) -> bool {
        self.saved.is_empty() && self.new.is_empty() && self.removed.is_empty()
    }

    fn sort(&mut self) {
        for names in [&mut self.saved, &mut self.new, &mut self.removed] {
            names.sort();
            names.dedup();
        }
    }

    /// In few words: `saved: 2026/03.kerf`, or `new: a.kerf, b.kerf, c.kerf and 4 more; removed: d.kerf`.
    pub(in crate::cli) fn words(&self) -> String {
        let kinds = [("saved", &self.saved), ("new", &self.new), ("removed", &self.removed)];
        let told = kinds.into_iter().filter(|(_, names)| !names.is_empty());
        told.map(|(what, names)| format!("{what}: {}", listed(names))).collect::<Vec<_>>().join("; ")
    }
}

/// The first of some names, and how many more there are.
fn listed(names: &[String]) -> String {
    const SHOWN: usize = 3;
    let shown = names.iter().take(SHOWN).map(String::as_str).collect::<Vec<_>>().join(", ");
    match names.len().saturating_sub(SHOWN) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}

/// A number that stands for a text.
pub(in crate::cli) fn stand_for(text: &[u8]) -> u64 {
    let mut hasher = FxHasher::default();
    hasher.write(text);
    hasher.finish()
}

impl Seen {
    /// Looks at a book's files, its own forms, a folder of templates, and whether there are the papers that it names.
    pub(super) fn look(folder: &Path, templates: Option<&Path>, papers: &BTreeMap<String, bool>) -> Self {
        let mut seen = Self::default();
        match list_files(folder) {
            Ok(files) => seen.files.extend(files.into_iter().map(|file| (file.path, Trace::of(&file.full)))),
            Err(fault) => seen.fault = Some(fault.to_string()),
        }
        seen.look_below(&folder.join("forms"), "forms/", &["toml"]);
        if let Some(templates) = templates {
            seen.look_below(templates, "templates: ", &["html", "css"]);
        }
        seen.papers = papers.keys().map(|path| (path.clone(), exists_in_book(folder, path))).collect();
        seen
    }

    /// What can't be looked at is told when it is read.
    fn look_below(&mut self, folder: &Path, name: &str, endings: &[&str]) {
        for entry in WalkDir::new(folder).follow_links(true).into_iter().flatten() {
            let path = entry.path();
            let is_wanted = path.extension().is_some_and(|ending| endings.iter().any(|wanted| ending == *wanted));
            if entry.file_type().is_file() && is_wanted {
                let below = path.strip_prefix(folder).unwrap_or(path);
                self.files.insert(format!("{name}{}", below.display()), Trace::of(path));
            }
        }
    }

    /// What is other at a later look.
    pub(super) fn changes(&self, later: &Self) -> Changes {
        let mut changes = Changes::default();
        for (name, trace) in &self.files {
            match later.files.get(name) {
                None => changes.removed.push(name.clone()),
                Some(now) if !trace.is_like(*now) => changes.saved.push(name.clone()),
                Some(_) => {}
            }
        }
        changes.new.extend(later.files.keys().filter(|name| !self.files.contains_key(*name)).cloned());
        for (name, there) in &self.papers {
            match (there, later.papers.get(name)) {
                (false, Some(true)) => changes.new.push(name.clone()),
                (true, Some(false)) => changes.removed.push(name.clone()),
                _ => {}
            }
        }
        changes.sort();
        if changes.is_empty() && self.fault != later.fault {
            changes.saved.push("the book's folder".to_owned());
        }
        changes
    }
}
