//! Variances of a batch: actual less allowed cost, plus is unfavourable; allowed is the recipe for the good pieces.
//!
//! Costing rule 12. The standard price of a thing is the landed unit cost of its last purchase on or before the batch's first day; of a thing
//! made in the shop, the full unit cost of its last finished batch. Price is (AP−SP)·AQ, quantity (AQ−SQ)·SP; wear likewise; time rate
//! (AR−SR)·AH, efficiency (AH−SH)·SR by step. Each product is rounded once to six digits, and the terms telescope, so the variances sum
//! exactly to actual full less allowed full.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::arrivals::hourly;
use crate::costing::{BatchAccount, BatchState, Component, CostedBook, Flow};
use crate::events::Output;
use crate::names::{OverheadRule, ResolvedBook, StepId, ThingId, ThingKind};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, checked_add_exact, part_of};

/// One variance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchVariance {
    /// What it is of: `material price`, `efficiency at cutting`.
    pub name: String,
    /// Of what it is.
    pub of: VarianceOf,
    /// Actual less allowed.
    pub amount: Fixed6,
    /// What took cost out of the good pieces, where it is no better or worse than the recipe.
    pub taken_out: Option<TakenOut>,
    /// What it is made of, thing by thing or step by step.
    pub parts: Vec<VariancePart>,
}

/// A part of a variance: actual less allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct VariancePart {
    /// Of what.
    pub of: VariancePartOf,
    /// What it came to.
    pub actual: Fixed6,
    /// What it is held against.
    pub allowed: Fixed6,
}

/// Of what a part of a variance is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VariancePartOf {
    /// A thing.
    Thing(ThingId),
    /// A step.
    Step(StepId),
    /// The batch as a whole.
    Whole,
}

/// Of what a variance is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VarianceOf {
    /// What materials cost beside the standard price; of wear, where it says so.
    Price {
        /// Blades, paper and other wear.
        wear: bool,
    },
    /// What parts that were made here cost beside those of their last batch.
    PartPrice,
    /// How much went in beside the recipe.
    Quantity {
        /// Blades, paper and other wear.
        wear: bool,
    },
    /// What hours cost beside the owner's rate.
    Rate,
    /// Hours at a step beside the recipe: the minutes more, or fewer where below zero.
    Hours {
        /// The step.
        step: StepId,
        /// Minutes worked less minutes allowed.
        minutes: Fixed6,
    },
    /// Overhead on those hours.
    Overhead,
    /// What went straight to the batch.
    Straight,
    /// What was taken out of it.
    TakenOut(TakenOut),
}

/// What took cost out of the good pieces of a batch without a word about how well it went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TakenOut {
    /// Material put back on the shelf.
    Kept,
    /// Pieces, or a whole batch, charged off as a named loss.
    ChargedOff,
}

/// The variances of a batch, and what they are between.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchVariances {
    /// Full cost of the good pieces.
    pub actual: Fixed6,
    /// What the recipe allows for them.
    pub allowed: Fixed6,
    /// The variances; those of zero are left out.
    pub variances: Vec<BatchVariance>,
}

/// What came in of a thing: day and event, quantity, full cost, and whether a batch made it.
type Came = ((NaiveDate, u32), Decimal, Fixed6, bool);

/// What came in of each thing, in order.
#[derive(Clone, Debug, Default)]
pub struct StandardPrices {
    came: BTreeMap<ThingId, Vec<Came>>,
    there_before: BTreeMap<ThingId, (Decimal, Fixed6)>,
}

