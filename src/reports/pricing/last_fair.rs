//! What standing at a fair cost the last time: so that a price can say how many pieces meet the next, without being told.
//!
//! It is what stands on the channel itself and counts for its last fair in the days covered (`reports/fair.rs`): booth and other expenses, goods used up
//! there, hired hours, miles at the form's rate, and the owner's hours. The last one alone is taken, since a fair costs what it costs; the mean of several would be of
//! none of them.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::CostedBook;
use crate::names::{ChannelId, ResolvedBook};
use crate::reports::Period;
use crate::reports::fair::Fairs;
use crate::reports::pays_part::{MileRate, PaysOf, PaysWhat, each_part};
use crate::reports::period::said_money;
use crate::units::Fixed6;
use crate::year::Books;

/// What the last fair of a channel cost beside what was sold there.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct LastFair {
    first: NaiveDate,
    pub(crate) last: NaiveDate,
    /// Booth, other expenses and hired hours.
    spent: Fixed6,
    /// Miles at the form's rate of their day.
    driven: Fixed6,
    /// The owner's.
    pub(crate) minutes: Fixed6,
}

impl LastFair {
    /// All money. `None` on overflow.
    pub(crate) fn money(&self) -> Option<Fixed6> {
        self.spent.checked_add(self.driven)
    }

    /// Which it was: `the fair of 2026-06-14`.
    pub(crate) fn named(&self) -> String {
        match self.first == self.last {
            true => format!("the fair of {}", self.last),
            false => format!("the fair from {} to {}", self.first, self.last),
        }
    }

    /// What its money was for: `$85.00 for booth and other expenses and $20.00 for driving`.
    pub(crate) fn money_in_words(&self, book: &ResolvedBook) -> String {
        let mut words = Vec::new();
        for (money, what) in [(self.spent, "for booth and other expenses"), (self.driven, "for driving")] {
            if !money.is_zero() {
                words.push(format!("{} {what}", said_money(book, money)));
            }
        }
        if words.is_empty() { "no money".to_owned() } else { words.join(" and ") }
    }
}

/// The last fair of each channel that has some, whose last day a period covers; none of what took neither money nor hours. `None` on overflow.
pub(super) fn last_fairs(
    book: &ResolvedBook,
    costed: &CostedBook,
    period: Period,
    mile_rate: MileRate<'_>,
) -> Option<BTreeMap<ChannelId, LastFair>> {
    let dates = Fairs::of(book, costed);
    let mut fairs: BTreeMap<ChannelId, LastFair> = BTreeMap::new();
    each_part(book, costed, Period::default(), mile_rate, &mut |part| {
        let fair =
            part.groups.iter().find_map(|of| if let PaysOf::Fair(channel, last) = of { Some((*channel, *last)) } else { None });
        let Some((channel, last)) = fair.filter(|(_, last)| period.covers(*last)) else { return Some(()) };
        let one = fairs.entry(channel).or_default();
        if last > one.last {
            *one = LastFair { first: dates.first_day(channel, last).unwrap_or(last), last, ..LastFair::default() };
        }
        if last < one.last {
            return Some(());
        }
        let sum = match part.what {
            PaysWhat::Expense(_, money) | PaysWhat::UsedInShop(_, money) => (&mut one.spent, money),
            PaysWhat::Drive(_, money) => (&mut one.driven, money),
            PaysWhat::Hours(hour) => (&mut one.minutes, hour.minutes),
            PaysWhat::Posting(_) | PaysWhat::Sold(_) | PaysWhat::Worked(_) => return Some(()),
        };
        *sum.0 = sum.0.checked_add(sum.1)?;
        Some(())
    })?;
    fairs.retain(|_, one| !(one.spent.is_zero() && one.driven.is_zero() && one.minutes.is_zero()));
    Some(fairs)
}

/// The channels that had a fair, a drive counted as one for which the form has a rate; none where a sum is too large to be carried.
pub(crate) fn channels_with_fairs(books: Books<'_>) -> BTreeSet<ChannelId> {
    let fairs = last_fairs(books.book, books.costed, Period::default(), &|_| Some(Decimal::ONE));
    fairs.unwrap_or_default().into_keys().collect()
}
