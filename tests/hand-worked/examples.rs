//! The example books under each of the four combinations of basis and stock method: Part III ties, the page foots, the bridge holds.

use std::path::Path;

use crate::compiled::{Compiled, compile_loaded, compile_texts};
use kerfbook::diagnostics::{Diagnostics, Severity};
use kerfbook::sources::load_book;
use kerfbook::units::Fixed6;
use kerfbook::year::{Books, Forms, TaxYear, year_of, years_of};

/// Every example book, as its files.
fn examples() -> Vec<(String, Vec<(String, String)>)> {
    let all = Path::new(env!("CARGO_MANIFEST_DIR")).join("ledger-examples");
    let entries = std::fs::read_dir(all).expect("the examples").map(|entry| entry.expect("an entry").path());
    let mut folders: Vec<_> = entries.filter(|path| path.is_dir()).collect();
    folders.sort();
    let read = |folder: std::path::PathBuf| {
        let loaded = load_book(&folder).expect("a book");
        let sources = compile_loaded(loaded, &folder, None).sources;
        let texts = sources.files().iter().map(|file| (file.path.clone(), sources.text(file.span).to_owned())).collect();
        (folder.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default(), texts)
    };
    folders.into_iter().map(read).collect()
}

/// The same book with other switches. What it says of them itself, in its shop and later, is taken out.
fn switched(files: &[(String, String)], basis: &str, stock: &str) -> Vec<(String, String)> {
    let is_switch = |line: &str| {
        let said = line.trim_start();
        ["cash basis", "accrual basis", "stock kept as"].iter().any(|switch| said.starts_with(switch))
    };
    let change = |text: &str| {
        let mut out = String::new();
        for line in text.lines().filter(|line| !is_switch(line)) {
            out.push_str(line);
            out.push('\n');
            if line.starts_with("shop \"") {
                out.push_str(&format!("    {basis} basis\n    stock kept as {stock}\n"));
            }
        }
        out
    };
    files.iter().map(|(path, text)| (path.clone(), change(text))).collect()
}

fn compiled(files: &[(String, String)]) -> Compiled {
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    compile_texts(&files)
}

fn printed(year: &TaxYear, line: &str) -> Fixed6 {
    year.line(line).expect("a line").printed
}

#[test]
fn every_example_ties_and_foots_under_each_of_the_four_combinations() {
    let forms = Forms::built_in();
    let mut years = 0;
    for (name, files) in examples() {
        let names_a_form = files.iter().any(|(_, text)| text.contains("tax form us-schedule-c"));
        for (basis, stock) in [("accrual", "inventory"), ("cash", "inventory"), ("accrual", "supplies"), ("cash", "supplies")] {
            let book = compiled(&switched(&files, basis, stock));
            if book.has_mistakes() || !names_a_form {
                continue;
            }
            let books = Books { sources: &book.sources, book: &book.book, log: &book.log, costed: &book.costed };
            for of in years_of(books, &forms) {
                let mut found = Diagnostics::default();
                let year = year_of(books, of, &forms, &mut found);
                assert_eq!(found.count(Severity::Error), 0, "{name} {of} {basis} {stock}: {:#?}", found.as_slice());
                let year = year.expect("a tax year");
                let sum = |lines: &[&str]| Fixed6::checked_sum(lines.iter().map(|line| printed(&year, line))).expect("fits");
                assert_eq!(printed(&year, "40"), sum(&["35", "36", "37", "38", "39"]));
                assert_eq!(printed(&year, "40"), sum(&["41", "42"]));
                assert_eq!(printed(&year, "7"), sum(&["5", "6"]));
                assert_eq!(printed(&year, "7"), sum(&["28", "30", "31"]));
                let steps = year.bridge.iter().rev().skip(1).map(|line| line.amount);
                assert_eq!(Fixed6::checked_sum(steps), Some(year.net_cents()), "{name} {of} {basis} {stock}");
                years += 1;
            }
        }
    }
    assert!(years >= 8, "only {years} years were figured");
}
