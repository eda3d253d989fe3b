//! What finishing an open batch still takes: what all that it aims at takes, less what it used and took so far.
//!
//! What it takes in all goes as with pieces that are begun anew: as the last batches used and took, lost pieces among them, else by the recipe. So does
//! what it still gives: as many good pieces as the last batches let expect of all that it aims at, less those that it gave so far. These bear the rest.
//!
//! Of a batch that aims at several products each has of what was used and taken as much as its own recipe allows. A plan that takes some of
//! the pieces still to come takes that part of the rest.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::expected::plus;
use super::explode::Ground;
use super::hours::{minutes_for, planned_minutes};
use super::learnt::{Learnt, Took};
use super::there::{There, ToCome};
use crate::costing::BatchAccount;
use crate::events::Output;
use crate::names::{BatchId, StepId, ThingId};
use crate::units::checked_sub_exact;
use crate::units::quantity::mul_div_to_nine;

/// Pieces of an open batch that a plan takes when they are done.
#[derive(Clone, Debug)]
pub(crate) struct Finishing {
    pub(crate) batch: BatchId,
    pub(crate) pieces: Decimal,
    /// These pieces by their share of the batch, and all that is still to come of it likewise: so much of what is on the bench is these pieces'.
    pub(crate) share: Decimal,
    pub(crate) of: Decimal,
    /// What these pieces still need.
    pub(crate) materials: BTreeMap<ThingId, RestOfMaterial>,
    /// Time that they still take.
    pub(crate) minutes: BTreeMap<StepId, RestOfTime>,
}

/// What pieces from the bench still need of a thing.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct RestOfMaterial {
    /// By the recipe alone.
    pub(crate) planned: Decimal,
    pub(crate) needed: Decimal,
    /// Whether the last batches said how much is used.
    pub(crate) learnt: bool,
    /// Whether the recipe has nothing of it, and the last batches used it.
    pub(crate) beyond: bool,
}

/// Minutes that pieces from the bench still take at a step.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct RestOfTime {
    /// By the recipe alone.
    pub(crate) planned: Decimal,
    pub(crate) expected: Took,
    /// As the best batch took; as expected where none has been seen.
    pub(crate) best: Decimal,
}

/// So many pieces from the bench, batch by batch. `None` where a figure is too large to be carried.
pub(super) fn finishing(
    ground: Ground<'_>,
    (thing, learnt): (ThingId, &Learnt),
    wanted: Decimal,
    there: &There,
) -> Option<Vec<Finishing>> {
    let mut rest = wanted;
    let mut taken = Vec::new();
    for ToCome { batch, good: left, .. } in there.by_batch(thing) {
        let pieces = rest.min(*left);
        if pieces <= Decimal::ZERO {
            continue;
        }
        rest = checked_sub_exact(rest, pieces).ok()?;
        let account = ground.costed.batches.get(batch.index())?;
        let of_aims = OfAims::of(ground, account)?;
        let part = |much: Decimal| mul_div_to_nine(much, pieces, *left).ok();
        let (share, of) = (there.share_of(*batch, thing, pieces)?, there.to_come(*batch)?);
        let mut one = Finishing { batch: *batch, pieces, share, of, materials: BTreeMap::new(), minutes: BTreeMap::new() };
        let used = |need| used(account, need);
        for (need, much) in rest_of(account, thing, |thing, aim| of_aims.needs(ground, (thing, aim), false), used)? {
            one.materials.entry(need).or_default().planned = part(much)?;
        }
        for (need, much) in rest_of(account, thing, |thing, aim| of_aims.needs(ground, (thing, aim), true), used)? {
            let beyond = learnt.beyond.contains_key(&need);
            let row = one.materials.entry(need).or_default();
            (row.needed, row.learnt, row.beyond) = (part(much)?, beyond || learnt.needed(need, much)?.1, beyond);
        }
        let took = |step| took(account, step);
        for (step, much) in rest_of(account, thing, |thing, aim| planned_minutes(ground, thing, aim), took)? {
            one.minutes.entry(step).or_default().planned = part(much)?;
        }
        for (step, much) in rest_of(account, thing, |thing, aim| of_aims.minutes(ground, (thing, aim), false), took)? {
            let of_helpers = learnt.minutes.get(&step).copied().unwrap_or_default();
            one.minutes.entry(step).or_default().expected = of_helpers.like(part(much)?)?;
        }
        for (step, much) in rest_of(account, thing, |thing, aim| of_aims.minutes(ground, (thing, aim), true), took)? {
            one.minutes.entry(step).or_default().best = part(much)?;
        }
        taken.push(one);
    }
    Some(taken)
}