impl StandardPrices {
    /// Reads the prices of a costed book. `None` on overflow.
    #[must_use]
    pub fn of(costed: &CostedBook) -> Option<Self> {
        let mut prices = Self::default();
        for movement in &costed.movements {
            let Some(thing) = movement.thing else { continue };
            if movement.quantity.is_zero() {
                continue;
            }
            match movement.flow {
                Flow::Bought => {
                    let came = prices.came.entry(thing).or_default();
                    came.push(((movement.date, movement.event), movement.quantity, movement.vector.full()?, false));
                }
                Flow::Opened | Flow::Contributed => {
                    prices.there_before.entry(thing).or_insert((movement.quantity, movement.vector.full()?));
                }
                _ => {}
            }
        }
        for batch in &costed.batches {
            for item in &batch.outputs {
                if let Output::Thing(thing) = item.what
                    && !item.quantity.is_zero()
                {
                    let came = prices.came.entry(thing).or_default();
                    came.push(((item.date, item.event), item.quantity, item.vector.full()?, true));
                }
            }
        }
        for came in prices.came.values_mut() {
            came.sort_by_key(|(when, ..)| *when);
        }
        Some(prices)
    }

    /// What came in of a thing last by a day.
    fn last(&self, thing: ThingId, day: NaiveDate) -> Option<&Came> {
        self.came.get(&thing)?.iter().rev().find(|((on, _), ..)| *on <= day)
    }

    /// Whether the standard price of a day is what a batch made the thing for.
    fn is_made(&self, thing: ThingId, day: NaiveDate) -> bool {
        self.last(thing, day).is_some_and(|(.., made)| *made)
    }

    /// What a quantity costs at the standard price of a day; `None` inside where the thing has none yet.
    fn cost(&self, thing: ThingId, day: NaiveDate, quantity: Decimal) -> Option<Option<Fixed6>> {
        let (whole, cost) = match (self.last(thing, day), self.there_before.get(&thing)) {
            (Some((_, whole, cost, _)), _) | (None, Some((whole, cost))) => (*whole, *cost),
            (None, None) => return Some(None),
        };
        part_of(cost, quantity, whole).map(Some)
    }
}

/// Sums by name while they are gathered, in the order of the report.
#[derive(Default)]
struct Gathered {
    allowed: Fixed6,
    rows: Vec<BatchVariance>,
}

impl Gathered {
    fn add(&mut self, name: &str, of: VarianceOf, part: VariancePart) -> Option<()> {
        let amount = part.actual.checked_sub(part.allowed)?;
        let taken_out = match of {
            VarianceOf::TakenOut(taken_out) => Some(taken_out),
            _ => None,
        };
        match self.rows.iter_mut().find(|row| row.name == name) {
            Some(row) => {
                row.amount = row.amount.checked_add(amount)?;
                row.parts.push(part);
            }
            None => self.rows.push(BatchVariance { name: name.to_owned(), of, amount, taken_out, parts: vec![part] }),
        }
        Some(())
    }
}

/// The variances of a batch that is done and made one product with a recipe; `None` inside for any other batch. The outer `None` is overflow.
#[must_use]
pub fn variances_of(book: &ResolvedBook, batch: &BatchAccount, prices: &StandardPrices) -> Option<Option<BatchVariances>> {
    let Some(first) = batch.started else { return Some(None) };
    let mut products: BTreeSet<ThingId> = BTreeSet::new();
    let mut good = Decimal::ZERO;
    let mut actual = Fixed6::ZERO;
    for item in &batch.outputs {
        let Output::Thing(thing) = item.what else { return Some(None) };
        products.insert(thing);
        good = checked_add_exact(good, item.quantity).ok()?;
        actual = actual.checked_add(item.vector.full()?)?;
    }
    let (Some(product), 1) = (products.first().copied(), products.len()) else { return Some(None) };
    let recipe = book.thing(product);
    let unplanned = recipe.needs.on(first).is_empty() && recipe.takes.on(first).is_empty();
    if batch.state != BatchState::Done || unplanned {
        return Some(None);
    }
    let mut gathered = Gathered::default();
    let hours = allowed_minutes(book, product, first, good)?;
    goods(book, batch, prices, product, first, good, &hours, &mut gathered)?;
    time(book, batch, first, &hours, &mut gathered)?;
    royalty(batch, &mut gathered)?;
    rest(batch, &mut gathered)?;
    let mut variances = gathered.rows;
    let explained = Fixed6::checked_sum(variances.iter().map(|row| row.amount))?;
    // What went straight to the batch has no recipe and no thing: it is all variance.
    let straight = actual.checked_sub(gathered.allowed)?.checked_sub(explained)?;
    variances.push(BatchVariance {
        name: "straight to the batch".to_owned(),
        of: VarianceOf::Straight,
        amount: straight,
        taken_out: None,
        parts: vec![VariancePart { of: VariancePartOf::Whole, actual: straight, allowed: Fixed6::ZERO }],
    });
    variances.retain(|row| !row.amount.is_zero());
    Some(Some(BatchVariances { actual, allowed: gathered.allowed, variances }))
}

