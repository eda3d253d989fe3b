//! The names of figures: `cost/pull-cart/2026`, `stock/red-oak/2026-06-30`, `batch/PC-021`, `year/2026/line-42`.
//!
//! In: a costed book with its tax years. Out: [`FigureName`], which a name is read into and written from, and the list of all
//! that a book has ([`FigureNames::all`]). Names don't say what a figure is made of; that is the matter of `derivation/`.

mod asked;
mod cost_figure;
mod cost_row_figure;
mod errors;
mod figure_list;
mod figure_names;
mod kinds;
mod lot_figure;
mod name_table;
mod near_figures;
mod order_figure;
mod pattern_figure;
mod pays_figure;
mod pays_rest_figure;
mod place_figure;
mod plan_figure;
mod price_figure;
mod proof_figure;
mod schedule_figure;
mod slow_figure;
mod stock_figure;

use chrono::NaiveDate;

use crate::reports::Period;

pub use asked::AskFault;
pub(crate) use asked::price_name;
pub use cost_figure::{BatchFigure, CostFigure, CostPart};
pub use cost_row_figure::{CostRow, CostRowFigure, VarianceFigure, VarianceKind};
pub use errors::FigureFault;
pub use figure_list::{FigureGroup, FigureRow, FiguresReport, list_figures};
pub use figure_names::FigureNames;
pub(crate) use kinds::is_kind;
pub use lot_figure::LotFigure;
use near_figures::near_figures;
pub use order_figure::{OrderFigure, OrderPart};
pub use pattern_figure::{PatternFigure, PatternOf, PatternPart, RoyaltyPart};
pub(crate) use pays_figure::pays_group;
pub use pays_figure::{PaysColumn, PaysFigure};
pub use pays_rest_figure::PaysBeside;
pub use place_figure::{MissingPart, OwedPart, PaperPart, PlaceFigure, PlaceOf, PlacePart};
pub(crate) use plan_figure::plan_name;
pub use plan_figure::{PlanFigure, PlanPart, PlanRow};
pub use price_figure::{PriceColumn, PriceFigure, PriceOf};
pub use proof_figure::{ProofFigure, ProofFlow, ProofOf};
pub use schedule_figure::{ScheduleFigure, ScheduleOf};
pub use slow_figure::{SlowFigure, SlowPart};
pub use stock_figure::{StockFigure, StockKind, StockOf};

/// A figure that can be derived.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FigureName {
    /// What a unit of a thing cost.
    Cost(CostFigure),
    /// What a unit of a thing took: minutes at a step, or what went into it.
    CostRow(CostRowFigure),
    /// What a batch collected, and what it gave.
    Batch(BatchFigure),
    /// How a batch's cost differs from its recipe, in one regard.
    Variance(VarianceFigure),
    /// What a lot cost when it came.
    Lot(LotFigure),
    /// A sale.
    Order(OrderFigure),
    /// What stock is worth.
    Stock(StockFigure),
    /// What pays.
    Pays(PaysFigure),
    /// What a piece must fetch, and what a price of it leaves.
    Price(PriceFigure),
    /// The plan that was asked for.
    Plan(PlanFigure),
    /// A place away from home.
    Places(PlaceFigure),
    /// A pattern.
    Pattern(PatternFigure),
    /// What lies long.
    Slow(SlowFigure),
    /// The proof of a component.
    Proof(ProofFigure),
    /// A schedule behind a tax year's form.
    Schedule(ScheduleFigure),
    /// The cost of goods sold of a tax year, by where the goods went.
    CostOfGoods {
        /// The year.
        year: i32,
    },
    /// Another line of a tax year's form.
    Line {
        /// The year.
        year: i32,
        /// Its index among the year's lines.
        at: usize,
    },
}

impl FigureName {
    /// Reads a name.
    ///
    /// # Errors
    /// Where it is none, with what was expected and the figures whose names are near.
    pub fn read(typed: &str, names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        if let Some(kind) = kinds::kind_of(typed.trim_end_matches('/')) {
            return Err(if Self::any_begins(typed, names) { errors::no_figure(typed) } else { errors::none_of_kind(kind) });
        }
        Self::read_exactly(typed, names).map_err(|fault| fault.with_near(&near_figures(typed, names)))
    }

