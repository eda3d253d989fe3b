//! What a run of builds would take: the model of `kerfbook plan`.
//!
//! In: a costed book, what is to be built, and perhaps a day by which. Out: a [`PlanReport`]. Recipes, rates and prices are those of the last
//! day of the book; what is lost, used and worked is learnt from the product's own last batches, and the report says where.

mod buying;
mod expected;
mod explode;
mod finishing;
mod helper_pay;
mod hours;
mod learnt;
mod licences;
mod made_here;
mod money_needed;
mod other_times;
mod plan_notes;
mod planned;
mod shares;
mod there;
mod write_plan;

use chrono::NaiveDate;
use rust_decimal::Decimal;

pub(crate) use self::buying::ToBuy;
pub(crate) use self::expected::{CostFrom, CostItem};
pub(crate) use self::explode::{Build, NeededFor};
pub(crate) use self::helper_pay::cost_on_day;
pub(crate) use self::learnt::{LearntBatch, Took};
pub(crate) use self::licences::LicenceNeed;
pub(crate) use self::money_needed::PaidFor;
pub(crate) use self::planned::Planned;
use self::write_plan::write;
use crate::names::ThingId;
use crate::reports::{PlanReport, plan_name};
use crate::year::Books;

/// A plan of more pieces is a slip of the hand, and no shop's year.
pub const MOST_PIECES: Decimal = Decimal::from_parts(1_000_000, 0, 0, false, 0);

/// What is to be planned.
#[derive(Clone, Debug, Default)]
pub struct PlanAsked {
    /// What to build, and how much of it.
    pub builds: Vec<(ThingId, Decimal)>,
    /// From which day, and by which.
    pub by: Option<(NaiveDate, NaiveDate)>,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PlanFault {
    /// A thing has no recipe.
    NoRecipe(ThingId),
    /// A recipe needs itself, by this round.
    Round(Vec<ThingId>),
    /// The book is empty.
    Empty,
    /// A figure is too large to be carried.
    TooLarge,
}

/// Makes the plan.
///
/// # Errors
/// Where a thing has no recipe, a recipe needs itself, or a figure is too large.
pub fn report_plan(books: Books<'_>, asked: &PlanAsked) -> Result<PlanReport, PlanFault> {
    let planned = Planned::of(books, asked)?;
    let figure = plan_name(books.book, &asked.builds);
    write(&planned, figure).ok_or(PlanFault::TooLarge)
}
