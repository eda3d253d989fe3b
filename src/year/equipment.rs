//! Tools: what of each counts in the year, and where.
//!
//! Each step in the design's order: landed cost, use share, at most $200 a unit, de minimis where elected, section 179, half-year
//! or mid-quarter, bonus by the day of acquisition, table, year of sale, and a gain to a list of its own. Steps that allow a tool
//! at once look at the landed cost of one item, before the use share. What the book does not say is a question, and its
//! amount is not included.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{Flow, Mark, Movement, ToolAccount, ToolCame};
use crate::diagnostics::Diagnostics;
use crate::names::{Recovery, StockKept, Tool};
use crate::units::{Fixed6, Percent, mul_div_round};
use crate::year::Feed;
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::depreciation::{Recovered, mid_quarter_of};
use crate::year::errors::{no_figure, no_section_179, no_table, not_at_once};
use crate::year::figures::Convention;
use crate::year::goods_cost::waiting_cost;
use crate::year::questions::Questions;
use crate::year::settled::Settled;
use crate::year::source_note::SourceNotes;
use crate::year::tax_year::ToolYear;

const REST_WITH: &str = "recovered over … years, in the tool's definition";

/// The year of every tool that is in the shop, in the order in which they came. `None` on overflow.
pub(crate) fn figure_equipment(
    of: &BooksOfYear<'_>,
    settled: &Settled,
    questions: &mut Questions,
    sources: &mut SourceNotes,
    found: &mut Diagnostics,
) -> Option<Vec<ToolYear>> {
    let mut years = Vec::new();
    let mut asked = Asking { questions, sources, found };
    for (at, account) in (0u32..).zip(&of.costed().tools) {
        let tool = of.book().tool(account.tool);
        let in_use = tool.in_use_from.unwrap_or(account.date);
        let gone = account.retired.is_some_and(|(day, _)| day < of.first);
        if account.date > of.last || gone {
            continue;
        }
        let one = OneTool { of, account, tool, in_use, at };
        let mut row = one.row(asked.questions)?;
        match tool.recovery {
            _ if account.came == ToolCame::Opened && account.already_recovered >= account.cost => {
                "recovered before the book began".clone_into(&mut row.method);
                row.before = row.cost;
            }
            None => {
                let question = format!("how is the cost of `{}` recovered? Nothing of it is included", tool.named.name);
                let answer = "recovered over 7 years, expensed at once or expensed under section 179, in the tool's definition";
                let name = format!("{}/recovery", tool.named.name);
                asked.questions.ask_definition(&name, question, Rule::Recovery, answer, vec![tool.named.span]);
                "not said: nothing included".clone_into(&mut row.method);
            }
            Some(Recovery::AtOnce) => one.at_once(&mut row, settled, asked.found)?,
            Some(Recovery::Section179 { stated, rest_over }) => one.section_179(&mut row, (stated, rest_over), &mut asked)?,
            Some(Recovery::OverYears(over)) => one.over_years(&mut row, over, Fixed6::ZERO, &mut asked)?,
        }
        one.dispose(&mut row)?;
        years.push(row);
    }
    Some(years)
}

/// What is asked, quoted and told while the tools are figured.
struct Asking<'a> {
    questions: &'a mut Questions,
    sources: &'a mut SourceNotes,
    found: &'a mut Diagnostics,
}

#[derive(Clone, Copy)]
struct OneTool<'a> {
    of: &'a BooksOfYear<'a>,
    account: &'a ToolAccount,
    tool: &'a Tool,
    in_use: NaiveDate,
    at: u32,
}

