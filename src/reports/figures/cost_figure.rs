//! Figures of cost: what a unit of a thing cost, and what a batch collected; whole, or one part of it.

use super::errors::{FigureFault, no_part};
use super::{FigureNames, read_year};
use crate::names::{BatchId, ThingId};

/// A part of a cost, as the columns of the cost report have it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CostPart {
    /// Materials, with their freight.
    Materials,
    /// Wear.
    Wear,
    /// Bought-in time.
    BoughtInTime,
    /// Royalty and licence.
    Royalty,
    /// Paid cost: the four above.
    Paid,
    /// Own time.
    OwnTime,
    /// Overhead.
    Overhead,
    /// Full cost: paid cost, own time and overhead.
    Full,
    /// The owner's minutes.
    Minutes,
}

impl CostPart {
    /// All of them, in the order of the reports.
    pub const ALL: [Self; 9] = [
        Self::Materials,
        Self::Wear,
        Self::BoughtInTime,
        Self::Royalty,
        Self::Paid,
        Self::OwnTime,
        Self::Overhead,
        Self::Full,
        Self::Minutes,
    ];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Materials => "materials",
            Self::Wear => "wear",
            Self::BoughtInTime => "bought-in-time",
            Self::Royalty => "royalty",
            Self::Paid => "paid",
            Self::OwnTime => "own-time",
            Self::Overhead => "overhead",
            Self::Full => "full",
            Self::Minutes => "minutes",
        }
    }

    pub(super) fn read(typed: &str) -> Result<Self, FigureFault> {
        let part = Self::ALL.into_iter().find(|part| part.text() == typed);
        part.ok_or_else(|| no_part(typed, &Self::ALL.map(Self::text)))
    }
}

/// What a unit of a thing cost: of all that was finished in a year, or ever.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CostFigure {
    /// The thing that was made.
    pub thing: ThingId,
    /// The year in which it was finished.
    pub year: Option<i32>,
    /// A part of it; else paid and full cost.
    pub part: Option<CostPart>,
}

impl CostFigure {
    pub(super) fn read(name: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let thing = names.read_thing(name)?;
        let (year, part) = match rest {
            [] => (None, None),
            [part] if CostPart::ALL.iter().any(|one| one.text() == *part) => (None, Some(CostPart::read(part)?)),
            [year] => (Some(read_year(year)?), None),
            [year, part, ..] => (Some(read_year(year)?), Some(CostPart::read(part)?)),
        };
        Ok(Self { thing, year, part })
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let mut text = format!("cost/{}", names.thing(self.thing));
        if let Some(year) = self.year {
            text.push_str(&format!("/{year:04}"));
        }
        with_part(text, self.part)
    }
}

/// What a batch collected, and what it gave.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BatchFigure {
    /// The batch.
    pub batch: BatchId,
    /// A part of it; else paid and full cost.
    pub part: Option<CostPart>,
}

impl BatchFigure {
    pub(super) fn read(name: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let part = rest.first().map(|part| CostPart::read(part)).transpose()?;
        Ok(Self { batch: names.read_batch(name)?, part })
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        with_part(format!("batch/{}", names.batch(self.batch)), self.part)
    }
}

pub(super) fn with_part(mut text: String, part: Option<CostPart>) -> String {
    if let Some(part) = part {
        text.push('/');
        text.push_str(part.text());
    }
    text
}
