//! The entries of a file of yearly figures: a rate, a limit or a table each, with the years or days for which it holds, and its source.
//!
//! Money and percentages are text there, so that nothing passes through a binary fraction.

use std::str::FromStr;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use serde::Deserialize;

use crate::units::{read_date, read_decimal};
use crate::year::SourceNote;

/// A decimal written as text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(try_from = "String")]
pub struct Figure(pub Decimal);

impl TryFrom<String> for Figure {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        read_decimal(&text).map(Figure).map_err(|fault| format!("`{text}` is no figure: {fault}"))
    }
}

/// A day written as text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(try_from = "String")]
pub struct Day(pub NaiveDate);

impl TryFrom<String> for Day {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        read_date(&text).map(Day).map_err(|_| format!("`{text}` is no day as `2026-01-01`"))
    }
}

macro_rules! with_source {
    ($($name:ident)*) => {$(
        impl $name {
            /// Where it comes from.
            #[must_use]
            pub fn note(&self) -> SourceNote {
                SourceNote { text: self.source.clone(), mark: self.mark.clone() }
            }
        }
    )*};
}

with_source! { MileageRate SelfEmploymentRates GrossReceiptsLimit HomeSimplified MealsPart AtOnce HelperPayments GiftLimit Section179 Bonus MidQuarterAbove Section179UseAbove DepreciationTable }

/// Money per business mile, from one day to another.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct MileageRate {
    pub from: Day,
    pub to: Day,
    pub per_mile: Figure,
    pub source: String,
    pub mark: String,
}

/// Rates of self-employment tax, in percent, the floor and the wage base.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct SelfEmploymentRates {
    pub year: i32,
    pub net_part: Figure,
    pub floor: Figure,
    pub social_security: Figure,
    pub medicare: Figure,
    pub deductible: Figure,
    pub wage_base: Figure,
    pub source: String,
    pub mark: String,
}

/// Average gross receipts up to which a shop is a small taxpayer.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct GrossReceiptsLimit {
    pub year: i32,
    pub limit: Figure,
    pub source: String,
    pub mark: String,
}

/// The simplified method of the home workshop.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct HomeSimplified {
    pub from_year: i32,
    pub per_square_foot: Figure,
    pub most_square_feet: Figure,
    pub fewest_days_of_a_month: u32,
    pub source: String,
    pub mark: String,
}

/// The part of meals that counts, in percent.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct MealsPart {
    pub year: i32,
    pub percent: Figure,
    pub source: String,
    pub mark: String,
}

/// What an item may cost to be charged off at once.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct AtOnce {
    pub from_year: i32,
    pub supply_unit: Figure,
    pub supply_months: Figure,
    pub de_minimis_item: Figure,
    pub source: String,
    pub mark: String,
}

/// A helper's payments of a year from which a report is due.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct HelperPayments {
    pub year: i32,
    pub limit: Figure,
    pub source: String,
    pub mark: String,
}

/// What of gifts to one person counts in a year.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct GiftLimit {
    pub from_year: i32,
    pub per_person: Figure,
    pub source: String,
    pub mark: String,
}

/// Limits of section 179.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct Section179 {
    pub year: i32,
    pub limit: Figure,
    pub phase_out_from: Figure,
    pub source: String,
    pub mark: String,
}

/// The business use above which section 179 may be taken, in percent.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct Section179UseAbove {
    pub percent: Figure,
    pub source: String,
    pub mark: String,
}

/// Bonus depreciation of things put in use in a year, in percent.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct Bonus {
    pub in_use_year: i32,
    pub acquired_before: Option<Day>,
    pub percent: Figure,
    pub source: String,
    pub mark: String,
}

/// The part of a year's basis in the last quarter above which the mid-quarter convention holds, in percent.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct MidQuarterAbove {
    pub percent: Figure,
    pub source: String,
    pub mark: String,
}

/// When in a year a thing counts as put in use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(try_from = "String")]
pub enum Convention {
    /// In its middle.
    HalfYear,
    /// In the middle of its quarter, 1 to 4.
    MidQuarter(u8),
}

impl Convention {
    /// As it is said: `half-year`, `mid-quarter 4`.
    #[must_use]
    pub fn in_words(self) -> String {
        match self {
            Self::HalfYear => "half-year".to_owned(),
            Self::MidQuarter(quarter) => format!("mid-quarter {quarter}"),
        }
    }
}

impl TryFrom<String> for Convention {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        let quarter = text.strip_prefix("mid-quarter-").and_then(|quarter| u8::from_str(quarter).ok());
        match (text.as_str(), quarter) {
            ("half-year", _) => Ok(Self::HalfYear),
            (_, Some(quarter @ 1..=4)) => Ok(Self::MidQuarter(quarter)),
            _ => Err(format!("`{text}` is no convention: `half-year` or `mid-quarter-1` to `mid-quarter-4`")),
        }
    }
}

/// Percent of the basis year by year, and of a year's amount in the year of sale (one figure, or one a quarter of sale).
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "the fields are named as in the file, which explains them")]
pub struct DepreciationTable {
    pub years: u32,
    pub convention: Convention,
    pub percent: Vec<Figure>,
    pub sold: Vec<Figure>,
    pub source: String,
    pub mark: String,
}
