//! Overhead: what it was, what was applied, and its spreading over the year's direct minutes.
//!
//! Costing rule 7. Actual is the expenses that `count as overhead`, by their business use, and straight-line cost of tools that say `lasts`: from
//! the month of first use (whole) to the month before the tool leaves. Under-applied is actual less applied; plus is under.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{Account, CostedBook, Posting, ToolAccount};
use crate::names::{CountsAs, OverheadRule, ResolvedBook};
use crate::units::{Fixed6, checked_mul_exact, mul_div_round};

/// A year's actual overhead that is still to be put on the year's direct minutes that are still to come.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct OverheadLeft {
    pub(crate) money: Fixed6,
    pub(crate) minutes: Fixed6,
}

impl OverheadLeft {
    /// The part of some minutes; the last minutes take the rest. `None` on overflow.
    pub(crate) fn take(&mut self, minutes: Fixed6) -> Option<Fixed6> {
        let part = if minutes >= self.minutes {
            self.money
        } else {
            mul_div_round(self.money.micros(), minutes.micros(), self.minutes.micros()).map(Fixed6::from_micros)?
        };
        self.money = self.money.checked_sub(part)?;
        self.minutes = self.minutes.checked_sub(minutes)?;
        Some(part)
    }
}

/// The first day on which overhead comes from expenses; `None` where it never does.
pub(crate) fn first_day_from_expenses(book: &ResolvedBook) -> Option<NaiveDate> {
    let rules = &book.shop.overhead;
    let changes = rules.changes().iter().map(|(from, rule)| (*from, rule));
    let mut days = std::iter::once((NaiveDate::MIN, rules.first())).chain(changes);
    days.find(|(_, rule)| **rule == OverheadRule::FromExpenses).map(|(day, _)| day)
}

/// Actual overhead of the days from `from` to `to`, both included; `None` inside for no bound. The outer `None` is overflow.
#[must_use]
pub fn actual_overhead(
    book: &ResolvedBook,
    costed: &CostedBook,
    from: Option<NaiveDate>,
    to: Option<NaiveDate>,
) -> Option<Fixed6> {
    let covers = |day: NaiveDate| from.is_none_or(|from| from <= day) && to.is_none_or(|to| day <= to);
    let mut sum = Fixed6::ZERO;
    for posting in costed.postings.iter().filter(|posting| covers(posting.belongs_to())) {
        if let Some(money) = overhead_of(book, posting)? {
            sum = sum.checked_add(money)?;
        }
    }
    for (_, _, money) in overhead_of_tools(book, costed, from, to)? {
        sum = sum.checked_add(money)?;
    }
    Some(sum)
}

/// The business part of an expense that counts as overhead; `None` inside where a posting is none. The outer `None` is overflow.
pub(crate) fn overhead_of(book: &ResolvedBook, posting: &Posting) -> Option<Option<Fixed6>> {
    let Account::Expense(expense) = posting.account else { return Some(None) };
    let category = book.expense(expense);
    if *category.counts_as.on(posting.date) != CountsAs::Overhead {
        return Some(None);
    }
    percent_of(*category.business_use.on(posting.date), posting.money).map(Some)
}

fn percent_of(percent: Decimal, money: Fixed6) -> Option<Fixed6> {
    let share = checked_mul_exact(money.to_decimal()?, percent).ok()?;
    Fixed6::round_from_decimal(checked_mul_exact(share, Decimal::new(1, 2)).ok()?)
}

fn month_number(day: NaiveDate) -> i32 {
    day.year() * 12 + day.month0().cast_signed()
}

/// Straight-line cost of each tool's months that lie in the period, with how many these are. `None` on overflow.
pub(crate) fn overhead_of_tools<'a>(
    book: &ResolvedBook,
    costed: &'a CostedBook,
    from: Option<NaiveDate>,
    to: Option<NaiveDate>,
) -> Option<Vec<(&'a ToolAccount, i32, Fixed6)>> {
    let mut costs = Vec::new();
    let last_day = to.or(costed.until);
    for account in &costed.tools {
        let tool = book.tool(account.tool);
        let Some(years) = tool.lasts_years else { continue };
        let months = checked_mul_exact(years, Decimal::from(12)).ok()?;
        let first = month_number(account.in_use_from(tool.in_use_from));
        let life: i32 = months.ceil().try_into().ok()?;
        let mut end = first.checked_add(life)?;
        if let Some((left, _)) = account.retired {
            end = end.min(month_number(left));
        }
        let begin = from.map_or(first, |day| month_number(day).max(first));
        let stop = last_day.map_or(end, |day| (month_number(day) + 1).min(end));
        let counted = (stop - begin).max(0);
        if !months.is_zero() {
            let part = mul_div_round(
                account.cost.micros(),
                i128::from(counted).checked_mul(10_i128.checked_pow(months.scale())?)?,
                months.mantissa(),
            )?;
            let cost = Fixed6::from_micros(part);
            costs.push((account, counted, percent_of(*tool.business_use.on(account.date), cost)?));
        }
    }
    Some(costs)
}
