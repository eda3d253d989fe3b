//! The events of a book in the order in which they count.
//!
//! By date, then by the order of the day (`grammar/README.md`, "The order of a day"), then by the entry's own text: never by file or line.

use chrono::NaiveDate;
use rustc_hash::FxHashMap;

use crate::events::{Doubts, Event, Papers};
use crate::names::ThingId;

/// All events, in order.
#[derive(Clone, Debug, Default)]
pub struct EventLog {
    /// The events.
    pub events: Vec<Event>,
    /// Things named in a line that could not be read, and since when: shortage, count and total checks on them stay silent.
    pub uncertain: FxHashMap<ThingId, NaiveDate>,
    /// What entries that were read only in part are about: see [`EventLog::is_in_doubt`].
    pub doubts: Doubts,
    /// The first day of the book: the earliest `opened`, else the earliest entry.
    pub first_day: Option<NaiveDate>,
    /// The papers and notes of entries and definitions.
    pub papers: Papers,
}
