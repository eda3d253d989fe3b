//! One tool's recovery year by year: bonus, table, the year of sale.
//!
//! Steps 6 to 9 of the design's order. Every year's amount is rounded to the cent; the table's last year takes what is left.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::units::{Fixed6, Percent};
use crate::year::forms::figure_entries::{Convention, DepreciationTable};

/// What one tool's recovery starts from.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Recovered<'a> {
    /// Of its business part, bonus in the first year, in percent.
    pub(crate) bonus: Decimal,
    /// In use from.
    pub(crate) in_use: NaiveDate,
    /// Recovered before the book, and in which year the book takes over.
    pub(crate) before_book: Option<(i32, Fixed6)>,
    /// The table.
    pub(crate) table: &'a DepreciationTable,
    /// The day it left.
    pub(crate) left_on: Option<NaiveDate>,
}

/// A year of a tool's recovery. All amounts are to the cent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct RecoveryYear {
    /// The year.
    pub(crate) year: i32,
    /// Which year of the table it is, from 1.
    pub(crate) nth: i32,
    /// What the table is applied to: the business part of the cost, less section 179 and bonus.
    pub(crate) spread: Fixed6,
    /// The table's percentage; `None` where its last year takes what is left.
    pub(crate) percent: Option<Decimal>,
    /// Recovered in earlier years.
    pub(crate) before: Fixed6,
    /// Bonus, in the first year.
    pub(crate) bonus: Fixed6,
    /// By the table, for a whole year.
    pub(crate) by_table: Fixed6,
    /// Taken off that in the year of sale: zero or less.
    pub(crate) off_for_sale: Fixed6,
    /// What the later years recover, if nothing changes.
    pub(crate) left: Fixed6,
}

impl RecoveryYear {
    /// What the year recovers. `None` on overflow.
    pub(crate) fn amount(&self) -> Option<Fixed6> {
        self.bonus.checked_add(self.by_table)?.checked_add(self.off_for_sale)
    }
}

impl Recovered<'_> {
    /// Every year from the first, or from where the book takes over, to the table's last or the year of sale. `base_of` is the business
    /// part of the cost in a year, less section 179. Each year takes its own base, so that a business part that changes
    /// moves no year before; the table's last year takes what is left of a base that never changed. `None` on overflow.
    pub(crate) fn years(&self, digits: u32, base_of: impl Fn(i32) -> Option<Fixed6>) -> Option<Vec<RecoveryYear>> {
        let first = self.in_use.year();
        let (from, mut before) = self.before_book.unwrap_or((first, Fixed6::ZERO));
        // Put in use and sold in one year: nothing.
        let nothing =
            self.left_on.is_some_and(|day| day.year() == first) && self.before_book.is_none_or(|(year, _)| year <= first);
        let first_base = base_of(first)?;
        let (mut most, mut same) = (first_base, true);
        let mut years: Vec<RecoveryYear> = Vec::new();
        for (at, percent) in (0i32..).zip(&self.table.percent) {
            let year = first.checked_add(at)?;
            let base = base_of(year)?;
            most = most.max(base);
            same &= base == first_base;
            if year < from || self.left_on.is_some_and(|day| day.year() < year) {
                continue;
            }
            let bonus_part = Percent::new(self.bonus).of_rounded(base, digits)?;
            let spread = base.checked_sub(bonus_part)?;
            // What was recovered before the book is no part of a bonus.
            let untaken = most.checked_sub(before)?.max(Fixed6::ZERO);
            let bonus = if year == first && !nothing { bonus_part.min(untaken) } else { Fixed6::ZERO };
            let nth = at.checked_add(1)?;
            let takes_the_rest = same && nth == i32::try_from(self.table.percent.len()).ok()?;
            let room = most.checked_sub(before)?.checked_sub(bonus)?.max(Fixed6::ZERO);
            let by_table = match (nothing, takes_the_rest) {
                (true, _) => Fixed6::ZERO,
                (false, true) => room,
                (false, false) => Percent::new(percent.0).of_rounded(spread, digits)?.min(room),
            };
            let off_for_sale = match self.left_on.filter(|day| day.year() == year) {
                Some(day) => Percent::new(self.part_of_sale_year(day)).of_rounded(by_table, digits)?.checked_sub(by_table)?,
                None => Fixed6::ZERO,
            };
            let percent = Some(percent.0).filter(|_| !takes_the_rest);
            let of = RecoveryYear { year, nth, spread, percent, before, bonus, by_table, off_for_sale, left: Fixed6::ZERO };
            before = before.checked_add(of.amount()?)?;
            years.push(of);
        }
        let mut left = Fixed6::ZERO;
        for year in years.iter_mut().rev() {
            year.left = left;
            left = left.checked_add(year.amount()?)?;
        }
        Some(years)
    }

    /// The part of a year's amount in the year of sale, in percent.
    fn part_of_sale_year(&self, day: NaiveDate) -> Decimal {
        let quarter = day.month0() as usize / 3;
        let sold = &self.table.sold;
        sold.get(quarter).or_else(|| sold.first()).map_or(Decimal::ZERO, |part| part.0)
    }
}

