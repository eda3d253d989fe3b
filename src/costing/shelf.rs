//! A shelf: one thing at one place, lot by lot, oldest first.
//!
//! Costing rule 2. Under FIFO each lot keeps its own vector, and the shelf's value is kept beside them as they come and go. Under average
//! the value is the pool, and the lots travel with quantities alone, for the trace. Taking the rest of a lot or pool takes the rest of its value.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::fault::{Costed, OrFault};
use crate::costing::{CostVector, LotOrigin, Pieces};
use crate::names::{BatchId, LabelId};
use crate::sources::Span;
use crate::units::{checked_add_exact, checked_sub_exact};

/// Age, then order of arrival.
type LotKey = (NaiveDate, u32);

/// Goods of one origin on a shelf.
#[derive(Clone, Debug)]
pub(crate) struct Lot {
    /// Where they came from.
    pub(crate) origin: LotOrigin,
    /// How much.
    pub(crate) quantity: Decimal,
    /// Their cost; nothing under average.
    pub(crate) vector: CostVector,
}

/// Which lots an issue may take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// The oldest.
    Oldest,
    /// Those of a code or of a batch, oldest first.
    Named(LabelId, Option<BatchId>),
    /// One lot.
    Exactly(u32),
}

impl Wanted {
    pub(crate) fn takes(self, origin: &LotOrigin) -> bool {
        match self {
            Self::Oldest => true,
            Self::Named(code, batch) => origin.code == Some(code) || (batch.is_some() && origin.batch == batch),
            Self::Exactly(number) => origin.number == number,
        }
    }
}

/// One thing at one place.
#[derive(Clone, Debug, Default)]
pub(crate) struct Shelf {
    /// Boxed, since a tree that grows at its end is half empty.
    lots: BTreeMap<LotKey, Box<Lot>>,
    on_hand: Decimal,
    /// The cost of all that is here: under average the pool, else the sum of the lots.
    value: CostVector,
    is_average: bool,
    /// Issued without stock and not yet settled by a receipt, with the cost at which it was issued.
    pub(crate) unrecorded: Option<(Decimal, CostVector)>,
    /// Whether a shortage was told: one cause, one message.
    pub(crate) shortage_told: bool,
    /// Whether a shortage of one of its lots was told.
    pub(crate) lot_shortage_told: bool,
    /// What last came here, whatever way it came: the event's index and the line.
    pub(crate) last_in: Option<(u32, Span)>,
}

impl Shelf {
    /// How much is here.
    pub(crate) fn on_hand(&self) -> Decimal {
        self.on_hand
    }

    /// The lots, oldest first. Under average their vectors are empty: see [`Shelf::into_valued_lots`].
    pub(crate) fn lots(&self) -> impl DoubleEndedIterator<Item = &Lot> {
        self.lots.values().map(|lot| &**lot)
    }

    /// How much of the wanted lots is here.
    pub(crate) fn available(&self, wanted: Wanted) -> Costed<Decimal> {
        if wanted == Wanted::Oldest {
            return Ok(self.on_hand);
        }
        let mut sum = Decimal::ZERO;
        for lot in self.lots.values().filter(|lot| wanted.takes(&lot.origin)) {
            sum = checked_add_exact(sum, lot.quantity)?;
        }
        Ok(sum)
    }

    /// The cost of all that is here.
    pub(crate) fn value(&self) -> &CostVector {
        &self.value
    }

    /// The cost of all that is here, added up from the lots; under average, the pool.
    pub(crate) fn added_up(&self) -> Costed<CostVector> {
        if self.is_average {
            return Ok(self.value.clone());
        }
        let mut sum = CostVector::default();
        for lot in self.lots.values() {
            sum.add(&lot.vector).or_fault()?;
        }
        Ok(sum)
    }

    /// The lots with their cost; under average, their parts of the pool, oldest first, the last takes the rest.
    pub(crate) fn into_valued_lots(mut self) -> Costed<impl Iterator<Item = Lot>> {
        self.make_fifo()?;
        Ok(self.lots.into_values().map(|lot| *lot))
    }

    /// Whether the shelf keeps a pool.
    pub(crate) fn is_average(&self) -> bool {
        self.is_average
    }

    /// From now on one pool: the value of all lots.
    pub(crate) fn make_average(&mut self) -> Costed<()> {
        if !self.is_average {
            self.value = self.added_up()?;
            self.is_average = true;
            for lot in self.lots.values_mut() {
                lot.vector = CostVector::default();
            }
        }
        Ok(())
    }

    /// From now on lot by lot: each takes its part of the pool.
    pub(crate) fn make_fifo(&mut self) -> Costed<()> {
        if self.is_average {
            let mut rest = self.value.clone();
            let mut quantity = self.on_hand;
            for lot in self.lots.values_mut() {
                lot.vector = rest.take_part(lot.quantity, quantity).or_fault()?;
                quantity = checked_sub_exact(quantity, lot.quantity)?;
            }
            self.is_average = false;
        }
        Ok(())
    }

