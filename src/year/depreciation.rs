//! One tool's recovery year by year: bonus, table, the year of sale.
//!
//! Steps 6 to 9 of the design's order. Every year's amount is rounded to the cent; the table's last year takes what is left.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::units::{Fixed6, Percent};
use crate::year::figures::{Convention, DepreciationTable};

/// What one tool's recovery starts from.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Recovered<'a> {
    /// Business part of its cost, less section 179, to the cent.
    pub(crate) base: Fixed6,
    /// Of that, bonus in the first year, in percent.
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

/// A year of a tool's recovery.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct RecoveryYear {
    /// Recovered in earlier years.
    pub(crate) before: Fixed6,
    /// This year.
    pub(crate) amount: Fixed6,
    /// Which year of the table it is, from 1.
    pub(crate) nth: i32,
}

impl Recovered<'_> {
    /// The amounts of a year, to the cent. `None` on overflow.
    pub(crate) fn in_year(&self, year: i32, digits: u32) -> Option<RecoveryYear> {
        let first = self.in_use.year();
        // Put in use and sold in one year: nothing.
        let nothing = self.left_on.is_some_and(|day| day.year() == first) && self.before_book.is_none();
        let bonus = Percent::new(self.bonus).of_rounded(self.base, digits)?;
        let spread = self.base.checked_sub(bonus)?;
        let (from, mut before) = self.before_book.unwrap_or((first, Fixed6::ZERO));
        let mut amount = Fixed6::ZERO;
        for each in from.max(first)..=year {
            before = before.checked_add(amount)?;
            amount = Fixed6::ZERO;
            let gone = self.left_on.is_some_and(|day| day.year() < each);
            let Some(percent) = each.checked_sub(first).and_then(|n| self.table.percent.get(usize::try_from(n).ok()?)) else {
                continue;
            };
            if nothing || gone {
                continue;
            }
            let is_last = each.checked_sub(first)?.checked_add(1)? == i32::try_from(self.table.percent.len()).ok()?;
            let left = self.base.checked_sub(before)?.max(Fixed6::ZERO);
            amount = match is_last {
                true => left,
                false => Percent::new(percent.0).of_rounded(spread, digits)?.min(left),
            };
            if let Some(day) = self.left_on.filter(|day| day.year() == each) {
                amount = Percent::new(self.part_of_sale_year(day)).of_rounded(amount, digits)?;
            }
            if each == first {
                amount = amount.checked_add(bonus)?;
            }
        }
        Some(RecoveryYear { before, amount, nth: year.checked_sub(first)?.checked_add(1)? })
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
        let mut tool = Recovered {
            base: amount(base),
            bonus: Decimal::ZERO,
            in_use: day("2024-03-02"),
            before_book: None,
            table,
            left_on: None,
        };
        change(&mut tool);
        (2024..2033).map(|year| tool.in_year(year, 2).expect("fits").amount.to_string()).collect()
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
