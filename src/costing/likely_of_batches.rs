//! What is likely wrong with a batch that is done: far from its recipe, nothing used, something lost that it doesn't make, more given than went in.
//!
//! Each is told once, at an entry whose `expected` answers it, and changes no figure.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors::likely_of_batches as likely;
use crate::costing::fault::Costed;
use crate::costing::likely_slips::round2;
use crate::events::{BatchWork, Output};
use crate::names::{BatchId, ThingId, ThingKind};
use crate::units::{Dimension, Unit, checked_add_exact, checked_mul_exact, convert};

/// How many times as much as its recipe says a batch takes before it is told.
const FAR: i64 = 3;

/// A thing or step of which a batch took far more than its recipe says.
#[derive(Clone, Debug)]
pub(crate) struct FarFromRecipe {
    /// What, with what it took and what the recipe says, in words.
    pub(crate) what: String,
    pub(crate) took: String,
    pub(crate) recipe: String,
}

impl Engine<'_> {
    /// Tells what is likely wrong with a batch that is done, before its progress is forgotten.
    pub(crate) fn tell_of_batch(&mut self, work: &BatchWork) -> Costed<()> {
        let progress = self.batches.progress(work.batch);
        let made: Vec<ThingId> = progress.made.iter().filter_map(|(what, _)| product(*what)).collect();
        if let Some((offcut, line)) = self.likely.unknown_offcuts.remove(&work.batch) {
            let date = self.now.date;
            let toy = made.iter().find(|thing| self.book.thing(**thing).for_children_from_months.on(date).is_some());
            if let Some(toy) = toy {
                let told = likely::offcut_of_unknown_source(self, offcut, (work.batch, *toy), line);
                self.found.push(told);
            }
        }
        self.tell_lost_not_made(work.batch);
        self.tell_gave_more(work.batch)?;
        self.tell_parts_left_out(work.batch, &made)?;
        self.tell_used_nothing(work.batch, &made)?;
        let far = self.far_from_recipe(work.batch)?;
        if !far.is_empty() {
            let told = likely::far_from_recipe(self, work.batch, &far);
            self.found.push(told);
        }
        Ok(())
    }

    /// Tells of pieces that a batch says were lost, and that it neither makes nor aims at: they cost it nothing and are taken from nowhere.
    fn tell_lost_not_made(&mut self, batch: BatchId) {
        let progress = self.batches.progress(batch);
        let made: Vec<Output> = progress.made.iter().map(|(what, _)| *what).collect();
        let not_made = progress.lost.iter().find(|(what, _)| !made.is_empty() && !made.contains(what));
        let Some((what, _)) = not_made.copied() else { return };
        if self.batches.account(batch).aims.iter().any(|(aim, _)| *aim == what) {
            return;
        }
        let told = likely::lost_not_made(self, batch, what, made.first().copied());
        self.found.push(told);
    }

    /// Tells of whole parts of which each good piece holds some and the batch used none, though it used other things of its recipe: once a part.
    fn tell_parts_left_out(&mut self, batch: BatchId, made: &[ThingId]) -> Costed<()> {
        let progress = self.batches.progress(batch);
        let used = |thing: ThingId| progress.used.get(&thing).is_some_and(|used| !used.is_zero());
        let needs = self.recipe_needs(&progress.made)?;
        let [product] = made else { return Ok(()) };
        // What is made of itself, as jars with another label, needs only what is changed.
        let is_known =
            !used(*product) && progress.made.len() == 1 && !progress.holds_money && needs.iter().any(|(thing, _)| used(*thing));
        let is_part = |thing: ThingId| {
            let each = self.book.thing(*product).needs.on(self.now.date).iter().filter(|need| need.thing == thing);
            self.book.thing(thing).unit == Unit::Each
                && self.book.thing(thing).kind != ThingKind::Wear
                && each.clone().all(|need| need.per == Decimal::ONE && need.quantity.fract().is_zero())
        };
        let left_out: Vec<(ThingId, Decimal)> =
            needs.iter().filter(|(thing, _)| is_known && !used(*thing) && is_part(*thing)).copied().collect();
        let new: Vec<(ThingId, Decimal)> =
            left_out.into_iter().filter(|(thing, _)| self.likely.left_out.insert((*product, *thing))).collect();
        if !new.is_empty() {
            let told = likely::parts_left_out(self, batch, &new);
            self.found.push(told);
        }
        Ok(())
    }

    /// Tells of material of a batch that is more than what went in of its kind: by weight where nothing else went in, so that the rest can't have come from it; of wood
    /// and areas whatever went in beside it. A length may be slit into more of it, and what is liquid may be thinned.
    fn tell_gave_more(&mut self, batch: BatchId) -> Costed<()> {
        let book = self.book;
        let unit = |thing: ThingId| book.thing(thing).unit;
        let is_measured = |thing: ThingId| {
            matches!(unit(thing).dimension(), Dimension::Length | Dimension::Area | Dimension::Volume | Dimension::Mass)
        };
        let account = self.batches.account(batch);
        let progress = self.batches.progress(batch);
        let kept = account.kept.iter().map(|line| (line.thing, line.quantity));
        let gave = progress.made.iter().filter_map(|(what, quantity)| Some((product(*what)?, *quantity))).chain(kept);
        let gave: Vec<(ThingId, Decimal)> = gave.filter(|(thing, _)| is_measured(*thing)).collect();
        let Some((first, _)) = gave.first().copied() else { return Ok(()) };
        let kind = unit(first).dimension();
        let used = || progress.used.iter().filter(|(thing, _)| book.thing(**thing).kind != ThingKind::Wear);
        let alone = used().all(|(thing, _)| unit(*thing).dimension() == kind);
        let sum = |all: &mut dyn Iterator<Item = (ThingId, Decimal)>| -> Costed<Decimal> {
            let mut sum = Decimal::ZERO;
            for (thing, quantity) in all.filter(|(thing, _)| unit(*thing).dimension() == kind) {
                // What can't be brought into one unit can't be held against the rest.
                let Ok(quantity) = convert(quantity, unit(thing), unit(first)) else { return Ok(Decimal::ZERO) };
                sum = checked_add_exact(sum, quantity)?;
            }
            Ok(sum)
        };
        let went_in = sum(&mut used().map(|(thing, quantity)| (*thing, *quantity)))?;
        let came_out = sum(&mut gave.iter().copied())?;
        let is_wood = unit(first) == Unit::BoardFoot;
        let is_told = !went_in.is_zero() && came_out > went_in && !progress.holds_money;
        if is_told && (is_wood || kind == Dimension::Area || kind == Dimension::Mass && alone) {
            let told = likely::gave_more(self, batch, first, (came_out, went_in));
            self.found.push(told);
        }
        Ok(())
    }

    /// Tells of a batch that used no goods at all, where its recipe needs some: once a product, since a maker may never write what is used.
    fn tell_used_nothing(&mut self, batch: BatchId, made: &[ThingId]) -> Costed<()> {
        let progress = self.batches.progress(batch);
        let took_none =
            progress.used.values().all(Decimal::is_zero) && progress.made.iter().all(|(what, _)| product(*what).is_some());
        let used_nothing = !progress.holds_money && took_none;
        let Some(first) = made.first().filter(|_| used_nothing) else { return Ok(()) };
        let pieces: Vec<(Output, Decimal)> = progress.made.iter().chain(&progress.lost).copied().collect();
        let needs = self.recipe_needs(&pieces)?;
        if !needs.is_empty() && self.likely.used_nothing.insert(*first) {
            let told = likely::used_nothing(self, batch, &needs);
            self.found.push(told);
        }
        Ok(())
    }

    /// Tells of a thing that an entry uses both by the recipe and by a line of its own that says as much as the recipe: one of the two was
    /// meant.
    pub(crate) fn tell_used_twice(&mut self, work: &BatchWork, planned: &[(ThingId, Decimal)]) -> Costed<()> {
        for line in &work.used {
            let Some((_, recipe)) = planned.iter().find(|(thing, _)| *thing == line.thing) else { continue };
            if checked_mul_exact(line.quantity, Decimal::TWO)? > *recipe {
                let told = likely::used_twice(self, line, *recipe);
                self.found.push(told);
            }
        }
        Ok(())
    }

    /// What a batch took more than three times of what its recipe says for what it made and lost, or, of materials of
    /// which it used some, less than a third.
    fn far_from_recipe(&self, batch: BatchId) -> Costed<Vec<FarFromRecipe>> {
        let progress = self.batches.progress(batch);
        let pieces: Vec<(Output, Decimal)> = progress.made.iter().chain(&progress.lost).copied().collect();
        let mut far = Vec::new();
        for (thing, recipe) in self.recipe_needs(&pieces)? {
            let used = progress.used.get(&thing).copied().unwrap_or_default();
            // What it used none of stands for something else, or is counted by the month.
            if is_far(used, recipe)? || is_far(recipe, used)? || self.is_fewer_than_within(thing, used, &progress.made)? {
                let unit = self.book.thing(thing).unit.as_str();
                let text = |quantity: Decimal| format!("{} {unit}", round2(quantity).normalize());
                far.push(FarFromRecipe {
                    what: format!("of `{}`", self.thing_name(thing)),
                    took: text(used),
                    recipe: text(recipe),
                });
            }
        }
        for (step, recipe) in self.recipe_takes(&pieces)? {
            let took = progress.took.get(&step).and_then(|took| took.to_decimal()).unwrap_or_default();
            if is_far(took, recipe)? {
                let text = |minutes: Decimal| format!("{} minutes", round2(minutes).normalize());
                far.push(FarFromRecipe {
                    what: format!("of `{}`", self.book.step(step).named.name),
                    took: text(took),
                    recipe: text(recipe),
                });
            }
        }
        Ok(far)
    }

    /// Whether fewer parts were used than the good pieces hold, each a whole number of them.
    fn is_fewer_than_within(&self, thing: ThingId, used: Decimal, made: &[(Output, Decimal)]) -> Costed<bool> {
        if used.is_zero() || self.book.thing(thing).unit != Unit::Each || !used.fract().is_zero() {
            return Ok(false);
        }
        let mut within = Decimal::ZERO;
        for (what, count) in made {
            for (need, each) in self.recipe_needs(&[(*what, Decimal::ONE)])? {
                if need == thing && !each.fract().is_zero() {
                    return Ok(false);
                }
                if need == thing {
                    within = checked_add_exact(within, checked_mul_exact(each, *count)?)?;
                }
            }
        }
        Ok(used < within)
    }
}

fn product(what: Output) -> Option<ThingId> {
    if let Output::Thing(thing) = what { Some(thing) } else { None }
}

/// Whether a quantity is more than three times another.
fn is_far(took: Decimal, recipe: Decimal) -> Costed<bool> {
    Ok(!recipe.is_zero() && took > checked_mul_exact(recipe, Decimal::from(FAR))?)
}
