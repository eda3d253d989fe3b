//! Figures of what stands beside a cost: minutes of a unit by step, what went into it, and how a batch's cost differs from its recipe:
//! `cost/pull-cart/2026/steps/sanding/minutes`, `cost/pull-cart/uses/red-oak/quantity`, `batch/PC-021/variances/efficiency-at-sanding`.

use std::collections::{BTreeMap, BTreeSet};

use chrono::Datelike;

use super::errors::{FigureFault, no_part};
use super::name_table::segment;
use super::{FigureNames, read_year};
use crate::costing::{StandardPrices, TakenOut, VarianceOf, variances_of};
use crate::events::Output;
use crate::names::{BatchId, StepId, ThingId};
use crate::reports::report_cost::opened_name;
use crate::year::Books;

/// A row of what a unit of a thing took.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CostRow {
    /// Minutes at a step, the owner's; none: hours from before the book began.
    Minutes(Option<StepId>),
    /// Bought-in minutes likewise.
    BoughtInMinutes(Option<StepId>),
    /// How much of a thing went into it.
    UsedQuantity(ThingId),
    /// What that cost, paid.
    UsedCost(ThingId),
}

/// What a unit of a thing took: of all that was finished in a year, or ever.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CostRowFigure {
    /// The thing that was made.
    pub thing: ThingId,
    /// The year in which it was finished.
    pub year: Option<i32>,
    /// The row.
    pub row: CostRow,
}

const STEPS: &str = "steps";
const USES: &str = "uses";
const VARIANCES: &str = "variances";

impl CostRowFigure {
    /// Whether it is of minutes at a step, not of what went into it.
    #[must_use]
    pub const fn is_of_time(self) -> bool {
        matches!(self.row, CostRow::Minutes(_) | CostRow::BoughtInMinutes(_))
    }

    /// Reads what stands behind `cost/NAME/`.
    pub(super) fn read(name: &str, rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let thing = names.read_thing(name)?;
        let (year, rest) = match rest {
            [STEPS | USES, ..] => (None, rest),
            [year, rest @ ..] => (Some(read_year(year)?), rest),
            [] => (None, rest),
        };
        let row = match *rest {
            [STEPS, step, part] => {
                let step = if step == opened_name(names.book()) { None } else { Some(read_step(step, names)?) };
                match part {
                    "minutes" => CostRow::Minutes(step),
                    "bought-in-minutes" => CostRow::BoughtInMinutes(step),
                    other => return Err(no_part(other, &["minutes", "bought-in-minutes"])),
                }
            }
            [USES, used, part] => {
                let used = names.read_thing(used)?;
                match part {
                    "quantity" => CostRow::UsedQuantity(used),
                    "cost" => CostRow::UsedCost(used),
                    other => return Err(no_part(other, &["quantity", "cost"])),
                }
            }
            _ => {
                return Err(FigureFault(format!(
                    "a row of a cost is `cost/{name}/{STEPS}/STEP/minutes` or `cost/{name}/{USES}/THING/cost`"
                )));
            }
        };
        Ok(Self { thing, year, row })
    }

    /// All of some things, each of a year or ever, but for steps at which no time was spent. One way through the batches.
    pub(super) fn all(books: Books<'_>, costs: &[(ThingId, Option<i32>)]) -> Vec<Self> {
        let mut rows: BTreeMap<(ThingId, Option<i32>), BTreeSet<CostRow>> = BTreeMap::new();
        for account in &books.costed.batches {
            for output in &account.outputs {
                let Output::Thing(thing) = output.what else { continue };
                for year in [None, Some(output.date.year())] {
                    let of = rows.entry((thing, year)).or_default();
                    for one in output.vector.minutes() {
                        of.extend((!one.own.is_zero()).then_some(CostRow::Minutes(one.step)));
                        of.extend((!one.bought_in.is_zero()).then_some(CostRow::BoughtInMinutes(one.step)));
                    }
                    for item in &account.used {
                        of.extend([CostRow::UsedQuantity(item.thing), CostRow::UsedCost(item.thing)]);
                    }
                }
            }
        }
        let of_cost = |&(thing, year): &(ThingId, Option<i32>)| {
            let rows = rows.remove(&(thing, year)).unwrap_or_default();
            rows.into_iter().map(move |row| Self { thing, year, row })
        };
        costs.iter().flat_map(of_cost).collect()
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let year = self.year.map_or_else(String::new, |year| format!("/{year:04}"));
        let step =
            |step: Option<StepId>| step.map_or_else(|| opened_name(names.book()).to_owned(), |step| step_name(step, names));
        let row = match self.row {
            CostRow::Minutes(one) => format!("{STEPS}/{}/minutes", step(one)),
            CostRow::BoughtInMinutes(one) => format!("{STEPS}/{}/bought-in-minutes", step(one)),
            CostRow::UsedQuantity(used) => format!("{USES}/{}/quantity", names.thing(used)),
            CostRow::UsedCost(used) => format!("{USES}/{}/cost", names.thing(used)),
        };
        format!("cost/{}{year}/{row}", names.thing(self.thing))
    }
}

