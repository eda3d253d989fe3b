//! What helpers' time of a batch that is done would cost on the plan's day, and whether it is owed until paid.
//!
//! What was paid by a helper's rate is paid by the rate of the plan's day; what an entry says itself (`by jamie for 45.00`) stays what it was.

use super::explode::Ground;
use crate::costing::TimeItem;
use crate::events::{EventKind, TimeLine, Worker};
use crate::names::HelperId;
use crate::units::{Fixed6, mul_div_round};

/// Minutes of an hour, in the millionths of both.
const HOUR: i128 = 60_000_000;

/// The line that says some time.
fn line_of<'a>(ground: Ground<'a>, item: &TimeItem) -> Option<&'a TimeLine> {
    let event = usize::try_from(item.event).ok().and_then(|at| ground.log.events.get(at))?;
    let lines = match &event.kind {
        EventKind::Batch(work) => work.took.as_slice(),
        EventKind::Worked(lines) => lines.as_slice(),
        _ => &[],
    };
    lines.iter().find(|line| line.span == item.line)
}

/// Whether the helper who worked some time is paid later, by the rule on the plan's day.
pub(super) fn is_paid_later(ground: Ground<'_>, item: &TimeItem) -> bool {
    match line_of(ground, item).map(|line| line.worker) {
        Some(Worker::Hired { helper: Some(helper), .. }) => *ground.book.helper(helper).paid_later.on(ground.day),
        Some(Worker::Hired { paid_later, .. }) => paid_later,
        _ => false,
    }
}

/// What some hired time costs by the rate of the plan's day, rounded half away from zero to six digits; what it cost where no rate said so. `None` where a
/// figure is too large to be carried.
pub(crate) fn cost_on_day(ground: Ground<'_>, item: &TimeItem) -> Option<Fixed6> {
    match other_rate(ground, item) {
        Some((_, then, now)) => mul_div_round(item.cost.micros(), now.micros(), then.micros()).map(Fixed6::from_micros),
        None => Some(item.cost),
    }
}

/// The helper who worked some time by a rate that is another on the plan's day.
pub(super) fn paid_otherwise(ground: Ground<'_>, item: &TimeItem) -> Option<HelperId> {
    other_rate(ground, item).map(|(helper, _, _)| helper)
}

/// The same, with the rate of then and that of the plan's day.
fn other_rate(ground: Ground<'_>, item: &TimeItem) -> Option<(HelperId, Fixed6, Fixed6)> {
    let line = line_of(ground, item)?;
    let Worker::Hired { helper: Some(helper), pay, .. } = line.worker else { return None };
    let rates = &ground.book.helper(helper).costs;
    let then = rates.on(item.date).and_then(Fixed6::from_decimal_exact)?;
    let now = rates.on(ground.day).and_then(Fixed6::from_decimal_exact)?;
    let by_rate = mul_div_round(then.micros(), line.minutes.micros(), HOUR).map(Fixed6::from_micros)?;
    let is_by_rate = by_rate.round_to(ground.book.shop.currency.digits()) == pay;
    (then != now && is_by_rate && then.is_positive()).then_some((helper, then, now))
}
