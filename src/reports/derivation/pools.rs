//! Pools under average: what a pool held when an issue was taken, from its arrivals and its issues.
//!
//! Each entry of a pool is told once. Where the pool is asked for again later, it is told on from there; where it is asked for as it was earlier, what
//! had come by then stands further up.

use rust_decimal::Decimal;

use super::by_months::{entries_by_months, month_of};
use super::stock::change_of_cost;
use super::{MOST_LEVELS, Step, Sum, Telling};
use crate::costing::{Issue, ShelfEntry};
use crate::names::{PlaceId, ThingId};
use crate::reports::WhyRule;
use crate::reports::period::quantity_text;
use crate::units::{checked_add_exact, checked_sub_exact};

/// What a pool held after an entry, and what had gone by then.
#[derive(Clone, Copy, Debug, Default)]
struct Held {
    quantity: Decimal,
    sum: Sum,
    gone: Decimal,
    gone_sum: Sum,
    gone_pieces: usize,
}

impl Held {
    fn after(self, entry: &ShelfEntry) -> Option<Self> {
        let of_entry = Sum::of_entry(entry)?;
        let mut held =
            Self { quantity: checked_add_exact(self.quantity, entry.quantity).ok()?, sum: self.sum.plus(of_entry)?, ..self };
        if went(entry) {
            held.gone = checked_add_exact(held.gone, entry.quantity).ok()?;
            held.gone_sum = held.gone_sum.plus(of_entry)?;
            held.gone_pieces = held.gone_pieces.saturating_add(1);
        }
        Some(held)
    }

    /// What went between an earlier state and this one.
    fn gone_since(self, before: Self) -> Option<Step> {
        let pieces = self.gone_pieces.saturating_sub(before.gone_pieces);
        let gone = checked_sub_exact(self.gone, before.gone).ok()?;
        let says =
            format!("{} went in {pieces} {} before", quantity_text(gone.abs()), if pieces == 1 { "piece" } else { "pieces" });
        Some(Step::nowhere(says, self.gone_sum.minus(before.gone_sum)?, WhyRule::Said))
    }
}

/// How far a pool was derived: the entries before an index of the trace, and what it held after each of its own.
#[derive(Clone, Debug, Default)]
pub(super) struct PoolTold {
    until: usize,
    held: Vec<Held>,
}

impl PoolTold {
    /// What it held after so many of its entries.
    fn after(&self, entries: usize) -> Held {
        entries.checked_sub(1).and_then(|at| self.held.get(at)).copied().unwrap_or_default()
    }
}

