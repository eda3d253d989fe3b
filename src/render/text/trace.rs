//! *Where did it come from, where did it go?* as text: the two trees, then the lists, then the records of goods for children.

use super::number;
use super::sheet::{Look, Sheet};
use super::table::{Stand, Table};
use crate::render::answer_to_decide::answer_trace;
use crate::render::html::Question;
use crate::render::number_format::Shown;
use crate::reports::{BatchRecord, RecordPaper, TraceReport, TraceStep};

/// Renders a trace.
#[must_use]
pub fn text_trace(report: &TraceReport, look: Look) -> String {
    let answer = answer_trace(report, Shown::Terminal);
    let mut sheet = Sheet::open(look, Question::Trace.asked(), &report.head, &answer);
    sheet.steps("Where it came from", &tree(&report.came_from));
    sheet.steps("Where it went", &tree(&report.went_to));
    sheet.table("From outside", sources(report));
    sheet.table("Batches", batches(report));
    sheet.table("Sold", orders(report));
    sheet.table("Still there", on_hand(report));
    sheet.table("Left without a sale", gone(report));
    if let Some(records) = &report.records {
        sheet.paragraph(&records.caution);
        for record in &records.records {
            sheet.steps(&format!("Record of batch {}: {}, {}", record.batch, record.title, record.age), &facts(record));
            sheet.table("What went into it", materials(record));
        }
        sheet.paragraph(&format!("What {}.", records.label_asks));
        sheet.paragraph(&format!("Kept for so long by {}.", records.keep_source));
    }
    sheet.notes(&report.notes);
    sheet.close()
}

/// A tree as lines, each level further in.
fn tree(steps: &[TraceStep]) -> Vec<(usize, String)> {
    let mut lines = Vec::new();
    let mut open: Vec<(usize, &TraceStep)> = steps.iter().rev().map(|step| (0, step)).collect();
    while let Some((depth, step)) = open.pop() {
        let above = if step.above { ", as above" } else { "" };
        let at = step.at.as_ref().map_or_else(String::new, |at| format!(" [{}:{}]", at.file, at.line));
        lines.push((depth, format!("{}{above}{at}", step.says)));
        open.extend(step.steps.iter().rev().map(|below| (depth.saturating_add(1), below)));
    }
    lines
}

fn facts(record: &BatchRecord) -> Vec<(usize, String)> {
    let mut lines = vec![
        (0, format!("{} pieces, made from {} to {}{}", number(&record.pieces), record.first, record.last, at(record))),
        (0, record.pattern.as_ref().map_or_else(|| "no pattern".to_owned(), |pattern| format!("pattern: {pattern}"))),
        (0, format!("keep until {}", record.keep_until.as_deref().unwrap_or("further than dates go"))),
        (0, "its label:".to_owned()),
    ];
    lines.extend(record.label.iter().map(|line| (1, line.clone())));
    if !record.papers.is_empty() {
        lines.push((0, "its papers:".to_owned()));
        lines.extend(record.papers.iter().map(|paper| (1, paper_line(paper))));
    }
    lines.push((0, "missing:".to_owned()));
    lines.extend(record.missing.iter().map(|line| (1, line.clone())));
    lines
}

/// `2026-03-09 batch PC-021: file tests/pc-021.pdf`.
fn paper_line(paper: &RecordPaper) -> String {
    let date = paper.date.as_ref().map_or_else(String::new, |date| format!("{date} "));
    let says = paper
        .file
        .as_ref()
        .map(|file| format!("file {file}"))
        .or_else(|| paper.note.as_ref().map(|note| format!("note \"{note}\"")));
    format!("{date}{}: {}", paper.of, says.unwrap_or_default())
}

fn at(record: &BatchRecord) -> String {
    record.place.as_ref().map_or_else(String::new, |place| format!(", at {place}"))
}

fn or_dash(text: Option<&String>) -> String {
    text.cloned().unwrap_or_else(|| "-".to_owned())
}

fn materials(record: &BatchRecord) -> Table {
    let mut table =
        Table::new([("Thing", Stand::Left), ("Lot", Stand::Left), ("How it came", Stand::Left), ("Certificate", Stand::Left)]);
    for one in &record.materials {
        table.row(vec![one.title.clone(), one.lot.clone(), one.came.clone(), or_dash(one.certificate.as_ref())]);
    }
    table
}

fn sources(report: &TraceReport) -> Table {
    let mut table = Table::new([
        ("Lot", Stand::Left),
        ("Came", Stand::Point),
        ("", Stand::Left),
        ("How", Stand::Left),
        ("Certificate", Stand::Left),
    ]);
    for one in &report.sources {
        let certificate = or_dash(one.certificate.as_ref());
        table.row(vec![one.lot.clone(), number(&one.quantity), one.unit.clone(), one.came.clone(), certificate]);
    }
    table
}

fn batches(report: &TraceReport) -> Table {
    let mut table = Table::new([("Batch", Stand::Left), ("From", Stand::Left), ("To", Stand::Left), ("Made", Stand::Left)]);
    for one in &report.batches {
        let made: Vec<String> = one.made.iter().map(|made| format!("{} {}", number(&made.quantity), made.thing)).collect();
        let made = if made.is_empty() { "nothing yet".to_owned() } else { made.join(", ") };
        table.row(vec![one.name.clone(), or_dash(one.started.as_ref()), or_dash(one.finished.as_ref()), made]);
    }
    table
}

fn orders(report: &TraceReport) -> Table {
    let mut table = Table::new([
        ("Day", Stand::Left),
        ("Order", Stand::Left),
        ("By", Stand::Left),
        ("To", Stand::Left),
        ("Lot", Stand::Left),
        ("Sold", Stand::Point),
        ("Came back", Stand::Point),
    ]);
    for one in &report.orders {
        table.row(vec![
            one.date.clone(),
            one.order.clone(),
            or_dash(one.channel.as_ref()),
            or_dash(one.buyer.as_ref()),
            one.lot.clone(),
            number(&one.sold),
            number(&one.came_back),
        ]);
    }
    table
}

fn on_hand(report: &TraceReport) -> Table {
    let mut table = Table::new([("Place", Stand::Left), ("Lot", Stand::Left), ("Left", Stand::Point), ("", Stand::Left)]);
    for one in &report.on_hand {
        let place = one.batch.as_ref().map_or_else(|| one.place.clone(), |batch| format!("{}, batch {batch}", one.place));
        table.row(vec![place, one.lot.clone(), number(&one.quantity), one.unit.clone()]);
    }
    table
}

fn gone(report: &TraceReport) -> Table {
    let mut table =
        Table::new([("Day", Stand::Left), ("How", Stand::Left), ("Lot", Stand::Left), ("Left", Stand::Point), ("", Stand::Left)]);
    for one in &report.gone {
        table.row(vec![one.date.clone(), one.how.clone(), one.lot.clone(), number(&one.quantity), one.unit.clone()]);
    }
    table
}
