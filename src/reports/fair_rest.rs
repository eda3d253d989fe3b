//! The block of fairs: each fair whole, and what stands on their channels beside them, so that it adds up to these channels in the days that are asked about.
//!
//! In: every part of the margins. Out: the margins of the fairs whose last day is covered, and rows for what is of no fair, for a fair to come, and for fairs
//! that the days cut off. What a fair has outside the days is taken off again in a row of its own.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::CostedBook;
use crate::names::{ChannelId, ResolvedBook};
use crate::reports::fair::Fairs;
use crate::reports::margin::Margin;
use crate::reports::pays_part::{PaysOf, PaysPart};
use crate::reports::pays_sums::MONEY_COLUMNS;
use crate::reports::period::{money_text, quantity_text};
use crate::reports::report_pays::{Margins, columns_under, rows_of};
use crate::reports::report_verdicts::read_printed;
use crate::reports::{PaysGroup, PaysRestRow, PaysSums, PaysTotals, Period};
use crate::units::Fixed6;

/// Why something on a channel with fairs stands in none of those that are told, or stands in one of them and outside the days.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FairRest {
    /// It is of no fair.
    NoFair,
    /// It is meant for a day after the last of the book.
    ToCome,
    /// It is of a fair whose last day is not covered.
    OtherFairs,
    /// It is in a fair that is told and outside the days: taken off.
    OutsideDays,
}

impl FairRest {
    /// Those that are there in the whole book, and so have figures with names.
    pub(crate) const NAMED: [Self; 2] = [Self::NoFair, Self::ToCome];

    /// Its key in JSON.
    pub(crate) fn key(self) -> &'static str {
        match self {
            Self::NoFair => "no_fair",
            Self::ToCome => "to_come",
            Self::OtherFairs => "other_fairs",
            Self::OutsideDays => "outside_days",
        }
    }

    /// The head of its row, after the channel's title.
    pub(crate) fn title(self) -> &'static str {
        match self {
            Self::NoFair => "of no fair",
            Self::ToCome => "ahead, for days to come",
            Self::OtherFairs => "in these days, of fairs before or after them",
            Self::OutsideDays => "less what these fairs have outside these days",
        }
    }
}

/// What stands on channels that have fairs, beside these: exact.
#[derive(Debug)]
pub(crate) struct FairSums {
    fairs: Fairs,
    period: Period,
    until: Option<NaiveDate>,
    rests: BTreeMap<(ChannelId, FairRest), Margins>,
    total: Margins,
}

/// The block, as text.
#[derive(Debug)]
pub(crate) struct FairRows {
    pub(crate) fairs: Vec<(PaysOf, PaysGroup)>,
    pub(crate) rest: Vec<PaysRestRow>,
    /// Nothing where there is no row.
    pub(crate) total: Option<PaysTotals>,
}

