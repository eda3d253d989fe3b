//! What travels beside a cost: marks on parts of it, and pieces whose hours nobody knows.
//!
//! A *mark* is a part of the paid cost that has something said of it: not yet paid at a year's end, or in the shop when a year
//! began. It flows through issues, splits and returns exactly as the cost does, so that its sum is what the books say, to the
//! last digit. Goods opened without hours are counted by the piece; where a part of a piece is in something, its hours are not
//! known. Most costs have neither, and then nothing is kept.

use rust_decimal::Decimal;

use crate::costing::Component;
use crate::units::{Fixed6, Share, SplitError, Weights};

/// Something that is said of a part of a cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Mark {
    /// Not yet paid at the end of a year.
    NotPaid(i32),
    /// In the shop when a year began.
    CarriedIn(i32),
}

/// How many components are in the paid cost; they are the first of [`Component::ALL`].
pub(crate) const PAID: usize = 5;

/// A part of the paid cost, by component.
pub(crate) type PaidParts = [Fixed6; PAID];

/// What travels beside a cost.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Beside {
    /// Pieces, and parts of pieces, without hours.
    pub(crate) without_hours: Fixed6,
    /// Marks, sorted, none twice.
    marks: Vec<(Mark, PaidParts)>,
}

impl Beside {
    /// Pieces without hours, and no mark.
    pub(crate) fn of_pieces_without_hours(quantity: Decimal) -> Option<Self> {
        // A whole number of pieces has six digits to spare.
        Some(Self { without_hours: Fixed6::round_from_decimal(quantity)?, marks: Vec::new() })
    }

    /// Whether nothing is said.
    pub(crate) fn is_empty(&self) -> bool {
        self.without_hours.is_zero() && self.marks.is_empty()
    }

    /// What a mark says of each component.
    pub(crate) fn marked(&self, mark: Mark) -> PaidParts {
        let at = self.marks.binary_search_by_key(&mark, |(one, _)| *one);
        at.ok().and_then(|at| self.marks.get(at)).map_or([Fixed6::ZERO; PAID], |(_, parts)| *parts)
    }

    /// All marks.
    pub(crate) fn marks(&self) -> impl Iterator<Item = Mark> {
        self.marks.iter().map(|(mark, _)| *mark)
    }

    /// Says what a mark says from now on.
    pub(crate) fn set(&mut self, mark: Mark, parts: PaidParts) {
        let nothing = parts.iter().all(|part| part.is_zero());
        let at = match self.marks.binary_search_by_key(&mark, |(one, _)| *one) {
            Ok(at) => {
                self.marks.remove(at);
                at
            }
            Err(at) => at,
        };
        if !nothing {
            self.marks.insert(at, (mark, parts));
        }
    }

    /// Drops the marks that are not wanted.
    pub(crate) fn retain(&mut self, wanted: impl Fn(Mark) -> bool) {
        self.marks.retain(|(mark, _)| wanted(*mark));
    }

    /// Adds, or takes off, what stands beside another cost. `None` on overflow.
    pub(crate) fn merge(&mut self, other: &Self, with: impl Fn(Fixed6, Fixed6) -> Option<Fixed6>) -> Option<()> {
        self.without_hours = with(self.without_hours, other.without_hours)?;
        for (mark, parts) in &other.marks {
            let at = match self.marks.binary_search_by_key(mark, |(one, _)| *one) {
                Ok(at) => at,
                Err(at) => {
                    self.marks.insert(at, (*mark, [Fixed6::ZERO; PAID]));
                    at
                }
            };
            let sum = &mut self.marks[at].1;
            for (slot, part) in sum.iter_mut().zip(parts) {
                *slot = with(*slot, *part)?;
            }
            if sum.iter().all(|part| part.is_zero()) {
                self.marks.remove(at);
            }
        }
        Some(())
    }

    /// Each figure put through a rule. `None` where the rule gives nothing.
    pub(crate) fn each(&self, rule: impl Fn(Fixed6) -> Option<Fixed6>) -> Option<Self> {
        let mut out = Self { without_hours: rule(self.without_hours)?, marks: Vec::new() };
        for (mark, parts) in &self.marks {
            let mut ruled = [Fixed6::ZERO; PAID];
            for (slot, part) in ruled.iter_mut().zip(parts) {
                *slot = rule(*part)?;
            }
            out.set(*mark, ruled);
        }
        Some(out)
    }

    /// The part of it that goes with some components, and `without_hours` or not.
    pub(crate) fn of_components(&self, wanted: impl Fn(Component) -> bool, with_hours: bool) -> Self {
        let without_hours = if with_hours { self.without_hours } else { Fixed6::ZERO };
        let mut out = Self { without_hours, marks: Vec::new() };
        for (mark, parts) in &self.marks {
            let mut kept = *parts;
            for (component, part) in Component::ALL.into_iter().zip(&mut kept) {
                if !wanted(component) {
                    *part = Fixed6::ZERO;
                }
            }
            out.set(*mark, kept);
        }
        out
    }

    /// Its part by a share, rounded as costs are.
    pub(crate) fn part(&self, share: &Share) -> Option<Self> {
        self.each(|figure| share.of(figure))
    }

