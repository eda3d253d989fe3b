//! Pools under average: what a pool held when an issue was taken, from its arrivals and its issues.

use rust_decimal::Decimal;

use super::{Sum, Telling};
use crate::costing::{Issue, ShelfEntry};
use crate::names::{PlaceId, ThingId};
use crate::reports::period::quantity_text;
use crate::reports::{WhyRule, WhyStep};
use crate::sources::Span;
use crate::units::{checked_add_exact, checked_sub_exact};

/// How far a pool was derived: the entries before an index, and what it held then.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct PoolTold {
    until: usize,
    quantity: Decimal,
    sum: Sum,
}

impl Telling<'_> {
    /// An issue from a pool: a part of what the pool held.
    pub(super) fn taken_from_pool(&mut self, issue: Issue, pieces: &[ShelfEntry], level: usize) -> Option<WhyStep> {
        let first = pieces.first()?;
        let (mut quantity, mut sum) = (Decimal::ZERO, Sum::default());
        for piece in pieces {
            quantity = checked_sub_exact(quantity, piece.quantity).ok()?;
            sum = sum.minus(Sum { paid: piece.paid, full: piece.full })?;
        }
        let says = format!("{} at the average of what was there", self.amount_of(first.thing, quantity));
        let mut step = self.step(says, sum, WhyRule::PartOf, first.line);
        if level >= self.levels {
            step.rule = WhyRule::Deeper;
            return Some(step);
        }
        step.steps = vec![self.pool(first.thing, first.place, issue.first as usize, level.saturating_add(1))?];
        Some(step)
    }

    /// What a pool held before an entry: what it held when it was told of last, and what came and went since.
    pub(super) fn pool(&mut self, thing: ThingId, place: PlaceId, until: usize, level: usize) -> Option<WhyStep> {
        let key = (thing, place);
        let told = self.pools.get(&key).copied().unwrap_or_default();
        let trace = self.trace;
        // A figure may be derived from an issue that lies before the last one that was told: then it is told anew.
        let told = if told.until > until { PoolTold::default() } else { told };
        let moved: Vec<&ShelfEntry> =
            trace.entries.get(told.until..until)?.iter().filter(|entry| (entry.thing, entry.place) == key).collect();
        let (mut quantity, mut sum) = (told.quantity, told.sum);
        let mut gone = (Decimal::ZERO, Sum::default(), 0usize);
        let mut came = Vec::new();
        for entry in moved {
            let of_entry = Sum { paid: entry.paid, full: entry.full };
            quantity = checked_add_exact(quantity, entry.quantity).ok()?;
            sum = sum.plus(of_entry)?;
            if entry.quantity.is_sign_positive() && !entry.quantity.is_zero() {
                came.push(entry);
            } else {
                gone = (checked_add_exact(gone.0, entry.quantity).ok()?, gone.1.plus(of_entry)?, gone.2.saturating_add(1));
            }
        }
        let place = &self.books.book.place(place).named.name;
        let held = self.amount_of(thing, quantity);
        let mut step = self.step(format!("what was at {place}: {held}"), sum, WhyRule::SumOf, Span::default());
        if told.until > 0 {
            let says = format!("what was there when it was last told of: {}", quantity_text(told.quantity));
            step.steps.push(self.step(says, told.sum, WhyRule::Above, Span::default()));
        }
        self.pools.insert(key, PoolTold { until, quantity, sum });
        for entry in came {
            let of_entry = Sum { paid: entry.paid, full: entry.full };
            let lot = trace.lot(entry.lot)?;
            if lot.quantity == entry.quantity && Sum::of_lot(lot) == of_entry {
                step.steps.push(self.lot(entry.lot, level)?);
            } else {
                step.steps.push(self.came_along(entry, level)?);
            }
        }
        if gone.2 > 0 {
            let says = format!("{} went in {} pieces before", quantity_text(gone.0.abs()), gone.2);
            step.steps.push(self.step(says, gone.1, WhyRule::Said, Span::default()));
        }
        Some(step)
    }

    /// Goods that came from another place, or back from a buyer, at the cost that they had there.
    fn came_along(&mut self, entry: &ShelfEntry, level: usize) -> Option<WhyStep> {
        let sum = Sum { paid: entry.paid, full: entry.full };
        let came = self.amount_of(entry.thing, entry.quantity);
        let trace = self.trace;
        let same = |one: &ShelfEntry| (one.event, one.line, one.thing) == (entry.event, entry.line, entry.thing);
        let left = |one: &ShelfEntry| same(one) && one.place != entry.place && one.quantity.is_sign_negative();
        let until = trace.entries.iter().position(left);
        let source = until.and_then(|at| trace.entries.get(at)).map(|one| one.place);
        let (Some(until), Some(source)) = (until, source) else {
            return Some(self.step(format!("{came} came back, at the cost at which it left"), sum, WhyRule::Said, entry.line));
        };
        let told_further = self.pools.get(&(entry.thing, source)).is_some_and(|told| told.until > until);
        let says = format!("{came} came from {}, at the average there", self.books.book.place(source).named.name);
        if told_further || level >= self.levels {
            let rule = if told_further { WhyRule::Above } else { WhyRule::Deeper };
            return Some(self.step(says, sum, rule, entry.line));
        }
        let mut step = self.step(says, sum, WhyRule::PartOf, entry.line);
        step.steps = vec![self.pool(entry.thing, source, until, level.saturating_add(1))?];
        Some(step)
    }
}
