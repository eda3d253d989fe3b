//! The sheets of a channel and of a product line: what they left, and their orders.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::order_sheet::selling;
use super::reports_by_name::ReportsByName;
use super::sheet::{CellKind, Sheet, SheetCell, SheetKind, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use super::{column_cells, plain_name};
use crate::costing::Flow;
use crate::names::{ChannelId, LineId};
use crate::reports::PaysGroup;
use crate::reports::margin::Margin;
use crate::units::Fixed6;

use CellKind::{Day, Minutes, Money, Quantity, Words};

/// The orders of channels and lines, with what each brought. Made once for all sheets.
#[derive(Debug, Default)]
pub struct TradeIndex {
    by_channel: BTreeMap<ChannelId, Vec<u32>>,
    by_line: BTreeMap<LineId, Vec<u32>>,
}

impl TradeIndex {
    /// Goes through the orders once.
    #[must_use]
    pub fn of(index: &SheetIndex<'_>) -> Self {
        let mut trade = Self::default();
        for (at, order) in (0u32..).zip(&index.books.costed.orders) {
            if let Some(channel) = order.channel {
                trade.by_channel.entry(channel).or_default().push(at);
            }
            let mut lines: Vec<LineId> = index
                .order_moves(at as usize)
                .filter(|one| one.flow == Flow::Sold)
                .filter_map(|one| *index.books.book.thing(one.thing?).line.on(one.date))
                .collect();
            lines.sort_unstable();
            lines.dedup();
            for line in lines {
                trade.by_line.entry(line).or_default().push(at);
            }
        }
        trade
    }
}

/// Makes the sheet of a channel. `None` where a figure is too large to be carried.
#[must_use]
pub fn sheet_of_channel(
    index: &SheetIndex<'_>,
    trade: &TradeIndex,
    channel: ChannelId,
    reports: &ReportsByName<'_>,
) -> Option<Sheet> {
    let named = &index.books.book.channel(channel).named;
    let (group, when) = (reports.group("channel", &named.name), reports.when);
    let orders = trade.by_channel.get(&channel).map_or(&[][..], Vec::as_slice);
    let name = SheetName::new(SheetKind::Channel, plain_name(&named.name));
    let mut tables = vec![margins(group, &name.name, when), orders_of(index, orders, None)?];
    tables.retain(|table| !table.rows.is_empty());
    Some(Sheet {
        says: says(&named.title, group, &name.name, when, orders.len()),
        name,
        word: "channel",
        title: named.title.clone(),
        tables,
    })
}

/// Makes the sheet of a product line, likewise. `None` where a figure is too large to be carried.
#[must_use]
pub fn sheet_of_line(index: &SheetIndex<'_>, trade: &TradeIndex, line: LineId, reports: &ReportsByName<'_>) -> Option<Sheet> {
    let named = index.books.book.line(line);
    let (group, when) = (reports.group("line", &named.name), reports.when);
    let orders = trade.by_line.get(&line).map_or(&[][..], Vec::as_slice);
    let name = SheetName::new(SheetKind::Line, plain_name(&named.name));
    let mut tables = vec![margins(group, &name.name, when), products_of(index, line), orders_of(index, orders, Some(line))?];
    tables.retain(|table| !table.rows.is_empty());
    Some(Sheet {
        says: says(&named.title, group, &name.name, when, orders.len()),
        name,
        word: "product line",
        title: named.title.clone(),
        tables,
    })
}

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

fn says(title: &str, group: Option<&PaysGroup>, name: &str, when: Option<&str>, orders: usize) -> Vec<SheetCell> {
    let Some(group) = group else {
        return vec![words(match orders {
            0 => format!("{title}: nothing was sold yet."),
            _ => format!("{title}: nothing was sold in this time."),
        })];
    };
    let figure = |cell: SheetCell, column: &str| match when {
        Some(when) => cell.figure(format!("pays/{name}{when}/{column}")),
        None => cell,
    };
    let mut says = vec![words(format!("{title} left "))];
    says.push(figure(SheetCell::new(Money, group.paid_margin.as_str()), "paid-margin"));
    says.push(words(" of "));
    says.push(figure(SheetCell::new(Money, group.revenue.as_str()), "revenue"));
    match &group.earned_per_hour {
        Some(per_hour) => {
            says.push(words(" after what was paid, "));
            says.push(figure(SheetCell::new(Money, per_hour.as_str()), "earned-per-hour"));
            says.push(words(" for an hour of yours."));
        }
        None => says.push(words(" after what was paid; how much that is for an hour, nobody knows.")),
    }
    says
}

/// From revenue to the margins and to an hour.
pub(super) fn margins(group: Option<&PaysGroup>, name: &str, when: Option<&str>) -> SheetTable {
    let mut table = SheetTable::new("pays", "From revenue to an hour", &[("What", Words), ("Figure", Money)]);
    let Some(group) = group else { return table };
    let rows: [(&str, &str, CellKind, Option<&String>); 13] = [
        ("Sold", "units", Quantity, Some(&group.units)),
        ("Revenue", "revenue", Money, Some(&group.revenue)),
        ("Fees and shares", "fees", Money, Some(&group.fees)),
        ("Postage", "postage", Money, Some(&group.postage)),
        ("Packing", "packing", Money, Some(&group.packing)),
        ("Own expenses", "direct-expenses", Money, Some(&group.direct_expenses)),
        ("Paid cost of what was sold", "paid-cost", Money, Some(&group.paid_cost)),
        ("Paid margin", "paid-margin", Money, Some(&group.paid_margin)),
        ("Overhead", "overhead", Money, Some(&group.overhead)),
        ("Own time", "own-time", Money, Some(&group.own_time)),
        ("Full margin", "full-margin", Money, Some(&group.full_margin)),
        ("Your hours", "own-minutes", Minutes, group.own_minutes.as_ref()),
        ("Earned per hour", "earned-per-hour", Money, group.earned_per_hour.as_ref()),
    ];
    for (said, column, kind, text) in rows {
        let cell = text.map_or_else(|| SheetCell::unknown(kind), |text| SheetCell::new(kind, text.as_str()));
        let cell = match when {
            Some(when) => cell.figure(format!("pays/{name}{when}/{column}")),
            None => cell,
        };
        table.row(vec![words(said), cell]);
    }
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

/// Orders with what each brought and left; of a line only what it sold of that line.
pub(super) fn orders_of(index: &SheetIndex<'_>, orders: &[u32], line: Option<LineId>) -> Option<SheetTable> {
    let (book, costed) = (index.books.book, index.books.costed);
    let columns = [
        ("Order", Words),
        ("Day", Day),
        ("Revenue", Money),
        ("Costs of selling", Money),
        ("Cost of goods", Money),
        ("Margin", Money),
    ];
    let mut table = SheetTable::new("orders", "Orders", &columns);
    if line.is_some() {
        table.note = "what each sold of this line";
    }
    let in_line = |thing: Option<crate::names::ThingId>, day| match (line, thing) {
        (None, thing) => thing.is_some(),
        (Some(line), Some(thing)) => *book.thing(thing).line.on(day) == Some(line),
        (Some(_), None) => false,
    };
    let mut sums: [Vec<Fixed6>; 4] = Default::default();
    for order in orders {
        let mut margin = Margin::default();
        for posting in index.order_posts(*order as usize).filter(|one| in_line(one.thing, one.date)) {
            margin.post(posting)?;
        }
        for movement in index.order_moves(*order as usize).filter(|one| one.flow == Flow::Sold && in_line(one.thing, one.date)) {
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
            // Of a line's part of an order no figure has a name.
            cells.push(if line.is_none() { cell.figure(format!("order/{name}/{part}")) } else { cell });
        }
        table.row_on(day, cells);
    }
    if orders.len() > 1 {
        let mut cells = vec![words("Together"), words("")];
        cells.extend(shown.into_iter().map(|(_, all)| SheetCell::new(Money, all)));
        table.total = Some(SheetRow { day: String::new(), cells });
    }
    Some(table)
}
