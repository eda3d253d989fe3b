//! What is in one of a thing, lot by lot: a column for each part of its cost, each of which is a figure.

use super::sheet::{CellKind, SheetCell, SheetRow, SheetTable};
use crate::reports::CostParts;

use CellKind::{Minutes, Money, Words};

/// Makes the table; its last rows are all lots, and one piece, at which the figures are told.
#[must_use]
pub fn cost_parts_table(parts: &CostParts) -> SheetTable {
    let mut columns = vec![("Of what", Words)];
    columns.extend(parts.figures.iter().map(|figure| heading_of(figure)));
    let mut table = SheetTable::new("parts", "What is in it, lot by lot", &columns);
    table.note = "all of each lot, to the last digit; one is the sum over the pieces";
    let ones = parts.rows.len().saturating_sub(1);
    for (at, (says, figure, amounts)) in parts.rows.iter().enumerate() {
        let is_sum = at.saturating_add(1) >= ones;
        let cell = |(amount, part): (&Option<String>, &String)| {
            let (_, kind) = heading_of(part);
            let cell = SheetCell::new(kind, amount.as_deref().unwrap_or(if kind == Minutes { "0" } else { "0.00" }));
            if amount.is_none() {
                return cell;
            }
            let cell = match figure {
                Some(figure) => cell.figure(figure.as_str()),
                None => cell.by_table("parts"),
            };
            if at == ones { cell.home_of(part.as_str()) } else { cell }
        };
        let head = SheetCell::new(Words, says.as_str());
        let head = match figure {
            Some(figure) => head.figure(figure.as_str()),
            None => head,
        };
        let mut cells = vec![head];
        cells.extend(amounts.iter().zip(&parts.figures).map(cell));
        match at == ones {
            true => table.total = Some(SheetRow { day: String::new(), cells }),
            false => {
                if is_sum {
                    table.sums.push(table.rows.len());
                }
                table.row(cells);
            }
        }
    }
    table
}

fn heading_of(figure: &str) -> (&'static str, CellKind) {
    match figure.rsplit('/').next() {
        Some("materials") => ("Materials", Money),
        Some("wear") => ("Wear", Money),
        Some("bought-in-time") => ("Bought-in time", Money),
        Some("royalty") => ("Royalty", Money),
        Some("own-time") => ("Own time", Money),
        Some("minutes") => ("Your time", Minutes),
        _ => ("Overhead", Money),
    }
}
