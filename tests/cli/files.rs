//! What the command writes: whole or not at all, and never over what is not its own.

use std::fs;
use std::path::Path;

use crate::shop::{book, book_with_a_form, book_with_a_mistake, names, run_in};

fn text(path: &Path) -> &str {
    path.to_str().expect("text")
}

#[test]
fn a_new_book_compiles_and_the_three_commands_it_prints_run() {
    let above = tempfile::tempdir().expect("a folder");
    let ran = run_in(above.path(), &["new", "my book"]);
    assert_eq!(ran.status, Some(0), "{ran:?}");
    let commands: Vec<&str> = ran.out.lines().filter_map(|line| line.strip_prefix("    kerfbook ")).collect();
    assert_eq!(commands.len(), 3, "{}", ran.out);
    for command in commands {
        let arguments: Vec<String> = command
            .split(' ')
            .fold((Vec::new(), false), |(mut words, open), word| {
                let (starts, ends) = (word.starts_with('\''), word.ends_with('\''));
                let bare = word.trim_matches('\'').to_owned();
                match (open, words.last_mut()) {
                    (true, Some(last)) => {
                        let last: &mut String = last;
                        last.push(' ');
                        last.push_str(&bare);
                    }
                    _ => words.push(bare),
                }
                (words, (open || starts) && !ends)
            })
            .0;
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let ran = run_in(above.path(), &arguments);
        assert_eq!(ran.status, Some(0), "{arguments:?}: {ran:?}");
    }
    let again = run_in(above.path(), &["new", "my book"]);
    assert_eq!(again.status, Some(2));
    assert!(again.err.contains("is not empty"), "{}", again.err);
}

#[test]
fn a_report_is_written_to_a_file_as_it_is_printed() {
    let folder = book();
    for format in ["text", "html", "json"] {
        let printed = run_in(folder.path(), &["cost", "--as", format]);
        let written = run_in(folder.path(), &["cost", "--as", format, "--out", "report"]);
        assert_eq!((written.status, written.out.as_str()), (Some(0), "wrote report\n"));
        assert_eq!(fs::read_to_string(folder.path().join("report")).expect("there"), printed.out, "{format}");
    }
    assert_eq!(names(folder.path()), ["book.kerf", "report"]);
}

#[test]
fn a_report_that_can_t_be_written_leaves_nothing_behind() {
    let folder = book();
    let ran = run_in(folder.path(), &["cost", "--out", "nowhere/report"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""));
    assert_eq!(ran.err, "kerfbook: `nowhere/report` can't be written: there is no folder `nowhere`\n");
    assert_eq!(names(folder.path()), ["book.kerf"]);
}

#[test]
fn no_command_writes_over_a_file_of_the_book_or_another_paper_in_its_folder() {
    let folder = book_with_a_form();
    let above = folder.path();
    fs::create_dir(above.join("receipts")).expect("made");
    let papers = ["book.kerf", "receipts/A-1182.txt", ".gitignore", "notes.json"];
    for paper in &papers[1..] {
        fs::write(above.join(paper), "{\"dear\": 1}\n").expect("written");
    }
    let before = papers.map(|paper| fs::read(above.join(paper)).expect("there"));
    for command in COMMANDS {
        for place in papers.iter().chain(&["new.kerf", "receipts/../book.kerf", "../elsewhere.KERF"]) {
            let ran = run_in(above, &[command, &["--today", "2026-04-01", "--out", place]].concat());
            assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""), "{command:?} {place}: {ran:?}");
            assert!(ran.err.starts_with("kerfbook: `"), "{}", ran.err);
        }
    }
    assert_eq!(papers.map(|paper| fs::read(above.join(paper)).expect("there")), before);
    assert!(!above.join("new.kerf").exists() && !above.join("../elsewhere.KERF").exists());
}

