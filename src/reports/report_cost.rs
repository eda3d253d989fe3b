//! Fills the cost report.
//!
//! A product's figures are over the good pieces finished in the period, in all its batches. What a joint batch used is shared over its outputs as
//! their materials and wear were.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{BatchAccount, Component, CostVector, CostedBook, OutputItem, StandardPrices, TakenOut, variances_of};
use crate::events::{EventLog, Output};
use crate::names::{BatchId, ResolvedBook, StepId, ThingId, ThingKind};
use crate::reports::overhead_so_far::{open_year, overhead_so_far};
use crate::reports::period::{column, minutes_text, money_text, per_unit, quantity_text, unit_cost_text};
use crate::reports::variance_words::variance_says;
use crate::reports::{BatchCost, CostReport, PerUnit, Period, ProductCost, StepCost, UseCost, Variance};
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact, div_to_nine, part_of};

/// Makes the cost report, for all products or for one name (a product's or a batch's). `None` where a figure is too large to be carried.
#[must_use]
pub fn report_cost(
    book: &ResolvedBook,
    log: &EventLog,
    costed: &CostedBook,
    period: Period,
    name: Option<&str>,
) -> Option<CostReport> {
    let last = period.to.or(costed.until);
    let prices = StandardPrices::of(costed)?;
    let mut made_of = made_by_thing(book, costed, period, name);
    let mut products = Vec::new();
    for (at, thing) in book.things.iter().enumerate() {
        let id = ThingId(u32::try_from(at).ok()?);
        let made = made_of.remove(&id).unwrap_or_default();
        let asked_for = name == Some(thing.named.name.as_str()) || (name.is_none() && thing.kind == ThingKind::Product);
        if made.is_empty() && !asked_for {
            continue;
        }
        products.push(product(book, &prices, id, made, period, last)?);
    }
    products.sort_by(|a, b| a.name.cmp(&b.name));
    Some(CostReport { head: period.head("cost", book, log.first_day, costed.until), products, notes: notes(book, costed, last)? })
}

/// The batches of which good pieces were finished in the period, with what was finished, by thing. One way through all batches.
fn made_by_thing<'c>(
    book: &ResolvedBook,
    costed: &'c CostedBook,
    period: Period,
    name: Option<&str>,
) -> BTreeMap<ThingId, Vec<(&'c BatchAccount, Vec<&'c OutputItem>)>> {
    let mut made: BTreeMap<ThingId, Vec<(&BatchAccount, Vec<&OutputItem>)>> = BTreeMap::new();
    for batch in &costed.batches {
        let is_named = name.is_some_and(|name| name == book.batch(batch.batch).name);
        for item in batch.outputs.iter().filter(|item| period.covers(item.date)) {
            let Output::Thing(thing) = item.what else { continue };
            if name.is_some_and(|name| !is_named && name != book.thing(thing).named.name) {
                continue;
            }
            let batches = made.entry(thing).or_default();
            match batches.last_mut().filter(|(last, _)| last.batch == batch.batch) {
                Some((_, outputs)) => outputs.push(item),
                None => batches.push((batch, vec![item])),
            }
        }
    }
    made
}

fn sum_of(outputs: &[&OutputItem]) -> Option<(Decimal, CostVector)> {
    let mut quantity = Decimal::ZERO;
    let mut vector = CostVector::default();
    for item in outputs {
        quantity = checked_add_exact(quantity, item.quantity).ok()?;
        vector.add(&item.vector)?;
    }
    Some((quantity, vector))
}

