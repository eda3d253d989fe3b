//! A sheet: all that the book says of one thing, batch, order, channel or line, as a sentence and tables.
//!
//! Sheets are the same in shape, so that one template shows them all. A number carries the name of the figure that it is, where it has one, and a name
//! carries the sheet that it stands for.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::units::checked_add_exact;

/// What a sheet is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SheetKind {
    /// A product or a material.
    Thing,
    /// A batch.
    Batch,
    /// A sale.
    Order,
    /// A channel.
    Channel,
    /// A product line.
    Line,
    /// What a product must fetch.
    Price,
    /// A place away from home.
    Place,
    /// A list of others: all products, all orders.
    List,
}

/// Which sheet: its kind, and its name as figures have it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct SheetName {
    /// What it is about.
    pub kind: SheetKind,
    /// The name; of a sale without one, its day.
    pub name: String,
}

impl SheetName {
    /// A sheet's name.
    pub fn new(kind: SheetKind, name: impl Into<String>) -> Self {
        Self { kind, name: name.into() }
    }
}

/// How the text of a cell or of a word is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CellKind {
    /// Words.
    Words,
    /// A day, `2026-03-09`.
    Day,
    /// Money in the currency's digits.
    Money,
    /// A cost per unit, two to six digits.
    Cost,
    /// A quantity in a unit.
    Quantity,
    /// Minutes.
    Minutes,
}

/// A line of the book.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct SheetPlace {
    /// Its file, below the book's folder.
    pub file: String,
    /// Its number, from 1.
    pub line: usize,
}

/// A cell of a table, or a word of a sentence.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetCell {
    /// How it is read.
    pub kind: CellKind,
    /// Its text; none where there is none, or nobody knows.
    pub text: Option<String>,
    /// The unit of a quantity; beside words, what is said smaller; where there is no text, why.
    pub unit: String,
    /// The figure that it is.
    pub figure: Option<String>,
    /// The sheet that it stands for.
    pub sheet: Option<SheetName>,
    /// The table that tells what it is made of, on that sheet or on its own.
    pub table: Option<&'static str>,
    /// The line of the book that says it.
    pub at: Option<SheetPlace>,
    /// The figure that is told here, to which others lead.
    pub home: Option<String>,
}

impl SheetCell {
    /// A cell.
    pub fn new(kind: CellKind, text: impl Into<String>) -> Self {
        Self { text: Some(text.into()), ..Self::unknown(kind) }
    }

    /// A cell in which nothing can stand, for a reason: `hours unknown`, `no price set`.
    pub fn without(kind: CellKind, why: impl Into<String>) -> Self {
        Self::unknown(kind).beside(why)
    }

    /// A cell of which nobody knows what stands there.
    pub fn unknown(kind: CellKind) -> Self {
        Self { kind, text: None, unit: String::new(), figure: None, sheet: None, table: None, at: None, home: None }
    }

    /// A quantity in its unit; pieces have none.
    pub fn quantity(text: impl Into<String>, unit: &str) -> Self {
        let unit = if unit == "ea" { String::new() } else { unit.to_owned() };
        Self { unit, ..Self::new(CellKind::Quantity, text) }
    }

    /// The same, as a figure of a name.
    #[must_use]
    pub fn figure(mut self, name: impl Into<String>) -> Self {
        self.figure = Some(name.into());
        self
    }

    /// The same, standing for a sheet.
    #[must_use]
    pub fn of(mut self, sheet: SheetName) -> Self {
        self.sheet = Some(sheet);
        self
    }

    /// The same, as what a table is made to tell.
    #[must_use]
    pub fn by_table(mut self, table: &'static str) -> Self {
        self.table = Some(table);
        self
    }

    /// The same, as what a line of the book says.
    #[must_use]
    pub fn at(mut self, place: Option<SheetPlace>) -> Self {
        self.at = place;
        self
    }

    /// The same, as the place at which a figure is told.
    #[must_use]
    pub fn home_of(mut self, figure: impl Into<String>) -> Self {
        self.home = Some(figure.into());
        self
    }

    /// The same, with something smaller beside it.
    #[must_use]
    pub fn beside(mut self, words: impl Into<String>) -> Self {
        self.unit = words.into();
        self
    }
}

