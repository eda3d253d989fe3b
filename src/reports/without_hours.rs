//! Of which batches, and of what there was when the book began, goods were sold whose hours nobody knows.
//!
//! Hours are unknown of what was opened without them, and of all that was made of it. What came back is no longer among what was sold.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;

use crate::costing::{CostedBook, LotOrigin};
use crate::names::{BatchId, ResolvedBook, ThingId};
use crate::reports::Period;
use crate::reports::fair::Fairs;
use crate::reports::pays_part::{PaysOf, groups_of};

/// How many are named; the others are counted.
const MOST: usize = 3;

/// Whose hours are unknown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Unknown {
    /// Those of a batch.
    Batch(BatchId),
    /// Those of a thing that came on a day without a batch.
    Came(ThingId, NaiveDate),
}

/// By group, of which goods the hours are unknown.
#[derive(Debug, Default)]
pub(crate) struct WithoutHours(BTreeMap<PaysOf, BTreeSet<Unknown>>);

impl WithoutHours {
    /// Goes once through what is sold and did not come back: of fairs all of it, as they are told whole, else what was sold in a period.
    pub(crate) fn of(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Self {
        let mut found = Self::default();
        let mut fairs: Option<Fairs> = None;
        for order in &costed.orders {
            for line in &order.lines {
                let unknown: Vec<LotOrigin> =
                    line.pieces.iter().filter(|piece| piece.vector.hours_unknown()).map(|piece| piece.lot).collect();
                if unknown.is_empty() {
                    continue;
                }
                let mut groups = groups_of(book, line.date, Some(line.thing), order.channel);
                groups.retain(|_| period.covers(line.date));
                if let Some(channel) = order.channel.filter(|_| order.order.is_none()) {
                    let fairs = fairs.get_or_insert_with(|| Fairs::of(book, costed));
                    groups.extend(fairs.of_sale(channel, order.date).map(|day| PaysOf::Fair(channel, day)));
                }
                for group in groups {
                    let sources = unknown.iter().map(|lot| match lot.batch {
                        Some(batch) => Unknown::Batch(batch),
                        None => Unknown::Came(line.thing, lot.date),
                    });
                    found.0.entry(group).or_default().extend(sources);
                }
            }
        }
        found
    }

    /// The same of one group in words: `batch PC-020 and Peg that came on 2026-01-01`. `None` where there is nothing.
    pub(crate) fn says(&self, book: &ResolvedBook, of: PaysOf) -> Option<String> {
        let sources = self.0.get(&of).filter(|sources| !sources.is_empty())?;
        let named = sources.iter().take(MOST).map(|one| match one {
            Unknown::Batch(batch) => format!("batch {}", book.batch(*batch).name),
            Unknown::Came(thing, day) => format!("{} that came on {day}", book.thing(*thing).named.title),
        });
        let mut named: Vec<String> = named.collect();
        let more = sources.len().saturating_sub(MOST);
        if more > 0 {
            named.push(format!("{more} more"));
        }
        let last = named.pop()?;
        Some(if named.is_empty() { last } else { format!("{} and {last}", named.join(", ")) })
    }
}