    /// Reads a name, without looking for those that are near where it is none.
    fn read_exactly(typed: &str, names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let parts: Vec<&str> = typed.split('/').collect();
        match parts.as_slice() {
            ["cost", name, rest @ ..] if rest.len() <= 2 => CostFigure::read(name, rest, names).map(Self::Cost),
            ["cost", name, rest @ ..] => CostRowFigure::read(name, rest, names).map(Self::CostRow),
            ["batch", name, "variances", of] => VarianceFigure::read(name, of, names).map(Self::Variance),
            ["batch", name, rest @ ..] if rest.len() <= 1 => BatchFigure::read(name, rest, names).map(Self::Batch),
            ["lot", thing, which, rest @ ..] if rest.len() <= 1 => LotFigure::read(thing, which, rest, names).map(Self::Lot),
            ["order", name, rest @ ..] if rest.len() <= 1 => OrderFigure::read(name, rest, names).map(Self::Order),
            ["stock", name, rest @ ..] if rest.len() <= 2 => StockFigure::read(name, rest, names).map(Self::Stock),
            ["year", year, line] if line.strip_prefix("line-").is_some_and(|number| !number.is_empty()) => {
                Self::read_line(read_year(year)?, line.strip_prefix("line-").unwrap_or_default(), names)
            }
            ["pays", rest @ ..] => PaysFigure::read(rest, names.book()).map(Self::Pays),
            ["price", name, rest @ ..] if rest.len() <= 2 => PriceFigure::read(name, rest, names).map(Self::Price),
            ["plan", _, rest @ ..] => PlanFigure::read(rest, names).map(Self::Plan),
            ["places", place, rest @ ..] => PlaceFigure::read(place, rest, names).map(Self::Places),
            ["pattern", name, rest @ ..] => PatternFigure::read(name, rest, names).map(Self::Pattern),
            ["slow", rest @ ..] => SlowFigure::read(rest, names).map(Self::Slow),
            ["proof", of, rest @ ..] if rest.len() <= 2 => ProofFigure::read(of, rest).map(Self::Proof),
            ["year", year, rest @ ..] => {
                let year = read_year(year)?;
                let one = names.year(year).ok_or_else(|| errors::no_tax_year(year, names.years()))?;
                let figure = ScheduleFigure::read(one, rest, names);
                figure.unwrap_or_else(|| Err(errors::no_figure(typed))).map(Self::Schedule)
            }
            _ => Err(errors::no_figure(typed)),
        }
    }

    /// A line of a year's form by its number. A year that the book has not is said to have none only when it is derived.
    fn read_line(year: i32, number: &str, names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let Some(one) = names.year(year) else { return Ok(Self::CostOfGoods { year }) };
        match one.lines.iter().position(|line| line.number == number) {
            Some(at) if one.cost_of_goods_line == Some(at) => Ok(Self::CostOfGoods { year }),
            Some(at) => Ok(Self::Line { year, at }),
            None => Err(errors::no_line(one, number)),
        }
    }

    /// The last day that matters to a figure of a name, as far as the name alone says it: the day of `stock/NAME/DATE`. Up to it a book must be
    /// costed for the figure to be read and derived.
    #[must_use]
    pub fn until(typed: &str) -> Option<NaiveDate> {
        let (_, day) = typed.strip_prefix("stock/")?.split_once('/')?;
        // Behind `totals/` a kind stands first; a thing may be called `totals` too.
        let day = crate::units::read_date(day).or_else(|_| crate::units::read_date(day.split('/').next_back().unwrap_or(day)));
        day.ok()
    }

    /// The days that it covers.
    #[must_use]
    pub fn period(self) -> Period {
        match self {
            Self::Cost(CostFigure { year, .. }) | Self::CostRow(CostRowFigure { year, .. }) => {
                year.map_or_else(Period::default, Period::year)
            }
            Self::Batch(_)
            | Self::Variance(_)
            | Self::Lot(_)
            | Self::Order(_)
            | Self::Price(_)
            | Self::Plan(_)
            | Self::Places(_)
            | Self::Pattern(_)
            | Self::Slow(_) => Period::default(),
            Self::Stock(StockFigure { on, .. }) => Period { from: None, to: on },
            Self::Pays(figure) => figure.period(),
            Self::Proof(ProofFigure { year, .. }) => year.map_or_else(Period::default, Period::year),
            Self::CostOfGoods { year } | Self::Line { year, .. } | Self::Schedule(ScheduleFigure { year, .. }) => {
                Period::year(year)
            }
        }
    }

    /// Its name.
    #[must_use]
    pub fn text(self, names: &FigureNames<'_>) -> String {
        match self {
            Self::Cost(figure) => figure.text(names),
            Self::CostRow(figure) => figure.text(names),
            Self::Batch(figure) => figure.text(names),
            Self::Variance(figure) => figure.text(names),
            Self::Lot(figure) => figure.text(names),
            Self::Order(figure) => figure.text(names),
            Self::Stock(figure) => figure.text(names),
            Self::Pays(figure) => figure.text(names.book()),
            Self::Price(figure) => figure.text(names),
            Self::Plan(figure) => figure.text(names),
            Self::Places(figure) => figure.text(names),
            Self::Pattern(figure) => figure.text(names),
            Self::Slow(figure) => figure.text(names),
            Self::Proof(figure) => figure.text(),
            Self::Schedule(figure) => figure.text(names),
            Self::CostOfGoods { year } => {
                let at = names.year(year).and_then(|one| one.cost_of_goods_line);
                names.line(year, at)
            }
            Self::Line { year, at } => names.line(year, Some(at)),
        }
    }
}

fn read_year(typed: &str) -> Result<i32, FigureFault> {
    let four = typed.len() == 4 && typed.bytes().all(|byte| byte.is_ascii_digit());
    typed.parse().ok().filter(|_| four).ok_or_else(|| errors::no_year(typed))
}
