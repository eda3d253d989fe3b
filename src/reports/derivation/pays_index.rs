//! The parts of the margins by group and year, found once: what a derivation of one figure after the other asks for.
//!
//! Looked for in all postings each time, a book of twice the groups would take twice as long for each of its figures. Sums are those of the report.

use std::collections::{BTreeMap, BTreeSet};

use chrono::Datelike;
use rustc_hash::FxHashMap;

use crate::costing::{Flow, Movement, Posting, overhead_of};
use crate::names::{ChannelId, ResolvedBook};
use crate::reports::fair_rest::{FairRows, FairSums};
use crate::reports::margin::Margin;
use crate::reports::pays_part::{MileRate, PaysOf, PaysPart, each_part};
use crate::reports::pays_rest::{KINDS, PaysRest};
use crate::reports::report_pays::{Margins, PaysRows};
use crate::reports::{PaysBeside, PaysGroup, Period};
use crate::units::Fixed6;
use crate::year::Books;

/// Expenses with their business parts, and what was applied.
type Overhead<'a> = (Vec<(&'a Posting, Fixed6)>, Vec<&'a Movement>);

/// What a book's margins are made of.
#[derive(Debug)]
pub(super) struct PaysIndex<'a> {
    parts: Vec<PaysPart<'a>>,
    of_group: FxHashMap<(PaysOf, i32), Vec<u32>>,
    /// What stands on no product, by year: shipments, hours that are on nothing, hours in batches.
    on_no_product: FxHashMap<i32, Vec<u32>>,
    of_month: FxHashMap<(i32, u32), Vec<u32>>,
    groups: BTreeMap<i32, BTreeSet<PaysOf>>,
    /// Expenses that count as overhead, and overhead applied in batches, by year.
    overhead: FxHashMap<i32, Overhead<'a>>,
    /// The sums of each year, and of the whole book, with their rows as they are printed.
    sums: BTreeMap<Option<i32>, (Margins, PaysRows)>,
    /// The block of fairs of the whole book, as it is printed, and exact.
    fairs: FairRows,
    fair_sums: FairSums,
    /// What stands in no group, and on channels beside their fairs.
    beside: BTreeMap<(PaysBeside, i32), Vec<u32>>,
    book: &'a ResolvedBook,
}

impl<'a> PaysIndex<'a> {
    /// Goes through a book once. `None` on overflow.
    pub(super) fn of(books: Books<'a>, mile_rate: MileRate<'_>) -> Option<Self> {
        let mut parts: Vec<PaysPart<'a>> = Vec::new();
        each_part(books.book, books.costed, Period::default(), mile_rate, &mut |part| {
            parts.push(part);
            Some(())
        })?;
        parts.sort_by_key(|part| part.day);
        let mut index = Self {
            parts: Vec::new(),
            of_group: FxHashMap::default(),
            on_no_product: FxHashMap::default(),
            of_month: FxHashMap::default(),
            groups: BTreeMap::new(),
            overhead: FxHashMap::default(),
            sums: BTreeMap::new(),
            fairs: FairRows { fairs: Vec::new(), rest: Vec::new(), total: None },
            fair_sums: FairSums::of(books.book, books.costed, Period::default()),
            beside: BTreeMap::new(),
            book: books.book,
        };
        for posting in &books.costed.postings {
            if let Some(money) = overhead_of(books.book, posting)? {
                index.overhead.entry(posting.belongs_to().year()).or_default().0.push((posting, money));
            }
        }
        for movement in books.costed.movements.iter().filter(|one| one.flow == Flow::Overhead) {
            index.overhead.entry(movement.date.year()).or_default().1.push(movement);
        }
        let mut margins: BTreeMap<Option<i32>, Margins> = BTreeMap::new();
        for (at, part) in (0u32..).zip(&parts) {
            let year = part.day.year();
            for of in [None, Some(year)] {
                margins.entry(of).or_default().add(books.book, part)?;
            }
            for group in &part.groups {
                index.of_group.entry((*group, year)).or_default().push(at);
                index.groups.entry(year).or_default().insert(*group);
            }
            if !part.groups.iter().any(|group| matches!(group, PaysOf::Product(_))) {
                index.on_no_product.entry(year).or_default().push(at);
            }
            if part.is_money() {
                index.of_month.entry((year, part.day.month())).or_default().push(at);
            }
        }
        index.add_beside(&parts)?;
        for (year, margins) in margins {
            let rows = margins.rows(books.book)?;
            if year.is_none() {
                let is_fair = |group: &&(PaysOf, PaysGroup)| matches!(group.0, PaysOf::Fair(..));
                let told = rows.groups.iter().filter(is_fair);
                let told: Option<Vec<_>> = told.map(|(of, row)| Some((*of, row.clone(), margins.margin(Some(*of))?))).collect();
                index.fairs = index.fair_sums.rows(books.book, told?, &rows.groups)?;
            }
            index.sums.insert(year, (margins, rows));
        }
        index.parts = parts;
        Some(index)
    }

