//! A value that may change from a day on.
//!
//! `changed 2026-07-01 pull-cart` with `price 45.00` makes a second value that is in force from that day. Every entry uses the
//! value in force on its own date (costing rule 15).

use chrono::NaiveDate;

/// A value and its changes, in the order of their days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dated<T> {
    first: T,
    changes: Vec<(NaiveDate, T)>,
}

impl<T> Dated<T> {
    /// A value that never changes.
    pub const fn new(first: T) -> Self {
        Self { first, changes: Vec::new() }
    }

    /// Says that a value is in force from a day on. Changes may be given in any order; of two of one day the later given wins.
    pub fn change(&mut self, from: NaiveDate, value: T) {
        match self.changes.binary_search_by_key(&from, |(day, _)| *day) {
            Ok(at) => {
                if let Some(slot) = self.changes.get_mut(at) {
                    slot.1 = value;
                }
            }
            Err(at) => self.changes.insert(at, (from, value)),
        }
    }

    /// The value in force on a day.
    pub fn on(&self, day: NaiveDate) -> &T {
        let after = self.changes.partition_point(|(from, _)| *from <= day);
        after.checked_sub(1).and_then(|at| self.changes.get(at)).map_or(&self.first, |(_, value)| value)
    }

    /// The value of the definition, before any change.
    pub const fn first(&self) -> &T {
        &self.first
    }

    /// The changes, in the order of their days.
    pub fn changes(&self) -> &[(NaiveDate, T)] {
        &self.changes
    }
}
