//! What finishing an open batch still takes: its recipe for all that it aims at, less what it used and took so far, as `as planned` reckons.
//!
//! Of a batch that aims at several products each has of what was used and taken as much as its own recipe allows. A plan that takes some of
//! the pieces still to come takes that part of the rest.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::expected::plus;
use super::explode::Ground;
use super::there::There;
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
    /// All pieces still to come of the batch, whatever they are: so much of what is on the bench is these pieces'.
    pub(crate) of: Decimal,
    /// What these pieces still need.
    pub(crate) materials: BTreeMap<ThingId, Decimal>,
    /// Minutes that they still take.
    pub(crate) minutes: BTreeMap<StepId, Decimal>,
}

/// So many pieces from the bench, batch by batch. `None` where a figure is too large to be carried.
pub(super) fn finishing(ground: Ground<'_>, thing: ThingId, wanted: Decimal, there: &There) -> Option<Vec<Finishing>> {
    let mut rest = wanted;
    let mut taken = Vec::new();
    for (batch, left) in there.by_batch(thing) {
        let pieces = rest.min(*left);
        if pieces <= Decimal::ZERO {
            continue;
        }
        rest = checked_sub_exact(rest, pieces).ok()?;
        let account = ground.costed.batches.get(batch.index())?;
        let part = |much: Decimal| mul_div_to_nine(much, pieces, *left).ok();
        let mut one =
            Finishing { batch: *batch, pieces, of: there.to_come(*batch)?, materials: BTreeMap::new(), minutes: BTreeMap::new() };
        for (need, much) in rest_of(account, thing, |thing, aim| needs(ground, thing, aim), |need| used(account, need))? {
            one.materials.insert(need, part(much)?);
        }
        for (step, much) in rest_of(account, thing, |thing, aim| minutes(ground, thing, aim), |step| took(account, step))? {
            one.minutes.insert(step, part(much)?);
        }
        taken.push(one);
    }
    Some(taken)
}

/// What the recipe says for all that a batch aims at of a thing, less the thing's share of what was there so far; only what is above zero.
fn rest_of<K: Ord + Copy>(
    account: &BatchAccount,
    thing: ThingId,
    by_recipe: impl Fn(ThingId, Decimal) -> Option<BTreeMap<K, Decimal>>,
    so_far: impl Fn(K) -> Option<Decimal>,
) -> Option<BTreeMap<K, Decimal>> {
    let mut own: BTreeMap<K, Decimal> = BTreeMap::new();
    let mut all: BTreeMap<K, Decimal> = BTreeMap::new();
    for (what, aim) in &account.aims {
        let Output::Thing(one) = what else { continue };
        for (key, much) in by_recipe(*one, *aim)? {
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

fn needs(ground: Ground<'_>, thing: ThingId, pieces: Decimal) -> Option<BTreeMap<ThingId, Decimal>> {
    let mut sums: BTreeMap<ThingId, Decimal> = BTreeMap::new();
    for need in ground.book.thing(thing).needs.on(ground.day) {
        let sum = sums.entry(need.thing).or_default();
        *sum = plus(*sum, mul_div_to_nine(pieces, need.quantity, need.per).ok()?)?;
    }
    Some(sums)
}

fn minutes(ground: Ground<'_>, thing: ThingId, pieces: Decimal) -> Option<BTreeMap<StepId, Decimal>> {
    let mut sums: BTreeMap<StepId, Decimal> = BTreeMap::new();
    for take in ground.book.thing(thing).takes.on(ground.day) {
        let sum = sums.entry(take.step).or_default();
        *sum = plus(*sum, mul_div_to_nine(pieces, take.minutes, take.per).ok()?)?;
    }
    Some(sums)
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
