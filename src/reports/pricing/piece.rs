//! What one piece costs, and whence that is taken.

use chrono::Months;
use rust_decimal::Decimal;

use super::price_index::PriceIndex;
use crate::costing::{Component, CostVector};
use crate::names::ThingId;
use crate::reports::Period;
use crate::reports::period::per_unit;
use crate::units::{Fixed6, checked_add_exact, part_of};

/// What one piece costs, exactly over so many.
pub(crate) struct Piece {
    pub(crate) from: String,
    pub(crate) pieces: Decimal,
    pub(crate) vector: CostVector,
    /// The days in which they were finished; nothing where they are what is on hand.
    pub(crate) finished: Option<Period>,
}

/// Costs of one, as the report has them: the whole over the pieces, rounded once to six digits, and its components by largest remainder.
#[derive(Clone, Copy)]
pub(crate) struct One {
    pub(crate) paid: Fixed6,
    pub(crate) overhead: Fixed6,
    /// Own time as money, and its minutes; nothing where hours are unknown.
    pub(crate) hours: Option<(Fixed6, Fixed6)>,
}

/// Whence the cost of a piece is taken: what was finished in the days asked about; where none are, in the twelve months up to the last day, else
/// ever; else what is on hand. The outer `None` is overflow.
pub(super) fn piece_of(index: &PriceIndex<'_>, product: ThingId) -> Option<Option<Piece>> {
    let period = index.period;
    let last = [period.to, index.costed.until].into_iter().flatten().min();
    let asked = period != Period::default();
    let year_before = last.and_then(|day| day.checked_sub_months(Months::new(12))).and_then(|day| day.succ_opt());
    let mut tried = vec![period];
    if !asked {
        tried.insert(0, Period { from: year_before, to: last });
    }
    for days in tried {
        let (pieces, vector, batches) = finished(index, product, days)?;
        if pieces > Decimal::ZERO {
            let from = match (days.from, days.to) {
                (Some(from), Some(to)) => format!("{} finished from {from} to {to}", counted(batches, "batch", "batches")),
                (Some(from), None) => format!("{} finished from {from} on", counted(batches, "batch", "batches")),
                (None, Some(to)) => format!("{} finished up to {to}", counted(batches, "batch", "batches")),
                (None, None) => format!("{}, all that were finished", counted(batches, "batch", "batches")),
            };
            return Some(Some(Piece { from, pieces, vector, finished: Some(days) }));
        }
    }
    let mut pieces = Decimal::ZERO;
    let mut vector = CostVector::default();
    for lot in index.on_hand(product) {
        pieces = checked_add_exact(pieces, lot.quantity).ok()?;
        vector.add(&lot.vector)?;
    }
    let on_hand = (pieces > Decimal::ZERO).then(|| Piece {
        from: format!("what is on hand: no {} was finished in a batch", index.book.thing(product).named.name),
        pieces,
        vector,
        finished: None,
    });
    Some(on_hand)
}

fn counted(number: usize, one: &str, many: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {many}") }
}

/// Good pieces finished in some days, their cost, and in how many batches.
fn finished(index: &PriceIndex<'_>, product: ThingId, days: Period) -> Option<(Decimal, CostVector, usize)> {
    let (mut pieces, mut vector, mut batches, mut last) = (Decimal::ZERO, CostVector::default(), 0_usize, None);
    for (batch, item) in index.outputs(product).filter(|(_, item)| days.covers(item.date)) {
        pieces = checked_add_exact(pieces, item.quantity).ok()?;
        vector.add(&item.vector)?;
        if last != Some(batch) {
            batches = batches.saturating_add(1);
        }
        last = Some(batch);
    }
    Some((pieces, vector, batches))
}

pub(super) fn one_of(piece: &Piece) -> Option<One> {
    let of = |component| piece.vector.get(component);
    let materials = of(Component::Materials).checked_add(of(Component::Freight))?;
    let parts = [materials, of(Component::Wear), of(Component::BoughtInTime), of(Component::Royalty), of(Component::OwnTime)];
    let each = per_unit(&[parts.as_slice(), &[of(Component::Overhead)]].concat(), piece.pieces)?;
    let [materials, wear, bought_in_time, royalty, own_time, overhead] = *each.as_slice() else { return None };
    let hours = match piece.vector.hours_unknown() {
        true => None,
        false => Some((own_time, part_of(piece.vector.own_minutes()?, Decimal::ONE, piece.pieces)?)),
    };
    Some(One { paid: Fixed6::checked_sum([materials, wear, bought_in_time, royalty])?, overhead, hours })
}

impl One {
    /// Paid cost, overhead and own time; nothing where hours are unknown. The outer `None` is overflow.
    pub(crate) fn full(&self) -> Option<Option<Fixed6>> {
        let Some((own_time, _)) = self.hours else { return Some(None) };
        self.paid.checked_add(self.overhead)?.checked_add(own_time).map(Some)
    }
}
