//! Where a thing came from, lot by lot, and where it went, piece by piece.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::column_cells;
use super::sales_table::SALES;
use super::sheet::{CellKind, SheetCell, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use crate::costing::{Flow, LotMade, Made, Movement};
use crate::events::{EventKind, OpenedHow};
use crate::names::ThingId;
use crate::reports::period::{quantity_text, unit_cost_text};
use crate::units::{Fixed6, checked_add_exact, part_of};

use CellKind::{Cost, Day, Money, Quantity, Words};

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

/// The lots as they came, and what is left of each.
pub(super) fn came(index: &SheetIndex<'_>, thing: ThingId) -> Option<SheetTable> {
    let book = index.books.book;
    let columns = [("Lot", Words), ("Day", Day), ("Came", Quantity), ("Laid out", Money), ("For one", Cost), ("Left", Quantity)];
    let mut table = SheetTable::new("lots", "Where it came from, lot by lot", &columns);
    let Some(trace) = &index.books.costed.trace else { return Some(table) };
    let unit = book.thing(thing).unit.as_str();
    let lots: Vec<&LotMade> = index.lots(thing).iter().filter_map(|at| trace.lots.get(*at as usize)).collect();
    let sums: Vec<Fixed6> = lots.iter().map(|lot| lot.cost.paid()).collect::<Option<_>>()?;
    let (shown, whole) = column_cells(book, &sums)?;
    let mut all = Decimal::ZERO;
    for (lot, paid) in lots.iter().zip(shown) {
        all = checked_add_exact(all, lot.quantity).ok()?;
        let figure = format!("lot/{}", index.names.lot(lot.origin.number));
        let name = figure.rsplit('/').next().unwrap_or("");
        let day = lot.origin.date.to_string();
        let came = came_how(index, lot);
        let is_said = name.starts_with(&day) || came.split_whitespace().any(|word| word == name);
        let head = words(came).beside(if is_said { "" } else { name });
        let head = match lot.made {
            Made::Finished(batch) | Made::Kept(batch) => head.of(index.batch_name(batch)),
            _ => head,
        };
        let each = match lot.quantity.is_zero() {
            true => SheetCell::without(Cost, "none came"),
            false => SheetCell::new(Cost, unit_cost_text(part_of(lot.cost.paid()?, Decimal::ONE, lot.quantity)?)),
        };
        table.row_on(
            day.as_str(),
            vec![
                head,
                SheetCell::new(Day, day.as_str()),
                SheetCell::quantity(quantity_text(lot.quantity), unit).figure(figure.as_str()),
                SheetCell::new(Money, paid).figure(figure.as_str()),
                each.figure(figure.as_str()),
                SheetCell::quantity(quantity_text(index.left(lot.origin.number)), unit).figure(figure),
            ],
        );
    }
    if lots.len() > 1 {
        let cells = vec![
            words("All lots"),
            words(""),
            SheetCell::quantity(quantity_text(all), unit).by_table("lots"),
            SheetCell::new(Money, whole).by_table("lots"),
            words(""),
            words(""),
        ];
        table.total = Some(SheetRow { day: String::new(), cells });
    }
    Some(table)
}

/// How a lot came, in words.
pub(super) fn came_how(index: &SheetIndex<'_>, lot: &LotMade) -> String {
    let book = index.books.book;
    match lot.made {
        Made::Finished(batch) => format!("made in {}", book.batch(batch).name),
        Made::Kept(batch) => format!("kept of {}", book.batch(batch).name),
        Made::CountedMore => "found in a count".to_owned(),
        Made::Unrecorded => "not recorded".to_owned(),
        Made::Found => "found".to_owned(),
        Made::Contributed => "put in by the owner".to_owned(),
        Made::Opened | Made::Bought { .. } => {
            let event = index.books.log.events.get(lot.origin.event as usize);
            match event.map(|event| &event.kind) {
                Some(EventKind::Bought(bought)) => {
                    let parts = [bought.supplier, bought.receipt].into_iter().flatten();
                    let from: Vec<&str> = parts.map(|label| book.label(label)).collect();
                    if from.is_empty() { "bought".to_owned() } else { from.join(" ") }
                }
                Some(EventKind::Opened(opened)) if opened.how == OpenedHow::Contributed => "put in by the owner".to_owned(),
                _ => "there when the book began".to_owned(),
            }
        }
    }
}

/// Whether a movement is told as something that went: what was used in batches and lost in them is told with the batches, and what a count found
/// is a lot that came.
fn has_gone(movement: &Movement) -> bool {
    match movement.flow {
        Flow::SentBack | Flow::Credited => true,
        Flow::Missing => !movement.quantity.is_sign_negative() || movement.quantity.is_zero(),
        Flow::AbnormalLoss => false,
        flow => !flow.comes_in(),
    }
}

/// Something that went: day, event, where, how much, its paid and full cost, and a cell that leads where its numbers do.
type Went = (NaiveDate, u32, SheetCell, Decimal, Fixed6, Fixed6, SheetCell);

/// Where it went: what batches used, and what left in other ways.
pub(super) fn went(index: &SheetIndex<'_>, thing: ThingId, has_sales: bool) -> Option<SheetTable> {
    let (book, costed) = (index.books.book, index.books.costed);
    let columns = [("Where", Words), ("Day", Day), ("Went", Quantity), ("Laid out", Money), ("Full cost", Money)];
    let mut table = SheetTable::new("went", "Where it went", &columns);
    table.note = "what came back is below zero";
    let mut rows: Vec<Went> = Vec::new();
    for (batch, item) in index.used(thing) {
        let Some(account) = costed.batches.get(*batch as usize) else { continue };
        let Some(used) = account.used.get(*item as usize) else { continue };
        let sheet = index.batch_name(account.batch);
        let figure = format!("batch/{}", sheet.name);
        let head = words(format!("used in {}", book.batch(account.batch).name)).of(sheet);
        rows.push((
            used.date,
            used.event,
            head,
            used.quantity,
            used.vector.paid()?,
            used.vector.full()?,
            words("").figure(figure),
        ));
    }
    // What was sold of a product is told sale by sale in a table of its own.
    let (mut sold, mut last) = (None::<(Decimal, Fixed6, Fixed6)>, None);
    for movement in index.moved(thing).filter(|one| has_gone(one)) {
        if has_sales && movement.flow == Flow::Sold {
            let (quantity, paid, full) = sold.unwrap_or_default();
            let quantity = checked_add_exact(quantity, movement.quantity).ok()?;
            sold = Some((quantity, paid.checked_add(movement.vector.paid()?)?, full.checked_add(movement.vector.full()?)?));
            last = Some((movement.date, movement.event));
            continue;
        }
        let head = words(went_how(movement.flow));
        let (head, lead) = match movement.order {
            Some(order) => {
                let name = index.names.order(order);
                let head = words(sold_how(index, movement, name)).of(index.order_name(order));
                (head, words("").figure(format!("order/{name}/cost-of-goods")))
            }
            None => (head, words("").at(index.place(movement.line))),
        };
        // What a supplier gave back lowers what came in; here it is told as what went.
        let (paid, full) = match movement.flow.comes_in() {
            true => (movement.vector.paid()?.checked_neg()?, movement.vector.full()?.checked_neg()?),
            false => (movement.vector.paid()?, movement.vector.full()?),
        };
        rows.push((movement.date, movement.event, head, movement.quantity, paid, full, lead));
    }
    if let (Some((quantity, paid, full)), Some((day, event))) = (sold, last) {
        let head = words("sold, less what came back").beside("the last of it on this day");
        rows.push((day, event, head, quantity, paid, full, words("").by_table(SALES)));
    }
    rows.sort_by_key(|row| (row.0, row.1));
    let unit = book.thing(thing).unit.as_str();
    let (paid, all_paid) = column_cells(book, &rows.iter().map(|row| row.4).collect::<Vec<_>>())?;
    let (full, all_full) = column_cells(book, &rows.iter().map(|row| row.5).collect::<Vec<_>>())?;
    if rows.len() > 1 {
        let mut quantity = Decimal::ZERO;
        for row in &rows {
            quantity = checked_add_exact(quantity, row.3).ok()?;
        }
        let cells = vec![
            words("All that went"),
            words(""),
            SheetCell::quantity(quantity_text(quantity), unit).by_table("went"),
            SheetCell::new(Money, all_paid).by_table("went"),
            SheetCell::new(Money, all_full).by_table("went"),
        ];
        table.total = Some(SheetRow { day: String::new(), cells });
    }
    for ((row, paid), full) in rows.into_iter().zip(paid).zip(full) {
        let (day, _, head, quantity, _, _, lead) = row;
        let mut cells =
            vec![SheetCell::quantity(quantity_text(quantity), unit), SheetCell::new(Money, paid), SheetCell::new(Money, full)];
        for cell in &mut cells {
            let led = SheetCell { kind: cell.kind, text: cell.text.take(), unit: std::mem::take(&mut cell.unit), ..lead.clone() };
            *cell = led;
        }
        let mut all = vec![head, SheetCell::new(Day, day.to_string())];
        all.append(&mut cells);
        table.row_on(day.to_string(), all);
    }
    Some(table)
}

fn sold_how(index: &SheetIndex<'_>, movement: &Movement, order: &str) -> String {
    let channel = movement.order.and_then(|order| index.books.costed.orders.get(order as usize)).and_then(|order| order.channel);
    let way = match (movement.flow, movement.quantity.is_sign_negative()) {
        (Flow::Sold, false) => "sold",
        (Flow::Sold, true) => "came back",
        (flow, _) => went_how(flow),
    };
    match channel {
        Some(channel) => format!("{way}, {order} via {}", index.books.book.channel(channel).named.title),
        None => format!("{way}, {order}"),
    }
}

/// A way out, in words.
pub(super) fn went_how(flow: Flow) -> &'static str {
    match flow {
        Flow::Sold => "sold",
        Flow::PackingUsed => "packed with",
        Flow::UsedInShop => "used in the shop",
        Flow::MadeForShop => "made for the shop",
        Flow::TakenHome => "taken home",
        Flow::Sample => "given as a sample",
        Flow::Gift => "given as a gift",
        Flow::Donated => "donated",
        Flow::Scrapped => "scrapped",
        Flow::Missing => "missing in a count",
        Flow::AbnormalLoss => "lost beyond the usual",
        Flow::SentBack => "sent back, at what was given back for it",
        Flow::Credited => "a supplier's credit",
        Flow::PriceDifference => "what a refund or credit was less than the cost",
        _ => "came in",
    }
}
