//! Variances of every batch of random books: what was allowed and each variance is derived here once more, in exact fractions, from the
//! batch's items, its recipe and the purchases. So the line of what went straight to a batch, which the engine takes as the rest, is no
//! place where a mistake can hide.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use kerfbook::costing::{BatchAccount, BatchState, Component, CostVector, CostedBook, Flow, StandardPrices, variances_of};
use kerfbook::events::Output;
use kerfbook::names::{OverheadRule, ResolvedBook, StepId, ThingId, ThingKind};
use kerfbook::units::Fixed6;
use num_traits::Signed;
use proptest::prelude::*;

use crate::compiled_pages::CompiledPages;
use crate::exact_twin::exact_number::{Exact, micros, nothing, of_amount, of_decimal, whole};
use crate::how_many::books;
use crate::random_book::any_book;

fn full(vector: &CostVector) -> Exact {
    of_amount(vector.full().expect("small figures"))
}

fn royalty(vector: &CostVector) -> Exact {
    of_amount(vector.get(Component::Royalty))
}

/// What came in of a thing: the day, the event, whether it was made, how much, what it cost.
type Came = (NaiveDate, u32, bool, Exact, Exact);

/// Standard prices: what was bought or made last, else what was there first.
struct Prices {
    came: BTreeMap<ThingId, Vec<Came>>,
    there_before: BTreeMap<ThingId, (Exact, Exact)>,
}

impl Prices {
    fn of(costed: &CostedBook) -> Self {
        let mut prices = Self { came: BTreeMap::new(), there_before: BTreeMap::new() };
        for one in costed.movements.iter().filter(|one| !one.quantity.is_zero()) {
            let Some(thing) = one.thing else { continue };
            let (quantity, cost) = (of_decimal(one.quantity), full(&one.vector));
            match one.flow {
                Flow::Bought => prices.came.entry(thing).or_default().push((one.date, one.event, false, quantity, cost)),
                Flow::Opened | Flow::Contributed => {
                    prices.there_before.entry(thing).or_insert((quantity, cost));
                }
                _ => {}
            }
        }
        for item in costed.batches.iter().flat_map(|batch| &batch.outputs) {
            if let Output::Thing(thing) = item.what {
                let came = (item.date, item.event, true, of_decimal(item.quantity), full(&item.vector));
                prices.came.entry(thing).or_default().push(came);
            }
        }
        for came in prices.came.values_mut() {
            came.sort_by_key(|one| (one.0, one.1));
        }
        prices
    }

    /// Whether what came in last by a day was made by a batch.
    fn is_made(&self, thing: ThingId, day: NaiveDate) -> bool {
        let came = self.came.get(&thing).map_or(&[][..], Vec::as_slice);
        came.iter().rfind(|one| one.0 <= day).is_some_and(|one| one.2)
    }

    /// The price of a unit on a day; `None` where the thing has none.
    fn on(&self, thing: ThingId, day: NaiveDate) -> Option<Exact> {
        let last = self.came.get(&thing).and_then(|came| came.iter().rev().find(|one| one.0 <= day));
        let (quantity, cost) = match last {
            Some((.., quantity, cost)) => (quantity, cost),
            None => self.there_before.get(&thing).map(|(quantity, cost)| (quantity, cost))?,
        };
        Some(cost / quantity)
    }
}

/// Variances by name, and what was allowed.
#[derive(Default)]
struct Derived {
    allowed: Exact,
    rows: BTreeMap<String, Exact>,
    /// How many figures the engine rounds to six digits: each may be off by half a millionth.
    roundings: i64,
}

impl Derived {
    fn add(&mut self, name: &str, amount: Exact) {
        *self.rows.entry(name.to_owned()).or_insert_with(nothing) += amount;
        self.roundings += 2;
    }

    fn allow(&mut self, amount: &Exact) {
        self.allowed += amount;
        self.roundings += 2;
    }
}

/// Whether the engine tells variances of a batch: it is done, and made one product with a recipe.
fn product_of(book: &ResolvedBook, batch: &BatchAccount) -> Option<(ThingId, NaiveDate)> {
    let made = batch.outputs.iter().map(|item| match item.what {
        Output::Thing(thing) => Some(thing),
        Output::Tool(_) => None,
    });
    let made: BTreeSet<Option<ThingId>> = made.collect();
    let (first, thing) = (batch.started?, made.first().copied().flatten()?);
    let recipe = book.thing(thing);
    let planned = !recipe.needs.on(first).is_empty() || !recipe.takes.on(first).is_empty();
    (made.len() == 1 && planned && batch.state == BatchState::Done).then_some((thing, first))
}