fn product(
    book: &ResolvedBook,
    prices: &StandardPrices,
    id: ThingId,
    made: Vec<(&BatchAccount, Vec<&OutputItem>)>,
    period: Period,
    last: Option<NaiveDate>,
) -> Option<ProductCost> {
    let thing = book.thing(id);
    let all: Vec<&OutputItem> = made.iter().flat_map(|(_, outputs)| outputs.iter().copied()).collect();
    let (quantity, vector) = sum_of(&all)?;
    let some = !quantity.is_zero();
    let mut batches = Vec::with_capacity(made.len());
    for (batch, outputs) in &made {
        batches.push(batch_cost(book, prices, batch, id, outputs, period)?);
    }
    batches.sort_by(|a, b| (&a.finished, &a.name).cmp(&(&b.finished, &b.name)));
    Some(ProductCost {
        name: thing.named.name.clone(),
        title: thing.named.title.clone(),
        line: last.and_then(|day| *thing.line.on(day)).map(|line| book.line(line).name.clone()),
        made: quantity_text(quantity),
        unit: thing.unit.as_str().to_owned(),
        per_unit: if some { Some(unit_costs(&vector, quantity)?) } else { None },
        minutes_per_unit: own_minutes_per_unit(&vector, quantity)?,
        bought_in_minutes_per_unit: if some {
            Some(minutes_text(part_of(vector.bought_in_minutes()?, Decimal::ONE, quantity)?))
        } else {
            None
        },
        steps: if some { steps(book, &vector, quantity, id, last)? } else { Vec::new() },
        batches,
        price: last.and_then(|day| *thing.price.on(day)).map(|price| price_text(book, price)),
        uses: if some { uses(book, id, &made, quantity)? } else { Vec::new() },
    })
}

pub(crate) fn price_text(book: &ResolvedBook, price: Decimal) -> String {
    Fixed6::from_decimal_exact(price)
        .map_or_else(|| price.to_string(), |price| price.to_fixed_text(book.shop.currency.digits(), 6))
}

fn unit_costs(vector: &CostVector, quantity: Decimal) -> Option<PerUnit> {
    unit_costs_of(&|component| vector.get(component), quantity)
}

/// What a unit costs, of the components of so many: see [`per_unit`].
pub(crate) fn unit_costs_of(of: &dyn Fn(Component) -> Fixed6, quantity: Decimal) -> Option<PerUnit> {
    let materials = of(Component::Materials).checked_add(of(Component::Freight))?;
    let parts = [
        materials,
        of(Component::Wear),
        of(Component::BoughtInTime),
        of(Component::Royalty),
        of(Component::OwnTime),
        of(Component::Overhead),
    ];
    let unit = per_unit(&parts, quantity)?;
    let paid = Fixed6::checked_sum(unit.iter().take(4).copied())?;
    let full = Fixed6::checked_sum(unit.iter().copied())?;
    let text = |at: usize| unit_cost_text(unit[at]);
    Some(PerUnit {
        materials: text(0),
        wear: text(1),
        bought_in_time: text(2),
        royalty: text(3),
        paid: unit_cost_text(paid),
        own_time: text(4),
        overhead: text(5),
        full: unit_cost_text(full),
    })
}

fn own_minutes_per_unit(vector: &CostVector, quantity: Decimal) -> Option<Option<String>> {
    if quantity.is_zero() || vector.hours_unknown() {
        return Some(None);
    }
    Some(Some(minutes_text(part_of(vector.own_minutes()?, Decimal::ONE, quantity)?)))
}

/// What hours from before the book began are called among the steps: `opened`, and where a step is called so, by a name that none can have.
pub(crate) fn opened_name(book: &ResolvedBook) -> &'static str {
    match book.steps.iter().any(|step| step.named.name == "opened") {
        true => "opened_before",
        false => "opened",
    }
}

