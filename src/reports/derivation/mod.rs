//! Derivations: from a figure down to the entries that made it, by the engine's trace.
//!
//! In: a book that was costed with its trace, and a figure's name. Out: a [`WhyReport`]. Every step carries its paid and full cost to the last digit; the
//! steps below a sum add up to it exactly, which the tests hold. A lot is derived once, where it is reached first; further down it is only
//! pointed to; a bench and a pool are told on from where they were told of last. So a derivation is no longer than its book, and takes no longer.
//! A step that stands for a figure of its own carries that figure's name; a folded derivation ends there.

mod amount;
mod batch_account;
mod batches;
mod book_index;
mod bridge_figure;
mod by_months;
mod cost;
mod cost_of_goods;
mod cost_row_figure;
mod down_to;
mod equipment_figure;
mod form_lines;
mod home_and_miles;
mod hours_figure;
mod lots;
mod orders;
mod overhead_figure;
mod owed_figure;
mod paper_figure;
mod pattern_figure;
mod pays_beside;
mod pays_figure;
mod pays_index;
mod pays_parts;
mod place_figure;
mod plan_cost;
mod plan_figure;
mod plan_goods;
mod plan_hours;
mod plan_licence;
mod plan_pay;
mod pools;
mod price_figure;
mod price_learnt;
mod price_own;
mod price_words;
mod proof_figure;
mod purchases;
mod sales_tax_figure;
mod schedules;
mod self_employment_figure;
mod shortage_figure;
mod slow_figure;
mod step;
mod stock;
mod told_by_parts;
mod trace_index;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::{StandardPrices, Trace};
use crate::names::{BatchId, PlaceId, ThingId};
use crate::reports::marked_price::MarkedPrices;
use crate::reports::period::quantity_text;
use crate::reports::planning::Planned;
use crate::reports::{
    AskFault, CostPart, CostRow, CostRowFigure, FigureName, FigureNames, OrderPart, OwedPart, PaperPart, PatternFigure,
    PaysColumn, PaysFigure, PlaceFigure, PlaceOf, PlacePart, PriceFigure, PriceOf, ScheduleFigure, SlowFigure, SlowPart,
    WhyMeasure, WhyReport, WhyRule,
};
use crate::sources::{LineIndex, Span};
use crate::year::{Books, Figures, TaxYear};

use amount::Shown;
use book_index::BookIndex;
use down_to::cut;
use purchases::Purchases;
use step::{Step, Sum, Writing};
use trace_index::TraceIndex;

pub use told_by_parts::{CostParts, take_cost_parts, take_minutes, tell_by_parts};

/// How many levels of steps a derivation has at most; what is below is told at the figure that the last step names.
const MOST_LEVELS: usize = 100;

/// How far down a derivation is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HowDeep {
    /// To the steps that stand for figures of their own.
    Fold,
    /// Down to the entries.
    Deep,
    /// So many levels of steps below the first, through steps that stand for figures too.
    Levels(usize),
}

/// A book whose figures are derived: prepared once, in time linear in it.
#[derive(Debug)]
pub struct Derived<'a> {
    books: Books<'a>,
    years: &'a [TaxYear],
    trace: &'a Trace,
    index: TraceIndex,
    names: FigureNames<'a>,
    purchases: Purchases,
    lines: LineIndex<'a>,
    found: BookIndex<'a>,
    /// The day to which what is owed is counted, where that is after the book's last.
    today: Option<NaiveDate>,
    /// The prices against which variances are held, found when they are first asked for.
    prices: OnceLock<Option<StandardPrices>>,
    /// What goods at places are marked at, found when it is first asked for.
    marked: OnceLock<MarkedPrices>,
}

impl<'a> Derived<'a> {
    /// Prepares a book that was costed with its trace, up to the figures' day, and its tax years. `None` where it was costed without a trace.
    #[must_use]
    pub fn of(books: Books<'a>, years: &'a [TaxYear]) -> Option<Self> {
        let trace = books.costed.trace.as_ref()?;
        let index = TraceIndex::of(trace, books.costed);
        let (names, purchases) = (FigureNames::of(books, years), Purchases::of(books.log));
        let (lines, found) = (LineIndex::of(books.sources), BookIndex::of(books, None));
        Some(Self {
            books,
            years,
            trace,
            index,
            names,
            purchases,
            lines,
            found,
            today: None,
            prices: OnceLock::new(),
            marked: OnceLock::new(),
        })
    }

    /// The same with the rates of the book's form, by which miles count in margins.
    #[must_use]
    pub fn with_figures(self, figures: &Figures) -> Self {
        Self { found: self.found.with_figures(self.books, figures), ..self }
    }

    /// The same on a day: to it is counted for how long something has been owed.
    #[must_use]
    pub fn on(self, today: Option<NaiveDate>) -> Self {
        Self { today, ..self }
    }

    /// The same with the plan or the price that a figure's name asks for, and the name in its one spelling; see [`FigureNames::asking`].
    ///
    /// # Errors
    /// Where there is no such plan or price.
    pub fn asking(self, typed: &str, from: Option<NaiveDate>) -> Result<(Self, String), AskFault> {
        let (names, spelled) = self.names.asking(typed, from)?;
        Ok((Self { names, ..self }, spelled))
    }

