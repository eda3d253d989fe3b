//! What stock is worth: a thing's, a kind's, or all that is on hand.
//!
//! Stock under lots is what is left of each lot, as it came and with what moved since; under average, what each pool holds. A kind of things is
//! told thing by thing, the bench batch by batch.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use super::by_months::{entries_by_months, month_of};
use super::{Step, Sum, Telling};
use crate::costing::{BatchAccount, BatchState, ShelfEntry, StockLot};
use crate::names::{CostingMethod, PlaceId, ThingId, ThingKind};
use crate::reports::period::{quantity_text, unit_cost_text};
use crate::reports::{BatchFigure, FigureName, StockFigure, StockKind, StockOf, WhyRule};
use crate::units::{checked_add_exact, checked_sub_exact};

/// Movements of a lot that are told one by one.
const MOST_MOVEMENTS: usize = 24;

impl Telling<'_> {
    /// What stock is worth at the end of a day, up to which the book was costed.
    pub(super) fn stock(&mut self, figure: StockFigure) -> Option<(String, Vec<Step>)> {
        let day = figure.on.or(self.of.books.costed.until).map_or_else(String::new, |day| format!(" on {day}"));
        let (says, top) = match figure.of {
            StockOf::Thing(thing) => {
                let top = self.stock_of(thing, figure.on, 0)?;
                if top.steps.is_empty() {
                    return Some((self.why_none(thing, &day), vec![top]));
                }
                (format!("{} on hand{day}", top.says), top)
            }
            StockOf::Kind(kind) => {
                let top = self.stock_of_kind(kind, figure.on, 0)?;
                if top.steps.is_empty() {
                    return Some((why_none_of_kind(kind, &day), vec![top]));
                }
                (format!("{}{day}", top.says), top)
            }
        };
        let answer = format!("{says}: {} paid and {} full.", unit_cost_text(top.sum.paid), unit_cost_text(top.sum.full));
        let mut letters = answer.chars();
        let answer = letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect());
        Some((answer, vec![top]))
    }

    /// A kind of stock, thing by thing or batch by batch; of all of it, kind by kind.
    fn stock_of_kind(&mut self, kind: StockKind, on: Option<NaiveDate>, level: usize) -> Option<Step> {
        let figure = FigureName::Stock(StockFigure { of: StockOf::Kind(kind), on });
        let below = level.saturating_add(1);
        let mut steps = Vec::new();
        match (kind, kind.things()) {
            (StockKind::All, _) => {
                for one in StockKind::ALL.into_iter().filter(|one| *one != StockKind::All) {
                    let step = self.stock_of_kind(one, on, below)?;
                    if !step.steps.is_empty() || !step.sum.is_nothing() {
                        steps.push(step);
                    }
                }
            }
            (_, Some(things)) => {
                for thing in self.things_on_hand(things) {
                    steps.push(self.stock_of(thing, on, below)?);
                }
            }
            (_, None) => steps = self.benches(below)?,
        }
        let mut step = Step::sum_of(kind_words(kind), steps)?;
        step.figure = Some(figure);
        if self.stops(figure, level) && !step.steps.is_empty() {
            (step.rule, step.steps) = (WhyRule::Deeper, Vec::new());
        }
        Some(step)
    }

    /// The things of a kind of which there is any, by name.
    fn things_on_hand(&self, kind: ThingKind) -> Vec<ThingId> {
        let of = self.of;
        let mut things: Vec<ThingId> =
            of.index.things_on_hand().filter(|thing| of.books.book.thing(*thing).kind == kind).collect();
        things.sort_by_key(|thing| &of.books.book.thing(*thing).named.name);
        things
    }

    /// What is on the bench, batch by batch.
    fn benches(&mut self, level: usize) -> Option<Vec<Step>> {
        let of = self.of;
        let mut steps = Vec::new();
        for account in of.books.costed.batches.iter().filter(|account| account.state == BatchState::OnTheBench) {
            steps.push(self.bench_of(account, level)?);
        }
        Some(steps)
    }

    /// What is on the bench of a batch.
    pub(super) fn bench_of(&mut self, account: &BatchAccount, level: usize) -> Option<Step> {
        let of = self.of;
        let figure = FigureName::Batch(BatchFigure { batch: account.batch, part: None });
        let says = format!("on the bench of batch {}", of.books.book.batch(account.batch).name);
        let mut step = Step::nowhere(says, Sum::of(&account.on_the_bench)?, WhyRule::SumOf).named(figure);
        if self.stops(figure, level) {
            step.rule = WhyRule::Deeper;
            return Some(step);
        }
        let told = self.benches.get(&account.batch).copied();
        step.steps = self.bench((account.batch, u32::MAX), usize::MAX, told, level.saturating_add(1))?;
        if let Some((last, _)) = of.index.last_finish(of.trace, account.batch) {
            self.benches.insert(account.batch, last);
        }
        Some(step)
    }

    /// Why there is none of a thing, in one sentence.
    fn why_none(&self, thing: ThingId, day: &str) -> String {
        let name = &self.of.books.book.thing(thing).named.name;
        let (mut lots, mut last) = (0_usize, None);
        for lot in self.of.index.lots(self.of.trace, thing) {
            lots = lots.saturating_add(1);
            last = self.of.index.of_lot(self.of.trace, lot.origin.number).last().map(|entry| entry.date).max(last);
        }
        match last {
            None => format!("No {name} on hand{day}: none has come since the book began."),
            Some(last) => {
                let lots =
                    if lots == 1 { "the one lot that came is".to_owned() } else { format!("all {lots} lots that came are") };
                format!("No {name} on hand{day}: {lots} gone, the last of it on {last}.")
            }
        }
    }

    /// What the stock of a thing is worth.
    pub(super) fn stock_of(&mut self, thing: ThingId, on: Option<NaiveDate>, level: usize) -> Option<Step> {
        let of = self.of;
        let costed = of.books.costed;
        let lots: Vec<&StockLot> = of.index.stock(costed, thing).collect();
        let (mut units, mut whole) = (Decimal::ZERO, Sum::default());
        for lot in &lots {
            units = checked_add_exact(units, lot.quantity).ok()?;
            whole = whole.plus(Sum::of(&lot.vector)?)?;
        }
        let figure = FigureName::Stock(StockFigure { of: StockOf::Thing(thing), on });
        let mut top = Step::nowhere(self.amount_of(thing, units), whole, WhyRule::SumOf).named(figure);
        if lots.is_empty() {
            top.rule = WhyRule::Said;
            return Some(top);
        }
        if self.stops(figure, level) {
            top.rule = WhyRule::Deeper;
            return Some(top);
        }
        let below = level.saturating_add(1);
        let last = costed.until.unwrap_or_default();
        let year = NaiveDate::from_ymd_opt(last.year(), 1, 1)?;
        if *of.books.book.shop.costing.on(year) == CostingMethod::Average {
            let places: BTreeSet<PlaceId> = lots.iter().map(|lot| lot.place).collect();
            for place in places {
                top.steps.push(self.pool(thing, place, of.trace.entries.len(), below)?);
            }
        } else {
            let mut by_lot: BTreeMap<u32, Vec<&StockLot>> = BTreeMap::new();
            for lot in lots {
                by_lot.entry(lot.origin.number).or_default().push(lot);
            }
            let mut left = Vec::with_capacity(by_lot.len());
            for (number, here) in by_lot {
                let came = month_of(of.trace.lot(number)?.origin.date);
                left.push((came, self.left_of(number, &here, below)?));
            }
            top.steps = entries_by_months(left)?;
        }
        Some(top)
    }

    /// What is left of a lot: as it came, and what moved since.
    fn left_of(&mut self, number: u32, here: &[&StockLot], level: usize) -> Option<Step> {
        let (mut units, mut sum, mut places) = (Decimal::ZERO, Sum::default(), Vec::new());
        for lot in here {
            units = checked_add_exact(units, lot.quantity).ok()?;
            sum = sum.plus(Sum::of(&lot.vector)?)?;
            let place = &self.of.books.book.place(lot.place).named.name;
            places.push((quantity_text(lot.quantity), place));
        }
        let made = self.of.trace.lot(number)?;
        let (came, gone) = (Sum::of_lot(made)?, checked_sub_exact(units, made.quantity).ok()?);
        let rest = sum.minus(came)?;
        if gone.is_zero() && rest.is_nothing() {
            return self.lot(number, level);
        }
        let amount = self.amount_of(made.thing, units);
        let says = match places.as_slice() {
            [(_, place)] => format!("{amount} at {place}"),
            places => {
                let places: Vec<String> = places.iter().map(|(quantity, place)| format!("{quantity} at {place}")).collect();
                format!("{amount}: {}", places.join(", "))
            }
        };
        let mut step = Step::nowhere(says, sum, WhyRule::SumOf);
        step.steps = vec![self.lot(number, level.saturating_add(1))?];
        let entries = self.of.index.of_lot(self.of.trace, number);
        let since = entries.get(1..).unwrap_or_default();
        if since.len() > MOST_MOVEMENTS {
            let says = format!("{} in {} movements since", quantity_text(gone), since.len());
            step.steps.push(Step::nowhere(says, rest, WhyRule::Said));
            return Some(step);
        }
        for entry in since {
            let place = &self.of.books.book.place(entry.place).named.name;
            let quantity = quantity_text(entry.quantity.abs());
            let says = match (entry.quantity.is_zero(), entry.quantity.is_sign_negative()) {
                (true, _) => change_of_cost(entry),
                (false, true) => format!("{} less {quantity} that left {place}", entry.date),
                (false, false) => format!("{} {quantity} that came to {place}", entry.date),
            };
            step.steps.push(Step::new(says, Sum::of_entry(entry)?, WhyRule::Said, entry.line));
        }
        Some(step)
    }
}

/// Why the cost of a lot changed of which nothing moved, in words.
pub(super) fn change_of_cost(entry: &ShelfEntry) -> String {
    let why =
        if entry.line.is_empty() { "its part of the pool, when stock went over to lots" } else { "the supplier's credit on it" };
    format!("{} {why}", entry.date)
}

/// Why there is none of a kind, in one sentence.
fn why_none_of_kind(kind: StockKind, day: &str) -> String {
    match kind {
        StockKind::OnTheBench => format!("Nothing is on the bench{day}: every batch that was begun is done or given up."),
        StockKind::All => format!("Nothing is on hand or on the bench{day}."),
        kind => format!("No {} are on hand{day}: none has come, or all are gone.", kind_words(kind)),
    }
}

/// A kind of stock in words.
fn kind_words(kind: StockKind) -> &'static str {
    match kind {
        StockKind::Materials => "materials",
        StockKind::Wear => "wear",
        StockKind::Packing => "packing",
        StockKind::Products => "products",
        StockKind::OnTheBench => "batches on the bench",
        StockKind::All => "all that is on hand and on the bench",
    }
}
