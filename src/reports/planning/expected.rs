//! What a piece is expected to cost: its materials at what they cost on the shelf and, of what is short, at the last price; its hours as
//! the last batches took, those of helpers at what they cost then; royalty, wear and overhead by their rules of the day, and licences as far as they are bought.
//!
//! All of it is of the pieces begun, and shared over the good ones that are expected of these. Where whole pieces to begin make more good ones than are
//! wanted, those have their share of the cost too.
//!
//! Where the shelf doesn't hold all that the plan needs of a thing, each build has its share of what is there. A cost is the sum of its items.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::buying::LastBought;
use super::explode::{Build, Ground, Needed, parts_needed};
use super::hours::{Hours, expected_minutes};
use super::licences::LicenceNeed;
use super::made_here::{MadeHere, made_here};
use super::there::There;
use crate::costing::{Amounts, Component, CostVector};
use crate::names::{BatchId, PatternId, StepId, ThingId};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, checked_add_exact, checked_sub_exact, mul_div_round, part_of};

/// Whence an item of a cost is taken.
#[derive(Clone, Copy, Debug)]
pub(crate) enum CostFrom {
    /// So much of what is at home.
    Shelf(ThingId, Decimal),
    /// So much of what the plan builds.
    Built(ThingId, Decimal),
    /// So much at the price of the last purchase.
    Bought(ThingId, Decimal),
    /// So many pieces of a batch on the bench.
    Bench(BatchId, Decimal),
    /// So much as the last batch that made it cost, of what has no recipe.
    Made(ThingId, Decimal, MadeHere),
    /// The owner's minutes at the rate of the day.
    OwnTime(Fixed6),
    /// Helpers' minutes at a step, at what they cost in the last batches.
    Helpers(StepId, Fixed6),
    /// Overhead on the minutes of a step.
    Overhead(StepId, Fixed6),
    /// Royalty on good pieces.
    Royalty(PatternId, Decimal),
    /// Pieces that take of a licence.
    Licence(PatternId, NaiveDate, Decimal),
    /// Pieces for which a licence is to be bought, at the price of the last one.
    LicenceToBuy(PatternId, Decimal),
}

/// An item of a cost.
#[derive(Clone, Copy, Debug)]
pub(crate) struct CostItem {
    pub(crate) from: CostFrom,
    /// The step that wears it.
    pub(crate) worn_at: Option<StepId>,
    /// Materials have their freight with them; of minutes only the owner's.
    pub(crate) cost: Amounts,
    /// What of it is owed until it is paid: helpers and royalties that are `paid later`.
    pub(crate) later: Fixed6,
}

/// Parts of a cost of which something is not known, so that they are at least what is said.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct AtLeast {
    pub(crate) materials: bool,
    pub(crate) wear: bool,
    pub(crate) royalty: bool,
    /// Nothing says how long it takes: neither its recipe, nor a batch, nor what was opened.
    pub(crate) hours: bool,
}

impl AtLeast {
    fn or(&mut self, other: Self) {
        self.materials |= other.materials;
        self.wear |= other.wear;
        self.royalty |= other.royalty;
        self.hours |= other.hours;
    }

    /// Whether the paid cost is.
    pub(crate) const fn paid(self) -> bool {
        self.materials || self.wear || self.royalty
    }
}

impl CostItem {
    fn of(from: CostFrom, worn_at: Option<StepId>, cost: Amounts) -> Self {
        Self { from, worn_at, cost, later: Fixed6::ZERO }
    }
}

/// The expected cost of so much of a thing.
#[derive(Clone, Debug, Default)]
pub(crate) struct Expected {
    pub(crate) quantity: Decimal,
    pub(crate) cost: Amounts,
    pub(crate) items: Vec<CostItem>,
    /// What it needs of which nothing says what it costs.
    pub(crate) without_cost: Vec<ThingId>,
    /// The same of all that it needs, parts that are built for it among them.
    pub(crate) at_least: AtLeast,
}

impl Expected {
    fn add(&mut self, item: CostItem) -> Option<()> {
        self.cost = self.cost.plus(&item.cost)?;
        self.items.push(item);
        Some(())
    }
}

/// What a plan's costs are taken from.
pub(super) struct CostGround<'g, 'a> {
    pub(super) ground: Ground<'a>,
    pub(super) there: &'g There,
    pub(super) needs: &'g BTreeMap<ThingId, Needed>,
    pub(super) last: &'g LastBought<'a>,
    pub(super) hours: &'g Hours,
    pub(super) licences: &'g [LicenceNeed],
}