    /// What goods at places are marked at.
    fn marked(&self) -> &MarkedPrices {
        self.marked.get_or_init(|| MarkedPrices::of(self.books))
    }

    /// The names of its figures.
    #[must_use]
    pub fn names(&self) -> &FigureNames<'a> {
        &self.names
    }
}

/// Derives a figure. `None` where a figure is too large to be carried, or a line's year is not among the tax years.
#[must_use]
pub fn report_why(of: &Derived<'_>, figure: FigureName, deep: HowDeep) -> Option<WhyReport> {
    let (shown, part) = match figure {
        FigureName::Cost(figure) => (Shown::of_cost(figure.part), figure.part),
        FigureName::CostRow(figure) => match figure.row {
            CostRow::Minutes(_) | CostRow::BoughtInMinutes(_) => (Shown::Part(CostPart::Minutes), None),
            CostRow::UsedQuantity(_) | CostRow::UsedCost(_) => (Shown::Money, None),
        },
        FigureName::Variance(_) => (Shown::Money, None),
        FigureName::Batch(figure) => (Shown::of_cost(figure.part), figure.part),
        FigureName::Lot(figure) => (Shown::of_cost(figure.part), figure.part),
        FigureName::Order(figure) => match figure.part {
            Some(OrderPart::Revenue | OrderPart::CostsOfSelling) => (Shown::Money, None),
            None | Some(OrderPart::CostOfGoods | OrderPart::Margin) => (Shown::PaidAndFull, None),
        },
        FigureName::Pays(PaysFigure::Column { column, .. } | PaysFigure::Beside { column, .. }) => {
            (pays_figure::shown_of(column), None)
        }
        FigureName::Price(PriceFigure { of: PriceOf::Piece(part), .. }) => (Shown::of_cost(part), part),
        FigureName::Price(PriceFigure { of: PriceOf::Channel(_, column), .. }) if column.is_minutes() => {
            (Shown::Part(CostPart::Minutes), None)
        }
        FigureName::Plan(figure) => plan_figure::shown_of(figure),
        FigureName::Price(_) | FigureName::Places(_) | FigureName::Pattern(_) | FigureName::Slow(_) => (Shown::Money, None),
        FigureName::Pays(PaysFigure::IndirectMinutes { .. } | PaysFigure::Hours { .. }) => (Shown::Part(CostPart::Minutes), None),
        FigureName::Proof(figure) => (Shown::Proof(figure.of), None),
        FigureName::Line { .. } | FigureName::Pays(_) | FigureName::Schedule(_) => (Shown::Money, None),
        FigureName::Stock(_) | FigureName::CostOfGoods { .. } => (Shown::PaidAndFull, None),
    };
    let mut telling = Telling {
        of,
        figure,
        part,
        folds: deep == HowDeep::Fold,
        told: BTreeSet::new(),
        lots: BTreeSet::new(),
        changes: BTreeMap::new(),
        finishes: BTreeSet::new(),
        benches: BTreeMap::new(),
        pools: BTreeMap::new(),
        plan: None,
    };
    let tax_year = |year| of.years.iter().find(|one| one.year == year);
    let (answer, steps) = match figure {
        FigureName::Cost(figure) => telling.cost(figure)?,
        FigureName::CostRow(figure) => telling.cost_row(figure)?,
        FigureName::Variance(figure) => telling.variance(figure)?,
        FigureName::Batch(figure) => telling.batch(figure)?,
        FigureName::Lot(figure) => telling.lot_figure(figure)?,
        FigureName::Order(figure) => telling.order(figure)?,
        FigureName::Stock(figure) => telling.stock(figure)?,
        FigureName::Pays(figure) => telling.pays(figure)?,
        FigureName::Proof(figure) => telling.proof(figure)?,
        FigureName::Price(figure) => telling.price(figure)?,
        FigureName::Plan(figure) => telling.plan(figure)?,
        FigureName::Places(figure) => telling.place(figure)?,
        FigureName::Pattern(figure) => telling.pattern(figure)?,
        FigureName::Slow(figure) => telling.slow(figure)?,
        FigureName::Schedule(ScheduleFigure { year, of }) => telling.schedule(tax_year(year)?, of)?,
        FigureName::Line { year, at } => telling.form_line(tax_year(year)?, at)?,
        FigureName::CostOfGoods { year } => telling.cost_of_goods(tax_year(year)?)?,
    };
    let head = figure.period().head("why", of.books.book, of.books.log.first_day, of.books.costed.until);
    let measure = match figure {
        FigureName::Pays(
            PaysFigure::Column { column: PaysColumn::Units, .. } | PaysFigure::Beside { column: PaysColumn::Units, .. },
        )
        | FigureName::Price(PriceFigure { of: PriceOf::Pieces, .. }) => WhyMeasure::Units,
        FigureName::Price(PriceFigure { of: PriceOf::Channel(_, column), .. }) if column.is_counted() => WhyMeasure::Units,
        FigureName::Plan(figure) if plan_figure::is_counted(figure) => WhyMeasure::Units,
        FigureName::CostRow(CostRowFigure { row: CostRow::UsedQuantity(_), .. }) => WhyMeasure::Units,
        FigureName::Places(PlaceFigure { of: PlaceOf::Thing(_, part), .. }) if part != PlacePart::LeftAtPrice => {
            WhyMeasure::Units
        }
        FigureName::Places(PlaceFigure { of: PlaceOf::Paper(_, part), .. }) if part != PaperPart::SlipTogether => {
            WhyMeasure::Units
        }
        FigureName::Places(PlaceFigure { of: PlaceOf::SlipOn(_, Some((_, part))), .. }) if part != PaperPart::SlipTogether => {
            WhyMeasure::Units
        }
        FigureName::Places(PlaceFigure { of, .. }) if is_time(of) => WhyMeasure::Units,
        FigureName::Pattern(PatternFigure { of, .. }) if of.counts_pieces() => WhyMeasure::Units,
        FigureName::Slow(SlowFigure::Thing(_, part)) if part != SlowPart::SlowPaid => WhyMeasure::Units,
        _ => shown.measure(),
    };
    // A price of what was never finished is told by a plan of one, whose figures have the names of that plan.
    let with_plan = telling.plan.take().map(|planned| of.names.with_plan(planned));
    let with =
        Writing { names: with_plan.as_ref().unwrap_or(&of.names), lines: &of.lines, sources: of.books.sources, shown, measure };
    let mut steps: Vec<_> = steps.into_iter().map(|step| step.write(&with)).collect();
    if let HowDeep::Levels(levels) = deep {
        cut(&mut steps, levels);
    }
    Some(WhyReport { head, figure: figure.text(&of.names), answer, measure, steps })
}

