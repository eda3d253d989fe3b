//! A recall question to a large book: what it takes beyond compiling it.
//!
//! Asked are a receipt of the book's first days, a batch, the last order, and all of a finish that went into everything: the widest question there is. The time
//! of `kerfbook check` is taken off that of `kerfbook trace`, so what is left is costing once more with the trace, walking it, and writing the answer. The bar
//! is one second. It is read here and is no test, since a test on a busy machine would tell of the machine.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::generated_book;
use crate::process::KERFBOOK;
use crate::stopwatch::{in_turn, once};

/// How many entries the book has.
const ENTRIES: usize = 100_000;

/// Asks each question of a generated book.
pub(crate) fn recall(out: &mut impl Write) -> std::io::Result<()> {
    let folder = tempfile::tempdir()?;
    let text = generated_book::generate(ENTRIES).text;
    fs::write(folder.path().join("book.kerf"), &text)?;
    let first = |before: &str, after: char| name_after(text.split(before).nth(1), after);
    let last_order = name_after(text.rsplit("order \"").next(), '"');
    let asked = [
        ("a receipt of the first days", format!("receipt/{}", first("receipt \"", '"'))),
        ("a batch of the first days", format!("batch/{}", first("batch ", '\n'))),
        ("the last order", format!("order/{last_order}")),
        ("all lots of a finish", "thing/clear-oil".to_owned()),
    ];
    for (what, name) in asked {
        let (trace, check) =
            in_turn(3, || run(folder.path(), &["trace", &name, "--as", "json"]), || run(folder.path(), &["check"]));
        let beyond = trace.nanos.saturating_sub(check.nanos) / 1_000_000;
        writeln!(
            out,
            "tracing {what} (`{name}`) in {ENTRIES} entries: {} ms, check {} ms, so {beyond} ms beyond the compile (bar 1000)",
            trace.nanos / 1_000_000,
            check.nanos / 1_000_000
        )?;
    }
    let all = once(|| run(folder.path(), &["trace", "from/ridgeline-lumber", "--as", "json"]));
    writeln!(out, "tracing all that was ever bought, nearly the whole book: {} ms", all / 1_000_000)
}

fn name_after(rest: Option<&str>, end: char) -> String {
    rest.and_then(|rest| rest.split(end).next()).unwrap_or_default().to_owned()
}

/// Runs a command on a book. One that fails is a fault of the measure.
fn run(book: &Path, arguments: &[&str]) {
    let mut command = Command::new(KERFBOOK);
    command.args(arguments).arg("--book").arg(book).stdout(Stdio::null()).stderr(Stdio::null());
    let ended = command.status().expect("the command runs");
    assert!(ended.success(), "{arguments:?}: {ended}");
}