impl Telling<'_> {
    /// An issue from a pool: a part of what the pool held.
    pub(super) fn taken_from_pool(&mut self, issue: Issue, pieces: &[ShelfEntry], level: usize) -> Option<Step> {
        let first = pieces.first()?;
        let (mut quantity, mut sum) = (Decimal::ZERO, Sum::default());
        for piece in pieces {
            quantity = checked_sub_exact(quantity, piece.quantity).ok()?;
            sum = sum.minus(Sum::of_entry(piece)?)?;
        }
        let says = format!("{} at the average of what was there", self.amount_of(first.thing, quantity));
        let mut step = Step::new(says, sum, WhyRule::PartOf, first.line);
        if level >= MOST_LEVELS {
            step.rule = WhyRule::Deeper;
            return Some(step);
        }
        step.steps = vec![self.pool(first.thing, first.place, issue.first as usize, level.saturating_add(1))?];
        Some(step)
    }

    /// What a pool held before an entry: what it held when it was told of last, and what came and went since.
    pub(super) fn pool(&mut self, thing: ThingId, place: PlaceId, until: usize, level: usize) -> Option<Step> {
        let trace = self.of.trace;
        let shelf = (thing, place);
        let entries = self.of.index.of_shelf(shelf);
        let here = entries.partition_point(|at| (*at as usize) < until);
        let told = self.pools.entry(shelf).or_default();
        let told_of = told.held.len();
        let before = told.after(told_of.min(here));
        let new = entries.get(told_of.min(here)..here)?;
        let mut came = Vec::new();
        for entry in new.iter().filter_map(|at| trace.entries.get(*at as usize)) {
            told.held.push(told.after(told.held.len()).after(entry)?);
            if !went(entry) {
                came.push(entry);
            }
        }
        told.until = told.until.max(until);
        let held = told.after(here);
        let place = &self.of.books.book.place(place).named.name;
        let says = format!("what was at {place}: {}", self.amount_of(thing, held.quantity));
        let mut step = Step::nowhere(says, held.sum, WhyRule::SumOf);
        if here < told_of {
            let came = checked_sub_exact(held.quantity, held.gone).ok()?;
            let says = format!("what had come by then: {}", quantity_text(came));
            step.steps.push(Step::nowhere(says, held.sum.minus(held.gone_sum)?, WhyRule::Above));
            if held.gone_pieces > 0 {
                step.steps.push(held.gone_since(Held::default())?);
            }
            return Some(step);
        }
        if told_of > 0 {
            let says = format!("what was there when it was last told of: {}", quantity_text(before.quantity));
            step.steps.push(Step::nowhere(says, before.sum, WhyRule::Above));
        }
        let mut steps = Vec::with_capacity(came.len());
        for entry in came {
            let of_entry = if entry.quantity.is_zero() {
                Step::new(change_of_cost(entry), Sum::of_entry(entry)?, WhyRule::Said, entry.line)
            } else {
                let lot = trace.lot(entry.lot)?;
                match lot.quantity == entry.quantity && lot.cost == entry.cost {
                    true => self.lot(entry.lot, level)?,
                    false => self.came_along(entry, level)?,
                }
            };
            steps.push((month_of(entry.date), of_entry));
        }
        step.steps.extend(entries_by_months(steps)?);
        if held.gone_pieces > before.gone_pieces {
            step.steps.push(held.gone_since(before)?);
        }
        Some(step)
    }

    /// Goods that came from another place, or back from a buyer, at the cost that they had there.
    fn came_along(&mut self, entry: &ShelfEntry, level: usize) -> Option<Step> {
        let sum = Sum::of_entry(entry)?;
        let came = self.amount_of(entry.thing, entry.quantity);
        let Some((until, source)) = self.left_elsewhere(entry) else {
            let they = if entry.quantity <= Decimal::ONE { "it" } else { "they" };
            let says = format!("{came} came back, at the cost at which {they} left");
            return Some(Step::new(says, sum, WhyRule::Said, entry.line));
        };
        let told_further = self.pools.get(&(entry.thing, source)).is_some_and(|told| told.until > until);
        let says = format!("{came} came from {}, at the average there", self.of.books.book.place(source).named.name);
        if told_further || level >= MOST_LEVELS {
            let rule = if told_further { WhyRule::Above } else { WhyRule::Deeper };
            return Some(Step::new(says, sum, rule, entry.line));
        }
        let mut step = Step::new(says, sum, WhyRule::PartOf, entry.line);
        step.steps = vec![self.pool(entry.thing, source, until, level.saturating_add(1))?];
        Some(step)
    }

    /// Where goods that came by a line left another place by it: the first entry, and the place. Entries are in the order of their events.
    fn left_elsewhere(&self, came: &ShelfEntry) -> Option<(usize, PlaceId)> {
        let entries = &self.of.trace.entries;
        let from = entries.partition_point(|one| one.event < came.event);
        let of_event = entries.iter().enumerate().skip(from).take_while(|(_, one)| one.event == came.event);
        let mut of_line = of_event.filter(|(_, one)| (one.line, one.thing) == (came.line, came.thing));
        let left = of_line.find(|(_, one)| one.place != came.place && one.quantity.is_sign_negative());
        left.map(|(at, one)| (at, one.place))
    }
}

/// Whether goods went by an entry; else they came, or only their cost changed.
fn went(entry: &ShelfEntry) -> bool {
    entry.quantity.is_sign_negative() && !entry.quantity.is_zero()
}
