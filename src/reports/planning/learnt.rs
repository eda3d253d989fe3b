//! What the shop's own batches teach of a product: how many pieces are lost, how much is used, how long a step takes.
//!
//! Of its last done batches, up to five, the newest of a day by its name. Of a batch that made other products too it has its share of the hours, as
//! the engine split them, and of a material as much as its own recipe allows of what all of them do. Waste is yield: where 25 % are lost, 100 good
//! pieces want 100 / (1 − 0.25) begun (a shop's text on waste from rough lumber says the same of boards:
//! woodweb.com/knowledge_base/Calculating_Waste_from_Rough_Lumber.html).
//!
//! What was charged off has nothing to do with the work, and is no waste to expect: it is left out of the yield. It was begun all the same, so what it used and
//! took counts with it. Waste of parts is learnt as that of materials is.
//!
//! Minutes are those of a piece begun, lost ones among them. A batch that was not worked at a step took none at it, so that its pieces count in the mean
//! and it is the best of them; a batch that tells no time at all was not measured, and teaches none. The mean is never better than the best.
//!
//! Where the recipe says another time for a step by now than on the batch's day, what the batch took counts as much longer or shorter; a step that the recipe
//! dropped is left out, and of one that it got since a batch that was not worked at it teaches nothing (`other_times.rs`). So hours are learnt for the recipe of the
//! plan's day, as materials are.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::{Decimal, RoundingStrategy};

use super::explode::Ground;
use super::helper_pay::{cost_on_day, is_paid_later};
use super::other_times::{OtherTime, other_times};
use crate::costing::{BatchAccount, BatchState, CostVector, LossItem};
use crate::events::Output;
use crate::names::{BatchId, StepId, ThingId};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, checked_add_exact, checked_sub_exact};

/// As many batches as are looked at.
pub(super) const LAST: usize = 5;

/// What was learnt of a product.
#[derive(Clone, Debug, Default)]
pub(crate) struct Learnt {
    /// From which batches, the newest first.
    pub(crate) from: Vec<LearntBatch>,
    pub(super) batches: u32,
    /// How many of them made other products too.
    pub(super) joint: u32,
    pub(crate) good: Decimal,
    /// Without what was charged off.
    pub(crate) lost: Decimal,
    /// All pieces begun: good, lost and charged off.
    begun: Decimal,
    /// Used of each thing that the recipe has: so much, where the recipe allows so much for what was begun.
    pub(crate) used: BTreeMap<ThingId, (Decimal, Decimal)>,
    /// Used of each thing that the recipe has not, neither on the batch's day nor on the plan's.
    pub(super) beyond: BTreeMap<ThingId, Decimal>,
    /// By step, over all these.
    pub(super) minutes: BTreeMap<StepId, Took>,
    /// The fewest minutes that a piece begun took in one of them: minutes over pieces.
    best: BTreeMap<StepId, (Decimal, Decimal)>,
}

/// What one batch taught of a product.
#[derive(Clone, Debug)]
pub(crate) struct LearntBatch {
    pub(crate) batch: BatchId,
    pub(crate) good: Decimal,
    /// Without what was charged off.
    pub(crate) lost: Decimal,
    pub(crate) charged_off: Decimal,
    /// Used of each thing, and what the recipe allows for what was begun.
    pub(crate) used: BTreeMap<ThingId, (Decimal, Decimal)>,
    /// Used of each thing that the recipe has not: the product's share, where the batch made others too.
    pub(crate) beyond: BTreeMap<ThingId, Decimal>,
    /// By step, in the measure of the plan's recipe: the product's share, where the batch made others too.
    pub(crate) minutes: BTreeMap<StepId, Took>,
    /// Steps for which the recipe said another time on the batch's day.
    pub(crate) other_times: BTreeMap<StepId, OtherTime>,
}

impl LearntBatch {
    /// Pieces by which its yield is judged: good and lost.
    pub(crate) fn judged(&self) -> Option<Decimal> {
        checked_add_exact(self.good, self.lost).ok()
    }

    /// Pieces that it began: these, and what was charged off.
    pub(crate) fn begun(&self) -> Option<Decimal> {
        checked_add_exact(self.judged()?, self.charged_off).ok()
    }

    /// The same, where it teaches something of a step's time; else none.
    pub(crate) fn timed(&self, step: StepId) -> Option<Decimal> {
        let is_new = self.other_times.get(&step).is_some_and(|other| other.then.is_zero());
        let is_silent = self.minutes.is_empty() || (is_new && !self.minutes.contains_key(&step));
        if is_silent { Some(Decimal::ZERO) } else { self.begun() }
    }
}

