//! The sheets of a channel and of a product line: what they left, and their orders.

use rust_decimal::Decimal;

use super::order_sheet::selling;
use super::reports_by_name::ReportsByName;
use super::sales_index::SalesIndex;
use super::sales_table::{Printed, SALES, sales_of};
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use super::thing_sheet::HOURS;
use super::{column_cells, plain_name};
use crate::costing::Flow;
use crate::names::{ChannelId, LineId};
use crate::reports::figures::pays_group;
use crate::reports::margin::Margin;
use crate::reports::pays_sums::MONEY_COLUMNS;
use crate::reports::{PaysGroup, PaysOf, PaysTotals};
use crate::units::Fixed6;

use CellKind::{Day, Minutes, Money, Quantity, Words};

/// Makes the sheet of a channel. `None` where a figure is too large to be carried.
#[must_use]
pub fn sheet_of_channel(
    index: &SheetIndex<'_>,
    sales: &SalesIndex<'_>,
    channel: ChannelId,
    reports: &ReportsByName<'_>,
) -> Option<Sheet> {
    let named = &index.books.book.channel(channel).named;
    let (group, when) = (reports.group("channel", &named.name), reports.when);
    let name = SheetName::new(SheetKind::Channel, plain_name(&named.name));
    let mut tables = margins_and_sales(index, sales, PaysOf::Channel(channel), group, when)?;
    tables.retain(|table| !table.rows.is_empty());
    let mut says = says(&named.title, group, &name.name, when);
    let place = index.books.book.channel(channel).place.map(|place| &index.books.book.place(place).named);
    if let Some(place) = place.filter(|place| reports.has_place_sheet(&place.name)) {
        says.push(words(" What lies there, and the list to settle by: "));
        says.push(words(place.title.as_str()).of(SheetName::new(SheetKind::Place, plain_name(&place.name))));
        says.push(words("."));
    }
    Some(Sheet { says, name, word: "channel", title: named.title.clone(), tables, trace: None })
}

/// Makes the sheet of a product line, likewise. `None` where a figure is too large to be carried.
#[must_use]
pub fn sheet_of_line(index: &SheetIndex<'_>, sales: &SalesIndex<'_>, line: LineId, reports: &ReportsByName<'_>) -> Option<Sheet> {
    let named = index.books.book.line(line);
    let (group, when) = (reports.group("line", &named.name), reports.when);
    let name = SheetName::new(SheetKind::Line, plain_name(&named.name));
    let mut tables = margins_and_sales(index, sales, PaysOf::Line(line), group, when)?;
    tables.insert(tables.len().min(1), products_of(index, line));
    tables.retain(|table| !table.rows.is_empty());
    Some(Sheet {
        says: says(&named.title, group, &name.name, when),
        name,
        word: "product line",
        title: named.title.clone(),
        tables,
        trace: None,
    })
}

/// What a group brought and left, column by column, and the sales of which that is made. Nothing where it has none.
pub(super) fn margins_and_sales(
    index: &SheetIndex<'_>,
    sales: &SalesIndex<'_>,
    of: PaysOf,
    group: Option<&PaysGroup>,
    when: Option<&str>,
) -> Option<Vec<SheetTable>> {
    let Some(group) = group else { return Some(Vec::new()) };
    let row = MarginRow::of_group(group);
    let printed = Printed { units: row.units, money: row.money };
    let margins = margins_of(&row, &pays_group(&group.name), when);
    Some(vec![margins, sales_of(index, of, &sales.of_group(of), &printed)?])
}

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

fn says(title: &str, group: Option<&PaysGroup>, name: &str, when: Option<&str>) -> Vec<SheetCell> {
    let Some(group) = group else {
        return vec![words(match when {
            Some("") => format!("{title}: nothing was sold yet."),
            _ => format!("{title}: nothing was sold in this time."),
        })];
    };
    let figure = |cell: SheetCell, column: &str| match when {
        Some(when) => cell.figure(format!("pays/{}{when}/{column}", pays_group(name))),
        None => cell,
    };
    let mut says = vec![words(format!("{title} left "))];
    says.push(figure(SheetCell::new(Money, group.sums.paid_margin.as_str()), "paid-margin"));
    says.push(words(" of "));
    says.push(figure(SheetCell::new(Money, group.sums.revenue.as_str()), "revenue"));
    match &group.earned_per_hour {
        Some(per_hour) => {
            says.push(words(" after what was paid, "));
            says.push(figure(SheetCell::new(Money, per_hour.as_str()), "earned-per-hour"));
            says.push(words(" for an hour of yours."));
        }
        None if group.sums.own_minutes.is_some() => says.push(words(" after what was paid.")),
        None => {
            says.push(words(" after what was paid; how much that is for an hour can't be said, since some hours are unknown."))
        }
    }
    says
}

/// A row of the report of what pays.
pub(super) struct MarginRow<'r> {
    pub(super) units: &'r str,
    /// In the order of the report's columns.
    pub(super) money: [&'r str; MONEY_COLUMNS],
    minutes: Option<&'r str>,
    per_hour: Option<&'r str>,
}

impl<'r> MarginRow<'r> {
    /// That of a line, channel or product.
    pub(super) fn of_group(row: &'r PaysGroup) -> Self {
        Self {
            units: &row.units,
            money: row.sums.money(),
            minutes: row.sums.own_minutes.as_deref(),
            per_hour: row.earned_per_hour.as_deref(),
        }
    }