#[cfg(unix)]
#[test]
fn a_link_does_not_hide_a_file_of_the_book() {
    let folder = book();
    let above = tempfile::tempdir().expect("a folder");
    let whole = fs::read_to_string(folder.path().join("book.kerf")).expect("there");
    std::os::unix::fs::symlink(folder.path().join("book.kerf"), above.path().join("cost.txt")).expect("linked");
    std::os::unix::fs::symlink(folder.path(), above.path().join("shop")).expect("linked");
    fs::write(folder.path().join("A-1182.txt"), "dear").expect("written");
    for place in ["cost.txt", "shop/A-1182.txt"] {
        let ran = run_in(above.path(), &["cost", "--book", text(folder.path()), "--out", place]);
        assert_eq!(ran.status, Some(2), "{ran:?}");
    }
    assert_eq!(fs::read_to_string(folder.path().join("book.kerf")).expect("there"), whole);
    assert_eq!(fs::read_to_string(folder.path().join("A-1182.txt")).expect("there"), "dear");
}

#[test]
fn an_earlier_report_in_the_book_s_folder_is_replaced_and_elsewhere_what_is_named_is() {
    let folder = book_with_a_form();
    let above = tempfile::tempdir().expect("a folder");
    let outside = above.path().join("cost.txt");
    fs::write(&outside, "anything").expect("written");
    for command in COMMANDS {
        let formats: &[&str] = match command[0] {
            "check" => &["text", "short", "json"],
            "why" => &["text", "json"],
            _ => &["text", "html", "json"],
        };
        for format in formats.iter().chain(formats) {
            let ran = run_in(folder.path(), &[command, &["--today", "2026-04-01", "--as", format, "--out", "report"]].concat());
            assert_eq!((ran.status, ran.out.as_str()), (Some(0), "wrote report\n"), "{command:?} {format}: {ran:?}");
        }
        let ran = run_in(folder.path(), &[command, &["--today", "2026-04-01", "--out", text(&outside)]].concat());
        assert_eq!(ran.status, Some(0), "{ran:?}");
    }
    let mistaken = book_with_a_mistake();
    for format in ["text", "short", "json"] {
        let ran = run_in(mistaken.path(), &["check", "--as", format, "--out", "report"]);
        assert_eq!(ran.status, Some(1), "{ran:?}");
    }
    assert_eq!(names(folder.path()), ["book.kerf", "report"]);
}

/// Every command that writes a report of the small book.
const COMMANDS: [&[&str]; 9] = [
    &["check"],
    &["cost"],
    &["stock"],
    &["pays"],
    &["year", "2026"],
    &["proof"],
    &["why", "cost/pull-cart"],
    &["why", "stock/red-oak"],
    &["why", "year/2026/line-42"],
];

#[test]
fn a_site_never_takes_away_what_it_did_not_write() {
    let folder = book();
    assert_eq!(run_in(folder.path(), &["site", "--out", "pages"]).status, Some(0));
    assert_eq!(run_in(folder.path(), &["site", "--out", "pages"]).status, Some(0));
    fs::write(folder.path().join("pages/notes.txt"), "dear").expect("written");
    for place in ["pages", ".", "book.kerf"] {
        let ran = run_in(folder.path(), &["site", "--out", place]);
        assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""), "{place}: {ran:?}");
    }
    assert_eq!(names(folder.path()), ["book.kerf", "pages"]);
    assert_eq!(fs::read_to_string(folder.path().join("pages/notes.txt")).expect("there"), "dear");
}

#[test]
fn a_template_of_one_s_own_takes_the_place_of_the_program_s() {
    let folder = book();
    fs::create_dir(folder.path().join("own")).expect("made");
    fs::write(
        folder.path().join("own/cost.html"),
        "{% for one in report.products %}{{ one.title }}: {{ one.made }}\n{% endfor %}",
    )
    .expect("written");
    let ran = run_in(folder.path(), &["cost", "--as", "html", "--templates", "own"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(0), "Pull-along cart: 6\n"), "{ran:?}");
    fs::write(folder.path().join("own/cost.html"), "{{ report.nothing }}").expect("written");
    let ran = run_in(folder.path(), &["cost", "--as", "html", "--templates", "own"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""));
    assert!(ran.err.contains("cost.html:1"), "{}", ran.err);
}
