//! What a piece is expected to cost: its materials at what they cost on the shelf and, of what is short, at the last price; its hours as
//! the last batches took; royalty, wear and overhead by their rules of the day, and licences as far as they are bought.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::buying::LastBought;
use super::explode::{Build, Ground};
use super::hours::{Hours, expected_minutes};
use super::there::There;
use crate::costing::{Component, CostVector};
use crate::names::{PatternId, ThingId};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, checked_add_exact, checked_sub_exact, mul_div_round, part_of};

/// The expected cost of so much of a thing.
#[derive(Clone, Debug, Default)]
pub(super) struct Expected {
    pub(super) quantity: Decimal,
    pub(super) materials: Fixed6,
    pub(super) wear: Fixed6,
    pub(super) bought_in_time: Fixed6,
    pub(super) royalty: Fixed6,
    pub(super) own_time: Fixed6,
    pub(super) overhead: Fixed6,
    pub(super) minutes: Fixed6,
    /// Whether something in it has no price yet.
    pub(super) without_price: bool,
}

impl Expected {
    /// So much of it. `None` where a figure is too large to be carried.
    fn part(&self, quantity: Decimal) -> Option<Self> {
        if self.quantity.is_zero() {
            return Some(Self { quantity, without_price: self.without_price, ..Self::default() });
        }
        let of = |sum: Fixed6| part_of(sum, quantity, self.quantity);
        Some(Self {
            quantity,
            materials: of(self.materials)?,
            wear: of(self.wear)?,
            bought_in_time: of(self.bought_in_time)?,
            royalty: of(self.royalty)?,
            own_time: of(self.own_time)?,
            overhead: of(self.overhead)?,
            minutes: of(self.minutes)?,
            without_price: self.without_price,
        })
    }

    fn add(&mut self, other: &Self) -> Option<()> {
        let sum = |a: &mut Fixed6, b: Fixed6| {
            *a = a.checked_add(b)?;
            Some(())
        };
        sum(&mut self.materials, other.materials)?;
        sum(&mut self.wear, other.wear)?;
        sum(&mut self.bought_in_time, other.bought_in_time)?;
        sum(&mut self.royalty, other.royalty)?;
        sum(&mut self.own_time, other.own_time)?;
        sum(&mut self.overhead, other.overhead)?;
        sum(&mut self.minutes, other.minutes)?;
        self.without_price |= other.without_price;
        Some(())
    }

    fn of_vector(quantity: Decimal, vector: &CostVector) -> Option<Self> {
        Some(Self {
            quantity,
            materials: vector.get(Component::Materials).checked_add(vector.get(Component::Freight))?,
            wear: vector.get(Component::Wear),
            bought_in_time: vector.get(Component::BoughtInTime),
            royalty: vector.get(Component::Royalty),
            own_time: vector.get(Component::OwnTime),
            overhead: vector.get(Component::Overhead),
            minutes: vector.own_minutes()?,
            without_price: false,
        })
    }
}

/// What the builds of a plan are expected to cost, by thing; each over its good pieces. Parts come first in `builds`.
pub(super) fn expected_costs(
    ground: Ground<'_>,
    builds: &[Build],
    there: &There,
    last: &LastBought<'_>,
    hours: &Hours,
) -> Option<BTreeMap<ThingId, Expected>> {
    let mut costs: BTreeMap<ThingId, Expected> = BTreeMap::new();
    for build in builds {
        let cost = expected(ground, build, there, last, hours, &costs)?;
        costs.insert(build.thing, cost);
    }
    Some(costs)
}

