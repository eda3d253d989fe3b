//! Rule 7, `overhead from expenses`: the year's actual overhead over the year's direct minutes.
//!
//! Actual are the expenses that count as overhead, in the year to which they belong, by their business use; and of tools that say how long
//! they last a part for each month, from the month of first use to the month before they leave. A first walk gathers both, a second spreads
//! them.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use kerfbook::costing::{Account, Component, Flow};
use kerfbook::names::{CountsAs, ExpenseId, OverheadRule, ToolId};
use rust_decimal::Decimal;

use super::exact_number::{Exact, of_decimal, share, whole};
use super::exact_vector::ExactVector;
use super::twin::Twin;

/// Actual overhead and direct minutes of a year.
#[derive(Clone, Debug, Default)]
pub(crate) struct YearOverhead {
    pub(crate) actual: Exact,
    /// Of the actual, in millionths.
    pub(crate) slack: Exact,
    pub(crate) minutes: Exact,
}

/// A tool of the shop.
#[derive(Clone, Debug)]
pub(crate) struct TwinTool {
    pub(crate) tool: ToolId,
    pub(crate) date: NaiveDate,
    pub(crate) cost: Exact,
    pub(crate) slack: Exact,
    pub(crate) left: Option<NaiveDate>,
}

/// The number of a month since the year nought.
fn month_of(day: NaiveDate) -> i32 {
    day.year() * 12 + i32::try_from(day.month0()).expect("a month")
}

fn hundredths(percent: Decimal) -> Exact {
    of_decimal(percent) / whole(100)
}

impl Twin<'_> {
    /// Overhead on minutes that are worked in a batch.
    pub(crate) fn overhead(&mut self, minutes: &Exact) -> ExactVector {
        let year = self.date.year();
        self.overheads.entry(year).or_default().minutes += minutes;
        // The year's sum is drawn down, minute by minute, whatever the rule of the day.
        let of_actual = self.known_overheads.get_mut(&year).map_or_else(ExactVector::default, |of| {
            let mut rest = ExactVector::of(Component::Overhead, of.actual.clone());
            rest.slack = of.slack.clone();
            let taken = rest.draw(&share(minutes, &of.minutes));
            of.minutes -= minutes;
            of.actual = rest.get(Component::Overhead).clone();
            of.slack = rest.slack;
            taken.with_slack(1)
        });
        let money = match self.book.shop.overhead.on(self.date) {
            OverheadRule::None => return ExactVector::default(),
            OverheadRule::PerHour(rate) => {
                ExactVector::of(Component::Overhead, of_decimal(*rate) * minutes / whole(60)).with_slack(1)
            }
            OverheadRule::FromExpenses => of_actual,
        };
        self.moves(Flow::Overhead, None, &money);
        money
    }

    /// An expense of today, or meant for a later day.
    pub(crate) fn expense(&mut self, expense: ExpenseId, money: Exact, slack: Exact, meant_for: Option<NaiveDate>) {
        let of = self.book.expense(expense);
        let day = meant_for.map_or(self.date, |day| day.max(self.date));
        if *of.counts_as.on(day) == CountsAs::Overhead {
            let year = self.overheads.entry(day.year()).or_default();
            year.actual += &money * hundredths(*of.business_use.on(day));
            year.slack += &slack + whole(1);
        }
        self.post(Account::Expense(expense), None, None, money, slack);
    }

    /// Tools that came to the shop: each can leave alone, and bears its part of the cost, which the engine takes to the cent.
    pub(crate) fn tools_came(&mut self, tool: ToolId, count: Decimal, cost: &Exact, slack: &Exact) {
        let accounts = if count.is_integer() && count > Decimal::ONE { of_decimal(count) } else { whole(1) };
        let to_the_cent = if accounts > whole(1) { whole(10_000) } else { whole(0) };
        let one = TwinTool { tool, date: self.date, cost: cost / &accounts, slack: slack / &accounts + to_the_cent, left: None };
        let mut at = whole(0);
        while at < accounts {
            self.tools.push(one.clone());
            at += whole(1);
        }
    }

    /// A tool that left: of several, the one that came first.
    pub(crate) fn tool_left(&mut self, tool: ToolId) {
        let date = self.date;
        if let Some(one) = self.tools.iter_mut().find(|one| one.tool == tool && one.left.is_none()) {
            one.left = Some(date);
        }
    }

    /// Actual overhead and direct minutes of each year, with the parts of tools up to the end of the book's last year.
    pub(crate) fn years_overhead(&self) -> BTreeMap<i32, YearOverhead> {
        let mut years = self.overheads.clone();
        for one in &self.tools {
            let of = self.book.tool(one.tool);
            let Some(lasts) = of.lasts_years else { continue };
            let months = of_decimal(lasts) * whole(12);
            let first = month_of(of.in_use_from.map_or(one.date, |from| from.max(one.date)));
            let mut age = 0;
            while whole(age) < months {
                let month = first + i32::try_from(age).expect("a few years");
                if month.div_euclid(12) > self.date.year() || one.left.is_some_and(|left| month >= month_of(left)) {
                    break;
                }
                let rest = &months - whole(age);
                let part = if rest < whole(1) { rest } else { whole(1) };
                let day =
                    NaiveDate::from_ymd_opt(month.div_euclid(12), month.rem_euclid(12).unsigned_abs() + 1, 1).expect("a day");
                let year = years.entry(day.year()).or_default();
                let part = part / &months * hundredths(*of.business_use.on(day));
                year.slack += &one.slack * &part + whole(1);
                year.actual += &one.cost * part;
                age += 1;
            }
        }
        years
    }

    /// Whether the overhead of any day comes from expenses.
    pub(crate) fn is_from_expenses(&self) -> bool {
        let rules = &self.book.shop.overhead;
        std::iter::once(rules.first())
            .chain(rules.changes().iter().map(|(_, rule)| rule))
            .any(|rule| *rule == OverheadRule::FromExpenses)
    }
}
