//! Whole processes: peak memory of `check`, and its time beside `git status`.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::stopwatch;

const KERFBOOK: &str = env!("CARGO_BIN_EXE_kerfbook");

/// Peak memory of `check` on a book, in bytes of memory for a byte of text (Linux: `VmHWM`, read while it runs).
pub(crate) fn memory(out: &mut impl Write, text: &str) -> std::io::Result<()> {
    let folder = tempfile::tempdir()?;
    std::fs::write(folder.path().join("book.kerf"), text)?;
    let mut child = check(folder.path()).spawn()?;
    let status = format!("/proc/{}/status", child.id());
    let mut peak: u64 = 0;
    while child.try_wait()?.is_none() {
        let told = std::fs::read_to_string(&status).unwrap_or_default();
        let line = told.lines().find(|line| line.starts_with("VmHWM:"));
        let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)).and_then(|number| number.parse().ok());
        peak = peak.max(kilobytes.unwrap_or(0));
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
    let bytes = u128::from(peak) * 1024;
    writeln!(
        out,
        "peak memory of check: {} MB, {} bytes a byte of text",
        bytes / 1_000_000,
        stopwatch::ratio(bytes, text.len() as u128)
    )
}

/// `check` of the example book beside `git status` in the same folder.
pub(crate) fn against_git_status(out: &mut impl Write) -> std::io::Result<()> {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("ledger-examples/wren-and-gable");
    let mut git = Command::new("git");
    git.arg("status").current_dir(&example).stdout(Stdio::null()).stderr(Stdio::null());
    let run = |command: &mut Command| {
        command.status().map(|_| ()).unwrap_or_default();
    };
    let (ours, theirs) = stopwatch::in_turn(21, || run(&mut check(&example)), || run(&mut git));
    writeln!(
        out,
        "check of the example / git status there, whole processes: {} µs / {} µs, time ratio {}",
        ours.nanos / 1000,
        theirs.nanos / 1000,
        stopwatch::ratio(ours.nanos, theirs.nanos)
    )
}

fn check(book: &Path) -> Command {
    let mut command = Command::new(KERFBOOK);
    command.args(["check", "--book"]).arg(book).stdout(Stdio::null()).stderr(Stdio::null());
    command
}
