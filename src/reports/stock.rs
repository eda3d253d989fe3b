//! *What have I?* On hand by thing and place, on the bench, and what to reorder.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{DayText, MinutesText, MoneyText, MonthText, QuantityText};
use crate::reports::{PatternUse, ReportHead};

/// A lot on hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StockLotLine {
    /// Its code, its batch's name, or a receipt; where it came from in words.
    pub origin: String,
    /// Its day.
    #[schemars(with = "DayText")]
    pub date: String,
    /// How much is left.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// Paid cost of that.
    #[schemars(with = "MoneyText")]
    pub paid: String,
}

/// A thing at a place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StockItem {
    /// Name.
    pub name: String,
    /// Title.
    pub title: String,
    /// `material`, `wear`, `packing` or `product`.
    pub kind: String,
    /// The place's name.
    pub place: String,
    /// Its title.
    pub place_title: String,
    /// How much.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// Its unit.
    pub unit: String,
    /// Paid cost.
    #[schemars(with = "MoneyText")]
    pub paid: String,
    /// Full cost.
    #[schemars(with = "MoneyText")]
    pub full: String,
    /// Its lots, oldest first.
    pub lots: Vec<StockLotLine>,
    /// Whether the thing, over all places, has come to the point at which it is reordered.
    pub reorder: bool,
    /// That point, where the book says one.
    #[schemars(with = "Option<QuantityText>")]
    pub reorder_at: Option<String>,
}

/// A batch on the bench.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BenchItem {
    /// The batch's name.
    pub batch: String,
    /// The day it was begun.
    #[schemars(with = "DayText")]
    pub started: String,
    /// Paid cost so far.
    #[schemars(with = "MoneyText")]
    pub paid: String,
    /// Full cost so far.
    #[schemars(with = "MoneyText")]
    pub full: String,
    /// Minutes so far, own and bought in.
    #[schemars(with = "MinutesText")]
    pub minutes: String,
    /// What it aims at, in words; empty where it says nothing.
    pub aims: String,
}

/// Sums; packing is included, unlike the form's line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StockTotals {
    /// Materials, paid cost.
    #[schemars(with = "MoneyText")]
    pub materials: String,
    /// Wear, paid cost.
    #[schemars(with = "MoneyText")]
    pub wear: String,
    /// Packing, paid cost.
    #[schemars(with = "MoneyText")]
    pub packing: String,
    /// Products, paid cost.
    #[schemars(with = "MoneyText")]
    pub products: String,
    /// On the bench, paid cost.
    #[schemars(with = "MoneyText")]
    pub on_the_bench: String,
    /// All, paid cost.
    #[schemars(with = "MoneyText")]
    pub paid: String,
    /// All, full cost.
    #[schemars(with = "MoneyText")]
    pub full: String,
}

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StockReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// The day, at its end.
    #[schemars(with = "Option<DayText>")]
    pub on: Option<String>,
    /// Things at places, by kind, name and place.
    pub items: Vec<StockItem>,
    /// Batches on the bench.
    pub on_the_bench: Vec<BenchItem>,
    /// Sums.
    pub totals: StockTotals,
    /// Paid value of all stock and the bench at each month's end of the period, for the picture.
    #[schemars(with = "Vec<(MonthText, MoneyText)>")]
    pub over_time: Vec<(String, String)>,
    /// Patterns: pieces made and still permitted, and royalties due.
    pub patterns: Vec<PatternUse>,
    /// Warnings that a reader of the figures must know.
    pub notes: Vec<String>,
}
