//! A plan as its report: exact figures as text, and what a reader must know of them.

use rust_decimal::Decimal;

use super::buying::ToBuy;
use super::expected::Expected;
use super::explode::{Build, Needed};
use super::planned::Planned;
use crate::costing::Component;
use crate::names::ThingId;
use crate::reports::owner_rate::rate_of_plan;
use crate::reports::period::{minutes_text, money_text, per_unit, quantity_text, unit_cost_text};
use crate::reports::{PerUnit, Period, PlanBuild, PlanBuy, PlanBy, PlanCost, PlanMaterial, PlanOffcut, PlanReport, PlanStep};
use crate::units::{Fixed6, part_of};

/// Writes it down. `None` where a figure is too large to be carried.
pub(super) fn write(planned: &Planned<'_>, figure: String) -> Option<PlanReport> {
    let Planned { books, asked, builds, needs, steps, .. } = planned;
    let mut materials: Vec<PlanMaterial> = needs.iter().map(|(thing, needed)| material(planned, *thing, needed)).collect();
    materials.sort_by(|a, b| a.name.cmp(&b.name));
    let mut buys: Vec<PlanBuy> = planned.buys.iter().map(|buy| buy_row(planned, buy)).collect();
    buys.sort_by(|a, b| (&a.supplier, &a.name).cmp(&(&b.supplier, &b.name)));
    let mut costs = Vec::new();
    for (thing, count) in &asked.builds {
        let Some(cost) = planned.costs.get(thing).filter(|cost| !cost.quantity.is_zero()) else { continue };
        costs.push(cost_of(planned, *thing, *count, cost)?);
    }
    let step = |one: &super::hours::StepMinutes| {
        let named = &books.book.step(one.step).named;
        PlanStep {
            name: named.name.clone(),
            title: named.title.clone(),
            planned: minutes_text(one.all.planned),
            expected: minutes_text(one.all.expected),
            best: one.all.best.map(minutes_text),
        }
    };
    let by = planned.by.map(|fits| PlanBy {
        day: fits.day.to_string(),
        from: fits.from.to_string(),
        hours_per_week: quantity_text(fits.per_week),
        there_are: minutes_text(fits.there_are),
        needed: minutes_text(fits.needed),
        fits: fits.needed <= fits.there_are,
    });
    let mut notes = notes(planned)?;
    notes.push(format!("why any of these figures is what it is: `kerfbook why {figure}` lists their names"));
    Some(PlanReport {
        head: Period::default().head("plan", books.book, books.log.first_day, books.costed.until),
        figure,
        builds: builds.iter().map(|build| build_row(planned, build)).collect::<Option<_>>()?,
        materials,
        buys,
        cash_needed: money_text(books.book, planned.cash),
        steps: steps.iter().map(step).collect(),
        own_minutes: minutes_text(planned.own_minutes),
        costs,
        by,
        offcuts: offcuts(planned),
        notes,
    })
}

fn material(planned: &Planned<'_>, thing: ThingId, needed: &Needed) -> PlanMaterial {
    let named = planned.books.book.thing(thing);
    PlanMaterial {
        name: named.named.name.clone(),
        title: named.named.title.clone(),
        unit: named.unit.as_str().to_owned(),
        by_recipe: quantity_text(needed.by_recipe),
        needed: quantity_text(needed.needed),
        on_hand: quantity_text(planned.there.at_home(thing)),
        elsewhere: quantity_text(planned.there.elsewhere(thing)),
        short: quantity_text(planned.short(thing)),
        learnt_from: if needed.learnt { "the last batches" } else { "the recipe" }.to_owned(),
    }
}

fn buy_row(planned: &Planned<'_>, buy: &ToBuy) -> PlanBuy {
    let book = planned.books.book;
    let named = book.thing(buy.thing);
    PlanBuy {
        name: named.named.name.clone(),
        title: named.named.title.clone(),
        short: quantity_text(buy.short),
        unit: named.unit.as_str().to_owned(),
        packs: quantity_text(buy.packs),
        pack: buy.pack.clone(),
        buy: quantity_text(buy.buy),
        supplier: buy.supplier.map(|label| book.label(label).to_owned()),
        last_bought: buy.last.map(|last| last.date.to_string()),
        pack_cost: buy.pack_cost.map(unit_cost_text),
        cost: buy.cost.map(|cost| money_text(book, cost)),
    }
}