impl FairSums {
    pub(crate) fn of(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Self {
        let fairs = Fairs::of(book, costed);
        Self { fairs, period, until: costed.until, rests: BTreeMap::new(), total: Margins::default() }
    }

    /// What to say of fairs in these days at which nothing was sold: they are told by what stands on their channel alone.
    pub(crate) fn notes_of_unsold(&self, book: &ResolvedBook) -> Vec<String> {
        let unsold = self.fairs.unsold().filter(|(_, last)| self.period.covers(*last));
        let note = |(channel, last): (ChannelId, NaiveDate)| {
            format!(
                "nothing was sold on `{}` on {last}, where hours were worked on it and money was spent or miles driven: that counts as a fair of its own; an expense for a later fair says `meant for`",
                book.channel(channel).named.name
            )
        };
        unsold.map(note).collect()
    }

    /// The channel with fairs on which a part stands.
    pub(crate) fn channel_of(&self, part: &PaysPart<'_>) -> Option<ChannelId> {
        let channel = part.groups.iter().find_map(|of| if let PaysOf::Channel(channel) = of { Some(*channel) } else { None });
        channel.filter(|channel| self.fairs.has(*channel))
    }

    /// Why a part that stands on such a channel is in none of the fairs that are told, or in one of them and outside the days.
    pub(crate) fn why(&self, part: &PaysPart<'_>) -> Option<FairRest> {
        let is_told = part.groups.iter().find_map(|of| match of {
            PaysOf::Fair(_, last) => Some(self.period.covers(*last)),
            _ => None,
        });
        match (is_told, self.period.covers(part.day)) {
            (Some(true), true) | (Some(false) | None, false) => None,
            (Some(true), false) => Some(FairRest::OutsideDays),
            (Some(false), true) => Some(FairRest::OtherFairs),
            (None, true) if self.until.is_some_and(|last| part.day > last) => Some(FairRest::ToCome),
            (None, true) => Some(FairRest::NoFair),
        }
    }

    /// Adds a part, whatever its day, where it stands on a channel that has fairs. `None` on overflow.
    pub(crate) fn add(&mut self, book: &ResolvedBook, part: &PaysPart<'_>) -> Option<()> {
        let Some(channel) = self.channel_of(part) else { return Some(()) };
        if self.period.covers(part.day) {
            self.total.add(book, part)?;
        }
        let Some(why) = self.why(part) else { return Some(()) };
        self.rests.entry((channel, why)).or_default().add(book, part)
    }

    /// The sums of what stands on a channel beside its fairs; of all these channels together where none is given.
    pub(crate) fn margin(&self, of: Option<(ChannelId, FairRest)>) -> Option<&Margin> {
        match of {
            Some(of) => self.rests.get(&of)?.margin(None),
            None => self.total.margin(None),
        }
    }

    /// The rows. `fairs` are those that are told, with their sums, whatever days these are of; each column is rounded so that it adds up to what the channels of
    /// these fairs print among `groups`. `None` on overflow.
    pub(crate) fn rows(
        &self,
        book: &ResolvedBook,
        fairs: Vec<(PaysOf, PaysGroup, &Margin)>,
        groups: &[(PaysOf, PaysGroup)],
    ) -> Option<FairRows> {
        let mut rows = rows_of(&fairs.iter().map(|(_, _, margin)| *margin).collect::<Vec<_>>())?;
        let mut of_rests = Vec::new();
        for ((channel, rest), margins) in &self.rests {
            let margin = margins.margin(None)?;
            let mut row = rows_of(&[margin])?.into_iter().next()?;
            let mut units = margin.units;
            if *rest == FairRest::OutsideDays {
                row = row.negated()?;
                units = Decimal::ZERO.checked_sub(units)?;
            }
            rows.push(row);
            of_rests.push((*channel, *rest, units));
        }
        if rows.is_empty() {
            return Some(FairRows { fairs: Vec::new(), rest: Vec::new(), total: None });
        }
        let printed = self.printed(groups)?;
        let mut written = columns_under(book, &rows, Some(printed))?.into_iter();
        let mut told = Vec::with_capacity(fairs.len());
        for ((of, group, _), row) in fairs.into_iter().zip(written.by_ref()) {
            let title = match of {
                PaysOf::Fair(channel, last) => self.title(channel, last, group.title),
                _ => group.title,
            };
            told.push((of, PaysGroup { title, sums: row.sums, ..group }));
        }
        let mut rest = Vec::with_capacity(of_rests.len());
        for ((channel, why, units), row) in of_rests.into_iter().zip(written) {
            let named = &book.channel(channel).named;
            rest.push(PaysRestRow {
                by: "fair".to_owned(),
                name: Some(named.name.clone()),
                why: why.key().to_owned(),
                title: format!("{}, {}", named.title, why.title()),
                units: quantity_text(units),
                sums: row.sums,
            });
        }
        let exact = self.total.rows(book)?.totals;
        let sums = PaysSums::new(printed.map(|sum| money_text(book, sum)), exact.sums.own_minutes);
        Some(FairRows { fairs: told, rest, total: Some(PaysTotals { sums, ..exact }) })
    }

    /// The sums of the channels that have fairs, as their rows print them. `None` on overflow.
    fn printed(&self, groups: &[(PaysOf, PaysGroup)]) -> Option<[Fixed6; MONEY_COLUMNS]> {
        let mut printed = [Fixed6::ZERO; MONEY_COLUMNS];
        for (of, row) in groups {
            if matches!(of, PaysOf::Channel(channel) if self.fairs.has(*channel)) {
                for (sum, text) in printed.iter_mut().zip(row.sums.money()) {
                    *sum = sum.checked_add(read_printed(text)?)?;
                }
            }
        }
        Some(printed)
    }

    /// A fair that began before the days says when.
    fn title(&self, channel: ChannelId, last: NaiveDate, title: String) -> String {
        match self.fairs.first_day(channel, last).zip(self.period.from) {
            Some((first, from)) if first < from => format!("{title}, from {first} on"),
            _ => title,
        }
    }
}
