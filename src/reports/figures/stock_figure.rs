//! Figures of stock: what a thing, a kind of things or all that is on hand is worth, at the end of a day or of the book.

use chrono::NaiveDate;

use super::FigureNames;
use super::errors::FigureFault;
use crate::names::{ThingId, ThingKind};

/// A kind of stock, as the totals of the stock report have it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StockKind {
    /// Materials.
    Materials,
    /// Wear.
    Wear,
    /// Packing.
    Packing,
    /// Products.
    Products,
    /// Batches on the bench.
    OnTheBench,
    /// All of them.
    All,
}

impl StockKind {
    /// Each kind, and then all of them.
    pub const ALL: [Self; 6] = [Self::Materials, Self::Wear, Self::Packing, Self::Products, Self::OnTheBench, Self::All];

    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Materials => "materials",
            Self::Wear => "wear",
            Self::Packing => "packing",
            Self::Products => "products",
            Self::OnTheBench => "on-the-bench",
            Self::All => "all",
        }
    }

    /// Which things are of it.
    #[must_use]
    pub const fn things(self) -> Option<ThingKind> {
        match self {
            Self::Materials => Some(ThingKind::Material),
            Self::Wear => Some(ThingKind::Wear),
            Self::Packing => Some(ThingKind::Packing),
            Self::Products => Some(ThingKind::Product),
            Self::OnTheBench | Self::All => None,
        }
    }
}

/// Before a kind's name, as in the report's JSON: what follows is no thing, whatever things are called.
pub(super) const TOTALS: &str = "totals";

/// Of what the stock is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StockOf {
    /// A thing.
    Thing(ThingId),
    /// A kind of things, the bench, or all.
    Kind(StockKind),
}

/// What stock is worth at the end of a day, or of the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StockFigure {
    /// Of what.
    pub of: StockOf,
    /// The day.
    pub on: Option<NaiveDate>,
}

impl StockFigure {
    /// A thing's name is read before a kind's; after `totals/`, which no day is called, stands a kind alone.
    pub(super) fn read(name: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let kind_of = |name: &str| StockKind::ALL.into_iter().find(|kind| kind.text() == name);
        if let (TOTALS, [total, rest @ ..]) = (name, rest)
            && let Some(kind) = kind_of(total)
        {
            return Ok(Self { of: StockOf::Kind(kind), on: rest.first().map(read_day).transpose()? });
        }
        if rest.len() > 1 {
            return Err(FigureFault(format!("a figure of stock is `stock/NAME/DATE` or `stock/{TOTALS}/KIND/DATE`")));
        }
        let kind = kind_of(name);
        let of = match (names.read_thing(name), kind) {
            (Ok(thing), _) => StockOf::Thing(thing),
            (Err(_), Some(kind)) => StockOf::Kind(kind),
            (Err(fault), None) => return Err(fault),
        };
        Ok(Self { of, on: rest.first().map(read_day).transpose()? })
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let name = match self.of {
            StockOf::Thing(thing) => names.thing(thing),
            // A thing that is called as a kind is has the short name.
            StockOf::Kind(kind) if names.read_thing(kind.text()).is_ok() => &format!("{TOTALS}/{}", kind.text()),
            StockOf::Kind(kind) => kind.text(),
        };
        self.on.map_or_else(|| format!("stock/{name}"), |day| format!("stock/{name}/{day}"))
    }
}

fn read_day(day: &&str) -> Result<NaiveDate, FigureFault> {
    crate::units::read_date(day).map_err(|fault| FigureFault(format!("`{day}`: {fault}")))
}