    /// Notes what stands in no group of a kind, and on channels beside their fairs. `None` on overflow.
    fn add_beside(&mut self, parts: &[PaysPart<'_>]) -> Option<()> {
        for (at, part) in (0u32..).zip(parts) {
            self.fair_sums.add(self.book, part)?;
            let mut of: Vec<PaysBeside> =
                KINDS.into_iter().filter_map(|kind| Some(PaysBeside::Kind(kind, PaysRest::of(part, kind)?))).collect();
            if let Some(channel) = self.fair_sums.channel_of(part) {
                of.push(PaysBeside::AllFairs);
                of.extend(self.fair_sums.why(part).map(|why| PaysBeside::Fairs(channel, why)));
            }
            for of in of {
                self.beside.entry((of, part.day.year())).or_default().push(at);
            }
        }
        Some(())
    }

    /// The parts of a row that is of no group, in a year or ever.
    pub(super) fn of_beside(&self, (of, year): (PaysBeside, Option<i32>)) -> impl Iterator<Item = &PaysPart<'a>> {
        let (first, last) = year.map_or((i32::MIN, i32::MAX), |year| (year, year));
        self.beside.range((of, first)..=(of, last)).flat_map(|(_, at)| self.found(Some(at)))
    }

    /// The sums of such a row; `None` where it has none.
    pub(super) fn margin_beside(&self, (of, year): (PaysBeside, Option<i32>)) -> Option<&Margin> {
        match of {
            PaysBeside::Kind(kind, why) => self.sums.get(&year)?.0.rest(kind, why),
            PaysBeside::Fairs(channel, why) => self.fair_sums.margin(Some((channel, why))),
            PaysBeside::AllFairs => self.fair_sums.margin(None),
        }
    }

    /// The name of a channel.
    pub(super) fn name_of(&self, channel: ChannelId) -> &str {
        &self.book.channel(channel).named.name
    }

    /// The parts of a group in a year, in the order of their days.
    pub(super) fn of_group(&self, of: PaysOf, year: i32) -> impl Iterator<Item = &PaysPart<'a>> {
        self.found(self.of_group.get(&(of, year)))
    }

    /// The parts of a year that stand on no product.
    pub(super) fn on_no_product(&self, year: i32) -> impl Iterator<Item = &PaysPart<'a>> {
        self.found(self.on_no_product.get(&year))
    }

    /// The income and costs of a month.
    pub(super) fn of_month(&self, year: i32, month: u32) -> impl Iterator<Item = &PaysPart<'a>> {
        self.found(self.of_month.get(&(year, month)))
    }

    /// The groups that have something in a year.
    pub(super) fn groups(&self, year: i32) -> impl Iterator<Item = PaysOf> {
        self.groups.get(&year).into_iter().flatten().copied()
    }

    /// The years in which something counts.
    pub(super) fn years(&self) -> impl Iterator<Item = i32> {
        self.sums.keys().filter_map(|year| *year)
    }

    /// The sums of a group, or of all; `None` where it has none.
    pub(super) fn margin(&self, of: Option<PaysOf>, year: Option<i32>) -> Option<&Margin> {
        self.sums.get(&year)?.0.margin(of)
    }

    /// The rows as they are printed.
    pub(super) fn rows(&self, year: Option<i32>) -> Option<&PaysRows> {
        self.sums.get(&year).map(|(_, rows)| rows)
    }

    /// The block of fairs of the whole book, as it is printed.
    pub(super) fn fairs(&self) -> &FairRows {
        &self.fairs
    }

    /// What a month brought in, and what it cost.
    pub(super) fn month(&self, year: i32, month: u32) -> (Fixed6, Fixed6) {
        self.sums.get(&None).and_then(|(margins, _)| margins.of_month(year, month)).unwrap_or_default()
    }

    /// Own minutes on nothing, and all that were worked.
    pub(super) fn minutes(&self, year: Option<i32>) -> (Fixed6, Fixed6) {
        self.sums.get(&year).map_or_else(Default::default, |(margins, _)| margins.minutes())
    }

    /// The expenses of a year that count as overhead, with their business parts, and the overhead that was applied in it.
    pub(super) fn overhead(&self, year: i32) -> (&[(&'a Posting, Fixed6)], &[&'a Movement]) {
        self.overhead.get(&year).map_or((&[], &[]), |(actual, applied)| (actual, applied))
    }

    /// The years in which there was overhead.
    pub(super) fn overhead_years(&self) -> BTreeSet<i32> {
        self.overhead.keys().copied().collect()
    }

    fn found(&self, indices: Option<&Vec<u32>>) -> impl Iterator<Item = &PaysPart<'a>> {
        indices.into_iter().flatten().filter_map(|at| self.parts.get(*at as usize))
    }
}
