//! What is there on the last day: at home, out at other places, coming from the bench; and what it cost.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::costing::{BatchState, CostVector, CostedBook};
use crate::events::Output;
use crate::names::{PlaceId, ThingId};
use crate::units::checked_add_exact;

/// What is there.
#[derive(Clone, Debug, Default)]
pub(super) struct There {
    at_home: BTreeMap<ThingId, (Decimal, CostVector)>,
    elsewhere: BTreeMap<ThingId, Decimal>,
    on_the_bench: BTreeMap<ThingId, Decimal>,
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
                let quantity = there.on_the_bench.entry(*thing).or_default();
                *quantity = checked_add_exact(*quantity, left.max(Decimal::ZERO)).ok()?;
            }
        }
        Some(there)
    }

    /// On hand at home.
    pub(super) fn at_home(&self, thing: ThingId) -> Decimal {
        self.at_home.get(&thing).map_or(Decimal::ZERO, |(quantity, _)| *quantity)
    }

    /// What that cost, where some is there.
    pub(super) fn cost_at_home(&self, thing: ThingId) -> Option<&(Decimal, CostVector)> {
        self.at_home.get(&thing).filter(|(quantity, _)| *quantity > Decimal::ZERO)
    }

    /// Out at other places.
    pub(super) fn elsewhere(&self, thing: ThingId) -> Decimal {
        self.elsewhere.get(&thing).copied().unwrap_or_default()
    }

    /// Aimed at by batches on the bench and not finished yet.
    pub(super) fn on_the_bench(&self, thing: ThingId) -> Decimal {
        self.on_the_bench.get(&thing).copied().unwrap_or_default()
    }

    /// Everything at home, by thing.
    pub(super) fn all_at_home(&self) -> impl Iterator<Item = (ThingId, Decimal)> {
        self.at_home.iter().map(|(thing, (quantity, _))| (*thing, *quantity))
    }
}
