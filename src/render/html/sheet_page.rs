//! Sheets as pages, with the derivations of the figures that are at home there; long tables and further derivations on pages of their own.

use minijinja::context;
use minijinja::value::{Serde, Value};

use super::addresses::table_page;
use super::derivation_months::Apart;
use super::derivation_rows::{ShownExcerpts, derivation_rows, folded};
use super::page_links::{PageLinks, link_value};
use super::templates::in_style;
use super::{PageError, Pages};
use crate::render::charts;
use crate::render::number_format::{Shown, grouped, hours, money, rounded};
use crate::render::text::typed;
use crate::reports::{
    CellKind, Excerpts, ProductCost, ReportHead, Sheet, SheetCell, SheetKind, SheetName, SheetRow, SheetTable, WhyReport,
};

/// Rows that a table has on its sheet's page; a longer one is parted by months.
const MOST_ROWS: usize = 150;
/// Rows that a page of a long table has.
const ROWS_A_PAGE: usize = 500;

/// A page and its file.
pub type MadePage = (String, String);

/// What stands on a sheet's page beside the sheet.
pub struct SheetPage<'r> {
    /// The head of the site's reports.
    pub head: &'r ReportHead,
    /// The sheet.
    pub sheet: &'r Sheet,
    /// Its picture, where there is one.
    pub picture: Value,
    /// The derivations of the figures at home there.
    pub told: Vec<WhyReport>,
    /// A derivation of the very rows of one of these, and the figure of that: it is told beside it.
    pub beside: Option<(String, WhyReport)>,
    /// The book's text.
    pub excerpts: &'r Excerpts<'r>,
}

impl Pages {
    /// A sheet as its pages: its own, and those of long tables.
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_sheet(&self, page: SheetPage<'_>) -> Result<Vec<MadePage>, PageError> {
        let Some(file) = self.file_of(page.sheet) else { return Ok(Vec::new()) };
        let links = self.links_of(&file);
        let mut told: Vec<WhyReport> = page.told.into_iter().map(|one| folded(one, &links)).collect();
        let beside = page.beside.map(|(figure, one)| (figure, folded(one, &links)));
        let apart = Apart::of(&mut told, &file);
        let short = page.sheet.tables.iter().filter(|table| table.rows.len() <= MOST_ROWS).flat_map(|table| &table.rows);
        let rows = short.chain(page.sheet.tables.iter().filter_map(|table| table.total.as_ref()));
        let cells = rows.flat_map(|row| &row.cells).chain(&page.sheet.says);
        let places = cells.filter_map(|cell| cell.at.as_ref());
        let steps = told.iter().flat_map(|one| &one.steps);
        let excerpts = match page.sheet.name.kind {
            // A sale is read as a whole: its postage, fee and discount say as much as its goods. So are a channel's terms.
            SheetKind::Order | SheetKind::Price => page.excerpts.entries_of_steps(steps, places),
            _ => page.excerpts.of_steps(steps, places),
        };
        let shown = ShownExcerpts::of(&excerpts);
        let mut made = self.render_months(&apart, &page.sheet.title, &file, page.head, page.excerpts)?;
        let mut tables = Vec::with_capacity(page.sheet.tables.len());
        for table in &page.sheet.tables {
            if table.rows.len() <= MOST_ROWS {
                tables.push(table_value(table, &table.rows, (&links, &shown), Vec::new()));
                continue;
            }
            let (mut parts, mut sums) = (Vec::new(), Vec::new());
            for (part, title, rows) in parts_of(table) {
                let of_part = table_page(&file, table.id, &part);
                let part_links = self.links_of(&of_part);
                let places = rows.iter().flat_map(|row| &row.cells).filter_map(|cell| cell.at.as_ref());
                let shown = ShownExcerpts::of(&page.excerpts.of_steps([], places));
                let tables = vec![table_value(table, rows, (&part_links, &shown), Vec::new())];
                let answer =
                    vec![words_value(&format!("{}, {title}: {} of {} rows.", table.title, rows.len(), table.rows.len()))];
                let above =
                    part_links.file(&file).map(|link| context! { link => Value::from(link), text => page.sheet.title.as_str() });
                let own = context! { answer, tables, above, excerpts => shown.values(), sheet => name_value(page.sheet) };
                made.push((of_part.clone(), self.site_page("sheet.html", &of_part, page.head, &page.sheet.title, own)?));
                let link = link_value(links.file(&of_part));
                if let Some(sum) = table.sum_of(&title, rows) {
                    let cells =
                        sum.cells.iter().map(|cell| context! { link => link.clone(), ..cell_value(cell, (&links, &shown)) });
                    sums.push(cells.collect::<Vec<_>>());
                }
                parts.push(context! { title, count => rows.len(), link => link_value(links.file(&of_part)) });
            }
            let whole = table_value(table, &[], (&links, &shown), Vec::new());
            // With sums a month is a row; else it is only pointed to.
            tables.push(match sums.len() == parts.len() {
                true => context! { rows => sums, ..whole },
                false => context! { parts, ..whole },
            });
        }
        let own = context! {
            answer => says_value(&page.sheet.says, &page.head.currency, (&links, &shown)),
            picture => page.picture.clone(),
            tables,
            above => Self::list_above(&page.sheet.name, page.sheet.word, &links),
            sheet => name_value(page.sheet),
            ..derivations((&told, beside.as_ref()), &links, &shown, &apart)
        };
        made.push((file.clone(), self.site_page("sheet.html", &file, page.head, &page.sheet.title, own)?));
        Ok(made)
    }

