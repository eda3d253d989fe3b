//! The lines of an entry in one order, whatever the order in which they were written: by what they name.
//!
//! The order of details means nothing (`grammar/README.md`); but where a sum does not come out even, one of the lines that share it must take
//! the rest, and hours that wear the same blade draw it one after the other. So lines that share, and hours, stand in the order of
//! their names. Lines of the same thing stay as they were written: of two lots that came at once, the first written is the older.

use crate::events::{BoughtLine, BoughtWhat, EventKind, TimeLine, Worker};
use crate::names::{LabelId, StepId, Target};
use crate::units::Fixed6;

/// Puts the lines of what happened in order, where they share anything.
pub(crate) fn put_lines_in_order(kind: &mut EventKind) {
    match kind {
        EventKind::Bought(bought) => bought.lines.sort_by_key(bought_key),
        EventKind::Batch(work) => {
            work.took.sort_by_key(time_key);
            work.made.sort_by_key(|line| line.what);
            work.lost.sort_by_key(|line| (line.what, line.charged_off, line.quantity));
            work.kept.sort_by_key(|line| (line.thing, line.worth, line.quantity));
        }
        EventKind::Worked(lines) => lines.sort_by_key(time_key),
        EventKind::Sold(sold) => {
            sold.lines.sort_by_key(|line| line.thing);
            sold.incomes.sort_by_key(|line| (line.income, line.money, line.on));
        }
        EventKind::SentBack(sent) => sent.lines.sort_by_key(|line| line.goods.thing),
        _ => {}
    }
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
