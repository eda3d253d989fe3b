//! What is there on the last day: at home, out at other places, coming from the bench; and what it cost.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::expected::{amounts, part};
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
    /// All pieces still to come of a batch, each by its share of the batch.
    to_come: BTreeMap<BatchId, Decimal>,
    /// The share of a piece in a batch that aims at several things.
    shares: BTreeMap<(BatchId, ThingId), Decimal>,
    /// By the batch that aims at it.
    on_the_bench: BTreeMap<ThingId, Vec<(BatchId, Decimal)>>,
}

impl There {
    /// Looks at the shelves and the bench once. `None` where a sum is too large to be carried.
    pub(super) fn of(books: Books<'_>, oldest_first: bool) -> Option<Self> {
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
                let done = batch.outputs.iter().filter(|item| item.what == *what).map(|item| item.quantity);
                let lost = batch.losses.iter().filter(|item| item.what == Some(*what)).map(|item| item.quantity);
                let mut left = *aim;
                for pieces in done.chain(lost) {
                    left = left.saturating_sub(pieces);
                }
                let left = left.max(Decimal::ZERO);
                let share = shares.get(what).copied().unwrap_or(Decimal::ONE);
                let to_come = there.to_come.entry(batch.batch).or_default();
                *to_come = checked_add_exact(*to_come, checked_mul_exact(left, share).ok()?).ok()?;
                let Output::Thing(thing) = what else { continue };
                there.shares.insert((batch.batch, *thing), share);
                // What cannot be added up is refused here, so that it can be added up later.
                checked_add_exact(there.on_the_bench(*thing), left).ok()?;
                there.on_the_bench.entry(*thing).or_default().push((batch.batch, left));
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

    /// All pieces still to come of a batch on the bench, each by its share of the batch.
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

    /// Aimed at by batches on the bench and not finished yet.
    pub(crate) fn on_the_bench(&self, thing: ThingId) -> Decimal {
        self.by_batch(thing).iter().fold(Decimal::ZERO, |sum, (_, left)| sum.saturating_add(*left))
    }

    /// The same by the batch.
    pub(crate) fn by_batch(&self, thing: ThingId) -> &[(BatchId, Decimal)] {
        self.on_the_bench.get(&thing).map_or(&[], Vec::as_slice)
    }

    /// Everything at home, by thing.
    pub(crate) fn all_at_home(&self) -> impl Iterator<Item = (ThingId, Decimal)> {
        self.at_home.iter().map(|(thing, (quantity, _))| (*thing, *quantity))
    }
}
