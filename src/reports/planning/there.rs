//! What is there on the last day: at home, out at other places, coming from the bench; and what it cost.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::costing::{BatchState, CostVector, CostedBook};
use crate::events::Output;
use crate::names::{BatchId, PlaceId, ThingId};
use crate::units::checked_add_exact;

/// What is there.
#[derive(Clone, Debug, Default)]
pub(crate) struct There {
    at_home: BTreeMap<ThingId, (Decimal, CostVector)>,
    elsewhere: BTreeMap<ThingId, Decimal>,
    /// By the batch that aims at it.
    on_the_bench: BTreeMap<ThingId, Vec<(BatchId, Decimal)>>,
}

impl There {
    /// Looks at the shelves and the bench once. `None` where a sum is too large to be carried.
    pub(super) fn of(costed: &CostedBook, home: Option<PlaceId>) -> Option<Self> {
        let mut there = Self::default();
        for lot in &costed.stock {
            if Some(lot.place) == home {
                let (quantity, vector) = there.at_home.entry(lot.thing).or_default();
                *quantity = checked_add_exact(*quantity, lot.quantity).ok()?;
                vector.add(&lot.vector)?;
            } else {
                let quantity = there.elsewhere.entry(lot.thing).or_default();
                *quantity = checked_add_exact(*quantity, lot.quantity).ok()?;
            }
        }
        for batch in costed.batches.iter().filter(|batch| batch.state == BatchState::OnTheBench) {
            for (what, aim) in &batch.aims {
                let Output::Thing(thing) = what else { continue };
                let done = batch.outputs.iter().filter(|item| item.what == *what).map(|item| item.quantity);
                let lost = batch.losses.iter().filter(|item| item.what == Some(*what)).map(|item| item.quantity);
                let mut left = *aim;
                for pieces in done.chain(lost) {
                    left = left.saturating_sub(pieces);
                }
                let left = left.max(Decimal::ZERO);
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