/// A column.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetColumn {
    /// Its heading.
    pub heading: &'static str,
    /// How its cells are read.
    pub kind: CellKind,
}

/// A row: the first cell is its head.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetRow {
    /// Its day, by which a long table is parted.
    pub day: String,
    /// Its cells, one a column.
    pub cells: Vec<SheetCell>,
}

/// A table.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SheetTable {
    /// Its name among those of its sheet.
    pub id: &'static str,
    /// What it shows.
    pub title: String,
    /// A word more, said smaller; may be empty.
    pub note: &'static str,
    /// Its columns.
    pub columns: Vec<SheetColumn>,
    /// Its rows.
    pub rows: Vec<SheetRow>,
    /// Which of its rows are sums of those above them.
    pub sums: Vec<usize>,
    /// The row of sums, where the rows add up.
    pub total: Option<SheetRow>,
    /// What stands below it: terms, a line to sign on; may be none.
    pub below: Vec<String>,
}

impl SheetTable {
    /// A table without rows yet.
    pub fn new(id: &'static str, title: impl Into<String>, columns: &[(&'static str, CellKind)]) -> Self {
        let columns = columns.iter().map(|(heading, kind)| SheetColumn { heading, kind: *kind }).collect();
        Self { id, title: title.into(), note: "", columns, rows: Vec::new(), sums: Vec::new(), total: None, below: Vec::new() }
    }

    /// Leaves out a column that says of every row what the one before it says.
    #[must_use]
    pub fn without_repeating(mut self, column: usize) -> Self {
        let Some(before) = column.checked_sub(1) else { return self };
        let text = |row: &SheetRow, at: usize| row.cells.get(at).and_then(|cell| cell.text.clone());
        let rows = self.rows.iter().chain(&self.total);
        if column < self.columns.len() && rows.into_iter().all(|row| text(row, before) == text(row, column)) {
            self.columns.remove(column);
            self.rows.iter_mut().chain(&mut self.total).for_each(|row| {
                row.cells.remove(column);
            });
        }
        self
    }

    /// The sums of some of its rows, in the columns that have a sum in its last row: so that a long table folds. `None` where it has no such row, or
    /// a sum is too large.
    pub fn sum_of(&self, says: &str, rows: &[SheetRow]) -> Option<SheetRow> {
        let total = self.total.as_ref()?;
        let mut cells = Vec::with_capacity(total.cells.len());
        for (at, whole) in total.cells.iter().enumerate() {
            if matches!(whole.kind, CellKind::Words | CellKind::Day) {
                cells.push(SheetCell::new(CellKind::Words, if at == 0 { says } else { "" }));
                continue;
            }
            let mut sum = Some(Decimal::ZERO);
            for text in rows.iter().filter_map(|row| row.cells.get(at)).map(|cell| cell.text.as_deref()) {
                sum = match (sum, text) {
                    (Some(sum), Some(text)) => Some(checked_add_exact(sum, Decimal::from_str_exact(text).ok()?).ok()?),
                    _ => None,
                };
            }
            let text = sum.map(|sum| sum.to_string());
            cells.push(SheetCell { text, unit: whole.unit.clone(), ..SheetCell::unknown(whole.kind) });
        }
        Some(SheetRow { day: String::new(), cells })
    }

    /// Adds a row of no day.
    pub fn row(&mut self, cells: Vec<SheetCell>) {
        self.rows.push(SheetRow { day: String::new(), cells });
    }

    /// Adds a row of a day.
    pub fn row_on(&mut self, day: impl Into<String>, cells: Vec<SheetCell>) {
        self.rows.push(SheetRow { day: day.into(), cells });
    }
}

/// A sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Sheet {
    /// Which it is.
    pub name: SheetName,
    /// What kind of thing, in a word: `product`, `material`, `batch`.
    pub word: &'static str,
    /// Its title.
    pub title: String,
    /// The answer: words, and numbers among them.
    pub says: Vec<SheetCell>,
    /// Its tables; those without rows are left out.
    pub tables: Vec<SheetTable>,
    /// By what name `kerfbook trace` follows it, where it does.
    pub trace: Option<String>,
}
