//! A tool that leaves: what it fetched against what is left of its cost, for a list of its own.
//!
//! Step 10 of the design's order. The business part of price and cost is known only where it never changed; where it did, the gain is a
//! question, and what was recovered stays the sum of what each year deducted.

use chrono::{Datelike, NaiveDate};

use crate::units::{Fixed6, Percent};
use crate::year::Rule;
use crate::year::questions::Questions;
use crate::year::tax_year::{ToolGone, ToolYear};
use crate::year::tools::equipment::OneTool;
use crate::year::tools::tool_steps::Step;

impl OneTool<'_> {
    /// Step 10. `None` on overflow.
    pub(crate) fn dispose(&self, row: &mut ToolYear, questions: &mut Questions) -> Option<()> {
        let of = self.of;
        let Some((date, proceeds)) = self.account.retired.filter(|(day, _)| of.has(*day)) else { return Some(()) };
        let part = |amount| Percent::new(row.business_use).of_rounded(amount, of.digits());
        let recovered = row.before.checked_add(row.section_179)?.checked_add(row.amount)?;
        let (business_proceeds, business_cost) = (part(proceeds)?, part(row.cost)?);
        let changed = self.use_changed_by(date);
        // More than its business part was recovered: that was another before the book.
        let gain = match changed || recovered > business_cost {
            true => None,
            false => Some(business_proceeds.checked_sub(business_cost)?.checked_add(recovered)?),
        };
        row.left = Fixed6::ZERO;
        row.disposed = Some(ToolGone { date, proceeds, business_proceeds, business_cost, recovered, gain });
        if row.asked {
            return Some(());
        }
        let (cost, recovered) = (of.money(business_cost), of.money(recovered));
        if gain.is_none() {
            let (name, title) = (&self.tool.named.name, &self.tool.named.title);
            let why = match changed {
                true => "after its business part changed".to_owned(),
                false => format!("at a business part of {cost}"),
            };
            let question = format!(
                "`{title}` left for {} {why}, with {recovered} recovered: what of its cost was left, and what is the gain or loss? None is \
                 shown",
                of.money(proceeds)
            );
            let answer = "answered … with the gain, worked out by a preparer";
            questions.ask(&format!("{name}/sold-after-change"), question, Rule::SoldTool, answer, vec![self.account.line]);
            row.says(Step::Gain, format!("asked, {why}; {recovered} was recovered; on no line here"), None);
            return Some(());
        }
        let fetched = of.money(business_proceeds);
        row.says(
            Step::Gain,
            format!("{fetched} fetched, for what cost {cost} and had {recovered} recovered; on no line here"),
            gain,
        );
        Some(())
    }

    /// Whether the years from its first to the one in which it left have different business parts.
    fn use_changed_by(&self, left_on: NaiveDate) -> bool {
        let last = left_on.year();
        let first = self.in_use.year().min(self.account.date.year());
        let changes = self.tool.business_use.changes().iter();
        let days_of_change = changes.map(|(day, _)| day.year()).filter(|year| (first..=last).contains(year));
        let at_end = self.business_use(last);
        days_of_change.chain([first]).any(|year| self.business_use(year) != at_end)
    }
}
