//! A tool's recovery over years: section 179, convention, bonus, table, and the year of sale.
//!
//! Steps 5 to 9 of the design's order. What was recovered before the book is held against the table.

use chrono::Datelike;
use rust_decimal::Decimal;

use crate::costing::ToolCame;
use crate::names::Recovery;
use crate::units::Fixed6;
use crate::year::errors::{no_figure_of, no_lasting_figure, no_section_179, no_table};
use crate::year::forms::figure_entries::Convention;
use crate::year::questions::Questions;
use crate::year::tax_year::{ToolLifeYear, ToolYear};
use crate::year::tools::convention::is_mid_quarter;
use crate::year::tools::depreciation::{Recovered, RecoveryYear, mid_quarter_of};
use crate::year::tools::equipment::{Asking, OneTool};
use crate::year::tools::tool_steps::Step;
use crate::year::{Feed, Rule};

const NOTHING_FOR_IT: &str = "none: it left in the year in which it was put in use";
const REST_WITH: &str = "recovered over … years, in the tool's definition";

impl OneTool<'_> {
    /// Step 5, before the limits that all tools share; then steps 6 to 9 for the rest, where its years are said.
    pub(crate) fn section_179(
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
        let Some(above) = self.of.figures.section_179_use_above() else {
            let why = "this tool is expensed under section 179";
            asked.found.push(no_lasting_figure(self.tool.named.span, self.of.form, "section_179_use_above", why));
            return Some(());
        };
        asked.sources.note(&above.note());
        let above = above.percent.0.normalize();
        if self.business_use(first) <= above {
            asked.found.push(no_section_179(self.tool, &format!("its business use is not more than {above}%")));
            return Some(());
        }
        let elected = self.elected(row.cost, stated)?;
        if self.in_use > self.of.last {
            row.method = format!("section 179, in use from {}", self.in_use);
            row.left = self.business_cost(row.cost, self.of.year)?.checked_sub(row.before)?.max(Fixed6::ZERO);
            return Some(());
        }
        let sold_at_once = self.gone_in_its_first_year();
        // What was elected before the book began is in what it says was recovered by then.
        let by_the_book = !came_before || first >= self.account.date.year();
        if let Some(over) = rest_over {
            self.over_years(row, over, elected, asked)?;
            row.method = format!("section 179 of {}, then {}", self.of.money(elected), row.method);
        }
        if self.of.year >= first && !sold_at_once && by_the_book {
            if self.of.year == first {
                row.section_179 = elected;
                let of_what = self.of.money(self.business_cost(row.cost, first)?);
                let how = if stated.is_some() { "stated, at most the business part of" } else { "all of the business part of" };
                row.says(Step::Section179, format!("{how} {of_what}"), Some(elected));
            } else {
                row.before = row.before.checked_add(elected)?;
                row.says(Step::Section179, format!("{} of it was elected in {first}", self.of.money(elected)), None);
            }
            self.live_with_section_179(row, elected)?;
        }
        self.ask_of_recapture(elected, above, asked.questions);
        if sold_at_once && self.of.year == first {
            row.says(Step::Section179, NOTHING_FOR_IT, None);
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
                self.tool.named.title
            );
            let name = format!("{}/rest", self.tool.named.name);
            asked.questions.ask_definition(&name, question, Rule::Recovery, REST_WITH, vec![self.tool.named.span]);
        }
        Some(())
    }

    /// Where business use is no more than `above` in a later year, while a table would still run.
    fn ask_of_recapture(&self, elected: Fixed6, above: Decimal, questions: &mut Questions) {
        let (year, first) = (self.of.year, self.in_use.year());
        let longest =
            self.of.figures.depreciation_years().last().copied().and_then(|years| i32::try_from(years).ok()).unwrap_or(0);
        let over = match self.tool.recovery {
            Some(Recovery::Section179 { rest_over: Some(over), .. }) => over.ceil().try_into().unwrap_or(longest),
            _ => longest,
        };
        let falls = self.business_use(year) <= above && year > first && year.saturating_sub(first) <= over;
        // Asked in the year in which it falls.
        if !elected.is_positive() || !falls || year.checked_sub(1).is_none_or(|before| self.business_use(before) <= above) {
            return;
        }
        let (name, title) = (&self.tool.named.name, &self.tool.named.title);
        let question = format!(
            "the business use of `{title}` fell to {}%, and {} was taken under section 179 in {first}: how much of it is income again?",
            self.business_use(year).normalize(),
            self.of.money(elected)
        );
        let answer = "answered … with the amount, worked out by a preparer";
        questions.ask(&format!("{name}/recapture"), question, Rule::Section179Recapture, answer, vec![self.tool.named.span]);
    }

    fn live_with_section_179(&self, row: &mut ToolYear, elected: Fixed6) -> Option<()> {
        let year = self.in_use.year();
        if let Some(first) = row.life.iter_mut().find(|one| one.year == year) {
            first.at_once = first.at_once.checked_add(elected)?;
            return Some(());
        }
        let left = Fixed6::checked_sum(row.life.iter().map(|one| one.bonus).chain(row.life.iter().map(|one| one.table)))?;
        row.life.insert(0, ToolLifeYear { year, at_once: elected, bonus: Fixed6::ZERO, table: Fixed6::ZERO, left });
        Some(())
    }

    /// Section 179 of it: the stated amount or all, at most the business part of its cost in the first year.
    pub(crate) fn elected(&self, cost: Fixed6, stated: Option<Decimal>) -> Option<Fixed6> {
        let base = self.business_cost(cost, self.in_use.year())?;
        // What the book says was recovered by its first day, in that very year, can't be taken once more.
        let here_before = self.account.came == ToolCame::Opened && self.in_use.year() == self.account.date.year();
        let recovered = if here_before { self.account.already_recovered } else { Fixed6::ZERO };
        let base = base.checked_sub(recovered)?.max(Fixed6::ZERO);
        stated.map_or(Some(base), |stated| {
            Some(self.account.part_of(Fixed6::round_from_decimal(stated)?, self.of.digits())?.min(base))
        })
    }

    pub(crate) fn opened_without_table(&self, row: &mut ToolYear, questions: &mut Questions) -> Option<()> {
        row.left = row.cost.checked_sub(row.before)?.max(Fixed6::ZERO);
        let question = format!(
            "{} of the cost of `{}` was not recovered when the book began: how is it recovered? It is not included",
            self.of.money(row.left),
            self.tool.named.title
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
    pub(crate) fn over_years(&self, row: &mut ToolYear, over: Decimal, elected: Fixed6, asked: &mut Asking<'_>) -> Option<()> {
        let of = self.of;
        if of.form.asked_of(Feed::Depreciation).is_some() {
            self.leave_to_form(row, Some(Recovery::OverYears(over)))?;
            row.left = row.left.checked_sub(elected)?.max(Fixed6::ZERO);
            return Some(());
        }
        row.feed = Some(Feed::Depreciation);
        let first = self.in_use.year();
        let years_over = over.normalize();
        if self.in_use > of.last {
            row.method = format!("recovered over {years_over} years from {}", self.in_use);
            row.left = self.business_cost(row.cost, of.year)?.checked_sub(row.before)?.max(Fixed6::ZERO);
            return Some(());
        }
        let in_use_before =
            self.account.came == ToolCame::Opened && (first < self.account.date.year() || row.before.is_positive());
        // Of one that was put in use in the year in which the book begins nothing was recovered in an earlier year.
        let before_book = in_use_before.then_some((self.account.date.year(), self.account.already_recovered));
        if self.account.came == ToolCame::Opened && self.tool.in_use_from.is_none() {
            row.method = format!("recovered over {years_over} years; in use from not said: nothing included");
            return self.opened_without_table(row, asked.questions);
        }
        let convention = if before_book.is_some_and(|(year, _)| first < year) {
            if self.tool.mid_quarter { mid_quarter_of(self.in_use) } else { Convention::HalfYear }
        } else {
            let Some(above) = of.figures.mid_quarter_above() else {
                let why = "this tool is recovered by a table";
                asked.found.push(no_lasting_figure(self.tool.named.span, of.form, "mid_quarter_above", why));
                return Some(());
            };
            asked.sources.note(&above.note());
            if is_mid_quarter(of, first, above)? { mid_quarter_of(self.in_use) } else { Convention::HalfYear }
        };
        let Some(table) = of.figures.depreciation(over, convention) else {
            asked.found.push(no_table(self.tool, &years_over.to_string(), &of.figures.depreciation_years(), of.form));
            return Some(());
        };
        asked.sources.note(&table.note());
        let bonus = self.bonus(row, elected, asked);
        let base_of = |year| Some(self.business_cost(row.cost, year)?.checked_sub(elected)?.max(Fixed6::ZERO));
        let left_on = self.account.retired.map(|(day, _)| day).filter(|day| *day <= of.last);
        // What was taken under section 179 before the book began is no part of what the table goes on with.
        let elected_before = if before_book.is_some_and(|(year, _)| first < year) { elected } else { Fixed6::ZERO };
        let by_table = |(year, already): (i32, Fixed6)| Some((year, already.checked_sub(elected_before)?.max(Fixed6::ZERO)));
        let from = match before_book {
            Some(before_book) => Some(by_table(before_book)?),
            None => None,
        };
        let recovered = Recovered { bonus, in_use: self.in_use, before_book: from, table, left_on };
        let years = recovered.years(of.digits(), base_of)?;
        let of_life = years.iter().map(|one| {
            let table = one.by_table.checked_add(one.off_for_sale)?;
            Some(ToolLifeYear { year: one.year, at_once: Fixed6::ZERO, bonus: one.bonus, table, left: one.left })
        });
        row.life = of_life.collect::<Option<_>>()?;
        while row.life.len() > 1 && row.life.last().is_some_and(|one| one.bonus.is_zero() && one.table.is_zero()) {
            row.life.pop();
        }
        self.in_its_year(row, &years, elected_before)?;
        let by = convention.in_words();
        row.says(Step::Convention, self.why_convention(convention, first)?, None);
        let bonus = if bonus.is_zero() { String::new() } else { format!(", bonus {}%", bonus.normalize()) };
        let nth = of.year.checked_sub(first)?.checked_add(1)?;
        row.method = format!("recovered over {years_over} years, {by} table, year {nth}{bonus}");
        self.check_before_book(row.cost, before_book, elected_before, &recovered, asked.questions)
    }

    /// Steps 7 to 9 of this year, out of the tool's whole life.
    fn in_its_year(&self, row: &mut ToolYear, years: &[RecoveryYear], elected_before: Fixed6) -> Option<()> {
        let of = self.of;
        let Some(year) = years.iter().find(|one| one.year == of.year) else {
            // Its table has ended, or the book has not come to it.
            let past = years.iter().filter(|one| one.year < of.year);
            let past = Fixed6::checked_sum(past.map(RecoveryYear::amount).collect::<Option<Vec<_>>>()?)?;
            let start = years.first().map_or(Fixed6::ZERO, |one| one.before);
            row.before = start.checked_add(past)?.checked_add(elected_before)?;
            row.says(Step::Table, "its table has ended", None);
            return Some(());
        };
        row.before = year.before.checked_add(elected_before)?;
        row.amount = year.amount()?;
        row.left = year.left;
        if let Some(bonus) = row.steps.iter_mut().find(|one| one.step == Step::Bonus && year.nth == 1) {
            bonus.amount = Some(year.bonus).filter(|bonus| !bonus.is_zero());
        }
        if self.gone_in_its_first_year() {
            row.says(Step::Table, NOTHING_FOR_IT, None);
            return Some(());
        }
        if year.by_table.is_zero() {
            row.says(Step::Table, "nothing is left for it", None);
            return Some(());
        }
        let how = match year.percent {
            Some(percent) => format!("{}% of {}, its year {}", percent.normalize(), of.money(year.spread), year.nth),
            None => format!("what is left, its year {}", year.nth),
        };
        row.says(Step::Table, how, Some(year.by_table));
        if let Some((day, _)) = self.account.retired.filter(|(day, _)| of.has(*day)) {
            let how = format!("it left on {day}: taken off the year's amount");
            row.says(Step::YearOfSale, how, Some(year.off_for_sale));
        }
        Some(())
    }

    /// Step 7: bonus in percent, of a tool that was bought or made, unless declined.
    fn bonus(&self, row: &mut ToolYear, elected: Fixed6, asked: &mut Asking<'_>) -> Decimal {
        let (name, title, first) = (&self.tool.named.name, &self.tool.named.title, self.in_use.year());
        match self.account.came {
            _ if self.gone_in_its_first_year() => {
                row.says(Step::Bonus, NOTHING_FOR_IT, None);
                return Decimal::ZERO;
            }
            ToolCame::Opened if first < self.account.date.year() => {
                row.says(Step::Bonus, "none here: in use before the book", None);
                return Decimal::ZERO;
            }
            ToolCame::Contributed => {
                row.says(Step::Bonus, "none: it was the owner's own before", None);
                self.ask_of_own(asked.questions);
                return Decimal::ZERO;
            }
            ToolCame::Opened | ToolCame::Bought | ToolCame::Made => {}
        }
        if self.tool.no_bonus {
            row.says(Step::Bonus, "declined", None);
            return Decimal::ZERO;
        }
        // One that was there when the book began was had by the day of its first use.
        let had = self.account.date.min(self.in_use);
        let Some(rule) = self.of.figures.bonus(first, had) else {
            let why = "this tool says nothing of bonus depreciation";
            asked.found.push(no_figure_of(self.tool.named.span, self.of.form, "bonus", first, why));
            return Decimal::ZERO;
        };
        asked.sources.note(&rule.note());
        let percent = rule.percent.0.normalize();
        row.says(Step::Bonus, format!("{percent}%, for what came on {had} and is in use from {first}"), None);
        if self.of.year == first && !rule.percent.0.is_zero() {
            let of_what = if elected.is_zero() { "its cost" } else { "its cost less section 179" };
            let question = format!(
                "`{title}` does not decline bonus depreciation, so {}% of {of_what} counts in {first}: is that wanted?",
                rule.percent.0.normalize()
            );
            asked.questions.ask_to_confirm(
                &format!("{name}/bonus"),
                question,
                Rule::Bonus,
                ("no bonus, in the tool's definition; or answered … with a yes", "`no bonus`, in the tool's definition"),
                vec![self.tool.named.span],
            );
        }
        rule.percent.0
    }

    /// What the book says was recovered before it, against the table.
    fn check_before_book(
        &self,
        cost: Fixed6,
        before_book: Option<(i32, Fixed6)>,
        elected: Fixed6,
        recovered: &Recovered<'_>,
        questions: &mut Questions,
    ) -> Option<()> {
        let Some((taken_over, stated)) = before_book else { return Some(()) };
        if self.in_use.year() >= taken_over {
            self.ask_of_early_recovery(stated, questions);
            return Some(());
        }
        let base = self.business_cost(cost, self.of.year)?;
        let spread = base.checked_sub(elected)?.max(Fixed6::ZERO);
        let years = Recovered { before_book: None, left_on: None, ..*recovered }.years(self.of.digits(), |_| Some(spread))?;
        let amounts = years.iter().filter(|one| one.year < taken_over).map(RecoveryYear::amount).collect::<Option<Vec<_>>>()?;
        let by_table = Fixed6::checked_sum(amounts)?.checked_add(elected)?;
        let off = by_table.checked_sub(stated)?;
        // Tables are applied to the dollar or to the cent; more than a dollar a year is another method.
        let years = i128::from(taken_over.checked_sub(self.in_use.year())?);
        if off.micros().checked_abs()? <= years.checked_mul(1_000_000)? {
            return Some(());
        }
        let (name, title) = (&self.tool.named.name, &self.tool.named.title);
        let (table, was_there, whole) = match elected.is_zero() {
            true => ("the table comes", "bonus or section 179", "whole cost"),
            false => ("section 179 and the table come", "bonus or another election", "cost less section 179"),
        };
        let question = format!(
            "`{title}` had {} recovered before the book, and {table} to {} of {}: was there {was_there}? The table goes on with the {whole}, \
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
}
