//! The money that a plan takes: for what is to be bought, for helpers on the day of their work, and for royalties when the pieces are made.
//!
//! What is `paid later` is owed until it is paid: it is not needed to begin with, and named beside. Each amount is rounded to the currency's digits, as
//! a bill is.

use std::collections::BTreeMap;

use super::expected::{CostFrom, Expected};
use crate::names::{PatternId, StepId, ThingId};
use crate::units::Fixed6;

/// For what somebody is paid: helpers at a step of a build, or royalties on its pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum PaidFor {
    /// Helpers' work at a step.
    Helpers(ThingId, StepId),
    /// Royalties of a pattern.
    Royalty(ThingId, PatternId),
}

/// An amount that somebody is paid.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pay {
    pub(crate) paid_for: PaidFor,
    /// On the day of the work.
    pub(crate) at_once: Fixed6,
    pub(crate) later: Fixed6,
}

/// All of them, by what they are for. `None` where a figure is too large to be carried.
pub(super) fn pays_of(costs: &BTreeMap<ThingId, Expected>, digits: u32) -> Option<Vec<Pay>> {
    let mut pays: BTreeMap<PaidFor, (Fixed6, Fixed6)> = BTreeMap::new();
    for (thing, cost) in costs {
        for item in &cost.items {
            let paid_for = match item.from {
                CostFrom::Helpers(step, _) => PaidFor::Helpers(*thing, step),
                CostFrom::Royalty(pattern, _) => PaidFor::Royalty(*thing, pattern),
                _ => continue,
            };
            let (all, later) = pays.entry(paid_for).or_default();
            *all = all.checked_add(item.cost.paid()?)?;
            *later = later.checked_add(item.later)?;
        }
    }
    let mut rounded = Vec::new();
    for (paid_for, (all, later)) in pays {
        let (all, later) = (all.round_to(digits), later.round_to(digits));
        rounded.push(Pay { paid_for, at_once: all.checked_sub(later)?, later });
    }
    Some(rounded)
}

/// What helpers, or royalties, take at once of these. `None` where the sum is too large to be carried.
pub(super) fn at_once(pays: &[Pay], helpers: bool) -> Option<Fixed6> {
    let of = pays.iter().filter(|pay| matches!(pay.paid_for, PaidFor::Helpers(..)) == helpers);
    Fixed6::checked_sum(of.map(|pay| pay.at_once))
}
