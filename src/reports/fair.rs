//! Fairs: the days on which the shop stood at a booth, found from what the book says, and which sales and costs are of which.
//!
//! A fair is an event with a date: sales by one channel, entered without an order's name and sent to nobody, on one day or on days that follow each other, at a
//! channel on which hours were worked, miles driven or an expense made on such a day. It is known by its last day. A channel that is a place, or that keeps a share, is
//! none. What stands on the channel itself counts for the fair of its day, and up to three days after it, or else for the next; an expense for
//! a later fair says `meant for`.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};
use rustc_hash::FxHashSet;

use crate::costing::{Account, CostedBook};
use crate::names::{ChannelId, ChannelShare, ResolvedBook, Target};

/// Days after a fair in which a cost on its channel is still its own.
const CLEARING_UP: u64 = 3;

/// The fairs of a book, by channel: first and last day, in their order.
#[derive(Debug, Default)]
pub(crate) struct Fairs {
    by_channel: BTreeMap<ChannelId, Vec<(NaiveDate, NaiveDate)>>,
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
        let mut sold: BTreeMap<ChannelId, BTreeSet<NaiveDate>> = BTreeMap::new();
        for (at, order) in (0u32..).zip(&costed.orders) {
            let Some(channel) = order.channel.filter(|_| order.order.is_none() && !sent.contains(&at)) else { continue };
            let of = book.channel(channel);
            if of.place.is_none() && *of.share.on(order.date) == ChannelShare::None {
                sold.entry(channel).or_default().insert(order.date);
            }
        }
        let mut stood: BTreeSet<ChannelId> = BTreeSet::new();
        let on = costed.hours.iter().map(|hour| (hour.on, hour.date));
        let on = on.chain(costed.miles.iter().map(|drive| (drive.on, drive.date)));
        let expenses = costed.postings.iter().filter(|posting| matches!(posting.account, Account::Expense(_)));
        for (on, day) in on.chain(expenses.map(|posting| (posting.on, posting.belongs_to()))) {
            if let Some(Target::Channel(channel)) = on
                && sold.get(&channel).is_some_and(|days| days.contains(&day))
            {
                stood.insert(channel);
            }
        }
        let mut by_channel: BTreeMap<ChannelId, Vec<(NaiveDate, NaiveDate)>> = BTreeMap::new();
        for (channel, days) in sold.into_iter().filter(|(channel, _)| stood.contains(channel)) {
            let fairs = by_channel.entry(channel).or_default();
            for day in days {
                match fairs.last_mut().filter(|(_, last)| last.succ_opt() == Some(day)) {
                    Some((_, last)) => *last = day,
                    None => fairs.push((day, day)),
                }
            }
        }
        Self { by_channel }
    }

    /// Whether a channel has fairs.
    pub(crate) fn has(&self, channel: ChannelId) -> bool {
        self.by_channel.get(&channel).is_some_and(|fairs| !fairs.is_empty())
    }

    /// The first day of the fair that is known by a last one.
    pub(crate) fn first_day(&self, channel: ChannelId, last: NaiveDate) -> Option<NaiveDate> {
        self.by_channel.get(&channel)?.iter().find(|(_, one)| *one == last).map(|(first, _)| *first)
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
