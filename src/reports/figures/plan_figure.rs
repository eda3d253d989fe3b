//! Figures of a plan: `plan/6_pull-cart+4_village-set/cash-needed`, `plan/6_pull-cart/step/sanding/expected`.
//!
//! A plan is of what is asked, so its figures are those of the one plan that the names were asked for ([`FigureNames::asking`]).

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::errors::{FigureFault, no_part, not_in_plan, unknown};
use super::name_table::segment;
use super::pattern_figure::read_pattern;
use super::{CostPart, FigureNames};
use crate::names::{PatternId, ResolvedBook, StepId, ThingId};
use crate::reports::planning::Planned;

/// A column of one of a plan's tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the columns of the plan report say it")]
pub enum PlanPart {
    Asked,
    ForParts,
    OnHand,
    OnTheBench,
    Elsewhere,
    ToBuild,
    ToBegin,
    ExpectedGood,
    LostPercent,
    LearntFromBatches,
    ByRecipe,
    Needed,
    Left,
    Short,
    Packs,
    Buy,
    PackCost,
    Cost,
    Planned,
    Expected,
    ByHelpers,
    Best,
    HoursPerWeek,
    ThereAre,
}

impl PlanPart {
    /// As it stands in a figure's name.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::Asked => "asked",
            Self::ForParts => "for-parts",
            Self::OnHand => "on-hand",
            Self::OnTheBench => "on-the-bench",
            Self::Elsewhere => "elsewhere",
            Self::ToBuild => "to-build",
            Self::ToBegin => "to-begin",
            Self::ExpectedGood => "expected-good",
            Self::LostPercent => "lost-percent",
            Self::LearntFromBatches => "learnt-from-batches",
            Self::ByRecipe => "by-recipe",
            Self::Needed => "needed",
            Self::Left => "left",
            Self::Short => "short",
            Self::Packs => "packs",
            Self::Buy => "buy",
            Self::PackCost => "pack-cost",
            Self::Cost => "cost",
            Self::Planned => "planned",
            Self::Expected => "expected",
            Self::ByHelpers => "by-helpers",
            Self::Best => "best",
            Self::HoursPerWeek => "hours-per-week",
            Self::ThereAre => "there-are",
        }
    }
}

/// A table of a plan, and a row of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlanRow {
    /// A product or part to build.
    Build(ThingId),
    /// A material that is needed.
    Material(ThingId),
    /// Something to buy.
    Buy(ThingId),
    /// A pattern whose licences have a limit.
    Licence(PatternId),
    /// The time of a step.
    Step(StepId),
    /// An offcut that may serve.
    Offcut(ThingId),
    /// Whether it fits by the day that was asked.
    By,
}

impl PlanRow {
    /// The columns of its table.
    const fn parts(self) -> &'static [PlanPart] {
        use PlanPart as P;
        match self {
            Self::Build(_) => &[
                P::Asked,
                P::ForParts,
                P::OnHand,
                P::OnTheBench,
                P::Elsewhere,
                P::ToBuild,
                P::ToBegin,
                P::ExpectedGood,
                P::LostPercent,
                P::LearntFromBatches,
            ],
            Self::Material(_) => &[P::ByRecipe, P::Needed, P::OnHand, P::Elsewhere, P::Short],
            Self::Buy(_) => &[P::Short, P::Packs, P::Buy, P::PackCost, P::Cost],
            Self::Licence(_) => &[P::Needed, P::Left, P::OnTheBench, P::Short, P::Buy, P::Cost],
            Self::Step(_) => &[P::Planned, P::Expected, P::ByHelpers, P::Best],
            Self::Offcut(_) => &[P::OnHand],
            Self::By => &[P::HoursPerWeek, P::ThereAre, P::Needed],
        }
    }

    const fn word(self) -> &'static str {
        match self {
            Self::Build(_) => "build",
            Self::Material(_) => "material",
            Self::Buy(_) => "buy",
            Self::Licence(_) => "licence",
            Self::Step(_) => "step",
            Self::Offcut(_) => "offcut",
            Self::By => "by",
        }
    }
}

