//! Derivations: from a figure down to the entries that made it, by the engine's trace.
//!
//! In: a book that was costed with its trace, and a figure's name. Out: a [`WhyReport`]. Every step carries its paid and full cost to the last digit; the
//! steps below a sum add up to it exactly, which the tests hold. A lot is derived once, where it is reached first; further down it is only
//! pointed to, so that a derivation is no longer than its book.

mod batches;
mod figure;
mod goods;
mod lots;
mod pools;

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use crate::costing::{CostVector, LotMade, Trace};
use crate::names::{PlaceId, ThingId};
use crate::reports::period::quantity_text;
use crate::reports::{WhyPlace, WhyReport, WhyRule, WhyStep};
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::{Books, TaxYear};

pub use figure::{FigureFault, FigureName};

/// What a derivation is made from.
#[derive(Clone, Copy, Debug)]
pub struct Derived<'a> {
    /// The book, costed with its trace, up to the figure's day.
    pub books: Books<'a>,
    /// Its tax years.
    pub years: &'a [TaxYear],
    /// How many levels are told below the figure.
    pub levels: usize,
}

/// Derives a figure. `None` where a figure is too large to be carried, or the book was costed without a trace.
#[must_use]
pub fn report_why(of: &Derived<'_>, figure: &FigureName) -> Option<WhyReport> {
    let trace = of.books.costed.trace.as_ref()?;
    let mut telling = Telling {
        books: of.books,
        trace,
        levels: of.levels,
        lots: BTreeSet::new(),
        finishes: BTreeSet::new(),
        pools: BTreeMap::new(),
    };
    let (answer, steps) = match figure {
        FigureName::Cost { thing, year } => telling.cost(*thing, *year)?,
        FigureName::Stock { thing, .. } => telling.stock(*thing)?,
        FigureName::CostOfGoods { year } => telling.cost_of_goods(of.years.iter().find(|one| one.year == *year)?)?,
    };
    let period = figure.period();
    let head = period.head("why", of.books.book, of.books.log.first_day, of.books.costed.until);
    Some(WhyReport { head, figure: figure.text(of.books.book), answer, steps })
}

/// Paid and full cost.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Sum {
    paid: Fixed6,
    full: Fixed6,
}

impl Sum {
    fn of(vector: &CostVector) -> Option<Self> {
        let (paid, full) = vector.paid_and_full()?;
        Some(Self { paid, full })
    }

    /// What a lot cost when it came.
    fn of_lot(lot: &LotMade) -> Self {
        Self { paid: lot.paid, full: lot.full }
    }

    /// Money that is paid and full cost alike.
    fn both(money: Fixed6) -> Self {
        Self { paid: money, full: money }
    }

    fn plus(self, other: Self) -> Option<Self> {
        Some(Self { paid: self.paid.checked_add(other.paid)?, full: self.full.checked_add(other.full)? })
    }

    fn minus(self, other: Self) -> Option<Self> {
        Some(Self { paid: self.paid.checked_sub(other.paid)?, full: self.full.checked_sub(other.full)? })
    }

    fn negated(self) -> Option<Self> {
        Self::default().minus(self)
    }
}

/// A derivation while it is told.
struct Telling<'a> {
    books: Books<'a>,
    trace: &'a Trace,
    levels: usize,
    /// Lots that were derived further up.
    lots: BTreeSet<u32>,
    /// Finishes of batches that were derived further up.
    finishes: BTreeSet<usize>,
    /// How far each pool was derived.
    pools: BTreeMap<(ThingId, PlaceId), pools::PoolTold>,
}

impl<'a> Telling<'a> {
    /// A step with nothing below it yet.
    fn step(&self, says: String, sum: Sum, rule: WhyRule, at: Span) -> WhyStep {
        let text = |money: Fixed6| money.to_fixed_text(2, 6);
        WhyStep { says, paid: text(sum.paid), full: text(sum.full), rule, at: self.place(at), steps: Vec::new() }
    }

    /// The line of the book at which a span begins.
    fn place(&self, at: Span) -> Option<WhyPlace> {
        if at.is_empty() {
            return None;
        }
        let place = self.books.sources.place(at.start)?;
        let text = self.books.sources.text(self.books.sources.lines_of(at));
        let text = text.lines().next().unwrap_or("").trim().to_owned();
        Some(WhyPlace { file: place.path.to_owned(), line: place.line, text })
    }

    /// A quantity as it is said: `5.2 bf red-oak`, `6 pull-cart`.
    fn amount_of(&self, thing: ThingId, quantity: Decimal) -> String {
        let named = self.books.book.thing(thing);
        match named.unit.as_str() {
            "ea" => format!("{} {}", quantity_text(quantity), named.named.name),
            unit => format!("{} {unit} {}", quantity_text(quantity), named.named.name),
        }
    }

    /// The head of an event.
    fn head(&self, event: u32) -> Span {
        self.books.log.events.get(event as usize).map_or_else(Span::default, |event| event.head)
    }
}
