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
use crate::events::EventKind;
use crate::names::{BatchId, ChannelId, ChannelShare, LabelId, PlaceId, ThingId, ThingKind};
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact};

/// How long after a delivery a credit may be for it rather than for a later one. A supplier credits soon: common practice, no source.
pub(crate) const CREDITED_WITHIN: Months = Months::new(12);
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
    pub(crate) unknown_offcuts: BTreeMap<BatchId, (ThingId, Span)>,
    /// Products of which a batch that used nothing was told.
    pub(crate) used_nothing: FxHashSet<ThingId>,
    /// Parts of a product of which a batch that used none was told.
    pub(crate) left_out: FxHashSet<(ThingId, ThingId)>,
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
        // What is credited on the day of a delivery is of that.
        if recent && last.date != before.date && last.date != self.now.date {
            let told = likely::which_delivery(self, thing, supplier, [(last.date, last.head), (before.date, before.head)], line);
            self.found.push(told);
        }
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
        let unsettled = (0..).map(ChannelId).zip(&self.book.channels).filter_map(|(id, channel)| {
            // An entry about it, or a line of its definition, could not be read.
            let doubts = &self.log.doubts;
            let named = self.book.label_id(&channel.named.name);
            if doubts.channels.contains(&id)
                || doubts.has_terms(Some(id))
                || named.is_some_and(|name| doubts.parties.contains(&name))
            {
                return None;
            }
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

/// For a message: to two digits.
pub(crate) fn round2(figure: Decimal) -> Decimal {
    figure.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
}
