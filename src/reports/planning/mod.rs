//! What a run of builds would take: the model of `kerfbook plan`.
//!
//! In: a costed book, what is to be built, and perhaps a day by which. Out: a [`PlanReport`]. Recipes, rates and prices are those of the last
//! day of the book; what is lost, used and worked is learnt from the product's own last batches, and the report says where.

mod buying;
mod expected;
mod explode;
mod hours;
mod learnt;
mod there;

use chrono::NaiveDate;
use rust_decimal::{Decimal, RoundingStrategy};

use self::buying::LastBought;
use self::expected::{Expected, expected_costs};
use self::explode::{Build, ExplodeFault, Exploded, Ground, explode};
use self::hours::{Hours, steps_of};
use self::there::There;
use crate::names::ThingId;
use crate::reports::period::{minutes_text, money_text, per_unit, quantity_text, unit_cost_text};
use crate::reports::{PerUnit, Period, PlanBuild, PlanBuy, PlanCost, PlanMaterial, PlanOffcut, PlanReport};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, part_of};
use crate::year::Books;

/// What is to be planned.
#[derive(Clone, Debug, Default)]
pub struct PlanAsked {
    /// What to build, and how much of it.
    pub builds: Vec<(ThingId, Decimal)>,
    /// By which day, and from which.
    pub by: Option<(NaiveDate, NaiveDate)>,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PlanFault {
    /// A thing has no recipe.
    NoRecipe(ThingId),
    /// A recipe needs itself, by this round.
    Round(Vec<ThingId>),
    /// The book is empty.
    Empty,
    /// A figure is too large to be carried.
    TooLarge,
}

/// Makes the plan.
///
/// # Errors
/// Where a thing has no recipe, a recipe needs itself, or a figure is too large.
pub fn report_plan(books: Books<'_>, asked: &PlanAsked) -> Result<PlanReport, PlanFault> {
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
    write(books, ground, asked, &there, exploded).ok_or(PlanFault::TooLarge)
}

fn write(books: Books<'_>, ground: Ground<'_>, asked: &PlanAsked, there: &There, mut exploded: Exploded) -> Option<PlanReport> {
    let hours = Hours::of(ground)?;
    let last = LastBought::of(books);
    add_wear(ground, &mut exploded)?;
    for needed in exploded.needs.values_mut() {
        let to_nine = |much: Decimal| much.round_dp_with_strategy(9, RoundingStrategy::MidpointAwayFromZero);
        (needed.by_recipe, needed.needed) = (to_nine(needed.by_recipe), to_nine(needed.needed));
    }
    let (steps, own_minutes) = steps_of(ground, &exploded.builds)?;
    let (mut materials, mut buys, mut cash, mut unpriced) = (Vec::new(), Vec::new(), Fixed6::ZERO, Vec::new());
    for (thing, needed) in &exploded.needs {
        let on_hand = there.at_home(*thing);
        let short = needed.needed.saturating_sub(on_hand.max(Decimal::ZERO)).max(Decimal::ZERO);
        materials.push(material(books, *thing, needed, there, short));
        if short.is_zero() {
            continue;
        }
        let (row, cost, _) = last.buy(*thing, short)?;
        match cost {
            Some(cost) => cash = cash.checked_add(cost)?,
            None => unpriced.push(row.title.clone()),
        }
        buys.push(row);
    }
    materials.sort_by(|a: &PlanMaterial, b| a.name.cmp(&b.name));
    buys.sort_by(|a: &PlanBuy, b| (&a.supplier, &a.name).cmp(&(&b.supplier, &b.name)));
    let expected = expected_costs(ground, &exploded.builds, there, &last, &hours)?;
    let mut costs = Vec::new();
    for (thing, count) in &asked.builds {
        let Some(cost) = expected.get(thing).filter(|cost| !cost.quantity.is_zero()) else { continue };
        costs.push(cost_of(books, *thing, *count, cost)?);
    }
    let by = match (asked.by, *books.book.shop.hours_per_week.on(ground.day)) {
        (Some((from, day)), Some(per_week)) => Some(hours.by((from, day), per_week, own_minutes)?),
        _ => None,
    };
    let mut notes = notes(&exploded.builds, hours, asked, by.is_some())?;
    if !unpriced.is_empty() {
        notes.push(format!("never bought, so without a price: {}", unpriced.join(", ")));
    }
    Some(PlanReport {
        head: Period::default().head("plan", books.book, books.log.first_day, books.costed.until),
        builds: exploded.builds.iter().map(|build| build_row(books, build, there)).collect::<Option<_>>()?,
        materials,
        buys,
        cash_needed: money_text(books.book, cash),
        steps,
        own_minutes: minutes_text(own_minutes),
        costs,
        by,
        offcuts: offcuts(books, &exploded, there),
        notes,
    })
}

/// Adds the blades and paper that the expected minutes wear.
fn add_wear(ground: Ground<'_>, exploded: &mut Exploded) -> Option<()> {
    for build in &exploded.builds {
        for (step, minutes) in hours::expected_minutes(ground, build)? {
            for wear in ground.book.step(step).wears.on(ground.day) {
                let worn = mul_div_to_nine(minutes, wear.quantity, wear.per_minutes).ok()?;
                let row = exploded.needs.entry(wear.thing).or_default();
                row.by_recipe = expected::plus(row.by_recipe, worn)?;
                row.needed = expected::plus(row.needed, worn)?;
            }
        }
    }
    Some(())
}

fn material(books: Books<'_>, thing: ThingId, needed: &explode::Needed, there: &There, short: Decimal) -> PlanMaterial {
    let named = books.book.thing(thing);
    PlanMaterial {
        name: named.named.name.clone(),
        title: named.named.title.clone(),
        unit: named.unit.as_str().to_owned(),
        by_recipe: quantity_text(needed.by_recipe),
        needed: quantity_text(needed.needed),
        on_hand: quantity_text(there.at_home(thing)),
        elsewhere: quantity_text(there.elsewhere(thing)),
        short: quantity_text(short),
        learnt_from: if needed.learnt { "the last batches" } else { "the recipe" }.to_owned(),
    }
}

fn build_row(books: Books<'_>, build: &Build, there: &There) -> Option<PlanBuild> {
    let named = &books.book.thing(build.thing).named;
    Some(PlanBuild {
        name: named.name.clone(),
        title: named.title.clone(),
        asked: quantity_text(build.asked),
        for_parts: quantity_text(build.for_parts),
        on_hand: quantity_text(there.at_home(build.thing)),
        on_the_bench: quantity_text(there.on_the_bench(build.thing)),
        elsewhere: quantity_text(there.elsewhere(build.thing)),
        to_build: quantity_text(build.good),
        to_begin: quantity_text(build.begun),
        lost_percent: build.learnt.lost_percent()?.to_string(),
        learnt_from_batches: build.learnt.batches,
    })
}

fn cost_of(books: Books<'_>, thing: ThingId, count: Decimal, cost: &Expected) -> Option<PlanCost> {
    let named = &books.book.thing(thing).named;
    let parts = [cost.materials, cost.wear, cost.bought_in_time, cost.royalty, cost.own_time, cost.overhead];
    let unit = per_unit(&parts, cost.quantity)?;
    let text = |at: usize| unit.get(at).map(|part| unit_cost_text(*part));
    let paid = Fixed6::checked_sum(unit.iter().take(4).copied())?;
    let full = Fixed6::checked_sum(unit.iter().copied())?;
    Some(PlanCost {
        name: named.name.clone(),
        title: named.title.clone(),
        pieces: quantity_text(count),
        per_unit: PerUnit {
            materials: text(0)?,
            wear: text(1)?,
            bought_in_time: text(2)?,
            royalty: text(3)?,
            paid: unit_cost_text(paid),
            own_time: text(4)?,
            overhead: text(5)?,
            full: unit_cost_text(full),
        },
        minutes_per_unit: minutes_text(part_of(cost.minutes, Decimal::ONE, cost.quantity)?),
    })
}

/// Offcuts of a material that the plan needs.
fn offcuts(books: Books<'_>, exploded: &Exploded, there: &There) -> Vec<PlanOffcut> {
    let mut list = Vec::new();
    for (thing, on_hand) in there.all_at_home().filter(|(_, on_hand)| *on_hand > Decimal::ZERO) {
        let offcut = books.book.thing(thing);
        let Some(of) = offcut.from.filter(|of| exploded.needs.contains_key(of)) else { continue };
        list.push(PlanOffcut {
            name: offcut.named.name.clone(),
            title: offcut.named.title.clone(),
            of: books.book.thing(of).named.title.clone(),
            on_hand: quantity_text(on_hand),
            unit: offcut.unit.as_str().to_owned(),
        });
    }
    list.sort_by(|a, b| a.name.cmp(&b.name));
    list
}

fn notes(builds: &[Build], hours: Hours, asked: &PlanAsked, has_week: bool) -> Option<Vec<String>> {
    let mut notes = Vec::new();
    let untried: Vec<&Build> = builds.iter().filter(|build| build.learnt.batches == 0).collect();
    if !untried.is_empty() {
        notes.push(format!(
            "{} of {} builds have no batch to learn from: for them the recipe stands as it is",
            untried.len(),
            builds.len()
        ));
    }
    if builds.iter().any(|build| build.learnt.joint > 0) {
        notes.push(
            "of batches that made several products each is taken to have had its share of the hours, as its cost had".to_owned(),
        );
    }
    notes.push("hours that helpers took in the last batches are counted as yours".to_owned());
    if asked.by.is_some() {
        match has_week {
            true => notes.push(format!(
                "general work is counted in: {} % on top of all other hours, as in the last twelve months",
                hours.indirect_percent()?
            )),
            false => notes.push("the shop does not say how many hours it has: `hours 12 per week` in `shop`".to_owned()),
        }
    }
    Some(notes)
}
