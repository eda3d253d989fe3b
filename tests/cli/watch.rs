//! `kerfbook check --watch`: a check for each save, told through a pipe as on a terminal.

use std::fs;

use crate::running::Running;
use crate::shop::{book_with_a_mistake, run_in};

#[test]
fn each_save_is_checked_and_told_with_its_outcome_and_time() {
    let folder = book_with_a_mistake();
    let path = folder.path().join("book.kerf");
    let once = run_in(folder.path(), &["check", "--today", "2026-12-31"]);
    let running = Running::start(folder.path(), &["check", "--watch", "--today", "2026-12-31"]);
    let told = running.up_to("waiting for a save (Ctrl-C ends)");
    let (line, findings) = told.split_last().expect("a line");
    assert_eq!(findings.join("\n") + "\n", once.out, "the same words as without `--watch`");
    assert!(line.starts_with("1 mistake, no warnings; took ") && line.contains(" ms; "), "{line}");

    // On a busy machine a file may be seen, and the book checked, before all its text is in it: the last of the checks counts.
    let text = fs::read_to_string(&path).expect("there").replace("red-oka", "red-oak");
    fs::write(&path, &text).expect("written");
    assert_eq!(running.up_to("saved: book.kerf").iter().rev().nth(1).expect("a line before"), "");
    running.up_to("no mistakes, no warnings; took ");

    fs::create_dir(folder.path().join("2026")).expect("made");
    fs::write(folder.path().join("2026/04.kerf"), "noted 2026-04-01 \"a fair\"\n").expect("written");
    running.up_to("new: 2026/04.kerf");
    running.up_to("4 entries in 2 files: no mistakes");
    running.up_to("waiting for a save");

    fs::remove_file(folder.path().join("2026/04.kerf")).expect("removed");
    running.up_to("removed: 2026/04.kerf");
    running.up_to("3 entries in 1 file: ");
    running.up_to("waiting for a save");

    fs::remove_file(&path).expect("removed");
    running.up_to("the book can't be checked; took ");
    fs::write(&path, &text).expect("written");
    running.up_to("no mistakes, no warnings; took ");
}

#[test]
fn a_program_finds_one_json_after_the_other() {
    let folder = book_with_a_mistake();
    let path = folder.path().join("book.kerf");
    let running = Running::start(folder.path(), &["check", "--watch", "--as", "json", "--today", "2026-12-31"]);
    let read = || {
        let mut lines = Vec::new();
        while lines.last().is_none_or(|line: &String| line != "}") {
            lines.extend(running.up_to(""));
        }
        serde_json::from_str::<serde_json::Value>(&lines.join("\n")).expect("json")
    };
    assert_eq!(read()["mistakes"], 1);
    let text = fs::read_to_string(&path).expect("there").replace("red-oka", "red-oak");
    fs::write(&path, text).expect("written");
    while read()["mistakes"] != 0 {}
}

#[test]
fn what_it_says_can_t_go_to_a_file() {
    let folder = book_with_a_mistake();
    assert_eq!(run_in(folder.path(), &["check", "--watch", "--out", "findings.txt"]).status, Some(2));
}

#[test]
fn a_folder_that_is_not_there_is_an_error_at_once() {
    let folder = book_with_a_mistake();
    for command in [&["check", "--watch"][..], &["preview", "--port", "0"]] {
        for (book, told) in [("none", "there is no folder `none`"), ("book.kerf", "`book.kerf` is not a folder")] {
            let arguments: Vec<&str> = command.iter().copied().chain(["--book", book]).collect();
            let run = run_in(folder.path(), &arguments);
            assert!(run.status == Some(2) && run.err.contains(told), "{}", run.err);
        }
    }
}

#[cfg(unix)]
#[test]
fn ctrl_c_ends_it() {
    let folder = book_with_a_mistake();
    let running = Running::start(folder.path(), &["check", "--watch"]);
    running.up_to("waiting for a save");
    assert!(!running.interrupt().success());
}