/// Minutes at a step: the owner's, and those of helpers with what these cost.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Took {
    pub(crate) all: Decimal,
    /// Helpers' minutes among them.
    pub(crate) hired: Decimal,
    /// What these cost, at the rates of the plan's day.
    pub(crate) cost: Decimal,
    /// Of this, what is owed until it is paid.
    pub(crate) later: Decimal,
}

impl Took {
    /// The owner's minutes alone.
    pub(super) fn of_owner(all: Decimal) -> Self {
        Self { all, ..Self::default() }
    }

    /// So many minutes, of which helpers have as large a part as they have of these, at what it cost. `None` where a figure is too large to be carried.
    pub(super) fn like(self, all: Decimal) -> Option<Self> {
        if self.hired.is_zero() || self.all.is_zero() {
            return Some(Self::of_owner(all));
        }
        let part = |much: Decimal| mul_div_to_nine(much, all, self.all).ok();
        Some(Self { all, hired: part(self.hired)?, cost: part(self.cost)?, later: part(self.later)? })
    }

    /// As many times so much: all of it by a part of a whole. `None` where a figure is too large to be carried.
    fn times(self, part: Decimal, whole: Decimal) -> Option<Self> {
        let of = |much: Decimal| mul_div_to_nine(much, part, whole).ok();
        Some(Self { all: of(self.all)?, hired: of(self.hired)?, cost: of(self.cost)?, later: of(self.later)? })
    }

    pub(super) fn plus(self, other: Self) -> Option<Self> {
        let sum = |a, b| checked_add_exact(a, b).ok();
        Some(Self {
            all: sum(self.all, other.all)?,
            hired: sum(self.hired, other.hired)?,
            cost: sum(self.cost, other.cost)?,
            later: sum(self.later, other.later)?,
        })
    }
}

impl Learnt {
    /// Looks at a product's last batches. `None` where a figure is too large to be carried.
    pub(super) fn of(ground: Ground<'_>, product: ThingId) -> Option<Self> {
        let mut batches: Vec<&BatchAccount> = ground.costed.batches.iter().filter(|batch| made(batch, product)).collect();
        batches.sort_by_key(|batch| (batch.finished, batch.batch));
        let mut learnt = Self::default();
        for batch in batches.into_iter().rev().take(LAST) {
            learnt.add(ground, batch, product)?;
        }
        learnt.find_best()?;
        let on_the_day = recipe_of(ground, product, ground.day);
        learnt.beyond.retain(|thing, used| *used > Decimal::ZERO && !stands_for(ground, *thing, &on_the_day));
        Some(learnt)
    }

