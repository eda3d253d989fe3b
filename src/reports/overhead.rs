//! Overhead: what it was, and what was applied.
//!
//! Costing rule 7. Actual is the expenses that `count as overhead`, by their business use, and straight-line cost of tools that say `lasts`: from
//! the month of first use (whole) to the month before the tool leaves. Under-applied is actual less applied; plus is under.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{Account, Component, CostedBook, Flow};
use crate::names::{CountsAs, ResolvedBook};
use crate::reports::Period;
use crate::units::{Fixed6, checked_mul_exact, mul_div_round};

/// Actual overhead of a period less what was applied in it. `None` on overflow.
pub(crate) fn under_applied(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<Fixed6> {
    let mut sum = Fixed6::ZERO;
    for posting in costed.postings.iter().filter(|posting| period.covers(posting.date)) {
        if let Account::Expense(expense) = posting.account
            && *book.expense(expense).counts_as.on(posting.date) == CountsAs::Overhead
        {
            sum = sum.checked_add(percent_of(*book.expense(expense).business_use.on(posting.date), posting.money)?)?;
        }
    }
    sum = sum.checked_add(tools(book, costed, period)?)?;
    for movement in costed.movements.iter().filter(|one| one.flow == Flow::Overhead && period.covers(one.date)) {
        sum = sum.checked_sub(movement.vector.get(Component::Overhead))?;
    }
    Some(sum)
}

fn percent_of(percent: Decimal, money: Fixed6) -> Option<Fixed6> {
    let share = checked_mul_exact(money.to_decimal()?, percent).ok()?;
    Fixed6::round_from_decimal(checked_mul_exact(share, Decimal::new(1, 2)).ok()?)
}

fn month_number(day: NaiveDate) -> i32 {
    day.year() * 12 + day.month0().cast_signed()
}

/// Straight-line cost of the tools' months that lie in the period.
fn tools(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<Fixed6> {
    let mut sum = Fixed6::ZERO;
    let last_day = period.to.or(costed.until);
    for account in &costed.tools {
        let tool = book.tool(account.tool);
        let Some(years) = tool.lasts_years else { continue };
        let months = checked_mul_exact(years, Decimal::from(12)).ok()?;
        let first = month_number(tool.in_use_from.unwrap_or(account.date));
        let life: i32 = months.ceil().try_into().ok()?;
        let mut end = first.checked_add(life)?;
        if let Some((left, _)) = account.retired {
            end = end.min(month_number(left));
        }
        let from = period.from.map_or(first, |day| month_number(day).max(first));
        let to = last_day.map_or(end, |day| (month_number(day) + 1).min(end));
        let counted = to - from;
        if counted > 0 && !months.is_zero() {
            let part = mul_div_round(
                account.cost.micros(),
                i128::from(counted).checked_mul(10_i128.checked_pow(months.scale())?)?,
                months.mantissa(),
            )?;
            let cost = Fixed6::from_micros(part);
            sum = sum.checked_add(percent_of(*tool.business_use.on(account.date), cost)?)?;
        }
    }
    Some(sum)
}
