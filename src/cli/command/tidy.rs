//! `kerfbook tidy`: one layout for the book's text. Nothing is written unless the tidied book means the same.

use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::Done;
use crate::cli::args::{BookArgs, TidyArgs};
use crate::cli::compile::{CompileOptions, compile_sources};
use crate::cli::forms::read_forms;
use crate::cli::meaning::{Meaning, meaning_of};
use crate::cli::options::BookOptions;
use crate::cli::outcome::{Outcome, Status};
use crate::cli::progress;
use crate::cli::rewrite::{ReadFile, load, may_not_be_written, read_files, write_over};
use crate::editor::{Tidied, tidy_bytes};
use crate::sources::{Loaded, exists_in_book};
use crate::year::Forms;

/// How many lines that were left are named.
const MOST_NAMED: usize = 20;

/// Runs it.
pub(super) fn run(args: &TidyArgs) -> Done {
    match args.files.as_slice() {
        [only] if only == Path::new("-") => tidy_standard_input(args.check),
        files if files.iter().any(|file| file == Path::new("-")) => {
            Err(Outcome::refused("`-` is standard input and stands alone; name files of the book or `-`"))
        }
        files => tidy_book(args, files),
    }
}

/// Tidies what comes in and hands it on; where it can't, nothing goes out.
fn tidy_standard_input(check: bool) -> Done {
    let mut bytes = Vec::new();
    io::stdin().read_to_end(&mut bytes).map_err(|fault| Outcome::refused(format!("standard input can't be read: {fault}")))?;
    let tidied = tidy_bytes(&bytes).map_err(|why| Outcome::refused(format!("standard input {why}")))?;
    let is_tidy = tidied.text.as_bytes() == bytes;
    if !is_tidy {
        let meaning = |bytes: &[u8]| {
            let mut loaded = Loaded::default();
            loaded.add("-", bytes).map(|()| meaning_of(&compile_sources(loaded, &Forms::built_in(), OPTIONS, &|_| true)))
        };
        if meaning(&bytes) != meaning(tidied.text.as_bytes()) {
            return Err(means_something_else());
        }
    }
    let err = lines_left(&[("-".to_owned(), tidied.left)]);
    Ok(match check {
        true if is_tidy => Outcome { out: String::new(), more: Vec::new(), err, status: Status::Good },
        true => Outcome { out: "-\n".to_owned(), more: Vec::new(), err, status: Status::Mistakes },
        false => Outcome { out: tidied.text, more: Vec::new(), err, status: Status::Good },
    })
}

/// What is compiled to compare: warnings of days to come are the same in both.
const OPTIONS: CompileOptions = CompileOptions { today: None, only_check: false, keep_links: false };

fn tidy_book(args: &TidyArgs, files: &[PathBuf]) -> Done {
    let options = BookOptions::meant(&BookArgs { book: args.book.clone(), today: None }).map_err(Outcome::refused)?;
    let folder = options.folder.as_path();
    progress::at("reading the book");
    let read = read_files(folder).map_err(Outcome::refused)?;
    let asked = asked_for(files, &read, folder)?;
    progress::at("laying the book out");
    let mut told = Told::default();
    let mut changed: BTreeMap<usize, String> = BTreeMap::new();
    for (at, one) in read.iter().enumerate().filter(|(at, _)| asked.contains(at)) {
        match tidy_bytes(&one.bytes) {
            Ok(Tidied { text, left }) => {
                told.left.push((one.file.path.clone(), left));
                if text.as_bytes() != one.bytes {
                    changed.insert(at, text);
                }
            }
            Err(why) => told.refused.push(format!("`{}` {why}; nothing of it was touched", one.file.path)),
        }
    }
    let name = |at: &usize| read.get(*at).map_or("", |one| one.file.path.as_str());
    if args.check {
        let out: String = changed.keys().flat_map(|at| [name(at), "\n"]).collect();
        let status = if changed.is_empty() && told.refused.is_empty() { Status::Good } else { Status::Mistakes };
        return Ok(Outcome { out, more: Vec::new(), err: told.words(), status });
    }
    changed.retain(|at, _| match read.get(*at).and_then(|one| may_not_be_written(&one.file, folder)) {
        Some(why) => {
            told.refused.push(format!("`{}` {why}, so it stays as it is", name(at)));
            false
        }
        None => true,
    });
    if !changed.is_empty() && !means_the_same(&read, &changed, folder)? {
        return Err(means_something_else());
    }
    let mut out = String::new();
    for (at, text) in &changed {
        match read.get(*at).map(|one| write_over(one, folder, text)) {
            Some(Ok(())) => out.push_str(&format!("tidied {}\n", name(at))),
            Some(Err(why)) => told.refused.push(why),
            None => {}
        }
    }
    if changed.is_empty() && told.refused.is_empty() {
        let files = if asked.len() == 1 { "1 file is tidy".to_owned() } else { format!("{} files are tidy", asked.len()) };
        out = format!("{files} already\n");
    }
    let status = if told.refused.is_empty() { Status::Good } else { Status::Mistakes };
    Ok(Outcome { out, more: Vec::new(), err: told.words(), status })
}

