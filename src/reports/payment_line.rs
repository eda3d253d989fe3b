//! The line of the book by which money for a sale came on a day.

use chrono::NaiveDate;

use crate::events::{EventKind, EventLog, ReceivedFor};
use crate::names::LabelId;
use crate::sources::Span;

/// The line by which money came or went back for an order on a day; nothing where no entry of that day says it, as where a sale was paid at once.
pub(crate) fn payment_line(log: &EventLog, order: Option<LabelId>, day: NaiveDate) -> Option<Span> {
    let from = log.events.partition_point(|event| event.date < day);
    let mut of_day = log.events.iter().skip(from).take_while(|event| event.date == day);
    of_day.find_map(|event| match &event.kind {
        EventKind::Received(received) => received.lines.iter().find_map(|line| match &line.what {
            ReceivedFor::Orders(orders) => orders.iter().any(|(label, _)| Some(*label) == order).then_some(line.span),
            ReceivedFor::SoldOn(_) => order.is_none().then_some(line.span),
            ReceivedFor::Income(_) => None,
        }),
        EventKind::Returned(returned) => (returned.order == order).then_some(event.head),
        _ => None,
    })
}
