//! A case: its folder, the outputs that it expects, and the command that makes each.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A book and what is expected of it.
pub(crate) struct Case {
    /// `topic/case`.
    pub(crate) name: String,
    folder: PathBuf,
}

/// An output that a case expects.
pub(crate) struct Output {
    /// Its file's name: `check.txt`, `cost.json`, `pays-2026.json`, `year-2026.json`.
    pub(crate) file: String,
    /// The words of the command that prints it.
    arguments: Vec<String>,
}

impl Output {
    /// The output of a file's name; `None` where the file is none.
    fn named(file: &str) -> Option<Self> {
        let report = file.strip_suffix(".json");
        let arguments: Vec<&str> = match (file, report) {
            ("check.txt", _) => vec!["check"],
            (_, Some(report @ ("cost" | "stock" | "pays" | "proof"))) => vec![report, "--as", "json"],
            (_, Some(report)) if report.starts_with("pays-") => {
                vec!["pays", "--year", report.strip_prefix("pays-")?, "--as", "json"]
            }
            (_, Some(report)) => vec!["year", report.strip_prefix("year-")?, "--as", "json"],
            _ => return None,
        };
        Some(Self { file: file.to_owned(), arguments: arguments.into_iter().map(str::to_owned).collect() })
    }
}

impl Case {
    /// The case in a folder below the folder of all.
    pub(crate) fn at(all: &Path, folder: PathBuf) -> Self {
        let below = folder.strip_prefix(all).expect("below");
        let parts: Vec<_> = below.iter().map(|part| part.to_string_lossy().into_owned()).collect();
        Self { name: parts.join("/"), folder }
    }

    fn files(&self) -> Vec<String> {
        let entries = fs::read_dir(&self.folder).expect("a case").map(|entry| entry.expect("an entry").file_name());
        let mut files: Vec<_> = entries.map(|name| name.to_string_lossy().into_owned()).collect();
        files.sort();
        files
    }

    /// Whether it has a book.
    pub(crate) fn has_a_book(&self) -> bool {
        self.files().iter().any(|file| file.ends_with(".kerf"))
    }

    /// The outputs that it expects.
    pub(crate) fn outputs(&self) -> Vec<Output> {
        self.files().iter().filter_map(|file| Output::named(file)).collect()
    }

    /// What is expected of an output.
    pub(crate) fn expected(&self, output: &Output) -> String {
        fs::read_to_string(self.folder.join(&output.file)).expect("an output")
    }

    /// What `kerfbook check` prints.
    pub(crate) fn check(&self) -> String {
        self.printed(&Output { file: "check.txt".to_owned(), arguments: vec!["check".to_owned()] })
    }

    /// What the command prints for an output.
    fn printed(&self, output: &Output) -> String {
        let mut command = Command::new(env!("CARGO_BIN_EXE_kerfbook"));
        command.args(&output.arguments).arg("--book").arg(&self.folder).args(["--today", "2030-01-01"]);
        let done = command.env("NO_COLOR", "1").output().expect("the command runs");
        let told = String::from_utf8(done.stderr).expect("text");
        assert!(told.is_empty(), "{}: {}: {told}", self.name, output.file);
        String::from_utf8(done.stdout).expect("text")
    }

    /// The outputs that differ from what is expected; none where they are written anew.
    #[expect(clippy::disallowed_methods, reason = "asks whether to write instead of compare")]
    pub(crate) fn differences(&self) -> Vec<String> {
        let mut differences = Vec::new();
        for output in self.outputs() {
            let printed = self.printed(&output);
            if env::var_os("KERFBOOK_WRITE_GOLDEN").is_some() {
                fs::write(self.folder.join(&output.file), printed).expect("written");
                continue;
            }
            let expected = self.expected(&output);
            if expected != printed {
                let pairs = expected.lines().zip(printed.lines()).enumerate();
                let first = pairs.into_iter().find(|(_, (one, other))| one != other);
                let shown = match first {
                    Some((at, (one, other))) => {
                        format!("line {}:\n  expected {}\n  printed  {}", at + 1, one.trim(), other.trim())
                    }
                    None => "one of the two is longer".to_owned(),
                };
                differences.push(format!("{}/{}, {shown}", self.name, output.file));
            }
        }
        differences
    }
}
