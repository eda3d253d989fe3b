//! The real engine held against the twin: each figure within its slack, each total exactly.

use std::collections::BTreeMap;

use kerfbook::costing::{Account, CostVector, CostedBook, Flow};
use kerfbook::events::Output;
use kerfbook::names::ThingId;
use num_traits::Signed;

use super::exact_number::{Exact, micros, nothing, of_amount, of_decimal};
use super::exact_vector::ExactVector;
use super::twin::Twin;

/// Real vectors put together, with how many there were.
#[derive(Default)]
struct RealSum {
    vector: CostVector,
}

impl RealSum {
    fn add(&mut self, vector: &CostVector) {
        self.vector.add(vector).expect("a small book does not overflow");
    }
}

/// Everything in which the two differ by more than they may, as lines.
pub(crate) fn differences(real: &CostedBook, twin: &Twin<'_>) -> Vec<String> {
    let mut told = Vec::new();
    movements(real, twin, &mut told);
    lots(real, twin, &mut told);
    outputs(real, twin, &mut told);
    benches(real, twin, &mut told);
    orders(real, twin, &mut told);
    licences(real, twin, &mut told);
    postings(real, twin, &mut told);
    years(real, twin, &mut told);
    told
}

/// Holds two maps against each other.
fn hold<K: Ord + Copy + std::fmt::Debug>(
    what: &str,
    real: &BTreeMap<K, RealSum>,
    exact: &BTreeMap<K, ExactVector>,
    told: &mut Vec<String>,
) {
    let none = (RealSum::default(), ExactVector::default());
    let mut keys: Vec<K> = real.keys().chain(exact.keys()).copied().collect();
    keys.sort_unstable();
    keys.dedup();
    for key in keys {
        let one = real.get(&key).unwrap_or(&none.0);
        if let Some(differs) = exact.get(&key).unwrap_or(&none.1).differs(&one.vector, 0) {
            told.push(format!("{what} {key:?}: {differs}"));
        }
    }
}

/// Cost that came in and went out, by event, flow and thing.
fn movements(real: &CostedBook, twin: &Twin<'_>, told: &mut Vec<String>) {
    let mut one: BTreeMap<(u32, Flow, Option<ThingId>), RealSum> = BTreeMap::new();
    for movement in &real.movements {
        // Abnormal losses, tools and batches given up are held together whatever thing they name.
        one.entry((movement.event, movement.flow, thing_of(movement.flow, movement.thing))).or_default().add(&movement.vector);
    }
    let mut other: BTreeMap<(u32, Flow, Option<ThingId>), ExactVector> = BTreeMap::new();
    for movement in &twin.movements {
        other.entry((movement.event, movement.flow, thing_of(movement.flow, movement.thing))).or_default().add(&movement.vector);
    }
    hold("movement", &one, &other, told);
}

fn thing_of(flow: Flow, thing: Option<ThingId>) -> Option<ThingId> {
    match flow {
        Flow::AbnormalLoss | Flow::MadeForShop | Flow::Royalty | Flow::Time | Flow::Overhead => None,
        _ => thing,
    }
}

/// Every lot on hand, by thing, place, day and the event that brought it.
fn lots(real: &CostedBook, twin: &Twin<'_>, told: &mut Vec<String>) {
    let mut one: BTreeMap<_, RealSum> = BTreeMap::new();
    let mut quantities: BTreeMap<_, Exact> = BTreeMap::new();
    for lot in &real.stock {
        let key = (lot.thing, lot.place, lot.origin.date, lot.origin.event);
        one.entry(key).or_default().add(&lot.vector);
        *quantities.entry(key).or_insert_with(nothing) += of_decimal(lot.quantity);
    }
    let mut other: BTreeMap<_, ExactVector> = BTreeMap::new();
    for (thing, place, lot) in twin.shelf.lots() {
        let key = (thing, place, lot.origin.date, lot.origin.event);
        other.entry(key).or_default().add(&lot.vector);
        *quantities.entry(key).or_insert_with(nothing) -= lot.quantity;
    }
    for (key, apart) in quantities {
        if apart != nothing() {
            told.push(format!("quantity of lot {key:?}: {apart} apart"));
        }
    }
    hold("lot", &one, &other, told);
}

fn outputs(real: &CostedBook, twin: &Twin<'_>, told: &mut Vec<String>) {
    let mut one: BTreeMap<(u32, Output), RealSum> = BTreeMap::new();
    for item in real.batches.iter().flat_map(|batch| &batch.outputs) {
        one.entry((item.event, item.what)).or_default().add(&item.vector);
    }
    let mut other: BTreeMap<(u32, Output), ExactVector> = BTreeMap::new();
    for (event, what, vector) in &twin.outputs {
        other.entry((*event, *what)).or_default().add(vector);
    }
    hold("output", &one, &other, told);
}

fn benches(real: &CostedBook, twin: &Twin<'_>, told: &mut Vec<String>) {
    for (batch, exact) in real.batches.iter().zip(&twin.batches) {
        if let Some(differs) = exact.bench.differs(&batch.on_the_bench, 0) {
            told.push(format!("bench of {:?}: {differs}", batch.batch));
        }
        if let Some(differs) = exact.collected.differs(&batch.collected, 0) {
            told.push(format!("collected by {:?}: {differs}", batch.batch));
        }
    }
}

