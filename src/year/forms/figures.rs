//! Yearly figures of a form: rates, limits and tables, each with its source.
//!
//! Read from `forms/FORM/figures.toml`. A figure that a year has no entry for is `None`; whoever needs it says which file lacks it.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;
use serde::Deserialize;

use crate::year::Rule;
use crate::year::forms::figure_entries::{
    AtOnce, Bonus, Convention, DepreciationTable, GiftLimit, GrossReceiptsLimit, HelperPayments, HomeSimplified, MealsPart,
    MidQuarterAbove, MileageRate, Section179, Section179UseAbove, SelfEmploymentRates,
};
use crate::year::forms::rule::RuleText;

/// All figures of a form.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figures {
    form: String,
    #[serde(default)]
    mileage: Vec<MileageRate>,
    #[serde(default)]
    self_employment: Vec<SelfEmploymentRates>,
    #[serde(default)]
    gross_receipts: Vec<GrossReceiptsLimit>,
    #[serde(default)]
    home_simplified: Vec<HomeSimplified>,
    #[serde(default)]
    meals: Vec<MealsPart>,
    #[serde(default)]
    at_once: Vec<AtOnce>,
    #[serde(default)]
    helper_payments: Vec<HelperPayments>,
    #[serde(default)]
    gifts: Vec<GiftLimit>,
    #[serde(default)]
    section_179: Vec<Section179>,
    section_179_use_above: Option<Section179UseAbove>,
    #[serde(default)]
    bonus: Vec<Bonus>,
    mid_quarter_above: Option<MidQuarterAbove>,
    #[serde(default)]
    depreciation: Vec<DepreciationTable>,
    #[serde(default)]
    rule: Vec<RuleText>,
}

/// Reads a file of figures.
///
/// # Errors
/// A sentence that says what is wrong with the file.
pub(crate) fn parse_figures(text: &str) -> Result<Figures, String> {
    let figures: Figures = toml::from_str(text).map_err(|error| error.to_string().trim_end().to_owned())?;
    for (at, rule) in figures.rule.iter().enumerate() {
        if figures.rule.iter().take(at).any(|other| other.name == rule.name) {
            return Err(format!("two rules have the name `{}`", rule.name.name()));
        }
        if let Some(fault) = rule.fault() {
            return Err(fault);
        }
    }
    Ok(figures)
}

/// The entry of the latest year that is not after `year`.
fn since<T>(entries: &[T], year: i32, from: impl Fn(&T) -> i32) -> Option<&T> {
    entries.iter().filter(|entry| from(entry) <= year).max_by_key(|entry| from(entry))
}

impl Figures {
    /// The form that they belong to.
    #[must_use]
    pub fn form(&self) -> &str {
        &self.form
    }

    /// The rate per mile of a day.
    #[must_use]
    pub fn mileage(&self, day: NaiveDate) -> Option<&MileageRate> {
        self.mileage.iter().find(|rate| rate.from.0 <= day && day <= rate.to.0)
    }

    /// The rates per mile of a year, oldest first.
    pub fn mileage_of_year(&self, year: i32) -> impl Iterator<Item = &MileageRate> {
        self.mileage.iter().filter(move |rate| rate.from.0.year() <= year && year <= rate.to.0.year())
    }

    /// Self-employment tax of a year.
    #[must_use]
    pub fn self_employment(&self, year: i32) -> Option<&SelfEmploymentRates> {
        self.self_employment.iter().find(|entry| entry.year == year)
    }

    /// The limit of average gross receipts for a year.
    #[must_use]
    pub fn gross_receipts(&self, year: i32) -> Option<&GrossReceiptsLimit> {
        self.gross_receipts.iter().find(|entry| entry.year == year)
    }

    /// The simplified method in a year.
    #[must_use]
    pub fn home_simplified(&self, year: i32) -> Option<&HomeSimplified> {
        since(&self.home_simplified, year, |entry| entry.from_year)
    }

    /// The part of meals of a year.
    #[must_use]
    pub fn meals(&self, year: i32) -> Option<&MealsPart> {
        self.meals.iter().find(|entry| entry.year == year)
    }

    /// What may be charged off at once in a year.
    #[must_use]
    pub fn at_once(&self, year: i32) -> Option<&AtOnce> {
        since(&self.at_once, year, |entry| entry.from_year)
    }

    /// From when a helper's payments are to be reported.
    #[must_use]
    pub fn helper_payments(&self, year: i32) -> Option<&HelperPayments> {
        self.helper_payments.iter().find(|entry| entry.year == year)
    }

    /// What of gifts to a person counts.
    #[must_use]
    pub fn gifts(&self, year: i32) -> Option<&GiftLimit> {
        since(&self.gifts, year, |entry| entry.from_year)
    }

    /// Section 179 in a year.
    #[must_use]
    pub fn section_179(&self, year: i32) -> Option<&Section179> {
        self.section_179.iter().find(|entry| entry.year == year)
    }

    /// From which business use section 179 may be taken.
    #[must_use]
    pub const fn section_179_use_above(&self) -> Option<&Section179UseAbove> {
        self.section_179_use_above.as_ref()
    }

    /// Bonus depreciation of a thing acquired on a day and put in use in a year.
    #[must_use]
    pub fn bonus(&self, in_use_year: i32, acquired: NaiveDate) -> Option<&Bonus> {
        let of_year = || self.bonus.iter().filter(|entry| entry.in_use_year == in_use_year);
        of_year()
            .find(|entry| entry.acquired_before.is_some_and(|day| acquired < day.0))
            .or_else(|| of_year().find(|entry| entry.acquired_before.is_none()))
    }

    /// From when the mid-quarter convention holds.
    #[must_use]
    pub const fn mid_quarter_above(&self) -> Option<&MidQuarterAbove> {
        self.mid_quarter_above.as_ref()
    }

    /// The table for a number of years under a convention.
    #[must_use]
    pub fn depreciation(&self, years: Decimal, convention: Convention) -> Option<&DepreciationTable> {
        self.depreciation.iter().find(|table| Decimal::from(table.years) == years && table.convention == convention)
    }

    /// What a rule says.
    #[must_use]
    pub fn rule(&self, rule: Rule) -> Option<&RuleText> {
        self.rule.iter().find(|text| text.name == rule)
    }

    /// The numbers of years that have a table, rising.
    #[must_use]
    pub fn depreciation_years(&self) -> Vec<u32> {
        let mut years: Vec<_> = self.depreciation.iter().map(|table| table.years).collect();
        years.sort_unstable();
        years.dedup();
        years
    }
}
