//! What counts in the margins of a time, by the group in which it stands: what the tables of sales are made of.
//!
//! Found once for all sheets, so that all of them together take as long as the book is. Costing rule 13.

use std::collections::BTreeMap;

use chrono::Datelike;
use rustc_hash::FxHashMap;

use crate::reports::Period;
use crate::reports::pays_part::{MileRate, PaysOf, PaysPart, each_part};
use crate::year::Books;

/// The parts of the margins of a time.
#[derive(Debug)]
pub struct SalesIndex<'a> {
    parts: Vec<PaysPart<'a>>,
    of_group: FxHashMap<PaysOf, Vec<u32>>,
    of_month: BTreeMap<(i32, u32), Vec<u32>>,
}

impl<'a> SalesIndex<'a> {
    /// Goes through a book once; `mile_rate` gives the money for a mile driven on a day. `None` where a figure is too large to be carried.
    #[must_use]
    pub fn of(books: Books<'a>, days: Period, mile_rate: MileRate<'_>) -> Option<Self> {
        let mut parts: Vec<PaysPart<'a>> = Vec::new();
        each_part(books.book, books.costed, days, mile_rate, &mut |part| {
            if !part.is_indirect() {
                parts.push(part);
            }
            Some(())
        })?;
        parts.sort_by_key(|part| part.day);
        let mut index = Self { parts: Vec::new(), of_group: FxHashMap::default(), of_month: BTreeMap::new() };
        for (at, part) in (0u32..).zip(&parts) {
            for group in &part.groups {
                index.of_group.entry(*group).or_default().push(at);
            }
            if part.is_money() {
                index.of_month.entry((part.day.year(), part.day.month())).or_default().push(at);
            }
        }
        index.parts = parts;
        Some(index)
    }

    /// The parts of a group, in the order of their days.
    pub(super) fn of_group(&self, of: PaysOf) -> Vec<&PaysPart<'a>> {
        self.found(self.of_group.get(&of))
    }

    /// All that counts, in the order of the days.
    pub(super) fn all(&self) -> Vec<&PaysPart<'a>> {
        self.parts.iter().collect()
    }

    /// The money of each month.
    pub(super) fn months(&self) -> impl Iterator<Item = ((i32, u32), Vec<&PaysPart<'a>>)> {
        self.of_month.iter().map(|(month, at)| (*month, self.found(Some(at))))
    }

    fn found(&self, indices: Option<&Vec<u32>>) -> Vec<&PaysPart<'a>> {
        indices.into_iter().flatten().filter_map(|at| self.parts.get(*at as usize)).collect()
    }
}
