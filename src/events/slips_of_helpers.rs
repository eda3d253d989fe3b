//! A look over what helpers were paid: an expense of just the sum that their time in a batch or in `worked` costs already.
//!
//! In: all events in their order. Out: a warning for each such payment. Must not: move a figure.

use chrono::NaiveDate;
use rustc_hash::FxHashMap;

use crate::diagnostics::Diagnostics;
use crate::events::hired_time::{HiredTime, hired_times, nearest_time};
use crate::events::slips_of_bills::has_note;
use crate::events::{Event, EventKind, PaidFor, errors};
use crate::names::{LabelId, ResolvedBook};
use crate::sources::SourceSet;

/// How far a payment lies from the time that it is for. Helpers are paid by the day, week or month: common practice, no source.
const PAID_WITHIN_DAYS: i64 = 31;

/// Whether something was paid to a helper by name until a day, and for no expense.
fn pays_by_name(events: &[Event], name: LabelId, until: NaiveDate) -> bool {
    events.iter().filter(|event| event.date <= until).any(|event| match &event.kind {
        EventKind::Paid(paid) => paid.to == name && paid.lines.iter().any(|line| !matches!(line.what, PaidFor::Expense { .. })),
        _ => false,
    })
}

/// Looks over all payments.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let times = hired_times(events);
    if times.is_empty() {
        return;
    }
    let by_title: FxHashMap<&str, LabelId> = times
        .iter()
        .filter_map(|(name, times)| Some((book.helper(times.first()?.helper?).named.title.as_str(), *name)))
        .collect();
    for event in events {
        let EventKind::Paid(paid) = &event.kind else { continue };
        let name = if times.contains_key(&paid.to) { Some(&paid.to) } else { by_title.get(book.label(paid.to)) };
        let Some((name, times)) = name.and_then(|name| Some((*name, times.get(name)?))) else { continue };
        if has_note(sources, event.span) {
            continue;
        }
        for line in &paid.lines {
            // What a remark says it was for is no time, and time that is owed until paid is settled by the helper's name.
            let is_expense = matches!(line.what, PaidFor::Expense { .. }) && !sources.text(line.span).contains('"');
            let time = nearest_time(times, line.money, event.date).filter(|time| time.pay == line.money && is_expense);
            let near = |time: &&HiredTime| (time.date - event.date).num_days().abs() <= PAID_WITHIN_DAYS;
            let settled = |time: &&HiredTime| time.paid_later && pays_by_name(events, name, event.date);
            let Some(time) = time.filter(near).filter(|time| !settled(time)) else { continue };
            let money = line.money.to_fixed_text(book.shop.currency.digits(), 6);
            found.push(errors::meanings::helper_paid_twice(line.span, time, book.label(name), &money));
        }
    }
}
