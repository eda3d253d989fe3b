//! The sheet of a sale: its goods, what it brought in, what it cost, what is left, what was paid, and its sales tax.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use serde::Serialize;

use super::order_returns::{GivenBack, RETURNS, given_back, sheet_of_returns};
use super::sheet::{CellKind, Sheet, SheetCell, SheetName, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use super::{column_cells, sheet_of_channel_name};
use crate::costing::{Flow, Movement, OrderAccount, TaxFlow};
use crate::names::ChannelId;
use crate::reports::margin::Margin;
use crate::reports::period::{money_text, quantity_text};
use crate::units::Fixed6;

use CellKind::{Day, Money, Quantity, Words};

/// Everything of a sale that margins count. `None` where a figure is too large to be carried.
pub(super) fn margin_of(index: &SheetIndex<'_>, order: usize) -> Option<Margin> {
    let mut margin = Margin::default();
    for posting in index.order_posts(order).filter(|one| one.thing.is_some()) {
        margin.post(posting)?;
    }
    for movement in index.order_moves(order).filter(|one| one.flow == Flow::Sold) {
        margin.sell(Decimal::ZERO, &movement.vector)?;
    }
    Some(margin)
}

/// Fees, postage and packing.
pub(super) fn selling(margin: &Margin) -> Option<Fixed6> {
    margin.fees.checked_add(margin.postage)?.checked_add(margin.packing)
}

/// What is still owed of a sale at the end of the book; nothing where it was paid at once.
pub(super) fn still_owed(index: &SheetIndex<'_>, account: &OrderAccount) -> Option<Fixed6> {
    let bill = account.bill.and_then(|bill| index.books.costed.bills.get(bill as usize));
    match (bill, index.books.costed.until) {
        (Some(bill), Some(day)) => bill.open_on(day),
        _ => Some(Fixed6::ZERO),
    }
}

/// What a channel's buyers, or the channel itself, still owe.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OwedByChannel {
    /// The channel's sheet.
    pub sheet: SheetName,
    /// Its title.
    pub title: String,
    /// How many orders are not paid.
    pub orders: usize,
    /// What is owed of them.
    pub sum: String,
    /// Days from the oldest of them to the last day of the book.
    pub oldest_days: i64,
}

/// What is owed of sales at the end of the book, channel by channel. `None` where a sum is too large to be carried.
#[must_use]
pub fn owed_by_channel(index: &SheetIndex<'_>) -> Option<Vec<OwedByChannel>> {
    let book = index.books.book;
    let mut owed: BTreeMap<ChannelId, (usize, Fixed6, NaiveDate)> = BTreeMap::new();
    for account in &index.books.costed.orders {
        let (Some(channel), open) = (account.channel, still_owed(index, account)?) else { continue };
        if open.is_positive() {
            let (orders, sum, oldest) = owed.entry(channel).or_insert((0, Fixed6::ZERO, account.date));
            (*orders, *sum, *oldest) = (orders.saturating_add(1), sum.checked_add(open)?, account.date.min(*oldest));
        }
    }
    let written = owed.into_iter().map(|(channel, (orders, sum, oldest))| OwedByChannel {
        sheet: sheet_of_channel_name(book, channel),
        title: book.channel(channel).named.title.clone(),
        orders,
        sum: money_text(book, sum),
        oldest_days: index.books.costed.until.map_or(0, |day| day.signed_duration_since(oldest).num_days()),
    });
    Some(written.collect())
}

/// Makes the sheet of a sale. `None` where a figure is too large to be carried.
#[must_use]
pub fn sheet_of_order(index: &SheetIndex<'_>, at: usize) -> Option<Sheet> {
    let account = index.books.costed.orders.get(at)?;
    let name = index.order_name(u32::try_from(at).ok()?);
    let figure = format!("order/{}", name.name);
    let margin = margin_of(index, at)?;
    let mut tables = vec![
        goods(index, at, &figure)?,
        from_revenue(index, at, &margin, &figure)?,
        sheet_of_returns(index, at, &figure)?,
        owed(index, account)?,
        taxes(index, at)?,
    ];
    tables.retain(|table| !table.rows.is_empty());
    let title = match account.order {
        Some(label) => format!("Order {}", index.books.book.label(label)),
        None => format!("Sale of {}", account.date),
    };
    let back = given_back(index, at)?;
    let trace = match account.order {
        Some(label) => format!("order/{}", index.books.book.label(label)),
        None => format!("order/{}", name.name),
    };
    Some(Sheet {
        says: says(index, account, (&margin, back), &title, &figure)?,
        name,
        word: "order",
        title,
        tables,
        trace: Some(trace),
    })
}

fn words(text: impl Into<String>) -> SheetCell {
    SheetCell::new(Words, text)
}

