//! The site as a whole process: what twice as many entries take in time and memory, and what the example's site takes.
//!
//! The bars: 2.6 for twice as much, half a second and 5 MB for the example. The size is a test as well (`tests/cli/example_site.rs`);
//! the time is read here, since a test on a busy machine would tell of the machine.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::generated_book;
use crate::process::{KERFBOOK, peak};
use crate::stopwatch::{once, ratio};

/// How many entries the smaller book has.
const ENTRIES: usize = 50_000;

/// What a run took.
#[derive(Clone, Copy)]
struct Run {
    nanos: u128,
    bytes: u128,
}

/// The site of a generated book and of one twice as long, in turn, and that of the example.
pub(crate) fn sites(out: &mut impl Write) -> std::io::Result<()> {
    let folder = tempfile::tempdir()?;
    let mut books = Vec::new();
    for entries in [2 * ENTRIES, ENTRIES] {
        let book = folder.path().join(entries.to_string());
        fs::create_dir(&book)?;
        fs::write(book.join("book.kerf"), generated_book::generate(entries).text)?;
        books.push(book);
    }
    let mut runs = [Vec::new(), Vec::new()];
    for _ in 0..3 {
        for (book, runs) in books.iter().zip(&mut runs) {
            runs.push(run(book, &folder.path().join("site"))?);
        }
    }
    let median = |runs: &[Run], of: fn(&Run) -> u128| {
        let mut all: Vec<u128> = runs.iter().map(of).collect();
        all.sort_unstable();
        all.get(all.len() / 2).copied().unwrap_or_default()
    };
    let [twice, once] = runs.map(|runs| Run { nanos: median(&runs, |run| run.nanos), bytes: median(&runs, |run| run.bytes) });
    writeln!(
        out,
        "the site of {} entries / {ENTRIES}: {} ms / {} ms, time ratio {}; peak memory {} MB / {} MB, ratio {} (bars 2.60)",
        2 * ENTRIES,
        twice.nanos / 1_000_000,
        once.nanos / 1_000_000,
        ratio(twice.nanos, once.nanos),
        twice.bytes / 1_000_000,
        once.bytes / 1_000_000,
        ratio(twice.bytes, once.bytes),
    )?;
    example(out, &folder.path().join("example"))
}

fn example(out: &mut impl Write, site: &Path) -> std::io::Result<()> {
    let book = Path::new(env!("CARGO_MANIFEST_DIR")).join("ledger-examples/wren-and-gable");
    let mut times = Vec::new();
    for _ in 0..9 {
        times.push(run(&book, site)?.nanos);
    }
    times.sort_unstable();
    let mut bytes = 0;
    for entry in walkdir::WalkDir::new(site) {
        let about = entry?.metadata()?;
        bytes += if about.is_file() { u128::from(about.len()) } else { 0 };
    }
    let median = times.get(times.len() / 2).copied().unwrap_or_default() / 1_000_000;
    writeln!(out, "the example's site: {median} ms (bar 500), {} KB (bar 5,000)", bytes / 1_000)
}

/// Writes a site as the command does; one that fails ends the run, since its time would say nothing.
fn run(book: &Path, site: &Path) -> std::io::Result<Run> {
    let mut command = Command::new(KERFBOOK);
    command
        .args(["site", "--today", "2199-01-01", "--book"])
        .arg(book)
        .arg("--out")
        .arg(site)
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    let mut bytes = Ok(0);
    let nanos = once(|| bytes = peak(&mut command));
    bytes.map(|bytes| Run { nanos, bytes })
}
