//! Income without goods beside the margins: how much came by each channel, and what selling it cost.
//!
//! Costing rules 13 and 14: it is in no margin, and its share of an order's fees stands with the expenses not in a margin. It is told in
//! the notes of the report of what pays, so that nobody looks for it in vain.

use std::collections::BTreeMap;

use crate::costing::{Account, CostedBook, Posting};
use crate::events::EventLog;
use crate::names::{ChannelId, ResolvedBook};
use crate::reports::Period;
use crate::reports::margin::Margin;
use crate::reports::period::said_money;
use crate::units::Fixed6;

/// A note for each channel by which such income came in a period, those without a channel first. `None` on overflow.
pub(crate) fn other_income(book: &ResolvedBook, log: &EventLog, costed: &CostedBook, period: Period) -> Option<Vec<String>> {
    let mut by_channel: BTreeMap<Option<ChannelId>, (Fixed6, Margin)> = BTreeMap::new();
    for posting in costed.postings.iter().filter(|posting| period.covers(posting.date)) {
        if let Account::Income(_) = posting.account {
            let (income, _) = by_channel.entry(posting.channel).or_default();
            *income = income.checked_add(posting.money)?;
        } else if posting.thing.is_none() && posting.order.is_some() && !moves_a_deposit_s_fee(log, posting) {
            by_channel.entry(posting.channel).or_default().1.post(posting)?;
        }
    }
    let mut notes = Vec::new();
    for (channel, (income, beside)) in by_channel {
        // What was charged for shipping it, less what was given back.
        let income = income.checked_add(beside.revenue)?;
        let sent = beside.postage.checked_add(beside.packing)?;
        if [income, beside.fees, sent].iter().all(|sum| sum.is_zero()) {
            continue;
        }
        let by = channel.map_or_else(String::new, |channel| format!(" by {}", book.channel(channel).named.title));
        let costs = [(beside.fees, "fees"), (sent, "postage and packing")].into_iter().filter(|(sum, _)| !sum.is_zero());
        let costs: Vec<String> = costs.map(|(sum, what)| format!("{} of {what}", said_money(book, sum))).collect();
        let costs = if costs.is_empty() { String::new() } else { format!(", with {} on it", costs.join(" and ")) };
        notes.push(format!("{} of income without goods came{by}{costs}; it stands in no margin", said_money(book, income)));
    }
    Some(notes)
}

/// Whether a posting only moves the fee of a deposit from the order to its lines: it stands at the sale's head.
fn moves_a_deposit_s_fee(log: &EventLog, posting: &Posting) -> bool {
    posting.account == Account::Fee && log.events.get(posting.event as usize).is_some_and(|event| event.head == posting.line)
}