impl OneTool<'_> {
    /// Its cost as the tax year sees it: of a tool made in a batch, only what waited in the batch.
    fn cost(&self, questions: &mut Questions) -> Option<Fixed6> {
        let kept = *self.of.book().shop.stock_kept.on(self.account.date);
        if self.account.came != ToolCame::Made || kept == StockKept::Inventory {
            return Some(self.account.cost);
        }
        match self.made_by() {
            Some(movement) => waiting_cost(&movement.vector, kept),
            None => {
                let question =
                    format!("what of the cost of `{}`, made in a batch, is material? All of it was taken", self.tool.named.name);
                questions.ask(
                    &format!("{}/made", self.tool.named.name),
                    question,
                    Rule::Recovery,
                    "one tool on each `made` line",
                    vec![self.account.line],
                );
                Some(self.account.cost)
            }
        }
    }

    /// The movement by which a batch gave it to the shop; `None` where its line names several.
    fn made_by(&self) -> Option<&Movement> {
        let made = (self.of.costed().movements.iter())
            .filter(|movement| movement.flow == Flow::MadeForShop && movement.event == self.account.event);
        let mut on_line = made.filter(|movement| movement.line == self.account.line);
        on_line.next().filter(|_| on_line.next().is_none())
    }

    /// What of a tool made in a batch was paid for by the end of a year.
    fn paid_by(&self, cost: Fixed6, year: i32) -> Option<Fixed6> {
        if year < self.account.date.year() {
            return Some(Fixed6::ZERO);
        }
        let kept = *self.of.book().shop.stock_kept.on(self.account.date);
        let not_paid = |movement: &Movement| waiting_cost(&movement.vector.marked(Mark::NotPaid(year)), kept);
        cost.checked_sub(self.made_by().map_or(Some(Fixed6::ZERO), not_paid)?)
    }

    /// The business part on the last day of a year, or on the day it left.
    fn business_use(&self, year: i32) -> Decimal {
        let last = NaiveDate::from_ymd_opt(year, 12, 31).unwrap_or(self.of.last);
        let day = self.account.retired.map_or(last, |(day, _)| day.min(last));
        *self.tool.business_use.on(day)
    }

    fn row(&self, questions: &mut Questions) -> Option<ToolYear> {
        Some(ToolYear {
            tool: self.account.tool,
            line: self.account.line,
            in_use_from: self.in_use,
            count: self.account.count,
            cost: self.cost(questions)?,
            business_use: self.business_use(self.of.year),
            method: String::new(),
            before: self.account.already_recovered,
            section_179: Fixed6::ZERO,
            amount: Fixed6::ZERO,
            left: Fixed6::ZERO,
            feed: None,
            disposed: None,
        })
    }

    fn business_cost(&self, cost: Fixed6, year: i32) -> Option<Fixed6> {
        Percent::new(self.business_use(year)).of_rounded(cost, self.of.digits())
    }

    /// Steps 3 and 4.
    fn at_once(&self, row: &mut ToolYear, settled: &Settled, found: &mut Diagnostics) -> Option<()> {
        let of = self.of;
        row.feed = Some(Feed::ToolsAtOnce);
        if self.account.came == ToolCame::Opened {
            "expensed at once, before the book began".clone_into(&mut row.method);
            row.before = self.business_cost(row.cost, of.year)?;
            return Some(());
        }
        let year = self.account.date.year();
        let Some(limits) = of.figures.at_once(year) else {
            found.push(no_figure(self.tool.named.span, of.form, "at_once", "this tool is expensed at once"));
            return Some(());
        };
        let most = |limit: Decimal| Fixed6::round_from_decimal(limit.checked_mul(self.account.count)?);
        let elected = of.book().choices.get(&year).is_some_and(|choices| choices.de_minimis);
        if row.cost <= most(limits.supply_unit.0)? {
            row.method = format!("expensed at once: at most {} an item", limits.supply_unit.0);
        } else if elected && row.cost <= most(limits.de_minimis_item.0)? {
            row.method = format!("expensed at once: de minimis elected for {year}, at most {} an item", limits.de_minimis_item.0);
        } else {
            let count = self.account.count;
            let unit = mul_div_round(row.cost.micros(), 10i128.checked_pow(count.scale())?, count.mantissa())
                .map_or(row.cost, Fixed6::from_micros);
            let limit = |limit: Decimal| Fixed6::round_from_decimal(limit).map(|limit| of.money(limit));
            let (supply, item) = (limit(limits.supply_unit.0)?, limit(limits.de_minimis_item.0)?);
            found.push(not_at_once(self.tool, &of.money(unit), &supply, &item, year, elected));
            return Some(());
        }
        // A tool made in a batch counts as what went into it is paid; one that was bought, when its bill is.
        let parts = settled.tool(of.costed(), self.at);
        let counted_by = |year: i32| {
            if self.account.came == ToolCame::Made {
                return self.paid_by(row.cost, year);
            }
            Fixed6::checked_sum(parts.iter().filter(|part| part.date.year() <= year).map(|part| part.amount))
        };
        let (before, by_now) = (counted_by(of.year.checked_sub(1)?)?, counted_by(of.year)?);
        row.before = self.business_cost(before, of.year)?;
        row.amount = self.business_cost(by_now, of.year)?.checked_sub(row.before)?;
        row.left = self.business_cost(row.cost, of.year)?.checked_sub(row.before)?.checked_sub(row.amount)?;
        Some(())
    }

    /// Step 5, before the limits that all tools share; then steps 6 to 9 for the rest, where its years are said.
    fn section_179(
        &self,
        row: &mut ToolYear,
        (stated, rest_over): (Option<Decimal>, Option<Decimal>),
        asked: &mut Asking<'_>,
    ) -> Option<()> {
        let first = self.in_use.year();
        row.feed = Some(Feed::Section179);
        "section 179".clone_into(&mut row.method);
        let came_before = self.account.came == ToolCame::Opened;
        if came_before && (rest_over.is_none() || self.tool.in_use_from.is_none()) {
            return self.opened_without_table(row, asked.questions);
        }
        if self.account.came == ToolCame::Contributed {
            asked.found.push(no_section_179(self.tool, "it was the owner's own before"));
            return Some(());
        }
        if self.business_use(first) <= Decimal::from(50) {
            asked.found.push(no_section_179(self.tool, "its business use is not more than 50%"));
            return Some(());
        }
        let elected = self.elected(row.cost, stated)?;
        let sold_at_once = self.account.retired.is_some_and(|(day, _)| day.year() == first);
        // What was elected before the book began is in what it says was recovered by then.
        let by_the_book = !came_before || first >= self.account.date.year();
        if let Some(over) = rest_over {
            self.over_years(row, over, elected, asked)?;
            row.method = format!("section 179 of {}, then {}", self.of.money(elected), row.method);
        }
        if self.of.year >= first && !sold_at_once && by_the_book {
            if self.of.year == first {
                row.section_179 = elected;
            } else {
                row.before = row.before.checked_add(elected)?;
            }
        }
        if rest_over.is_some() {
            return Some(());
        }
        row.left = self.business_cost(row.cost, first)?.checked_sub(elected)?;
        if row.left.is_positive() {
            row.method = format!("section 179 of {}", self.of.money(elected));
            let question = format!(
                "{} of the cost of `{}` is left beside section 179: over how many years is it recovered? It is not included",
                self.of.money(row.left),
                self.tool.named.name
            );
            let name = format!("{}/rest", self.tool.named.name);
            asked.questions.ask_definition(&name, question, Rule::Recovery, REST_WITH, vec![self.tool.named.span]);
        }
        Some(())
    }

    /// Section 179 of it: the stated amount or all, at most the business part of its cost in the first year.
    fn elected(&self, cost: Fixed6, stated: Option<Decimal>) -> Option<Fixed6> {
        let base = self.business_cost(cost, self.in_use.year())?;
        stated.map_or(Some(base), |stated| Some(Fixed6::round_from_decimal(stated)?.min(base)))
    }

    fn opened_without_table(&self, row: &mut ToolYear, questions: &mut Questions) -> Option<()> {
        row.left = row.cost.checked_sub(row.before)?.max(Fixed6::ZERO);
        let question = format!(
            "{} of the cost of `{}` was not recovered when the book began: how is it recovered? It is not included",
            self.of.money(row.left),
            self.tool.named.name
        );
        let answer = match self.tool.recovery {
            Some(Recovery::OverYears(_) | Recovery::Section179 { rest_over: Some(_), .. }) => {
                "in use from …, in the tool's definition"
            }
            _ => "in use from … and recovered over … years, in the tool's definition",
        };
        let name = format!("{}/recovery", self.tool.named.name);
        questions.ask_definition(&name, question, Rule::Recovery, answer, vec![self.account.line]);
        Some(())
    }

    /// Steps 6 to 9, for what section 179 left of its cost.
    fn over_years(&self, row: &mut ToolYear, over: Decimal, elected: Fixed6, asked: &mut Asking<'_>) -> Option<()> {
        let of = self.of;
        row.feed = Some(Feed::Depreciation);
        let first = self.in_use.year();
        let years = over.normalize();
        if self.in_use > of.last {
            row.method = format!("recovered over {years} years from {}", self.in_use);
            row.left = self.business_cost(row.cost, of.year)?;
            return Some(());
        }
        let before_book =
            (self.account.came == ToolCame::Opened).then_some((self.account.date.year(), self.account.already_recovered));
        if before_book.is_some() && self.tool.in_use_from.is_none() {
            row.method = format!("recovered over {years} years; in use from not said: nothing included");
            return self.opened_without_table(row, asked.questions);
        }
        let convention = if before_book.is_some_and(|(year, _)| first < year) {
            if self.tool.mid_quarter { mid_quarter_of(self.in_use) } else { Convention::HalfYear }
        } else if is_mid_quarter(of, first)? {
            mid_quarter_of(self.in_use)
        } else {
            Convention::HalfYear
        };
        let Some(table) = of.figures.depreciation(over, convention) else {
            asked.found.push(no_table(self.tool, &years.to_string(), &of.figures.depreciation_years(), of.form));
            return Some(());
        };
        asked.sources.note(&table.note());
        let bonus = self.bonus(first, elected, asked);
        let base = self.business_cost(row.cost, of.year)?.checked_sub(elected)?.max(Fixed6::ZERO);
        let left_on = self.account.retired.map(|(day, _)| day).filter(|day| *day <= of.last);
        // What was taken under section 179 before the book began is no part of what the table goes on with.
        let elected_before = if before_book.is_some_and(|(year, _)| first < year) { elected } else { Fixed6::ZERO };
        let by_table = |(year, already): (i32, Fixed6)| Some((year, already.checked_sub(elected_before)?.max(Fixed6::ZERO)));
        let from = match before_book {
            Some(before_book) => Some(by_table(before_book)?),
            None => None,
        };
        let recovered = Recovered { base, bonus, in_use: self.in_use, before_book: from, table, left_on };
        let year = recovered.in_year(of.year, of.digits())?;
        row.before = year.before.checked_add(elected_before)?;
        row.amount = year.amount;
        row.left = base.checked_sub(year.before)?.checked_sub(year.amount)?.max(Fixed6::ZERO);
        let by = match convention {
            Convention::HalfYear => "half-year".to_owned(),
            Convention::MidQuarter(quarter) => format!("mid-quarter {quarter}"),
        };
        let bonus = if bonus.is_zero() { String::new() } else { format!(", bonus {}%", bonus.normalize()) };
        row.method = format!("recovered over {years} years, {by} table, year {}{bonus}", year.nth);
        self.check_before_book(before_book, elected_before, &recovered, asked.questions)
    }

    /// Step 7: bonus in percent, of a tool that was bought or made, unless declined.
    fn bonus(&self, first: i32, elected: Fixed6, asked: &mut Asking<'_>) -> Decimal {
        let name = &self.tool.named.name;
        match self.account.came {
            ToolCame::Opened => return Decimal::ZERO,
            ToolCame::Contributed => {
                let question = format!(
                    "is the cost given for `{name}` the smaller of what it cost and what it was worth when it came to the shop?"
                );
                asked.questions.ask(
                    &format!("{name}/contributed"),
                    question,
                    Rule::OwnTool,
                    "answered … with both figures",
                    vec![self.account.line],
                );
                return Decimal::ZERO;
            }
            ToolCame::Bought | ToolCame::Made => {}
        }
        if self.tool.no_bonus {
            return Decimal::ZERO;
        }
        let Some(rule) = self.of.figures.bonus(first, self.account.date) else {
            if self.of.year == first {
                asked.found.push(no_figure(
                    self.tool.named.span,
                    self.of.form,
                    "bonus",
                    "this tool says nothing of bonus depreciation",
                ));
            }
            return Decimal::ZERO;
        };
        asked.sources.note(&rule.note());
        if self.of.year == first && !rule.percent.0.is_zero() {
            let of_what = if elected.is_zero() { "its cost" } else { "its cost less section 179" };
            let question = format!(
                "`{name}` does not decline bonus depreciation, so {}% of {of_what} counts in {first}: is that wanted?",
                rule.percent.0.normalize()
            );
            asked.questions.ask(
                &format!("{name}/bonus"),
                question,
                Rule::Bonus,
                "no bonus, in the tool's definition; or answered …",
                vec![self.tool.named.span],
            );
        }
        rule.percent.0
    }

    /// What the book says was recovered before it, against the table.
    fn check_before_book(
        &self,
        before_book: Option<(i32, Fixed6)>,
        elected: Fixed6,
        recovered: &Recovered<'_>,
        questions: &mut Questions,
    ) -> Option<()> {
        let Some((taken_over, stated)) = before_book.filter(|(year, _)| self.in_use.year() < *year) else { return Some(()) };
        let by_table = Recovered { before_book: None, left_on: None, ..*recovered }.in_year(taken_over, self.of.digits())?.before;
        let (by_table, base) = (by_table.checked_add(elected)?, recovered.base.checked_add(elected)?);
        let off = by_table.checked_sub(stated)?;
        // Tables are applied to the dollar or to the cent; more than a dollar a year is another method.
        let years = i128::from(taken_over.checked_sub(self.in_use.year())?);
        if off.micros().checked_abs()? <= years.checked_mul(1_000_000)? {
            return Some(());
        }
        let name = &self.tool.named.name;
        let (table, was_there, whole) = match elected.is_zero() {
            true => ("the table comes", "bonus or section 179", "whole cost"),
            false => ("section 179 and the table come", "bonus or another election", "cost less section 179"),
        };
        let question = format!(
            "`{name}` had {} recovered before the book, and {table} to {} of {}: was there {was_there}? The table goes on with the {whole}, \
             up to what is left",
            self.of.money(stated),
            self.of.money(by_table),
            self.of.money(base)
        );
        questions.ask(
            &format!("{name}/recovered-before"),
            question,
            Rule::RecoveredBefore,
            "already recovered, corrected; or answered …",
            vec![self.account.line],
        );
        Some(())
    }

    /// Step 10.
    fn dispose(&self, row: &mut ToolYear) -> Option<()> {
        let Some((day, proceeds)) = self.account.retired.filter(|(day, _)| self.of.has(*day)) else { return Some(()) };
        let part = |amount| Percent::new(row.business_use).of_rounded(amount, self.of.digits());
        let recovered = row.before.checked_add(row.section_179)?.checked_add(row.amount)?;
        let gain = part(proceeds)?.checked_sub(part(row.cost)?)?.checked_add(recovered)?;
        row.left = Fixed6::ZERO;
        row.disposed = Some((day, proceeds, gain));
        Some(())
    }
}

