//! The proof: for every component and for minutes, per year and over all, what was there and came in is what is there and
//! went somewhere, exactly.
//!
//! The two sides are built apart: flows as they happen, what is on hand from the shelves, the bench and the unused licences at each
//! year's end. A shelf keeps its value as lots come and go, apart from the flows; at the end of the last year the lots themselves are
//! added up, so that a value that had left its lots behind could not come out at zero. Marks on what is not paid, and pieces without
//! hours, are proved like money. A difference is an internal error, and no report is printed.

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costing::Component;
    use crate::units::Fixed6;

    fn cost(micros: i128) -> CostVector {
        let mut vector = CostVector::default();
        vector.set(Component::Materials, Fixed6::from_micros(micros));
        vector
    }

    fn year(at_start: i128, bought: i128, sold: i128, at_end: i128) -> YearProof {
        let flows = BTreeMap::from([(Flow::Bought, cost(bought)), (Flow::Sold, cost(sold))]);
        YearProof { at_start: cost(at_start), flows, at_end: cost(at_end) }
    }

    #[test]
    fn a_millionth_that_went_nowhere_breaks_the_proof() {
        let proof = |at_end| Proof { years: BTreeMap::from([(2026, year(5, 7, 4, at_end))]) };
        assert!(proof(8).holds());
        assert!(!proof(7).holds());
    }

    #[test]
    fn faults_of_two_years_that_cancel_break_it_and_so_does_a_year_that_begins_with_other_goods_than_the_last_ended() {
        // Two lost in the first year, two too many in the second: the whole comes out even.
        let cancelled = Proof { years: BTreeMap::from([(2026, year(0, 10, 0, 8)), (2027, year(8, 0, 0, 10))]) };
        assert!(cancelled.over_all().and_then(|all| all.difference()).expect("fits").is_zero());
        assert!(!cancelled.holds());
        // Each year comes out even, and three went missing between them.
        let parted = Proof { years: BTreeMap::from([(2026, year(0, 10, 0, 10)), (2027, year(7, 0, 0, 7))]) };
        assert!(parted.years.values().all(|year| year.difference().expect("fits").is_zero()));
        assert!(!parted.holds());
    }
}
