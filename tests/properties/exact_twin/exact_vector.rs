//! A cost vector in exact fractions, with its slack: by how many millionths the real one may differ from it.
//!
//! The slack is reckoned beside the value. What is entered has none. A part that is taken carries its share of the slack and half a
//! millionth for its own rounding, and so does what is left; a part of a split by largest remainder carries a whole millionth, since the
//! remainder may be given to it. Vectors that are put together add their slacks. Each figure of the vector has this one bound.

use std::collections::BTreeMap;

use kerfbook::costing::{Component, CostVector};
use kerfbook::names::StepId;
use num_traits::{Signed, Zero};

use super::exact_number::{Exact, micros, nothing, of_amount, rounded_up, whole};

/// A cost vector.
#[derive(Clone, Debug, Default)]
pub(crate) struct ExactVector {
    money: [Exact; 7],
    /// Own and bought-in minutes by step.
    minutes: BTreeMap<Option<StepId>, (Exact, Exact)>,
    /// In millionths; rounded up to thousandths of one, so that it stays a short number.
    pub(crate) slack: Exact,
}

/// How a part is rounded by the real engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cut {
    /// Drawn off: rounded to the nearest.
    Drawn,
    /// One of several parts by largest remainder.
    Split,
}

/// Adds without the long way where there is nothing to add.
fn put(to: &mut Exact, more: &Exact) {
    if to.is_zero() {
        to.clone_from(more);
    } else if !more.is_zero() {
        *to += more;
    }
}

impl ExactVector {
    /// One component.
    pub(crate) fn of(component: Component, money: Exact) -> Self {
        let mut vector = Self::default();
        vector.money[component as usize] = money;
        vector
    }

    /// Minutes at a step.
    pub(crate) fn of_minutes(step: Option<StepId>, own: Exact, bought_in: Exact) -> Self {
        let mut vector = Self::default();
        vector.minutes.insert(step, (own, bought_in));
        vector
    }

    /// The same with so much more slack.
    pub(crate) fn with_slack(mut self, more: i64) -> Self {
        self.slack += whole(more);
        self
    }

    /// A component.
    pub(crate) fn get(&self, component: Component) -> &Exact {
        &self.money[component as usize]
    }

    /// Adds another.
    pub(crate) fn add(&mut self, other: &Self) {
        for (mine, more) in self.money.iter_mut().zip(&other.money) {
            put(mine, more);
        }
        for (step, (own, bought_in)) in &other.minutes {
            let mine = self.minutes.entry(*step).or_insert_with(|| (nothing(), nothing()));
            put(&mut mine.0, own);
            put(&mut mine.1, bought_in);
        }
        self.slack += &other.slack;
    }

    /// Adds one component.
    pub(crate) fn add_to(&mut self, component: Component, money: &Exact) {
        self.money[component as usize] += money;
    }

    /// The vector with every sign turned.
    pub(crate) fn negated(&self) -> Self {
        let mut out = self.clone();
        for money in out.money.iter_mut().filter(|money| !money.is_zero()) {
            *money = -money.clone();
        }
        for (own, bought_in) in out.minutes.values_mut() {
            *own = -own.clone();
            *bought_in = -bought_in.clone();
        }
        out
    }

    /// So large a part of it, as the real engine would cut it.
    pub(crate) fn part(&self, part: &Exact, cut: Cut) -> Self {
        self.part_by(part, part, cut)
    }

    /// One part of materials, freight and royalty, and another of what is worked.
    pub(crate) fn part_by(&self, materials: &Exact, worked: &Exact, cut: Cut) -> Self {
        let mut out = Self::default();
        for component in Component::ALL {
            let of = match component {
                Component::Materials | Component::Freight | Component::Royalty => materials,
                Component::Wear | Component::BoughtInTime | Component::OwnTime | Component::Overhead => worked,
            };
            let money = self.get(component);
            if !money.is_zero() {
                out.money[component as usize] = money * of;
            }
        }
        for (step, (own, bought_in)) in &self.minutes {
            out.minutes.insert(*step, (own * worked, bought_in * worked));
        }
        let larger = if materials > worked { materials } else { worked };
        let all = materials == &whole(1) && worked == &whole(1);
        let rounding = match cut {
            _ if all || (materials.is_zero() && worked.is_zero()) => nothing(),
            Cut::Drawn => whole(1) / whole(2),
            Cut::Split => whole(1),
        };
        out.slack = rounded_up(&(&self.slack * larger.abs()), 3) + rounding;
        out
    }

    /// Takes a part off it and gives that.
    pub(crate) fn draw(&mut self, part: &Exact) -> Self {
        self.draw_by(part, part)
    }

    /// Takes one part of materials, freight and royalty off, and another of what is worked.
    pub(crate) fn draw_by(&mut self, materials: &Exact, worked: &Exact) -> Self {
        let taken = self.part_by(materials, worked, Cut::Drawn);
        let left = self.part_by(&(whole(1) - materials), &(whole(1) - worked), Cut::Drawn);
        *self = left;
        taken
    }

    /// Whether every figure is zero.
    pub(crate) fn is_zero(&self) -> bool {
        self.money.iter().all(Zero::is_zero) && self.minutes.values().all(|(own, bought_in)| own.is_zero() && bought_in.is_zero())
    }

    /// How a real vector differs by more than the slack, with so many millionths more; `None` where it does not.
    pub(crate) fn differs(&self, real: &CostVector, more: i64) -> Option<String> {
        let bound = &self.slack + whole(more);
        let check = |what: String, exact: &Exact, real: &Exact| {
            let apart = micros(&(exact - real)).abs();
            (apart > bound).then(|| format!("{what}: real {real}, exact {exact}, {apart} millionths apart, {bound} allowed"))
        };
        for component in Component::ALL {
            let told = check(format!("{component:?}"), self.get(component), &of_amount(real.get(component)));
            if told.is_some() {
                return told;
            }
        }
        let mut steps: Vec<Option<StepId>> =
            self.minutes.keys().copied().chain(real.minutes().iter().map(|one| one.step)).collect();
        steps.sort_unstable();
        steps.dedup();
        for step in steps {
            let (own, bought_in) = self.minutes.get(&step).cloned().unwrap_or_default();
            let found = real.minutes().iter().find(|one| one.step == step);
            let (real_own, real_bought) =
                found.map_or((nothing(), nothing()), |one| (of_amount(one.own), of_amount(one.bought_in)));
            let told = check(format!("own minutes at {step:?}"), &own, &real_own)
                .or_else(|| check(format!("bought-in minutes at {step:?}"), &bought_in, &real_bought));
            if told.is_some() {
                return told;
            }
        }
        None
    }
}
