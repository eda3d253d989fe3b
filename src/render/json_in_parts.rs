//! A trace as JSON in parts that are written side by side: of what went into everything it is as long as the book.
//!
//! One after another the parts are the very text of [`render_json`](super::json::render_json), which a test holds.

use std::io;

use rayon::prelude::*;
use serde::Serialize;
use serde::ser::Error as _;
use serde_json::ser::{Formatter, PrettyFormatter, Serializer};

use crate::reports::{BatchRecords, ReportHead, TraceReport};

/// How many rows of a list are written in one go.
const IN_ONE_GO: usize = 256;

/// What stands before the lists.
#[derive(Serialize)]
struct Before<'r> {
    #[serde(flatten)]
    head: &'r ReportHead,
    asked: &'r str,
    is: &'r str,
}

/// What stands behind them.
#[derive(Serialize)]
struct Behind<'r> {
    records: &'r Option<BatchRecords>,
    notes: &'r [String],
}

/// Writes a trace as JSON, with a line break at its end.
///
/// # Errors
/// Never: its keys are text and its figures are text.
pub fn trace_in_parts(report: &TraceReport) -> Result<Vec<String>, serde_json::Error> {
    let TraceReport { head, asked, is, came_from, went_to, sources, batches, orders, on_hand, gone, records, notes } = report;
    let mut before = serde_json::to_string_pretty(&Before { head, asked, is })?;
    before.truncate(before.len().saturating_sub("\n}".len()));
    let mut behind = serde_json::to_string_pretty(&Behind { records, notes })?;
    behind.replace_range(..1, ",");
    behind.push('\n');
    let mut parts = vec![before];
    list("came_from", came_from, &mut parts)?;
    list("went_to", went_to, &mut parts)?;
    list("sources", sources, &mut parts)?;
    list("batches", batches, &mut parts)?;
    list("orders", orders, &mut parts)?;
    list("on_hand", on_hand, &mut parts)?;
    list("gone", gone, &mut parts)?;
    parts.push(behind);
    Ok(parts)
}

/// Writes a list of the report.
fn list<T: Serialize + Sync>(name: &str, rows: &[T], parts: &mut Vec<String>) -> Result<(), serde_json::Error> {
    let Some((first, others)) = rows.split_first() else {
        parts.push(format!(",\n  \"{name}\": []"));
        return Ok(());
    };
    parts.push(format!(",\n  \"{name}\": [\n    "));
    parts.push(rows_as_text("", std::slice::from_ref(first))?);
    let others: Vec<String> =
        others.par_chunks(IN_ONE_GO).map(|rows| rows_as_text(",\n    ", rows)).collect::<Result<_, serde_json::Error>>()?;
    parts.extend(others);
    parts.push("\n  ]".to_owned());
    Ok(())
}

/// Rows as they stand in a list of the report, something before each.
fn rows_as_text<T: Serialize>(between: &str, rows: &[T]) -> Result<String, serde_json::Error> {
    let mut formatter = PrettyFormatter::new();
    // Rows stand two levels in.
    for _ in 0..2 {
        formatter.begin_array(&mut io::sink()).map_err(serde_json::Error::io)?;
    }
    let mut text: Vec<u8> = Vec::new();
    for row in rows {
        text.extend_from_slice(between.as_bytes());
        row.serialize(&mut Serializer::with_formatter(&mut text, formatter.clone()))?;
    }
    String::from_utf8(text).map_err(serde_json::Error::custom)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::json::render_json;
    use crate::reports::{MadeOfBatch, Period, ReachedBatch, TraceKind, TraceStep};

    fn step(says: &str, steps: Vec<TraceStep>) -> TraceStep {
        let (quantity, unit) = (Some("2".to_owned()), None);
        TraceStep {
            kind: TraceKind::Lot,
            says: says.to_owned(),
            figure: None,
            date: None,
            quantity,
            unit,
            above: false,
            at: None,
            steps,
        }
    }

    #[test]
    fn the_parts_together_are_the_report_as_it_is_written_whole() {
        let sources = crate::sources::SourceSet::default();
        let read = crate::names::resolve_book(
            &sources,
            &crate::syntax::SyntaxFile::default(),
            &mut crate::diagnostics::Diagnostics::default(),
        );
        let batch = |at: usize| ReachedBatch {
            name: format!("B-{at} \"é\""),
            made: vec![MadeOfBatch { thing: "cart".to_owned(), quantity: "1".to_owned() }],
            started: None,
            finished: None,
        };
        let mut report = TraceReport {
            head: Period::default().head("trace", &read, None, None),
            asked: "B".to_owned(),
            is: "batch B".to_owned(),
            came_from: vec![step("a", vec![step("b", Vec::new())]), step("c", Vec::new())],
            went_to: Vec::new(),
            sources: Vec::new(),
            batches: (0..IN_ONE_GO * 2 + 3).map(batch).collect(),
            orders: Vec::new(),
            on_hand: Vec::new(),
            gone: Vec::new(),
            records: None,
            notes: vec!["n".to_owned()],
        };
        let whole = render_json(&report).expect("text");
        assert_eq!(trace_in_parts(&report).expect("text").concat(), whole);
        report.batches.truncate(1);
        assert_eq!(trace_in_parts(&report).expect("text").concat(), render_json(&report).expect("text"));
    }
}