    /// Pages of derivations: of figures that have no sheet, or more than fit on theirs; the page itself, and those of its months.
    ///
    /// # Errors
    /// Where a template asks for what there is not.
    pub fn render_why(
        &self,
        file: &str,
        title: &str,
        head: &ReportHead,
        told: Vec<WhyReport>,
        excerpts: &Excerpts<'_>,
    ) -> Result<Vec<MadePage>, PageError> {
        let links = self.links_of(file);
        let mut told: Vec<WhyReport> = told.into_iter().map(|one| folded(one, &links)).collect();
        let apart = Apart::of(&mut told, file);
        let shown = ShownExcerpts::of(&excerpts.of_steps(told.iter().flat_map(|one| &one.steps), []));
        let own = context! { answer => Vec::<Value>::new(), ..derivations((&told, None), &links, &shown, &apart) };
        let mut made = self.render_months(&apart, title, file, head, excerpts)?;
        made.push((file.to_owned(), self.site_page("why.html", file, head, title, own)?));
        Ok(made)
    }

    fn list_above(name: &SheetName, word: &str, links: &PageLinks) -> Option<Value> {
        let question = |file: &str, text: &str| links.file(file).map(|link| context! { link => Value::from(link), text });
        let (list, text) = match (name.kind, word) {
            (SheetKind::List, _) if name.name.starts_with("pays-") => return question("pays.html", "What pays?"),
            (SheetKind::List, _) if name.name.starts_with("proof-") => return question("proof.html", "The proof"),
            (SheetKind::Thing, "product") => ("products", "All products"),
            (SheetKind::Thing, _) => ("materials", "All materials"),
            (SheetKind::Batch, _) => ("batches", "All batches"),
            (SheetKind::Order, _) => ("orders", "All orders"),
            (SheetKind::Channel | SheetKind::Line, _) => ("channels", "All channels and lines"),
            (SheetKind::Price, _) => ("prices", "All prices"),
            (SheetKind::Place, _) => ("places", "All places"),
            (SheetKind::List, _) => return None,
        };
        // A list of nothing has no page.
        links.sheet(&SheetName::new(SheetKind::List, list)).map(|link| context! { link => Value::from(link), text })
    }
}

/// The picture of what a product costs, batch by batch; nothing where there is no product.
#[must_use]
pub fn picture_of_product(product: Option<&ProductCost>) -> Value {
    product.and_then(|product| charts::draw_cost_by_batch(product, "picture")).unwrap_or_else(|| Value::from(()))
}

fn name_value(sheet: &Sheet) -> Value {
    let trace = sheet.trace.as_deref().map_or_else(String::new, typed);
    context! { trace, name => sheet.name.name.as_str(), word => sheet.word, title => sheet.title.as_str() }
}

