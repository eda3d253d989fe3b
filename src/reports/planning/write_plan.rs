//! A plan as its report: exact figures as text, and what a reader must know of them.

use rust_decimal::Decimal;

use super::buying::ToBuy;
use super::expected::{AtLeast, Expected};
use super::explode::{Build, Needed};
use super::finishing::{Finishing, RestOfMaterial};
use super::licences::LicenceNeed;
use super::made_here::ToMake;
use super::plan_notes::notes;
use super::planned::Planned;
use crate::costing::Component;
use crate::names::{ThingId, plurals_of};
use crate::reports::period::{minutes_text, money_text, per_unit, quantity_text, unit_cost_text};
use crate::reports::{
    CostPart, PerUnit, Period, PlanBuild, PlanBuy, PlanBy, PlanCost, PlanFinish, PlanLicence, PlanMake, PlanMaterial, PlanOffcut,
    PlanReport, PlanRest, PlanStep,
};
use crate::units::{Fixed6, part_of};

/// Whence it is known that something is needed of which no recipe says anything.
const BEYOND: &str = "not in the recipe; the last batches used it";

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
            by_helpers: minutes_text(one.all.hired),
            best: one.all.best.map(minutes_text),
        }
    };
    let by = planned.by.as_ref().map(|fits| PlanBy {
        day: fits.day.to_string(),
        from: fits.from.to_string(),
        hours_per_week: quantity_text(fits.per_week),
        there_are: minutes_text(fits.there_are),
        needed: minutes_text(fits.needed),
        fits: match fits.needed <= fits.there_are {
            true => planned.without_hours().next().is_none().then_some(true),
            false => Some(false),
        },
    });
    let mut notes = notes(planned)?;
    notes.push(format!("why any of these figures is what it is: `kerfbook why {figure}` lists their names"));
    Some(PlanReport {
        head: Period::default().head("plan", books.book, books.log.first_day, books.costed.until),
        figure,
        builds: builds.iter().map(|build| build_row(planned, build)).collect::<Option<_>>()?,
        finishing: planned.finishing().map(|(thing, open)| finish(planned, thing, open)).collect::<Option<_>>()?,
        materials,
        buys,
        makes: planned.makes.iter().map(|make| make_row(planned, make)).collect::<Option<_>>()?,
        licences: planned.licences.iter().map(|need| licence(planned, need)).collect(),
        unpriced: planned.unpriced(),
        helper_pay: money_text(books.book, planned.helper_pay),
        royalties: money_text(books.book, planned.royalties),
        due_later: money_text(books.book, planned.due_later),
        cash_needed: money_text(books.book, planned.cash),
        steps: steps.iter().map(step).collect(),
        own_minutes: minutes_text(planned.own_minutes),
        without_hours: planned.without_hours().map(|build| books.book.thing(build.thing).named.name.clone()).collect(),
        helper_minutes: minutes_text(planned.helper_minutes),
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
        learnt_from: match needed.learnt {
            _ if needed.is_beyond() => BEYOND,
            true => "the last batches",
            false => "the recipe",
        }
        .to_owned(),
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
        size: buy.size.clone(),
        pack_words: pack_words(buy, named.unit.as_str()),
        buy: quantity_text(buy.buy),
        supplier: buy.supplier.map(|label| book.label(label).to_owned()),
        last_bought: buy.last.map(|last| last.date.to_string()),
        swapped: buy.last.is_some_and(|last| last.swapped),
        pack_cost: buy.pack_cost.map(unit_cost_text),
        cost: buy.cost.map(|cost| money_text(book, cost)),
    }
}

/// How the packs to buy are called, with their size.
fn pack_words(buy: &ToBuy, unit: &str) -> String {
    let many = plurals_of(&buy.pack).into_iter().next().filter(|_| buy.pack != unit && buy.packs != Decimal::ONE);
    let pack = many.unwrap_or_else(|| buy.pack.clone());
    buy.size.as_ref().map_or_else(|| pack.clone(), |size| format!("{pack} {size}"))
}

/// Minutes and materials that pieces from the bench still take.
fn finish(planned: &Planned<'_>, thing: ThingId, open: &Finishing) -> Option<PlanFinish> {
    let book = planned.books.book;
    let (mut minutes, mut of_helpers) = (Fixed6::ZERO, Fixed6::ZERO);
    for one in open.minutes.values() {
        minutes = minutes.checked_add(Fixed6::round_from_decimal(one.expected.all)?)?;
        of_helpers = of_helpers.checked_add(Fixed6::round_from_decimal(one.expected.hired)?)?;
    }
    let rest = |(thing, rest): (&ThingId, &RestOfMaterial)| {
        let named = book.thing(*thing);
        PlanRest {
            name: named.named.name.clone(),
            title: named.named.title.clone(),
            quantity: quantity_text(rest.needed),
            unit: named.unit.as_str().to_owned(),
        }
    };
    let named = &book.thing(thing).named;
    Some(PlanFinish {
        batch: book.batch(open.batch).name.clone(),
        name: named.name.clone(),
        title: named.title.clone(),
        pieces: quantity_text(open.pieces),
        materials: open.materials.iter().filter(|(_, rest)| !rest.needed.is_zero()).map(rest).collect(),
        minutes: minutes_text(minutes),
        by_helpers: minutes_text(of_helpers),
    })
}

fn make_row(planned: &Planned<'_>, make: &ToMake) -> Option<PlanMake> {
    let book = planned.books.book;
    let named = book.thing(make.thing);
    let full = Fixed6::checked_sum(Component::ALL.map(|component| make.last.amounts.get(component)))?;
    Some(PlanMake {
        name: named.named.name.clone(),
        title: named.named.title.clone(),
        short: quantity_text(make.short),
        unit: named.unit.as_str().to_owned(),
        batch: book.batch(make.last.batch).name.clone(),
        last_made: make.last.date.to_string(),
        unit_cost: unit_cost_text(part_of(full, Decimal::ONE, make.last.quantity)?),
    })
}

fn licence(planned: &Planned<'_>, need: &LicenceNeed) -> PlanLicence {
    let book = planned.books.book;
    let named = &book.pattern(need.pattern).named;
    PlanLicence {
        name: named.name.clone(),
        title: named.title.clone(),
        needed: quantity_text(need.needed),
        left: quantity_text(need.left),
        on_the_bench: quantity_text(need.on_the_bench),
        short: quantity_text(need.short),
        allows: quantity_text(need.allows),
        buy: quantity_text(need.buy),
        supplier: need.last.and_then(|last| last.supplier).map(|label| book.label(label).to_owned()),
        last_bought: need.last.map(|last| last.date.to_string()),
        licence_cost: need.each.map(unit_cost_text),
        cost: need.cost.map(|cost| money_text(book, cost)),
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
        expected_good: quantity_text(build.expected_good),
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
        at_least: at_least(planned, cost.at_least),
    })
}

/// Which figures of a piece's cost are at least what is said.
fn at_least(planned: &Planned<'_>, of: AtLeast) -> Vec<String> {
    let figures = [
        ("materials", CostPart::Materials),
        ("wear", CostPart::Wear),
        ("royalty", CostPart::Royalty),
        ("paid", CostPart::Paid),
        ("own_time", CostPart::OwnTime),
        ("overhead", CostPart::Overhead),
        ("full", CostPart::Full),
        ("minutes_per_unit", CostPart::Minutes),
    ];
    figures.into_iter().filter(|(_, part)| planned.is_at_least(of, *part)).map(|(name, _)| name.to_owned()).collect()
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
