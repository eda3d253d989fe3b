//! Tidying: the same meaning, every comment, nothing more to tidy, and no panic, whatever the text.

use std::fs;
use std::path::{Path, PathBuf};

use kerfbook::cli::{CompileOptions, Meaning, compile_sources, meaning_of};
use kerfbook::diagnostics::{corrected_lines, explain_preamble};
use kerfbook::editor::{Tidied, tidy_bytes};
use kerfbook::sources::{Loaded, load_book};
use kerfbook::syntax::{LineIs, written_lines};
use kerfbook::year::Forms;
use proptest::prelude::*;

use crate::any_text::soup;
use crate::how_many::books;
use crate::random_book::{Dice, any_book, any_short_book};

fn meaning(files: &[(String, String)]) -> Meaning {
    let mut loaded = Loaded::default();
    for (path, text) in files {
        loaded.add(path.as_str(), text.as_bytes()).expect("under four gigabytes");
    }
    meaning_of(&compile_sources(loaded, &Forms::built_in(), CompileOptions::default(), &|_| true))
}

fn tidied(text: &str) -> String {
    tidy_bytes(text.as_bytes()).expect("text").text
}

fn comments(text: &str) -> Vec<String> {
    written_lines(text)
        .into_iter()
        .filter(|line| line.kind != LineIs::Unread)
        .map(|line| line.comment.to_owned())
        .filter(|one| !one.is_empty())
        .collect()
}

fn without_comments(text: &str) -> String {
    let lines = written_lines(text).into_iter().filter(|line| !line.words.is_empty());
    lines.map(|line| format!("{}{}\n", if line.kind == LineIs::Detail { "    " } else { "" }, line.words)).collect()
}

/// The same words in another layout: blanks of all kinds, comments, blank lines, curly quotes.
fn laid_out_badly(text: &str, dice: &mut Dice) -> String {
    const BLANKS: [&str; 6] = [" ", "  ", "\t", "\u{a0}", " \u{202f}", "     "];
    const COMMENTS: [&str; 6] = ["# a", "#b", "# \"c", "#  漢字 é“ # d", "#", "# 2 pull-cart"];
    let mut out = String::new();
    for line in text.lines() {
        if dice.chance(15) {
            out.push_str(
                ["\n", "\n\n \t\n", "# between\n", "\t # between\n", "                          # far\n"][dice.below(5) as usize],
            );
        }
        let mut in_text = false;
        for (at, letter) in line.char_indices() {
            let ends_word = line[at..].starts_with(", ");
            match letter {
                '"' => {
                    let curly = if in_text { '\u{201d}' } else { '\u{201c}' };
                    out.push(if dice.chance(30) { curly } else { '"' });
                    in_text = !in_text;
                }
                ' ' if !in_text => out.push_str(dice.pick(&BLANKS).expect("a blank")),
                ',' if !in_text && ends_word && dice.chance(30) => out.push_str(" ,"),
                letter => out.push(letter),
            }
        }
        if dice.chance(25) {
            out.push_str(["", " ", "\t", "         "][dice.below(4) as usize]);
            out.push_str(dice.pick(&COMMENTS).expect("a comment"));
        }
        out.push_str(["\n", " \n", "\t\u{a0}\n"][dice.below(3) as usize]);
    }
    out
}

/// A text that was tidied is tidy, keeps its comments, and keeps what can't be read.
fn check_text(text: &str) -> Result<(), TestCaseError> {
    let Ok(Tidied { text: once, left }) = tidy_bytes(text.as_bytes()) else { return Ok(()) };
    let again = tidy_bytes(once.as_bytes()).expect("text");
    prop_assert_eq!(&again.text, &once);
    prop_assert_eq!(again.left.len(), left.len());
    let without_mark = |text: &str| text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n").replace('\r', "\n");
    let (before, after) = (without_mark(text), without_mark(&once));
    prop_assert_eq!(comments(&before), comments(&after));
    let numbered = |text: &str, lines: &[usize]| -> Vec<String> {
        let all: Vec<&str> = text.split('\n').collect();
        lines.iter().map(|line| all[line - 1].to_owned()).collect()
    };
    prop_assert_eq!(numbered(&before, &left), numbered(&after, &again.left));
    Ok(())
}

proptest! {
    #![proptest_config(books(256))]

    #[test]
    fn any_bytes_can_be_tidied_or_are_refused(bytes in prop::collection::vec(any::<u8>(), 0..300), text in "(?s).{0,200}", soup in soup()) {
        let _ = tidy_bytes(&bytes);
        check_text(&text)?;
        check_text(&soup)?;
        check_text(&format!("{soup}{text}").replace('\n', "\r\n"))?;
    }

    #[test]
    fn a_tidied_soup_of_words_is_told_the_same(soup in soup(), seed in any::<u64>()) {
        let badly = laid_out_badly(&soup, &mut Dice::new(seed));
        check_text(&badly)?;
        let file = |text: String| [("a.kerf".to_owned(), text)];
        prop_assert_eq!(meaning(&file(tidied(&badly))), meaning(&file(badly)));
    }
}

