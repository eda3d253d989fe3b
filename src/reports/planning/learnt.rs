//! What the shop's own batches teach of a product: how many pieces are lost, how much is used, how long a step takes.
//!
//! Of its last done batches that made nothing else, up to five, the newest of a day by its name. Waste is yield: where 25 % are lost, 100 good
//! pieces want 100 / (1 − 0.25) begun (a shop's text on waste from rough lumber says the same of boards:
//! woodweb.com/knowledge_base/Calculating_Waste_from_Rough_Lumber.html). The mean of the last batches is never better than the best of them.

use std::collections::BTreeMap;

use rust_decimal::{Decimal, RoundingStrategy};

use crate::costing::{BatchAccount, BatchState, CostedBook};
use crate::events::Output;
use crate::names::{ResolvedBook, StepId, ThingId};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{checked_add_exact, checked_sub_exact};

/// As many batches as are looked at.
const LAST: usize = 5;

/// What was learnt of a product.
#[derive(Clone, Debug, Default)]
pub(super) struct Learnt {
    pub(super) batches: u32,
    pub(super) good: Decimal,
    pub(super) lost: Decimal,
    /// Used of each thing that the recipe has: so much, where the recipe allows so much for what was begun.
    pub(super) used: BTreeMap<ThingId, (Decimal, Decimal)>,
    /// The owner's minutes and those bought in, by step, over all good pieces.
    pub(super) minutes: BTreeMap<StepId, Decimal>,
    /// The fewest minutes that a good piece took in one of them: minutes over pieces.
    pub(super) best: BTreeMap<StepId, (Decimal, Decimal)>,
}

impl Learnt {
    /// Looks at a product's last batches. `None` where a figure is too large to be carried.
    pub(super) fn of(book: &ResolvedBook, costed: &CostedBook, product: ThingId) -> Option<Self> {
        let mut batches: Vec<&BatchAccount> = costed.batches.iter().filter(|batch| made_only(batch, product)).collect();
        batches.sort_by_key(|batch| (batch.finished, batch.batch));
        let mut learnt = Self::default();
        for batch in batches.into_iter().rev().take(LAST) {
            learnt.add(book, batch, product)?;
        }
        Some(learnt)
    }

    fn add(&mut self, book: &ResolvedBook, batch: &BatchAccount, product: ThingId) -> Option<()> {
        let Some(day) = batch.started else { return Some(()) };
        let good = sum(batch.outputs.iter().map(|item| item.quantity))?;
        let lost = sum(batch.losses.iter().map(|item| item.quantity))?;
        let begun = checked_add_exact(good, lost).ok()?;
        self.batches = self.batches.checked_add(1)?;
        self.good = checked_add_exact(self.good, good).ok()?;
        self.lost = checked_add_exact(self.lost, lost).ok()?;
        for need in book.thing(product).needs.on(day) {
            let used = sum(batch.used.iter().filter(|item| item.thing == need.thing && !item.by_step).map(|item| item.quantity))?;
            let kept = sum(batch.kept.iter().filter(|item| item.thing == need.thing).map(|item| item.quantity))?;
            let allowed = mul_div_to_nine(begun, need.quantity, need.per).ok()?;
            let row = self.used.entry(need.thing).or_default();
            row.0 = checked_add_exact(row.0, checked_sub_exact(used, kept).ok()?).ok()?;
            row.1 = checked_add_exact(row.1, allowed).ok()?;
        }
        let mut minutes: BTreeMap<StepId, Decimal> = BTreeMap::new();
        for item in &batch.time {
            let row = minutes.entry(item.step).or_default();
            *row = checked_add_exact(*row, item.minutes.to_decimal()?).ok()?;
        }
        for (step, took) in minutes {
            let row = self.minutes.entry(step).or_default();
            *row = checked_add_exact(*row, took).ok()?;
            let better = self.best.get(&step).is_none_or(|(best, of)| is_less((took, good), (*best, *of)));
            if better {
                self.best.insert(step, (took, good));
            }
        }
        Some(())
    }

    /// Pieces to begin for so many good ones: more by what was lost of those begun, rounded up to whole pieces.
    pub(super) fn to_begin(&self, good: Decimal) -> Option<Decimal> {
        if self.lost.is_zero() || self.good.is_zero() {
            return Some(good);
        }
        let begun = checked_add_exact(self.good, self.lost).ok()?;
        Some(mul_div_to_nine(good, begun, self.good).ok()?.ceil())
    }

    /// Pieces lost of a hundred begun, rounded half away from zero to two digits.
    pub(super) fn lost_percent(&self) -> Option<Decimal> {
        let begun = checked_add_exact(self.good, self.lost).ok()?;
        if begun.is_zero() {
            return Some(Decimal::ZERO);
        }
        Some(
            mul_div_to_nine(self.lost, Decimal::ONE_HUNDRED, begun)
                .ok()?
                .round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
                .normalize(),
        )
    }

    /// What of a thing is needed where the recipe says so much: as much more or less as the last batches used. Whether they said it.
    pub(super) fn needed(&self, thing: ThingId, by_recipe: Decimal) -> Option<(Decimal, bool)> {
        match self.used.get(&thing) {
            Some((used, allowed)) if *used > Decimal::ZERO && *allowed > Decimal::ZERO => {
                Some((mul_div_to_nine(by_recipe, *used, *allowed).ok()?, true))
            }
            _ => Some((by_recipe, false)),
        }
    }

    /// Minutes at a step for so many good pieces, as the last batches took.
    pub(super) fn expected(&self, step: StepId, good: Decimal) -> Option<Option<Decimal>> {
        match self.minutes.get(&step) {
            Some(minutes) if !self.good.is_zero() => mul_div_to_nine(*minutes, good, self.good).ok().map(Some),
            _ => Some(None),
        }
    }

    /// Minutes at a step for so many good pieces, as the best batch took.
    pub(super) fn best(&self, step: StepId, good: Decimal) -> Option<Option<Decimal>> {
        match self.best.get(&step) {
            Some((minutes, of)) if !of.is_zero() => mul_div_to_nine(*minutes, good, *of).ok().map(Some),
            _ => Some(None),
        }
    }
}

/// Whether a batch is done, gave good pieces of a product, and none of another.
fn made_only(batch: &BatchAccount, product: ThingId) -> bool {
    let mut pieces = batch.outputs.iter().filter(|item| item.quantity > Decimal::ZERO).peekable();
    batch.state == BatchState::Done && pieces.peek().is_some() && pieces.all(|item| item.what == Output::Thing(product))
}

fn sum(quantities: impl Iterator<Item = Decimal>) -> Option<Decimal> {
    let mut sum = Decimal::ZERO;
    for quantity in quantities {
        sum = checked_add_exact(sum, quantity).ok()?;
    }
    Some(sum)
}

/// Whether one time for a piece is shorter than another, each minutes over pieces.
fn is_less((minutes, pieces): (Decimal, Decimal), (others, of): (Decimal, Decimal)) -> bool {
    match (minutes.checked_mul(of), others.checked_mul(pieces)) {
        (Some(one), Some(other)) => one < other,
        _ => false,
    }
}