    /// Puts goods on the shelf. Goods of a lot that is here join it.
    pub(crate) fn put(&mut self, mut lot: Lot) -> Costed<()> {
        self.on_hand = checked_add_exact(self.on_hand, lot.quantity)?;
        self.value.add(&lot.vector).or_fault()?;
        if self.is_average {
            lot.vector = CostVector::default();
        }
        match self.lots.entry((lot.origin.date, lot.origin.number)) {
            std::collections::btree_map::Entry::Vacant(free) => {
                free.insert(Box::new(lot));
            }
            std::collections::btree_map::Entry::Occupied(mut here) => {
                let here = here.get_mut();
                here.quantity = checked_add_exact(here.quantity, lot.quantity)?;
                here.vector.add(&lot.vector).or_fault()?;
            }
        }
        Ok(())
    }

    /// Takes goods off the shelf. There must be as much: the caller has asked [`Shelf::available`].
    pub(crate) fn take(&mut self, quantity: Decimal, wanted: Wanted) -> Costed<Vec<Pieces>> {
        let mut pooled = match self.is_average {
            true => Some(self.value.take_part(quantity, self.on_hand).or_fault()?),
            false => None,
        };
        self.on_hand = checked_sub_exact(self.on_hand, quantity)?;
        let mut left = quantity;
        let mut pieces = Vec::with_capacity(1);
        while !left.is_zero() {
            let found = match wanted {
                Wanted::Oldest => self.lots.first_entry().map(|entry| *entry.key()),
                _ => self.lots.iter().find(|(_, lot)| wanted.takes(&lot.origin)).map(|(key, _)| *key),
            };
            let Some(lot) = found.and_then(|key| self.lots.get_mut(&key)) else { break };
            let taken = lot.quantity.min(left);
            let mut piece = Pieces { lot: lot.origin, quantity: taken, vector: CostVector::default() };
            if let Some(pooled) = &mut pooled {
                piece.vector = pooled.take_part(taken, left).or_fault()?;
            } else {
                piece.vector = lot.vector.take_part(taken, lot.quantity).or_fault()?;
                self.value.subtract(&piece.vector).or_fault()?;
            }
            lot.quantity = checked_sub_exact(lot.quantity, taken)?;
            if lot.quantity.is_zero()
                && let Some(key) = found
            {
                self.lots.remove(&key);
            }
            left = checked_sub_exact(left, taken)?;
            pieces.push(piece);
        }
        Ok(pieces)
    }

    /// All of it was in the shop when a year began.
    pub(crate) fn carry_in(&mut self, year: i32, paid_only: bool) -> Costed<()> {
        if self.is_average {
            return self.value.carry_in(year, paid_only).or_fault();
        }
        for lot in self.lots.values_mut() {
            lot.vector.carry_in(year, paid_only).or_fault()?;
        }
        self.value = self.added_up()?;
        Ok(())
    }

    /// Adds to or takes from the cost of what is here of one lot (a credit). Under average, of the pool.
    pub(crate) fn change_value(&mut self, number: u32, change: &CostVector) -> Costed<bool> {
        let target = match self.lots.values_mut().find(|lot| lot.origin.number == number) {
            _ if self.is_average => &mut self.value,
            Some(lot) => &mut lot.vector,
            None => return Ok(false),
        };
        let mut changed = target.clone();
        changed.add(change).or_fault()?;
        if changed.has_negative() {
            return Ok(false);
        }
        *target = changed;
        if !self.is_average {
            self.value.add(change).or_fault()?;
        }
        Ok(true)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costing::Component;
    use crate::units::Fixed6;

    fn lot(day: u32, number: u32, quantity: i64, micros: i128) -> Lot {
        let date = NaiveDate::from_ymd_opt(2026, 3, day).expect("a day");
        let origin = LotOrigin { date, number, code: None, batch: None, event: 0 };
        Lot { origin, quantity: quantity.into(), vector: CostVector::of(Component::Materials, Fixed6::from_micros(micros)) }
    }

    #[test]
    fn a_shelf_is_worth_what_its_lots_add_up_to_whatever_comes_and_goes() {
        let mut shelf = Shelf::default();
        let holds = |shelf: &Shelf, micros| {
            assert_eq!(shelf.value().get(Component::Materials), Fixed6::from_micros(micros));
            assert_eq!(shelf.value(), &shelf.added_up().expect("fits"));
        };
        shelf.put(lot(2, 1, 3, 10)).expect("fits");
        shelf.put(lot(5, 2, 7, 100)).expect("fits");
        holds(&shelf, 110);
        // One of three at 10 takes 3 (3.33 rounded), and the rest of the lot the rest of its value.
        shelf.take(1.into(), Wanted::Oldest).expect("there");
        holds(&shelf, 107);
        shelf.take(4.into(), Wanted::Oldest).expect("there");
        holds(&shelf, 71);
        assert!(shelf.change_value(2, &CostVector::of(Component::Materials, Fixed6::from_micros(-21))).expect("fits"));
        holds(&shelf, 50);
        shelf.make_average().expect("fits");
        shelf.put(lot(9, 3, 5, 50)).expect("fits");
        holds(&shelf, 100);
        shelf.make_fifo().expect("fits");
        holds(&shelf, 100);
        shelf.take(10.into(), Wanted::Oldest).expect("there");
        holds(&shelf, 0);
    }
}
