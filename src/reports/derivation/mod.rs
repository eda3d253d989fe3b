//! Derivations: from a figure down to the entries that made it, by the engine's trace.
//!
//! In: a book that was costed with its trace, and a figure's name. Out: a [`WhyReport`]. Every step carries its paid and full cost to the last digit; the
//! steps below a sum add up to it exactly, which the tests hold. A lot is derived once, where it is reached first; further down it is only
//! pointed to; a bench and a pool are told on from where they were told of last. So a derivation is no longer than its book, and takes no longer.

mod batches;
mod cost_of_goods;
mod figure;
mod form_lines;
mod goods;
mod lots;
mod pools;
mod step;
mod trace_index;

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use crate::costing::Trace;
use crate::names::{BatchId, PlaceId, ThingId};
use crate::reports::WhyReport;
use crate::reports::period::quantity_text;
use crate::sources::{LineIndex, Span};
use crate::year::{Books, TaxYear};

pub use figure::{FigureFault, FigureName};
use step::{Step, Sum};
use trace_index::TraceIndex;

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
        index: TraceIndex::of(trace, of.books.costed),
        levels: of.levels,
        lots: BTreeSet::new(),
        changes: BTreeMap::new(),
        finishes: BTreeSet::new(),
        benches: BTreeMap::new(),
        pools: BTreeMap::new(),
    };
    let (answer, steps) = match figure {
        FigureName::Cost { thing, year } => telling.cost(*thing, *year)?,
        FigureName::Stock { thing, on } => telling.stock(*thing, *on)?,
        FigureName::Line { year, at } => telling.form_line(of.years.iter().find(|one| one.year == *year)?, *at)?,
        FigureName::CostOfGoods { year } => telling.cost_of_goods(of.years.iter().find(|one| one.year == *year)?)?,
    };
    let period = figure.period();
    let head = period.head("why", of.books.book, of.books.log.first_day, of.books.costed.until);
    let lines = LineIndex::of(of.books.sources);
    let steps = steps.into_iter().map(|step| step.write(&lines, of.books.sources)).collect();
    Some(WhyReport { head, figure: figure.text(of.books.book, of.years), answer, steps })
}

/// A derivation while it is told.
struct Telling<'a> {
    books: Books<'a>,
    trace: &'a Trace,
    index: TraceIndex,
    levels: usize,
    /// Lots that were derived further up.
    lots: BTreeSet<u32>,
    /// How many changes of its cost were told of a lot.
    changes: BTreeMap<u32, usize>,
    /// Finishes of batches that were derived further up.
    finishes: BTreeSet<usize>,
    /// The last finish of each batch whose bench was derived.
    benches: BTreeMap<BatchId, usize>,
    /// How far each pool was derived.
    pools: BTreeMap<(ThingId, PlaceId), pools::PoolTold>,
}

impl Telling<'_> {
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
