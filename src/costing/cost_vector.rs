//! What a lot carries: money by component, and minutes by step.
//!
//! All arithmetic is checked; a split gives parts that sum to the whole, component by component. The minutes are quantities and
//! are conserved like money.

use rust_decimal::Decimal;

use crate::costing::beside::{Beside, Mark, PAID, PaidParts};
use crate::names::{StepId, ThingKind};
use crate::units::{Fixed6, Share, SplitError, Weights};

/// A component of cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Component {
    /// Materials, net of discount, with their sales tax.
    Materials,
    /// Freight in on material lines.
    Freight,
    /// Wear, with its freight.
    Wear,
    /// Bought-in time.
    BoughtInTime,
    /// Royalty and licence.
    Royalty,
    /// Own time: full cost only.
    OwnTime,
    /// Overhead: full cost only.
    Overhead,
}

impl Component {
    /// All of them, in the order of the reports.
    pub const ALL: [Self; 7] =
        [Self::Materials, Self::Freight, Self::Wear, Self::BoughtInTime, Self::Royalty, Self::OwnTime, Self::Overhead];

    /// What the price of goods of a kind is.
    pub(crate) const fn of_goods(kind: ThingKind) -> Self {
        match kind {
            ThingKind::Wear => Self::Wear,
            ThingKind::Material | ThingKind::Packing | ThingKind::Product => Self::Materials,
        }
    }

    /// Whether it is part of paid cost.
    #[must_use]
    pub const fn is_paid(self) -> bool {
        !matches!(self, Self::OwnTime | Self::Overhead)
    }

    const fn index(self) -> usize {
        self as usize
    }
}

/// Minutes at a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StepMinutes {
    /// The step; `None` for hours stated of goods that were there when the book began.
    pub step: Option<StepId>,
    /// The owner's.
    pub own: Fixed6,
    /// Bought in.
    pub bought_in: Fixed6,
}

/// A cost vector.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CostVector {
    money: [Fixed6; 7],
    minutes: Vec<StepMinutes>,
    /// Marks and pieces without hours; never an empty one.
    beside: Option<Box<Beside>>,
}

impl CostVector {
    /// A vector of one component.
    #[must_use]
    pub fn of(component: Component, money: Fixed6) -> Self {
        let mut vector = Self::default();
        vector.set(component, money);
        vector
    }

    /// A vector of minutes at one step.
    #[must_use]
    pub fn of_minutes(step: Option<StepId>, own: Fixed6, bought_in: Fixed6) -> Self {
        let mut vector = Self::default();
        if !own.is_zero() || !bought_in.is_zero() {
            vector.minutes.push(StepMinutes { step, own, bought_in });
        }
        vector
    }

    /// A component's money.
    #[must_use]
    pub fn get(&self, component: Component) -> Fixed6 {
        self.money[component.index()]
    }

    /// Sets a component's money.
    pub fn set(&mut self, component: Component, money: Fixed6) {
        self.money[component.index()] = money;
    }

    /// Adds to a component. `None` on overflow.
    pub fn add_to(&mut self, component: Component, money: Fixed6) -> Option<()> {
        let slot = &mut self.money[component.index()];
        *slot = slot.checked_add(money)?;
        Some(())
    }

    /// Minutes by step, sorted by step.
    #[must_use]
    pub fn minutes(&self) -> &[StepMinutes] {
        &self.minutes
    }

    /// Whether hours are missing from it: a piece that was opened without hours, or a part of one, is in it.
    #[must_use]
    pub fn hours_unknown(&self) -> bool {
        self.beside.as_ref().is_some_and(|beside| !beside.without_hours.is_zero())
    }

    /// Says that it has so many pieces without hours more. `None` on overflow.
    pub(crate) fn add_without_hours(&mut self, pieces: Decimal) -> Option<()> {
        let more = Beside::of_pieces_without_hours(pieces)?;
        self.merge_beside(Some(&more), Fixed6::checked_add)
    }

