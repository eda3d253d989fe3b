//! Speed, as ratios in one run: `cargo bench --bench speed`.
//!
//! Each row holds two figures that were taken in turn in the same run, several times, and their medians' ratio, so that a slow or busy machine
//! moves both. Nothing here is a test: the table is read by people. `KERFBOOK_BENCH_ENTRIES` sets the size of the large book (380,000
//! entries, about 50 MB, where it isn't set). `cargo bench --bench speed -- twice` runs only the rows that say what twice as much takes, `-- site` those of the site,
//! `-- recall` those of a recall question, `-- mistakes` that of many mistakes.

#![expect(clippy::disallowed_methods, reason = "times are what is asked for here")]

mod generated_book;
mod json_lines;
mod mistakes;
mod pipeline;
mod process;
mod recall;
mod scale_book;
mod site;
mod sqlite_rows;
mod stopwatch;

use std::io::Write as _;

use stopwatch::{Taken, ratio};

fn main() -> std::io::Result<()> {
    if let Some((text, keep_trace)) = process::only_cost() {
        // It ends with the process, as a report does.
        std::mem::forget(pipeline::cost(&pipeline::up_to_events(&text), keep_trace));
        return Ok(());
    }
    let large: usize = std::env::var("KERFBOOK_BENCH_ENTRIES").ok().and_then(|n| n.parse().ok()).unwrap_or(380_000);
    let mut out = std::io::stdout().lock();
    if std::env::args().any(|word| word == "twice") {
        return all_twice(&mut out);
    }
    if std::env::args().any(|word| word == "site") {
        return site::sites(&mut out);
    }
    if std::env::args().any(|word| word == "recall") {
        return recall::recall(&mut out);
    }
    if std::env::args().any(|word| word == "mistakes") {
        return mistakes::mistakes(&mut out);
    }
    let book = generated_book::generate(large);
    let bytes = book.text.len();
    writeln!(out, "a generated book: {} entries, {bytes} bytes; medians of five, in turn", book.entries)?;

    let lines = json_lines::of(&book.text);
    let (ours, theirs) = stopwatch::in_turn(5, || pipeline::parse(&book.text), || json_lines::read(&lines));
    row(&mut out, "parsing and lowering / the same entries from JSON Lines, one thread", ours, theirs, book.entries)?;
    drop(lines);

    let rows = sqlite_rows::of(&book.text);
    let (ours, theirs) = stopwatch::in_turn(5, || pipeline::check(&book.text), || sqlite_rows::insert(&rows));
    row(&mut out, "the whole check / the same rows into SQLite in memory, one transaction", ours, theirs, book.entries)?;
    drop(rows);

    let small = generated_book::generate(10_000);
    let huge = generated_book::generate(1_000_000);
    let (big, little) = stopwatch::in_turn(3, || pipeline::check(&huge.text), || pipeline::check(&small.text));
    writeln!(out, "time per entry at 1,000,000 / at 10,000: {}", ratio(big.nanos / 1_000_000, (little.nanos / 10_000).max(1)))?;
    drop((small, huge));

    all_twice(&mut out)?;

    for (stage, taken) in pipeline::stages(&book.text) {
        writeln!(out, "  of the check, {stage}: {} ms", taken / 1_000_000)?;
    }
    let events = pipeline::up_to_events(&book.text);
    let (traced, bare) = stopwatch::in_turn(3, || drop(pipeline::cost(&events, true)), || drop(pipeline::cost(&events, false)));
    row(&mut out, "costing with the trace / without, a journal kept", traced, bare, book.entries)?;
    drop(events);
    process::memory(&mut out, &book.text)?;
    drop(book);
    site::sites(&mut out)?;
    recall::recall(&mut out)?;
    mistakes::mistakes(&mut out)?;
    process::against_git_status(&mut out)
}

/// What twice as much takes, of each book that is large in one way.
fn all_twice(out: &mut impl std::io::Write) -> std::io::Result<()> {
    twice_as_much(out, "sets of sets twelve levels deep", 1_000, scale_book::sets)?;
    twice_as_much(out, "batches", 10_000, scale_book::batches)?;
    twice_as_much(out, "sales of one lot", 100_000, scale_book::sales)
}

/// Time that twice as much takes: about 2 where it is linear, 4 where it is quadratic. The bar is 2.6.
fn twice_as_much(out: &mut impl std::io::Write, what: &str, count: usize, book: fn(usize) -> String) -> std::io::Result<()> {
    let (once, twice) = (book(count), book(2 * count));
    let (more, less) = stopwatch::in_turn(5, || pipeline::check(&twice), || pipeline::check(&once));
    writeln!(
        out,
        "{what}, {} / {count}: {} ms / {} ms, time ratio {} (bar 2.60)",
        2 * count,
        more.nanos / 1_000_000,
        less.nanos / 1_000_000,
        ratio(more.nanos, less.nanos)
    )
}

fn row(out: &mut impl std::io::Write, what: &str, ours: Taken, theirs: Taken, entries: usize) -> std::io::Result<()> {
    let per_second = |taken: Taken| (entries as u128) * 1_000_000_000 / taken.nanos.max(1);
    writeln!(
        out,
        "{what}: {} ms / {} ms, {} / {} entries a second, time ratio {}",
        ours.nanos / 1_000_000,
        theirs.nanos / 1_000_000,
        per_second(ours),
        per_second(theirs),
        ratio(ours.nanos, theirs.nanos)
    )
}