/// A figure of the plan that was asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlanFigure {
    /// Money that the plan takes.
    CashNeeded,
    /// What helpers are paid on the day of their work.
    HelperPay,
    /// Royalties that are paid when the pieces are made.
    Royalties,
    /// Helpers and royalties that are paid later.
    DueLater,
    /// The owner's minutes in all.
    OwnMinutes,
    /// Helpers' minutes in all.
    HelperMinutes,
    /// A column of a table.
    Row(PlanRow, PlanPart),
    /// What a piece that is built is expected to cost, or a part of that.
    Cost(ThingId, Option<CostPart>),
}

const CASH_NEEDED: &str = "cash-needed";
const HELPER_PAY: &str = "helper-pay";
const ROYALTIES: &str = "royalties";
const DUE_LATER: &str = "due-later";
const OWN_MINUTES: &str = "own-minutes";
const HELPER_MINUTES: &str = "helper-minutes";
const COST: &str = "cost";

impl PlanFigure {
    /// Reads what stands after `plan/PIECES/`.
    pub(super) fn read(rest: &[&str], names: &FigureNames<'_>) -> Result<Self, FigureFault> {
        let Some(planned) = names.planned() else { return Err(FigureFault("no plan was asked for".to_owned())) };
        let row = match *rest {
            [CASH_NEEDED] => return Ok(Self::CashNeeded),
            [HELPER_PAY] => return Ok(Self::HelperPay),
            [ROYALTIES] => return Ok(Self::Royalties),
            [DUE_LATER] => return Ok(Self::DueLater),
            [OWN_MINUTES] => return Ok(Self::OwnMinutes),
            [HELPER_MINUTES] => return Ok(Self::HelperMinutes),
            [COST, thing, ref part @ ..] if part.len() <= 1 => {
                let thing = names.read_thing(thing)?;
                let part = part.first().map(|part| CostPart::read(part)).transpose()?;
                let is_built = planned.costs.get(&thing).is_some_and(|cost| !cost.quantity.is_zero());
                let figure = Self::Cost(thing, part);
                return if is_built { Ok(figure) } else { Err(not_in_plan(COST, names.thing(thing))) };
            }
            ["build", thing, _] => PlanRow::Build(names.read_thing(thing)?),
            ["material", thing, _] => PlanRow::Material(names.read_thing(thing)?),
            ["buy", thing, _] => PlanRow::Buy(names.read_thing(thing)?),
            ["offcut", thing, _] => PlanRow::Offcut(names.read_thing(thing)?),
            ["step", step, _] => {
                let book = names.book();
                let at = book.steps.iter().position(|one| segment(&one.named.name) == step);
                let at = at.and_then(|at| u32::try_from(at).ok()).ok_or_else(|| unknown("step", step))?;
                PlanRow::Step(StepId(at))
            }
            ["licence", pattern, _] => PlanRow::Licence(read_pattern(pattern, names.book())?),
            ["by", _, _] => PlanRow::By,
            _ => {
                return Err(FigureFault(format!(
                    "figures of a plan are `{CASH_NEEDED}`, `{HELPER_PAY}`, `{ROYALTIES}`, `{DUE_LATER}`, `{OWN_MINUTES}`, `{HELPER_MINUTES}`, `build/NAME/to-build`, `material/NAME/needed`, `buy/NAME/cost`, `step/NAME/expected`, `cost/NAME/PART`, `offcut/NAME/on-hand`, `licence/PATTERN/short` and `by/DAY/needed`, each after `plan/PIECES/`"
                )));
            }
        };
        if !rows(planned).contains(&row) {
            return Err(match row {
                PlanRow::By => {
                    FigureFault("the shop does not say how many hours it has: `hours 12 per week` in `shop`".to_owned())
                }
                _ => not_in_plan(row.word(), rest.get(1).copied().unwrap_or_default()),
            });
        }
        let typed = rest.last().copied().unwrap_or_default();
        let part = row.parts().iter().find(|part| part.text() == typed);
        let part = part.ok_or_else(|| no_part(typed, &row.parts().iter().map(|part| part.text()).collect::<Vec<_>>()))?;
        Ok(Self::Row(row, *part))
    }