fn expected(
    ground: Ground<'_>,
    build: &Build,
    there: &There,
    last: &LastBought<'_>,
    hours: &Hours,
    costs: &BTreeMap<ThingId, Expected>,
) -> Option<Expected> {
    let Ground { book, day, .. } = ground;
    let thing = book.thing(build.thing);
    let mut cost = Expected { quantity: build.good, ..Expected::default() };
    for need in thing.needs.on(day) {
        let by_recipe = mul_div_to_nine(build.begun, need.quantity, need.per).ok()?;
        let quantity = if ground.is_built(need.thing) { by_recipe } else { build.learnt.needed(need.thing, by_recipe)?.0 };
        cost.add(&had(need.thing, quantity, there, last, costs)?)?;
    }
    // The parts bring their own minutes, with their cost.
    let mut minutes_here = Fixed6::ZERO;
    for (step, minutes) in expected_minutes(ground, build)? {
        let of_owner = Fixed6::round_from_decimal(minutes)?;
        minutes_here = minutes_here.checked_add(of_owner)?;
        for wear in book.step(step).wears.on(day) {
            let quantity = mul_div_to_nine(minutes, wear.quantity, wear.per_minutes).ok()?;
            let worn = had(wear.thing, quantity, there, last, costs)?;
            cost.wear = cost.wear.checked_add(worn.materials)?.checked_add(worn.wear)?;
            cost.without_price |= worn.without_price;
        }
        if !book.step(step).indirect.on(day) {
            cost.overhead = cost.overhead.checked_add(an_hour(hours.overhead_per_hour, of_owner)?)?;
        }
    }
    cost.own_time = cost.own_time.checked_add(an_hour(hours.owner_rate, minutes_here)?)?;
    cost.minutes = cost.minutes.checked_add(minutes_here)?;
    if let Some(royalty) = (*thing.pattern.on(day)).and_then(|pattern| *book.pattern(pattern).royalty.on(day)) {
        let royalty = Fixed6::round_from_decimal(mul_div_to_nine(royalty, build.good, Decimal::ONE).ok()?)?;
        cost.royalty = cost.royalty.checked_add(royalty)?;
    }
    if let Some(pattern) = *thing.pattern.on(day) {
        cost.royalty = cost.royalty.checked_add(licences(ground, pattern, build.good)?)?;
    }
    Some(cost)
}

/// What so many pieces take of the licences that there are, the oldest first. Pieces beyond these have no licence yet, and no cost of one.
fn licences(ground: Ground<'_>, pattern: PatternId, pieces: Decimal) -> Option<Fixed6> {
    let (mut rest, mut cost) = (pieces, Fixed6::ZERO);
    for lot in ground.costed.licences.iter().filter(|lot| lot.pattern == pattern && !lot.left.is_zero()) {
        let taken = rest.min(lot.left);
        cost = cost.checked_add(part_of(lot.vector.paid()?, taken, lot.left)?)?;
        rest = checked_sub_exact(rest, taken).ok()?;
    }
    Some(cost)
}

/// What so much of a thing costs: from the shelf as far as it goes, the rest as it is built or was bought last.
fn had(
    thing: ThingId,
    quantity: Decimal,
    there: &There,
    last: &LastBought<'_>,
    costs: &BTreeMap<ThingId, Expected>,
) -> Option<Expected> {
    let mut cost = Expected { quantity, ..Expected::default() };
    let mut rest = quantity;
    if let Some((on_hand, vector)) = there.cost_at_home(thing) {
        let from_shelf = rest.min(*on_hand);
        cost.add(&Expected::of_vector(*on_hand, vector)?.part(from_shelf)?)?;
        rest = rest.saturating_sub(from_shelf);
    }
    if rest.is_zero() {
        return Some(cost);
    }
    match (costs.get(&thing), last.of_thing(thing)) {
        (Some(built), _) if !built.quantity.is_zero() => cost.add(&built.part(rest)?)?,
        (_, Some(bought)) => {
            let money = part_of(bought.cost, rest, bought.quantity)?;
            cost.materials = cost.materials.checked_add(money)?;
        }
        _ => match there.cost_at_home(thing) {
            Some((on_hand, vector)) => cost.add(&Expected::of_vector(*on_hand, vector)?.part(rest)?)?,
            None => cost.without_price = true,
        },
    }
    Some(cost)
}

/// Minutes at a rate for an hour.
fn an_hour(rate: Fixed6, minutes: Fixed6) -> Option<Fixed6> {
    mul_div_round(rate.micros(), minutes.micros(), 60_000_000).map(Fixed6::from_micros)
}

/// Sums quantities.
pub(super) fn plus(a: Decimal, b: Decimal) -> Option<Decimal> {
    checked_add_exact(a, b).ok()
}
