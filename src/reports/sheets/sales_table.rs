//! Tables of sales: a row an order, or what stands on a group itself, a column what margins are made of. The rows add up to the last row, which is what the
//! report of what pays says.
//!
//! Of all sales a row is a product, or a line or channel with what stands on none of its products. Columns of nothing are left out.

use rust_decimal::Decimal;

use super::plain_name;
use super::sheet::{CellKind, SheetCell, SheetKind, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use super::thing_sheet::HOURS;
use crate::costing::{Account, Posting};
use crate::reports::margin::Margin;
use crate::reports::pays_part::{PaysPart, PaysWhat};
use crate::reports::pays_sums::MONEY_COLUMNS;
use crate::reports::period::{column_under, minutes_text, money_text, quantity_text};
use crate::reports::report_pays::{Margins, money_of};
use crate::reports::{PaysMonth, PaysOf};
use crate::units::Fixed6;

use CellKind::{Day, Minutes, Money, Quantity, Words};

/// The table of sales of each sheet of a group.
pub(super) const SALES: &str = "sales";

/// The columns of money: heading, and the figure of an order that has it.
const HEADINGS: [(&str, &str); MONEY_COLUMNS] = [
    ("Revenue", "revenue"),
    ("Fees and shares", "costs-of-selling"),
    ("Postage", "costs-of-selling"),
    ("Packing", "costs-of-selling"),
    ("Own expenses", "margin"),
    ("Paid cost", "cost-of-goods"),
    ("Paid margin", "margin"),
    ("Own time", "cost-of-goods"),
    ("Overhead", "cost-of-goods"),
    ("Full margin", "margin"),
];

/// What a row stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum RowOf {
    Order(u32),
    Group(PaysOf),
    /// A part of no order, by its place among the parts.
    Part(usize),
}

/// What the last row says, as the report prints it: money in the order of the columns, and how many were sold.
pub(super) struct Printed<'p> {
    pub(super) units: &'p str,
    pub(super) money: [&'p str; MONEY_COLUMNS],
}

/// The sales of a group: a row an order. `None` where a figure is too large to be carried.
pub(super) fn sales_of(index: &SheetIndex<'_>, of: PaysOf, parts: &[&PaysPart<'_>], printed: &Printed<'_>) -> Option<SheetTable> {
    let key = |at: usize, part: &PaysPart<'_>| part.order().map_or(RowOf::Part(at), RowOf::Order);
    let table = SheetTable::new(SALES, "Its sales", &[("What", Words), ("Day", Day), ("Sold", Quantity)]);
    table_of(index, Some(of), table, rows_of(index, parts, key)?, printed)
}

