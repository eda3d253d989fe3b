//! A plan in exact figures: the report and the derivations of its figures are both made of it.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::buying::{LastBought, ToBuy};
use super::expected::{CostGround, Expected};
use super::explode::{Build, ExplodeFault, Exploded, Ground, Needed, NeededFor, explode};
use super::hours::{Fits, Hours, StepMinutes, expected_minutes, steps_of};
use super::there::There;
use super::{PlanAsked, PlanFault};
use crate::names::ThingId;
use crate::units::Fixed6;
use crate::units::quantity::mul_div_to_nine;
use crate::year::Books;

/// A plan.
#[derive(Clone, Debug)]
pub(crate) struct Planned<'a> {
    pub(crate) books: Books<'a>,
    pub(crate) ground: Ground<'a>,
    pub(crate) asked: PlanAsked,
    pub(crate) there: There,
    /// Parts first.
    pub(crate) builds: Vec<Build>,
    pub(crate) needs: BTreeMap<ThingId, Needed>,
    pub(crate) hours: Hours,
    pub(crate) last: LastBought<'a>,
    /// By name.
    pub(crate) steps: Vec<StepMinutes>,
    pub(crate) own_minutes: Fixed6,
    /// By thing.
    pub(crate) buys: Vec<ToBuy>,
    /// What the buying takes, as far as prices are known.
    pub(crate) cash: Fixed6,
    /// Of all that is built, over its good pieces.
    pub(crate) costs: BTreeMap<ThingId, Expected>,
    pub(crate) by: Option<Fits>,
}

impl<'a> Planned<'a> {
    /// Plans a run of builds.
    pub(crate) fn of(books: Books<'a>, asked: &PlanAsked) -> Result<Self, PlanFault> {
        let day = books.costed.until.ok_or(PlanFault::Empty)?;
        let ground = Ground { book: books.book, costed: books.costed, day };
        if let Some((without, _)) = asked.builds.iter().find(|(thing, _)| !ground.is_built(*thing)) {
            return Err(PlanFault::NoRecipe(*without));
        }
        let there = There::of(books.costed, books.book.shop.home).ok_or(PlanFault::TooLarge)?;
        let exploded = explode(ground, &asked.builds, &there).map_err(|fault| match fault {
            ExplodeFault::Round(round) => PlanFault::Round(round),
            ExplodeFault::TooLarge => PlanFault::TooLarge,
        })?;
        figure(books, ground, asked, there, exploded).ok_or(PlanFault::TooLarge)
    }

    /// A thing's build.
    pub(crate) fn build(&self, thing: ThingId) -> Option<&Build> {
        self.builds.iter().find(|build| build.thing == thing)
    }

    /// Offcuts at home of materials that the plan needs, with those and how much there is.
    pub(crate) fn offcuts(&self) -> impl Iterator<Item = (ThingId, ThingId, Decimal)> {
        let there = self.there.all_at_home().filter(|(_, on_hand)| *on_hand > Decimal::ZERO);
        there.filter_map(|(thing, on_hand)| {
            let of = self.books.book.thing(thing).from.filter(|of| self.needs.contains_key(of))?;
            Some((thing, of, on_hand))
        })
    }

    /// How much of a thing is needed beyond what is at home.
    pub(crate) fn short(&self, thing: ThingId) -> Decimal {
        let needed = self.needs.get(&thing).map_or(Decimal::ZERO, |needed| needed.needed);
        needed.saturating_sub(self.there.at_home(thing).max(Decimal::ZERO)).max(Decimal::ZERO)
    }
}

fn figure<'a>(
    books: Books<'a>,
    ground: Ground<'a>,
    asked: &PlanAsked,
    there: There,
    mut exploded: Exploded,
) -> Option<Planned<'a>> {
    let hours = Hours::of(ground)?;
    let last = LastBought::of(books);
    add_wear(ground, &mut exploded)?;
    let Exploded { builds, needs } = exploded;
    let (steps, own_minutes) = steps_of(ground, &builds)?;
    let by = match (asked.by, *books.book.shop.hours_per_week.on(ground.day)) {
        (Some((from, day)), Some(per_week)) => Some(hours.by((from, day), per_week, own_minutes)?),
        _ => None,
    };
    let costs = CostGround { ground, there: &there, needs: &needs, last: &last, hours: &hours }.costs(&builds)?;
    let mut planned = Planned {
        books,
        ground,
        asked: asked.clone(),
        there,
        builds,
        needs,
        hours,
        last,
        steps,
        own_minutes,
        buys: Vec::new(),
        cash: Fixed6::ZERO,
        costs,
        by,
    };
    for thing in planned.needs.keys() {
        let short = planned.short(*thing);
        if !short.is_zero() {
            planned.buys.push(planned.last.buy(*thing, short)?);
        }
    }
    planned.cash = Fixed6::checked_sum(planned.buys.iter().filter_map(|buy| buy.cost))?;
    Some(planned)
}

/// Adds the blades and paper that the expected minutes wear.
fn add_wear(ground: Ground<'_>, exploded: &mut Exploded) -> Option<()> {
    for build in &exploded.builds {
        for (step, minutes) in expected_minutes(ground, build)? {
            for wear in ground.book.step(step).wears.on(ground.day) {
                let worn = mul_div_to_nine(minutes, wear.quantity, wear.per_minutes).ok()?;
                let one = NeededFor { build: build.thing, worn_at: Some(step), by_recipe: worn, needed: worn, learnt: false };
                exploded.needs.entry(wear.thing).or_default().add(one)?;
            }
        }
    }
    Some(())
}
