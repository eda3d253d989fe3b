//! What one piece costs, and whence that is taken.

use chrono::Months;
use rust_decimal::Decimal;

use crate::costing::{Component, CostVector, CostedBook};
use crate::events::Output;
use crate::names::{ResolvedBook, ThingId};
use crate::reports::Period;
use crate::units::{Fixed6, checked_add_exact, part_of};

/// What one piece costs, exactly over so many.
pub(super) struct Piece {
    pub(super) from: String,
    pub(super) pieces: Decimal,
    pub(super) vector: CostVector,
}

/// Costs of one, each rounded to six digits.
#[derive(Clone, Copy)]
pub(super) struct One {
    pub(super) paid: Fixed6,
    pub(super) overhead: Fixed6,
    /// Own time as money, and its minutes; nothing where hours are unknown.
    pub(super) hours: Option<(Fixed6, Fixed6)>,
}

/// Whence the cost of a piece is taken: what was finished in the days asked about; where none are, in the twelve months up to the last day, else
/// ever; else what is on hand. The outer `None` is overflow.
pub(super) fn piece_of(book: &ResolvedBook, costed: &CostedBook, product: ThingId, period: Period) -> Option<Option<Piece>> {
    let last = [period.to, costed.until].into_iter().flatten().min();
    let asked = period != Period::default();
    let year_before = last.and_then(|day| day.checked_sub_months(Months::new(12))).and_then(|day| day.succ_opt());
    let mut tried = vec![period];
    if !asked {
        tried.insert(0, Period { from: year_before, to: last });
    }
    for days in tried {
        let (pieces, vector, batches) = finished(costed, product, days)?;
        if pieces > Decimal::ZERO {
            let from = match (days.from, days.to) {
                (Some(from), Some(to)) => format!("{} finished from {from} to {to}", counted(batches, "batch", "batches")),
                (Some(from), None) => format!("{} finished from {from} on", counted(batches, "batch", "batches")),
                (None, Some(to)) => format!("{} finished up to {to}", counted(batches, "batch", "batches")),
                (None, None) => format!("{}, all that were finished", counted(batches, "batch", "batches")),
            };
            return Some(Some(Piece { from, pieces, vector }));
        }
    }
    let mut pieces = Decimal::ZERO;
    let mut vector = CostVector::default();
    for lot in costed.stock.iter().filter(|lot| lot.thing == product) {
        pieces = checked_add_exact(pieces, lot.quantity).ok()?;
        vector.add(&lot.vector)?;
    }
    let on_hand = (pieces > Decimal::ZERO).then(|| Piece {
        from: format!("what is on hand: no {} was finished in a batch", book.thing(product).named.name),
        pieces,
        vector,
    });
    Some(on_hand)
}

fn counted(number: usize, one: &str, many: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {many}") }
}

/// Good pieces finished in some days, their cost, and in how many batches.
fn finished(costed: &CostedBook, product: ThingId, days: Period) -> Option<(Decimal, CostVector, usize)> {
    let (mut pieces, mut vector, mut batches) = (Decimal::ZERO, CostVector::default(), 0);
    for batch in &costed.batches {
        let mut any = false;
        for item in batch.outputs.iter().filter(|item| item.what == Output::Thing(product) && days.covers(item.date)) {
            pieces = checked_add_exact(pieces, item.quantity).ok()?;
            vector.add(&item.vector)?;
            any = true;
        }
        batches += usize::from(any);
    }
    Some((pieces, vector, batches))
}

pub(super) fn one_of(piece: &Piece) -> Option<One> {
    let each = |sum: Fixed6| part_of(sum, Decimal::ONE, piece.pieces);
    let hours = if piece.vector.hours_unknown() {
        None
    } else {
        Some((each(piece.vector.get(Component::OwnTime))?, each(piece.vector.own_minutes()?)?))
    };
    Some(One { paid: each(piece.vector.paid()?)?, overhead: each(piece.vector.get(Component::Overhead))?, hours })
}