    /// The part of the paid cost of which a mark speaks, as a cost of its own.
    #[must_use]
    pub fn marked(&self, mark: Mark) -> Self {
        let mut out = Self::default();
        if let Some(beside) = &self.beside {
            for (slot, part) in out.money.iter_mut().zip(beside.marked(mark)) {
                *slot = part;
            }
        }
        out
    }

    /// Says of which part of the paid cost a mark speaks.
    pub(crate) fn set_mark(&mut self, mark: Mark, parts: PaidParts) {
        let mut beside = self.beside.take().map_or_else(Beside::default, |beside| *beside);
        beside.set(mark, parts);
        self.keep_beside(beside);
    }

    /// All of it was in the shop when a year began; on the cash basis, what was paid of it by then. Marks of years before say nothing
    /// more. `None` on overflow.
    pub(crate) fn carry_in(&mut self, year: i32, paid_only: bool) -> Option<()> {
        let mut parts = [Fixed6::ZERO; PAID];
        parts.copy_from_slice(self.money.get(..PAID)?);
        if paid_only {
            let unpaid = self.marked(Mark::NotPaid(year.checked_sub(1)?));
            for (part, unpaid) in parts.iter_mut().zip(unpaid.money) {
                *part = part.checked_sub(unpaid)?;
            }
        }
        self.drop_marks(|mark| !matches!(mark, Mark::CarriedIn(_)));
        self.set_mark(Mark::CarriedIn(year), parts);
        Some(())
    }

    /// Drops the marks that are not wanted.
    pub(crate) fn drop_marks(&mut self, wanted: impl Fn(Mark) -> bool) {
        if let Some(beside) = self.beside.take() {
            let mut beside = *beside;
            beside.retain(wanted);
            self.keep_beside(beside);
        }
    }

    fn keep_beside(&mut self, beside: Beside) {
        self.beside = (!beside.is_empty()).then(|| Box::new(beside));
    }

    fn merge_beside(&mut self, other: Option<&Beside>, with: impl Fn(Fixed6, Fixed6) -> Option<Fixed6>) -> Option<()> {
        let Some(other) = other else { return Some(()) };
        let beside = self.beside.get_or_insert_default();
        beside.merge(other, with)?;
        if beside.is_empty() {
            self.beside = None;
        }
        Some(())
    }

