//! Batches: what a finish took of the bench, and what had been put on it.

use rust_decimal::Decimal;

use super::lots::is_nothing;
use super::{Sum, Telling};
use crate::costing::{BatchAccount, Finish, Flow, LotMade};
use crate::names::BatchId;
use crate::reports::period::{minutes_text, quantity_text};
use crate::reports::{WhyRule, WhyStep};
use crate::units::{Fixed6, checked_mul_exact};

impl Telling<'_> {
    /// What makes the cost of a lot that a batch made: its share of the finish, and its royalty.
    pub(super) fn finished(&mut self, lot: &LotMade, batch: BatchId, level: usize) -> Option<Vec<WhyStep>> {
        let trace = self.trace;
        let found = trace.finishes.iter().enumerate().find(|(_, one)| one.batch == batch && one.event == lot.origin.event);
        let Some((at, finish)) = found else { return Some(Vec::new()) };
        let account = self.books.costed.batches.get(batch.index())?;
        let of_event = account.outputs.iter().filter(|output| output.event == lot.origin.event);
        let part = of_event.into_iter().position(|output| output.line == lot.line)?;
        let mut weights = Vec::with_capacity(finish.parts.len());
        for (_, quantity, weight, _) in &finish.parts {
            weights.push(checked_mul_exact(*quantity, *weight).ok()?);
        }
        let share =
            if weights.len() > 1 { finish.taken.split(&weights).ok()?.into_iter().nth(part)? } else { finish.taken.clone() };
        let mut steps = Vec::new();
        let whole = self.finish(at, level)?;
        if weights.len() > 1 {
            let weighted = weights.get(part)?;
            let says = format!(
                "{} of {} weighted pieces of what was taken off the bench",
                quantity_text(*weighted),
                quantity_text(finish.given)
            );
            let mut step = self.step(says, Sum::of(&share)?, WhyRule::PartOf, lot.line);
            step.steps = vec![whole];
            steps.push(step);
        } else {
            steps.push(whole);
        }
        let royalty = Sum::of_lot(lot).minus(Sum::of(&share)?)?;
        if !is_nothing(royalty) {
            steps.push(self.step("royalty and licence".to_owned(), royalty, WhyRule::Said, lot.line));
        }
        Some(steps)
    }

    /// What a finish took of the bench.
    fn finish(&mut self, at: usize, level: usize) -> Option<WhyStep> {
        let trace = self.trace;
        let finish = trace.finishes.get(at)?;
        let name = &self.books.book.batch(finish.batch).name;
        let head = self.head(finish.event);
        if !self.finishes.insert(at) {
            let says = format!("taken off the bench of batch {name}");
            return Some(self.step(says, Sum::of(&finish.taken)?, WhyRule::Above, head));
        }
        let bench = Sum::of(&finish.bench)?;
        let mut on_bench = self.step(format!("what batch {name} had collected and not yet given"), bench, WhyRule::SumOf, head);
        if level >= self.levels {
            on_bench.rule = WhyRule::Deeper;
        } else {
            on_bench.steps = self.bench(finish, at, level.saturating_add(1))?;
        }
        if finish.to_come.is_zero() {
            return Some(on_bench);
        }
        let says = format!(
            "taken off the bench of batch {name}: of materials {given} of {given} + {to_come} weighted pieces, of the work {given} of {given} + {to_come} x {}%",
            quantity_text(finish.rest_worked),
            given = quantity_text(finish.given),
            to_come = quantity_text(finish.to_come),
        );
        let mut taken = self.step(says, Sum::of(&finish.taken)?, WhyRule::PartOf, head);
        taken.steps = vec![on_bench];
        Some(taken)
    }

    /// What had been put on a batch's bench by a finish, less what had left it.
    fn bench(&mut self, finish: &Finish, at: usize, level: usize) -> Option<Vec<WhyStep>> {
        let costed = self.books.costed;
        let account = costed.batches.get(finish.batch.index())?;
        let mut steps = Vec::new();
        let straight = costed.movements.iter().filter(|one| {
            one.batch == Some(finish.batch)
                && one.event <= finish.event
                && one.thing.is_none()
                && matches!(one.flow, Flow::Bought | Flow::Opened)
        });
        for movement in straight {
            let says =
                if movement.flow == Flow::Opened { "on the bench when the book began" } else { "bought straight for the batch" };
            steps.push(self.step(says.to_owned(), Sum::of(&movement.vector)?, WhyRule::Said, movement.line));
        }
        for used in account.used.iter().filter(|used| used.event <= finish.event) {
            let by = if used.by_step { "worn" } else { "used" };
            let says = format!("{by} {}", self.amount_of(used.thing, used.quantity));
            let mut step = self.step(says, Sum::of(&used.vector)?, WhyRule::SumOf, used.line);
            if used.quantity.is_zero() {
                step.rule = WhyRule::Said;
            } else if level >= self.levels {
                step.rule = WhyRule::Deeper;
            } else {
                let mut pieces = self.issue(used.issue, level.saturating_add(1))?;
                if let [one] = pieces.as_mut_slice() {
                    // A single piece needs no step of its own.
                    step.says = format!("{by} {}", one.says);
                    step.rule = one.rule;
                    step.steps = std::mem::take(&mut one.steps);
                } else {
                    step.steps = pieces;
                }
            }
            steps.push(step);
        }
        self.time(account, finish, &mut steps)?;
        for kept in account.kept.iter().filter(|kept| kept.event <= finish.event) {
            let says = format!("less {}, kept for later", self.amount_of(kept.thing, kept.quantity));
            steps.push(self.step(says, Sum::of(&kept.vector)?.negated()?, WhyRule::Said, kept.line));
        }
        for earlier in self.trace.finishes.iter().take(at).filter(|one| one.batch == finish.batch) {
            let says = format!("less what was taken off for {} weighted pieces before", quantity_text(earlier.given));
            steps.push(self.step(says, Sum::of(&earlier.taken)?.negated()?, WhyRule::Said, self.head(earlier.event)));
        }
        Some(steps)
    }

    fn time(&self, account: &BatchAccount, finish: &Finish, steps: &mut Vec<WhyStep>) -> Option<()> {
        for time in account.time.iter().filter(|time| time.event <= finish.event) {
            let step = &self.books.book.step(time.step).named.name;
            let minutes = minutes_text(time.minutes);
            let (who, sum) =
                if time.own { ("own", Sum { paid: Fixed6::ZERO, full: time.cost }) } else { ("hired", Sum::both(time.cost)) };
            steps.push(self.step(format!("{minutes} {who} minutes of {step}"), sum, WhyRule::Said, time.line));
            if !time.overhead.is_zero() {
                let sum = Sum { paid: Fixed6::ZERO, full: time.overhead };
                steps.push(self.step(format!("overhead on these {minutes} minutes"), sum, WhyRule::Said, time.line));
            }
        }
        Some(())
    }

    /// A cost per unit: the whole divided by the units.
    pub(super) fn per_unit(&self, says: String, whole: Sum, units: Decimal) -> Option<WhyStep> {
        let unit = |money| crate::units::part_of(money, Decimal::ONE, units);
        let sum = Sum { paid: unit(whole.paid)?, full: unit(whole.full)? };
        Some(self.step(says, sum, WhyRule::PerUnit, crate::sources::Span::default()))
    }
}
