//! The days that a report covers, and how its figures are written as text.
//!
//! Money has the currency's digits, rounded half away from zero; a column that has a printed total is apportioned by largest remainder so
//! that it sums to it. A cost per unit has two to six digits.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::ResolvedBook;
use crate::reports::ReportHead;
use crate::units::{Fixed6, Weights, apportion_displayed, apportion_under, group_digits, part_of};

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

/// A sum as a sentence says it: with the currency's sign or code, and digits in groups.
pub(crate) fn said_money(book: &ResolvedBook, sum: Fixed6) -> String {
    let (text, currency) = (money_text(book, sum), book.shop.currency);
    let (minus, magnitude) = text.strip_prefix('-').map_or(("", text.as_str()), |magnitude| ("-", magnitude));
    let sign = currency.sign().map_or_else(|| format!("{} ", currency.code()), str::to_owned);
    format!("{minus}{sign}{}", group_digits(magnitude))
}

/// A column of sums, each rounded to the currency's digits so that they add up to the rounded total.
pub(crate) fn column(book: &ResolvedBook, sums: &[Fixed6]) -> Vec<Fixed6> {
    let mut shown = Vec::with_capacity(sums.len());
    match apportion_displayed(sums, book.shop.currency.digits(), &mut shown) {
        Ok(()) => shown,
        Err(_) => sums.to_vec(),
    }
}

/// A column of sums beside others: as [`column`], and what is the same sum as one beside it is shown as that is, wherever the column adds up so.
/// The same under a total that is printed elsewhere already, where one is given.
pub(crate) fn column_beside(
    book: &ResolvedBook,
    sums: &[Fixed6],
    beside: &[Option<Fixed6>],
    total: Option<Fixed6>,
) -> Vec<Fixed6> {
    let shown = with_those_beside(book.shop.currency.digits(), sums, beside, total);
    shown.unwrap_or_else(|| total.map_or_else(|| column(book, sums), |total| column_under(book, sums, total)))
}

/// `None` where the others would be off by a whole step.
fn with_those_beside(digits: u32, sums: &[Fixed6], beside: &[Option<Fixed6>], total: Option<Fixed6>) -> Option<Vec<Fixed6>> {
    let total = match total {
        Some(total) => total,
        None => Fixed6::checked_sum(sums.iter().copied())?.round_to(digits),
    };
    let left = total.checked_sub(Fixed6::checked_sum(beside.iter().flatten().copied())?)?;
    let free: Vec<Fixed6> = sums.iter().zip(beside).filter(|(_, beside)| beside.is_none()).map(|(sum, _)| *sum).collect();
    let mut shown = Vec::with_capacity(free.len());
    apportion_under(&free, left, digits, &mut shown).ok()?;
    let step = 10_i128.checked_pow(6_u32.checked_sub(digits)?)?;
    let is_near = |(shown, sum): (&Fixed6, &Fixed6)| shown.micros().abs_diff(sum.micros()) < step.unsigned_abs();
    if free.is_empty() && !left.is_zero() || !shown.iter().zip(&free).all(is_near) {
        return None;
    }
    let mut shown = shown.into_iter();
    beside.iter().map(|beside| beside.or_else(|| shown.next())).collect()
}

/// Sums under a printed total: they are apportioned by largest remainder so that they add up to it.
pub(crate) fn column_under(book: &ResolvedBook, sums: &[Fixed6], total: Fixed6) -> Vec<Fixed6> {
    let mut shown = Vec::with_capacity(sums.len());
    match apportion_under(sums, total, book.shop.currency.digits(), &mut shown) {
        Ok(()) => shown,
        Err(_) => sums.to_vec(),
    }
}

/// How many parts of a cost are paid; own time and overhead follow them.
const PAID_PARTS: usize = 4;