fn derive(book: &ResolvedBook, costed: &CostedBook, prices: &Prices, batch: &BatchAccount) -> Option<Derived> {
    let (product, first) = product_of(book, batch)?;
    let mut derived = Derived::default();
    let good: Exact = batch.outputs.iter().map(|item| of_decimal(item.quantity)).sum();
    let recipe = book.thing(product);

    let mut hours: BTreeMap<StepId, Exact> = BTreeMap::new();
    for take in recipe.takes.on(first) {
        *hours.entry(take.step).or_insert_with(nothing) += &good * of_decimal(take.minutes) / of_decimal(take.per);
    }
    let mut standard: BTreeMap<ThingId, Exact> = BTreeMap::new();
    for need in recipe.needs.on(first) {
        *standard.entry(need.thing).or_insert_with(nothing) += &good * of_decimal(need.quantity) / of_decimal(need.per);
    }
    for (step, minutes) in &hours {
        for wear in book.step(*step).wears.on(first) {
            let much = minutes * of_decimal(wear.quantity) / of_decimal(wear.per_minutes);
            *standard.entry(wear.thing).or_insert_with(nothing) += much;
        }
    }
    goods(book, prices, batch, first, &standard, &mut derived);
    time(book, batch, first, &hours, &mut derived);

    // Royalties and licences straight to the pieces: what of it is in what came out and was not in what went in.
    let out: Exact = batch.outputs.iter().map(|item| royalty(&item.vector)).sum();
    let lost: Exact = batch.losses.iter().map(|item| royalty(&item.vector)).sum();
    let used: Exact = batch.used.iter().map(|item| royalty(&item.vector)).sum();
    derived.allowed += out + lost - used;

    for item in &batch.kept {
        derived.add("kept", -full(&item.vector));
    }
    for item in &batch.losses {
        derived.add("abnormal loss", -full(&item.vector));
    }
    let straight = costed.movements.iter().filter(|one| {
        let came = matches!(one.flow, Flow::Opened | Flow::Bought | Flow::Contributed);
        came && one.thing.is_none() && one.batch == Some(batch.batch)
    });
    derived.add("straight to the batch", straight.map(|one| full(&one.vector)).sum());
    Some(derived)
}

fn goods(
    book: &ResolvedBook,
    prices: &Prices,
    batch: &BatchAccount,
    first: NaiveDate,
    standard: &BTreeMap<ThingId, Exact>,
    derived: &mut Derived,
) {
    let mut used: BTreeMap<ThingId, (Exact, Exact)> = BTreeMap::new();
    for item in &batch.used {
        let row = used.entry(item.thing).or_insert_with(|| (nothing(), nothing()));
        row.0 += of_decimal(item.quantity);
        row.1 += full(&item.vector);
    }
    let things: BTreeSet<ThingId> = standard.keys().chain(used.keys()).copied().collect();
    for thing in things {
        let (quantity, cost) = used.get(&thing).cloned().unwrap_or_else(|| (nothing(), nothing()));
        let allowed = standard.get(&thing).cloned().unwrap_or_else(nothing);
        // Where nothing says what a thing should cost, it costs what it cost.
        let price = match prices.on(thing, first) {
            Some(price) => price,
            None if quantity == nothing() => nothing(),
            None => &cost / &quantity,
        };
        let word = if book.thing(thing).kind == ThingKind::Wear { "wear" } else { "material" };
        let priced = if word == "material" && prices.is_made(thing, first) { "part" } else { word };
        derived.add(&format!("{priced} price"), &cost - &quantity * &price);
        derived.add(&format!("{word} quantity"), (&quantity - &allowed) * &price);
        derived.allow(&(&allowed * &price));
        // A quantity that arises is rounded to nine places, for each line of the recipe.
        derived.roundings += 4 + (&price / whole(100)).to_integer().try_into().unwrap_or(0);
    }
}

