//! `kerfbook tidy`: what it writes, what it leaves, what it says, and its exit status.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;

use crate::shop::{Ran, book, book_of, command, names, run_in};

fn text(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).expect("read")
}

/// Runs the command with bytes on its standard input.
fn run_with(input: &[u8], arguments: &[&str]) -> Ran {
    let folder = tempfile::tempdir().expect("a folder");
    let mut command = command(folder.path());
    let mut child =
        command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("runs");
    child.stdin.take().expect("a pipe").write_all(input).expect("written");
    let output = child.wait_with_output().expect("ends");
    Ran {
        status: output.status.code(),
        out: String::from_utf8(output.stdout).expect("text"),
        err: String::from_utf8(output.stderr).expect("text"),
    }
}

#[test]
fn a_book_is_tidied_once_and_then_is_tidy() {
    let folder = book();
    let before = text(folder.path(), "book.kerf");
    fs::write(folder.path().join("book.kerf"), before.replace("    ", "\t").replace(" at ", "   at ")).expect("written");
    fs::write(folder.path().join("2026.kerf"), "noted 2026-04-01 \"x\"").expect("written");
    let check = run_in(folder.path(), &["tidy", "--check"]);
    assert_eq!((check.status, check.out.as_str(), check.err.as_str()), (Some(1), "2026.kerf\nbook.kerf\n", ""));
    assert!(text(folder.path(), "book.kerf").contains('\t'), "`--check` writes nothing");

    let ran = run_in(folder.path(), &["tidy"]);
    assert_eq!((ran.status, ran.out.as_str(), ran.err.as_str()), (Some(0), "tidied 2026.kerf\ntidied book.kerf\n", ""));
    // The first line of the small book is blank.
    assert_eq!(text(folder.path(), "book.kerf"), before.trim_start());
    assert_eq!(names(folder.path()), ["2026.kerf", "book.kerf"]);

    let check = run_in(folder.path(), &["tidy", "--check"]);
    assert_eq!((check.status, check.out.as_str()), (Some(0), ""));
    assert_eq!(run_in(folder.path(), &["tidy"]).out, "2 files are tidy already\n");
}

#[test]
fn only_the_files_that_are_named_are_tidied() {
    let folder = book();
    for name in ["a.kerf", "b.kerf"] {
        fs::write(folder.path().join(name), "noted  2026-04-01  \"x\"\n").expect("written");
    }
    let ran = run_in(folder.path(), &["tidy", "b.kerf"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(0), "tidied b.kerf\n"), "{ran:?}");
    assert_eq!(run_in(folder.path(), &["tidy", "--check", "a.kerf", "b.kerf"]).out, "a.kerf\n");
    let ran = run_in(folder.path(), &["tidy", "none.kerf"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""));
    assert!(ran.err.contains("`none.kerf` is no file of the book"), "{}", ran.err);
}

#[test]
fn lines_that_can_t_be_read_stay_and_are_named() {
    let folder = book_of("shop \"A\"\nnoted  2026-03-02 \"x\"\n\tusd  5 bf oak \n  ???\n");
    let ran = run_in(folder.path(), &["tidy"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(0), "tidied book.kerf\n"), "{ran:?}");
    assert!(ran.err.contains("book.kerf:3: left as it is, since it can't be read\nbook.kerf:4: left"), "{}", ran.err);
    assert!(ran.err.ends_with("`kerfbook check` says what is wrong with them\n"), "{}", ran.err);
    assert_eq!(text(folder.path(), "book.kerf"), "shop \"A\"\nnoted 2026-03-02 \"x\"\n\tusd  5 bf oak \n  ???\n");
}

#[test]
fn a_file_that_is_no_text_is_not_touched_and_the_others_are() {
    let folder = book();
    fs::write(folder.path().join("a.kerf"), b"noted  2026-04-01 \"caf\xE9\"\n").expect("written");
    fs::write(folder.path().join("b.kerf"), "noted  2026-04-01 \"x\"\n").expect("written");
    let ran = run_in(folder.path(), &["tidy", "a.kerf", "b.kerf"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(1), "tidied b.kerf\n"), "{ran:?}");
    assert!(ran.err.contains("`a.kerf` is not UTF-8 from offset 22 on; nothing of it was touched"), "{}", ran.err);
    assert_eq!(fs::read(folder.path().join("a.kerf")).expect("read"), b"noted  2026-04-01 \"caf\xE9\"\n");
    assert_eq!(run_in(folder.path(), &["tidy", "--check"]).status, Some(1));
}

#[cfg(unix)]
#[test]
fn permissions_stay_and_links_out_of_the_book_are_not_followed() {
    use std::os::unix::fs::PermissionsExt;
    let (folder, outside) = (book(), tempfile::tempdir().expect("a folder"));
    let untidy = "noted  2026-04-01 \"x\"\n";
    fs::write(outside.path().join("o.kerf"), untidy).expect("written");
    std::os::unix::fs::symlink(outside.path().join("o.kerf"), folder.path().join("link.kerf")).expect("linked");
    let own = folder.path().join("own.kerf");
    fs::write(&own, untidy).expect("written");
    fs::set_permissions(&own, fs::Permissions::from_mode(0o640)).expect("set");
    let ran = run_in(folder.path(), &["tidy", "link.kerf", "own.kerf"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(1), "tidied own.kerf\n"), "{ran:?}");
    assert!(ran.err.contains("`link.kerf` is a link that leads out of the book, so it stays as it is"), "{}", ran.err);
    assert_eq!(text(outside.path(), "o.kerf"), untidy);
    assert_eq!(fs::metadata(&own).expect("there").permissions().mode() & 0o777, 0o640);
}

#[test]
fn standard_input_is_handed_on_tidied_or_not_at_all() {
    let ran = run_with("sold  2026-03-20\tvia web\r\n\t2 cart   # two\r\n".as_bytes(), &["tidy", "-"]);
    let expected = format!("sold 2026-03-20 via web\r\n    2 cart{}# two\r\n", " ".repeat(28));
    assert_eq!((ran.status, ran.out.as_str(), ran.err.as_str()), (Some(0), expected.as_str(), ""));
    let ran = run_with(b"noted 2026-01-01 \"caf\xE9\"\n", &["tidy", "-"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(2), ""));
    assert!(ran.err.contains("standard input is not UTF-8 from offset 21 on"), "{}", ran.err);
    let ran = run_with(b"noted 2026-01-01 \"x\"\n  ???\n", &["tidy", "-"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(0), "noted 2026-01-01 \"x\"\n  ???\n"));
    assert!(ran.err.starts_with("-:2: left as it is"), "{}", ran.err);
    assert_eq!(
        run_with(b"home  \n", &["tidy", "--check", "-"]).status,
        Some(0),
        "a line that can't be read is as tidy as it gets"
    );
    let ran = run_with(b"noted  2026-01-01 \"x\"\n", &["tidy", "--check", "-"]);
    assert_eq!((ran.status, ran.out.as_str()), (Some(1), "-\n"));
    assert_eq!(run_with(b"", &["tidy", "-"]).status, Some(0));
    assert_eq!(run_with(b"", &["tidy", "-", "a.kerf"]).status, Some(2));
}