/// What a unit costs, part by part, to six digits: materials, wear, bought-in time and royalty, then own time and overhead. Paid and full cost are each the
/// whole over the units, rounded half away from zero, as anybody finds who divides them; the parts are fitted to add up to these by largest remainder, so that
/// one may be a millionth off what it comes to when it is divided by itself.
pub(crate) fn per_unit(parts: &[Fixed6], units: Decimal) -> Option<Vec<Fixed6>> {
    let (paid, beyond) = parts.split_at_checked(PAID_PARTS)?;
    let unit = |parts: &[Fixed6]| part_of(Fixed6::checked_sum(parts.iter().copied())?, Decimal::ONE, units);
    let (of_paid, of_full) = (unit(paid)?, unit(parts)?);
    let mut shares = fitted(paid, of_paid)?;
    shares.extend(fitted(beyond, of_full.checked_sub(of_paid)?)?);
    Some(shares)
}

/// Parts of a whole as parts of another.
fn fitted(parts: &[Fixed6], whole: Fixed6) -> Option<Vec<Fixed6>> {
    if Fixed6::checked_sum(parts.iter().copied())?.is_zero() {
        return Some(vec![Fixed6::ZERO; parts.len()]);
    }
    let mut shares = Vec::with_capacity(parts.len());
    Weights::from_amounts(parts).ok()?.split(whole, &mut shares).ok()?;
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
    // Whole pieces are most of what is told.
    if quantity.scale() == 0
        && let Ok(whole) = i64::try_from(quantity.mantissa())
    {
        return whole.to_string();
    }
    let text = quantity.normalize().to_string();
    if text == "-0" { "0".to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(figures: &[&str]) -> Vec<Fixed6> {
        let read = |text: &&str| Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("small");
        figures.iter().map(read).collect()
    }

    #[test]
    fn paid_and_full_cost_of_a_unit_are_what_anybody_finds_who_divides_them() {
        // 23.30 / 3 = 7.766667 paid and 33.30 / 3 = 11.10 full; the parts of the paid cost are 3.533333, 2.066667 and 2.166667 by themselves.
        let each = per_unit(&money(&["10.60", "6.20", "6.50", "0", "8.00", "2.00"]), Decimal::from(3)).expect("small");
        let sum = |parts: &[Fixed6]| Fixed6::checked_sum(parts.iter().copied()).expect("small");
        assert_eq!((sum(&each[..4]), sum(&each)), (money(&["7.766667"])[0], money(&["11.10"])[0]));
        // By largest remainder over all six at once paid cost would come to 7.766666 or 7.766667, by what own time leaves.
        for (part, own) in each.iter().zip(money(&["3.533333", "2.066667", "2.166667", "0", "2.666667", "0.666667"])) {
            assert!(part.checked_sub(own).is_some_and(|off| off.micros().abs() <= 1), "{part:?} {own:?}");
        }
        assert_eq!(per_unit(&[Fixed6::ZERO; 6], Decimal::ONE), Some(vec![Fixed6::ZERO; 6]));
    }

    #[test]
    fn a_sum_that_is_in_two_columns_of_a_row_is_shown_as_one_figure() {
        // By itself the column would give its cent to the second row: −0.37 and 4.01.
        let sums = money(&["-0.365", "4.009"]);
        let mut alone = Vec::new();
        apportion_displayed(&sums, 2, &mut alone).expect("small");
        assert_eq!(alone, money(&["-0.37", "4.01"]));
        let beside = [Some(money(&["-0.36"])[0]), None];
        assert_eq!(with_those_beside(2, &sums, &beside, None), Some(money(&["-0.36", "4.00"])));
    }

    #[test]
    fn a_column_that_would_not_add_up_so_stands_alone() {
        let sums = money(&["0.005", "0.005", "1.00"]);
        let beside = [Some(money(&["0.01"])[0]), Some(money(&["0.01"])[0]), None];
        assert_eq!(with_those_beside(2, &sums, &beside, None), None);
        assert_eq!(with_those_beside(2, &sums[..2], &beside[..2], None), None);
    }
}