    /// All of a plan.
    pub(super) fn all(planned: &Planned<'_>) -> Vec<Self> {
        let money = [Self::CashNeeded, Self::HelperPay, Self::Royalties, Self::DueLater];
        let mut all = [money.as_slice(), &[Self::OwnMinutes, Self::HelperMinutes]].concat();
        for row in rows(planned) {
            all.extend(row.parts().iter().map(|part| Self::Row(row, *part)));
        }
        let costed = planned.costs.iter().filter(|(_, cost)| !cost.quantity.is_zero());
        for (thing, _) in costed {
            all.extend(std::iter::once(None).chain(CostPart::ALL.map(Some)).map(|part| Self::Cost(*thing, part)));
        }
        all
    }

    pub(super) fn text(self, names: &FigureNames<'_>) -> String {
        let Some(planned) = names.planned() else { return String::new() };
        let plan = names.plan_of(&planned.asked.builds);
        match self {
            Self::CashNeeded => format!("{plan}/{CASH_NEEDED}"),
            Self::HelperPay => format!("{plan}/{HELPER_PAY}"),
            Self::Royalties => format!("{plan}/{ROYALTIES}"),
            Self::DueLater => format!("{plan}/{DUE_LATER}"),
            Self::OwnMinutes => format!("{plan}/{OWN_MINUTES}"),
            Self::HelperMinutes => format!("{plan}/{HELPER_MINUTES}"),
            Self::Cost(thing, part) => super::cost_figure::with_part(format!("{plan}/{COST}/{}", names.thing(thing)), part),
            Self::Row(row, part) => {
                let of = match row {
                    PlanRow::Build(thing) | PlanRow::Material(thing) | PlanRow::Buy(thing) | PlanRow::Offcut(thing) => {
                        names.thing(thing).to_owned()
                    }
                    PlanRow::Licence(pattern) => segment(&names.book().pattern(pattern).named.name),
                    PlanRow::Step(step) => segment(&names.book().step(step).named.name),
                    PlanRow::By => planned.asked.by.map_or_else(String::new, |(_, day)| day.to_string()),
                };
                format!("{plan}/{}/{of}/{}", row.word(), part.text())
            }
        }
    }
}

/// The rows of a plan's tables.
fn rows(planned: &Planned<'_>) -> Vec<PlanRow> {
    let mut rows: Vec<PlanRow> = planned.builds.iter().map(|build| PlanRow::Build(build.thing)).collect();
    rows.extend(planned.buys.iter().map(|buy| PlanRow::Buy(buy.thing)));
    rows.extend(planned.steps.iter().map(|step| PlanRow::Step(step.step)));
    rows.extend(planned.needs.keys().map(|thing| PlanRow::Material(*thing)));
    rows.extend(planned.offcuts().map(|(thing, _, _)| PlanRow::Offcut(thing)));
    rows.extend(planned.licences.iter().map(|need| PlanRow::Licence(need.pattern)));
    rows.extend(planned.by.as_ref().map(|_| PlanRow::By));
    rows
}

/// How the names of a plan's figures begin, with the pieces in the order in which they were asked for.
pub(crate) fn plan_name(book: &ResolvedBook, builds: &[(ThingId, Decimal)]) -> String {
    let name = |thing: ThingId| segment(&book.thing(thing).named.name);
    let pieces: Vec<String> = builds.iter().map(|(thing, count)| format!("{}_{}", count.normalize(), name(*thing))).collect();
    format!("plan/{}", pieces.join("+"))
}

/// The day of `by/DAY/…`, where it is one.
pub(super) fn day_of(rest: &[&str]) -> Option<NaiveDate> {
    match rest {
        ["by", day, ..] => crate::units::read_date(day).ok(),
        _ => None,
    }
}
