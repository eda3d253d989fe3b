//! A source file as the house's rules see it: its path, its text, and the part of it that is no test.

use std::fs;
use std::path::{Path, PathBuf};

/// A file of the repository.
pub(crate) struct SourceFile {
    /// Its path below the repository's root, with `/`.
    pub(crate) path: String,
    /// Its text.
    pub(crate) text: String,
}

impl SourceFile {
    /// The text up to the file's own tests.
    pub(crate) fn without_tests(&self) -> &str {
        let tests = self.text.match_indices("#[cfg(test)]").find(|(at, _)| {
            // `mod tests;` names another file; `mod tests {` begins this file's own.
            self.text[*at..].lines().nth(1).is_some_and(|line| line.trim_end().ends_with('{'))
        });
        tests.map_or(&self.text, |(at, _)| &self.text[..at])
    }

    /// Whether the whole file is a test: it is named `tests.rs`, or a folder `tests` holds it.
    pub(crate) fn is_test(&self) -> bool {
        self.path.ends_with("/tests.rs") || self.path.split('/').any(|part| part == "tests")
    }

    /// The stage of a file in `src/`: the folder, or `None` for `lib.rs` and `main.rs`.
    pub(crate) fn stage(&self) -> Option<&str> {
        self.path.strip_prefix("src/")?.split_once('/').map(|(stage, _)| stage)
    }
}

/// The repository's root.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder of the repository whose name ends so, in the order of their paths; hidden ones and `target` aside.
pub(crate) fn files_below(folder: &str, ends: &[&str]) -> Vec<SourceFile> {
    let mut paths = Vec::new();
    gather(&root().join(folder), &mut paths);
    paths.sort();
    let named = |path: &PathBuf| ends.iter().any(|end| path.to_string_lossy().ends_with(end));
    let read = |path: PathBuf| {
        let below = path.strip_prefix(root()).expect("below the root");
        let parts: Vec<_> = below.iter().map(|part| part.to_string_lossy().into_owned()).collect();
        let text = String::from_utf8_lossy(&fs::read(&path).expect("a file")).into_owned();
        SourceFile { path: parts.join("/"), text }
    };
    paths.into_iter().filter(named).map(read).collect()
}

/// Every Rust file in `src/`.
pub(crate) fn sources() -> Vec<SourceFile> {
    files_below("src", &[".rs"])
}

fn gather(folder: &Path, paths: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries {
        let path = entry.expect("an entry of a folder").path();
        let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        if name.starts_with('.') || name == "target" || name == "node_modules" {
            continue;
        }
        if path.is_dir() {
            gather(&path, paths);
        } else {
            paths.push(path);
        }
    }
}
