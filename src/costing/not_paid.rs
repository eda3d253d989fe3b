//! What of the costs that came in is not paid at the ends of years: said to the engine, which lets it travel with the goods.
//!
//! A bill's later payments are known only when the whole book was walked. Where a bill of stock is open over a year's end on the
//! cash basis, the book is walked again with these marks; else nothing of this exists, and it costs nothing.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};

use crate::costing::beside::{Mark, PAID, PaidParts};
use crate::costing::engine::Engine;
use crate::costing::fault::{Costed, OrFault};
use crate::costing::{Component, CostVector};
use crate::events::{EventKind, EventLog, LeftHow};
use crate::names::{Basis, ResolvedBook, StockKept};
use crate::syntax::GaveAs;
use crate::units::Fixed6;

/// What is unpaid of each movement that came in, by the index of the movement and the year at whose end it is unpaid.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NotPaid {
    by_movement: BTreeMap<u32, Vec<(i32, PaidParts)>>,
}

impl NotPaid {
    /// Says that a part of a movement's component is not paid at the end of a year; it has the sign that it has in the movement. `None` on
    /// overflow. What is not in the paid cost is owed to nobody and is left out.
    pub fn add(&mut self, movement: u32, year: i32, component: Component, amount: Fixed6) -> Option<()> {
        let years = self.by_movement.entry(movement).or_default();
        let at = match years.iter().position(|(one, _)| *one == year) {
            Some(at) => at,
            None => {
                years.push((year, [Fixed6::ZERO; PAID]));
                years.len().checked_sub(1)?
            }
        };
        if let Some(slot) = years.get_mut(at).and_then(|(_, parts)| parts.get_mut(component as usize)) {
            *slot = slot.checked_add(amount)?;
        }
        Some(())
    }

    /// Whether nothing is unpaid at any year's end.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.by_movement.is_empty()
    }
}

/// The years in which it matters what was in the shop when they began: something was donated, or taken home while stock is kept as
/// supplies.
pub(crate) fn years_that_carry_in(log: &EventLog, book: &ResolvedBook) -> BTreeSet<i32> {
    let asks = |kind: &EventKind, day| match kind {
        EventKind::Left(left) => match left.how {
            LeftHow::Gave(GaveAs::Donation) => true,
            LeftHow::TookHome => *book.shop.stock_kept.on(day) == StockKept::Supplies,
            _ => false,
        },
        _ => false,
    };
    log.events.iter().filter(|event| asks(&event.kind, event.date)).map(|event| event.date.year()).collect()
}

impl Engine<'_> {
    /// Marks a cost that the next movement brings in by what of it is not paid at the ends of years.
    pub(crate) fn mark_unpaid(&self, vector: &mut CostVector) {
        let Some(not_paid) = self.not_paid else { return };
        let next = u32::try_from(self.ledger.movements.len()).ok();
        for (year, parts) in next.and_then(|next| not_paid.by_movement.get(&next)).into_iter().flatten() {
            vector.set_mark(Mark::NotPaid(*year), *parts);
        }
    }

    /// What is opened on a first of January was in the shop when the year began.
    pub(crate) fn carry_in_on_the_first_day(&self, vector: &mut CostVector) -> Costed<()> {
        let year = self.now.date.year();
        if self.now.date.ordinal() == 1 && self.carries_in.contains(&year) {
            vector.carry_in(year, false).or_fault()?;
        }
        Ok(())
    }

    /// All that is in the shop on a year's first day is marked so, where the year asks for it.
    pub(crate) fn carry_in(&mut self, first: NaiveDate) -> Costed<()> {
        let year = first.year();
        if !self.carries_in.contains(&year) {
            return Ok(());
        }
        let paid_only = *self.book.shop.basis.on(first) == Basis::Cash;
        for shelf in &mut self.shelves {
            shelf.carry_in(year, paid_only)?;
        }
        self.batches.carry_in(year, paid_only)?;
        self.licences.carry_in(year, paid_only).or_fault()
    }
}
