//! A report that is written to a file with `--out`: never over what the program did not write.
//!
//! A `*.kerf` file is never written, wherever it lies: it would be a book's. A file that lies in the book's folder and is
//! there already is replaced only where its text is plainly an earlier report, since a book's folder holds receipts and
//! other papers of which there may be no copy. What lies elsewhere is the maker's to name.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf, absolute};

use super::outcome::Outcome;
use super::write_whole::write_whole;
use crate::render::SCHEMAS;
use crate::render::html::Question;
use crate::render::text::FIGURES_ASKED;
use crate::reports::{PROOF_BEGINS, PROOF_WAITS, is_kind};

/// How the program's pages say who made them, in `base.html`.
const PAGE_MARK: &str = "<meta name=\"generator\" content=\"Kerfbook\">";

/// Writes a report of the book in a folder, whole or not at all, and says so.
///
/// # Errors
/// A refusal, where the file is none that may be replaced or can't be written.
pub(super) fn write_report(path: &Path, book: &Path, text: &str) -> Result<String, Outcome> {
    may_be_written(path, book).map_err(Outcome::refused)?;
    write_whole(path, text).map_err(Outcome::refused)?;
    Ok(format!("wrote {}\n", path.display()))
}

fn may_be_written(path: &Path, book: &Path) -> Result<(), String> {
    let place = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    if is_kerf(path) || is_kerf(&place) {
        return Err(format!(
            "`--out {}` would write over a book: `*.kerf` files are yours and never written; choose another ending",
            path.display()
        ));
    }
    if place.is_file() && (lies_in(path, book) || lies_in(&place, book)) && !is_report(&place) {
        return Err(format!(
            "`{}` lies in the book's folder and is no report that Kerfbook wrote, so it stays as it is; choose another name",
            path.display()
        ));
    }
    Ok(())
}

/// Whether a name is that of a book's file; a disk may not tell small letters from large.
fn is_kerf(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("kerf"))
}

/// Whether a path lies in a folder, as it is written or as the links in it lead.
fn lies_in(path: &Path, folder: &Path) -> bool {
    let written = |path: &Path| absolute(path).unwrap_or_else(|_| path.to_owned());
    let led = |path: &Path| -> PathBuf {
        let above = path.parent().filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."));
        fs::canonicalize(above).unwrap_or_else(|_| written(above)).join(path.file_name().unwrap_or(OsStr::new("")))
    };
    let real = fs::canonicalize(folder).unwrap_or_else(|_| written(folder));
    written(path).starts_with(written(folder)) || led(path).starts_with(real)
}

/// Whether a file holds an earlier report, or nothing.
fn is_report(path: &Path) -> bool {
    fs::read_to_string(path).is_ok_and(|text| reads_as_report(&text))
}

fn reads_as_report(text: &str) -> bool {
    let (first, last) = (text.lines().next().unwrap_or(""), text.lines().next_back().unwrap_or(""));
    let derivation = || {
        let figure = first.strip_prefix("Why ").and_then(|rest| rest.strip_suffix('?')).unwrap_or("");
        figure.split_once('/').is_some_and(|(kind, _)| is_kind(kind)) || first == FIGURES_ASKED
    };
    let json = || {
        let read: Option<serde_json::Value> = text.starts_with('{').then(|| serde_json::from_str(text).ok()).flatten();
        let name = read.as_ref().and_then(|whole| whole.get("report")).and_then(serde_json::Value::as_str);
        name.is_some_and(|name| SCHEMAS.contains(&name))
    };
    let question = || Question::ALL.iter().any(|question| question.asked() == first);
    let check = || last.starts_with(PROOF_BEGINS) || last == PROOF_WAITS;
    text.is_empty() || question() || derivation() || text.contains(PAGE_MARK) || check() || json()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_maker_s_own_papers_are_no_reports() {
        for text in ["Ridgeline Lumber\n40 bf red oak\n", "{\"report\": \"taxes\"}", "{}", "<html></html>", "Why oak?\n", "\n"] {
            assert!(!reads_as_report(text), "{text}");
        }
        assert!(reads_as_report("") && reads_as_report("What pays?\nWren & Gable Woodshop\n"));
    }

    #[test]
    fn a_path_through_a_link_lies_in_the_folder_it_leads_to() {
        let above = tempfile::tempdir().expect("a folder");
        let book = above.path().join("book");
        fs::create_dir(&book).expect("made");
        assert!(lies_in(&book.join("a.txt"), &book) && !lies_in(&above.path().join("a.txt"), &book));
        assert!(lies_in(&above.path().join("book/../book/a.txt"), &book));
        assert!(!lies_in(&book.join("../a.txt"), &above.path().join("boo")));
    }
}
