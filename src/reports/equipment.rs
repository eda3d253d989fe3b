//! The tools of a tax year: a row each, with the ten steps of the year, the whole life, and the list of those that left.
//!
//! What steps 3 to 5 and 7 to 9 say sums to the row's year; the years of a life sum, at the end, to the business part of the cost.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{DayText, MoneyText, PercentText, QuantityText};

/// A tool's year.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EquipmentRow {
    /// The tool's name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// In use from.
    #[schemars(with = "DayText")]
    pub in_use_from: String,
    /// How many the row tells of.
    #[schemars(with = "QuantityText")]
    pub count: String,
    /// Of a line with several rows, which it is: `1 of 2`; empty for the only one.
    pub of_line: String,
    /// Landed cost.
    #[schemars(with = "MoneyText")]
    pub cost: String,
    /// Business part in percent.
    #[schemars(with = "PercentText")]
    pub business_use: String,
    /// How: `expensed at once`, `recovered over 7 years`, ….
    pub method: String,
    /// This year's amount.
    #[schemars(with = "MoneyText")]
    pub this_year: String,
    /// Left after this year.
    #[schemars(with = "MoneyText")]
    pub left: String,
    /// On which line it stands.
    pub line: String,
    /// The ten steps by which the year was figured, in their order.
    pub steps: Vec<EquipmentStep>,
    /// Year by year over its whole life, if nothing changes.
    pub life: Vec<EquipmentLifeYear>,
}

/// A step of a tool's year. What steps 3 to 5 and 7 to 9 say is added up to the year's amount.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EquipmentStep {
    /// Which: 1 to 10.
    pub step: u8,
    /// Its name.
    pub name: String,
    /// What it says; empty where it does not apply.
    pub how: String,
    /// Its amount; null where it has none.
    #[schemars(with = "Option<MoneyText>")]
    pub amount: Option<String>,
}

/// A year of a tool's life.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EquipmentLifeYear {
    /// The year.
    pub year: i32,
    /// At once: as supplies, de minimis, or under section 179 before its limits.
    #[schemars(with = "MoneyText")]
    pub at_once: String,
    /// Bonus.
    #[schemars(with = "MoneyText")]
    pub bonus: String,
    /// By the table, less what the year of sale takes off.
    #[schemars(with = "MoneyText")]
    pub table: String,
    /// What the later years recover.
    #[schemars(with = "MoneyText")]
    pub left: String,
}

/// A tool that left the shop in the year, for the list of sold tools: on no line of the form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ToolGoneRow {
    /// The tool's name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// In use from.
    #[schemars(with = "DayText")]
    pub in_use_from: String,
    /// The day it left.
    #[schemars(with = "DayText")]
    pub date: String,
    /// What it fetched, business and private part.
    #[schemars(with = "MoneyText")]
    pub proceeds: String,
    /// Of that, the business part.
    #[schemars(with = "MoneyText")]
    pub business_proceeds: String,
    /// Business part of its cost.
    #[schemars(with = "MoneyText")]
    pub business_cost: String,
    /// Recovered by then.
    #[schemars(with = "MoneyText")]
    pub recovered: String,
    /// Business proceeds less business cost plus what was recovered; below zero: a loss. Null where the business part changed: an open
    /// question asks for it.
    #[schemars(with = "Option<MoneyText>")]
    pub gain: Option<String>,
}
