//! The sheets of all sales: of the site's time and of each year what every product, line and channel brought to the whole, and month by month what came in
//! and what it cost.
//!
//! They are the homes of the figures `pays/all/…` and `pays/month/…`; their rows add up to what the report prints.

use std::collections::BTreeMap;

use super::sales_index::SalesIndex;
use super::sales_table::{Printed, sales_by_group, sales_by_month};
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetTable};
use super::sheet_index::SheetIndex;
use super::trade_sheet::{MarginRow, margins_of};
use crate::reports::pays_part::PaysPart;
use crate::reports::report_pays::Margins;
use crate::reports::{PaysMonth, PaysReport, PaysTotals};

use CellKind::{Money, Words};

/// The tables of a year's months.
const MONTHS: [&str; 12] = ["m01", "m02", "m03", "m04", "m05", "m06", "m07", "m08", "m09", "m10", "m11", "m12"];

/// The sheet on which a figure of all sales is told, by its name: those of the site's time, of years, and of months. None of another figure.
#[must_use]
pub fn sheet_of_sales_figure(figure: &str, when: Option<&str>) -> Option<SheetName> {
    let rest = figure.strip_prefix("pays/all/").map(|rest| rest.split('/').collect::<Vec<_>>());
    let list = |name: String| Some(SheetName::new(SheetKind::List, name));
    if let Some(month) = figure.strip_prefix("pays/month/") {
        return when.and_then(|_| list(format!("pays-months-{}", month.split('-').next()?)));
    }
    match rest?.as_slice() {
        [_] if when == Some("") => list("pays-all".to_owned()),
        [year, _] if when.is_some_and(|when| when.trim_start_matches('/') == *year) => list("pays-all".to_owned()),
        [year, _] if when == Some("") => list(format!("pays-all-{year}")),
        _ => None,
    }
}

/// Makes the sheets. `when` is the end of the names of margins of the site's time, `years` are those with a tax form. `None` where a figure is too large
/// to be carried.
#[must_use]
pub fn sheets_of_sales(
    index: &SheetIndex<'_>,
    sales: &SalesIndex<'_>,
    pays: &PaysReport,
    when: Option<&str>,
) -> Option<Vec<Sheet>> {
    let all = sales.all();
    if all.is_empty() {
        return Some(Vec::new());
    }
    let mut by_year: BTreeMap<i32, Vec<&PaysPart<'_>>> = BTreeMap::new();
    for part in &all {
        by_year.entry(chrono::Datelike::year(&part.day)).or_default().push(part);
    }
    let mut sheets = vec![all_sales(index, "pays-all".to_owned(), "All sales".to_owned(), (&all, &pays.totals), when)?];
    if when == Some("") {
        for (year, parts) in &by_year {
            let mut margins = Margins::default();
            for part in parts {
                margins.add(index.books.book, part)?;
            }
            let totals = margins.rows(index.books.book)?.totals;
            let of_year = format!("/{year:04}");
            let (name, title) = (format!("pays-all-{year:04}"), format!("All sales of {year}"));
            sheets.push(all_sales(index, name, title, (parts, &totals), Some(&of_year))?);
        }
    }
    let mut tables: BTreeMap<i32, Vec<SheetTable>> = BTreeMap::new();
    for ((year, month), parts) in sales.months() {
        let name = format!("{year:04}-{month:02}");
        let (Some(row), Some(id)) = (
            pays.months.iter().find(|row| row.month == name),
            usize::try_from(month).ok().and_then(|month| MONTHS.get(month.checked_sub(1)?)),
        ) else {
            continue;
        };
        tables.entry(year).or_default().push(of_month(index, id, row, &parts, when)?);
    }
    for (year, tables) in tables {
        sheets.push(Sheet {
            name: SheetName::new(SheetKind::List, format!("pays-months-{year:04}")),
            word: "list",
            title: format!("Income and cost of {year}, month by month"),
            says: vec![SheetCell::new(
                Words,
                format!("What sales of {year} brought in, and what they cost to make and to sell."),
            )],
            tables,
            trace: None,
        });
    }
    Some(sheets)
}

fn all_sales(
    index: &SheetIndex<'_>,
    name: String,
    title: String,
    (parts, totals): (&[&PaysPart<'_>], &PaysTotals),
    when: Option<&str>,
) -> Option<Sheet> {
    let row = MarginRow::of_totals(totals);
    let printed = Printed { units: &totals.units, money: row.money };
    let by_group = sales_by_group(index, super::sales_table::SALES, "By product, line and channel".to_owned(), parts, &printed)?;
    let figure = |cell: SheetCell, column: &str| match when {
        Some(when) => cell.figure(format!("pays/all{when}/{column}")),
        None => cell,
    };
    let words = |text: &str| SheetCell::new(Words, text);
    let says = vec![
        words(&format!("{title} left ")),
        figure(SheetCell::new(Money, totals.sums.paid_margin.as_str()), "paid-margin"),
        words(" of "),
        figure(SheetCell::new(Money, totals.sums.revenue.as_str()), "revenue"),
        words(" after what was paid."),
    ];
    let tables = vec![margins_of(&row, "all", when), by_group];
    Some(Sheet { name: SheetName::new(SheetKind::List, name), word: "list", title, says, tables, trace: None })
}

fn of_month(
    index: &SheetIndex<'_>,
    id: &'static str,
    row: &PaysMonth,
    parts: &[&PaysPart<'_>],
    when: Option<&str>,
) -> Option<SheetTable> {
    let mut table = sales_by_month(index, id, row, parts)?;
    if when.is_some()
        && let Some(total) = &mut table.total
        && let [_, income, cost] = total.cells.as_mut_slice()
    {
        income.home = Some(format!("pays/month/{}/income", row.month));
        cost.home = Some(format!("pays/month/{}/cost", row.month));
    }
    Some(table)
}