    /// Whether every figure is zero, marks too.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.minutes.is_empty() && self.beside.is_none() && self.money.iter().all(|money| money.is_zero())
    }

    /// Whether any component or minute is below zero.
    #[must_use]
    pub fn has_negative(&self) -> bool {
        self.money.iter().any(|money| money.is_negative())
            || self.minutes.iter().any(|one| one.own.is_negative() || one.bought_in.is_negative())
    }

    fn sum(&self, wanted: impl Fn(Component) -> bool) -> Option<Fixed6> {
        let mut sum = Fixed6::ZERO;
        for component in Component::ALL {
            if wanted(component) {
                sum = sum.checked_add(self.get(component))?;
            }
        }
        Some(sum)
    }

    /// Paid cost: materials, freight, wear, bought-in time, royalty. `None` on overflow.
    #[must_use]
    pub fn paid(&self) -> Option<Fixed6> {
        self.sum(Component::is_paid)
    }

    /// Full cost: paid cost, own time and overhead. `None` on overflow.
    #[must_use]
    pub fn full(&self) -> Option<Fixed6> {
        self.sum(|_| true)
    }

    /// The owner's minutes at all steps. `None` on overflow.
    #[must_use]
    pub fn own_minutes(&self) -> Option<Fixed6> {
        self.minutes.iter().try_fold(Fixed6::ZERO, |sum, one| sum.checked_add(one.own))
    }

    /// Bought-in minutes at all steps. `None` on overflow.
    #[must_use]
    pub fn bought_in_minutes(&self) -> Option<Fixed6> {
        self.minutes.iter().try_fold(Fixed6::ZERO, |sum, one| sum.checked_add(one.bought_in))
    }

    fn merge(&mut self, other: &Self, with: impl Fn(Fixed6, Fixed6) -> Option<Fixed6>) -> Option<()> {
        for (slot, money) in self.money.iter_mut().zip(&other.money) {
            if !money.is_zero() {
                *slot = with(*slot, *money)?;
            }
        }
        for one in &other.minutes {
            match self.minutes.binary_search_by_key(&one.step, |mine| mine.step) {
                Ok(at) => {
                    let mine = &mut self.minutes[at];
                    mine.own = with(mine.own, one.own)?;
                    mine.bought_in = with(mine.bought_in, one.bought_in)?;
                    if mine.own.is_zero() && mine.bought_in.is_zero() {
                        self.minutes.remove(at);
                    }
                }
                Err(at) => self.minutes.insert(
                    at,
                    StepMinutes {
                        step: one.step,
                        own: with(Fixed6::ZERO, one.own)?,
                        bought_in: with(Fixed6::ZERO, one.bought_in)?,
                    },
                ),
            }
        }
        self.merge_beside(other.beside.as_deref(), with)
    }

    /// Adds another vector. `None` on overflow; the vector is then unusable.
    pub fn add(&mut self, other: &Self) -> Option<()> {
        self.merge(other, Fixed6::checked_add)
    }

    /// Takes another vector off. `None` on overflow.
    pub fn subtract(&mut self, other: &Self) -> Option<()> {
        self.merge(other, Fixed6::checked_sub)
    }

    /// The vector with every sign turned. `None` on overflow.
    #[must_use]
    pub fn negated(&self) -> Option<Self> {
        let mut out = Self::default();
        out.subtract(self)?;
        Some(out)
    }

    /// Takes off the part `part` of `whole`, each component rounded half away from zero to six digits; what is left stays. Taking the
    /// whole takes everything. `None` on overflow, or where `whole` is zero.
    pub fn take_part(&mut self, part: Decimal, whole: Decimal) -> Option<Self> {
        if part == whole {
            return Some(std::mem::take(self));
        }
        let share = Share::new(part, whole)?;
        let mut taken = Self::default();
        if let Some(beside) = &self.beside {
            let part = beside.part(&share)?;
            self.merge_beside(Some(&part), Fixed6::checked_sub)?;
            taken.keep_beside(part);
        }
        for (slot, out) in self.money.iter_mut().zip(&mut taken.money) {
            if !slot.is_zero() {
                *out = share.of(*slot)?;
                *slot = slot.checked_sub(*out)?;
            }
        }
        for mine in &mut self.minutes {
            let own = share.of(mine.own)?;
            let bought_in = share.of(mine.bought_in)?;
            mine.own = mine.own.checked_sub(own)?;
            mine.bought_in = mine.bought_in.checked_sub(bought_in)?;
            if !own.is_zero() || !bought_in.is_zero() {
                taken.minutes.push(StepMinutes { step: mine.step, own, bought_in });
            }
        }
        self.minutes.retain(|mine| !mine.own.is_zero() || !mine.bought_in.is_zero());
        Some(taken)
    }

    /// The cost of `part` at the unit cost of `whole`, each component rounded half away from zero to six digits; `part` may be larger.
    /// `None` on overflow, or where `whole` is zero.
    #[must_use]
    pub fn scaled(&self, part: Decimal, whole: Decimal) -> Option<Self> {
        let share = Share::new(part, whole)?;
        let mut out = Self::default();
        if let Some(beside) = &self.beside {
            out.keep_beside(beside.part(&share)?);
        }
        for (money, slot) in self.money.iter().zip(&mut out.money) {
            if !money.is_zero() {
                *slot = share.of(*money)?;
            }
        }
        for mine in &self.minutes {
            let own = share.of(mine.own)?;
            let bought_in = share.of(mine.bought_in)?;
            if !own.is_zero() || !bought_in.is_zero() {
                out.minutes.push(StepMinutes { step: mine.step, own, bought_in });
            }
        }
        Some(out)
    }

    /// Splits the vector by weights, each component by largest remainder: the parts sum to the whole. An error where there is no
    /// weight, or on overflow.
    pub fn split(&self, weights: &[Decimal]) -> Result<Vec<Self>, SplitError> {
        let weights_of = Weights::new(weights)?;
        let mut parts = vec![Self::default(); weights.len()];
        if let Some(beside) = &self.beside {
            for (part, beside) in parts.iter_mut().zip(beside.split(&weights_of)?) {
                part.keep_beside(beside);
            }
        }
        let mut shares = Vec::with_capacity(weights.len());
        for component in Component::ALL {
            let money = self.get(component);
            if !money.is_zero() {
                shares.clear();
                weights_of.split(money, &mut shares)?;
                for (part, share) in parts.iter_mut().zip(&shares) {
                    part.set(component, *share);
                }
            }
        }
        for one in &self.minutes {
            let mut own = Vec::with_capacity(weights.len());
            let mut bought_in = Vec::with_capacity(weights.len());
            weights_of.split(one.own, &mut own)?;
            weights_of.split(one.bought_in, &mut bought_in)?;
            for ((part, own), bought_in) in parts.iter_mut().zip(own).zip(bought_in) {
                if !own.is_zero() || !bought_in.is_zero() {
                    part.minutes.push(StepMinutes { step: one.step, own, bought_in });
                }
            }
        }
        Ok(parts)
    }

    /// Takes off so much of the materials and their freight, with the same part of their marks. `None` on overflow, or where a mark stands
    /// on nothing.
    pub(crate) fn take_materials(&mut self, materials: Fixed6, freight: Fixed6) -> Option<Self> {
        let mut taken = Self::of(Component::Materials, materials);
        taken.set(Component::Freight, freight);
        let marks: Vec<Mark> = self.beside.iter().flat_map(|beside| beside.marks()).collect();
        for mark in marks {
            let marked = self.marked(mark);
            let mut parts = [Fixed6::ZERO; PAID];
            for component in [Component::Materials, Component::Freight] {
                let (of_it, whole, part) = (marked.get(component), self.get(component), taken.get(component));
                if !part.is_zero() {
                    *parts.get_mut(component.index())? = Share::of_amounts(part, whole)?.of(of_it)?;
                }
            }
            taken.set_mark(mark, parts);
        }
        self.subtract(&taken)?;
        Some(taken)
    }

    /// Takes off a part of each figure: `materials_part` of the first two components and royalty, `work_part` of the others and of the minutes, each
    /// as (part, whole). `None` on overflow, or where a whole is zero.
    pub fn take_worked_part(&mut self, materials: (Decimal, Decimal), work: (Decimal, Decimal)) -> Option<Self> {
        const WORK: [Component; 4] = [Component::Wear, Component::BoughtInTime, Component::OwnTime, Component::Overhead];
        let mut work_side = Self::default();
        if let Some(beside) = self.beside.take() {
            work_side.keep_beside(beside.of_components(|component| WORK.contains(&component), true));
            self.keep_beside(beside.of_components(|component| !WORK.contains(&component), false));
        }
        for component in WORK {
            work_side.set(component, self.get(component));
            self.set(component, Fixed6::ZERO);
        }
        work_side.minutes = std::mem::take(&mut self.minutes);
        let mut taken = self.take_part(materials.0, materials.1)?;
        let worked = work_side.take_part(work.0, work.1)?;
        taken.add(&worked)?;
        self.add(&work_side)?;
        Some(taken)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minutes_below_zero_are_a_figure_below_zero_whosever_they_are() {
        let (some, none) = (Fixed6::from_micros(60_000_000), Fixed6::ZERO);
        for time in [CostVector::of_minutes(None, some, none), CostVector::of_minutes(None, none, some)] {
            assert!(!time.has_negative());
            assert!(time.negated().expect("fits").has_negative());
        }
    }
}
