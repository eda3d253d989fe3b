//! A sales tax account over a quarter or a year: what was owed before, and what was collected, given back, paid over and kept, entry by entry.

use chrono::Datelike;

use super::by_months::by_months;
use super::equipment_figure::told_in_full;
use super::{Step, Sum, Telling};
use crate::costing::{TaxFlow, TaxItem};
use crate::names::LabelId;
use crate::reports::figures::{ScheduleFigure, ScheduleOf};
use crate::reports::period::money_text;
use crate::reports::{FigureName, WhyRule};
use crate::units::Fixed6;
use crate::year::{TaxPeriod, TaxYear};

impl Telling<'_> {
    /// A row of the sales tax of a year, by its index.
    pub(super) fn sales_tax(&mut self, year: &TaxYear, at: usize) -> Option<(String, Vec<Step>)> {
        let book = self.of.books.book;
        let row = year.sales_tax.get(at)?;
        let mut top = self.owed(year, at, 0)?;
        let whom = if row.to.is_empty() { String::new() } else { format!(" to {}", row.to) };
        let mut steps = Vec::new();
        let mut collected = String::new();
        if !row.by_channels.is_zero() {
            let items = self.taxes_of(year, row, TaxFlow::ByChannel);
            let items = by_months(items.into_iter().map(|(month, item)| (month, self.tax_item(item, 1))).collect())?;
            let mut memo =
                Step::nowhere("collected by channels: a memo, no debt of the shop", Sum::both(row.by_channels), WhyRule::SumOf);
            memo.steps = items;
            told_in_full(&mut memo, "on other accounts of the year")?;
            steps.push(memo);
            collected = format!("; channels collected {} themselves", money_text(book, row.by_channels));
        }
        if row.owed.is_zero() && top.steps.is_empty() {
            top.rule = WhyRule::Said;
        }
        steps.insert(0, top);
        let owed = money_text(book, row.owed);
        Some((format!("At the end of {} {owed} of sales tax is owed{whom}{collected}.", row.period), steps))
    }

    /// What is owed at the end of a row's period.
    fn owed(&mut self, year: &TaxYear, at: usize, level: usize) -> Option<Step> {
        let row = year.sales_tax.get(at)?;
        let whom = if row.to.is_empty() { String::new() } else { format!(" to {}", row.to) };
        let says = format!("owed{whom} at the end of {}", row.period);
        let mut top = Step::nowhere(says, Sum::both(row.owed), WhyRule::SumOf);
        let figure = FigureName::Schedule(ScheduleFigure { year: year.year, of: ScheduleOf::SalesTax(at) });
        if !self.enters(&mut top, figure, level) {
            return Some(top);
        }
        if !row.owed_before.is_zero() {
            top.steps.push(self.owed_before(year, at, level.saturating_add(1))?);
        }
        let flows = [
            ("collected", TaxFlow::Collected, row.collected, 1),
            ("less given back", TaxFlow::Refunded, row.refunded, -1),
            ("less paid over", TaxFlow::PaidOver, row.paid_over, -1),
            ("less kept as an allowance", TaxFlow::Allowed, row.allowed, -1),
        ];
        for (says, flow, money, sign) in flows.into_iter().filter(|(_, _, money, _)| !money.is_zero()) {
            let items = self.taxes_of(year, row, flow);
            let items = by_months(items.into_iter().map(|(month, item)| (month, self.tax_item(item, sign))).collect())?;
            let mut step = Step::nowhere(says, Sum::both(money.checked_mul_int(sign)?), WhyRule::SumOf);
            step.steps = items;
            told_in_full(&mut step, "on other accounts of the year")?;
            top.steps.push(step);
        }
        if top.steps.is_empty() {
            top.rule = WhyRule::Said;
        }
        Some(top)
    }

    /// What was owed when a row's period began: at the end of the period before it that has a row.
    fn owed_before(&mut self, year: &TaxYear, at: usize, level: usize) -> Option<Step> {
        let row = year.sales_tax.get(at)?;
        let mut step = Step::nowhere("owed when it began", Sum::both(row.owed_before), WhyRule::SumOf);
        let is_quarter = row.period.contains('-');
        let earlier = (0..at).rev().filter(|_| is_quarter);
        let mut earlier = earlier.filter(|before| year.sales_tax.get(*before).is_some_and(|one| one.to == row.to));
        if let Some(before) = earlier.next() {
            step.steps = vec![self.owed(year, before, level)?];
            return Some(step);
        }
        let years = self.of.years;
        let last = years.iter().find(|one| one.year + 1 == year.year);
        let whole = |one: &TaxYear| {
            one.sales_tax
                .iter()
                .position(|before| before.to == row.to && !before.period.contains('-') && before.owed == row.owed_before)
        };
        if let Some((last, before)) = last.and_then(|last| Some((last, whole(last)?))) {
            step.steps = vec![self.owed(last, before, level)?];
            return Some(step);
        }
        let mut items = Vec::new();
        for (flow, sign) in [(TaxFlow::Collected, 1), (TaxFlow::Refunded, -1), (TaxFlow::PaidOver, -1), (TaxFlow::Allowed, -1)] {
            for account in self.accounts(year, &row.to) {
                for item in self.of.taxes_before(account, year.year).filter(|item| item.flow == flow) {
                    items.push(((item.date.year(), item.date.month()), self.tax_item(item, sign)));
                }
            }
        }
        items.sort_by_key(|(month, _)| *month);
        step.steps = by_months(items)?;
        told_in_full(&mut step, "from before")?;
        Some(step)
    }

    /// An entry's part of an account.
    fn tax_item(&self, item: &TaxItem, sign: i128) -> Step {
        let what = match item.flow {
            TaxFlow::Collected => "tax on a sale",
            TaxFlow::Refunded => "given back",
            TaxFlow::PaidOver => "paid over",
            TaxFlow::Allowed => "allowance kept",
            TaxFlow::ByChannel => "tax that a channel collected",
        };
        let money = if sign < 0 { Fixed6::ZERO.checked_sub(item.money) } else { Some(item.money) };
        let sum = Sum::both(money.unwrap_or_default());
        Step::new(format!("{} {what}", item.date), sum, WhyRule::Said, self.head(item.event))
    }

    /// The accounts that have a name at the end of a year: of that name, and the shop's own where it goes by it.
    fn accounts(&self, year: &TaxYear, to: &str) -> Vec<Option<LabelId>> {
        let book = self.of.books.book;
        let mut accounts: Vec<Option<LabelId>> = book.label_id(to).map(Some).into_iter().collect();
        let last = chrono::NaiveDate::from_ymd_opt(year.year, 12, 31);
        let own = last.and_then(|last| book.shop.sales_tax_to.on(last).clone()).unwrap_or_default();
        if own == to {
            accounts.push(None);
        }
        accounts
    }

    /// What of a flow falls into a row's period, in the order of its days.
    fn taxes_of(&self, year: &TaxYear, row: &TaxPeriod, flow: TaxFlow) -> Vec<((i32, u32), &TaxItem)> {
        let quarter = row.period.split_once("-Q").and_then(|(_, quarter)| quarter.parse::<u32>().ok());
        let mut items = Vec::new();
        for account in self.accounts(year, &row.to) {
            let of_year = self.of.taxes_in(account, year.year).filter(|item| item.flow == flow);
            let of_period = of_year.filter(|item| quarter.is_none_or(|quarter| item.date.month0() / 3 + 1 == quarter));
            items.extend(of_period.map(|item| ((item.date.year(), item.date.month()), item)));
        }
        items.sort_by_key(|(_, item)| (item.date, item.event));
        items
    }
}