fn time(book: &ResolvedBook, batch: &BatchAccount, first: NaiveDate, hours: &BTreeMap<StepId, Exact>, derived: &mut Derived) {
    let hour = whole(60);
    let rate = of_decimal(book.shop.owner_time.on(first).unwrap_or_default()) / &hour;
    let overhead_rate = match book.shop.overhead.on(first) {
        OverheadRule::PerHour(rate) => of_decimal(*rate) / &hour,
        OverheadRule::None | OverheadRule::FromExpenses => nothing(),
    };
    let mut worked: BTreeMap<StepId, Exact> = BTreeMap::new();
    for item in &batch.time {
        let minutes = of_amount(item.minutes);
        derived.add("time rate", of_amount(item.cost) - &minutes * &rate);
        derived.add("overhead efficiency", of_amount(item.overhead));
        *worked.entry(item.step).or_insert_with(nothing) += minutes;
    }
    let steps: BTreeSet<StepId> = hours.keys().chain(worked.keys()).copied().collect();
    for step in steps {
        let at = |minutes: &BTreeMap<StepId, Exact>| minutes.get(&step).cloned().unwrap_or_else(nothing);
        let (actual, allowed) = (at(&worked), at(hours));
        derived.add(&format!("efficiency at {}", book.step(step).named.name), (actual - &allowed) * &rate);
        derived.add("overhead efficiency", -(&allowed * &overhead_rate));
        derived.allow(&(&allowed * (&rate + &overhead_rate)));
    }
}

/// No more apart than the engine's roundings allow.
fn near(told: Fixed6, derived: &Exact, roundings: i64) -> bool {
    micros(&(of_amount(told) - derived)).abs() <= whole(roundings)
}

fn check(compiled: &CompiledPages, costed: &CostedBook) -> Result<u32, String> {
    let book = &compiled.book;
    let (engine_prices, prices) = (StandardPrices::of(costed).expect("small figures"), Prices::of(costed));
    let mut told = 0;
    for batch in &costed.batches {
        let name = &book.batch(batch.batch).name;
        let found = variances_of(book, batch, &engine_prices).expect("small figures");
        let derived = derive(book, costed, &prices, batch);
        let (found, derived) = match (found, derived) {
            (None, None) => continue,
            (Some(found), Some(derived)) => (found, derived),
            (found, derived) => return Err(format!("{name}: told {}, derived {}", found.is_some(), derived.is_some())),
        };
        told += 1;
        let made: Exact = batch.outputs.iter().map(|item| full(&item.vector)).sum();
        if of_amount(found.actual) != made {
            return Err(format!("{name}: actual is {}, made {made}", found.actual));
        }
        let sum = Fixed6::checked_sum(found.variances.iter().map(|row| row.amount));
        if sum != found.actual.checked_sub(found.allowed) {
            return Err(format!("{name}: {sum:?} is not {} - {}", found.actual, found.allowed));
        }
        if !near(found.allowed, &derived.allowed, derived.roundings) {
            return Err(format!("{name}: allowed {} is not {}", found.allowed, derived.allowed));
        }
        let names: BTreeSet<&str> =
            found.variances.iter().map(|row| row.name.as_str()).chain(derived.rows.keys().map(String::as_str)).collect();
        for of in names {
            let amount = found.variances.iter().find(|row| row.name == of).map_or(Fixed6::ZERO, |row| row.amount);
            let expected = derived.rows.get(of).cloned().unwrap_or_else(nothing);
            // What went straight to a batch, what was kept and what was lost are sums of entries: nothing is rounded.
            let exact = matches!(of, "straight to the batch" | "kept" | "abnormal loss");
            if !near(amount, &expected, if exact { 0 } else { derived.roundings }) {
                return Err(format!("{name}: {of} is {amount}, derived {expected}"));
            }
        }
    }
    Ok(told)
}

proptest! {
    #![proptest_config(books(120))]

    #[test]
    fn every_variance_is_what_the_items_and_the_recipe_say(book in any_book(5..110)) {
        let compiled = CompiledPages::of(&book.pages());
        let costed = compiled.cost(None).map_err(TestCaseError::fail)?;
        check(&compiled, &costed).map_err(|told| TestCaseError::fail(compiled.named(&told)))?;
    }
}

#[test]
fn many_random_batches_have_variances() {
    use proptest::strategy::{Strategy, ValueTree};
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let (mut told, mut books) = (0, 0);
    for _ in 0..20 {
        let book = any_book(60..110).new_tree(&mut runner).expect("a book").current();
        let compiled = CompiledPages::of(&book.pages());
        let costed = compiled.cost(None).expect("no mistakes");
        let of_book = check(&compiled, &costed).expect("they add up");
        told += of_book;
        books += u32::from(of_book > 0);
    }
    assert!(told > 60 && books > 10, "{told} batches with variances in {books} of 20 books");
}
