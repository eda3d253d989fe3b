//! What the links are asked for over and over, found once: where a piece went that left a shelf, what a batch used and made, what an
//! order took.
//!
//! Everything is sorted into flat lists, so that this takes a small part of the time in which the book is read.
//!
//! All of a batch stands in the order of the days. What it used on a day is in what it gave on that day or later, and in nothing that it gave before.

use std::ops::Range;

use chrono::NaiveDate;
use rayon::prelude::*;
use rust_decimal::Decimal;

use crate::costing::{LinkedOutput, LinkedPiece, LinkedTo, Links, StraightCost};
use crate::names::BatchId;

/// Places in a list by what they belong to, in the order of the list.
#[derive(Debug, Default)]
struct Grouped(Vec<(u32, u32)>);

impl Grouped {
    /// Groups the places of a list by what each member belongs to; `None`: to nothing.
    fn of(groups: impl Iterator<Item = Option<u32>>) -> Self {
        let mut all: Vec<(u32, u32)> = (0u32..).zip(groups).filter_map(|(at, group)| Some((group?, at))).collect();
        all.par_sort_unstable();
        Self(all)
    }

    /// The places of a group.
    fn members(&self, group: u32) -> impl Iterator<Item = usize> {
        let from = self.0.partition_point(|(one, _)| *one < group);
        self.0.get(from..).unwrap_or_default().iter().take_while(move |(one, _)| *one == group).map(|(_, at)| *at as usize)
    }

    /// How many places of a group stand first of which something is so, which is so of none after them.
    fn count_first(&self, group: u32, is_so: impl Fn(usize) -> bool) -> usize {
        let from = self.0.partition_point(|(one, _)| *one < group);
        let to = self.0.partition_point(|(one, _)| *one <= group);
        self.0.get(from..to).unwrap_or_default().partition_point(|(_, at)| is_so(*at as usize))
    }
}

/// The index.
#[derive(Debug)]
pub(super) struct FlowIndex<'a> {
    links: &'a Links,
    of_lot: Grouped,
    /// Of each piece.
    went_to: Vec<Option<LinkedTo>>,
    lots_of_batch: Grouped,
    links_of_batch: Grouped,
    links_of_order: Grouped,
    straight: Grouped,
    outputs: Grouped,
}

impl<'a> FlowIndex<'a> {
    /// Goes once through the links.
    pub(super) fn of(links: &'a Links) -> Self {
        let mut went_to = vec![None; links.pieces.len()];
        for link in &links.links {
            let first = link.issue.first as usize;
            for piece in went_to.iter_mut().skip(first).take(link.issue.count as usize) {
                *piece = Some(link.to);
            }
        }
        let pieces = links.pieces.iter().map(|piece| (!piece.quantity.is_zero()).then_some(piece.lot));
        let to_batch = |to: LinkedTo| if let LinkedTo::Batch(batch) = to { Some(batch.0) } else { None };
        let to_order = |to: LinkedTo| if let LinkedTo::Order(order) = to { Some(order) } else { None };
        Self {
            of_lot: Grouped::of(pieces),
            went_to,
            lots_of_batch: Grouped::of(links.lots.iter().map(|lot| lot.of_batch().map(|batch| batch.0))),
            links_of_batch: Grouped::of(links.links.iter().map(|link| to_batch(link.to))),
            links_of_order: Grouped::of(links.links.iter().map(|link| to_order(link.to))),
            straight: Grouped::of(links.straight.iter().map(|cost| Some(cost.batch.0))),
            outputs: Grouped::of(links.outputs.iter().map(|output| Some(output.batch.0))),
            links,
        }
    }

    /// The pieces of a lot that moved, and where each belongs; `None` for what came onto a shelf for the first time, or moved between places.
    pub(super) fn of_lot(&self, lot: u32) -> impl Iterator<Item = (Option<LinkedTo>, &'a LinkedPiece)> {
        self.of_lot.members(lot).filter_map(|at| Some((*self.went_to.get(at)?, self.links.pieces.get(at)?)))
    }

    /// Of the lots that a batch made or kept, how many came before a day: what it used from that day on is in none of these.
    pub(super) fn lots_before(&self, batch: BatchId, day: NaiveDate) -> usize {
        self.lots_of_batch.count_first(batch.0, |at| self.links.lots.get(at).is_some_and(|lot| lot.origin.date < day))
    }

    /// The same of what it gave.
    pub(super) fn outputs_before(&self, batch: BatchId, day: NaiveDate) -> usize {
        self.outputs.count_first(batch.0, |at| self.links.outputs.get(at).is_some_and(|output| output.date < day))
    }

    /// How often a batch used something by the end of a day: what it made on that day is of these alone.
    pub(super) fn uses_until(&self, batch: BatchId, day: NaiveDate) -> usize {
        self.links_of_batch.count_first(batch.0, |at| {
            let link = self.links.links.get(at);
            link.and_then(|link| self.links.pieces(link.issue).first()).is_none_or(|piece| piece.date <= day)
        })
    }

    /// The same of what was bought straight for it, or lay in it when the book began.
    pub(super) fn straight_until(&self, batch: BatchId, day: NaiveDate) -> usize {
        self.straight.count_first(batch.0, |at| self.links.straight.get(at).is_some_and(|cost| cost.date <= day))
    }

    /// The numbers of the lots that a batch made or kept, in the order in which they came.
    pub(super) fn lots_of_batch(&self, batch: BatchId) -> impl Iterator<Item = u32> {
        self.lots_of_batch.members(batch.0).filter_map(|at| Some(self.links.lots.get(at)?.origin.number))
    }

    /// What a batch used: lots and quantities, in the order in which it used them.
    pub(super) fn used_by(&self, batch: BatchId) -> impl Iterator<Item = (u32, Decimal)> {
        self.uses(batch, 0..usize::MAX).map(|piece| (piece.lot, -piece.quantity))
    }

    /// The same, of so many of its uses.
    pub(super) fn uses(&self, batch: BatchId, which: Range<usize>) -> impl Iterator<Item = &'a LinkedPiece> {
        let members = self.links_of_batch.members(batch.0).skip(which.start).take(which.len());
        members.filter_map(|at| self.links.links.get(at)).flat_map(|link| self.links.pieces(link.issue))
    }

    /// What was sold with an order: lots and quantities, whether or not they came back.
    pub(super) fn sold_with(&self, order: u32) -> impl Iterator<Item = (u32, Decimal)> {
        self.moved_with(order).filter(|piece| piece.quantity.is_sign_negative()).map(|piece| (piece.lot, -piece.quantity))
    }

    /// What moved with an order, in the order in which it did: below zero what was sold, above what came back.
    pub(super) fn moved_with(&self, order: u32) -> impl Iterator<Item = &'a LinkedPiece> {
        let issues = self.links_of_order.members(order).filter_map(|at| self.links.links.get(at));
        issues.flat_map(|link| self.links.pieces(link.issue)).filter(|piece| !piece.quantity.is_zero())
    }

    /// What was bought straight for a batch, or lay in it when the book began.
    pub(super) fn straight_to(&self, batch: BatchId) -> impl Iterator<Item = &'a StraightCost> {
        self.straight.members(batch.0).filter_map(|at| self.links.straight.get(at))
    }

    /// What a batch gave.
    pub(super) fn outputs(&self, batch: BatchId) -> impl Iterator<Item = &'a LinkedOutput> {
        self.outputs.members(batch.0).filter_map(|at| self.links.outputs.get(at))
    }
}
