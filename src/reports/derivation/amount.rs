//! Which amounts of its steps a derivation shows: paid and full cost, or one amount.

use super::step::Sum;
use crate::costing::Component;
use crate::reports::{CostPart, ProofOf, WhyMeasure};
use crate::units::Fixed6;

/// What is shown of a step's sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shown {
    /// Paid and full cost.
    PaidAndFull,
    /// One amount of money, which is paid and full cost alike.
    Money,
    /// A part of a cost.
    Part(CostPart),
    /// A component that is proved, or minutes.
    Proof(ProofOf),
}

impl Shown {
    /// Of a cost: one part, or else paid and full cost.
    pub(super) fn of_cost(part: Option<CostPart>) -> Self {
        part.map_or(Self::PaidAndFull, Self::Part)
    }

    pub(super) fn measure(self) -> WhyMeasure {
        match self {
            Self::PaidAndFull => WhyMeasure::PaidAndFull,
            Self::Part(CostPart::Minutes) | Self::Proof(ProofOf::OwnMinutes | ProofOf::BoughtInMinutes) => WhyMeasure::Minutes,
            Self::Money | Self::Part(_) | Self::Proof(ProofOf::Component(_)) => WhyMeasure::Money,
        }
    }

    /// The amounts of a sum: paid and full; one amount stands as both.
    pub(super) fn amounts(self, sum: Sum) -> [Fixed6; 2] {
        match self {
            Self::PaidAndFull => [sum.paid, sum.full],
            Self::Money => [sum.paid, sum.paid],
            Self::Part(part) => [part_of(sum, part); 2],
            Self::Proof(of) => [proved(sum, of); 2],
        }
    }

    /// Whether a sum has any of what is shown. Of paid and full cost a step of nothing is told too.
    pub(super) fn shows(self, sum: Sum) -> bool {
        match self {
            Self::PaidAndFull | Self::Money => true,
            Self::Part(_) | Self::Proof(_) => !self.amounts(sum)[0].is_zero(),
        }
    }

    /// An amount in its digits: money two to six, minutes as many as needed.
    pub(super) fn text(self, amount: Fixed6) -> String {
        let least = if self.measure() == WhyMeasure::Minutes { 0 } else { 2 };
        amount.to_fixed_text(least, 6)
    }
}

fn proved(sum: Sum, of: ProofOf) -> Fixed6 {
    match of {
        ProofOf::Component(component) => sum.parts.get(component),
        ProofOf::OwnMinutes => sum.parts.own_minutes(),
        ProofOf::BoughtInMinutes => sum.parts.bought_in_minutes(),
    }
}

/// A part of a sum. Materials have their freight with them; neither is above the full cost, so the sum of the two fits.
pub(super) fn part_of(sum: Sum, part: CostPart) -> Fixed6 {
    let of = |component| sum.parts.get(component);
    match part {
        CostPart::Materials => of(Component::Materials).checked_add(of(Component::Freight)).unwrap_or_default(),
        CostPart::Wear => of(Component::Wear),
        CostPart::BoughtInTime => of(Component::BoughtInTime),
        CostPart::Royalty => of(Component::Royalty),
        CostPart::Paid => sum.paid,
        CostPart::OwnTime => of(Component::OwnTime),
        CostPart::Overhead => of(Component::Overhead),
        CostPart::Full => sum.full,
        CostPart::Minutes => sum.parts.own_minutes(),
    }
}
