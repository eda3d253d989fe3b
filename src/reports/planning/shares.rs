//! How the things that an open batch aims at will share it, piece by piece (costing rule 4).
//!
//! A book says it where pieces are made. So it is what the batch's own earlier pieces said; else what the last batch that made all of these said; where
//! neither did, a piece counts as a piece, as the engine has it too.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::costing::BatchAccount;
use crate::events::{BatchWork, EventKind, Output, OutputSharing};
use crate::year::Books;

/// The share of a piece of each thing that a batch aims at; nothing where it aims at no more than one.
pub(super) fn shares_of(books: Books<'_>, batch: &BatchAccount) -> BTreeMap<Output, Decimal> {
    let aims: Vec<Output> = batch.aims.iter().map(|(what, _)| *what).collect();
    if aims.len() < 2 {
        return BTreeMap::new();
    }
    let works = || {
        books.log.events.iter().rev().filter_map(|event| match &event.kind {
            EventKind::Batch(work) if !work.made.is_empty() => Some(&**work),
            _ => None,
        })
    };
    let own: Vec<&BatchWork> = works().filter(|work| work.batch == batch.batch).collect();
    let says =
        |work: &BatchWork| work.sharing != OutputSharing::BySharesOrSingle || work.made.iter().any(|line| line.share.is_some());
    let shares = match own.iter().any(|work| says(work)) {
        true => shares_by(books, &aims, &own),
        false => {
            let made_all = |work: &&BatchWork| aims.iter().all(|what| work.made.iter().any(|line| line.what == *what));
            let last: Vec<&BatchWork> = works().find(made_all).into_iter().collect();
            shares_by(books, &aims, &last)
        }
    };
    if shares.values().all(Decimal::is_zero) { BTreeMap::new() } else { shares }
}

/// By what was said last of each; a price is that of the last day of the book.
fn shares_by(books: Books<'_>, aims: &[Output], works: &[&BatchWork]) -> BTreeMap<Output, Decimal> {
    let by_price = works.first().is_some_and(|work| work.sharing == OutputSharing::ByPrice);
    let share = |what: &Output| {
        let said = works.iter().flat_map(|work| &work.made).find(|line| line.what == *what && line.share.is_some());
        let price = || match what {
            Output::Thing(thing) if by_price => books.costed.until.and_then(|day| *books.book.thing(*thing).price.on(day)),
            _ => None,
        };
        (*what, said.and_then(|line| line.share).or_else(price).unwrap_or(Decimal::ONE))
    };
    aims.iter().map(share).collect()
}