/// The places in the list of the files that were asked for: those named, else all.
fn asked_for(files: &[PathBuf], read: &[ReadFile], folder: &Path) -> Result<Vec<usize>, Outcome> {
    if files.is_empty() {
        return Ok((0..read.len()).collect());
    }
    let real = |path: &Path| fs::canonicalize(path).ok();
    let own: Vec<Option<PathBuf>> = read.iter().map(|one| real(&one.file.full)).collect();
    let place = |file: &PathBuf| {
        let meant = real(file);
        let at = own.iter().position(|own| own.is_some() && *own == meant);
        at.ok_or_else(|| Outcome::refused(format!("`{}` is no file of the book in `{}`", file.display(), folder.display())))
    };
    files.iter().map(place).collect()
}

/// Compiles the book as it is and as it would be, and compares what they mean.
fn means_the_same(read: &[ReadFile], changed: &BTreeMap<usize, String>, folder: &Path) -> Result<bool, Outcome> {
    let forms = read_forms(folder).map_err(Outcome::refused)?;
    progress::at("comparing what the book means");
    let meaning = |loaded: Loaded| -> Meaning {
        meaning_of(&compile_sources(loaded, &forms, OPTIONS, &|path| exists_in_book(folder, path)))
    };
    let before = meaning(load(read, |_| None).map_err(Outcome::refused)?);
    let after = load(read, |at| changed.get(&at).map(String::as_bytes)).map_err(Outcome::refused)?;
    Ok(before == meaning(after))
}

fn means_something_else() -> Outcome {
    Outcome::refused(
        "the tidied book would not mean the same, so nothing was written. This is a fault of the program, not of the book. Please report it",
    )
}

/// What is told besides what was done.
#[derive(Default)]
struct Told {
    /// Files that were not touched, and why.
    refused: Vec<String>,
    /// Lines that can't be read, by file.
    left: Vec<(String, Vec<usize>)>,
}

impl Told {
    fn words(&self) -> String {
        let refused: String = self.refused.iter().map(|why| format!("kerfbook: {why}\n")).collect();
        refused + &lines_left(&self.left)
    }
}

/// Names the lines that can't be read and so stay as they are.
fn lines_left(left: &[(String, Vec<usize>)]) -> String {
    let places: Vec<String> =
        left.iter().flat_map(|(path, lines)| lines.iter().map(move |line| format!("{path}:{line}"))).collect();
    let mut words: String =
        places.iter().take(MOST_NAMED).map(|place| format!("{place}: left as it is, since it can't be read\n")).collect();
    if places.len() > MOST_NAMED {
        words.push_str(&format!("and {} more lines\n", places.len() - MOST_NAMED));
    }
    if !places.is_empty() {
        words.push_str("`kerfbook check` says what is wrong with them\n");
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sources::BookFile;

    #[test]
    fn a_text_that_means_something_else_is_seen() {
        let folder = tempfile::tempdir().expect("a folder");
        let text = "shop \"A\"\nplace bench \"B\"\nnoted 2026-01-01 \"x\"\n";
        let file = BookFile { path: "a.kerf".to_owned(), full: folder.path().join("a.kerf") };
        let read = [ReadFile { file, bytes: text.as_bytes().to_vec() }];
        let same =
            |other: &str| means_the_same(&read, &BTreeMap::from([(0, other.to_owned())]), folder.path()).expect("compiled");
        assert!(same(&text.replace("noted ", "\nnoted   ")));
        assert!(!same(&text.replace("2026-01-01", "2026-01-02")));
        assert!(!same(&text.replace("noted 2026-01-01 \"x\"\n", "")));
    }

    #[test]
    fn many_lines_that_were_left_are_counted() {
        let words = lines_left(&[("a.kerf".to_owned(), (1..=30).collect())]);
        assert!(words.starts_with("a.kerf:1: left as it is") && words.contains("and 10 more lines\n"), "{words}");
        assert_eq!(lines_left(&[]), "");
    }
}