fn build_row(planned: &Planned<'_>, build: &Build) -> Option<PlanBuild> {
    let named = &planned.books.book.thing(build.thing).named;
    let there = &planned.there;
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

fn cost_of(planned: &Planned<'_>, thing: ThingId, count: Decimal, cost: &Expected) -> Option<PlanCost> {
    let named = &planned.books.book.thing(thing).named;
    let of = |component| cost.cost.get(component);
    let materials = of(Component::Materials).checked_add(of(Component::Freight))?;
    let parts = [materials, of(Component::Wear), of(Component::BoughtInTime), of(Component::Royalty), of(Component::OwnTime)];
    let unit = per_unit(&[parts.as_slice(), &[of(Component::Overhead)]].concat(), cost.quantity)?;
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
        minutes_per_unit: minutes_text(part_of(cost.cost.own_minutes(), Decimal::ONE, cost.quantity)?),
    })
}

/// Offcuts of a material that the plan needs.
fn offcuts(planned: &Planned<'_>) -> Vec<PlanOffcut> {
    let book = planned.books.book;
    let mut list = Vec::new();
    for (thing, of, on_hand) in planned.offcuts() {
        let offcut = book.thing(thing);
        list.push(PlanOffcut {
            name: offcut.named.name.clone(),
            title: offcut.named.title.clone(),
            of: book.thing(of).named.title.clone(),
            on_hand: quantity_text(on_hand),
            unit: offcut.unit.as_str().to_owned(),
        });
    }
    list.sort_by(|a, b| a.name.cmp(&b.name));
    list
}

fn notes(planned: &Planned<'_>) -> Option<Vec<String>> {
    let book = planned.books.book;
    let builds = &planned.builds;
    let mut notes = not_taken(planned);
    let untried = builds.iter().filter(|build| build.learnt.batches == 0).count();
    if untried > 0 {
        notes.push(format!(
            "{untried} of {} builds have no batch to learn from: for them the recipe stands as it is",
            builds.len()
        ));
    }
    if builds.iter().any(|build| build.learnt.joint > 0) {
        notes.push(
            "of batches that made several products each is taken to have had its share of the hours, as its cost had".to_owned(),
        );
    }
    notes.push("hours that helpers took in the last batches are counted as yours".to_owned());
    notes.extend(rate_of_plan(book, planned.ground.day));
    if planned.asked.by.is_some() {
        match planned.by.is_some() {
            true => notes.push(format!(
                "general work is counted in: {} % on top of all other hours, as in the last twelve months",
                planned.hours.indirect_percent()?
            )),
            false => notes.push("the shop does not say how many hours it has: `hours 12 per week` in `shop`".to_owned()),
        }
    }
    let unpriced = planned.buys.iter().filter(|buy| buy.cost.is_none());
    let unpriced: Vec<&str> = unpriced.map(|buy| book.thing(buy.thing).named.title.as_str()).collect();
    if !unpriced.is_empty() {
        notes.push(format!("never bought, so without a price: {}", unpriced.join(", ")));
    }
    Some(notes)
}

/// Why pieces that are there are not taken: what is asked for is built beside them, and what lies elsewhere is not at hand.
fn not_taken(planned: &Planned<'_>) -> Vec<String> {
    let book = planned.books.book;
    let there = &planned.there;
    let title = |thing: ThingId| book.thing(thing).named.title.as_str();
    let mut notes = Vec::new();
    let mut spare = Vec::new();
    for build in planned.builds.iter().filter(|build| !build.asked.is_zero()) {
        let thing = build.thing;
        let places = [
            (there.at_home(thing), "on hand"),
            (there.on_the_bench(thing), "on the bench"),
            (there.elsewhere(thing), "elsewhere"),
        ];
        let is_there: Vec<String> = places
            .iter()
            .filter(|(pieces, _)| *pieces > Decimal::ZERO)
            .map(|(pieces, place)| format!("{} {place}", quantity_text(*pieces)))
            .collect();
        if !is_there.is_empty() {
            spare.push(format!("{} ({})", title(thing), is_there.join(", ")));
        }
    }
    if !spare.is_empty() {
        notes.push(format!(
            "what you ask for is built beside what there is of it: {}; ask for as many fewer where these are meant for it",
            spare.join("; ")
        ));
    }
    let parts = planned.builds.iter().filter(|build| build.good > build.asked).map(|build| build.thing);
    let short = planned.buys.iter().map(|buy| buy.thing);
    let away: Vec<String> = parts
        .chain(short)
        .map(|thing| (thing, there.elsewhere(thing)))
        .filter(|(_, away)| *away > Decimal::ZERO)
        .map(|(thing, away)| format!("{} {} {}", quantity_text(away), book.thing(thing).unit.as_str(), title(thing)))
        .collect();
    if !away.is_empty() {
        notes.push(format!("what lies elsewhere is not taken: {}", away.join(", ")));
    }
    notes
}
