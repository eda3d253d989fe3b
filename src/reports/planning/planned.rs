//! A plan in exact figures: the report and the derivations of its figures are both made of it.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::buying::{LastBought, ToBuy};
use super::expected::{AtLeast, CostGround, Expected};
use super::explode::{Build, ExplodeFault, Exploded, Ground, Needed, NeededFor, explode};
use super::finishing::Finishing;
use super::hours::{Fits, Hours, StepMinutes, expected_minutes, steps_of};
use super::licences::{LicenceNeed, licences};
use super::made_here::{ToMake, made_here};
use super::money_needed::{Pay, at_once, pays_of};
use super::there::There;
use super::{PlanAsked, PlanFault};
use crate::events::EventKind;
use crate::names::{CostingMethod, PatternId, ThingId};
use crate::reports::CostPart;
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
    /// As helpers took in the last batches.
    pub(crate) helper_minutes: Fixed6,
    /// By thing.
    pub(crate) buys: Vec<ToBuy>,
    /// What was made here without a recipe and is short, by thing.
    pub(crate) makes: Vec<ToMake>,
    /// By pattern that has a limit.
    pub(crate) licences: Vec<LicenceNeed>,
    /// What helpers and royalties take, by what they are for.
    pub(crate) pays: Vec<Pay>,
    /// Of that, what helpers are paid on the day of their work.
    pub(crate) helper_pay: Fixed6,
    /// Of that, royalties that are paid when the pieces are made.
    pub(crate) royalties: Fixed6,
    /// Of that, what is paid later.
    pub(crate) due_later: Fixed6,
    /// What the buying takes, as far as prices are known, with what is paid at once of these.
    pub(crate) cash: Fixed6,
    /// Of all that is built, over its good pieces.
    pub(crate) costs: BTreeMap<ThingId, Expected>,
    pub(crate) by: Option<Fits>,
}

