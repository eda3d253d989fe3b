//! The sheets of the proof: flow by flow what came in and what became of it, a row a thing or batch, a column a component. They are the homes of the
//! proof's figures, of each year and over all.
//!
//! Amounts are exact, to six digits, so that the rows add up to the last one. What a thing or batch had of a flow is told on its own sheet, entry by entry.

use std::collections::BTreeMap;

use super::sheet::{CellKind, Sheet, SheetCell, SheetColumn, SheetKind, SheetName, SheetPlace, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use crate::costing::{CostVector, Flow, YearProof};
use crate::names::{BatchId, ThingId, ThingKind};
use crate::reports::{ProofFlow, ProofOf};
use crate::units::Fixed6;

use CellKind::{Money, Words};

/// The sheet on which a figure of the proof is told, by its name: `proof/materials/2026/sold`, `proof/wear/at-end`. None of another figure.
#[must_use]
pub fn sheet_of_proof_figure(figure: &str) -> Option<SheetName> {
    let mut parts = figure.strip_prefix("proof/")?.split('/').skip(1);
    let first = parts.next()?;
    let is_year = first.starts_with(|letter: char| letter.is_ascii_digit());
    match (is_year, parts.next()) {
        (true, Some(_)) => Some(SheetName::new(SheetKind::List, format!("proof-{first}"))),
        (true, None) => None,
        (false, _) => Some(SheetName::new(SheetKind::List, "proof-whole")),
    }
}

/// What a row is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum RowOf {
    Thing(ThingId),
    Batch(BatchId),
    Event(u32),
}

/// What moved by a flow, by row, each with the line of its first movement.
type MovedRows = BTreeMap<RowOf, (CostVector, Option<SheetPlace>)>;

/// A row: its head, where its numbers lead, and what it had.
type Row = (SheetCell, SheetCell, CostVector);

/// Makes the sheets of the proof: one a year, and one of the whole book. `None` where a figure is too large to be carried.
#[must_use]
pub fn sheets_of_proof(index: &SheetIndex<'_>) -> Option<Vec<Sheet>> {
    let costed = index.books.costed;
    let mut moved: BTreeMap<(i32, Flow), MovedRows> = BTreeMap::new();
    for movement in &costed.movements {
        let of = match (movement.thing, movement.batch) {
            (Some(thing), _) => RowOf::Thing(thing),
            (None, Some(batch)) => RowOf::Batch(batch),
            (None, None) => RowOf::Event(movement.event),
        };
        let rows = moved.entry((chrono::Datelike::year(&movement.date), movement.flow)).or_default();
        let row = rows.entry(of).or_insert_with(|| (CostVector::default(), index.place(movement.line)));
        row.0.add(&movement.vector)?;
    }
    let mut sheets = Vec::new();
    let mut before = None;
    for (year, sums) in &costed.proof.years {
        let mut tables = Vec::new();
        let figure = |of: ProofOf, flow: ProofFlow| format!("proof/{}/{year:04}/{}", spelled(of.name()), spelled(flow.name()));
        let start = before.map(|before: i32| {
            let head = words(format!("what {before} ended with"));
            vec![(head, words("").of(SheetName::new(SheetKind::List, format!("proof-{before:04}"))), sums.at_start.clone())]
        });
        tables.push(table(ProofFlow::AtStart, start.unwrap_or_default(), &sums.at_start, figure)?);
        for (flow, vector) in &sums.flows {
            let rows = moved.remove(&(*year, *flow)).unwrap_or_default();
            let rows = rows.into_iter().map(|(of, (vector, place))| row_of(index, of, vector, place)).collect();
            tables.push(table(ProofFlow::Flow(*flow), rows, vector, figure)?);
        }
        tables.push(table(ProofFlow::AtEnd, at_end(index, *year)?, &sums.at_end, figure)?);
        sheets.push(sheet(format!("proof-{year:04}"), format!("The proof of {year}, flow by flow"), tables));
        before = Some(*year);
    }
    if !sheets.is_empty() {
        sheets.push(of_whole_book(index)?);
    }
    Some(sheets)
}

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

fn sheet(name: String, title: String, mut tables: Vec<SheetTable>) -> Sheet {
    tables.retain(|table| table.columns.len() > 1);
    let says = vec![words("What came in, what became of it, and what is left: each to the last of six digits.")];
    Sheet { name: SheetName::new(SheetKind::List, name), word: "list", title, says, tables, trace: None }
}

/// Over all: a row a year.
fn of_whole_book(index: &SheetIndex<'_>) -> Option<Sheet> {
    let proof = &index.books.costed.proof;
    let all = proof.over_all()?;
    let figure = |of: ProofOf, flow: ProofFlow| format!("proof/{}/{}", spelled(of.name()), spelled(flow.name()));
    let of_year = |year: i32, vector: &CostVector| {
        let lead = words("").of(SheetName::new(SheetKind::List, format!("proof-{year:04}")));
        (words(format!("{year:04}")), lead, vector.clone())
    };
    let ends = |years: Option<(&i32, &YearProof)>, of: fn(&YearProof) -> &CostVector| -> Vec<Row> {
        years.into_iter().map(|(year, sums)| of_year(*year, of(sums))).collect()
    };
    let first = ends(proof.years.first_key_value(), |sums| &sums.at_start);
    let mut tables = vec![table(ProofFlow::AtStart, first, &all.at_start, figure)?];
    for (flow, vector) in &all.flows {
        let rows = proof.years.iter().filter_map(|(year, sums)| Some(of_year(*year, sums.flows.get(flow)?))).collect();
        tables.push(table(ProofFlow::Flow(*flow), rows, vector, figure)?);
    }
    let last = ends(proof.years.last_key_value(), |sums| &sums.at_end);
    tables.push(table(ProofFlow::AtEnd, last, &all.at_end, figure)?);
    Some(sheet("proof-whole".to_owned(), "The proof of the whole book, flow by flow".to_owned(), tables))
}

