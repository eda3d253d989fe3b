//! Overhead that was not applied: what it was, expense by expense and tool by tool, less what the batches took of it.

use chrono::Datelike;

use super::by_months::by_months;
use super::{Step, Sum, Telling};
use crate::costing::{Component, overhead_of_tools};
use crate::reports::period::{money_text, quantity_text};
use crate::reports::{Period, WhyRule};

impl Telling<'_> {
    /// Actual overhead less what was applied; plus is under.
    pub(super) fn under_applied(&mut self, year: Option<i32>) -> Option<(String, Vec<Step>)> {
        let index = self.of.pays()?;
        let book = self.of.books.book;
        let period = year.map_or_else(Period::default, Period::year);
        let when = year.map_or_else(String::new, |year| format!(" in {year}"));
        let years = index.overhead_years().into_iter().filter(|one| year.is_none_or(|year| year == *one));
        let (mut expenses, mut applied) = (Vec::new(), Vec::new());
        for year in years {
            let (actual, taken) = index.overhead(year);
            for (posting, money) in actual {
                let day = posting.belongs_to();
                let says = format!("{day} {}", self.expense_what(posting, *money));
                let step = Step::new(says, Sum::both(*money), WhyRule::Said, posting.line);
                expenses.push(((day.year(), day.month()), step));
            }
            for movement in taken {
                let batch = movement.batch.map_or_else(String::new, |batch| format!(" in batch {}", book.batch(batch).name));
                let money = movement.vector.get(Component::Overhead).checked_neg()?;
                let says = format!("{}{batch}", movement.date);
                let step = Step::new(says, Sum::both(money), WhyRule::Said, movement.line);
                applied.push(((movement.date.year(), movement.date.month()), step));
            }
        }
        let mut tools = Vec::new();
        for (account, months, money) in overhead_of_tools(book, self.of.books.costed, period.from, period.to)? {
            if !money.is_zero() {
                let tool = book.tool(account.tool);
                let life = tool.lasts_years.map_or_else(String::new, quantity_text);
                let cost = money_text(book, account.cost);
                let says = format!("{months} months of {}, which cost {cost} and lasts {life} years", tool.named.title);
                tools.push(Step::new(says, Sum::both(money), WhyRule::Said, account.line));
            }
        }
        let mut steps = Vec::new();
        for (says, below) in [
            ("expenses that count as overhead", by_months(expenses)?),
            ("tools over their life", tools),
            ("less what was applied to batches by their direct minutes", by_months(applied)?),
        ] {
            if !below.is_empty() {
                steps.push(Step::sum_of(says, below)?);
            }
        }
        let top = Step::sum_of(format!("overhead that was not applied{when}"), steps)?;
        let sum = top.sum.paid;
        let answer = match sum.is_negative() {
            true => format!("{} more overhead was applied{when} than there was.", money_text(book, sum.checked_neg()?)),
            false => format!("{} of the overhead was not applied{when}.", money_text(book, sum)),
        };
        Some((answer, vec![top]))
    }
}
