//! The order in which the events of a book count: by day, then as a day runs in the shop, then by the entry's own text.
//!
//! What was there, what comes in, batches and work, what goes out, the count, the rest (`grammar/README.md`, "The order of a day"). An entry that
//! names an earlier one of its day comes after it. The files of a book, and the order in them, mean nothing.

use chrono::NaiveDate;
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::events::batch_order::order_by_need;
use crate::events::entry_text::entry_text;
use crate::events::{Event, EventKind, LeftHow, OpenedHow, ReceivedFor};
use crate::names::{ChannelId, LabelId, PlaceId, ResolvedBook};
use crate::sources::SourceSet;

/// Where in a day an event stands. The order is that of the variants.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Hour {
    Opened,
    /// Sent back for a credit that a purchase of that day uses.
    SentBackForCredit,
    Bought,
    Credited,
    Contributed,
    Found,
    BroughtBack,
    Returned,
    /// Batches and work, which have an order of their own.
    Bench,
    /// Goods sent, by how many places they came through that day.
    Sent(u32),
    SentBack,
    Sold,
    /// Brought back from where something was sent that day.
    BroughtBackFromSent,
    /// Returned of an order of that day, or through a channel through which nothing was sold before.
    ReturnedOfOrder,
    TookHome,
    Gave,
    Scrapped,
    UsedUp,
    Counted,
    Rest,
    /// A deposit of that day that is handed back.
    HandedBack,
}

/// Puts the events of a book in order.
pub(crate) fn order_events(events: Vec<Event>, sources: &SourceSet, book: &ResolvedBook) -> Vec<Event> {
    let mut events = events;
    // A stable sort by day first: what follows looks at one day at a time.
    events.sort_by_key(|event| event.date);
    let mut first_sales = FirstSales::default();
    for event in &events {
        if let EventKind::Sold(sold) = &event.kind {
            if let Some(order) = sold.order {
                first_sales.of_order.entry(order).or_insert(event.date);
            }
            if let Some(channel) = sold.channel {
                first_sales.via.entry(channel).or_insert(event.date);
            }
        }
    }
    let mut days: Vec<Vec<Event>> = Vec::new();
    for event in events {
        match days.last_mut() {
            Some(day) if day.first().is_some_and(|first| first.date == event.date) => day.push(event),
            _ => days.push(vec![event]),
        }
    }
    // A day asks nothing of another.
    days.into_par_iter().map(|day| order_day(day, &first_sales, sources, book)).flatten_iter().collect()
}

fn order_day(day: Vec<Event>, first_sales: &FirstSales, sources: &SourceSet, book: &ResolvedBook) -> Vec<Event> {
    if day.len() < 2 {
        return day;
    }
    let mut ordered = Vec::with_capacity(day.len());
    let marks = DayMarks::of(&day, first_sales);
    let mut timed: Vec<(Hour, Option<String>, Event)> = day.into_iter().map(|event| (marks.hour(&event), None, event)).collect();
    timed.sort_by_key(|(hour, ..)| *hour);
    let mut rest = timed.as_mut_slice();
    while let Some(hour) = rest.first().map(|(hour, ..)| *hour) {
        let same = rest.partition_point(|(other, ..)| *other == hour);
        let (run, after) = rest.split_at_mut(same);
        if run.len() > 1 {
            for (_, text, event) in run.iter_mut() {
                *text = Some(entry_text(sources, event.span));
            }
            // Two entries of the same text do the same, so their order changes no figure.
            run.sort_by(|(_, a, _), (_, b, _)| a.cmp(b));
        }
        rest = after;
    }
    let mut bench: Vec<Event> = Vec::new();
    for (hour, _, event) in timed {
        if hour == Hour::Bench {
            bench.push(event);
            continue;
        }
        if !bench.is_empty() {
            order_by_need(std::mem::take(&mut bench), book, &mut ordered);
        }
        ordered.push(event);
    }
    order_by_need(bench, book, &mut ordered);
    ordered
}

/// The days on which each order, and anything through each channel, was first sold.
#[derive(Default)]
struct FirstSales {
    of_order: FxHashMap<LabelId, NaiveDate>,
    via: FxHashMap<ChannelId, NaiveDate>,
}

/// What the events of a day say of each other.
struct DayMarks {
    /// Places to which something was sent that day, and after how many moves.
    sent_to: FxHashMap<PlaceId, u32>,
    /// Orders sold that day.
    orders: FxHashSet<LabelId>,
    /// Channels through which something was sold that day for the first time.
    begun: FxHashSet<ChannelId>,
    /// Suppliers whose credit a purchase of that day uses.
    credits_used: FxHashSet<LabelId>,
    /// Bills of that day: from whom, and their receipts.
    bills: FxHashSet<(Option<LabelId>, Option<LabelId>)>,
    /// Orders for which a deposit came that day.
    deposits: FxHashSet<LabelId>,
}

