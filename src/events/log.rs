//! The events of a book in the order in which they count.
//!
//! By date, then by the order of the day (`language.md`, "The day"), then by the entry's own text: never by file or line.

use chrono::NaiveDate;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::events::Event;
use crate::names::{BatchId, LabelId, ThingId};

/// All events, in order.
#[derive(Clone, Debug, Default)]
pub struct EventLog {
    /// The events.
    pub events: Vec<Event>,
    /// Things named in a line that could not be read, and since when: shortage, count and total checks on them stay silent.
    pub uncertain: FxHashMap<ThingId, NaiveDate>,
    /// Orders and receipts of entries of which something could not be read: what is owed for them is not known.
    pub uncertain_papers: FxHashSet<LabelId>,
    /// Batches of entries of which something could not be read: what they hold, made or aimed at is not known.
    pub uncertain_batches: FxHashSet<BatchId>,
    /// The first day of the book: the earliest `opened`, else the earliest entry.
    pub first_day: Option<NaiveDate>,
}
