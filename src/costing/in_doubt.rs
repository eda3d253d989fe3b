//! Events about something that was read only in part, or could not be costed: they are costed as far as they go, and what may follow from
//! the mistake that was told before is not told again.

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::events::{Event, EventKind, ReceivedFor};

impl<'b> Engine<'b> {
    /// Whether what is found in an event may follow from what was told before.
    pub(crate) fn may_follow(&self, event: &Event) -> bool {
        self.log.is_in_doubt(event) || self.asks_of_uncosted(event)
    }

    /// Costs an event about something that was read only in part: what may follow from that stays untold.
    pub(crate) fn cost_in_doubt(&mut self, event: &'b Event) {
        let outside = std::mem::take(self.found);
        let done = self.cost_event(event);
        self.tell(done, event);
        let within = std::mem::replace(self.found, outside);
        for told in within.as_slice().iter().filter(|told| !errors::may_follow_from_doubt(told.code)) {
            self.found.push(told.clone());
        }
    }

    /// Whether an event settles or brings back an order whose sale could not be costed, which has been told.
    fn asks_of_uncosted(&self, event: &Event) -> bool {
        !self.uncosted.is_empty()
            && match &event.kind {
                EventKind::Received(received) => received.lines.iter().any(|line| match &line.what {
                    ReceivedFor::Orders(orders) => orders.iter().any(|(order, _)| self.uncosted.contains(order)),
                    ReceivedFor::SoldOn(_) | ReceivedFor::Income(_) => false,
                }),
                EventKind::Returned(returned) => returned.order.is_some_and(|order| self.uncosted.contains(&order)),
                _ => false,
            }
    }
}
