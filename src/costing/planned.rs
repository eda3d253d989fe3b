//! What `as planned` stands for: the recipe, for the pieces made and lost in the batch so far, less what earlier entries of the
//! batch used or took, never below zero.
//!
//! A figure of a recipe that is no finite decimal for these pieces is rounded once, to 9 places.

use rust_decimal::Decimal;

use crate::costing::batch_book::Progress;
use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, OrFault};
use crate::diagnostics::Diagnostic;
use crate::events::Output;
use crate::names::{BatchId, StepId, ThingId};
use crate::units::quantity::mul_div_to_nine;
use crate::units::{Fixed6, checked_sub_exact};

impl Engine<'_> {
    /// Why there is nothing to go by: no pieces yet, or none that have a recipe.
    fn no_plan(&self, batch: BatchId, pieces: &[(Output, Decimal)], word: &str) -> Diagnostic {
        match pieces {
            [] => errors::nothing_planned_yet(self, batch),
            _ => errors::no_recipe(self, batch, word),
        }
    }

    /// Whether a recipe was read only in part; what it lacks has been told.
    fn recipe_incomplete(&self, pieces: &[(Output, Decimal)]) -> bool {
        pieces.iter().any(|(what, _)| matches!(what, Output::Thing(thing) if self.book.thing(*thing).recipe_incomplete))
    }

    /// What the recipes of pieces ask for, today, of each thing.
    pub(crate) fn recipe_needs(&self, pieces: &[(Output, Decimal)]) -> Costed<Vec<(ThingId, Decimal)>> {
        let mut needed: Vec<(ThingId, Decimal)> = Vec::new();
        for (what, count) in pieces {
            let Output::Thing(product) = *what else { continue };
            for need in self.book.thing(product).needs.on(self.now.date) {
                Progress::add(&mut needed, need.thing, mul_div_to_nine(*count, need.quantity, need.per)?)?;
            }
        }
        Ok(needed)
    }

    /// The minutes that the recipes of pieces ask for, today, at each step.
    pub(crate) fn recipe_takes(&self, pieces: &[(Output, Decimal)]) -> Costed<Vec<(StepId, Decimal)>> {
        let mut asked: Vec<(StepId, Decimal)> = Vec::new();
        for (what, count) in pieces {
            let Output::Thing(product) = *what else { continue };
            for take in self.book.thing(product).takes.on(self.now.date) {
                Progress::add(&mut asked, take.step, mul_div_to_nine(*count, take.minutes, take.per)?)?;
            }
        }
        Ok(asked)
    }

    /// What is still to be used by plan.
    pub(crate) fn planned_use(
        &mut self,
        batch: BatchId,
        pieces: &[(Output, Decimal)],
        asked_apart: bool,
    ) -> Costed<Vec<(ThingId, Decimal)>> {
        let mut wanted = self.recipe_needs(pieces)?;
        if wanted.is_empty() && asked_apart && !self.recipe_incomplete(pieces) {
            let told = self.no_plan(batch, pieces, "needs");
            self.found.push(told);
        }
        let used = &self.batches.progress(batch).used;
        for (thing, quantity) in &mut wanted {
            let before = used.get(thing).copied().unwrap_or_default();
            *quantity = checked_sub_exact(*quantity, before)?.max(Decimal::ZERO);
        }
        wanted.retain(|(_, quantity)| !quantity.is_zero());
        Ok(wanted)
    }

    /// What time is still to be taken by plan.
    pub(crate) fn planned_time(
        &mut self,
        batch: BatchId,
        pieces: &[(Output, Decimal)],
        asked_apart: bool,
    ) -> Costed<Vec<(StepId, Fixed6)>> {
        let wanted = self.recipe_takes(pieces)?;
        if wanted.is_empty() && asked_apart && !self.recipe_incomplete(pieces) {
            let told = self.no_plan(batch, pieces, "takes");
            self.found.push(told);
        }
        let took = &self.batches.progress(batch).took;
        let mut left = Vec::with_capacity(wanted.len());
        for (step, minutes) in wanted {
            let minutes = Fixed6::round_from_decimal(minutes).or_fault()?;
            let before = took.get(&step).copied().unwrap_or_default();
            let rest = minutes.checked_sub(before).or_fault()?;
            if rest.is_positive() {
                left.push((step, rest));
            }
        }
        Ok(left)
    }
}