    fn add(&mut self, ground: Ground<'_>, batch: &BatchAccount, product: ThingId) -> Option<()> {
        let book = ground.book;
        let Some(day) = batch.started else { return Some(()) };
        let good = sum(batch.outputs.iter().filter(|item| item.what == Output::Thing(product)).map(|item| item.quantity))?;
        let begun = begun_of(batch, product)?;
        let others = others_of(batch, product);
        let charged_off = lost_of(batch, product, |item| item.charged_off)?;
        let lost = lost_of(batch, product, |item| !item.charged_off)?;
        // All of a batch that made nothing else is the product's, and there is nothing to split.
        let (part, whole) = if others.is_empty() { (Decimal::ONE, Decimal::ONE) } else { share_of(batch, product)? };
        self.batches = self.batches.checked_add(1)?;
        self.joint = self.joint.checked_add(u32::from(!others.is_empty()))?;
        self.good = checked_add_exact(self.good, good).ok()?;
        self.lost = checked_add_exact(self.lost, lost).ok()?;
        self.begun = checked_add_exact(self.begun, begun).ok()?;
        let (used, beyond, minutes) = (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
        let other_times = other_times(ground, (product, begun), day)?;
        let mut taught = LearntBatch { batch: batch.batch, good, lost, charged_off, used, beyond, minutes, other_times };
        for need in book.thing(product).needs.on(day) {
            let allowed = mul_div_to_nine(begun, need.quantity, need.per).ok()?;
            let mut all = allowed;
            for other in &others {
                for of_other in book.thing(*other).needs.on(day).iter().filter(|one| one.thing == need.thing) {
                    let much = mul_div_to_nine(begun_of(batch, *other)?, of_other.quantity, of_other.per).ok()?;
                    all = checked_add_exact(all, much).ok()?;
                }
            }
            let used = used_of(batch, need.thing)?;
            let used = if all == allowed || all.is_zero() { used } else { mul_div_to_nine(used, allowed, all).ok()? };
            for row in [&mut self.used, &mut taught.used].map(|rows| rows.entry(need.thing).or_default()) {
                row.0 = checked_add_exact(row.0, used).ok()?;
                row.1 = checked_add_exact(row.1, allowed).ok()?;
            }
        }
        let made: Vec<ThingId> = others.iter().copied().chain([product]).collect();
        let recipes: Vec<ThingId> = made.iter().flat_map(|one| recipe_of(ground, *one, day)).collect();
        let used: BTreeSet<ThingId> = batch.used.iter().filter(|item| !item.by_step).map(|item| item.thing).collect();
        for thing in used.into_iter().filter(|thing| !made.contains(thing) && !stands_for(ground, *thing, &recipes)) {
            let all = used_of(batch, thing)?;
            let much = if others.is_empty() || whole.is_zero() { all } else { mul_div_to_nine(all, part, whole).ok()? };
            let row = self.beyond.entry(thing).or_default();
            *row = checked_add_exact(*row, much).ok()?;
            taught.beyond.insert(thing, much);
        }
        let mut minutes: BTreeMap<StepId, Took> = BTreeMap::new();
        for item in &batch.time {
            let row = minutes.entry(item.step).or_default();
            let all = item.minutes.to_decimal()?;
            let cost = cost_on_day(ground, item)?.to_decimal()?;
            let later = if is_paid_later(ground, item) { cost } else { Decimal::ZERO };
            let one = if item.own { Took::of_owner(all) } else { Took { all, hired: all, cost, later } };
            *row = row.plus(one)?;
        }
        if !others.is_empty() && !whole.is_zero() {
            for took in minutes.values_mut() {
                *took = took.times(part, whole)?;
            }
        }
        minutes.retain(|step, _| !taught.other_times.get(step).is_some_and(OtherTime::is_dropped));
        for (step, other) in taught.other_times.iter().filter(|(_, other)| !other.then.is_zero()) {
            if let Some(took) = minutes.get_mut(step) {
                *took = took.times(other.now, other.then)?;
            }
        }
        for (step, took) in &minutes {
            let row = self.minutes.entry(*step).or_default();
            *row = row.plus(*took)?;
        }
        taught.minutes = minutes;
        self.from.push(taught);
        Some(())
    }

    /// The quickest at each step of the batches that teach its time, the newest of equals.
    fn find_best(&mut self) -> Option<()> {
        for step in self.minutes.keys() {
            for one in &self.from {
                let took = (one.minutes.get(step).map_or(Decimal::ZERO, |took| took.all), one.timed(*step)?);
                if took.1.is_zero() {
                    continue;
                }
                if self.best.get(step).is_none_or(|best| is_less(took, *best)) {
                    self.best.insert(*step, took);
                }
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

    /// Good pieces that are expected of so many that are begun, rounded to nine digits; at least as many as they are begun for.
    pub(super) fn expected_good(&self, begun: Decimal, good: Decimal) -> Option<Decimal> {
        if self.lost.is_zero() || self.good.is_zero() {
            return Some(begun);
        }
        Some(mul_div_to_nine(begun, self.good, checked_add_exact(self.good, self.lost).ok()?).ok()?.max(good))
    }

    /// Good pieces that are expected of so many that are begun, whole ones rounded down.
    pub(super) fn good_of(&self, begun: Decimal, whole: bool) -> Option<Decimal> {
        let good = self.expected_good(begun, Decimal::ZERO)?;
        Some(if whole { good.floor() } else { good })
    }

    /// Pieces lost of a hundred begun, rounded half away from zero to two digits.
    pub(crate) fn lost_percent(&self) -> Option<Decimal> {
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

    /// What is needed beyond the recipe for so many pieces that are begun, as the last batches used it. What has a recipe of its own is not among it.
    pub(super) fn needed_beyond(&self, ground: Ground<'_>, begun: Decimal) -> Option<Vec<(ThingId, Decimal)>> {
        let mut needed = Vec::new();
        for (thing, used) in self.beyond.iter().filter(|(thing, _)| !ground.is_built(**thing)) {
            let much = mul_div_to_nine(*used, begun, self.begun).ok()?;
            if !much.is_zero() {
                needed.push((*thing, much));
            }
        }
        Some(needed)
    }

    /// Minutes at a step for so many pieces that are begun, as the last batches took.
    pub(crate) fn expected(&self, step: StepId, begun: Decimal) -> Option<Option<Took>> {
        let timed = self.timed(step)?;
        match self.minutes.get(&step) {
            Some(took) if !timed.is_zero() => took.like(mul_div_to_nine(took.all, begun, timed).ok()?).map(Some),
            _ => Some(None),
        }
    }

    /// Pieces begun in those batches that teach a step's time.
    pub(super) fn timed(&self, step: StepId) -> Option<Decimal> {
        let mut sum = Decimal::ZERO;
        for one in &self.from {
            sum = checked_add_exact(sum, one.timed(step)?).ok()?;
        }
        Some(sum)
    }

    /// Whether minutes at a step are as the last batches took.
    pub(crate) fn teaches(&self, step: StepId) -> bool {
        self.minutes.contains_key(&step)
    }

    /// Whether one of the last batches tells its time.
    pub(crate) fn tells_time(&self) -> bool {
        !self.minutes.is_empty()
    }

    /// The batch that was quickest at a step.
    pub(crate) fn quickest(&self, step: StepId) -> Option<&LearntBatch> {
        let (minutes, begun) = self.best.get(&step)?;
        self.from
            .iter()
            .find(|one| one.begun() == Some(*begun) && one.minutes.get(&step).is_some_and(|took| took.all == *minutes))
    }

    /// Minutes at a step for so many pieces that are begun, as the best batch took.
    pub(crate) fn best(&self, step: StepId, begun: Decimal) -> Option<Option<Decimal>> {
        match self.best.get(&step) {
            Some((minutes, of)) if !of.is_zero() => mul_div_to_nine(*minutes, begun, *of).ok().map(Some),
            _ => Some(None),
        }
    }
}

/// Whether a batch is done and gave good pieces of a product, and no tool.
fn made(batch: &BatchAccount, product: ThingId) -> bool {
    let mut pieces = batch.outputs.iter().filter(|item| item.quantity > Decimal::ZERO);
    let all_things = batch.outputs.iter().all(|item| matches!(item.what, Output::Thing(_)));
    batch.state == BatchState::Done && all_things && pieces.any(|item| item.what == Output::Thing(product))
}

/// The other products of a batch, good or lost.
fn others_of(batch: &BatchAccount, product: ThingId) -> BTreeSet<ThingId> {
    let made = batch.outputs.iter().map(|item| Some(item.what));
    let things = made.chain(batch.losses.iter().map(|item| item.what)).filter_map(|what| match what {
        Some(Output::Thing(thing)) if thing != product => Some(thing),
        _ => None,
    });
    things.collect()
}

/// Pieces of a product that a batch began: good ones and lost ones.
fn begun_of(batch: &BatchAccount, product: ThingId) -> Option<Decimal> {
    let good = batch.outputs.iter().filter(|item| item.what == Output::Thing(product)).map(|item| item.quantity);
    checked_add_exact(sum(good)?, lost_of(batch, product, |_| true)?).ok()
}

/// Pieces of a product that a batch lost in such a way. A loss that names nothing is of the only product.
fn lost_of(batch: &BatchAccount, product: ThingId, so: impl Fn(&LossItem) -> bool) -> Option<Decimal> {
    let is_only = others_of(batch, product).is_empty();
    let of = |what: Option<Output>| what == Some(Output::Thing(product)) || (what.is_none() && is_only);
    sum(batch.losses.iter().filter(|item| of(item.what) && so(item)).map(|item| item.quantity))
}

/// What a batch used of a thing beside the wear of its steps, less what it kept of it.
fn used_of(batch: &BatchAccount, thing: ThingId) -> Option<Decimal> {
    let used = sum(batch.used.iter().filter(|item| item.thing == thing && !item.by_step).map(|item| item.quantity))?;
    checked_sub_exact(used, sum(batch.kept.iter().filter(|item| item.thing == thing).map(|item| item.quantity))?).ok()
}

fn recipe_of(ground: Ground<'_>, product: ThingId, day: NaiveDate) -> Vec<ThingId> {
    ground.book.thing(product).needs.on(day).iter().map(|need| need.thing).collect()
}

/// Whether a thing is one of those that some recipes have, or an offcut of one.
fn stands_for(ground: Ground<'_>, thing: ThingId, recipes: &[ThingId]) -> bool {
    recipes.contains(&thing) || ground.book.thing(thing).from.is_some_and(|of| recipes.contains(&of))
}

/// What part of a batch's hours, else of its paid cost, went to a product, as the engine split them; charged-off pieces took theirs.
fn share_of(batch: &BatchAccount, product: ThingId) -> Option<(Decimal, Decimal)> {
    let vectors = || {
        let good = batch.outputs.iter().map(|item| (Some(item.what), &item.vector));
        good.chain(batch.losses.iter().map(|item| (item.what, &item.vector)))
    };
    let split = |of: &dyn Fn(&CostVector) -> Option<Fixed6>| {
        let (mut part, mut whole) = (Fixed6::ZERO, Fixed6::ZERO);
        for (what, vector) in vectors() {
            let sum = of(vector)?;
            whole = whole.checked_add(sum)?;
            if what == Some(Output::Thing(product)) {
                part = part.checked_add(sum)?;
            }
        }
        Some((part.to_decimal()?, whole.to_decimal()?))
    };
    let hours = split(&|vector| vector.own_minutes()?.checked_add(vector.bought_in_minutes()?))?;
    if hours.1.is_zero() { split(&CostVector::paid) } else { Some(hours) }
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