/// What the last batches teach of all that a batch aims at.
struct OfAims(BTreeMap<ThingId, Learnt>);

impl OfAims {
    fn of(ground: Ground<'_>, account: &BatchAccount) -> Option<Self> {
        let mut of_aims = BTreeMap::new();
        for (what, _) in &account.aims {
            let Output::Thing(thing) = what else { continue };
            of_aims.insert(*thing, Learnt::of(ground, *thing)?);
        }
        Some(Self(of_aims))
    }

    /// What so many pieces that are begun need, by the recipe alone or as the last batches used, what they used beyond the recipe with it.
    fn needs(
        &self,
        ground: Ground<'_>,
        (thing, begun): (ThingId, Decimal),
        as_learnt: bool,
    ) -> Option<BTreeMap<ThingId, Decimal>> {
        let mut sums: BTreeMap<ThingId, Decimal> = BTreeMap::new();
        for need in ground.book.thing(thing).needs.on(ground.day) {
            let mut much = mul_div_to_nine(begun, need.quantity, need.per).ok()?;
            if let Some(learnt) = self.0.get(&thing).filter(|_| as_learnt) {
                much = learnt.needed(need.thing, much)?.0;
            }
            let sum = sums.entry(need.thing).or_default();
            *sum = plus(*sum, much)?;
        }
        if let Some(learnt) = self.0.get(&thing).filter(|_| as_learnt) {
            for (need, much) in learnt.needed_beyond(ground, begun)? {
                let sum = sums.entry(need).or_default();
                *sum = plus(*sum, much)?;
            }
        }
        Some(sums)
    }

    /// Minutes that so many pieces that are begun take: as in the last batches, or as in the best of them; by the recipe where there is none.
    fn minutes(&self, ground: Ground<'_>, (thing, begun): (ThingId, Decimal), best: bool) -> Option<BTreeMap<StepId, Decimal>> {
        let Some(learnt) = self.0.get(&thing) else { return planned_minutes(ground, thing, begun) };
        let mut minutes = BTreeMap::new();
        for (step, took) in minutes_for(ground, thing, learnt, begun)? {
            let of_best = if best { learnt.best(step, begun)? } else { None };
            minutes.insert(step, of_best.unwrap_or(took.all));
        }
        Some(minutes)
    }
}

/// What is said for all that a batch aims at of a thing, less the thing's share of what was there so far; only what is above zero.
fn rest_of<K: Ord + Copy>(
    account: &BatchAccount,
    thing: ThingId,
    says: impl Fn(ThingId, Decimal) -> Option<BTreeMap<K, Decimal>>,
    so_far: impl Fn(K) -> Option<Decimal>,
) -> Option<BTreeMap<K, Decimal>> {
    let mut own: BTreeMap<K, Decimal> = BTreeMap::new();
    let mut all: BTreeMap<K, Decimal> = BTreeMap::new();
    for (what, aim) in &account.aims {
        let Output::Thing(one) = what else { continue };
        for (key, much) in says(*one, *aim)? {
            for sums in [Some(&mut all), Some(&mut own).filter(|_| *one == thing)].into_iter().flatten() {
                let sum = sums.entry(key).or_default();
                *sum = plus(*sum, much)?;
            }
        }
    }
    let mut rest = BTreeMap::new();
    for (key, much) in own {
        let of_all = all.get(&key).copied().unwrap_or_default();
        let done = so_far(key)?;
        let done = if of_all == much || of_all.is_zero() { done } else { mul_div_to_nine(done, much, of_all).ok()? };
        let left = checked_sub_exact(much, done).ok()?;
        if left > Decimal::ZERO {
            rest.insert(key, left);
        }
    }
    Some(rest)
}

/// What a batch used of a thing, less what it kept of it.
fn used(account: &BatchAccount, thing: ThingId) -> Option<Decimal> {
    let mut sum = Decimal::ZERO;
    for item in account.used.iter().filter(|item| item.thing == thing && !item.by_step) {
        sum = plus(sum, item.quantity)?;
    }
    for item in account.kept.iter().filter(|item| item.thing == thing) {
        sum = checked_sub_exact(sum, item.quantity).ok()?;
    }
    Some(sum)
}

fn took(account: &BatchAccount, step: StepId) -> Option<Decimal> {
    let mut sum = Decimal::ZERO;
    for item in account.time.iter().filter(|item| item.step == step) {
        sum = plus(sum, item.minutes.to_decimal()?)?;
    }
    Some(sum)
}
