//! The lines of an entry in one order, whatever the order in which they were written: by what they name.
//!
//! The order of details means nothing (`grammar/README.md`); but where a sum does not come out even, one of the lines that share it must take
//! the rest, and hours that wear the same blade draw it one after the other. So lines that share, and hours, stand in the order of
//! their names, and what leaves or is counted in the order of things and lots. What comes of the same thing stays as it was written: of
//! two lots that came at once, the first written is the older.

use rust_decimal::Decimal;

use crate::events::{BoughtLine, BoughtWhat, EventKind, StockLine, TimeLine, Worker};
use crate::names::{LabelId, StepId, Target, ThingId};
use crate::units::Fixed6;

/// Puts the lines of what happened in order, where they share anything.
pub(crate) fn put_lines_in_order(kind: &mut EventKind) {
    match kind {
        EventKind::Bought(bought) => bought.lines.sort_by_key(bought_key),
        EventKind::Batch(work) => {
            work.used.sort_by_key(stock_key);
            work.took.sort_by_key(time_key);
            work.made.sort_by_key(|line| line.what);
            work.lost.sort_by_key(|line| (line.what, line.charged_off, line.quantity));
            work.kept.sort_by_key(|line| (line.thing, line.worth, line.quantity));
        }
        EventKind::Worked(lines) => lines.sort_by_key(time_key),
        EventKind::Sold(sold) => {
            sold.lines.sort_by_key(|line| (line.thing, line.lot.is_none(), line.lot, line.quantity, line.value));
            sold.packing.sort_by_key(stock_key);
            sold.incomes.sort_by_key(|line| (line.income, line.money, line.on));
        }
        EventKind::SentBack(sent) => sent.lines.sort_by_key(|line| line.goods.thing),
        EventKind::Moved(moved) => {
            moved.lines.sort_by_key(stock_key);
            moved.packing.sort_by_key(stock_key);
        }
        EventKind::Left(left) => left.lines.sort_by_key(|line| (stock_key(&line.goods), line.worth)),
        EventKind::Counted(counted) => counted.lines.sort_by_key(stock_key),
        _ => {}
    }
}

/// Goods that leave or are counted: of a thing the named lots first, so that they are there for the lines that name them.
fn stock_key(line: &StockLine) -> (ThingId, bool, Option<LabelId>, Decimal) {
    (line.thing, line.lot.is_none(), line.lot, line.quantity)
}

/// Stock first, so that two lots of a thing are told apart by nothing but how they were written; all else by what it is and its value.
fn bought_key(line: &BoughtLine) -> (u8, u32, Fixed6) {
    match line.what {
        BoughtWhat::Stock { thing, .. } => (0, thing.0, Fixed6::ZERO),
        BoughtWhat::Tool { tool, .. } => (1, tool.0, line.value),
        BoughtWhat::Licence { pattern, .. } => (2, pattern.0, line.value),
        BoughtWhat::Expense { expense, .. } => (3, expense.0, line.value),
        BoughtWhat::Batch(batch) => (4, batch.0, line.value),
        BoughtWhat::Home => (5, 0, line.value),
    }
}

fn time_key(line: &TimeLine) -> (StepId, Option<Target>, Fixed6, Option<(LabelId, Fixed6)>) {
    let hired = match line.worker {
        Worker::Owner(_) => None,
        Worker::Hired { name, pay, .. } => Some((name, pay)),
    };
    (line.step, line.on, line.minutes, hired)
}