impl CostGround<'_, '_> {
    /// What the builds of a plan are expected to cost, by thing; each over its good pieces, those that it takes from the bench among them. Parts come first in `builds`.
    pub(super) fn costs(&self, builds: &[Build]) -> Option<BTreeMap<ThingId, Expected>> {
        let mut costs: BTreeMap<ThingId, Expected> = BTreeMap::new();
        let needed = self.needs.iter().map(|(thing, needed)| (*thing, needed.needed));
        let in_all: BTreeMap<ThingId, Decimal> =
            needed.chain(builds.iter().map(|build| (build.thing, build.for_parts))).collect();
        for build in builds {
            let cost = self.expected(build, &in_all, &costs)?;
            costs.insert(build.thing, cost);
        }
        Some(costs)
    }

    fn expected(
        &self,
        build: &Build,
        in_all: &BTreeMap<ThingId, Decimal>,
        costs: &BTreeMap<ThingId, Expected>,
    ) -> Option<Expected> {
        let Ground { book, day, .. } = self.ground;
        let thing = book.thing(build.thing);
        let coming = build.coming()?;
        let mut cost = Expected { quantity: coming, ..Expected::default() };
        let total = |thing: ThingId| in_all.get(&thing).copied().unwrap_or_default();
        for need in thing.needs.on(day) {
            let by_recipe = mul_div_to_nine(build.begun, need.quantity, need.per).ok()?;
            let (quantity, _) = match self.ground.is_built(need.thing) {
                true => parts_needed(self.ground, &build.learnt, need.thing, by_recipe)?,
                false => build.learnt.needed(need.thing, by_recipe)?,
            };
            self.had(need.thing, (quantity, total(need.thing)), None, costs, &mut cost)?;
        }
        for (need, quantity) in build.learnt.needed_beyond(self.ground, build.begun)? {
            self.had(need, (quantity, total(need)), None, costs, &mut cost)?;
        }
        for open in &build.finishing {
            let account = self.ground.costed.batches.get(open.batch.index())?;
            if !open.of.is_zero() {
                let held = part(&amounts(&account.on_the_bench)?, open.share, open.of)?;
                cost.add(CostItem::of(CostFrom::Bench(open.batch, open.pieces), None, held))?;
            }
            for (need, rest) in &open.materials {
                self.had(*need, (rest.needed, total(*need)), None, costs, &mut cost)?;
            }
        }
        // The parts bring their own minutes, with their cost.
        let mut minutes_here = Fixed6::ZERO;
        let of_open = build.finishing.iter().flat_map(|open| open.minutes.iter().map(|(step, rest)| (*step, rest.expected)));
        let of_begun = expected_minutes(self.ground, build)?;
        cost.at_least.hours |= of_begun.is_empty() && !build.begun.is_zero();
        for (step, took) in of_begun.into_iter().chain(of_open) {
            let (minutes, of_helpers) = (Fixed6::round_from_decimal(took.all)?, Fixed6::round_from_decimal(took.hired)?);
            minutes_here = minutes_here.checked_add(minutes.checked_sub(of_helpers)?)?;
            for wear in book.step(step).wears.on(day) {
                let quantity = mul_div_to_nine(took.all, wear.quantity, wear.per_minutes).ok()?;
                self.had(wear.thing, (quantity, total(wear.thing)), Some(step), costs, &mut cost)?;
            }
            if !of_helpers.is_zero() {
                let money = Fixed6::round_from_decimal(took.cost)?;
                let helpers = item(CostFrom::Helpers(step, of_helpers), Component::BoughtInTime, money);
                cost.add(CostItem { later: Fixed6::round_from_decimal(took.later)?, ..helpers })?;
            }
            if !book.step(step).indirect.on(day) && !self.hours.overhead_per_hour.is_zero() {
                let money = an_hour(self.hours.overhead_per_hour, minutes)?;
                cost.add(item(CostFrom::Overhead(step, minutes), Component::Overhead, money))?;
            }
        }
        if !minutes_here.is_zero() {
            let money = an_hour(self.hours.owner_rate, minutes_here)?;
            let own = item(CostFrom::OwnTime(minutes_here), Component::OwnTime, money);
            cost.add(CostItem { cost: own.cost.with_minutes(true, minutes_here), ..own })?;
        }
        let Some(pattern) = *thing.pattern.on(day) else { return Some(cost) };
        if let Some(rate) = *book.pattern(pattern).royalty.on(day) {
            let money = Fixed6::round_from_decimal(mul_div_to_nine(rate, coming, Decimal::ONE).ok()?)?;
            let later = if *book.pattern(pattern).paid_later.on(day) { money } else { Fixed6::ZERO };
            cost.add(CostItem { later, ..item(CostFrom::Royalty(pattern, rate), Component::Royalty, money) })?;
        }
        self.licences(pattern, coming, &mut cost)?;
        Some(cost)
    }

