//! `kerfbook new DIR`: starts a book that compiles, with comments that teach.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use chrono::NaiveDate;

use super::Done;
use crate::cli::args::{NewArgs, as_typed};
use crate::cli::clock;
use crate::cli::options::day;
use crate::cli::outcome::Outcome;
use crate::cli::site_folder::write_new_folder;

/// What is known once.
const SHOP: &str = include_str!("../../../report-templates/new/shop.kerf");
/// The first month.
const MONTH: &str = include_str!("../../../report-templates/new/month.kerf");
/// The day on which everything happens in the first month's text.
const WRITTEN_DAY: &str = "2026-01-05";

/// Runs it.
pub(super) fn run(args: &NewArgs) -> Done {
    let today = match &args.today {
        Some(typed) => day("--today", typed).map_err(Outcome::refused)?,
        None => clock::earliest_today()
            .ok_or_else(|| Outcome::refused("the clock stands outside the calendar; say `--today DATE`"))?,
    };
    if fs::read_dir(&args.dir).is_ok_and(|mut inside| inside.next().is_some()) {
        return Err(Outcome::refused(format!("`{}` is not empty; choose a new folder for the book", args.dir.display())));
    }
    let files = starter(today);
    write_new_folder(&args.dir, &files).map_err(Outcome::refused)?;
    Ok(Outcome::said(next_steps(&args.dir, &files)))
}

/// The files of a new book, by name.
fn starter(today: NaiveDate) -> BTreeMap<String, String> {
    let month = format!("{}.kerf", today.format("%Y-%m"));
    BTreeMap::from([("shop.kerf".to_owned(), SHOP.to_owned()), (month, MONTH.replace(WRITTEN_DAY, &today.to_string()))])
}

fn next_steps(dir: &Path, files: &BTreeMap<String, String>) -> String {
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    let book = as_typed(dir);
    format!(
        "began a book in {}: {}\n\nnext:\n    kerfbook check --book {book}\n    kerfbook cost --book {book}\n    \
         kerfbook site --book {book} --out {}\n",
        dir.display(),
        names.join(", "),
        as_typed(&dir.join("pages")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::{CompileOptions, compile_book};
    use crate::year::Forms;

    #[test]
    fn the_starter_compiles_without_a_mistake_or_a_warning() {
        let above = tempfile::tempdir().expect("a folder");
        for (number, today) in ["2026-01-01", "2026-11-25", "2027-12-31", "2028-02-29"].into_iter().enumerate() {
            let day = NaiveDate::parse_from_str(today, "%Y-%m-%d").expect("a day");
            let book = above.path().join(number.to_string());
            write_new_folder(&book, &starter(day)).expect("written");
            let compiled =
                compile_book(&book, &Forms::built_in(), CompileOptions { today: Some(day), ..CompileOptions::default() })
                    .expect("read");
            let told: Vec<String> =
                compiled.found.as_slice().iter().map(|one| format!("{}: {}", one.code, one.message)).collect();
            assert!(told.is_empty(), "{today}: {told:?}");
            assert!(compiled.costed.proof.holds());
        }
    }

    #[test]
    fn the_next_three_commands_can_be_typed_as_they_are_printed() {
        let files = starter(NaiveDate::from_ymd_opt(2026, 3, 2).expect("a day"));
        let text = next_steps(Path::new("my book"), &files);
        assert!(text.contains("kerfbook check --book 'my book'\n"), "{text}");
        assert_eq!(text.matches("    kerfbook ").count(), 3);
    }
}
