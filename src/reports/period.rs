//! The days that a report covers, and how its figures are written as text.
//!
//! Money has the currency's digits, rounded half away from zero; a column that has a printed total is apportioned by largest remainder so
//! that it sums to it. A cost per unit has two to six digits.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::ResolvedBook;
use crate::reports::ReportHead;
use crate::units::{Fixed6, Weights, apportion_displayed, apportion_under, part_of};

/// The days that a report covers, both included; `None` for no bound.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Period {
    /// First day.
    pub from: Option<NaiveDate>,
    /// Last day.
    pub to: Option<NaiveDate>,
}

impl Period {
    /// A calendar year.
    #[must_use]
    pub fn year(year: i32) -> Self {
        Self { from: NaiveDate::from_ymd_opt(year, 1, 1), to: NaiveDate::from_ymd_opt(year, 12, 31) }
    }

    /// Whether a day is covered.
    #[must_use]
    pub fn covers(self, day: NaiveDate) -> bool {
        self.from.is_none_or(|from| from <= day) && self.to.is_none_or(|to| day <= to)
    }

    /// What a report of the period opens with; open ends are the book's first and last day.
    #[must_use]
    pub fn head(self, report: &str, book: &ResolvedBook, first: Option<NaiveDate>, last: Option<NaiveDate>) -> ReportHead {
        ReportHead {
            report: report.to_owned(),
            version: 1,
            shop: book.shop.title.clone(),
            currency: book.shop.currency.code().to_owned(),
            from: self.from.or(first).map(|day| day.to_string()),
            to: self.to.or(last).map(|day| day.to_string()),
        }
    }
}

/// A sum in the currency's digits.
pub(crate) fn money_text(book: &ResolvedBook, sum: Fixed6) -> String {
    let digits = book.shop.currency.digits();
    sum.to_fixed_text(digits, digits)
}

/// A column of sums, each rounded to the currency's digits so that they add up to the rounded total.
pub(crate) fn column(book: &ResolvedBook, sums: &[Fixed6]) -> Vec<Fixed6> {
    let mut shown = Vec::with_capacity(sums.len());
    match apportion_displayed(sums, book.shop.currency.digits(), &mut shown) {
        Ok(()) => shown,
        Err(_) => sums.to_vec(),
    }
}

/// Sums under a printed total: they are apportioned by largest remainder so that they add up to it.
pub(crate) fn column_under(book: &ResolvedBook, sums: &[Fixed6], total: Fixed6) -> Vec<Fixed6> {
    let mut shown = Vec::with_capacity(sums.len());
    match apportion_under(sums, total, book.shop.currency.digits(), &mut shown) {
        Ok(()) => shown,
        Err(_) => sums.to_vec(),
    }
}

/// What a unit costs, component by component, to six digits: the parts add up to the whole's own rounded figure.
pub(crate) fn per_unit(parts: &[Fixed6], units: Decimal) -> Option<Vec<Fixed6>> {
    let whole = Fixed6::checked_sum(parts.iter().copied())?;
    let unit = part_of(whole, Decimal::ONE, units)?;
    let mut shares = Vec::new();
    if whole.is_zero() {
        return Some(vec![Fixed6::ZERO; parts.len()]);
    }
    Weights::from_amounts(parts).ok()?.split(unit, &mut shares).ok()?;
    Some(shares)
}

/// A cost per unit, two to six digits.
pub(crate) fn unit_cost_text(cost: Fixed6) -> String {
    cost.to_fixed_text(2, 6)
}

/// Minutes, as many digits as needed up to six.
pub(crate) fn minutes_text(minutes: Fixed6) -> String {
    minutes.to_fixed_text(0, 6)
}

/// A quantity, as many digits as needed.
pub(crate) fn quantity_text(quantity: Decimal) -> String {
    let text = quantity.normalize().to_string();
    if text == "-0" { "0".to_owned() } else { text }
}