    /// Split by weights: the parts sum to the whole, figure by figure.
    pub(crate) fn split(&self, weights: &Weights) -> Result<Vec<Self>, SplitError> {
        let mut out = vec![Self::default(); weights.len()];
        let mut shares = Vec::with_capacity(weights.len());
        weights.split(self.without_hours, &mut shares)?;
        for (part, share) in out.iter_mut().zip(&shares) {
            part.without_hours = *share;
        }
        for (mark, parts) in &self.marks {
            let mut by_part = vec![[Fixed6::ZERO; PAID]; weights.len()];
            for (at, part) in parts.iter().enumerate() {
                weights.split(*part, &mut shares)?;
                for (to, share) in by_part.iter_mut().zip(&shares) {
                    to[at] = *share;
                }
            }
            for (to, parts) in out.iter_mut().zip(by_part) {
                to.set(*mark, parts);
            }
        }
        Ok(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::costing::CostVector;

    fn cost(micros: i128) -> CostVector {
        CostVector::of(Component::Materials, Fixed6::from_micros(micros))
    }

    fn marked(micros: i128, unpaid: i128) -> CostVector {
        let mut vector = cost(micros);
        let mut parts = [Fixed6::ZERO; PAID];
        parts[0] = Fixed6::from_micros(unpaid);
        vector.set_mark(Mark::NotPaid(2026), parts);
        vector
    }

    fn unpaid(vector: &CostVector) -> i128 {
        vector.marked(Mark::NotPaid(2026)).get(Component::Materials).micros()
    }

    #[test]
    fn a_mark_is_taken_in_the_proportion_in_which_the_cost_is_taken() {
        let mut lot = marked(9_000_000, 6_000_000);
        let taken = lot.take_part(Decimal::ONE, Decimal::from(3)).expect("fits");
        assert_eq!((taken.get(Component::Materials).micros(), unpaid(&taken)), (3_000_000, 2_000_000));
        assert_eq!((lot.get(Component::Materials).micros(), unpaid(&lot)), (6_000_000, 4_000_000));
    }

    #[test]
    fn the_parts_of_a_split_mark_sum_to_the_mark() {
        let parts = marked(10_000_000, 1_000_001).split(&[Decimal::ONE, Decimal::ONE, Decimal::ONE]).expect("fits");
        assert_eq!(parts.iter().map(unpaid).sum::<i128>(), 1_000_001);
        assert!(parts.iter().all(|part| unpaid(part) >= 333_333));
    }

    #[test]
    fn what_comes_back_takes_its_mark_back_and_leaves_none() {
        let mut sold = marked(5_000_000, 2_500_000);
        sold.add(&sold.negated().expect("fits")).expect("fits");
        assert_eq!(sold, CostVector::default());
    }

    #[test]
    fn hours_are_known_again_when_the_pieces_without_them_are_back() {
        let mut opened = cost(4_000_000);
        opened.add_without_hours(Decimal::from(2)).expect("fits");
        let mut sold = cost(1_000_000);
        let one = opened.take_part(Decimal::ONE, Decimal::from(2)).expect("fits");
        sold.add(&one).expect("fits");
        assert!(sold.hours_unknown());
        sold.subtract(&one).expect("fits");
        assert!(!sold.hours_unknown());
    }

    #[test]
    fn unpaid_time_goes_with_the_work_and_unpaid_wood_with_the_wood() {
        let mut bench = marked(8_000_000, 8_000_000);
        let mut hired = CostVector::of(Component::BoughtInTime, Fixed6::from_micros(6_000_000));
        let mut parts = [Fixed6::ZERO; PAID];
        parts[3] = Fixed6::from_micros(6_000_000);
        hired.set_mark(Mark::NotPaid(2026), parts);
        bench.add(&hired).expect("fits");
        let quarter = (Decimal::ONE, Decimal::from(4));
        let half = (Decimal::ONE, Decimal::from(2));
        let taken = bench.take_worked_part(quarter, half).expect("fits");
        let of = taken.marked(Mark::NotPaid(2026));
        assert_eq!(of.get(Component::Materials).micros(), 2_000_000);
        assert_eq!(of.get(Component::BoughtInTime).micros(), 3_000_000);
    }

    #[test]
    fn what_is_kept_takes_its_part_of_the_mark_and_work_keeps_its_own() {
        let mut bench = marked(8_000_000, 6_000_000);
        bench.set(Component::BoughtInTime, Fixed6::from_micros(5_000_000));
        let kept = bench.take_materials(Fixed6::from_micros(2_000_000), Fixed6::ZERO).expect("fits");
        assert_eq!((unpaid(&kept), unpaid(&bench)), (1_500_000, 4_500_000));
        assert_eq!(bench.get(Component::BoughtInTime).micros(), 5_000_000);
    }

    #[test]
    fn what_is_carried_in_is_all_or_what_was_paid_of_it_by_then() {
        let carried = |paid_only| {
            let mut vector = marked(8_000_000, 6_000_000);
            vector.carry_in(2027, paid_only).expect("fits");
            vector.marked(Mark::CarriedIn(2027)).get(Component::Materials).micros()
        };
        assert_eq!((carried(false), carried(true)), (8_000_000, 2_000_000));
    }

    #[test]
    fn what_a_year_began_with_says_nothing_of_the_next() {
        let mut vector = cost(8_000_000);
        vector.carry_in(2026, false).expect("fits");
        vector.carry_in(2027, false).expect("fits");
        assert!(vector.marked(Mark::CarriedIn(2026)).is_zero());
        assert!(!vector.marked(Mark::CarriedIn(2027)).is_zero());
    }
}
