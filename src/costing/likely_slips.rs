//! What is no mistake and yet is likely one: a piece sold below what was paid for it, a batch far from its recipe, an offcut of
//! unknown source in goods for children, goods that have lain for years or at a place that nobody settles.
//!
//! Each is told once, at an entry whose `expected` answers it, and changes no figure.

use std::collections::BTreeMap;

use chrono::{Days, Months, NaiveDate};
use rust_decimal::{Decimal, RoundingStrategy};
use rustc_hash::{FxHashMap, FxHashSet};

use crate::costing::engine::Engine;
use crate::costing::errors::likely;
use crate::costing::fault::Costed;
use crate::costing::{LotOrigin, Pieces};
use crate::events::{BatchWork, EventKind, Output, Returned};
use crate::names::{BatchId, ChannelShare, LabelId, PlaceId, ThingId, ThingKind};
use crate::sources::Span;
use crate::units::{Fixed6, Unit, checked_add_exact, checked_mul_exact};

/// How many times as much as its recipe says a batch takes before it is told.
const FAR: i64 = 3;
/// How long after a delivery a credit may be for it rather than for a later one. A supplier credits soon: common practice, no source.
const CREDITED_WITHIN: Months = Months::new(12);
/// How old goods become before they are told.
const OLD_MONTHS: Months = Months::new(24);
/// How long nothing is heard of goods at a place that sells on consignment. Shops settle monthly or by the quarter: common practice, no
/// source.
const SETTLES_WITHIN: Days = Days::new(183);

/// What is remembered, so that each is told once.
#[derive(Debug, Default)]
pub(crate) struct LikelySlips {
    /// Products of which a sale below cost was told, by year.
    below_cost: FxHashSet<(ThingId, i32)>,
    /// When goods were last sold from, sent to, brought back from or counted at a place, and the entry.
    dealings: FxHashMap<PlaceId, (NaiveDate, Span)>,
    /// Offcuts of unknown source by the batch that used them: the first line of each batch.
    unknown_offcuts: BTreeMap<BatchId, (ThingId, Span)>,
    /// Products of which a batch that used nothing was told.
    used_nothing: FxHashSet<ThingId>,
}

/// Goods of an entry that have lain long.
#[derive(Clone, Debug)]
pub(crate) struct OldGoods {
    /// The entry that brought them.
    pub(crate) event: u32,
    /// The day.
    pub(crate) date: NaiveDate,
    /// How much is left of each thing, by thing.
    pub(crate) left: BTreeMap<ThingId, Decimal>,
}

/// A thing or step of which a batch took far more than its recipe says.
#[derive(Clone, Debug)]
pub(crate) struct FarFromRecipe {
    /// What, with what it took and what the recipe says, in words.
    pub(crate) what: String,
    pub(crate) took: String,
    pub(crate) recipe: String,
}

