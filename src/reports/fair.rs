//! Fairs: the days on which the shop stood at a booth, found from what the book says, and which sales and costs are of which.
//!
//! A fair is an event with a date: one day, or days that follow each other, on each of which there were sales by one channel, not of work alone, entered without an order's name and sent to
//! nobody, or hours worked on the channel, miles driven or an expense made; both must be among them, so that the sale of two days may stand on the one and the hours on the
//! other. It is known by its last day. A channel that is a place, or that keeps a share, is none. What
//! stands on the channel itself counts for the fair of its day, and up to three days after it, or else for the next; an expense for a later fair says `meant for`.
//!
//! Where a channel has fairs, a day without a sale more than three days away from any of them is one at which nothing was sold, where hours were worked on the channel and money
//! was spent on it or miles driven. Hours alone, or money alone, are what is done ahead of the next.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};
use rustc_hash::FxHashSet;

use crate::costing::{Account, CostedBook, Flow};
use crate::names::{ChannelId, ChannelShare, ResolvedBook, Target};

/// Days after a fair in which a cost on its channel is still its own, and before it in which work there is setting up.
const CLEARING_UP: u64 = 3;

/// First and last day of something.
type Run = (NaiveDate, NaiveDate);

/// What stands on a channel itself on a day, of what makes that day a fair.
#[derive(Clone, Copy, Debug, Default)]
struct Itself {
    hours: bool,
    money: bool,
}

/// The fairs of a book, by channel: first and last day, in their order.
#[derive(Debug, Default)]
pub(crate) struct Fairs {
    by_channel: BTreeMap<ChannelId, Vec<Run>>,
    /// The last days of those at which nothing was sold.
    unsold: BTreeSet<(ChannelId, NaiveDate)>,
}

impl Fairs {
    /// Finds them in one way through the book.
    pub(crate) fn of(book: &ResolvedBook, costed: &CostedBook) -> Self {
        let sent: FxHashSet<u32> = costed
            .postings
            .iter()
            .filter(|posting| matches!(posting.account, Account::Postage | Account::ShippingCharged))
            .filter_map(|posting| posting.order)
            .collect();
        let of_goods: FxHashSet<u32> = costed
            .movements
            .iter()
            .filter(|movement| movement.flow == Flow::Sold)
            .filter_map(|movement| movement.order)
            .collect();
        // A sale of work alone is one to a customer. One of nothing at all says what came back.
        let of_work: FxHashSet<u32> = costed
            .postings
            .iter()
            .filter(|posting| matches!(posting.account, Account::Income(_)))
            .filter_map(|posting| posting.order.filter(|order| !of_goods.contains(order)))
            .collect();
        let mut sold: BTreeMap<ChannelId, BTreeSet<NaiveDate>> = BTreeMap::new();
        for (at, order) in (0u32..).zip(&costed.orders) {
            let is_at_a_booth = order.order.is_none() && !sent.contains(&at) && !of_work.contains(&at);
            let Some(channel) = order.channel.filter(|_| is_at_a_booth) else { continue };
            let of = book.channel(channel);
            if of.place.is_none() && *of.share.on(order.date) == ChannelShare::None {
                sold.entry(channel).or_default().insert(order.date);
            }
        }
        let mut itself: BTreeMap<ChannelId, BTreeMap<NaiveDate, Itself>> = BTreeMap::new();
        let hours = costed.hours.iter().map(|hour| (hour.on, hour.date, true));
        let miles = costed.miles.iter().map(|drive| (drive.on, drive.date, false));
        let expenses = costed.postings.iter().filter(|posting| matches!(posting.account, Account::Expense(_)));
        for (on, day, is_hours) in hours.chain(miles).chain(expenses.map(|posting| (posting.on, posting.belongs_to(), false))) {
            if let Some(Target::Channel(channel)) = on
                && sold.contains_key(&channel)
            {
                let there = itself.entry(channel).or_default().entry(day).or_default();
                there.hours |= is_hours;
                there.money |= !is_hours;
            }
        }
        let mut found = Self::default();
        for (channel, itself) in itself {
            let Some(sold) = sold.get(&channel) else { continue };
            let days: BTreeSet<NaiveDate> = sold.iter().chain(itself.keys()).copied().collect();
            let mut fairs = runs(days.into_iter());
            fairs.retain(|(first, last)| {
                sold.range(*first..=*last).next().is_some() && itself.range(*first..=*last).next().is_some()
            });
            if fairs.is_empty() {
                continue;
            }
            let is_away = |day: &NaiveDate| fairs.iter().all(|fair| !is_near(*day, *fair));
            let stood = itself.iter().filter(|(_, there)| there.hours && there.money).map(|(day, _)| *day);
            let unsold = runs(stood.filter(is_away));
            found.unsold.extend(unsold.iter().map(|(_, last)| (channel, *last)));
            fairs.extend(unsold);
            fairs.sort_unstable();
            found.by_channel.insert(channel, fairs);
        }
        found
    }

    /// Whether a channel has fairs.
    pub(crate) fn has(&self, channel: ChannelId) -> bool {
        self.by_channel.get(&channel).is_some_and(|fairs| !fairs.is_empty())
    }

    /// The first day of the fair that is known by a last one.
    pub(crate) fn first_day(&self, channel: ChannelId, last: NaiveDate) -> Option<NaiveDate> {
        self.by_channel.get(&channel)?.iter().find(|(_, one)| *one == last).map(|(first, _)| *first)
    }

    /// Those at which nothing was sold: channel and last day.
    pub(crate) fn unsold(&self) -> impl Iterator<Item = (ChannelId, NaiveDate)> + '_ {
        self.unsold.iter().copied()
    }

    /// The last day of the fair at which a sale of a day was made.
    pub(crate) fn of_sale(&self, channel: ChannelId, day: NaiveDate) -> Option<NaiveDate> {
        let fairs = self.by_channel.get(&channel)?;
        let at = fairs.partition_point(|(_, last)| *last < day);
        fairs.get(at).filter(|(first, _)| *first <= day).map(|(_, last)| *last)
    }

    /// The last day of the fair for which something stands on the channel itself; none where no fair has come yet.
    pub(crate) fn of_cost(&self, channel: ChannelId, day: NaiveDate) -> Option<NaiveDate> {
        if let Some(fair) = self.of_sale(channel, day) {
            return Some(fair);
        }
        let fairs = self.by_channel.get(&channel)?;
        let next = fairs.partition_point(|(_, last)| *last < day);
        let before = next.checked_sub(1).and_then(|at| fairs.get(at)).map(|(_, last)| *last);
        let still = before.filter(|last| last.checked_add_days(Days::new(CLEARING_UP)).is_some_and(|until| day <= until));
        still.or_else(|| fairs.get(next).map(|(_, last)| *last))
    }
}

/// Days that follow each other, as their first and last.
fn runs(days: impl Iterator<Item = NaiveDate>) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for day in days {
        match runs.last_mut().filter(|(_, last)| last.succ_opt() == Some(day)) {
            Some((_, last)) => *last = day,
            None => runs.push((day, day)),
        }
    }
    runs
}

/// Whether a day is in a fair, or so near that what is done on it is setting up or clearing up.
fn is_near(day: NaiveDate, (first, last): Run) -> bool {
    let reach = Days::new(CLEARING_UP);
    let begins = first.checked_sub_days(reach).is_none_or(|begin| begin <= day);
    let ends = last.checked_add_days(reach).is_none_or(|end| day <= end);
    begins && ends
}