    /// That of all sales.
    pub(super) fn of_totals(row: &'r PaysTotals) -> Self {
        Self {
            units: &row.units,
            money: row.sums.money(),
            minutes: row.sums.own_minutes.as_deref(),
            per_hour: row.earned_per_hour.as_deref(),
        }
    }
}

/// From revenue to the margins and to an hour, each with its rule: the home of these figures. Their numbers lead to the sales that they are sums of.
pub(super) fn margins_of(row: &MarginRow<'_>, name: &str, when: Option<&str>) -> SheetTable {
    let mut table = SheetTable::new("pays", "From revenue to an hour", &[("What", Words), ("Figure", Money)]);
    let mut put = |said: &str, rule: &str, column: &str, kind: CellKind, text: Option<&str>| {
        let why = if row.minutes.is_none() { HOURS } else { "no hours" };
        let cell = text.map_or_else(|| SheetCell::without(kind, why), |text| SheetCell::new(kind, text)).by_table(SALES);
        let cell = match when {
            Some(when) => cell.home_of(format!("pays/{name}{when}/{column}")),
            None => cell,
        };
        table.row(vec![words(said).beside(rule), cell]);
    };
    put("Sold", "", "units", Quantity, Some(row.units));
    let money = [
        ("Revenue", "goods and shipping charged, less what was refunded, without sales tax", "revenue"),
        ("Fees and shares", "", "fees"),
        ("Postage", "", "postage"),
        ("Packing", "", "packing"),
        ("Own expenses", "what stands on it and on no order", "direct-expenses"),
        ("Paid cost of what was sold", "", "paid-cost"),
        ("Paid margin", "revenue less all of these", "paid-margin"),
        ("Own time", "in what was sold", "own-time"),
        ("Overhead", "in what was sold", "overhead"),
        ("Full margin", "paid margin less own time and overhead", "full-margin"),
    ];
    for ((said, rule, column), text) in money.into_iter().zip(row.money) {
        put(said, rule, column, Money, Some(text));
    }
    put("Your hours", "in what was sold, and on it itself", "own-minutes", Minutes, row.minutes);
    put("Earned per hour", "paid margin less overhead, for each of these hours", "earned-per-hour", Money, row.per_hour);
    table
}

fn products_of(index: &SheetIndex<'_>, line: LineId) -> SheetTable {
    let mut table = SheetTable::new("products", "Its products", &[("Product", Words)]);
    let last = index.books.costed.until.unwrap_or_default();
    for thing in index.books.book.things.iter().filter(|thing| *thing.line.on(last) == Some(line)) {
        let name = SheetName::new(SheetKind::Thing, plain_name(&thing.named.name));
        table.row(vec![words(thing.named.title.as_str()).of(name)]);
    }
    table
}

/// Orders with what each brought and left.
pub(super) fn orders_of(index: &SheetIndex<'_>, orders: &[u32]) -> Option<SheetTable> {
    let (book, costed) = (index.books.book, index.books.costed);
    let columns = [
        ("Order", Words),
        ("Day", Day),
        ("Revenue", Money),
        ("Costs of selling", Money),
        ("Cost of goods", Money),
        ("Margin", Money),
    ];
    let mut table = SheetTable::new("list", "All orders", &columns);
    let mut sums: [Vec<Fixed6>; 4] = Default::default();
    for order in orders {
        let mut margin = Margin::default();
        for posting in index.order_posts(*order as usize).filter(|one| one.thing.is_some()) {
            margin.post(posting)?;
        }
        for movement in index.order_moves(*order as usize).filter(|one| one.flow == Flow::Sold) {
            margin.sell(Decimal::ZERO, &movement.vector)?;
        }
        sums[0].push(margin.revenue);
        sums[1].push(selling(&margin)?);
        sums[2].push(margin.sold.paid()?);
        sums[3].push(margin.paid_margin()?);
    }
    let shown = sums.iter().map(|sums| column_cells(book, sums)).collect::<Option<Vec<_>>>()?;
    let parts = ["revenue", "costs-of-selling", "cost-of-goods", "margin"];
    for (at, order) in orders.iter().enumerate() {
        let Some(account) = costed.orders.get(*order as usize) else { continue };
        let sheet = index.order_name(*order);
        let day = account.date.to_string();
        let name = sheet.name.clone();
        let head = words(if name.starts_with(&day) { "without a name".to_owned() } else { name.clone() }).of(sheet);
        let head = match account.channel {
            Some(channel) => head.beside(book.channel(channel).named.title.as_str()),
            None => head.beside("a swap"),
        };
        let mut cells = vec![head, SheetCell::new(Day, day.as_str())];
        for ((texts, _), part) in shown.iter().zip(parts) {
            let cell = SheetCell::new(Money, texts.get(at).cloned().unwrap_or_default());
            cells.push(cell.figure(format!("order/{name}/{part}")));
        }
        table.row_on(day, cells);
    }
    if orders.len() > 1 {
        let mut cells = vec![words("Together"), words("")];
        cells.extend(shown.into_iter().map(|(_, all)| SheetCell::new(Money, all).by_table("list")));
        table.total = Some(SheetRow { day: String::new(), cells });
    }
    Some(table)
}