proptest! {
    #![proptest_config(books(24))]

    #[test]
    fn a_random_book_means_the_same_when_it_was_tidied(book in any_book(1..90), short in any_short_book(1..30), seed in any::<u64>()) {
        for pages in [book.pages(), short.pages()] {
            let mut dice = Dice::new(seed);
            let badly: Vec<_> = pages.iter().map(|(path, text)| (path.clone(), laid_out_badly(text, &mut dice))).collect();
            let tidy: Vec<_> = badly.iter().map(|(path, text)| (path.clone(), tidied(text))).collect();
            for ((_, plain), ((_, badly), (_, tidy))) in pages.iter().zip(badly.iter().zip(&tidy)) {
                check_text(badly)?;
                prop_assert_eq!(comments(badly), comments(tidy));
                // One layout, whatever it was before.
                prop_assert_eq!(without_comments(tidy), tidied(plain));
            }
            prop_assert_eq!(meaning(&tidy), meaning(&badly));
            prop_assert_eq!(meaning(&tidy), meaning(&pages));
        }
    }
}

/// Every folder below one that holds a `*.kerf` file.
fn books_below(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = open.pop() {
        let inside: Vec<PathBuf> = fs::read_dir(&folder).expect("a folder").map(|one| one.expect("an entry").path()).collect();
        if inside.iter().any(|path| path.extension().is_some_and(|ending| ending == "kerf")) {
            found.push(folder);
        }
        open.extend(inside.into_iter().filter(|path| path.is_dir()));
    }
    found.sort();
    found
}

/// The texts of a book's files; `None` where one of them is no text.
fn texts_of(folder: &Path) -> Option<Vec<(String, String)>> {
    let loaded = load_book(folder).expect("a book");
    let file = |file: &kerfbook::sources::SourceFile| {
        let text = fs::read(folder.join(&file.path)).ok().and_then(|bytes| String::from_utf8(bytes).ok());
        text.filter(|text| !text.contains('\0')).map(|text| (file.path.clone(), text))
    };
    loaded.sources.files().iter().map(file).collect()
}

#[test]
fn the_example_books_and_what_new_writes_are_tidy() {
    for folder in books_below("ledger-examples").into_iter().chain(books_below("report-templates/new")) {
        for (path, text) in texts_of(&folder).expect("text") {
            let tidy = tidied(&text);
            let differs = text.lines().zip(tidy.lines()).find(|(is, would_be)| is != would_be);
            assert!(tidy == text, "{}/{path} is not tidy: {differs:?}", folder.display());
        }
    }
}

#[test]
fn every_book_of_the_tests_wrong_ones_too_means_the_same_when_it_was_tidied() {
    let mut tried = 0;
    for folder in ["ledger-examples", "tests/golden", "tests/diagnostics"].into_iter().flat_map(books_below) {
        let Some(files) = texts_of(&folder) else { continue };
        let preamble = [("0-the-shop.kerf".to_owned(), explain_preamble().to_owned())];
        let has_shop = files.iter().any(|(_, text)| text.lines().any(|line| line.starts_with("shop ")));
        let files: Vec<_> = if has_shop { files } else { preamble.into_iter().chain(files).collect() };
        let tidy: Vec<_> = files.iter().map(|(path, text)| (path.clone(), tidied(text))).collect();
        let seed = tried;
        let badly: Vec<_> = tidy.iter().map(|(path, text)| (path.clone(), add_blanks(text, seed))).collect();
        assert!(meaning(&files) == meaning(&tidy), "{}", folder.display());
        assert!(meaning(&files) == meaning(&badly), "{}, with more blanks", folder.display());
        let tabbed: Vec<_> = tidy.iter().map(|(path, text)| (path.clone(), with_tabs(text))).collect();
        assert!(meaning(&files) == meaning(&tabbed), "{}, with tabs", folder.display());
        tried += 1;
    }
    assert!(tried >= 240, "only {tried} books");
}

/// A tab for every blank of the lines that can be read, texts and comments aside.
fn with_tabs(text: &str) -> String {
    let line = |(line, written): (&str, &kerfbook::syntax::WrittenLine<'_>)| match written.kind {
        LineIs::Head | LineIs::Detail => {
            let words: Vec<String> = line
                .split_inclusive('"')
                .enumerate()
                .map(|(at, part)| if at % 2 == 0 { part.replace(' ', "\t") } else { part.to_owned() })
                .collect();
            format!("{}\n", words.concat())
        }
        _ => format!("{line}\n"),
    };
    text.lines().zip(&written_lines(text)).map(line).collect()
}

/// More blanks in the lines that can be read, and blank lines between all.
fn add_blanks(text: &str, seed: u64) -> String {
    let mut dice = Dice::new(seed);
    let lines = written_lines(text);
    let line = |(line, written): (&str, &kerfbook::syntax::WrittenLine<'_>)| match written.kind {
        LineIs::Head => laid_out_badly(line, &mut dice),
        // A blank line within an entry says that a head may have stood there, where its lines are wrong: it is no mere layout.
        LineIs::Detail => laid_out_badly(line, &mut dice).trim_start_matches(['\n']).replace(" \t\n", ""),
        _ => format!("{line}\n"),
    };
    text.lines().zip(&lines).map(line).collect()
}

#[test]
fn a_corrected_line_is_that_of_a_tidied_book_too() {
    let text = "shop \"A\"\nplace bench \"B\"\nbought 2026-03-02\n    31.5  bf red-oak   at $5.90 # dry\n";
    let tidy = tidied(text);
    assert_eq!(tidy, text, "a line that can't be read stays as it is");
    let mut loaded = Loaded::default();
    loaded.add("a.kerf", tidy.as_bytes()).expect("short");
    let compiled = compile_sources(loaded, &Forms::built_in(), CompileOptions::default(), &|_| true);
    let fix = compiled.found.as_slice().iter().flat_map(|one| &one.fixes).next().expect("a fix");
    assert_eq!(corrected_lines(&compiled.sources, fix).text, "    31.5  bf red-oak   at 5.90 # dry");
}
