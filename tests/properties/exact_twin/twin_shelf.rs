//! What is on hand, exactly: lots by thing and place in the order of their age, and under average one pool of cost for them.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use kerfbook::names::{LabelId, PlaceId, ThingId};
use num_traits::Zero;

use super::exact_number::{Exact, nothing, share};
use super::exact_vector::{Cut, ExactVector};

/// Where a lot came from. Older comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Origin {
    pub(crate) date: NaiveDate,
    pub(crate) number: u32,
    pub(crate) event: u32,
    /// Its code, or its batch's name.
    pub(crate) code: Option<LabelId>,
}

/// A lot at a place.
#[derive(Clone, Debug)]
pub(crate) struct TwinLot {
    pub(crate) origin: Origin,
    pub(crate) quantity: Exact,
    /// Its cost; under average, nothing, since the pool has it.
    pub(crate) vector: ExactVector,
}

/// Pieces that left together, with their cost.
#[derive(Clone, Debug)]
pub(crate) struct Issued {
    pub(crate) pieces: Vec<TwinLot>,
    pub(crate) vector: ExactVector,
}

/// Lots and pool of a thing at a place.
#[derive(Clone, Debug, Default)]
pub(crate) struct Heap {
    pub(crate) lots: Vec<TwinLot>,
    pub(crate) pool: ExactVector,
}

impl Heap {
    pub(crate) fn quantity(&self) -> Exact {
        self.lots.iter().map(|lot| lot.quantity.clone()).sum()
    }
}

/// Everything on hand.
#[derive(Clone, Debug, Default)]
pub(crate) struct TwinShelf {
    pub(crate) heaps: BTreeMap<(ThingId, PlaceId), Heap>,
    pub(crate) average: bool,
    next: u32,
}

impl TwinShelf {
    /// The number of the next lot.
    pub(crate) fn next_number(&mut self) -> u32 {
        self.next += 1;
        self.next
    }

    /// Puts a lot to a place.
    pub(crate) fn put(&mut self, thing: ThingId, place: PlaceId, lot: TwinLot) {
        if lot.quantity.is_zero() {
            return;
        }
        let heap = self.heaps.entry((thing, place)).or_default();
        let mut lot = lot;
        if self.average {
            heap.pool.add(&std::mem::take(&mut lot.vector));
        }
        match heap.lots.binary_search_by(|one| one.origin.cmp(&lot.origin)) {
            Ok(at) => {
                heap.lots[at].quantity += &lot.quantity;
                heap.lots[at].vector.add(&lot.vector);
            }
            Err(at) => heap.lots.insert(at, lot),
        }
    }

    /// How much of a thing is at a place, of a lot if one is named.
    pub(crate) fn on_hand(&self, thing: ThingId, place: PlaceId, code: Option<LabelId>) -> Exact {
        let Some(heap) = self.heaps.get(&(thing, place)) else { return nothing() };
        heap.lots.iter().filter(|lot| code.is_none() || lot.origin.code == code).map(|lot| lot.quantity.clone()).sum()
    }

    /// Issues from the lots that are chosen, the oldest first. Gives what they lack too.
    pub(crate) fn issue(
        &mut self,
        thing: ThingId,
        place: PlaceId,
        quantity: &Exact,
        chosen: impl Fn(&Origin) -> bool,
    ) -> (Issued, Exact) {
        let mut issued = Issued { pieces: Vec::new(), vector: ExactVector::default() };
        let average = self.average;
        let Some(heap) = self.heaps.get_mut(&(thing, place)) else {
            return (issued, quantity.clone());
        };
        let there: Exact = heap.lots.iter().filter(|lot| chosen(&lot.origin)).map(|lot| lot.quantity.clone()).sum();
        let lacks = if *quantity > there { quantity - &there } else { nothing() };
        let quantity = &(quantity - &lacks);
        if average {
            let whole = heap.quantity();
            issued.vector = heap.pool.draw(&share(quantity, &whole));
        }
        let mut left = quantity.clone();
        for lot in heap.lots.iter_mut().filter(|lot| chosen(&lot.origin)) {
            if left.is_zero() {
                break;
            }
            let part = if lot.quantity < left { lot.quantity.clone() } else { left.clone() };
            let vector = if average {
                // Under average the pieces share what left by their number.
                issued.vector.part(&share(&part, quantity), Cut::Split)
            } else {
                lot.vector.draw(&share(&part, &lot.quantity))
            };
            lot.quantity -= &part;
            left -= &part;
            if !average {
                issued.vector.add(&vector);
            }
            issued.pieces.push(TwinLot { origin: lot.origin, quantity: part, vector });
        }
        heap.lots.retain(|lot| !lot.quantity.is_zero());
        (issued, lacks)
    }

    /// Changes the way of costing, on a first January: lots are pooled, or take their parts of the pool.
    pub(crate) fn change_to(&mut self, average: bool) {
        if self.average == average {
            return;
        }
        self.average = average;
        for heap in self.heaps.values_mut() {
            let whole = heap.quantity();
            for lot in &mut heap.lots {
                if average {
                    heap.pool.add(&std::mem::take(&mut lot.vector));
                } else {
                    lot.vector = heap.pool.part(&share(&lot.quantity, &whole), Cut::Split);
                }
            }
            if !average {
                heap.pool = ExactVector::default();
            }
        }
    }

    /// Every lot on hand with its cost (under average, its part of the pool).
    pub(crate) fn lots(&self) -> Vec<(ThingId, PlaceId, TwinLot)> {
        let mut out = Vec::new();
        for ((thing, place), heap) in &self.heaps {
            let whole = heap.quantity();
            for lot in &heap.lots {
                let mut lot = lot.clone();
                if self.average {
                    lot.vector = heap.pool.part(&share(&lot.quantity, &whole), Cut::Split);
                }
                out.push((*thing, *place, lot));
            }
        }
        out
    }

    /// The sum of the cost of everything on hand.
    pub(crate) fn value(&self) -> ExactVector {
        let mut sum = ExactVector::default();
        for heap in self.heaps.values() {
            sum.add(&heap.pool);
            heap.lots.iter().for_each(|lot| sum.add(&lot.vector));
        }
        sum
    }
}
