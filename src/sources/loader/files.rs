//! Which files are a book's: every `*.kerf` file of a folder and below.
//!
//! Hidden files and folders, and those that a `.gitignore` names, are left aside; the rules of the nearest `.gitignore` that
//! says something of a path win, as in git. Those of the repository above the book count too, unless they name the book's
//! own folder. Must not: read the files.

use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use ignore::gitignore::{Gitignore, GitignoreBuilder};
use rustc_hash::FxHashMap;
use walkdir::WalkDir;

use super::error::{LoadError, UnreadablePlace, reason};

/// The most that a book's text may hold, in bytes: spans are 32 bits wide.
const MOST_BYTES: u64 = u32::MAX as u64;

/// A file of a book.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BookFile {
    /// Its path below the book's folder, with `/` between the parts.
    pub path: String,
    /// Where it lies on the disk.
    pub full: PathBuf,
}

/// Finds a book's files, in the order of their paths.
///
/// # Errors
/// Where the folder is missing, is no folder, holds no `*.kerf` file, a place that can't be read, or too much.
pub fn list_files(folder: &Path) -> Result<Vec<BookFile>, LoadError> {
    match std::fs::metadata(folder) {
        Ok(found) if found.is_dir() => {}
        Ok(_) => return Err(LoadError::NotAFolder { folder: folder.to_owned() }),
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => return Err(LoadError::Missing { folder: folder.to_owned() }),
        Err(why) => return Err(LoadError::Unreadable(vec![UnreadablePlace::new(".", reason(&why))])),
    }
    let mut unreadable = Vec::new();
    let mut found = Vec::new();
    let mut linked = false;
    let mut bytes = 0_u64;
    let mut ignored = IgnoreRules::of(folder);
    let mut walk = WalkDir::new(folder).follow_links(true).into_iter();
    while let Some(next) = walk.next() {
        let entry = match next {
            Ok(entry) => entry,
            Err(why) => {
                unreadable.extend(explain_walk(folder, &why, &mut ignored));
                continue;
            }
        };
        let is_folder = entry.file_type().is_dir();
        if entry.depth() > 0 && (is_hidden(entry.file_name()) || ignored.names(entry.path(), is_folder)) {
            if is_folder {
                walk.skip_current_dir();
            }
            continue;
        }
        linked |= entry.path_is_symlink();
        if is_folder || !is_kerf(entry.path()) {
            continue;
        }
        let path = path_below(folder, entry.path());
        if !entry.file_type().is_file() {
            unreadable.push(UnreadablePlace::new(path, "is not a file"));
            continue;
        }
        bytes = bytes.saturating_add(entry.metadata().map_or(0, |known| known.len()));
        found.push(BookFile { path, full: entry.into_path() });
    }
    if !unreadable.is_empty() {
        unreadable.sort_by(|a, b| a.path.cmp(&b.path));
        return Err(LoadError::Unreadable(unreadable));
    }
    if bytes > MOST_BYTES {
        return Err(LoadError::TooLarge);
    }
    if found.is_empty() {
        return Err(LoadError::Empty { folder: folder.to_owned() });
    }
    found.sort();
    if linked {
        let mut seen = BTreeSet::new();
        found.retain(|file| std::fs::canonicalize(&file.full).map_or(true, |real| seen.insert(real)));
    }
    Ok(found)
}

/// Whether a file belongs to a book by its name.
pub(super) fn is_kerf(path: &Path) -> bool {
    path.extension() == Some(OsStr::new("kerf"))
}

/// Whether a name is hidden.
pub(super) fn is_hidden(name: &OsStr) -> bool {
    name.as_encoded_bytes().first() == Some(&b'.')
}

/// A path below a folder with `/` between its parts; letters that can't be shown are replaced.
fn path_below(folder: &Path, full: &Path) -> String {
    let below = full.strip_prefix(folder).unwrap_or(full);
    let parts: Vec<_> = below.components().map(|part| part.as_os_str().to_string_lossy()).collect();
    parts.join("/").chars().map(|letter| if letter.is_control() { '\u{FFFD}' } else { letter }).collect()
}

/// Turns a fault of the walk into a place, unless it lies where nothing of the book is.
fn explain_walk(folder: &Path, why: &walkdir::Error, ignored: &mut IgnoreRules) -> Option<UnreadablePlace> {
    let full = why.path().unwrap_or(folder);
    let below = full.strip_prefix(folder).unwrap_or(Path::new(""));
    if below.components().any(|part| is_hidden(part.as_os_str())) || ignored.names(full, full.is_dir()) {
        return None;
    }
    if let Some(ancestor) = why.loop_ancestor() {
        let back = path_below(folder, ancestor);
        let back = if back.is_empty() { "the book's own folder".to_owned() } else { format!("`{back}`") };
        return Some(UnreadablePlace::new(path_below(folder, full), format!("is a link that leads back to {back}")));
    }
    let why = why.io_error()?;
    let dead_link = why.kind() == std::io::ErrorKind::NotFound;
    (!dead_link || is_kerf(full)).then(|| UnreadablePlace::new(path_below(folder, full), reason(why)))
}

/// The `.gitignore` rules that hold in a book's folder.
pub(super) struct IgnoreRules {
    top: PathBuf,
    above: Vec<Gitignore>,
    below: FxHashMap<PathBuf, Option<Gitignore>>,
}

impl IgnoreRules {
    /// Reads the rules of the repository above a folder; those in it and below are read when they are first needed.
    pub(super) fn of(folder: &Path) -> Self {
        Self { top: folder.to_owned(), above: rules_above(folder).unwrap_or_default(), below: FxHashMap::default() }
    }

    /// Whether a path in the folder is named by them. The folders on the way to it have been asked before.
    pub(super) fn names(&mut self, path: &Path, is_folder: bool) -> bool {
        let mut folder = path.parent();
        while let Some(here) = folder.filter(|here| here.starts_with(&self.top)) {
            let rules = self.below.entry(here.to_owned()).or_insert_with(|| rules_in(here, here));
            if let Some(rules) = rules {
                let said = rules.matched(path, is_folder);
                if !said.is_none() {
                    return said.is_ignore();
                }
            }
            folder = here.parent();
        }
        let Ok(below) = path.strip_prefix(&self.top) else { return false };
        let said = self.above.iter().map(|rules| rules.matched(rules.path().join(below), is_folder)).find(|said| !said.is_none());
        said.is_some_and(|said| said.is_ignore())
    }
}

/// The rules of one folder's `.gitignore`, taken from another root where the folder is named in another way.
fn rules_in(folder: &Path, root: &Path) -> Option<Gitignore> {
    let file = folder.join(".gitignore");
    if !file.is_file() {
        return None;
    }
    let mut builder = GitignoreBuilder::new(root);
    // A rule that can't be read is passed over, as git does; the others hold.
    drop(builder.add(file));
    builder.build().ok()
}

/// The rules of the folders above, the nearest first, up to the one that holds `.git`; none where there is no repository, or
/// where they name the folder itself.
fn rules_above(folder: &Path) -> Option<Vec<Gitignore>> {
    let real = std::fs::canonicalize(folder).ok()?;
    if real.join(".git").exists() {
        return None;
    }
    let repository = real.ancestors().skip(1).find(|above| above.join(".git").exists())?;
    let inside = real.ancestors().skip(1).take_while(|above| above.starts_with(repository));
    let rules: Vec<_> = inside.filter_map(|above| rules_in(above, above)).collect();
    let named = rules.iter().any(|rules| rules.matched_path_or_any_parents(&real, true).is_ignore());
    (!named).then_some(rules)
}
