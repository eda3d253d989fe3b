//! Licences that a plan takes: what is left of them, what is short, and what the licences to buy cost.
//!
//! All pieces that are made by a pattern, rounded up to whole ones, are held against its licences once, and licences to buy are whole ones. What open batches
//! will still take is gone before: their good pieces to come that the plan doesn't take.
//!
//! A piece costs what one piece of a licence does (costing rule 4), whole or not as the expected good ones are: the oldest licences first, after what open
//! batches take of them, and each build has its share of these. Pieces beyond cost what a piece of the last licence did.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::expected::plus;
use super::explode::{Build, Ground};
use super::there::There;
use crate::costing::Flow;
use crate::events::{BoughtWhat, EventKind};
use crate::names::{BatchId, LabelId, PatternId, ThingId};
use crate::sources::Span;
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, checked_mul_exact, checked_sub_exact, div_to_nine, part_of};
use crate::year::Books;

/// The last purchase of a pattern's licences.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LicenceBought {
    pub(crate) count: Decimal,
    /// Freight and tax included.
    pub(crate) cost: Fixed6,
    pub(crate) date: NaiveDate,
    pub(crate) supplier: Option<LabelId>,
    pub(crate) line: Span,
}

/// A licence of which pieces are left.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LicenceLeft {
    pub(crate) date: NaiveDate,
    pub(crate) left: Decimal,
    /// What the plan takes of these.
    pub(crate) taken: Decimal,
    cost: Fixed6,
}

/// What a plan takes of a pattern's licences.
#[derive(Clone, Debug)]
pub(crate) struct LicenceNeed {
    pub(crate) pattern: PatternId,
    /// Good pieces, build by build; those from the bench with them.
    pub(crate) wanted_by: Vec<(ThingId, Decimal)>,
    /// Those together.
    pub(crate) pieces: Decimal,
    /// The same rounded up: no part of a piece is made by a licence.
    pub(crate) needed: Decimal,
    /// Good pieces still to come of open batches that the plan doesn't take.
    pub(crate) of_batches: Vec<(BatchId, ThingId, Decimal)>,
    /// Those together.
    pub(crate) on_the_bench: Decimal,
    pub(crate) lots: Vec<LicenceLeft>,
    pub(crate) left: Decimal,
    /// Of the plan's whole pieces and of those of open batches, as many as the licences don't permit.
    pub(crate) short: Decimal,
    /// Of the plan's pieces, as many as must be made by licences to buy.
    beyond: Decimal,
    /// Pieces that a licence permits.
    pub(crate) allows: Decimal,
    /// Licences to buy.
    pub(crate) buy: Decimal,
    pub(crate) last: Option<LicenceBought>,
    pub(crate) each: Option<Fixed6>,
    /// What they cost; nothing where none is to be bought, or none ever was.
    pub(crate) cost: Option<Fixed6>,
}

impl LicenceNeed {
    /// What a build's pieces take of each licence that there is, with its cost.
    pub(super) fn taken(&self, pieces: Decimal) -> Option<Vec<(NaiveDate, Decimal, Fixed6)>> {
        let mut taken = Vec::new();
        for lot in self.lots.iter().filter(|lot| !lot.taken.is_zero()) {
            let much = if pieces == self.pieces { lot.taken } else { mul_div_to_nine(lot.taken, pieces, self.pieces).ok()? };
            taken.push((lot.date, much, part_of(lot.cost, much, lot.left)?));
        }
        Some(taken)
    }

    /// Whether a licence is to be bought for some of the plan's pieces.
    pub(super) fn goes_beyond(&self) -> bool {
        !self.beyond.is_zero()
    }

    /// A build's pieces for which a licence is to be bought, with its cost; nothing where none was ever bought.
    pub(super) fn beyond(&self, pieces: Decimal) -> Option<Option<(Decimal, Fixed6)>> {
        let Some(last) = self.last.filter(|_| self.goes_beyond()) else { return Some(None) };
        let much = if pieces == self.pieces { self.beyond } else { mul_div_to_nine(self.beyond, pieces, self.pieces).ok()? };
        let permitted = checked_mul_exact(last.count, self.allows).ok()?;
        Some(Some((much, part_of(last.cost, much, permitted)?)))
    }
}