/// The derivations of a page, and the one that is told beside another.
type Told<'t> = (&'t [WhyReport], Option<&'t (String, WhyReport)>);

fn derivations((told, beside): Told<'_>, links: &PageLinks, shown: &ShownExcerpts, apart: &Apart) -> Value {
    let rows = told.iter().zip(&apart.files).map(|(one, months)| {
        let beside = beside.filter(|(figure, _)| *figure == one.figure).map(|(_, beside)| beside);
        derivation_rows(one, beside, links, shown, months)
    });
    let rows: Vec<Value> = rows.collect();
    context! { derivations => rows, excerpts => shown.values() }
}

/// A long table in parts: a month each, and a long month in several.
fn parts_of(table: &SheetTable) -> Vec<(String, String, &[SheetRow])> {
    let month = |row: &SheetRow| row.day.get(..7).unwrap_or("").to_owned();
    let mut parts = Vec::new();
    for of_month in table.rows.chunk_by(|one, next| month(one) == month(next)) {
        let name = of_month.first().map(month).unwrap_or_default();
        for (number, rows) in (1_usize..).zip(of_month.chunks(ROWS_A_PAGE)) {
            let (part, title) = match (name.is_empty(), number) {
                (true, number) => (number.to_string(), format!("part {number}")),
                (false, 1) => (name.clone(), name.clone()),
                (false, number) => (format!("{name}-{number}"), format!("{name}, part {number}")),
            };
            parts.push((part, title, rows));
        }
    }
    parts
}

/// The links of a page and the lines of the book that it shows.
type Leads<'p> = (&'p PageLinks, &'p ShownExcerpts);

fn table_value(table: &SheetTable, rows: &[SheetRow], leads: Leads<'_>, parts: Vec<Value>) -> Value {
    let cells = |row: &SheetRow| -> Vec<Value> { row.cells.iter().map(|cell| cell_value(cell, leads)).collect() };
    let columns = table.columns.iter().map(|one| {
        context! { heading => one.heading, quoted => in_style(one.heading), kind => Value::from(Serde(one.kind)) }
    });
    context! {
        id => table.id,
        title => table.title.as_str(),
        note => table.note,
        columns => columns.collect::<Vec<_>>(),
        rows => rows.iter().map(cells).collect::<Vec<_>>(),
        sums => table.sums.clone(),
        total => table.total.as_ref().map(cells),
        parts,
        below => table.below.clone(),
    }
}

fn cell_value(cell: &SheetCell, leads: Leads<'_>) -> Value {
    context! {
        kind => Value::from(Serde(cell.kind)),
        text => cell.text.as_deref(),
        unit => cell.unit.as_str(),
        link => lead_of(cell, leads),
        id => cell.home.as_deref().map_or_else(String::new, |figure| leads.0.anchor(figure)),
    }
}

/// Where a cell leads: to its figure, its sheet, or the line of the book that says it.
fn lead_of(cell: &SheetCell, (links, shown): Leads<'_>) -> Value {
    let line = || shown.line(&cell.at.as_ref()?.file, cell.at.as_ref()?.line);
    links.cell(cell).map(Value::from).or_else(line).unwrap_or_else(|| Value::from(""))
}

fn words_value(text: &str) -> Value {
    context! { text, is_figure => false, link => "" }
}

/// The sentence of a sheet: words, and numbers as people read them.
fn says_value(says: &[SheetCell], currency: &str, leads: Leads<'_>) -> Vec<Value> {
    says.iter()
        .map(|cell| {
            let plain = cell.text.as_deref().unwrap_or("");
            let text = match cell.kind {
                CellKind::Words | CellKind::Day => plain.to_owned(),
                CellKind::Money => money(plain, currency, Shown::Page),
                CellKind::Cost => money(&rounded(plain), currency, Shown::Page),
                CellKind::Minutes => hours(plain, Shown::Page),
                CellKind::Quantity if cell.unit.is_empty() => grouped(plain, Shown::Page),
                CellKind::Quantity => format!("{}\u{a0}{}", grouped(plain, Shown::Page), cell.unit),
            };
            let is_figure = !matches!(cell.kind, CellKind::Words | CellKind::Day);
            context! { text, is_figure, link => lead_of(cell, leads) }
        })
        .collect()
}
