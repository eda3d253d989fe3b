//! Licences of patterns that allow a number of pieces: lots of permitted pieces, taken by good pieces, oldest first.
//!
//! Costing rule 4. Taking the last permitted piece of a licence takes the rest of its cost. A royalty per piece is no matter of
//! this file: it is owed and enters the pieces directly.

use std::collections::{BTreeMap, VecDeque};

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::costing::fault::{Costed, OrFault};
use crate::costing::{CostVector, LicenceLot};
use crate::names::PatternId;
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact, checked_sub_exact};

/// Entries by whose mean a usual batch is known.
const LAST: usize = 3;

/// Pieces of a usual batch: the mean of the last three entries that made some, rounded up to whole pieces. Nothing where there are none, or
/// where a sum is too large to be carried.
#[must_use]
pub fn usual_batch(sizes: &[Decimal]) -> Option<Decimal> {
    let last = sizes.get(sizes.len().saturating_sub(LAST)..)?;
    let mut sum = Decimal::ZERO;
    for size in last {
        sum = checked_add_exact(sum, *size).ok()?;
    }
    let count = Decimal::from(u32::try_from(last.len()).ok().filter(|count| *count > 0)?);
    sum.checked_div(count).map(|mean| mean.ceil())
}

/// What was made last by a pattern with a limit.
#[derive(Clone, Debug)]
struct MadeLast {
    date: NaiveDate,
    line: Span,
    sizes: Vec<Decimal>,
    /// Whether it went over the limit, which is told there.
    over: bool,
}

/// A pattern whose licences permit less than another usual batch.
#[derive(Clone, Copy, Debug)]
pub(crate) struct NearLimit {
    pub(crate) pattern: PatternId,
    /// The line that made pieces last.
    pub(crate) line: Span,
    pub(crate) left: Decimal,
    pub(crate) usual: Decimal,
}

/// All licences with pieces left.
#[derive(Clone, Debug, Default)]
pub(crate) struct Licences {
    by_pattern: FxHashMap<PatternId, VecDeque<LicenceLot>>,
    made_last: BTreeMap<PatternId, MadeLast>,
    cost_left: CostVector,
    /// By how much the paid cost of pieces still permitted rose or fell, in the order in which it did.
    changes: Vec<(NaiveDate, Fixed6)>,
}

/// What good pieces took of licences.
#[derive(Clone, Debug, Default)]
pub(crate) struct Permitted {
    /// Its cost: royalty alone.
    pub(crate) vector: CostVector,
    /// Pieces for which no licence was left.
    pub(crate) without: Decimal,
}

impl Licences {
    /// Adds `count` licences of `allows` pieces each.
    pub(crate) fn buy(
        &mut self,
        pattern: PatternId,
        date: NaiveDate,
        count: Decimal,
        allows: Decimal,
        vector: CostVector,
    ) -> Costed<()> {
        let left = checked_mul_exact(count, allows)?;
        self.cost_left.add(&vector).or_fault()?;
        self.changes.push((date, vector.paid().or_fault()?));
        self.by_pattern.entry(pattern).or_default().push_back(LicenceLot { pattern, date, left, vector });
        Ok(())
    }

    /// Takes permitted pieces for good pieces.
    pub(crate) fn take(&mut self, pattern: PatternId, date: NaiveDate, pieces: Decimal) -> Costed<Permitted> {
        let lots = self.by_pattern.entry(pattern).or_default();
        let mut wanted = pieces;
        let mut vector = CostVector::default();
        while !wanted.is_zero() {
            let Some(lot) = lots.front_mut() else { break };
            let taken = wanted.min(lot.left);
            let part = lot.vector.take_part(taken, lot.left).or_fault()?;
            lot.left = checked_sub_exact(lot.left, taken)?;
            vector.add(&part).or_fault()?;
            wanted = checked_sub_exact(wanted, taken)?;
            if lot.left.is_zero() {
                lots.pop_front();
            }
        }
        self.cost_left.subtract(&vector).or_fault()?;
        self.changes.push((date, vector.paid().and_then(Fixed6::checked_neg).or_fault()?));
        Ok(Permitted { vector, without: wanted })
    }

    /// Remembers that pieces were made by a pattern with a limit.
    pub(crate) fn made(&mut self, pattern: PatternId, date: NaiveDate, line: Span, pieces: Decimal, over: bool) {
        let last = self.made_last.entry(pattern).or_insert_with(|| MadeLast { date, line, sizes: Vec::new(), over });
        (last.date, last.line, last.over) = (date, line, over);
        last.sizes.push(pieces);
        if last.sizes.len() > LAST {
            last.sizes.remove(0);
        }
    }

    /// Patterns by which pieces were made since a day, and of which less is left than a usual batch makes, by pattern.
    pub(crate) fn near_limit(&self, since: NaiveDate) -> Vec<NearLimit> {
        let mut near: Vec<NearLimit> = Vec::new();
        for (pattern, last) in self.made_last.iter().filter(|(_, last)| last.date >= since && !last.over) {
            let lots = self.by_pattern.get(pattern).into_iter().flatten();
            let left = lots.fold(Decimal::ZERO, |sum, lot| sum.saturating_add(lot.left));
            if let Some(usual) = usual_batch(&last.sizes).filter(|usual| left < *usual) {
                near.push(NearLimit { pattern: *pattern, line: last.line, left, usual });
            }
        }
        near
    }

    /// The cost of all pieces still permitted.
    pub(crate) fn cost_left(&self) -> &CostVector {
        &self.cost_left
    }

    /// All of it was in the shop when a year began. `None` on overflow.
    pub(crate) fn carry_in(&mut self, year: i32, paid_only: bool) -> Option<()> {
        self.cost_left = CostVector::default();
        for lot in self.by_pattern.values_mut().flatten() {
            lot.vector.carry_in(year, paid_only)?;
        }
        // In whatever order: a sum is the same.
        let mut sum = CostVector::default();
        for lot in self.by_pattern.values().flatten() {
            sum.add(&lot.vector)?;
        }
        self.cost_left = sum;
        Some(())
    }

    /// The licences with pieces left, by pattern and age, and how their paid cost changed.
    pub(crate) fn into_lots(self) -> (Vec<LicenceLot>, Vec<(NaiveDate, Fixed6)>) {
        let mut lots: Vec<LicenceLot> = self.by_pattern.into_values().flatten().collect();
        lots.sort_by_key(|lot| (lot.pattern, lot.date));
        (lots, self.changes)
    }
}
