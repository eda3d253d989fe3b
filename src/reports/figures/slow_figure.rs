//! Figures of what lies long: `slow/red-oak/slow-paid`, `slow/older`.

use std::collections::BTreeSet;

use super::FigureNames;
use super::errors::{FigureFault, no_part};
use crate::names::ThingId;
use crate::reports::report_slow_stock::is_slow;
use crate::year::Books;

/// What of a thing of which some has lain long.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SlowPart {
    /// All of it that is on hand.
    Quantity,
    /// What came over 180 days ago.
    SlowQuantity,
    /// The paid cost of that.
    SlowPaid,
    /// Days since the oldest of it came.
    OldestDays,
    /// Sold, packed with what went out, or used in the last 365 days.
    GoneInAYear,
    /// For how many months what is on hand lasts.
    LastsMonths,
}

impl SlowPart {
    /// All of them, in the order of the report.
    pub const ALL: [Self; 6] =
        [Self::Quantity, Self::SlowQuantity, Self::SlowPaid, Self::OldestDays, Self::GoneInAYear, Self::LastsMonths];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Quantity => "quantity",
            Self::SlowQuantity => "slow-quantity",
            Self::SlowPaid => "slow-paid",
            Self::OldestDays => "oldest-days",
            Self::GoneInAYear => "gone-in-a-year",
            Self::LastsMonths => "lasts-months",
        }
    }
}

/// A figure of what lies long, on the book's last day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SlowFigure {
    /// The paid cost of all goods of an age, the youngest first: up to 90, 180, 365 days, older.
    Age(usize),
    /// A thing of which some has lain long.
    Thing(ThingId, SlowPart),
}

/// The ages as they stand in names.
const AGES: [&str; 4] = ["to-90-days", "to-180-days", "to-365-days", "older"];

impl SlowFigure {
    /// Reads what stands after `slow/`.
    pub(super) fn read(parts: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        match *parts {
            [age] => AGES.iter().position(|one| *one == age).map(Self::Age).ok_or_else(|| {
                let forms: Vec<&str> = AGES.into_iter().chain(["THING/slow-paid"]).collect();
                no_part(age, &forms)
            }),
            [thing, part] => {
                let found = SlowPart::ALL.into_iter().find(|one| one.text() == part);
                let found = found.ok_or_else(|| no_part(part, &SlowPart::ALL.map(SlowPart::text)))?;
                Ok(Self::Thing(names.read_thing(thing)?, found))
            }
            _ => Err(FigureFault("figures of what lies long are `slow/THING/slow-paid` and `slow/older`".to_owned())),
        }
    }

    /// All of a book: the ages, and each thing of which some has lain long.
    pub(super) fn all(books: Books<'_>) -> Vec<Self> {
        let Some(last) = books.costed.until else { return Vec::new() };
        let slow = books.costed.stock.iter().filter(|lot| is_slow(lot.origin.date, last) && !lot.quantity.is_zero());
        let things: BTreeSet<ThingId> = slow.map(|lot| lot.thing).collect();
        let of_things = things.into_iter().flat_map(|thing| SlowPart::ALL.map(|part| Self::Thing(thing, part)));
        (0..AGES.len()).map(Self::Age).chain(of_things).collect()
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        match self {
            Self::Age(at) => format!("slow/{}", AGES.get(at).copied().unwrap_or_default()),
            Self::Thing(thing, part) => format!("slow/{}/{}", names.thing(thing), part.text()),
        }
    }
}
