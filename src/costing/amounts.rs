//! Cost by component and minutes in two sums: what the trace keeps of a cost vector, which has its minutes by step and its marks besides.

use crate::costing::{Component, CostVector};
use crate::units::Fixed6;

/// Cost by component, and minutes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Amounts {
    money: [Fixed6; 7],
    own_minutes: Fixed6,
    bought_in_minutes: Fixed6,
}

impl Amounts {
    /// The amounts of a vector. `None` where minutes are too many to be added up.
    #[must_use]
    pub fn of(vector: &CostVector) -> Option<Self> {
        Some(Self {
            money: Component::ALL.map(|component| vector.get(component)),
            own_minutes: vector.own_minutes()?,
            bought_in_minutes: vector.bought_in_minutes()?,
        })
    }

    /// Money of one component.
    #[must_use]
    pub fn of_component(component: Component, money: Fixed6) -> Self {
        Self { money: Component::ALL.map(|one| if one == component { money } else { Fixed6::ZERO }), ..Self::default() }
    }

    /// These amounts with so many minutes of the owner, or bought in.
    #[must_use]
    pub fn with_minutes(self, own: bool, minutes: Fixed6) -> Self {
        if own { Self { own_minutes: minutes, ..self } } else { Self { bought_in_minutes: minutes, ..self } }
    }

    /// A component's money.
    #[must_use]
    pub fn get(&self, component: Component) -> Fixed6 {
        let at = Component::ALL.iter().position(|one| *one == component);
        at.and_then(|at| self.money.get(at)).copied().unwrap_or_default()
    }

    /// The owner's minutes.
    #[must_use]
    pub fn own_minutes(&self) -> Fixed6 {
        self.own_minutes
    }

    /// Bought-in minutes.
    #[must_use]
    pub fn bought_in_minutes(&self) -> Fixed6 {
        self.bought_in_minutes
    }

    /// Paid cost. `None` on overflow.
    #[must_use]
    pub fn paid(&self) -> Option<Fixed6> {
        Fixed6::checked_sum(Component::ALL.iter().zip(self.money).filter(|(one, _)| one.is_paid()).map(|(_, money)| money))
    }

    /// Full cost. `None` on overflow.
    #[must_use]
    pub fn full(&self) -> Option<Fixed6> {
        Fixed6::checked_sum(self.money)
    }

    /// Whether there is nothing of any of them.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// These and others. `None` on overflow.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Option<Self> {
        self.merged(other, Fixed6::checked_add)
    }

    /// These less others. `None` on overflow.
    #[must_use]
    pub fn minus(&self, other: &Self) -> Option<Self> {
        self.merged(other, Fixed6::checked_sub)
    }

    /// Less than nothing by as much. `None` on overflow.
    #[must_use]
    pub fn negated(&self) -> Option<Self> {
        Self::default().minus(self)
    }

    fn merged(&self, other: &Self, merge: fn(Fixed6, Fixed6) -> Option<Fixed6>) -> Option<Self> {
        let mut money = self.money;
        for (one, other) in money.iter_mut().zip(other.money) {
            *one = merge(*one, other)?;
        }
        Some(Self {
            money,
            own_minutes: merge(self.own_minutes, other.own_minutes)?,
            bought_in_minutes: merge(self.bought_in_minutes, other.bought_in_minutes)?,
        })
    }
}