/// Minutes that the recipe allows for so many pieces, by step.
fn allowed_minutes(book: &ResolvedBook, product: ThingId, day: NaiveDate, good: Decimal) -> Option<BTreeMap<StepId, Fixed6>> {
    let mut hours: BTreeMap<StepId, Fixed6> = BTreeMap::new();
    for take in book.thing(product).takes.on(day) {
        let minutes = Fixed6::round_from_decimal(mul_div_to_nine(good, take.minutes, take.per).ok()?)?;
        let sum = hours.entry(take.step).or_default();
        *sum = sum.checked_add(minutes)?;
    }
    Some(hours)
}

#[expect(clippy::too_many_arguments, reason = "the parts of one rule, used once")]
fn goods(
    book: &ResolvedBook,
    batch: &BatchAccount,
    prices: &StandardPrices,
    product: ThingId,
    first: NaiveDate,
    good: Decimal,
    hours: &BTreeMap<StepId, Fixed6>,
    gathered: &mut Gathered,
) -> Option<()> {
    let mut allowed: BTreeMap<ThingId, Decimal> = BTreeMap::new();
    let mut allow = |thing: ThingId, quantity: Decimal| {
        let sum = allowed.entry(thing).or_default();
        *sum = checked_add_exact(*sum, quantity).ok()?;
        Some(())
    };
    for need in book.thing(product).needs.on(first) {
        allow(need.thing, mul_div_to_nine(good, need.quantity, need.per).ok()?)?;
    }
    for (step, minutes) in hours {
        for wear in book.step(*step).wears.on(first) {
            allow(wear.thing, mul_div_to_nine(minutes.to_decimal()?, wear.quantity, wear.per_minutes).ok()?)?;
        }
    }
    let mut used: BTreeMap<ThingId, (Decimal, Fixed6)> = BTreeMap::new();
    for item in &batch.used {
        let row = used.entry(item.thing).or_default();
        row.0 = checked_add_exact(row.0, item.quantity).ok()?;
        row.1 = row.1.checked_add(item.vector.full()?)?;
    }
    let things: BTreeSet<ThingId> = allowed.keys().chain(used.keys()).copied().collect();
    for thing in things {
        let (quantity, cost) = used.get(&thing).copied().unwrap_or_default();
        let standard = allowed.get(&thing).copied().unwrap_or_default();
        let at_standard = prices.cost(thing, first, quantity)?.unwrap_or(cost);
        let standard_cost = match prices.cost(thing, first, standard)? {
            Some(cost) => cost,
            None if quantity.is_zero() => Fixed6::ZERO,
            None => part_of(cost, standard, quantity)?,
        };
        let wear = book.thing(thing).kind == ThingKind::Wear;
        let word = if wear { "wear" } else { "material" };
        let (name, of) = match prices.is_made(thing, first) && !wear {
            true => ("part price".to_owned(), VarianceOf::PartPrice),
            false => (format!("{word} price"), VarianceOf::Price { wear }),
        };
        let part = |actual, allowed| VariancePart { of: VariancePartOf::Thing(thing), actual, allowed };
        gathered.add(&name, of, part(cost, at_standard))?;
        gathered.add(&format!("{word} quantity"), VarianceOf::Quantity { wear }, part(at_standard, standard_cost))?;
        gathered.allowed = gathered.allowed.checked_add(standard_cost)?;
    }
    Some(())
}

