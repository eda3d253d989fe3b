//! Income without goods beside the margins: how much came by each channel, and what selling it cost.
//!
//! Costing rules 13 and 14: it is in no margin, and its share of an order's fees stands with the expenses not in a margin. It is told in
//! the notes of the report of what pays, so that nobody looks for it in vain.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::costing::{Account, CostedBook, Posting};
use crate::events::EventLog;
use crate::names::{ChannelId, ResolvedBook};
use crate::reports::margin::Margin;
use crate::reports::pays_part::PaysOf;
use crate::reports::period::said_money;
use crate::reports::{PaysVerdict, Period};
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

/// Says at the verdict of a channel, or of a fair on its last day, what income without goods came there: it stands in no margin, so a day of classes would seem to have brought
/// nothing. `of` are the verdicts' groups in their order. `None` on overflow.
pub(crate) fn tell_at_verdicts(
    book: &ResolvedBook,
    costed: &CostedBook,
    period: Period,
    of: impl Iterator<Item = PaysOf>,
    verdicts: &mut [PaysVerdict],
) -> Option<()> {
    let mut by_day: BTreeMap<(ChannelId, NaiveDate), Fixed6> = BTreeMap::new();
    for posting in &costed.postings {
        if let (Account::Income(_), Some(channel)) = (posting.account, posting.channel) {
            let sum = by_day.entry((channel, posting.date)).or_default();
            *sum = sum.checked_add(posting.money)?;
        }
    }
    for (of, verdict) in of.zip(verdicts) {
        let came = by_day.iter().filter(|((channel, day), _)| match of {
            PaysOf::Channel(one) => one == *channel && period.covers(*day),
            PaysOf::Fair(one, last) => one == *channel && last == *day,
            PaysOf::Line(_) | PaysOf::Product(_) => false,
        });
        let sum = Fixed6::checked_sum(came.map(|(_, sum)| *sum))?;
        if sum.is_positive() {
            let says =
                format!("; {} of income without goods came by it besides, which stands in no margin", said_money(book, sum));
            verdict.says.push_str(&says);
        }
    }
    Some(())
}

/// Whether a posting only moves the fee of a deposit from the order to its lines: it stands at the sale's head.
fn moves_a_deposit_s_fee(log: &EventLog, posting: &Posting) -> bool {
    posting.account == Account::Fee && log.events.get(posting.event as usize).is_some_and(|event| event.head == posting.line)
}