/// How a batch's cost differs from its recipe, in one regard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the variants are those of the costing's variances")]
pub enum VarianceKind {
    Price { wear: bool },
    PartPrice,
    Quantity { wear: bool },
    Rate,
    Hours(StepId),
    Overhead,
    Straight,
    Kept,
    ChargedOff,
}

impl From<VarianceOf> for VarianceKind {
    fn from(of: VarianceOf) -> Self {
        match of {
            VarianceOf::Price { wear } => Self::Price { wear },
            VarianceOf::PartPrice => Self::PartPrice,
            VarianceOf::Quantity { wear } => Self::Quantity { wear },
            VarianceOf::Rate => Self::Rate,
            VarianceOf::Hours { step, .. } => Self::Hours(step),
            VarianceOf::Overhead => Self::Overhead,
            VarianceOf::Straight => Self::Straight,
            VarianceOf::TakenOut(TakenOut::Kept) => Self::Kept,
            VarianceOf::TakenOut(TakenOut::ChargedOff) => Self::ChargedOff,
        }
    }
}

/// The kinds that are of no step.
const KINDS: [(VarianceKind, &str); 10] = [
    (VarianceKind::Price { wear: false }, "material-price"),
    (VarianceKind::Price { wear: true }, "wear-price"),
    (VarianceKind::PartPrice, "part-price"),
    (VarianceKind::Quantity { wear: false }, "material-quantity"),
    (VarianceKind::Quantity { wear: true }, "wear-quantity"),
    (VarianceKind::Rate, "time-rate"),
    (VarianceKind::Overhead, "overhead-efficiency"),
    (VarianceKind::Straight, "straight-to-the-batch"),
    (VarianceKind::Kept, "kept"),
    (VarianceKind::ChargedOff, "abnormal-loss"),
];
const AT_STEP: &str = "efficiency-at-";

/// A variance of a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct VarianceFigure {
    /// The batch.
    pub batch: BatchId,
    /// Which.
    pub of: VarianceKind,
}

impl VarianceFigure {
    /// Reads what stands behind `batch/`.
    pub(super) fn read(batch: &str, typed: &str, names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let batch = names.read_batch(batch)?;
        if let Some(step) = typed.strip_prefix(AT_STEP) {
            return Ok(Self { batch, of: VarianceKind::Hours(read_step(step, names)?) });
        }
        let found = KINDS.iter().find(|(_, text)| *text == typed).map(|(of, _)| *of);
        let known = || KINDS.iter().map(|(_, text)| *text).chain(["efficiency-at-STEP"]).collect::<Vec<_>>();
        found.map(|of| Self { batch, of }).ok_or_else(|| no_part(typed, &known()))
    }

    /// All of a book's batches. None where a figure is too large to be carried.
    pub(super) fn all(books: Books<'_>) -> Vec<Self> {
        let Some(prices) = StandardPrices::of(books.costed) else { return Vec::new() };
        let mut all = Vec::new();
        for account in &books.costed.batches {
            let Some(Some(of_batch)) = variances_of(books.book, account, &prices) else { continue };
            all.extend(of_batch.variances.iter().map(|row| Self { batch: account.batch, of: row.of.into() }));
        }
        all
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let of = match self.of {
            VarianceKind::Hours(step) => format!("{AT_STEP}{}", step_name(step, names)),
            of => KINDS.iter().find(|(one, _)| *one == of).map_or("", |(_, text)| *text).to_owned(),
        };
        format!("batch/{}/{VARIANCES}/{of}", names.batch(self.batch))
    }
}

fn step_name(step: StepId, names: &FigureNames<'_>) -> String {
    segment(&names.book().step(step).named.name)
}

fn read_step(typed: &str, names: &FigureNames<'_>) -> Result<StepId, FigureFault> {
    let at = names.book().steps.iter().position(|step| segment(&step.named.name) == typed);
    at.and_then(|at| u32::try_from(at).ok()).map(StepId).ok_or_else(|| super::errors::unknown("step", typed))
}