fn time(
    book: &ResolvedBook,
    batch: &BatchAccount,
    first: NaiveDate,
    hours: &BTreeMap<StepId, Fixed6>,
    gathered: &mut Gathered,
) -> Option<()> {
    let rate = book.shop.owner_time.on(first).unwrap_or_default();
    let overhead_rate = match book.shop.overhead.on(first) {
        OverheadRule::PerHour(rate) => *rate,
        OverheadRule::None | OverheadRule::FromExpenses => Decimal::ZERO,
    };
    let mut worked: BTreeMap<StepId, Fixed6> = BTreeMap::new();
    let (mut cost, mut overhead) = (Fixed6::ZERO, Fixed6::ZERO);
    for item in &batch.time {
        let minutes = worked.entry(item.step).or_default();
        *minutes = minutes.checked_add(item.minutes)?;
        cost = cost.checked_add(item.cost)?;
        overhead = overhead.checked_add(item.overhead)?;
    }
    let steps: BTreeSet<StepId> = hours.keys().chain(worked.keys()).copied().collect();
    let (mut at_rate, mut overhead_allowed) = (Fixed6::ZERO, Fixed6::ZERO);
    let mut efficiencies = Vec::new();
    for step in steps {
        let took = worked.get(&step).copied().unwrap_or_default();
        let actual = hourly(rate, took).ok()?;
        let minutes = hours.get(&step).copied().unwrap_or_default();
        let allowed = hourly(rate, minutes).ok()?;
        at_rate = at_rate.checked_add(actual)?;
        let part = VariancePart { of: VariancePartOf::Step(step), actual, allowed };
        efficiencies.push((VarianceOf::Hours { step, minutes: took.checked_sub(minutes)? }, step, part));
        let allowed_overhead = hourly(overhead_rate, minutes).ok()?;
        overhead_allowed = overhead_allowed.checked_add(allowed_overhead)?;
        gathered.allowed = gathered.allowed.checked_add(allowed)?.checked_add(allowed_overhead)?;
    }
    let whole = |actual, allowed| VariancePart { of: VariancePartOf::Whole, actual, allowed };
    gathered.add("time rate", VarianceOf::Rate, whole(cost, at_rate))?;
    for (of, step, part) in efficiencies {
        gathered.add(&format!("efficiency at {}", book.step(step).named.name), of, part)?;
    }
    gathered.add("overhead efficiency", VarianceOf::Overhead, whole(overhead, overhead_allowed))
}

/// Royalty and licence of the good pieces are allowed as they are: what came out, charged off too, less what came with goods that were used.
fn royalty(batch: &BatchAccount, gathered: &mut Gathered) -> Option<()> {
    let mut sum = Fixed6::ZERO;
    for vector in batch.outputs.iter().map(|item| &item.vector).chain(batch.losses.iter().map(|item| &item.vector)) {
        sum = sum.checked_add(vector.get(Component::Royalty))?;
    }
    for item in &batch.used {
        sum = sum.checked_sub(item.vector.get(Component::Royalty))?;
    }
    gathered.allowed = gathered.allowed.checked_add(sum)?;
    Some(())
}

/// Kept material and abnormal loss took their cost out of the good pieces.
fn rest(batch: &BatchAccount, gathered: &mut Gathered) -> Option<()> {
    for item in &batch.kept {
        let (of, actual) = (VariancePartOf::Thing(item.thing), item.vector.full()?.checked_neg()?);
        let part = VariancePart { of, actual, allowed: Fixed6::ZERO };
        gathered.add("kept", VarianceOf::TakenOut(TakenOut::Kept), part)?;
    }
    for item in &batch.losses {
        let actual = item.vector.full()?.checked_neg()?;
        let part = VariancePart { of: VariancePartOf::Whole, actual, allowed: Fixed6::ZERO };
        gathered.add("abnormal loss", VarianceOf::TakenOut(TakenOut::ChargedOff), part)?;
    }
    Some(())
}
