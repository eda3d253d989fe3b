//! Half-year or mid-quarter: when in a year the tools of that year count as put in use.
//!
//! Step 6 of the design's order, one answer for all tools of a year.

use chrono::Datelike;

use crate::costing::ToolCame;
use crate::names::Recovery;
use crate::units::{Fixed6, Percent};
use crate::year::books::BooksOfYear;
use crate::year::forms::figure_entries::{Convention, MidQuarterAbove};
use crate::year::tools::equipment::OneTool;

impl OneTool<'_> {
    /// Step 6 in words.
    pub(crate) fn why_convention(&self, convention: Convention, first: i32) -> Option<String> {
        let by = convention.in_words();
        if self.account.came == ToolCame::Opened && first < self.account.date.year() {
            return Some(format!("{by}: in use before the book"));
        }
        let (late, all) = put_in_use(self.of, first)?;
        let mid = convention != Convention::HalfYear;
        let (late, all) = (self.of.money(late), self.of.money(all));
        let against = self.of.figures.mid_quarter_above().map_or_else(String::new, |above| {
            format!(", {} than {}%", if mid { "more" } else { "not more" }, above.percent.0.normalize())
        });
        Some(format!("{by}: of {all} put in use in {first}, {late} came in its last quarter{against}"))
    }
}

/// Whether more than the stated part of what was put in use in a year came in its last quarter. `None` on overflow.
pub(crate) fn is_mid_quarter(of: &BooksOfYear<'_>, year: i32, above: &MidQuarterAbove) -> Option<bool> {
    let (late, all) = put_in_use(of, year)?;
    Some(late > Percent::new(above.percent.0).of_rounded(all, 6)?)
}

/// What was put in use in a year's last quarter, and in all of it, by cost × use less section 179; things sold in the same year aside.
/// `None` on overflow.
fn put_in_use(of: &BooksOfYear<'_>, year: i32) -> Option<(Fixed6, Fixed6)> {
    let (mut all, mut late) = (Fixed6::ZERO, Fixed6::ZERO);
    for (at, account) in (0u32..).zip(&of.costed().tools) {
        let tool = of.book().tool(account.tool);
        let in_use = account.in_use_from(tool.in_use_from);
        let one = OneTool { of, account, tool, in_use, at };
        let cost = one.waited()?.unwrap_or(account.cost);
        let elected = match tool.recovery {
            Some(Recovery::OverYears(_)) => Fixed6::ZERO,
            Some(Recovery::Section179 { stated: Some(stated), rest_over: Some(_) }) => one.elected(cost, Some(stated))?,
            _ => continue,
        };
        if in_use.year() != year || account.retired.is_some_and(|(day, _)| day.year() == year) {
            continue;
        }
        let part = one.business_cost(cost, year)?.checked_sub(elected)?.max(Fixed6::ZERO);
        all = all.checked_add(part)?;
        if in_use.month() >= 10 {
            late = late.checked_add(part)?;
        }
    }
    Some((late, all))
}
