//! Licences of patterns that allow a number of pieces: lots of permitted pieces, taken by good pieces, oldest first.
//!
//! Costing rule 4. Taking the last permitted piece of a licence takes the rest of its cost. A royalty per piece is no matter of
//! this file: it is owed and enters the pieces directly.

use std::collections::VecDeque;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::costing::fault::{Costed, OrFault};
use crate::costing::{CostVector, LicenceLot};
use crate::names::PatternId;
use crate::units::{checked_mul_exact, checked_sub_exact};

/// All licences with pieces left.
#[derive(Clone, Debug, Default)]
pub(crate) struct Licences {
    by_pattern: FxHashMap<PatternId, VecDeque<LicenceLot>>,
    cost_left: CostVector,
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
        self.by_pattern.entry(pattern).or_default().push_back(LicenceLot { pattern, date, left, vector });
        Ok(())
    }

    /// Takes permitted pieces for good pieces.
    pub(crate) fn take(&mut self, pattern: PatternId, pieces: Decimal) -> Costed<Permitted> {
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
        Ok(Permitted { vector, without: wanted })
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

    /// The licences with pieces left, by pattern and age.
    pub(crate) fn into_lots(self) -> Vec<LicenceLot> {
        let mut lots: Vec<LicenceLot> = self.by_pattern.into_values().flatten().collect();
        lots.sort_by_key(|lot| (lot.pattern, lot.date));
        lots
    }
}