impl Engine<'_> {
    /// Remembers that a place was dealt with today.
    pub(crate) fn deal_with_place(&mut self, place: PlaceId) {
        self.likely.dealings.insert(place, (self.now.date, self.now.head));
    }

    /// Tells of goods sold for less than their paid cost, once a thing and year. `net` is what they fetched, less discount and tax.
    pub(crate) fn tell_below_cost(&mut self, (thing, quantity): (ThingId, Decimal), net: Fixed6, paid: Fixed6, line: Span) {
        use chrono::Datelike;
        if net < paid && self.likely.below_cost.insert((thing, self.now.date.year())) {
            let told = likely::below_cost(self, (thing, quantity), net, paid, line);
            self.found.push(told);
        }
    }

    /// Remembers the pieces of an offcut that a batch uses and that came from nowhere in the book.
    pub(crate) fn note_offcuts(&mut self, batch: BatchId, thing: ThingId, pieces: &[Pieces], line: Span) {
        if self.book.thing(thing).from.is_some() && pieces.iter().any(|piece| self.source_is_unknown(&piece.lot)) {
            self.likely.unknown_offcuts.entry(batch).or_insert((thing, line));
        }
    }

    /// Whether no purchase and no batch brought a lot: it was found, counted, there when the book began, or never recorded.
    fn source_is_unknown(&self, lot: &LotOrigin) -> bool {
        let event = usize::try_from(lot.event).ok().and_then(|at| self.log.events.get(at));
        let brought = event.map(|event| &event.kind);
        lot.batch.is_none() && matches!(brought, Some(EventKind::Opened(_) | EventKind::Counted(_) | EventKind::Batch(_)))
    }

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

    /// Tells of money back that names neither its order nor its goods, where the channel sold more than once within a year, or several
    /// things at once: all of it lowers the last sale.
    pub(crate) fn tell_which_sale(&mut self, returned: &Returned) {
        let Some(channel) = returned.channel.filter(|_| returned.order.is_none() && returned.lines.is_empty()) else { return };
        let Some((_, line)) = returned.refunds.first() else { return };
        let Some(sales) = self.orders.by_channel.get(&channel) else { return };
        let recent = |day: NaiveDate| day.checked_add_months(CREDITED_WITHIN).is_none_or(|until| until >= self.now.date);
        let account = |order: u32| usize::try_from(order).ok().and_then(|at| self.orders.accounts.get(at));
        let mut orders: Vec<u32> = sales.iter().map(|sale| sale.order).collect();
        orders.dedup();
        orders.retain(|order| account(*order).is_some_and(|account| recent(account.date)));
        let Some(last) = sales.last().and_then(|sale| account(sale.order)) else { return };
        let things: FxHashSet<ThingId> = last.lines.iter().map(|line| line.thing).collect();
        if orders.len() > 1 || things.len() > 1 {
            let told = likely::which_sale(self, (last.date, last.head), orders.len(), things.len(), *line);
            self.found.push(told);
        }
    }

    /// Whether a count finds more than counting explains: a piece that nobody made, or a quarter more of a material than the book has.
    pub(crate) fn is_far_more(&self, thing: ThingId, there: Decimal, booked: Decimal) -> Costed<bool> {
        if self.book.thing(thing).kind == ThingKind::Product {
            return Ok(true);
        }
        Ok(checked_mul_exact(there, Decimal::from(4))? > checked_mul_exact(booked, Decimal::from(5))?)
    }

    /// Whether a count finds some of a material, and less than a fifth of what the book has, as where a point slipped. What wears is counted
    /// down, and of pieces each has a story.
    pub(crate) fn is_far_less(&self, thing: ThingId, there: Decimal, booked: Decimal) -> Costed<bool> {
        let is_material = self.book.thing(thing).kind == ThingKind::Material;
        let is_asked = is_material && !there.is_zero() && !self.log.is_uncertain(thing, self.now.date);
        Ok(is_asked && checked_mul_exact(there, Decimal::from(5))? < booked)
    }

    /// Tells of a credit without a receipt, where its supplier delivered the thing more than once within a year: the last is credited.
    pub(crate) fn tell_which_delivery(&mut self, thing: ThingId, supplier: LabelId, deliveries: (u32, u32), line: Span) {
        let event = |at: u32| usize::try_from(at).ok().and_then(|at| self.log.events.get(at));
        let (Some(last), Some(before)) = (event(deliveries.0), event(deliveries.1)) else { return };
        let recent = before.date.checked_add_months(CREDITED_WITHIN).is_none_or(|until| until >= self.now.date);
        if recent && last.date != before.date {
            let told = likely::which_delivery(self, thing, supplier, [(last.date, last.head), (before.date, before.head)], line);
            self.found.push(told);
        }
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

    /// The last day of the book, as far as it lies not in the future: an entry of a day to come makes nothing old.
    pub(crate) fn last_day(&self) -> NaiveDate {
        self.today.map_or(self.now.date, |today| today.min(self.now.date))
    }

    /// Tells of what has lain too long, by the last day of the book.
    pub(crate) fn tell_what_lies(&mut self) -> Costed<()> {
        for old in self.old_goods()? {
            let told = likely::old_goods(self, &old);
            self.found.push(told);
        }
        let Some(since) = self.last_day().checked_sub_days(SETTLES_WITHIN) else { return Ok(()) };
        let unsettled = self.book.channels.iter().filter_map(|channel| {
            let place = channel.place.filter(|_| matches!(channel.share.on(self.now.date), ChannelShare::Consignment(_)))?;
            let (last, entry) = *self.likely.dealings.get(&place).filter(|(last, _)| *last < since)?;
            let things = (0..self.book.things.len()).filter_map(|thing| u32::try_from(thing).ok());
            let lie = things.filter(|thing| !self.shelves[self.shelf_at(ThingId(*thing), place)].on_hand().is_zero()).count();
            (lie > 0).then(|| likely::place_not_settled(self, place, last, entry, lie))
        });
        let unsettled: Vec<_> = unsettled.collect();
        unsettled.into_iter().for_each(|told| self.found.push(told));
        Ok(())
    }

    /// Goods that came more than two years before the last day, by the entry that brought them.
    fn old_goods(&self) -> Costed<Vec<OldGoods>> {
        let Some(since) = self.last_day().checked_sub_months(OLD_MONTHS) else { return Ok(Vec::new()) };
        let places = self.book.places.len().max(1);
        let mut old: BTreeMap<u32, OldGoods> = BTreeMap::new();
        for (at, shelf) in self.shelves.iter().enumerate() {
            let Ok(thing) = u32::try_from(at / places) else { break };
            for lot in shelf.lots().take_while(|lot| lot.origin.date < since) {
                let LotOrigin { event, date, .. } = lot.origin;
                let one = old.entry(event).or_insert_with(|| OldGoods { event, date, left: BTreeMap::new() });
                let left = one.left.entry(ThingId(thing)).or_default();
                *left = checked_add_exact(*left, lot.quantity)?;
            }
        }
        Ok(old.into_values().collect())
    }
}

fn product(what: Output) -> Option<ThingId> {
    if let Output::Thing(thing) = what { Some(thing) } else { None }
}

/// Whether a quantity is more than three times another.
fn is_far(took: Decimal, recipe: Decimal) -> Costed<bool> {
    Ok(!recipe.is_zero() && took > checked_mul_exact(recipe, Decimal::from(FAR))?)
}

/// For a message: to two digits.
pub(crate) fn round2(figure: Decimal) -> Decimal {
    figure.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
}