/// What a plan takes of licences, by pattern. `None` where a figure is too large to be carried.
pub(super) fn licences(books: Books<'_>, ground: Ground<'_>, builds: &[Build], there: &There) -> Option<Vec<LicenceNeed>> {
    let mut wanted: BTreeMap<PatternId, Vec<(ThingId, Decimal)>> = BTreeMap::new();
    for build in builds {
        let pieces = build.coming()?;
        let Some(pattern) = *ground.book.thing(build.thing).pattern.on(ground.day) else { continue };
        if !pieces.is_zero() {
            wanted.entry(pattern).or_default().push((build.thing, pieces));
        }
    }
    let mut needs = Vec::new();
    for (pattern, wanted_by) in wanted {
        let Some(allows) = ground.book.pattern(pattern).allows.on(ground.day).filter(|allows| *allows > Decimal::ZERO) else {
            continue;
        };
        let mut pieces = Decimal::ZERO;
        for (_, of_build) in &wanted_by {
            pieces = plus(pieces, *of_build)?;
        }
        let needed = pieces.ceil();
        let of_batches = of_open_batches(ground, pattern, builds, there)?;
        let mut on_the_bench = Decimal::ZERO;
        for (_, _, of_batch) in &of_batches {
            on_the_bench = plus(on_the_bench, *of_batch)?;
        }
        let (mut before, mut rest, mut left, mut lots) = (on_the_bench, pieces, Decimal::ZERO, Vec::new());
        for lot in ground.costed.licences.iter().filter(|lot| lot.pattern == pattern && !lot.left.is_zero()) {
            let of_bench = before.min(lot.left);
            before = checked_sub_exact(before, of_bench).ok()?;
            let taken = rest.min(checked_sub_exact(lot.left, of_bench).ok()?);
            rest = checked_sub_exact(rest, taken).ok()?;
            left = plus(left, lot.left)?;
            lots.push(LicenceLeft { date: lot.date, left: lot.left, taken, cost: lot.vector.paid()? });
        }
        let last = last_bought(books, pattern)?;
        let short = checked_sub_exact(plus(needed, on_the_bench)?, left).ok()?.max(Decimal::ZERO);
        let buy = div_to_nine(short, allows).ok()?.ceil();
        let each = match last {
            Some(last) => Some(part_of(last.cost, Decimal::ONE, last.count)?),
            None => None,
        };
        let cost = match last.filter(|_| !buy.is_zero()) {
            Some(last) => Some(part_of(last.cost, buy, last.count)?.round_to(books.book.shop.currency.digits())),
            None => None,
        };
        needs.push(LicenceNeed {
            pattern,
            wanted_by,
            pieces,
            needed,
            of_batches,
            on_the_bench,
            lots,
            left,
            short,
            beyond: rest,
            allows,
            buy,
            last,
            each,
            cost,
        });
    }
    Some(needs)
}

/// Good pieces still to come of open batches by a pattern, but for those that the plan takes.
fn of_open_batches(
    ground: Ground<'_>,
    pattern: PatternId,
    builds: &[Build],
    there: &There,
) -> Option<Vec<(BatchId, ThingId, Decimal)>> {
    let mut left = Vec::new();
    for (thing, one) in there.all_on_the_bench() {
        if *ground.book.thing(thing).pattern.on(ground.day) != Some(pattern) {
            continue;
        }
        let of_plan = builds.iter().filter(|build| build.thing == thing).flat_map(|build| &build.finishing);
        let mut pieces = one.good;
        for taken in of_plan.filter(|open| open.batch == one.batch) {
            pieces = checked_sub_exact(pieces, taken.pieces).ok()?;
        }
        if pieces > Decimal::ZERO {
            left.push((one.batch, thing, pieces));
        }
    }
    Some(left)
}

/// The last purchase of a pattern's licences; nothing where none was bought. The outer `None` is overflow.
fn last_bought(books: Books<'_>, pattern: PatternId) -> Option<Option<LicenceBought>> {
    for movement in books.costed.movements.iter().rev() {
        if movement.flow != Flow::Bought || movement.thing.is_some() || movement.batch.is_some() {
            continue;
        }
        let event = usize::try_from(movement.event).ok().and_then(|at| books.log.events.get(at));
        let Some(EventKind::Bought(bought)) = event.map(|event| &event.kind) else { continue };
        for line in bought.lines.iter().filter(|line| line.span == movement.line) {
            if let BoughtWhat::Licence { pattern: of, count } = line.what
                && of == pattern
                && count > Decimal::ZERO
            {
                let (cost, date) = (movement.vector.full()?, movement.date);
                return Some(Some(LicenceBought { count, cost, date, supplier: bought.supplier, line: line.span }));
            }
        }
    }
    Some(None)
}