/// Whether a figure of a place is a number of days.
fn is_time(of: PlaceOf) -> bool {
    matches!(of, PlaceOf::Sale(_, OwedPart::Days | OwedPart::DaysLate) | PlaceOf::UsualDays | PlaceOf::DaysSinceCount)
}

/// A derivation while it is told.
struct Telling<'d> {
    of: &'d Derived<'d>,
    /// The figure that is derived.
    figure: FigureName,
    /// The part of a cost that is shown of all steps.
    part: Option<CostPart>,
    /// Whether it ends at steps that stand for other figures.
    folds: bool,
    /// Figures that were derived further up, but for lots.
    told: BTreeSet<FigureName>,
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
    /// The plan by which a price is told.
    plan: Option<Planned<'d>>,
}

/// What was told of lots, benches and pools.
struct ToldOfCost {
    lots: BTreeSet<u32>,
    changes: BTreeMap<u32, usize>,
    finishes: BTreeSet<usize>,
    benches: BTreeMap<BatchId, usize>,
    pools: BTreeMap<(ThingId, PlaceId), pools::PoolTold>,
}

impl Telling<'_> {
    /// Whether a step of a level that stands for a figure is not gone through.
    fn stops(&self, figure: FigureName, level: usize) -> bool {
        self.folds && figure != self.figure || level >= MOST_LEVELS
    }

    /// Names a step as a figure, and says whether it is to be gone through: it is not where it is folded, nor where it was told further up.
    fn enters(&mut self, step: &mut Step, figure: FigureName, level: usize) -> bool {
        step.figure = Some(figure);
        let is_new = self.told.insert(figure);
        if self.stops(figure, level) {
            step.rule = WhyRule::Deeper;
        } else if !is_new {
            step.rule = WhyRule::Above;
        } else {
            return true;
        }
        false
    }

    /// Forgets what was told of lots, benches and pools, of which another part is shown from here on. Gives what was forgotten.
    fn forget_told(&mut self) -> ToldOfCost {
        ToldOfCost {
            lots: std::mem::take(&mut self.lots),
            changes: std::mem::take(&mut self.changes),
            finishes: std::mem::take(&mut self.finishes),
            benches: std::mem::take(&mut self.benches),
            pools: std::mem::take(&mut self.pools),
        }
    }

    fn remember_told(&mut self, told: ToldOfCost) {
        let ToldOfCost { lots, changes, finishes, benches, pools } = told;
        (self.lots, self.changes, self.finishes) = (lots, changes, finishes);
        (self.benches, self.pools) = (benches, pools);
    }

    /// A quantity as it is said: `5.2 bf red-oak`, `6 pull-cart`.
    fn amount_of(&self, thing: ThingId, quantity: Decimal) -> String {
        let named = self.of.books.book.thing(thing);
        match named.unit.as_str() {
            "ea" => format!("{} {}", quantity_text(quantity), named.named.name),
            unit => format!("{} {unit} {}", quantity_text(quantity), named.named.name),
        }
    }

    /// The head of an event.
    fn head(&self, event: u32) -> Span {
        self.of.books.log.events.get(event as usize).map_or_else(Span::default, |event| event.head)
    }
}
