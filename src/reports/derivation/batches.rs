//! Batches: what a finish took of the bench, and what had been put on it.
//!
//! A bench is derived from where it was told of last: what was left on it then, and what was put on it since. So a batch that is finished in a hundred
//! steps is not told a hundred times over.

use rust_decimal::Decimal;

use super::{MOST_LEVELS, Step, Sum, Telling};
use crate::costing::{Amounts, BatchAccount, Component, Finish, FinishPart, Flow, LotMade, Movement};
use crate::events::Output;
use crate::names::{BatchId, OverheadRule};
use crate::reports::period::{minutes_text, quantity_text};
use crate::reports::{BatchFigure, FigureName, WhyRule};
use crate::sources::Span;
use crate::units::checked_mul_exact;

impl<'d> Telling<'d> {
    /// What of a finish by an event went to an output.
    pub(super) fn share_of(&self, account: &BatchAccount, event: u32, output: (Output, Span)) -> Option<&'d FinishPart> {
        let (_, finish) = self.of.index.finish(self.of.trace, account.batch, event)?;
        let outputs = of_events(&account.outputs, |one| one.event, event, event);
        finish.parts.get(outputs.iter().position(|one| (one.what, one.line) == output)?)
    }
}

impl Telling<'_> {
    /// What makes the cost of a lot that a batch made: its share of the finish, and its royalty.
    pub(super) fn finished(&mut self, lot: &LotMade, batch: BatchId, level: usize) -> Option<Vec<Step>> {
        let event = lot.origin.event;
        let Some((at, finish)) = self.of.index.finish(self.of.trace, batch, event) else { return Some(Vec::new()) };
        let account = self.of.books.costed.batches.get(batch.index())?;
        let part = self.share_of(account, event, (Output::Thing(lot.thing), lot.line))?;
        let share = Sum::of_amounts(part.share)?;
        let mut steps = Vec::new();
        let whole = self.finish(finish, at, level)?;
        if finish.parts.len() > 1 {
            let weight = checked_mul_exact(part.quantity, part.weight).ok()?;
            let says = format!("{} of {} of what was taken off the bench", quantity_text(weight), weighted(finish.given));
            let mut step = Step::new(says, share, WhyRule::PartOf, lot.line);
            step.steps = vec![whole];
            steps.push(step);
        } else {
            steps.push(whole);
        }
        let royalty = Sum::of_lot(lot)?.minus(share)?;
        if !royalty.is_nothing() {
            steps.push(Step::new("royalty and licence", royalty, WhyRule::Said, lot.line));
        }
        Some(steps)
    }

    /// What a finish took of the bench.
    fn finish(&mut self, finish: &Finish, at: usize, level: usize) -> Option<Step> {
        let name = &self.of.books.book.batch(finish.batch).name;
        let head = self.head(finish.event);
        if !self.finishes.insert(at) {
            let says = format!("taken off the bench of batch {name}");
            return Some(Step::new(says, Sum::of_amounts(finish.taken)?, WhyRule::Above, head));
        }
        let bench = Sum::of_amounts(finish.bench)?;
        let is_first = self.of.index.finishes(self.of.trace, finish.batch, 0, at).next().is_none();
        let says = format!("what had gone into batch {name}{}", if is_first { "" } else { " and not yet come out" });
        let figure = FigureName::Batch(BatchFigure { batch: finish.batch, part: self.part });
        let mut on_bench = Step::new(says, bench, WhyRule::SumOf, head).named(figure);
        if self.benches.get(&finish.batch).is_some_and(|told| *told >= at) {
            // A later finish was told, and with it all that this one found on the bench.
            on_bench.rule = WhyRule::Above;
        } else if self.stops(figure, level) {
            on_bench.rule = WhyRule::Deeper;
        } else {
            let told = self.benches.insert(finish.batch, at);
            on_bench.steps = self.bench((finish.batch, finish.event), at, told, level.saturating_add(1))?;
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
        let mut taken = Step::new(says, Sum::of_amounts(finish.taken)?, WhyRule::PartOf, head);
        taken.steps = vec![on_bench];
        Some(taken)
    }

    /// What was lost of a batch, in words: all that was on the bench, or a part of what a finish took.
    pub(super) fn lost_what(&self, movement: &Movement, batch: BatchId) -> String {
        let name = &self.of.books.book.batch(batch).name;
        match movement.thing {
            Some(thing) => format!("{} lost in batch {name}", self.amount_of(thing, movement.quantity)),
            None if self.of.index.finish(self.of.trace, batch, movement.event).is_some() => {
                format!("pieces lost in batch {name}")
            }
            None => format!("what was on the bench of batch {name}"),
        }
    }

    /// Where what was lost of a batch came from.
    pub(super) fn lost(&mut self, step: &mut Step, movement: &Movement, batch: BatchId, level: usize) -> Option<()> {
        let below = level.saturating_add(1);
        if level > MOST_LEVELS {
            step.rule = WhyRule::Deeper;
        } else if let Some((at, finish)) = self.of.index.finish(self.of.trace, batch, movement.event) {
            step.rule = WhyRule::PartOf;
            step.steps = vec![self.finish(finish, at, below)?];
        } else {
            let figure = FigureName::Batch(BatchFigure { batch, part: self.part });
            step.figure = Some(figure);
            if self.stops(figure, below) {
                step.rule = WhyRule::Deeper;
                return Some(());
            }
            let told = self.benches.get(&batch).copied();
            step.rule = WhyRule::SumOf;
            step.steps = self.bench((batch, movement.event), usize::MAX, told, below)?;
        }
        Some(())
    }

    /// What had been put on a batch's bench by an event, less what earlier finishes took; where its bench was told of at one of them, since that.
    pub(super) fn bench(
        &mut self,
        (batch, last): (BatchId, u32),
        finishes: usize,
        told: Option<usize>,
        level: usize,
    ) -> Option<Vec<Step>> {
        let (trace, costed) = (self.of.trace, self.of.books.costed);
        let account = costed.batches.get(batch.index())?;
        let mut steps = Vec::new();
        let mut first = 0;
        if let Some(told) = told.and_then(|told| trace.finishes.get(told)) {
            let left = Sum::of_amounts(told.bench)?.minus(Sum::of_amounts(told.taken)?)?;
            let says = format!("what was left when {} had been taken off", weighted(told.given));
            steps.push(Step::new(says, left, WhyRule::Above, self.head(told.event)));
            first = told.event.saturating_add(1);
        }
        for movement in self.of.index.straight(costed, batch, first, last) {
            let says =
                if movement.flow == Flow::Opened { "on the bench when the book began" } else { "bought straight for the batch" };
            steps.push(Step::new(says, Sum::of(&movement.vector)?, WhyRule::Said, movement.line));
        }
        for used in of_events(&account.used, |one| one.event, first, last) {
            let by = if used.by_step { "worn" } else { "used" };
            let says = format!("{by} {}", self.amount_of(used.thing, used.quantity));
            let mut step = Step::new(says, Sum::of(&used.vector)?, WhyRule::SumOf, used.line);
            if used.quantity.is_zero() {
                step.rule = WhyRule::Said;
            } else if level >= MOST_LEVELS {
                step.rule = WhyRule::Deeper;
            } else {
                step.made_of(by, self.issue(used.issue, level.saturating_add(1))?);
            }
            steps.push(step);
        }
        self.time(account, (first, last), &mut steps)?;
        for kept in of_events(&account.kept, |one| one.event, first, last) {
            let says = format!("less {}, kept for later", self.amount_of(kept.thing, kept.quantity));
            steps.push(Step::new(says, Sum::of(&kept.vector)?.negated()?, WhyRule::Said, kept.line));
        }
        let untold = told.map_or(0, |told| told.saturating_add(1));
        for earlier in self.of.index.finishes(trace, batch, untold, finishes) {
            let says = format!("less what was taken off for {} before", weighted(earlier.given));
            steps.push(Step::new(says, Sum::of_amounts(earlier.taken)?.negated()?, WhyRule::Said, self.head(earlier.event)));
        }
        Some(steps)
    }

    fn time(&self, account: &BatchAccount, (first, last): (u32, u32), steps: &mut Vec<Step>) -> Option<()> {
        for time in of_events(&account.time, |one| one.event, first, last) {
            let step = &self.of.books.book.step(time.step).named.name;
            let minutes = minutes_text(time.minutes);
            let (who, component) = if time.own { ("own", Component::OwnTime) } else { ("hired", Component::BoughtInTime) };
            let sum = Sum::of_amounts(Amounts::of_component(component, time.cost).with_minutes(time.own, time.minutes))?;
            let shop = &self.of.books.book.shop;
            let rate = shop.owner_time.on(time.date).filter(|_| time.own);
            let rate = rate.map_or_else(String::new, |rate| format!(" at {rate} an hour"));
            steps.push(Step::new(format!("{minutes} {who} minutes of {step}{rate}"), sum, WhyRule::Said, time.line));
            if !time.overhead.is_zero() {
                let by = match shop.overhead.on(time.date) {
                    OverheadRule::PerHour(rate) => format!(" at {rate} an hour"),
                    OverheadRule::FromExpenses => ": their part of the year's overhead, by its direct minutes".to_owned(),
                    OverheadRule::None => String::new(),
                };
                let says = format!("overhead on these {minutes} minutes{by}");
                steps.push(Step::new(says, Sum::of_component(Component::Overhead, time.overhead)?, WhyRule::Said, time.line));
            }
        }
        Some(())
    }
}

/// So many weighted pieces, in words.
fn weighted(pieces: Decimal) -> String {
    format!("{} weighted {}", quantity_text(pieces), if pieces == Decimal::ONE { "piece" } else { "pieces" })
}

/// The items of a batch from one event to another, both included; a batch's items are in the order of their events.
fn of_events<T>(items: &[T], event: impl Fn(&T) -> u32, first: u32, last: u32) -> &[T] {
    let from = items.partition_point(|one| event(one) < first);
    let until = items.partition_point(|one| event(one) <= last);
    items.get(from..until).unwrap_or_default()
}