/// The quarter of a day, 1 to 4, as a convention.
pub(crate) fn mid_quarter_of(day: NaiveDate) -> Convention {
    Convention::MidQuarter(u8::try_from(day.month0() / 3 + 1).unwrap_or(4))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::year::Forms;

    fn amount(text: &str) -> Fixed6 {
        Fixed6::from_decimal_exact(text.parse().expect("a decimal")).expect("six digits")
    }

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a day")
    }

    fn years(base: &str, over: u32, convention: Convention, change: impl Fn(&mut Recovered<'_>)) -> Vec<String> {
        let forms = Forms::built_in();
        let figures = forms.figures("us-schedule-c").expect("figures");
        let table = figures.depreciation(over.into(), convention).expect("a table");
        let mut tool = Recovered { bonus: Decimal::ZERO, in_use: day("2024-03-02"), before_book: None, table, left_on: None };
        change(&mut tool);
        let years = tool.years(2, |_| Some(amount(base))).expect("fits");
        let of = |year| years.iter().find(|one| one.year == year).map_or(Fixed6::ZERO, |one| one.amount().expect("fits"));
        (2024..2033).map(|year| of(year).to_string()).collect()
    }

    #[test]
    fn the_last_year_of_the_table_takes_what_is_left() {
        let of = years("899.01", 3, Convention::HalfYear, |_| {});
        // 299.64 + 399.61 + 133.14 leave 66.62; the table's 7.41 % would be 66.62.
        assert_eq!(of[..5], ["299.64", "399.61", "133.14", "66.62", "0"]);
        let sum = of.iter().map(|one| amount(one));
        assert_eq!(Fixed6::checked_sum(sum), Some(amount("899.01")));
    }

    #[test]
    fn a_hundred_percent_bonus_leaves_nothing_to_spread() {
        let of = years("899", 7, Convention::HalfYear, |tool| tool.bonus = Decimal::ONE_HUNDRED);
        assert_eq!(of[..3], ["899", "0", "0"]);
    }

    #[test]
    fn a_part_of_bonus_comes_first_and_the_table_takes_the_rest() {
        let of = years("1000", 5, Convention::HalfYear, |tool| tool.bonus = Decimal::from(60));
        assert_eq!(of[..7], ["680", "128", "76.8", "46.08", "46.08", "23.04", "0"]);
    }

    #[test]
    fn the_year_of_sale_has_half_or_its_quarters_part_and_later_years_nothing() {
        let half = years("1000", 5, Convention::HalfYear, |tool| tool.left_on = Some(day("2025-10-01")));
        assert_eq!(half[..3], ["200", "160", "0"]);
        let quarter = years("1000", 5, Convention::MidQuarter(1), |tool| tool.left_on = Some(day("2025-10-01")));
        assert_eq!(quarter[..3], ["350", "227.5", "0"]);
    }

    #[test]
    fn what_is_sold_in_the_year_it_was_put_in_use_recovers_nothing() {
        let of = years("1000", 5, Convention::HalfYear, |tool| {
            tool.left_on = Some(day("2024-11-30"));
            tool.bonus = Decimal::ONE_HUNDRED;
        });
        assert_eq!(of[..2], ["0", "0"]);
    }

    #[test]
    fn what_was_recovered_before_the_book_replaces_those_years() {
        let of = years("500", 7, Convention::HalfYear, |tool| {
            tool.in_use = day("2023-05-01");
            tool.before_book = Some((2026, amount("281.35")));
        });
        // In use since 2023: 2026 is the table's fourth year, 12.49 %.
        assert_eq!(of[2..5], ["62.45", "44.65", "44.6"]);
    }
}