fn steps(
    book: &ResolvedBook,
    vector: &CostVector,
    quantity: Decimal,
    product: ThingId,
    last: Option<NaiveDate>,
) -> Option<Vec<StepCost>> {
    let mut planned: BTreeMap<StepId, Decimal> = BTreeMap::new();
    if let Some(day) = last {
        for take in book.thing(product).takes.on(day) {
            let each = div_to_nine(take.minutes, take.per).ok()?;
            let sum = planned.entry(take.step).or_default();
            *sum = checked_add_exact(*sum, each).ok()?;
        }
    }
    let mut rows = Vec::new();
    for one in vector.minutes() {
        let (name, title) = match one.step {
            Some(step) => (book.step(step).named.name.clone(), book.step(step).named.title.clone()),
            None => (opened_name(book).to_owned(), "Hours from before the book began".to_owned()),
        };
        rows.push(StepCost {
            name,
            title,
            minutes_per_unit: minutes_text(part_of(one.own, Decimal::ONE, quantity)?),
            bought_in_minutes_per_unit: minutes_text(part_of(one.bought_in, Decimal::ONE, quantity)?),
            planned_minutes_per_unit: one.step.and_then(|step| planned.get(&step)).map(|minutes| quantity_text(*minutes)),
        });
    }
    Some(rows)
}

fn batch_cost(
    book: &ResolvedBook,
    prices: &StandardPrices,
    batch: &BatchAccount,
    product: ThingId,
    outputs: &[&OutputItem],
    period: Period,
) -> Option<BatchCost> {
    let (quantity, vector) = sum_of(outputs)?;
    let mut lost = Decimal::ZERO;
    for loss in &batch.losses {
        if loss.what == Some(Output::Thing(product)) && period.covers(loss.date) {
            lost = checked_add_exact(lost, loss.quantity).ok()?;
        }
    }
    Some(BatchCost {
        name: book.batch(batch.batch).name.clone(),
        finished: outputs.iter().map(|item| item.date).max().map(|day| day.to_string()).unwrap_or_default(),
        made: quantity_text(quantity),
        lost: quantity_text(lost),
        per_unit: unit_costs(&vector, quantity)?,
        minutes_per_unit: own_minutes_per_unit(&vector, quantity)?,
        variances: variances(book, prices, batch)?,
    })
}

/// A batch's variances, to the currency's digits; they add up to their sum.
fn variances(book: &ResolvedBook, prices: &StandardPrices, batch: &BatchAccount) -> Option<Vec<Variance>> {
    let Some(of_batch) = variances_of(book, batch, prices)? else { return Some(Vec::new()) };
    let amounts: Vec<Fixed6> = of_batch.variances.iter().map(|row| row.amount).collect();
    let shown = column(book, &amounts);
    let rows = of_batch.variances.into_iter().zip(shown).map(|(row, amount)| Variance {
        says: variance_says(book, &row),
        amount: money_text(book, amount),
        word: variance_word(row.taken_out, amount).to_owned(),
        name: row.name,
    });
    Some(rows.collect())
}

/// What a variance is. What was charged off or put back makes the good pieces cheaper and is no saving.
fn variance_word(taken_out: Option<TakenOut>, amount: Fixed6) -> &'static str {
    match taken_out {
        _ if amount.is_zero() => "none",
        Some(TakenOut::ChargedOff) => "charged off",
        Some(TakenOut::Kept) => "put back",
        None if amount.is_positive() => "unfavourable",
        None => "favourable",
    }
}

/// Materials, freight and wear of a vector: what a batch's uses are shared by.
fn goods_cost(vector: &CostVector) -> Option<Fixed6> {
    vector.get(Component::Materials).checked_add(vector.get(Component::Freight))?.checked_add(vector.get(Component::Wear))
}

/// What a batch used, as much of it as went into some pieces.
pub(crate) struct UsedIn {
    pub(crate) batch: BatchId,
    pub(crate) thing: ThingId,
    pub(crate) date: NaiveDate,
    pub(crate) line: Span,
    /// What the batch used.
    pub(crate) used: Decimal,
    /// As much of that as went into these pieces.
    pub(crate) quantity: Decimal,
    /// What this cost, paid.
    pub(crate) cost: Fixed6,
}