    /// What a build's pieces take of the licences that there are, and of those that are to be bought.
    fn licences(&self, pattern: PatternId, pieces: Decimal, cost: &mut Expected) -> Option<()> {
        let Some(need) = self.licences.iter().find(|need| need.pattern == pattern) else { return Some(()) };
        if pieces.is_zero() {
            return Some(());
        }
        for (date, taken, money) in need.taken(pieces)? {
            cost.add(item(CostFrom::Licence(pattern, date, taken), Component::Royalty, money))?;
        }
        match need.beyond(pieces)? {
            Some((much, money)) => cost.add(item(CostFrom::LicenceToBuy(pattern, much), Component::Royalty, money))?,
            None => cost.at_least.royalty |= need.goes_beyond(),
        }
        Some(())
    }

    /// Adds what so much of a thing costs, of all that the plan needs: from the shelf as far as it goes, the rest as it is built or was bought last.
    fn had(
        &self,
        thing: ThingId,
        (quantity, in_all): (Decimal, Decimal),
        worn_at: Option<StepId>,
        costs: &BTreeMap<ThingId, Expected>,
        cost: &mut Expected,
    ) -> Option<()> {
        let mut rest = quantity;
        let shelf = self.there.cost_at_home(thing);
        if let Some((on_hand, vector)) = shelf {
            cost.at_least.hours |= vector.hours_unknown();
            let share = if in_all > *on_hand { mul_div_to_nine(quantity, *on_hand, in_all).ok()? } else { quantity };
            let from_shelf = share.min(quantity);
            // All that the plan takes of it is taken at once, and each build has its share of that.
            let all = in_all.max(quantity).min(*on_hand);
            if let Some(taken) = self.there.cost_of(thing, all)?.filter(|_| !from_shelf.is_zero()) {
                let part = part(&taken, from_shelf, all)?;
                cost.add(CostItem::of(CostFrom::Shelf(thing, from_shelf), worn_at, part))?;
            }
            rest = checked_sub_exact(quantity, from_shelf).ok()?;
        }
        if rest.is_zero() {
            return Some(());
        }
        match (costs.get(&thing), self.last.of_thing(thing)) {
            (Some(built), _) if !built.quantity.is_zero() => {
                let part = part(&built.cost, rest, built.quantity)?;
                cost.at_least.or(built.at_least);
                cost.add(CostItem::of(CostFrom::Built(thing, rest), worn_at, part))
            }
            (_, Some(bought)) => {
                let part = part(&bought.amounts, rest, bought.quantity)?;
                cost.add(CostItem::of(CostFrom::Bought(thing, rest), worn_at, part))
            }
            // What was never bought costs as what was made last; else nothing says what more of it costs, whatever that which is there did.
            _ => match made_here(self.ground.costed, thing)? {
                Some(last) => {
                    let part = part(&last.amounts, rest, last.quantity)?;
                    cost.add(CostItem::of(CostFrom::Made(thing, rest, last), worn_at, part))
                }
                None => {
                    cost.without_cost.push(thing);
                    let kind = if worn_at.is_some() { &mut cost.at_least.wear } else { &mut cost.at_least.materials };
                    *kind = true;
                    Some(())
                }
            },
        }
    }
}

fn item(from: CostFrom, component: Component, money: Fixed6) -> CostItem {
    CostItem::of(from, None, Amounts::of_component(component, money))
}

/// A cost with its freight among the materials, and of its minutes only the owner's.
pub(super) fn amounts(vector: &CostVector) -> Option<Amounts> {
    let mut sum = Amounts::default();
    for component in Component::ALL {
        let of = if component == Component::Freight { Component::Materials } else { component };
        sum = sum.plus(&Amounts::of_component(of, vector.get(component)))?;
    }
    Some(sum.with_minutes(true, vector.own_minutes()?))
}

/// So much of a cost, each component and the minutes rounded half away from zero to six digits.
pub(super) fn part(whole: &Amounts, quantity: Decimal, of: Decimal) -> Option<Amounts> {
    let mut sum = Amounts::default();
    for component in Component::ALL {
        sum = sum.plus(&Amounts::of_component(component, part_of(whole.get(component), quantity, of)?))?;
    }
    Some(sum.with_minutes(true, part_of(whole.own_minutes(), quantity, of)?))
}

/// Minutes at a rate for an hour.
fn an_hour(rate: Fixed6, minutes: Fixed6) -> Option<Fixed6> {
    mul_div_round(rate.micros(), minutes.micros(), 60_000_000).map(Fixed6::from_micros)
}

/// Sums quantities.
pub(super) fn plus(a: Decimal, b: Decimal) -> Option<Decimal> {
    checked_add_exact(a, b).ok()
}
