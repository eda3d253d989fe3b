//! *What have I?* On hand by thing and place, on the bench, and what to reorder.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::ReportHead;

/// A lot on hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StockLotLine {
    /// Its code, its batch's name, or a receipt; where it came from in words.
    pub origin: String,
    /// Its day.
    pub date: String,
    /// How much is left.
    pub quantity: String,
    /// Paid cost of that.
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
    /// How much.
    pub quantity: String,
    /// Its unit.
    pub unit: String,
    /// Paid cost.
    pub paid: String,
    /// Full cost.
    pub full: String,
    /// Its lots, oldest first.
    pub lots: Vec<StockLotLine>,
    /// Whether the thing, over all places, has come to the point at which it is reordered.
    pub reorder: bool,
    /// That point, where the book says one.
    pub reorder_at: Option<String>,
}

/// A batch on the bench.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BenchItem {
    /// The batch's name.
    pub batch: String,
    /// The day it was begun.
    pub started: String,
    /// Paid cost so far.
    pub paid: String,
    /// Full cost so far.
    pub full: String,
    /// Minutes so far, own and bought in.
    pub minutes: String,
    /// What it aims at, in words; empty where it says nothing.
    pub aims: String,
}

/// Sums; packing is included, unlike the form's line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StockTotals {
    /// Materials, paid cost.
    pub materials: String,
    /// Wear, paid cost.
    pub wear: String,
    /// Packing, paid cost.
    pub packing: String,
    /// Products, paid cost.
    pub products: String,
    /// On the bench, paid cost.
    pub on_the_bench: String,
    /// All, paid cost.
    pub paid: String,
    /// All, full cost.
    pub full: String,
}

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StockReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// The day, at its end.
    pub on: Option<String>,
    /// Things at places, by kind, name and place.
    pub items: Vec<StockItem>,
    /// Batches on the bench.
    pub on_the_bench: Vec<BenchItem>,
    /// Sums.
    pub totals: StockTotals,
    /// Paid value of all stock and the bench at each month's end of the period, for the picture.
    pub over_time: Vec<(String, String)>,
    /// Warnings that a reader of the figures must know.
    pub notes: Vec<String>,
}