/// What went into pieces of a product, batch by batch and line by line.
pub(crate) fn used_in(product: ThingId, made: &[(&BatchAccount, Vec<&OutputItem>)]) -> Option<Vec<UsedIn>> {
    let mut list = Vec::new();
    for (batch, outputs) in made {
        let (pieces, vector) = sum_of(outputs)?;
        let all_pieces = batch.outputs.iter().try_fold(Decimal::ZERO, |sum, item| checked_add_exact(sum, item.quantity).ok())?;
        let charged_off = batch
            .losses
            .iter()
            .filter(|loss| loss.charged_off && loss.what.is_some())
            .try_fold(Decimal::ZERO, |sum, loss| checked_add_exact(sum, loss.quantity).ok())?;
        let whole = goods_cost(&batch.collected)?;
        let ours = goods_cost(&vector)?;
        let only_ours = batch.outputs.iter().all(|item| item.what == Output::Thing(product));
        for item in &batch.used {
            let (quantity, cost) = if only_ours && all_pieces == pieces && batch.on_the_bench.is_zero() {
                // Pieces that were charged off took their part of what was used.
                let with_lost = checked_add_exact(pieces, charged_off).ok()?;
                (quantity_part(item.quantity, pieces, with_lost)?, part_of(item.vector.paid()?, pieces, with_lost)?)
            } else if whole.is_zero() {
                let cost = part_of(item.vector.paid()?, pieces, all_pieces)?;
                (quantity_part(item.quantity, pieces, all_pieces)?, cost)
            } else {
                let (part, of) = (ours.to_decimal()?, whole.to_decimal()?);
                (quantity_part(item.quantity, part, of)?, part_of(item.vector.paid()?, part, of)?)
            };
            let (thing, date, line, used) = (item.thing, item.date, item.line, item.quantity);
            list.push(UsedIn { batch: batch.batch, thing, date, line, used, quantity, cost });
        }
    }
    Some(list)
}

fn uses(
    book: &ResolvedBook,
    product: ThingId,
    made: &[(&BatchAccount, Vec<&OutputItem>)],
    quantity: Decimal,
) -> Option<Vec<UseCost>> {
    let mut used: BTreeMap<&str, (ThingId, Decimal, Fixed6)> = BTreeMap::new();
    for item in used_in(product, made)? {
        let row = used.entry(book.thing(item.thing).named.name.as_str()).or_insert((item.thing, Decimal::ZERO, Fixed6::ZERO));
        row.1 = checked_add_exact(row.1, item.quantity).ok()?;
        row.2 = row.2.checked_add(item.cost)?;
    }
    let mut rows = Vec::with_capacity(used.len());
    for (thing, amount, cost) in used.into_values() {
        let each = div_to_nine(amount, quantity).ok()?;
        rows.push(UseCost {
            name: book.thing(thing).named.name.clone(),
            title: book.thing(thing).named.title.clone(),
            quantity: quantity_text(Fixed6::round_from_decimal(each)?.to_decimal()?),
            unit: book.thing(thing).unit.as_str().to_owned(),
            cost: unit_cost_text(part_of(cost, Decimal::ONE, quantity)?),
        });
    }
    Some(rows)
}

fn quantity_part(quantity: Decimal, part: Decimal, whole: Decimal) -> Option<Decimal> {
    crate::units::quantity::mul_div_to_nine(quantity, part, whole).ok()
}

/// What a reader must know of the figures. A rate that is stated for later days only says nothing of these.
fn notes(book: &ResolvedBook, costed: &CostedBook, last: Option<NaiveDate>) -> Option<Vec<String>> {
    let mut notes = Vec::new();
    let rates = &book.shop.owner_time;
    let later = |day: NaiveDate| last.is_some_and(|last| day > last);
    if rates.first().is_none() && rates.changes().iter().all(|(day, rate)| rate.is_none() || later(*day)) {
        notes.push(format!(
            "the book states no `owner time`, so own hours stand at {} in full cost",
            money_text(book, Fixed6::ZERO)
        ));
    }
    // Of a report that ends before that year none of it is told.
    if last.is_some_and(|last| open_year(book, costed) == Some(last.year())) {
        notes.extend(overhead_so_far(book, costed)?);
    }
    Some(notes)
}
