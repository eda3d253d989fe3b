//! Whole processes: peak memory of `check`, and its time beside `git status`.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::stopwatch;

/// The command.
pub(crate) const KERFBOOK: &str = env!("CARGO_BIN_EXE_kerfbook");

/// Says to this program, run anew, that it shall only cost the book in that folder, and whether with the trace.
const ONLY_COST: &str = "KERFBOOK_BENCH_ONLY_COST";

/// Where this run is such a one: the book's text, and whether the trace is kept.
pub(crate) fn only_cost() -> Option<(String, bool)> {
    let told = std::env::var(ONLY_COST).ok()?;
    let (how, path) = told.split_once(':')?;
    Some((std::fs::read_to_string(path).ok()?, how == "trace"))
}

/// Peak memory of `check` on a book, in bytes of memory for a byte of text; and of costing it with a journal, with the trace and
/// without, everything before it included.
pub(crate) fn memory(out: &mut impl Write, text: &str) -> std::io::Result<()> {
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("book.kerf");
    std::fs::write(&path, text)?;
    let bytes = peak(&mut check(folder.path()))?;
    let of_text = stopwatch::ratio(bytes, text.len() as u128);
    writeln!(out, "peak memory of check: {} MB, {of_text} bytes a byte of text", bytes / 1_000_000)?;
    let costing = |how: &str| {
        let mut command = Command::new(std::env::current_exe()?);
        peak(command.env(ONLY_COST, format!("{how}:{}", path.display())))
    };
    let (traced, bare) = (costing("trace")?, costing("journal")?);
    let (megabytes, ratio) = ([traced, bare].map(|bytes| bytes / 1_000_000), stopwatch::ratio(traced, bare));
    writeln!(out, "peak memory up to the costs with the trace / without: {} MB / {} MB, {ratio}", megabytes[0], megabytes[1])
}

/// The peak memory of a process in bytes (Linux: `VmHWM`, read while it runs). A process that fails is a fault.
pub(crate) fn peak(command: &mut Command) -> std::io::Result<u128> {
    let mut child = command.spawn()?;
    let status = format!("/proc/{}/status", child.id());
    let mut peak: u64 = 0;
    let ended = loop {
        if let Some(ended) = child.try_wait()? {
            break ended;
        }
        let told = std::fs::read_to_string(&status).unwrap_or_default();
        let line = told.lines().find(|line| line.starts_with("VmHWM:"));
        let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)).and_then(|number| number.parse().ok());
        peak = peak.max(kilobytes.unwrap_or(0));
        std::thread::sleep(std::time::Duration::from_millis(2));
    };
    if !ended.success() {
        return Err(std::io::Error::other(format!("a run failed: {ended}")));
    }
    Ok(u128::from(peak) * 1024)
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
