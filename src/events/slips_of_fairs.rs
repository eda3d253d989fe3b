//! A look over what a fair costs: booths and drives that are put to no channel, so that the fair seems to earn more than it does.
//!
//! In: all events in their order. Out: a warning for the first booth of an expense and one for the first drive. Must not: move a figure.

use chrono::NaiveDate;
use rustc_hash::FxHashSet;

use crate::diagnostics::Diagnostics;
use crate::events::slips_of_remarks::says_one_of;
use crate::events::{BoughtWhat, Event, EventKind, PaidFor, errors};
use crate::names::{ChannelId, CountsAs, ExpenseId, ResolvedBook};
use crate::sources::{SourceSet, Span};

/// What the table of a fair is called.
const BOOTH: [&str; 8] = ["booth", "table", "stall", "pitch", "stand", "booths", "tables", "stalls"];
/// What one drives to and sells at.
const FAIR: [&str; 6] = ["fair", "fairs", "market", "markets", "show", "festival"];

/// Looks over all events in their order.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    // Without a channel by which something was sold there is nothing to put a cost to.
    let sales: FxHashSet<(NaiveDate, ChannelId)> =
        events.iter().filter_map(|event| Some((event.date, sold_via(event)?))).collect();
    if sales.is_empty() {
        return;
    }
    let of_the_day = |day: NaiveDate| {
        let mut sold = sales.iter().filter(|(sold, channel)| *sold == day && book.channel(*channel).place.is_none());
        sold.next().filter(|_| sold.next().is_none()).map(|(_, channel)| book.channel(*channel).named.name.as_str())
    };
    let mut booths: FxHashSet<ExpenseId> = FxHashSet::default();
    let mut driven = false;
    let mut booth = |expense: ExpenseId, date: NaiveDate, line: Span, found: &mut Diagnostics| {
        let of = book.expense(expense);
        let unassigned = *of.counts_as.on(date) == CountsAs::Unassigned;
        let is_booth = says_one_of(&of.named.name, &BOOTH) || says_one_of(&of.named.title, &BOOTH);
        if unassigned && is_booth && booths.insert(expense) {
            found.push(errors::meanings::booth_on_no_channel(line, &of.named.name, of_the_day(date)));
        }
    };
    for event in events {
        match &event.kind {
            EventKind::Paid(paid) => {
                // A channel that was paid is told of by itself.
                let to_channel = book.channels.iter().any(|channel| channel.named.name == book.label(paid.to));
                for line in paid.lines.iter().filter(|_| !to_channel) {
                    if let PaidFor::Expense { expense, on: None, .. } = line.what {
                        booth(expense, event.date, line.span, found);
                    }
                }
            }
            EventKind::Bought(bought) => {
                for line in &bought.lines {
                    if let BoughtWhat::Expense { expense, on: None, .. } = line.what {
                        booth(expense, event.date, line.span, found);
                    }
                }
            }
            EventKind::Drove { on: None, memo, .. } if !driven && is_to_a_fair(sources.text(*memo)) => {
                driven = true;
                found.push(errors::meanings::drive_on_no_channel(event.head, of_the_day(event.date)));
            }
            _ => {}
        }
    }
}

/// Whether a drive was to a fair to sell there: the fair's word stands last in where it went, and nothing was bought or fetched.
fn is_to_a_fair(memo: &str) -> bool {
    let words: Vec<String> =
        memo.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_lowercase).collect();
    let other = ["buy", "bought", "pick", "pickup", "fetch", "supplies", "get", "look", "visit", "post", "bank"];
    let at = words.iter().position(|word| FAIR.contains(&word.as_str()));
    let ends = |at: usize| {
        words.get(at + 1).is_none_or(|next| ["and", "there", "home", "back", "both", "round", "each"].contains(&next.as_str()))
    };
    at.is_some_and(ends) && !words.iter().any(|word| other.contains(&word.as_str()))
}

fn sold_via(event: &Event) -> Option<ChannelId> {
    match &event.kind {
        EventKind::Sold(sold) => sold.channel,
        _ => None,
    }
}