impl DayMarks {
    fn of(day: &[Event], first_sales: &FirstSales) -> Self {
        let mut moves: Vec<(PlaceId, PlaceId)> = Vec::new();
        let mut orders = FxHashSet::default();
        let mut begun = FxHashSet::default();
        let mut credits_used = FxHashSet::default();
        let mut bills = FxHashSet::default();
        let mut deposits = FxHashSet::default();
        for event in day {
            match &event.kind {
                EventKind::Moved(moved) if event.verb == crate::syntax::Verb::Sent => moves.push((moved.from, moved.to)),
                EventKind::Sold(sold) => {
                    orders.extend(sold.order);
                    let is_first = |channel: &ChannelId| first_sales.via.get(channel) == Some(&event.date);
                    begun.extend(sold.channel.filter(is_first));
                }
                EventKind::Received(received) => {
                    for line in &received.lines {
                        if let ReceivedFor::Orders(of) = &line.what {
                            let unsold = |order: &&LabelId| first_sales.of_order.get(order).is_none_or(|sold| *sold > event.date);
                            deposits.extend(of.iter().map(|(order, _)| order).filter(unsold).copied());
                        }
                    }
                }
                EventKind::Bought(bought) => {
                    bills.insert((bought.supplier, bought.receipt));
                    if bought.credit.is_positive() {
                        credits_used.extend(bought.supplier);
                    }
                }
                _ => {}
            }
        }
        Self { sent_to: moves_before(moves), orders, begun, credits_used, bills, deposits }
    }

    fn hour(&self, event: &Event) -> Hour {
        match &event.kind {
            EventKind::Opened(opened) => match opened.how {
                OpenedHow::Opened => Hour::Opened,
                OpenedHow::Contributed => Hour::Contributed,
                OpenedHow::Found => Hour::Found,
            },
            EventKind::Bought(_) => Hour::Bought,
            EventKind::Credited(_) => Hour::Credited,
            EventKind::Moved(moved) if event.verb == crate::syntax::Verb::Sent => {
                Hour::Sent(self.sent_to.get(&moved.from).copied().unwrap_or(0))
            }
            EventKind::Moved(moved) if self.sent_to.contains_key(&moved.from) => Hour::BroughtBackFromSent,
            EventKind::Moved(_) => Hour::BroughtBack,
            EventKind::Returned(returned) => match returned.order {
                Some(order) if self.orders.contains(&order) => Hour::ReturnedOfOrder,
                Some(order) if self.deposits.contains(&order) => Hour::HandedBack,
                None if returned.channel.is_some_and(|channel| self.begun.contains(&channel)) => Hour::ReturnedOfOrder,
                _ => Hour::Returned,
            },
            EventKind::Batch(_) | EventKind::Worked(_) => Hour::Bench,
            EventKind::SentBack(back)
                if self.credits_used.contains(&back.supplier)
                    && back.lines.iter().any(|line| line.as_credit)
                    // What goes back of a bill of that day comes after it.
                    && (back.receipt.is_none() || !self.bills.contains(&(Some(back.supplier), back.receipt))) =>
            {
                Hour::SentBackForCredit
            }
            EventKind::SentBack(_) => Hour::SentBack,
            EventKind::Sold(_) => Hour::Sold,
            EventKind::Left(left) => match left.how {
                LeftHow::TookHome => Hour::TookHome,
                LeftHow::Gave(_) => Hour::Gave,
                LeftHow::Scrapped => Hour::Scrapped,
                LeftHow::UsedUp => Hour::UsedUp,
            },
            EventKind::GaveUp(_) => Hour::Scrapped,
            EventKind::Counted(_) => Hour::Counted,
            EventKind::Paid(_)
            | EventKind::Received(_)
            | EventKind::Drove { .. }
            | EventKind::Odometer(_)
            | EventKind::Retired { .. }
            | EventKind::Statement { .. }
            | EventKind::Noted
            | EventKind::Answered { .. }
            | EventKind::Closed { .. } => Hour::Rest,
        }
    }
}

/// How often goods can be sent on in one day and still be put in order.
const MOST_MOVES: usize = 16;

/// For each place to which something was sent: the most moves that lead to it that day, so that what is sent on comes after it came.
/// Places that send to each other in a ring are put in no order.
fn moves_before(mut moves: Vec<(PlaceId, PlaceId)>) -> FxHashMap<PlaceId, u32> {
    moves.sort_unstable();
    moves.dedup();
    let mut steps: FxHashMap<PlaceId, u32> = moves.iter().map(|(_, to)| (*to, 1)).collect();
    for _ in 0..MOST_MOVES {
        let mut changed = false;
        for (from, to) in &moves {
            let before = steps.get(from).copied().unwrap_or(0);
            if let Some(step) = steps.get_mut(to).filter(|step| **step <= before) {
                *step = before + 1;
                changed = true;
            }
        }
        if !changed {
            return steps;
        }
    }
    steps.values_mut().for_each(|step| *step = 1);
    steps
}
