//! The proof: for every component and for minutes, per year and over all, what was there and came in is what is there and
//! went somewhere, exactly.
//!
//! The two sides are built apart: flows as they happen, what is on hand by adding up the stock, the bench and the unused
//! licences at each year's end. Marks on what is not paid, and pieces without hours, are proved like money. A difference is an internal error, and no report is printed.

use std::collections::BTreeMap;

use crate::costing::{CostVector, Flow, Mark};

/// One year's proof.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct YearProof {
    /// On hand on the first day, shelf, bench, other places and unused licences.
    pub at_start: CostVector,
    /// Sum of each flow of the year.
    pub flows: BTreeMap<Flow, CostVector>,
    /// On hand on the last day.
    pub at_end: CostVector,
}

impl YearProof {
    /// At start, plus what came in, less what went out, less what is on hand: zero in every figure. `None` on overflow.
    #[must_use]
    pub fn difference(&self) -> Option<CostVector> {
        let mut rest = self.at_start.clone();
        for (flow, vector) in &self.flows {
            if flow.comes_in() {
                rest.add(vector)?;
            } else {
                rest.subtract(vector)?;
            }
        }
        rest.subtract(&self.at_end)?;
        // What a year begins with is marked at its beginning, not by an entry.
        rest.drop_marks(|mark| matches!(mark, Mark::NotPaid(_)));
        Some(rest)
    }
}

/// The proof of every year of a book.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Proof {
    /// By year.
    pub years: BTreeMap<i32, YearProof>,
}

impl Proof {
    /// All years as one: the first year's start, the last year's end, and the sum of the flows between. `None` on overflow.
    #[must_use]
    pub fn over_all(&self) -> Option<YearProof> {
        let mut all = YearProof::default();
        if let Some(first) = self.years.values().next() {
            all.at_start = first.at_start.clone();
        }
        for year in self.years.values() {
            for (flow, vector) in &year.flows {
                all.flows.entry(*flow).or_default().add(vector)?;
            }
            all.at_end = year.at_end.clone();
        }
        Some(all)
    }

    /// Whether every year and the whole come out at exactly zero.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.years.values().all(|year| year.difference().is_some_and(|rest| rest.is_zero()))
            && self.over_all().and_then(|all| all.difference()).is_some_and(|rest| rest.is_zero())
    }
}
