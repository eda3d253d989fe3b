//! What all prices are asked back from, found once: so that the prices of all products together take as long as the book is.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use super::last_fair::{LastFair, last_fairs};
use super::selling::SoldByChannel;
use crate::costing::{OutputItem, StockLot};
use crate::events::Output;
use crate::names::{ChannelId, ThingId};
use crate::reports::Period;
use crate::reports::marked_price::MarkedPrices;
use crate::year::Books;

/// A book's sales by product and channel, and what was finished of each product, in some days.
#[derive(Debug)]
pub struct PriceIndex<'a> {
    pub(super) books: Books<'a>,
    pub(super) period: Period,
    pub(super) sold: SoldByChannel,
    /// Of each thing the batches that finished it, and which of their outputs it was.
    outputs: FxHashMap<ThingId, Vec<(usize, usize)>>,
    stock: FxHashMap<ThingId, Vec<usize>>,
    /// What goods at places are marked at.
    pub(super) marked: MarkedPrices,
    /// What the last fair of each channel cost, where that was looked for.
    pub(super) fairs: BTreeMap<ChannelId, LastFair>,
}

impl<'a> PriceIndex<'a> {
    /// Goes through a book once. `mile_rate` gives the money for a mile driven on a day. `None` where a sum is too large to be carried.
    #[must_use]
    pub fn of(books: Books<'a>, period: Period, mile_rate: &dyn Fn(NaiveDate) -> Option<Decimal>) -> Option<Self> {
        let costed = books.costed;
        let mut outputs: FxHashMap<ThingId, Vec<(usize, usize)>> = FxHashMap::default();
        for (batch, account) in costed.batches.iter().enumerate() {
            for (item, output) in account.outputs.iter().enumerate() {
                if let Output::Thing(thing) = output.what {
                    outputs.entry(thing).or_default().push((batch, item));
                }
            }
        }
        let mut stock: FxHashMap<ThingId, Vec<usize>> = FxHashMap::default();
        for (at, lot) in costed.stock.iter().enumerate() {
            stock.entry(lot.thing).or_default().push(at);
        }
        let (sold, marked) = (SoldByChannel::of(books, period, mile_rate)?, MarkedPrices::of(books));
        Some(Self { books, period, sold, outputs, stock, marked, fairs: BTreeMap::new() })
    }

    /// Looks for what the last fair of each channel cost, which is to be met where no other fixed cost is asked about. `None` where a sum is too large to be carried.
    #[must_use]
    pub fn with_fairs(self, mile_rate: &dyn Fn(NaiveDate) -> Option<Decimal>) -> Option<Self> {
        let fairs = last_fairs(self.books.book, self.books.costed, self.period, mile_rate)?;
        Some(Self { fairs, ..self })
    }

    /// What was finished of a product, with the batches that did.
    pub(crate) fn outputs(&self, product: ThingId) -> impl Iterator<Item = (usize, &'a OutputItem)> {
        let found = self.outputs.get(&product).into_iter().flatten();
        found.filter_map(|(batch, item)| Some((*batch, self.books.costed.batches.get(*batch)?.outputs.get(*item)?)))
    }

    /// The lots of a product that are on hand.
    pub(super) fn on_hand(&self, product: ThingId) -> impl Iterator<Item = &'a StockLot> {
        self.stock.get(&product).into_iter().flatten().filter_map(|at| self.books.costed.stock.get(*at))
    }
}