impl<'a> Planned<'a> {
    /// Plans a run of builds.
    pub(crate) fn of(books: Books<'a>, asked: &PlanAsked) -> Result<Self, PlanFault> {
        let day = books.costed.until.ok_or(PlanFault::Empty)?;
        let ground = Ground { book: books.book, costed: books.costed, log: books.log, day };
        if let Some((without, _)) = asked.builds.iter().find(|(thing, _)| !ground.is_built(*thing)) {
            return Err(PlanFault::NoRecipe(*without));
        }
        let oldest_first = *books.book.shop.costing.on(day) == CostingMethod::Fifo;
        let there = There::of(books, ground, oldest_first).ok_or(PlanFault::TooLarge)?;
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

    /// Offcuts at home of materials that the plan needs, with those and how much there is beyond what the plan itself takes. Those of unknown
    /// source are left out where something for children is built.
    pub(crate) fn offcuts(&self) -> impl Iterator<Item = (ThingId, ThingId, Decimal)> {
        self.there.all_at_home().filter_map(|(thing, on_hand)| {
            let of = self.books.book.thing(thing).from.filter(|of| self.needs.contains_key(of))?;
            let rest = on_hand.saturating_sub(self.taken(thing)).saturating_sub(self.unknown(thing));
            Some((thing, of, rest)).filter(|(_, _, rest)| *rest > Decimal::ZERO)
        })
    }

    /// What the plan takes of what is at home of a thing.
    pub(crate) fn taken(&self, thing: ThingId) -> Decimal {
        let needed = self.needs.get(&thing).map_or(Decimal::ZERO, |needed| needed.needed);
        needed.min(self.there.at_home(thing).max(Decimal::ZERO))
    }

    /// What no purchase and no batch brought of what is at home of a thing, where something for children is built; the plan takes it last.
    pub(crate) fn unknown(&self, thing: ThingId) -> Decimal {
        let Books { book, log, costed, .. } = self.books;
        let day = self.ground.day;
        if !self.builds.iter().any(|build| book.thing(build.thing).for_children_from_months.on(day).is_some()) {
            return Decimal::ZERO;
        }
        let at_home = costed.stock.iter().filter(|lot| lot.thing == thing && Some(lot.place) == book.shop.home);
        let unknown = at_home.filter(|lot| {
            let event = usize::try_from(lot.origin.event).ok().and_then(|at| log.events.get(at));
            let brought = event.map(|event| &event.kind);
            lot.origin.batch.is_none()
                && matches!(brought, Some(EventKind::Opened(_) | EventKind::Counted(_) | EventKind::Batch(_)))
        });
        let unknown = unknown.fold(Decimal::ZERO, |sum, lot| sum.saturating_add(lot.quantity));
        unknown.min(self.there.at_home(thing).saturating_sub(self.taken(thing))).max(Decimal::ZERO)
    }

    /// What the plan takes of a pattern's licences.
    pub(crate) fn licence(&self, pattern: PatternId) -> Option<&LicenceNeed> {
        self.licences.iter().find(|need| need.pattern == pattern)
    }

    /// Licences that are to be bought.
    pub(crate) fn licences_to_buy(&self) -> impl Iterator<Item = &LicenceNeed> {
        self.licences.iter().filter(|need| !need.buy.is_zero())
    }

    /// What is to be bought and has no price, licences too.
    pub(crate) fn unpriced(&self) -> usize {
        let goods = self.buys.iter().filter(|buy| buy.cost.is_none()).count();
        goods.saturating_add(self.licences_to_buy().filter(|need| need.cost.is_none()).count())
    }

    /// What the plan takes from the bench, with what is built of it.
    pub(crate) fn finishing(&self) -> impl Iterator<Item = (ThingId, &Finishing)> {
        self.builds.iter().flat_map(|build| build.finishing.iter().map(|open| (build.thing, open)))
    }

    /// Builds of which neither the recipe nor a batch says how long they take.
    pub(crate) fn without_hours(&self) -> impl Iterator<Item = &Build> {
        let says =
            |build: &Build| build.learnt.tells_time() || !self.books.book.thing(build.thing).takes.on(self.ground.day).is_empty();
        self.builds.iter().filter(move |build| !build.begun.is_zero() && !says(build))
    }

    /// Whether a part of a piece's cost is only what is known of it. Hours that are not known cost nothing where they have no rate.
    pub(crate) fn is_at_least(&self, of: AtLeast, part: CostPart) -> bool {
        let own_time = of.hours && !self.hours.owner_rate.is_zero();
        let overhead = of.hours && !self.hours.overhead_per_hour.is_zero();
        match part {
            CostPart::Materials => of.materials,
            CostPart::Wear => of.wear,
            CostPart::Royalty => of.royalty,
            CostPart::Paid => of.paid(),
            CostPart::OwnTime => own_time,
            CostPart::Overhead => overhead,
            CostPart::Full => of.paid() || own_time || overhead,
            CostPart::Minutes => of.hours,
            CostPart::BoughtInTime => false,
        }
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
    let steps = steps_of(ground, &builds)?;
    let mut own_minutes = Fixed6::ZERO;
    for step in &steps {
        own_minutes = own_minutes.checked_add(step.all.own()?)?;
    }
    let helper_minutes = Fixed6::checked_sum(steps.iter().map(|step| step.all.hired))?;
    let by = match asked.by {
        Some(days) => hours.by(days, &books.book.shop.hours_per_week, own_minutes)?,
        None => None,
    };
    let licences = licences(books, ground, &builds, &there)?;
    let cost_ground = CostGround { ground, there: &there, needs: &needs, last: &last, hours: &hours, licences: &licences };
    let costs = cost_ground.costs(&builds)?;
    let pays = pays_of(&costs, books.book.shop.currency.digits())?;
    let (helper_pay, royalties) = (at_once(&pays, true)?, at_once(&pays, false)?);
    let due_later = Fixed6::checked_sum(pays.iter().map(|pay| pay.later))?;
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
        helper_minutes,
        buys: Vec::new(),
        makes: Vec::new(),
        licences,
        pays,
        helper_pay,
        royalties,
        due_later,
        cash: Fixed6::ZERO,
        costs,
        by,
    };
    for thing in planned.needs.keys() {
        let short = planned.short(*thing);
        if short.is_zero() {
            continue;
        }
        match (planned.last.of_thing(*thing), made_here(books.costed, *thing)?) {
            (None, Some(last)) => planned.makes.push(ToMake { thing: *thing, short, last }),
            _ => planned.buys.push(planned.last.buy(*thing, short)?),
        }
    }
    let of_licences = planned.licences.iter().filter_map(|need| need.cost);
    let paid = [planned.helper_pay, planned.royalties];
    planned.cash = Fixed6::checked_sum(planned.buys.iter().filter_map(|buy| buy.cost).chain(of_licences).chain(paid))?;
    Some(planned)
}

/// Adds the blades and paper that the expected minutes wear.
fn add_wear(ground: Ground<'_>, exploded: &mut Exploded) -> Option<()> {
    for build in &exploded.builds {
        let begun = expected_minutes(ground, build)?.into_iter().map(|(step, took)| (None, step, took.all));
        let of_open = |open: &Finishing| {
            let batch = open.batch;
            open.minutes.iter().map(move |(step, rest)| (Some(batch), *step, rest.expected.all)).collect::<Vec<_>>()
        };
        let open = build.finishing.iter().flat_map(of_open);
        for (finishing, step, minutes) in begun.chain(open) {
            for wear in ground.book.step(step).wears.on(ground.day) {
                let worn = mul_div_to_nine(minutes, wear.quantity, wear.per_minutes).ok()?;
                let worn_at = Some(step);
                let (build, learnt, beyond) = (build.thing, false, false);
                let one = NeededFor { build, finishing, worn_at, by_recipe: worn, needed: worn, learnt, beyond };
                exploded.needs.entry(wear.thing).or_default().add(one)?;
            }
        }
    }
    Some(())
}