/// What has not come back of each sold line.
fn orders(real: &CostedBook, twin: &Twin<'_>, told: &mut Vec<String>) {
    if real.orders.len() != twin.orders.len() {
        told.push(format!("{} orders, exactly {}", real.orders.len(), twin.orders.len()));
        return;
    }
    for (at, (one, other)) in real.orders.iter().zip(&twin.orders).enumerate() {
        for (line, (sold, exact)) in one.lines.iter().zip(&other.lines).enumerate() {
            let mut sum = RealSum::default();
            let mut left = nothing();
            for pieces in &sold.pieces {
                sum.add(&pieces.vector);
                left += of_decimal(pieces.quantity);
            }
            let mut wanted = ExactVector::default();
            for pieces in &exact.pieces {
                wanted.add(&pieces.vector);
                left -= &pieces.quantity;
            }
            if left != nothing() {
                told.push(format!("order {at}, line {line}: {left} pieces apart"));
            }
            if let Some(differs) = wanted.differs(&sum.vector, 0) {
                told.push(format!("order {at}, line {line}: {differs}"));
            }
        }
    }
}

fn licences(real: &CostedBook, twin: &Twin<'_>, told: &mut Vec<String>) {
    let left = |pattern| -> Exact {
        real.licences.iter().filter(|lot| lot.pattern == pattern).map(|lot| of_decimal(lot.left)).sum::<Exact>()
            - twin.licences.iter().filter(|lot| lot.pattern == pattern).map(|lot| lot.left.clone()).sum::<Exact>()
    };
    for pattern in twin.licences.iter().map(|lot| lot.pattern) {
        if left(pattern) != nothing() {
            told.push(format!("licences of {pattern:?}: {} apart", left(pattern)));
        }
    }
    let cost: Exact = real.licences.iter().map(|lot| of_amount(lot.vector.get(kerfbook::costing::Component::Royalty))).sum();
    let mut wanted = ExactVector::default();
    twin.licences.iter().for_each(|lot| wanted.add(&lot.cost));
    let apart = micros(&(wanted.get(kerfbook::costing::Component::Royalty) - cost));
    if apart > wanted.slack.clone() || apart < -wanted.slack.clone() {
        told.push(format!("cost of licences: {apart} millionths apart"));
    }
}

/// What was on hand at each year's end, and each flow of the year.
fn years(real: &CostedBook, twin: &Twin<'_>, told: &mut Vec<String>) {
    for (year, exact) in &twin.year_ends {
        let Some(proof) = real.proof.years.get(year) else {
            if !exact.is_zero() {
                told.push(format!("no proof of {year}"));
            }
            continue;
        };
        if let Some(differs) = exact.differs(&proof.at_end, 0) {
            told.push(format!("end of {year}: {differs}"));
        }
        let open = real.year_ends.iter().find(|one| one.year == *year).map(|one| one.unrecorded.clone()).unwrap_or_default();
        if let Some(differs) = twin.unrecorded_ends[year].differs(&open, 0) {
            told.push(format!("unrecorded at the end of {year}: {differs}"));
        }
    }
    let mut flows: BTreeMap<(i32, Flow), ExactVector> = BTreeMap::new();
    for movement in &twin.movements {
        flows.entry((chrono::Datelike::year(&movement.date), movement.flow)).or_default().add(&movement.vector);
    }
    let mut one: BTreeMap<(i32, Flow), RealSum> = BTreeMap::new();
    for (year, proof) in &real.proof.years {
        for (flow, vector) in &proof.flows {
            one.entry((*year, *flow)).or_default().add(vector);
        }
    }
    hold("year", &one, &flows, told);
}

/// A sum of an order: the event, the order, the account, and the thing whose line bears it.
type PartOfOrder = (u32, Option<u32>, String, Option<ThingId>);

/// Money by event, order, thing and account: each part within its millionths, and each whole exactly.
fn postings(real: &CostedBook, twin: &Twin<'_>, told: &mut Vec<String>) {
    let account = |account: &Account| format!("{account:?}");
    // Discount and tax within prices are split over goods and work together.
    let together = |account: &Account, order: Option<u32>| match account {
        Account::Goods | Account::Income(_) if order.is_some() => "Revenue".to_owned(),
        other => format!("{other:?}"),
    };
    let mut parts: BTreeMap<PartOfOrder, (Exact, Exact)> = BTreeMap::new();
    let mut wholes: BTreeMap<(u32, Option<u32>, String), (Exact, Exact)> = BTreeMap::new();
    for one in &real.postings {
        wholes.entry((one.event, one.order, together(&one.account, one.order))).or_default().0 += of_amount(one.money);
        parts.entry((one.event, one.order, account(&one.account), one.thing)).or_default().0 += of_amount(one.money);
    }
    for one in &twin.postings {
        let whole = wholes.entry((one.event, one.order, together(&one.account, one.order))).or_default();
        whole.0 -= &one.money;
        // Packing has the slack of its goods; a purchase's expense that of its shares.
        if one.account == Account::Packing || one.order.is_none() {
            whole.1 += &one.slack;
        }
        let part = parts.entry((one.event, one.order, account(&one.account), one.thing)).or_default();
        part.0 -= &one.money;
        part.1 += &one.slack;
    }
    for (key, (apart, slack)) in parts {
        if micros(&apart).abs() > slack {
            told.push(format!("posting {key:?}: {} millionths apart, {slack} allowed", micros(&apart)));
        }
    }
    for (key, (apart, slack)) in wholes {
        if micros(&apart).abs() > slack {
            told.push(format!("all of posting {key:?}: {} millionths apart, {slack} allowed", micros(&apart)));
        }
    }
}
