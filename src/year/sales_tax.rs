//! Sales tax that the shop collects: a debt, by account and period. What a channel collects is a memo.
//!
//! In: what was collected, given back, paid over and kept as an allowance, each to the currency's digits. Out: a row a quarter and one for the year; what is
//! owed goes on from one to the next. Rounding is the entry's own, by SSUTA section 324.

use std::collections::BTreeMap;

use chrono::Datelike;

use crate::costing::TaxFlow;
use crate::names::LabelId;
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::tax_year::TaxPeriod;

/// Every account's quarters with something in them, then its year. `None` on overflow.
pub(crate) fn sum_sales_tax(of: &BooksOfYear<'_>) -> Option<Vec<TaxPeriod>> {
    let mut accounts: BTreeMap<String, [Sums; 5]> = BTreeMap::new();
    for tax in of.costed().taxes.iter().filter(|tax| tax.date <= of.last) {
        let periods = accounts.entry(name_of(of, tax.to)).or_default();
        // What was owed before the year began stands in the period 0.
        let period = if of.has(tax.date) { tax.date.month0() as usize / 3 + 1 } else { 0 };
        periods.get_mut(period)?.add(tax.flow, tax.money)?;
    }
    let mut out = Vec::new();
    for (to, periods) in accounts {
        let [before, quarters @ ..] = periods;
        let owed_at_start = before.owed()?;
        let mut owed = owed_at_start;
        let mut year = Sums::default();
        for (quarter, sums) in (1..).zip(&quarters) {
            let owed_before = owed;
            owed = owed.checked_add(sums.owed()?)?;
            year.add_all(sums)?;
            if *sums != Sums::default() {
                out.push(sums.period(&to, format!("{}-Q{quarter}", of.year), owed_before, owed));
            }
        }
        if year != Sums::default() || !owed.is_zero() {
            out.push(year.period(&to, of.year.to_string(), owed_at_start, owed));
        }
    }
    Some(out)
}

fn name_of(of: &BooksOfYear<'_>, to: Option<LabelId>) -> String {
    let own = || of.book().shop.sales_tax_to.on(of.last).clone();
    to.map(|label| of.book().label(label).to_owned()).or_else(own).unwrap_or_default()
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Sums {
    collected: Fixed6,
    refunded: Fixed6,
    paid_over: Fixed6,
    allowed: Fixed6,
    by_channels: Fixed6,
}

impl Sums {
    fn add(&mut self, flow: TaxFlow, money: Fixed6) -> Option<()> {
        let slot = match flow {
            TaxFlow::Collected => &mut self.collected,
            TaxFlow::Refunded => &mut self.refunded,
            TaxFlow::PaidOver => &mut self.paid_over,
            TaxFlow::Allowed => &mut self.allowed,
            TaxFlow::ByChannel => &mut self.by_channels,
        };
        *slot = slot.checked_add(money)?;
        Some(())
    }

    fn add_all(&mut self, other: &Self) -> Option<()> {
        self.add(TaxFlow::Collected, other.collected)?;
        self.add(TaxFlow::Refunded, other.refunded)?;
        self.add(TaxFlow::PaidOver, other.paid_over)?;
        self.add(TaxFlow::Allowed, other.allowed)?;
        self.add(TaxFlow::ByChannel, other.by_channels)
    }

    /// By how much the debt rose.
    fn owed(&self) -> Option<Fixed6> {
        self.collected.checked_sub(self.refunded)?.checked_sub(self.paid_over)?.checked_sub(self.allowed)
    }

    fn period(&self, to: &str, period: String, owed_before: Fixed6, owed: Fixed6) -> TaxPeriod {
        TaxPeriod {
            to: to.to_owned(),
            period,
            owed_before,
            collected: self.collected,
            refunded: self.refunded,
            paid_over: self.paid_over,
            allowed: self.allowed,
            owed,
            by_channels: self.by_channels,
        }
    }
}
