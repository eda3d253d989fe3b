//! Licences of patterns that allow a number of pieces: lots of permitted pieces, taken by good pieces, oldest first.
//!
//! Costing rule 4. Taking the last permitted piece of a licence takes the rest of its cost. A royalty per piece is no matter of
//! this file: it is owed and enters the pieces directly.

use std::collections::VecDeque;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::costing::LicenceLot;
use crate::costing::fault::{Costed, OrFault};
use crate::names::PatternId;
use crate::units::{Fixed6, checked_mul_exact, checked_sub_exact, part_of};

/// All licences with pieces left.
#[derive(Clone, Debug, Default)]
pub(crate) struct Licences {
    by_pattern: FxHashMap<PatternId, VecDeque<LicenceLot>>,
    cost_left: Fixed6,
}

/// What good pieces took of licences.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Permitted {
    /// Its cost.
    pub(crate) cost: Fixed6,
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
        cost: Fixed6,
    ) -> Costed<()> {
        let left = checked_mul_exact(count, allows)?;
        self.cost_left = self.cost_left.checked_add(cost).or_fault()?;
        self.by_pattern.entry(pattern).or_default().push_back(LicenceLot { pattern, date, left, cost });
        Ok(())
    }

    /// Takes permitted pieces for good pieces.
    pub(crate) fn take(&mut self, pattern: PatternId, pieces: Decimal) -> Costed<Permitted> {
        let lots = self.by_pattern.entry(pattern).or_default();
        let mut wanted = pieces;
        let mut cost = Fixed6::ZERO;
        while !wanted.is_zero() {
            let Some(lot) = lots.front_mut() else { break };
            let taken = wanted.min(lot.left);
            let part = part_of(lot.cost, taken, lot.left).or_fault()?;
            lot.cost = lot.cost.checked_sub(part).or_fault()?;
            lot.left = checked_sub_exact(lot.left, taken)?;
            cost = cost.checked_add(part).or_fault()?;
            wanted = checked_sub_exact(wanted, taken)?;
            if lot.left.is_zero() {
                lots.pop_front();
            }
        }
        self.cost_left = self.cost_left.checked_sub(cost).or_fault()?;
        Ok(Permitted { cost, without: wanted })
    }

    /// The cost of all pieces still permitted.
    pub(crate) fn cost_left(&self) -> Fixed6 {
        self.cost_left
    }

    /// The licences with pieces left, by pattern and age.
    pub(crate) fn into_lots(self) -> Vec<LicenceLot> {
        let mut lots: Vec<LicenceLot> = self.by_pattern.into_values().flatten().collect();
        lots.sort_by_key(|lot| (lot.pattern, lot.date));
        lots
    }
}
