//! What came back of a sale: which pieces, what became of each, and what was given back for it.

use rust_decimal::Decimal;

use super::column_cells;
use super::sheet::{CellKind, SheetCell, SheetRow, SheetTable};
use super::sheet_index::SheetIndex;
use crate::costing::{Account, Flow};
use crate::events::{ReturnFate, Returned, ReturnedLine};
use crate::reports::period::{money_text, quantity_text};
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact};

use CellKind::{Day, Money, Quantity, Words};

/// The table of what came back.
pub(super) const RETURNS: &str = "returns";

/// What went back of a sale, without sales tax.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct GivenBack {
    /// To the buyer.
    pub(super) refunded: Fixed6,
    /// Fees, to the shop.
    pub(super) fees: Fixed6,
}

/// Adds up what went back of a sale, as far as its margin has it. `None` on overflow.
pub(super) fn given_back(index: &SheetIndex<'_>, order: usize) -> Option<GivenBack> {
    let mut back = GivenBack::default();
    for posting in index.order_posts(order).filter(|one| one.thing.is_some()) {
        let sum = match posting.account {
            Account::Refund => &mut back.refunded,
            Account::FeeBack => &mut back.fees,
            _ => continue,
        };
        *sum = sum.checked_add(posting.money)?;
    }
    Some(back)
}

/// The table of what came back of a sale. `None` where a figure is too large to be carried.
pub(super) fn sheet_of_returns(index: &SheetIndex<'_>, order: usize, figure: &str) -> Option<SheetTable> {
    let columns =
        [("What", Words), ("Day", Day), ("How many", Quantity), ("What became of it", Words), ("Given back for it", Money)];
    let mut table = SheetTable::new(RETURNS, "What came back, and what was given back for it", &columns);
    table.note = "without sales tax";
    let (mut heads, mut sums) = (Vec::new(), Vec::new());
    for (event, returned) in index.returns(order) {
        for line in &returned.lines {
            let refunded = refunded_at(index, order, (event, line.span))?;
            let Some(quantity) = quantity_back(index, order, (event, returned), line, refunded)? else { continue };
            let lost = lost_at(index, order, (event, line.span))?;
            heads.push((goods_cells(index, line, quantity, lost), event, line.span));
            sums.push(refunded);
        }
        for (said, span) in others(index, event, returned) {
            let refunded = refunded_at(index, order, (event, span))?;
            if !refunded.is_zero() {
                let cells = [SheetCell::new(Words, said), SheetCell::new(Words, ""), SheetCell::new(Words, "money alone")];
                heads.push((cells, event, span));
                sums.push(refunded);
            }
        }
    }
    let (shown, all) = column_cells(index.books.book, &sums)?;
    for (([what, many, fate], event, span), refunded) in heads.into_iter().zip(shown) {
        let day = index.books.log.events.get(event as usize).map(|event| event.date.to_string()).unwrap_or_default();
        let place = index.place(span).or_else(|| index.place_of_event(event));
        let many = if many.kind == Quantity { many.at(place.clone()) } else { many };
        table.row_on(
            day.as_str(),
            vec![what, SheetCell::new(Day, day.as_str()), many, fate, SheetCell::new(Money, refunded).at(place)],
        );
    }
    if table.rows.len() > 1 {
        let empty = || SheetCell::new(Words, "");
        let all = SheetCell::new(Money, all).figure(format!("{figure}/revenue"));
        table.total =
            Some(SheetRow { day: String::new(), cells: vec![SheetCell::new(Words, "Together"), empty(), empty(), empty(), all] });
    }
    Some(table)
}

/// What was given back of an order at a line of an entry.
fn refunded_at(index: &SheetIndex<'_>, order: usize, (event, line): (u32, Span)) -> Option<Fixed6> {
    let posted = index.order_posts(order).filter(|one| one.account == Account::Refund && one.event == event && one.line == line);
    Fixed6::checked_sum(posted.map(|one| one.money))
}

/// How many pieces of a line came back of an order; the outer `None` is overflow, the inner one: none of this order. What stays with its buyer moves
/// nowhere: where a return that names no order is of several, how many of each is not known, and the innermost is `None`.
#[expect(clippy::option_option, reason = "not of this order, and of it in an unknown number, are two things")]
fn quantity_back(
    index: &SheetIndex<'_>,
    order: usize,
    (event, returned): (u32, &Returned),
    line: &ReturnedLine,
    refunded: Fixed6,
) -> Option<Option<Option<Decimal>>> {
    if returned.order.is_some() {
        return Some(Some(Some(line.quantity)));
    }
    if line.fate == ReturnFate::LeftWithBuyer {
        let is_of_one = index.orders_of_return(event) == 1;
        return Some((is_of_one || !refunded.is_zero()).then_some(is_of_one.then_some(line.quantity)));
    }
    let mut back = Decimal::ZERO;
    let moved = index.order_moves(order).filter(|one| one.flow == Flow::Sold && one.event == event && one.line == line.span);
    for movement in moved {
        back = checked_add_exact(back, -movement.quantity).ok()?;
    }
    Some((!back.is_zero()).then_some(Some(back)))
}

/// What was laid out in pieces of a line that came back of an order and were scrapped.
fn lost_at(index: &SheetIndex<'_>, order: usize, (event, line): (u32, Span)) -> Option<Fixed6> {
    let lost = index.order_moves(order).filter(|one| one.flow == Flow::Scrapped && one.event == event && one.line == line);
    Fixed6::checked_sum(lost.map(|one| one.vector.paid()).collect::<Option<Vec<_>>>()?)
}

fn goods_cells(index: &SheetIndex<'_>, line: &ReturnedLine, quantity: Option<Decimal>, lost: Fixed6) -> [SheetCell; 3] {
    let thing = index.books.book.thing(line.thing);
    let what = SheetCell::new(Words, thing.named.title.as_str()).of(index.thing_name(line.thing));
    let many = match quantity {
        Some(quantity) => SheetCell::quantity(quantity_text(quantity), thing.unit.as_str()),
        None => SheetCell::new(Words, "some of those of several sales"),
    };
    let fate = match line.fate {
        ReturnFate::BackToStock => "back to stock".to_owned(),
        ReturnFate::Scrapped => format!("scrapped, a loss of {}", money_text(index.books.book, lost)),
        ReturnFate::LeftWithBuyer => "left with the buyer".to_owned(),
    };
    [what, many, SheetCell::new(Words, fate)]
}

/// Refunds without goods, and shipping, each with the line at which it is posted.
fn others(index: &SheetIndex<'_>, event: u32, returned: &Returned) -> Vec<(&'static str, Span)> {
    let mut others: Vec<(&'static str, Span)> =
        returned.refunds.iter().map(|(_, span)| ("A refund without goods", *span)).collect();
    let head = index.books.log.events.get(event as usize).map(|event| event.head);
    others.extend(head.filter(|_| !returned.shipping.is_zero()).map(|head| ("Shipping", head)));
    others
}