fn says(
    index: &SheetIndex<'_>,
    account: &OrderAccount,
    (margin, back): (&Margin, GivenBack),
    title: &str,
    figure: &str,
) -> Option<Vec<SheetCell>> {
    let book = index.books.book;
    let money = |sum: Fixed6, part: &str| SheetCell::new(Money, money_text(book, sum)).figure(format!("{figure}/{part}"));
    // A sale without a name is called by its day.
    let mut says = vec![words(match account.order {
        Some(_) => format!("{title}, {}", account.date),
        None => title.to_owned(),
    })];
    match account.channel {
        Some(channel) => {
            says.push(words(", via "));
            says.push(words(book.channel(channel).named.title.as_str()).of(sheet_of_channel_name(book, channel)));
        }
        None => says.push(words(", a swap")),
    }
    says.push(words(", brought in "));
    says.push(money(margin.revenue, "revenue"));
    if !back.refunded.is_zero() {
        says.push(words(" after "));
        says.push(SheetCell::new(Money, money_text(book, back.refunded)).by_table(RETURNS));
        says.push(words(" was given back,"));
    }
    says.push(words(" and left "));
    says.push(money(margin.paid_margin()?, "margin"));
    says.push(words(" after what was paid for it"));
    let open = still_owed(index, account)?;
    if open.is_positive() {
        says.push(words("; "));
        says.push(SheetCell::new(Money, money_text(book, open)).by_table("owed"));
        says.push(words(" is still owed."));
    } else {
        says.push(words("."));
    }
    Some(says)
}

fn goods(index: &SheetIndex<'_>, at: usize, figure: &str) -> Option<SheetTable> {
    let book = index.books.book;
    let columns = [("What", Words), ("Day", Day), ("How many", Quantity), ("Laid out", Money), ("Full cost", Money)];
    let mut table = SheetTable::new("goods", "Its goods, at what they cost", &columns);
    table.note = "what came back is below zero";
    // What was scrapped is a loss of its own, and stands with what came back.
    let is_of_order = |one: &&Movement| one.thing.is_some() && one.flow != Flow::Scrapped;
    let moved: Vec<&Movement> = index.order_moves(at).filter(is_of_order).collect();
    let paid = moved.iter().map(|one| one.vector.paid()).collect::<Option<Vec<_>>>()?;
    let full = moved.iter().map(|one| one.vector.full()).collect::<Option<Vec<_>>>()?;
    let (paid, all_paid) = column_cells(book, &paid)?;
    let (full, all_full) = column_cells(book, &full)?;
    let figure = format!("{figure}/cost-of-goods");
    for ((movement, paid), full) in moved.iter().zip(paid).zip(full) {
        let Some(thing) = movement.thing else { continue };
        let head = words(book.thing(thing).named.title.as_str()).of(index.thing_name(thing));
        let head = head.beside(match movement.flow {
            Flow::Sold if movement.quantity.is_sign_negative() => "came back",
            Flow::PackingUsed => "packed with",
            _ => "",
        });
        let (day, unit) = (movement.date.to_string(), book.thing(thing).unit.as_str());
        let mut cells = vec![head, SheetCell::new(Day, day.as_str())];
        cells.push(SheetCell::quantity(quantity_text(movement.quantity), unit).figure(figure.as_str()));
        cells.extend([paid, full].map(|text| SheetCell::new(Money, text).figure(figure.as_str())));
        table.row_on(day, cells);
    }
    if table.rows.len() > 1 {
        let has_packing = moved.iter().any(|one| one.flow == Flow::PackingUsed);
        let together = if has_packing { "Goods and packing together" } else { "Together" };
        let sums = [all_paid, all_full].map(|text| SheetCell::new(Money, text).figure(figure.as_str()));
        let cells = [words(together), words(""), words("")].into_iter().chain(sums).collect();
        table.total = Some(SheetRow { day: String::new(), cells });
    }
    Some(table)
}