/// All sales: a row a product, a line or a channel.
pub(super) fn sales_by_group(
    index: &SheetIndex<'_>,
    id: &'static str,
    title: String,
    parts: &[&PaysPart<'_>],
    printed: &Printed<'_>,
) -> Option<SheetTable> {
    let table = SheetTable::new(id, title, &[("Sales of", Words), ("Day", Day), ("Sold", Quantity)]);
    let mut table = table_of(index, None, table, by_group(index, parts)?, printed)?;
    // Several days are in each row.
    table.columns.remove(1);
    for row in table.rows.iter_mut().chain(&mut table.total) {
        row.cells.remove(1);
        row.day.clear();
    }
    Some(table)
}

/// What sales of a month brought in, and what they cost: a row a product, a line or a channel.
pub(super) fn sales_by_month(
    index: &SheetIndex<'_>,
    id: &'static str,
    month: &PaysMonth,
    parts: &[&PaysPart<'_>],
) -> Option<SheetTable> {
    let book = index.books.book;
    let mut table = SheetTable::new(id, month.month.as_str(), &[("Sales of", Words), ("Income", Money), ("Cost", Money)]);
    let rows = by_group(index, parts)?;
    let mut sums = [Vec::with_capacity(rows.len()), Vec::with_capacity(rows.len())];
    for row in &rows {
        let [revenue, fees, postage, packing, direct, paid_cost, ..] = money_of(row.margins.margin(None)?)?;
        sums[0].push(revenue);
        sums[1].push(Fixed6::checked_sum([fees, postage, packing, direct, paid_cost])?);
    }
    let income = column_under(book, &sums[0], read(&month.revenue)?);
    let cost = column_under(book, &sums[1], read(&month.cost)?);
    for ((row, income), cost) in rows.iter().zip(&income).zip(&cost) {
        let (head, lead) = head_of(index, None, row)?;
        let cell = |sum: &Fixed6| lead.to(SheetCell::new(Money, money_text(book, *sum)), "", sum.is_zero());
        table.row(vec![head, cell(income), cell(cost)]);
    }
    let all = |sums: Vec<Fixed6>| Some(SheetCell::new(Money, money_text(book, Fixed6::checked_sum(sums)?)).by_table(id));
    let cells = vec![SheetCell::new(Words, "Together"), all(income)?, all(cost)?];
    table.total = Some(SheetRow { day: String::new(), cells });
    Some(table)
}

/// The parts by product, and those on none by line and channel.
fn by_group<'p, 'a>(index: &SheetIndex<'_>, parts: &[&'p PaysPart<'a>]) -> Option<Vec<Row<'p, 'a>>> {
    let key = |at: usize, part: &PaysPart<'_>| {
        let product = part.groups.iter().find(|group| matches!(group, PaysOf::Product(_)));
        product.or_else(|| part.groups.first()).map_or(RowOf::Part(at), |group| RowOf::Group(*group))
    };
    let mut rows = rows_of(index, parts, key)?;
    rows.sort_by_key(|row| match row.of {
        RowOf::Group(of @ PaysOf::Product(_)) => (0, Some(of)),
        RowOf::Group(of) => (1, Some(of)),
        _ => (2, None),
    });
    Some(rows)
}

/// A row while it is added up.
struct Row<'p, 'a> {
    of: RowOf,
    first: &'p PaysPart<'a>,
    margins: Margins,
}

/// The parts as rows, in the order in which they come first.
fn rows_of<'p, 'a>(
    index: &SheetIndex<'_>,
    parts: &[&'p PaysPart<'a>],
    key: impl Fn(usize, &PaysPart<'_>) -> RowOf,
) -> Option<Vec<Row<'p, 'a>>> {
    let mut at_row = rustc_hash::FxHashMap::default();
    let mut rows: Vec<Row<'p, 'a>> = Vec::new();
    for (at, part) in parts.iter().enumerate() {
        let row_of = key(at, part);
        let row = *at_row.entry(row_of).or_insert(rows.len());
        if row == rows.len() {
            rows.push(Row { of: row_of, first: part, margins: Margins::default() });
        }
        rows.get_mut(row)?.margins.add(index.books.book, part)?;
    }
    Some(rows)
}

fn table_of(
    index: &SheetIndex<'_>,
    of: Option<PaysOf>,
    mut table: SheetTable,
    rows: Vec<Row<'_, '_>>,
    printed: &Printed<'_>,
) -> Option<SheetTable> {
    let book = index.books.book;
    let none = Margin::default();
    let margins: Vec<&Margin> = rows.iter().map(|row| row.margins.margin(of).unwrap_or(&none)).collect();
    let money = margins.iter().map(|margin| money_of(margin)).collect::<Option<Vec<_>>>()?;
    let minutes = margins.iter().map(|margin| margin.own_minutes()).collect::<Option<Vec<_>>>()?;
    let mut columns: Vec<(Vec<String>, String)> = Vec::with_capacity(MONEY_COLUMNS);
    for at in 0..MONEY_COLUMNS {
        let sums: Vec<Fixed6> = money.iter().filter_map(|row| row.get(at).copied()).collect();
        let shown = match read(printed.money.get(at)?) {
            Some(total) => column_under(book, &sums, total),
            None => crate::reports::period::column(book, &sums),
        };
        let all = Fixed6::checked_sum(shown.iter().copied())?;
        columns.push((shown.into_iter().map(|sum| money_text(book, sum)).collect(), money_text(book, all)));
    }
    let unit = match of {
        Some(PaysOf::Product(thing)) => book.thing(thing).unit.as_str(),
        _ => "ea",
    };
    let keeps: Vec<bool> = money_columns(&money);
    for (at, (heading, _)) in HEADINGS.iter().enumerate() {
        if keeps.get(at).copied().unwrap_or_default() {
            table.columns.push(super::sheet::SheetColumn { heading, kind: Money });
        }
    }
    table.columns.push(super::sheet::SheetColumn { heading: "Your time", kind: Minutes });
    for (at, row) in rows.iter().enumerate() {
        let (head, lead) = head_of(index, of, row)?;
        let day = row.first.day.to_string();
        let units = margins.get(at)?.units;
        let units = lead.to(SheetCell::quantity(quantity_text(units), unit), "cost-of-goods", units.is_zero());
        let mut cells = vec![head, SheetCell::new(Day, day.as_str()), units];
        for (column, ((texts, _), (_, part))) in columns.iter().zip(HEADINGS).enumerate() {
            if keeps.get(column).copied().unwrap_or_default() {
                let text = texts.get(at)?;
                cells.push(lead.to(SheetCell::new(Money, text.as_str()), part, is_nothing(text)));
            }
        }
        let time =
            minutes.get(at)?.map_or_else(|| SheetCell::without(Minutes, HOURS), |sum| SheetCell::new(Minutes, minutes_text(sum)));
        let is_none = minutes.get(at)?.is_some_and(Fixed6::is_zero);
        cells.push(lead.to(time, "cost-of-goods", is_none));
        table.row_on(day, cells);
    }
    let here = |cell: SheetCell| cell.by_table(table.id);
    let mut cells =
        vec![SheetCell::new(Words, "Together"), SheetCell::new(Words, ""), here(SheetCell::quantity(printed.units, unit))];
    for (at, (_, all)) in columns.into_iter().enumerate() {
        if keeps.get(at).copied().unwrap_or_default() {
            cells.push(here(SheetCell::new(Money, all)));
        }
    }
    let time: Option<Vec<Fixed6>> = minutes.into_iter().collect();
    cells.push(here(match time {
        Some(minutes) => SheetCell::new(Minutes, minutes_text(Fixed6::checked_sum(minutes)?)),
        None => SheetCell::without(Minutes, HOURS),
    }));
    table.total = Some(SheetRow { day: String::new(), cells });
    Some(table)
}

/// Which columns of money have anything; the margins always.
fn money_columns(money: &[[Fixed6; MONEY_COLUMNS]]) -> Vec<bool> {
    let always = ["Revenue", "Paid margin", "Full margin"];
    let has_some = |at: usize| money.iter().any(|row| row.get(at).is_some_and(|sum| !sum.is_zero()));
    HEADINGS.iter().enumerate().map(|(at, (heading, _))| always.contains(heading) || has_some(at)).collect()
}

/// Where the numbers of a row lead.
enum Lead {
    Order(String),
    Group(SheetName),
    Place(Option<super::sheet::SheetPlace>),
}

impl Lead {
    fn to(&self, cell: SheetCell, part: &str, is_nothing: bool) -> SheetCell {
        match self {
            _ if is_nothing => cell,
            Self::Order(name) => cell.figure(format!("order/{name}/{part}")),
            Self::Group(sheet) => cell.of(sheet.clone()).by_table(SALES),
            Self::Place(place) => cell.at(place.clone()),
        }
    }
}

fn head_of(index: &SheetIndex<'_>, of: Option<PaysOf>, row: &Row<'_, '_>) -> Option<(SheetCell, Lead)> {
    let (book, costed) = (index.books.book, index.books.costed);
    let words = |text: &str| SheetCell::new(Words, text);
    Some(match row.of {
        RowOf::Order(order) => {
            let sheet = index.order_name(order);
            let account = costed.orders.get(order as usize)?;
            let name = sheet.name.clone();
            let said = if name.starts_with(&account.date.to_string()) { "without a name" } else { name.as_str() };
            let head = words(said);
            let head = match account.channel {
                Some(channel) if of != Some(PaysOf::Channel(channel)) => head.beside(book.channel(channel).named.title.as_str()),
                Some(_) => head,
                None => head.beside("a swap"),
            };
            (head.of(sheet), Lead::Order(name))
        }
        RowOf::Group(group) => {
            let (by, named) = group.named(book);
            let kind = match group {
                PaysOf::Line(_) => SheetKind::Line,
                PaysOf::Channel(_) | PaysOf::Fair(..) => SheetKind::Channel,
                PaysOf::Product(_) => SheetKind::Thing,
            };
            let sheet = SheetName::new(kind, plain_name(&named.name));
            let head = words(&named.title).of(sheet.clone());
            let head = if kind == SheetKind::Thing { head } else { head.beside(format!("the {by} itself")) };
            (head, Lead::Group(sheet))
        }
        RowOf::Part(_) => {
            let (said, line) = match row.first.what {
                PaysWhat::Posting(posting) => (what_of(posting).to_owned(), index.place(posting.line)),
                PaysWhat::Expense(posting, _) => {
                    let said = match posting.account {
                        Account::Expense(expense) => book.expense(expense).named.title.as_str(),
                        _ => "Hired hours",
                    };
                    (said.to_owned(), index.place(posting.line))
                }
                PaysWhat::Sold(movement) | PaysWhat::UsedInShop(movement, _) | PaysWhat::Worked(movement) => {
                    let said = movement.thing.map_or("hours in batches", |thing| book.thing(thing).named.title.as_str());
                    (said.to_owned(), index.place(movement.line))
                }
                PaysWhat::Drive(drive, _) => {
                    (format!("{} miles driven", quantity_text(drive.miles)), index.place_of_event(drive.event))
                }
                PaysWhat::Hours(hour) => (book.step(hour.step).named.title.clone(), index.place(hour.line)),
            };
            (words(&said), Lead::Place(line))
        }
    })
}

fn what_of(posting: &Posting) -> &'static str {
    match posting.account {
        Account::Fee | Account::Commission => "Fees on no order",
        Account::FeeBack => "Fees given back",
        Account::Postage => "Postage of a shipment",
        Account::Packing => "Packing of a shipment",
        _ => "On no order",
    }
}

fn is_nothing(text: &str) -> bool {
    text.bytes().all(|byte| matches!(byte, b'0' | b'.' | b'-'))
}

fn read(text: &str) -> Option<Fixed6> {
    Decimal::from_str_exact(text).ok().and_then(Fixed6::from_decimal_exact)
}
