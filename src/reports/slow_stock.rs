//! What lies long: goods on hand by the age of their lots, and of what lies over half a year, how long it will last.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{DayText, MoneyText, QuantityText};

/// Paid cost of goods by how many days ago their lots came. What came back from a buyer keeps the age that it had.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ByAge {
    /// Up to 90 days.
    #[schemars(with = "MoneyText")]
    pub to_90_days: String,
    /// 91 to 180.
    #[schemars(with = "MoneyText")]
    pub to_180_days: String,
    /// 181 to 365.
    #[schemars(with = "MoneyText")]
    pub to_365_days: String,
    /// More.
    #[schemars(with = "MoneyText")]
    pub older: String,
}

/// A thing of which some has lain over 180 days, at all places together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SlowStock {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// `material`, `wear`, `packing` or `product`.
    pub kind: String,
    /// On hand.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// Its unit.
    pub unit: String,
    /// Of that, what came over 180 days ago.
    #[schemars(with = "QuantityText")]
    pub slow_quantity: String,
    /// Paid cost of that.
    #[schemars(with = "MoneyText")]
    pub slow_paid: String,
    /// The day of its oldest lot.
    #[schemars(with = "DayText")]
    pub oldest: String,
    /// How many days ago that was.
    pub oldest_days: i64,
    /// Sold, net of returned, packed with what went out, or used in batches and in the shop in the last 365 days.
    #[schemars(with = "QuantityText")]
    pub gone_in_a_year: String,
    /// For how many months what is on hand lasts at that pace, to one digit, 365 days being twelve months; the pace is over the days that the book has, where these are
    /// fewer. Null where nothing went.
    #[schemars(with = "Option<QuantityText>")]
    pub lasts_months: Option<String>,
    /// The same in a sentence.
    pub says: String,
}

/// Goods on hand by age on the book's last day.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StockAges {
    /// The day; null for an empty book, and where that day is not among those asked about.
    #[schemars(with = "Option<DayText>")]
    pub on: Option<String>,
    /// All goods on hand by age.
    pub all: ByAge,
    /// Things of which some has lain over 180 days, that with the most paid cost first.
    pub slow: Vec<SlowStock>,
}
