//! Papers of a place: the slip that is handed over with goods and signed, and the last count held against the books.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{DayText, MoneyText, QuantityText, UnitCostText};

/// Goods on a slip.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SlipRow {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// How much.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// Its unit.
    pub unit: String,
    /// What a customer is asked for one: as the goods are marked on the slip's day; null where there is none.
    #[schemars(with = "Option<UnitCostText>")]
    pub price: Option<String>,
    /// All of it at that price.
    #[schemars(with = "Option<MoneyText>")]
    pub together: Option<String>,
}

/// What was handed over last, to be signed for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceSlip {
    /// The day.
    #[schemars(with = "DayText")]
    pub date: String,
    /// The channel's part of a price and its fees, in words; null for a place that is no channel or keeps none.
    pub terms: Option<String>,
    /// The goods.
    pub rows: Vec<SlipRow>,
    /// All at their prices, as far as there are some.
    #[schemars(with = "MoneyText")]
    pub together: String,
}

/// A thing in the last count of a place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CountedRow {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// Its unit.
    pub unit: String,
    /// What was counted.
    #[schemars(with = "QuantityText")]
    pub counted: String,
    /// What the books had before the count.
    #[schemars(with = "QuantityText")]
    pub booked: String,
    /// Counted less booked: below zero is missing.
    #[schemars(with = "QuantityText")]
    pub difference: String,
}
