//! An order's lines, with their goods lot by lot, so that the very vector can come back.

use chrono::NaiveDate;
use kerfbook::names::{ChannelId, LabelId, ThingId};

use super::exact_number::Exact;
use super::twin_money::ValuedLine;
use super::twin_shelf::TwinLot;

/// A line of an order.
#[derive(Clone, Debug)]
pub(crate) struct TwinOrderLine {
    pub(crate) thing: ThingId,
    pub(crate) date: NaiveDate,
    /// What has not come back, in the order in which it left.
    pub(crate) pieces: Vec<TwinLot>,
    /// How many of these were refunded and stay with the buyer.
    pub(crate) left_with_buyer: Exact,
}

/// An order.
#[derive(Clone, Debug)]
pub(crate) struct TwinOrder {
    pub(crate) order: Option<LabelId>,
    pub(crate) channel: Option<ChannelId>,
    pub(crate) lines: Vec<TwinOrderLine>,
    /// Its lines, work without goods included, by value.
    pub(crate) values: Vec<ValuedLine>,
}

impl TwinOrderLine {
    /// How many have not come back.
    pub(crate) fn quantity(&self) -> Exact {
        self.pieces.iter().map(|lot| lot.quantity.clone()).sum()
    }

    /// Takes pieces back, the last lot first, or of a named lot. What the line does not have is left in `quantity`.
    pub(crate) fn take_back(&mut self, quantity: &mut Exact, code: Option<LabelId>) -> Vec<TwinLot> {
        let mut back = Vec::new();
        for lot in self.pieces.iter_mut().rev() {
            if code.is_some() && lot.origin.code != code {
                continue;
            }
            let part = if lot.quantity < *quantity { lot.quantity.clone() } else { quantity.clone() };
            if part == super::exact_number::nothing() {
                continue;
            }
            let vector = lot.vector.draw(&(&part / &lot.quantity));
            lot.quantity -= &part;
            *quantity -= &part;
            back.push(TwinLot { origin: lot.origin, quantity: part, vector });
        }
        self.pieces.retain(|lot| lot.quantity != super::exact_number::nothing());
        back
    }
}
