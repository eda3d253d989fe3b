//! *What does it cost?* Cost per unit by product, by batch, over time.
//!
//! A cost per unit is total over good pieces, with two to six digits. Figures of a product are over the batches finished in the period.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::ReportHead;
use crate::reports::figure_text::{AmountText, DayText, MinutesText, QuantityText, UnitCostText};

/// Cost per unit, by component; money per unit with two to six digits. `paid` and `full` are the whole cost over the pieces, rounded half away from zero
/// to six digits; the parts are fitted to add up to these, so that one may be a millionth off what it comes to when it is divided by itself.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PerUnit {
    /// Materials, freight in included.
    #[schemars(with = "UnitCostText")]
    pub materials: String,
    /// Blades, paper.
    #[schemars(with = "UnitCostText")]
    pub wear: String,
    /// Hired help.
    #[schemars(with = "UnitCostText")]
    pub bought_in_time: String,
    /// Royalty and licence.
    #[schemars(with = "UnitCostText")]
    pub royalty: String,
    /// The five above (freight is in materials): what was laid out.
    #[schemars(with = "UnitCostText")]
    pub paid: String,
    /// The owner's hours at the rate of the day.
    #[schemars(with = "UnitCostText")]
    pub own_time: String,
    /// Overhead applied.
    #[schemars(with = "UnitCostText")]
    pub overhead: String,
    /// Paid, own time and overhead.
    #[schemars(with = "UnitCostText")]
    pub full: String,
}

/// Minutes at one step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StepCost {
    /// The step's name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// The owner's minutes a unit.
    #[schemars(with = "MinutesText")]
    pub minutes_per_unit: String,
    /// Bought-in minutes a unit.
    #[schemars(with = "MinutesText")]
    pub bought_in_minutes_per_unit: String,
    /// Minutes planned a unit, where the recipe has them.
    #[schemars(with = "Option<MinutesText>")]
    pub planned_minutes_per_unit: Option<String>,
}

/// A difference between actual and allowed cost, plus is unfavourable.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Variance {
    /// Which: `material price`, `efficiency at cutting`, …
    pub name: String,
    /// Money.
    #[schemars(with = "AmountText")]
    pub amount: String,
    /// `unfavourable` or `favourable`; `charged off` for a named loss and `put back` for kept material, which only leave the good
    /// pieces; `none` where it rounds to nothing.
    pub word: String,
    /// The same in a maker's words: `Cutting took 12 min longer than planned`.
    pub says: String,
}

/// A batch of a product.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BatchCost {
    /// The batch's name.
    pub name: String,
    /// The day on which its last pieces of the period were finished.
    #[schemars(with = "DayText")]
    pub finished: String,
    /// Good pieces of this product.
    #[schemars(with = "QuantityText")]
    pub made: String,
    /// Lost pieces of this product.
    #[schemars(with = "QuantityText")]
    pub lost: String,
    /// Cost per unit.
    pub per_unit: PerUnit,
    /// The owner's minutes a unit; null where hours are unknown.
    #[schemars(with = "Option<MinutesText>")]
    pub minutes_per_unit: Option<String>,
    /// Variances; empty where the product has no recipe.
    pub variances: Vec<Variance>,
}

/// Something that went into a product.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct UseCost {
    /// The thing's name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Quantity a unit of the product, two to six digits.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// The thing's unit.
    pub unit: String,
    /// Paid cost a unit of the product, rounded half away from zero to six digits by itself.
    #[schemars(with = "UnitCostText")]
    pub cost: String,
}

/// A product.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ProductCost {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Its product line's name.
    pub line: Option<String>,
    /// Good pieces made in the period.
    #[schemars(with = "QuantityText")]
    pub made: String,
    /// Its unit.
    pub unit: String,
    /// Cost per unit; null where none was made.
    pub per_unit: Option<PerUnit>,
    /// The owner's minutes a unit; null where hours are unknown or none was made.
    #[schemars(with = "Option<MinutesText>")]
    pub minutes_per_unit: Option<String>,
    /// Bought-in minutes a unit.
    #[schemars(with = "Option<MinutesText>")]
    pub bought_in_minutes_per_unit: Option<String>,
    /// Minutes by step.
    pub steps: Vec<StepCost>,
    /// Its batches, oldest first.
    pub batches: Vec<BatchCost>,
    /// List price on the last day covered.
    #[schemars(with = "Option<UnitCostText>")]
    pub price: Option<String>,
    /// What goes into one, direct uses only.
    pub uses: Vec<UseCost>,
}

impl ProductCost {
    /// Of which batches the hours are not known, in words; `None` where all are known.
    #[must_use]
    pub fn hours_unknown(&self) -> Option<String> {
        if self.minutes_per_unit.is_some() {
            return None;
        }
        let unknown = self.batches.iter().filter(|batch| batch.minutes_per_unit.is_none()).count();
        let all = self.batches.len();
        Some(match (unknown, all) {
            (0, _) => "so far as hours are known".to_owned(),
            (1, 1) => "so far as the hours of its batch are known".to_owned(),
            (1, _) => format!("but the hours of one of its {all} batches are not known"),
            (unknown, all) if unknown == all => "so far as the hours of its batches are known".to_owned(),
            _ => format!("but the hours of {unknown} of its {all} batches are not known"),
        })
    }
}

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CostReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// Products, by name.
    pub products: Vec<ProductCost>,
    /// Warnings that a reader of the figures must know.
    pub notes: Vec<String>,
}