/// Whether more than the stated part of what was put in use in a year, by cost × use less section 179, came in its last quarter;
/// things sold in the same year aside. `None` on overflow.
fn is_mid_quarter(of: &BooksOfYear<'_>, year: i32) -> Option<bool> {
    let Some(above) = of.figures.mid_quarter_above() else { return Some(false) };
    let (mut all, mut late) = (Fixed6::ZERO, Fixed6::ZERO);
    for account in &of.costed().tools {
        let tool = of.book().tool(account.tool);
        let in_use = tool.in_use_from.unwrap_or(account.date);
        let sold = account.retired.is_some_and(|(day, _)| day.year() == year);
        let elected = match tool.recovery {
            Some(Recovery::OverYears(_)) => Some(Fixed6::ZERO),
            Some(Recovery::Section179 { stated: Some(stated), rest_over: Some(_) }) => Some(Fixed6::round_from_decimal(stated)?),
            _ => None,
        };
        let Some(elected) = elected.filter(|_| in_use.year() == year && !sold) else { continue };
        let last = NaiveDate::from_ymd_opt(year, 12, 31)?;
        let cost = Percent::new(*tool.business_use.on(last)).of_rounded(account.cost, 6)?;
        let cost = cost.checked_sub(elected)?.max(Fixed6::ZERO);
        all = all.checked_add(cost)?;
        if in_use.month() >= 10 {
            late = late.checked_add(cost)?;
        }
    }
    Some(late > Percent::new(above.percent.0).of_rounded(all, 6)?)
}
