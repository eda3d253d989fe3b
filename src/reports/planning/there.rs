//! What is there on the last day: at home, out at other places, coming from the bench; and what it cost.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::expected::{amounts, part};
use super::explode::{Ground, is_whole};
use super::learnt::Learnt;
use super::shares::shares_of;
use crate::costing::{Amounts, BatchState, CostVector};
use crate::events::Output;
use crate::names::{BatchId, ThingId};
use crate::units::{checked_add_exact, checked_mul_exact, checked_sub_exact};
use crate::year::Books;

/// What is there.
#[derive(Clone, Debug, Default)]
pub(crate) struct There {
    at_home: BTreeMap<ThingId, (Decimal, CostVector)>,
    /// The same lot by lot, the oldest first, where the oldest goes first.
    lots: BTreeMap<ThingId, Vec<(Decimal, CostVector)>>,
    elsewhere: BTreeMap<ThingId, Decimal>,
    /// All good pieces that are expected of a batch, each by its share of the batch.
    to_come: BTreeMap<BatchId, Decimal>,
    /// The share of a piece in a batch that aims at several things.
    shares: BTreeMap<(BatchId, ThingId), Decimal>,
    /// By the batch that aims at it.
    on_the_bench: BTreeMap<ThingId, Vec<ToCome>>,
}

/// Pieces of a thing that an open batch still aims at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct ToCome {
    pub(crate) batch: BatchId,
    /// How many, some of which may be lost.
    pub(crate) open: Decimal,
    /// How many of these are expected to come out good.
    pub(crate) good: Decimal,
}

impl There {
    /// Looks at the shelves and the bench once. `None` where a sum is too large to be carried.
    pub(super) fn of(books: Books<'_>, ground: Ground<'_>, oldest_first: bool) -> Option<Self> {
        let (costed, home) = (books.costed, books.book.shop.home);
        let mut there = Self::default();
        for lot in &costed.stock {
            if Some(lot.place) == home {
                let (quantity, vector) = there.at_home.entry(lot.thing).or_default();
                *quantity = checked_add_exact(*quantity, lot.quantity).ok()?;
                vector.add(&lot.vector)?;
                if oldest_first && lot.quantity > Decimal::ZERO {
                    there.lots.entry(lot.thing).or_default().push((lot.quantity, lot.vector.clone()));
                }
            } else {
                let quantity = there.elsewhere.entry(lot.thing).or_default();
                *quantity = checked_add_exact(*quantity, lot.quantity).ok()?;
            }
        }
        for batch in costed.batches.iter().filter(|batch| batch.state == BatchState::OnTheBench) {
            let shares = shares_of(books, batch);
            for (what, aim) in &batch.aims {
                let mut done = Decimal::ZERO;
                for item in batch.outputs.iter().filter(|item| item.what == *what) {
                    done = checked_add_exact(done, item.quantity).ok()?;
                }
                let (mut lost, mut charged_off) = (Decimal::ZERO, Decimal::ZERO);
                for item in batch.losses.iter().filter(|item| item.what == Some(*what)) {
                    let sum = if item.charged_off { &mut charged_off } else { &mut lost };
                    *sum = checked_add_exact(*sum, item.quantity).ok()?;
                }
                let begun = aim.saturating_sub(charged_off);
                let open = begun.saturating_sub(done).saturating_sub(lost).max(Decimal::ZERO);
                let left = match what {
                    Output::Thing(thing) => {
                        Learnt::of(ground, *thing)?.good_of(begun, is_whole(ground, *thing))?.saturating_sub(done)
                    }
                    Output::Tool(_) => open,
                };
                let left = left.min(open).max(Decimal::ZERO);
                let share = shares.get(what).copied().unwrap_or(Decimal::ONE);
                let to_come = there.to_come.entry(batch.batch).or_default();
                *to_come = checked_add_exact(*to_come, checked_mul_exact(left, share).ok()?).ok()?;
                let Output::Thing(thing) = what else { continue };
                there.shares.insert((batch.batch, *thing), share);
                // What cannot be added up is refused here, so that it can be added up later.
                checked_add_exact(there.on_the_bench(*thing), left).ok()?;
                there.on_the_bench.entry(*thing).or_default().push(ToCome { batch: batch.batch, open, good: left });
            }
        }
        Some(there)
    }

    /// On hand at home.
    pub(crate) fn at_home(&self, thing: ThingId) -> Decimal {
        self.at_home.get(&thing).map_or(Decimal::ZERO, |(quantity, _)| *quantity)
    }

    /// What that cost, where some is there.
    pub(crate) fn cost_at_home(&self, thing: ThingId) -> Option<&(Decimal, CostVector)> {
        self.at_home.get(&thing).filter(|(quantity, _)| *quantity > Decimal::ZERO)
    }

    /// What so much of all that is at home cost, freight among the materials: the oldest where these go first, else the mean. Nothing where none
    /// is there; the outer `None` is overflow.
    pub(super) fn cost_of(&self, thing: ThingId, much: Decimal) -> Option<Option<Amounts>> {
        let Some((on_hand, vector)) = self.cost_at_home(thing) else { return Some(None) };
        let Some(lots) = self.lots.get(&thing).filter(|_| much < *on_hand) else {
            return part(&amounts(vector)?, much, *on_hand).map(Some);
        };
        let (mut rest, mut sum) = (much, Amounts::default());
        for (quantity, vector) in lots {
            let taken = rest.min(*quantity);
            if taken <= Decimal::ZERO {
                break;
            }
            sum = sum.plus(&part(&amounts(vector)?, taken, *quantity)?)?;
            rest = checked_sub_exact(rest, taken).ok()?;
        }
        Some(Some(sum))
    }

    /// All good pieces that are expected of a batch on the bench, each by its share of the batch.
    pub(super) fn to_come(&self, batch: BatchId) -> Option<Decimal> {
        self.to_come.get(&batch).copied()
    }

    /// So many of these, by their share. `None` is overflow.
    pub(super) fn share_of(&self, batch: BatchId, thing: ThingId, pieces: Decimal) -> Option<Decimal> {
        let share = self.shares.get(&(batch, thing)).copied().unwrap_or(Decimal::ONE);
        checked_mul_exact(pieces, share).ok()
    }

    /// Out at other places.
    pub(crate) fn elsewhere(&self, thing: ThingId) -> Decimal {
        self.elsewhere.get(&thing).copied().unwrap_or_default()
    }

    /// Expected to come from batches on the bench: what all that they aim at gives, as the last batches did, less what they gave so far.
    pub(crate) fn on_the_bench(&self, thing: ThingId) -> Decimal {
        self.by_batch(thing).iter().fold(Decimal::ZERO, |sum, one| sum.saturating_add(one.good))
    }

    /// The same by the batch.
    pub(crate) fn by_batch(&self, thing: ThingId) -> &[ToCome] {
        self.on_the_bench.get(&thing).map_or(&[], Vec::as_slice)
    }

    /// The same of everything, by thing.
    pub(super) fn all_on_the_bench(&self) -> impl Iterator<Item = (ThingId, &ToCome)> {
        self.on_the_bench.iter().flat_map(|(thing, batches)| batches.iter().map(|one| (*thing, one)))
    }

    /// Everything at home, by thing.
    pub(crate) fn all_at_home(&self) -> impl Iterator<Item = (ThingId, Decimal)> {
        self.at_home.iter().map(|(thing, (quantity, _))| (*thing, *quantity))
    }
}
