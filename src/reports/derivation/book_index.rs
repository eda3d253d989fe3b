//! What of a book is found once for all its figures: the parts of its margins, its movements by year and flow, its sales tax by account.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use super::Derived;
use super::pays_index::PaysIndex;
use crate::costing::{CostedBook, Flow, TaxItem};
use crate::names::LabelId;
use crate::year::{Books, Figures};

/// Movements, by their places in the book's list.
type ByFlow = FxHashMap<(i32, Flow), Vec<u32>>;
type ByAccount = FxHashMap<(Option<LabelId>, i32), Vec<u32>>;

/// What is found of a book.
#[derive(Debug)]
pub(super) struct BookIndex<'a> {
    /// `None` where a figure is too large.
    pays: Option<PaysIndex<'a>>,
    flows: ByFlow,
    taxes: ByAccount,
    /// The money for a mile on each day on which something was driven, where a form gives it.
    mile_rates: BTreeMap<NaiveDate, Decimal>,
}

impl<'a> BookIndex<'a> {
    /// Goes through a book, with the rates of its form where there is one.
    pub(super) fn of(books: Books<'a>, figures: Option<&Figures>) -> Self {
        let CostedBook { movements, taxes: items, .. } = books.costed;
        let mut flows = ByFlow::default();
        for (at, movement) in (0u32..).zip(movements) {
            flows.entry((movement.date.year(), movement.flow)).or_default().push(at);
        }
        let mut taxes = ByAccount::default();
        for (at, tax) in (0u32..).zip(items) {
            taxes.entry((tax.to, tax.date.year())).or_default().push(at);
        }
        Self { pays: pays_of(books, figures), flows, taxes, mile_rates: rates_of(books, figures) }
    }

    /// The same with the rates of a form, by which miles on lines and channels count.
    pub(super) fn with_figures(self, books: Books<'a>, figures: &Figures) -> Self {
        let has_miles = books.costed.miles.iter().any(|drive| drive.on.is_some());
        if has_miles {
            Self { pays: pays_of(books, Some(figures)), mile_rates: rates_of(books, Some(figures)), ..self }
        } else {
            self
        }
    }
}

fn rates_of(books: Books<'_>, figures: Option<&Figures>) -> BTreeMap<NaiveDate, Decimal> {
    let rate = |day| figures?.mileage(day).map(|rate| (day, rate.per_mile.0));
    books.costed.miles.iter().filter_map(|drive| rate(drive.date)).collect()
}

fn pays_of<'a>(books: Books<'a>, figures: Option<&Figures>) -> Option<PaysIndex<'a>> {
    let mile_rate = |day: NaiveDate| figures?.mileage(day).map(|rate| rate.per_mile.0);
    PaysIndex::of(books, &mile_rate)
}

impl<'a> Derived<'a> {
    /// The parts of the margins. `None` where a figure is too large.
    pub(super) fn pays(&self) -> Option<&PaysIndex<'a>> {
        self.found.pays.as_ref()
    }

    /// The money for a mile driven on a day, where a form gives it.
    pub(super) fn mile_rate(&self, day: NaiveDate) -> Option<Decimal> {
        self.found.mile_rates.get(&day).copied()
    }

    /// What moved by a flow in a year, by its places in the book's list.
    pub(super) fn moved_in(&self, year: i32, flow: Flow) -> &[u32] {
        self.found.flows.get(&(year, flow)).map_or(&[], Vec::as_slice)
    }

    /// What happened on a sales tax account in a year.
    pub(super) fn taxes_in(&self, account: Option<LabelId>, year: i32) -> impl Iterator<Item = &'a TaxItem> {
        let taxes = &self.books.costed.taxes;
        self.found.taxes.get(&(account, year)).into_iter().flatten().filter_map(|at| taxes.get(*at as usize))
    }

    /// What happened on a sales tax account before a year.
    pub(super) fn taxes_before(&self, account: Option<LabelId>, year: i32) -> impl Iterator<Item = &'a TaxItem> {
        let first = self.books.log.first_day.map_or(year, |day| day.year());
        (first..year).flat_map(move |year| self.taxes_in(account, year))
    }
}