fn from_revenue(index: &SheetIndex<'_>, at: usize, margin: &Margin, figure: &str) -> Option<SheetTable> {
    let book = index.books.book;
    let mut table = SheetTable::new("margin", "From revenue to margin", &[("What", Words), ("Amount", Money)]);
    let less = |sum: Fixed6| sum.checked_neg();
    let back = given_back(index, at)?;
    let goods = if back.refunded.is_zero() { "Revenue" } else { "Goods and shipping" };
    let parts = [
        (goods, margin.revenue.checked_add(back.refunded)?, "revenue"),
        ("less what was given back", less(back.refunded)?, "revenue"),
        ("less fees and shares", less(margin.fees.checked_add(back.fees)?)?, "costs-of-selling"),
        ("and fees that came back", back.fees, "costs-of-selling"),
        ("less postage", less(margin.postage)?, "costs-of-selling"),
        ("less packing", less(margin.packing)?, "costs-of-selling"),
        ("less what the goods cost", less(margin.sold.paid()?)?, "cost-of-goods"),
    ];
    let (shown, left) = column_cells(book, &parts.map(|part| part.1))?;
    for ((said, sum, part), text) in parts.into_iter().zip(shown) {
        if !sum.is_zero() || said == goods {
            table.row(vec![words(said), SheetCell::new(Money, text).figure(format!("{figure}/{part}"))]);
        }
    }
    // The figure of the order is told by this table, which has a row for each of its parts.
    let margin_cell = SheetCell::new(Money, left).by_table("margin").home_of(figure);
    let own = margin.sold.full()?.checked_sub(margin.sold.paid()?)?;
    let cells = vec![words("Margin"), margin_cell];
    if own.is_zero() {
        table.total = Some(SheetRow { day: String::new(), cells });
        return Some(table);
    }
    table.sums.push(table.rows.len());
    table.row(cells);
    let (shown, full) = column_cells(book, &[margin.paid_margin()?, less(own)?])?;
    let own = SheetCell::new(Money, shown.into_iter().next_back()?).figure(format!("{figure}/cost-of-goods"));
    table.row(vec![words("less your own time and overhead in the goods"), own]);
    let full = SheetCell::new(Money, full).figure(format!("{figure}/margin"));
    table.total = Some(SheetRow { day: String::new(), cells: vec![words("Full margin"), full] });
    Some(table)
}

/// What was owed and when it was paid.
fn owed(index: &SheetIndex<'_>, account: &OrderAccount) -> Option<SheetTable> {
    let book = index.books.book;
    let mut table = SheetTable::new("owed", "What was owed and paid", &[("What", Words), ("Day", Day), ("Amount", Money)]);
    table.note = "after what the channel kept";
    let Some(bill) = account.bill.and_then(|bill| index.books.costed.bills.get(bill as usize)) else { return Some(table) };
    let first = bill.total_on(NaiveDate::MIN)?;
    let mut row = |said: &str, day: NaiveDate, sum: Fixed6| {
        let place = match day == bill.date {
            true => index.place(bill.line),
            false => index.place_of_payment(account.order, day, bill.line),
        };
        let money = SheetCell::new(Money, money_text(book, sum)).at(place);
        table.row_on(day.to_string(), vec![words(said), SheetCell::new(Day, day.to_string()), money]);
    };
    row("Owed", bill.date, first);
    for (day, money) in &bill.lowered {
        row("less what it was lowered by", *day, money.checked_neg()?);
    }
    for (day, money) in &bill.paid {
        row("less what was paid", *day, money.checked_neg()?);
    }
    let open = still_owed(index, account)?;
    let cells = vec![words("Still owed"), words(""), SheetCell::new(Money, money_text(book, open)).by_table("owed")];
    table.total = Some(SheetRow { day: String::new(), cells });
    Some(table)
}

fn taxes(index: &SheetIndex<'_>, at: usize) -> Option<SheetTable> {
    let book = index.books.book;
    let mut table = SheetTable::new("tax", "Sales tax", &[("What", Words), ("Day", Day), ("Amount", Money)]);
    let mut kept = Fixed6::ZERO;
    let mut is_back = false;
    for tax in index.taxes(at) {
        let money = match tax.flow {
            TaxFlow::Refunded => tax.money.checked_neg()?,
            _ => tax.money,
        };
        is_back |= tax.flow == TaxFlow::Refunded;
        if matches!(tax.flow, TaxFlow::Collected | TaxFlow::Refunded) {
            kept = kept.checked_add(money)?;
        }
        let said = match tax.flow {
            TaxFlow::Collected => "collected by the shop",
            TaxFlow::Refunded => "given back to the buyer",
            TaxFlow::PaidOver => "paid over",
            TaxFlow::Allowed => "allowance kept",
            TaxFlow::ByChannel => "collected by the channel, no debt of the shop",
        };
        let to = tax.to.map_or("", |label| book.label(label));
        let cells = vec![
            words(said).beside(to),
            SheetCell::new(Day, tax.date.to_string()),
            SheetCell::new(Money, money_text(book, money)).at(index.place_of_event(tax.event)),
        ];
        table.row_on(tax.date.to_string(), cells);
    }
    if is_back {
        let cells = vec![
            words("Left of what the shop collected"),
            words(""),
            SheetCell::new(Money, money_text(book, kept)).by_table("tax"),
        ];
        table.total = Some(SheetRow { day: String::new(), cells });
    }
    Some(table)
}
