//! Which channels and products sold nothing but what another group sold, too: their hours are no other use of that group's hours.

use std::collections::BTreeMap;

use crate::reports::pays_part::{PaysOf, PaysPart, PaysWhat};

/// How often each group sold, and how often together with which other.
#[derive(Debug, Default)]
pub(crate) struct SoldWithin {
    sold: BTreeMap<PaysOf, u32>,
    together: BTreeMap<(PaysOf, PaysOf), u32>,
}

impl SoldWithin {
    /// Adds a part of the margins, where it is goods that were sold.
    pub(crate) fn add(&mut self, part: &PaysPart<'_>) {
        if !matches!(part.what, PaysWhat::Sold(_)) {
            return;
        }
        for one in &part.groups {
            let sold = self.sold.entry(*one).or_default();
            *sold = sold.saturating_add(1);
            for other in part.groups.iter().filter(|other| *other != one) {
                let together = self.together.entry((*one, *other)).or_default();
                *together = together.saturating_add(1);
            }
        }
    }

    /// Whether a channel or product is another use of hours than a group: it is not the group itself, nor the channel of a fair, and it sold something that the group
    /// did not, or nothing at all.
    pub(crate) fn is_other_use(&self, other: PaysOf, group: PaysOf) -> bool {
        let is_kind = matches!(other, PaysOf::Channel(_) | PaysOf::Product(_));
        let is_its_own = matches!((other, group), (PaysOf::Channel(of), PaysOf::Fair(channel, _)) if of == channel);
        let sold = self.sold.get(&other).copied().unwrap_or_default();
        let is_within = sold > 0 && self.together.get(&(other, group)) == Some(&sold);
        is_kind && other != group && !is_its_own && !is_within
    }
}