/// A flow's table; a component of which there is none has no column.
fn table(flow: ProofFlow, rows: Vec<Row>, all: &CostVector, figure: impl Fn(ProofOf, ProofFlow) -> String) -> Option<SheetTable> {
    let mut table = SheetTable::new(flow.name(), title_of(flow), &[("What", Words)]);
    let sums = |vector: &CostVector| ProofOf::ALL.iter().map(|of| of.in_vector(vector)).collect::<Option<Vec<Fixed6>>>();
    let all = sums(all)?;
    let written = rows.iter().map(|(_, _, vector)| sums(vector)).collect::<Option<Vec<_>>>()?;
    let has_some = |at: usize| written.iter().chain([&all]).any(|row| row.get(at).is_some_and(|sum| !sum.is_zero()));
    let kept: Vec<(usize, ProofOf)> = ProofOf::ALL.into_iter().enumerate().filter(|(at, _)| has_some(*at)).collect();
    table.columns.extend(kept.iter().map(|(_, of)| SheetColumn { heading: heading_of(*of), kind: Money }));
    let cell = |sums: &[Fixed6], at: usize| {
        let sum = sums.get(at).copied().unwrap_or_default();
        (SheetCell::new(Money, sum.to_fixed_text(2, 6)), sum.is_zero())
    };
    for ((head, lead, _), sums) in rows.into_iter().zip(&written) {
        if sums.iter().all(|sum| sum.is_zero()) {
            continue;
        }
        let mut cells = vec![head];
        cells.extend(kept.iter().map(|(at, _)| match cell(sums, *at) {
            (cell, true) => cell,
            (cell, false) => SheetCell { kind: Money, text: cell.text, ..lead.clone() },
        }));
        table.row(cells);
    }
    let mut cells = vec![words("Together")];
    cells.extend(kept.iter().map(|(at, of)| cell(&all, *at).0.by_table(flow.name()).home_of(figure(*of, flow))));
    table.total = Some(SheetRow { day: String::new(), cells });
    Some(table)
}

fn row_of(index: &SheetIndex<'_>, of: RowOf, vector: CostVector, place: Option<SheetPlace>) -> Row {
    let book = index.books.book;
    match of {
        RowOf::Thing(thing) => {
            let sheet = index.thing_name(thing);
            (words(book.thing(thing).named.title.as_str()), words("").of(sheet), vector)
        }
        RowOf::Batch(batch) => {
            (words(format!("batch {}", book.batch(batch).name)), words("").of(index.batch_name(batch)), vector)
        }
        RowOf::Event(_) => (words("on no thing or batch"), words("").at(place), vector),
    }
}

/// What is there at the end of a year: things on the shelf, the bench, licences, and what was issued without a record.
fn at_end(index: &SheetIndex<'_>, year: i32) -> Option<Vec<Row>> {
    let costed = index.books.costed;
    let Some(end) = costed.end_of(year).filter(|end| end.year == year) else { return Some(Vec::new()) };
    let list = |name: &str| words("").of(SheetName::new(SheetKind::List, name));
    let mut rows = Vec::new();
    let kinds = [ThingKind::Material, ThingKind::Wear, ThingKind::Packing, ThingKind::Product];
    for (kind, whole) in kinds.into_iter().zip(&end.shelf) {
        let mut things: BTreeMap<ThingId, CostVector> = BTreeMap::new();
        let mut all = CostVector::default();
        for lot in costed.stock_at_end_of(year).iter().filter(|lot| index.books.book.thing(lot.thing).kind == kind) {
            things.entry(lot.thing).or_default().add(&lot.vector)?;
            all.add(&lot.vector)?;
        }
        let same = |of: ProofOf| Some(of.in_vector(&all)? == of.in_vector(whole)?);
        if ProofOf::ALL.into_iter().map(same).collect::<Option<Vec<_>>>()?.into_iter().all(|same| same) {
            rows.extend(things.into_iter().map(|(thing, vector)| row_of(index, RowOf::Thing(thing), vector, None)));
        } else {
            let (said, to) = match kind {
                ThingKind::Product => ("products on the shelf", "products"),
                _ => ("materials, wear and packing on the shelf", "materials"),
            };
            rows.push((words(said), list(to), whole.clone()));
        }
    }
    rows.push((words("on the bench"), list("batches"), end.bench.clone()));
    rows.push((words("licences for pieces that are not made yet"), list("products"), end.licences.clone()));
    rows.push((words("issued without a record").beside("less than nothing"), list("materials"), end.unrecorded.clone()));
    Some(rows)
}

fn spelled(name: &str) -> String {
    name.replace('_', "-")
}

fn heading_of(of: ProofOf) -> &'static str {
    use crate::costing::Component;
    match of {
        ProofOf::Component(Component::Materials) => "Materials",
        ProofOf::Component(Component::Freight) => "Freight",
        ProofOf::Component(Component::Wear) => "Wear",
        ProofOf::Component(Component::BoughtInTime) => "Bought-in time",
        ProofOf::Component(Component::Royalty) => "Royalty",
        ProofOf::Component(Component::OwnTime) => "Own time",
        ProofOf::Component(Component::Overhead) => "Overhead",
        ProofOf::OwnMinutes => "Own minutes",
        ProofOf::BoughtInMinutes => "Bought-in minutes",
    }
}

fn title_of(flow: ProofFlow) -> String {
    let name = flow.name().replace('_', " ");
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
