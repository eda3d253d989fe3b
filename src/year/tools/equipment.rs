//! Tools: what of each counts in the year, and where.
//!
//! Each step in the design's order: landed cost, use share, at most $200 a unit or a year of life, de minimis where elected, section 179, half-year
//! or mid-quarter, bonus by the day of acquisition, table, year of sale, and a gain to a list of its own. Steps that allow a tool
//! at once look at the landed cost of one item, before the use share. What the book does not say is a question, and its
//! amount is not included.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{Flow, Movement, ToolAccount, ToolCame};
use crate::diagnostics::Diagnostics;
use crate::names::{Recovery, StockKept, Tool};
use crate::units::{Fixed6, Percent, checked_mul_exact, mul_div_round};
use crate::year::Feed;
use crate::year::Rule;
use crate::year::bill_split::Part;
use crate::year::books::BooksOfYear;
use crate::year::errors::{no_figure_of, not_at_once, own_not_at_once};
use crate::year::forms::source_note::SourceNotes;
use crate::year::goods::goods_cost::waiting_cost;
use crate::year::questions::Questions;
use crate::year::settled::Settled;
use crate::year::tax_year::{ToolLifeYear, ToolYear};
use crate::year::tools::tool_steps::Step;

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
        let in_use = account.in_use_from(tool.in_use_from);
        let gone = account.retired.is_some_and(|(day, _)| day < of.first);
        if account.date > of.last || gone {
            continue;
        }
        let one = OneTool { of, account, tool, in_use, at };
        let mut row = one.row(asked.questions)?;
        let how = one.how_it_came(row.before);
        row.says(Step::LandedCost, how, Some(row.cost));
        let part = one.business_cost(row.cost, of.year)?;
        row.says(Step::BusinessPart, format!("{}% of it", row.business_use.normalize()), Some(part));
        one.ask_of_earlier_use(asked.questions);
        one.ask_of_use_within_the_year(asked.questions);
        match tool.recovery {
            _ if account.came == ToolCame::Opened && account.already_recovered >= account.cost => {
                "recovered before the book began".clone_into(&mut row.method);
                row.before = row.cost;
            }
            recovery if one.is_asked(recovery) => one.leave_to_form(&mut row, recovery)?,
            None => {
                row.left = part.checked_sub(row.before)?.max(Fixed6::ZERO);
                let question = format!("how is the cost of `{}` recovered? Nothing of it is included", tool.named.title);
                let answer = match of.form.line_of(Feed::Section179) {
                    Some(_) => "recovered over 7 years, expensed at once or expensed under section 179, in the tool's definition",
                    None => "recovered over 7 years or expensed at once, in the tool's definition",
                };
                let name = format!("{}/recovery", tool.named.name);
                asked.questions.ask_definition(&name, question, Rule::Recovery, answer, vec![tool.named.span]);
                "not said: nothing included".clone_into(&mut row.method);
            }
            Some(Recovery::AtOnce) if account.came == ToolCame::Opened => {
                row.feed = Some(Feed::ToolsAtOnce);
                one.opened_at_once(&mut row, asked.questions)?;
            }
            Some(Recovery::AtOnce) => {
                one.at_once(&mut row, settled, &mut asked)?;
                if account.came == ToolCame::Contributed {
                    one.ask_of_own(asked.questions);
                }
            }
            Some(Recovery::Section179 { stated, rest_over }) => one.section_179(&mut row, (stated, rest_over), &mut asked)?,
            Some(Recovery::OverYears(over)) => one.over_years(&mut row, over, Fixed6::ZERO, &mut asked)?,
        }
        one.dispose(&mut row, asked.questions)?;
        if !row.asked {
            row.close_steps();
        }
        match years.last_mut().filter(|last: &&mut ToolYear| last.is_like(&row)) {
            Some(last) => last.join(&row)?,
            None => years.push(row),
        }
    }
    Some(years)
}

/// What is asked, quoted and told while the tools are figured.
pub(crate) struct Asking<'a> {
    pub(crate) questions: &'a mut Questions,
    pub(crate) sources: &'a mut SourceNotes,
    pub(crate) found: &'a mut Diagnostics,
}

/// A tool of the shop, in the year that is figured.
#[derive(Clone, Copy)]
pub(crate) struct OneTool<'a> {
    pub(crate) of: &'a BooksOfYear<'a>,
    pub(crate) account: &'a ToolAccount,
    pub(crate) tool: &'a Tool,
    /// In use from; the day it came where the book doesn't say.
    pub(crate) in_use: NaiveDate,
    /// Its index among the book's tools.
    pub(crate) at: u32,
}

impl<'a> OneTool<'a> {
    /// A tool of the book by its index.
    pub(crate) fn at(of: &'a BooksOfYear<'a>, at: u32) -> Option<Self> {
        let account = of.costed().tools.get(at as usize)?;
        let tool = of.book().tool(account.tool);
        Some(Self { of, account, tool, in_use: account.in_use_from(tool.in_use_from), at })
    }
}

impl OneTool<'_> {
    /// Its cost as the tax year sees it: of a tool made in a batch, only what waited in the batch. Where that can't be told, it is asked.
    fn cost(&self, questions: &mut Questions) -> Option<Fixed6> {
        let waited = self.waited()?;
        if waited.is_none() {
            let question =
                format!("what of the cost of `{}`, made in a batch, is material? All of it was taken", self.tool.named.title);
            let name = format!("{}/made", self.tool.named.name);
            questions.ask(&name, question, Rule::Recovery, "one tool on each `made` line", vec![self.account.line]);
        }
        Some(waited.unwrap_or(self.account.cost))
    }

    /// What of its cost the tax year sees; `Some(None)` where one line made several tools under the supplies method.
    pub(crate) fn waited(&self) -> Option<Option<Fixed6>> {
        let kept = *self.of.book().shop.stock_kept.on(self.account.date);
        if self.account.came != ToolCame::Made || kept == StockKept::Inventory {
            return Some(Some(self.account.cost));
        }
        let Some(movement) = self.made_by() else { return Some(None) };
        self.account.part_of(waiting_cost(&movement.vector, kept)?, self.of.digits()).map(Some)
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
        let not_paid = |movement: &Movement| waiting_cost(&movement.vector.marked(self.of.not_paid_at_end_of(year)), kept);
        cost.checked_sub({
            let not_paid = self.made_by().map_or(Some(Fixed6::ZERO), not_paid)?;
            self.account.part_of(not_paid, self.of.digits())?
        })
    }

    /// The business part on the last day of a year, or on the day it left.
    pub(crate) fn business_use(&self, year: i32) -> Decimal {
        let last = NaiveDate::from_ymd_opt(year, 12, 31).unwrap_or(self.of.last);
        let day = self.account.retired.map_or(last, |(day, _)| day.min(last));
        *self.tool.business_use.on(day)
    }

    /// Whether it was put in use and left in one year, so that nothing of its cost is recovered.
    pub(crate) fn gone_in_its_first_year(&self) -> bool {
        self.account.retired.is_some_and(|(day, _)| day.year() == self.in_use.year())
    }

    fn row(&self, questions: &mut Questions) -> Option<ToolYear> {
        Some(ToolYear {
            tool: self.account.tool,
            account: self.at,
            line: self.account.line,
            in_use_from: self.in_use,
            count: self.account.count,
            of_line: (self.account.of_line.0.checked_add(1)?, self.account.of_line.1),
            cost: self.cost(questions)?,
            business_use: self.business_use(self.of.year),
            method: String::new(),
            before: self.account.already_recovered,
            section_179: Fixed6::ZERO,
            carried: Fixed6::ZERO,
            amount: Fixed6::ZERO,
            left: Fixed6::ZERO,
            feed: None,
            asked: false,
            disposed: None,
            steps: Vec::new(),
            life: Vec::new(),
        })
    }

    /// What its cost is, in words.
    fn how_it_came(&self, before: Fixed6) -> String {
        match self.account.came {
            ToolCame::Opened if before.is_zero() => "as the book says when it began".to_owned(),
            ToolCame::Opened => {
                format!("as the book says when it began; {} of it was recovered by then", self.of.money(before))
            }
            ToolCame::Bought => "bought, with its tax and delivery".to_owned(),
            ToolCame::Contributed => "as the owner put it in".to_owned(),
            ToolCame::Made => "made here, from what waited in its batch".to_owned(),
        }
    }

    /// The business part of a cost, by a year's use, to the cent.
    pub(crate) fn business_cost(&self, cost: Fixed6, year: i32) -> Option<Fixed6> {
        Percent::new(self.business_use(year)).of_rounded(cost, self.of.digits())
    }

    /// Whether the form asks for what a way of recovery comes to, instead of having a line for it.
    fn is_asked(&self, recovery: Option<Recovery>) -> bool {
        let asks = |feed| self.of.form.asked_of(feed).is_some();
        match recovery {
            None => [Feed::Depreciation, Feed::ToolsAtOnce, Feed::Section179].into_iter().all(asks),
            Some(recovery) => asks(feed_of(recovery)),
        }
    }

    /// Nothing of its cost is figured: the form's question states it.
    pub(crate) fn leave_to_form(&self, row: &mut ToolYear, recovery: Option<Recovery>) -> Option<()> {
        let feed = recovery.map_or(Feed::Depreciation, feed_of);
        let by = self.of.form.asked_of(feed).map_or("", |asked| asked.name.as_str());
        row.asked = true;
        row.feed = Some(feed);
        row.method = format!("on no line: asked under `{by}`");
        row.left = self.business_cost(row.cost, self.of.year)?.checked_sub(row.before)?.max(Fixed6::ZERO);
        Some(())
    }

    /// Steps 3 and 4.
    fn at_once(&self, row: &mut ToolYear, settled: &Settled, asked: &mut Asking<'_>) -> Option<()> {
        let of = self.of;
        row.feed = Some(Feed::ToolsAtOnce);
        let year = self.account.date.year();
        let Some(limits) = of.figures.at_once(year) else {
            let why = "this tool is expensed at once";
            asked.found.push(no_figure_of(self.tool.named.span, of.form, "at_once", year, why));
            return Some(());
        };
        asked.sources.note(&limits.note());
        let most = |limit: Decimal| Fixed6::round_from_decimal(limit.checked_mul(self.account.count)?);
        // De minimis is for what was invoiced to the business.
        let own = self.account.came == ToolCame::Contributed;
        let elected = of.book().choices.get(&year).is_some_and(|choices| choices.de_minimis);
        let cheap = row.cost <= most(limits.supply_unit.0)?;
        let months = self.tool.lasts_years.and_then(|years| checked_mul_exact(years, Decimal::from(12)).ok());
        let short_lived = months.is_some_and(|months| months <= limits.supply_months.0);
        let step = if cheap || short_lived { Step::Supplies } else { Step::DeMinimis };
        let life = format!("lasts at most {} months", limits.supply_months.0.normalize());
        if step == Step::Supplies && !cheap {
            row.method = format!("expensed at once: it {life}");
        } else if step == Step::Supplies {
            row.method = format!("expensed at once: at most {} an item", limits.supply_unit.0);
        } else if elected && !own && row.cost <= most(limits.de_minimis_item.0)? {
            row.method = format!("expensed at once: de minimis elected for {year}, at most {} an item", limits.de_minimis_item.0);
        } else {
            let count = self.account.count;
            let unit = mul_div_round(row.cost.micros(), 10i128.checked_pow(count.scale())?, count.mantissa())
                .map_or(row.cost, Fixed6::from_micros);
            let limit = |limit: Decimal| Fixed6::round_from_decimal(limit).map(|limit| of.money(limit));
            let months = limits.supply_months.0.normalize().to_string();
            let (supply, item) = (limit(limits.supply_unit.0)?, limit(limits.de_minimis_item.0)?);
            if own {
                asked.found.push(own_not_at_once(self.tool, &of.money(unit), &supply));
                return Some(());
            }
            asked.found.push(not_at_once(self.tool, &of.money(unit), (&supply, &months, &item), of.form, year, elected));
            return Some(());
        }
        // A tool made in a batch counts as what went into it is paid; one that was bought, when its bill is.
        let parts = settled.tool(of.costed(), self.at);
        let cost = row.cost;
        let counted_by = |year: i32| {
            if self.account.came == ToolCame::Made {
                return self.paid_by(cost, year);
            }
            // What was paid before it came counts as it comes.
            let counts_by = |part: &&Part| part.date.max(self.account.date).year() <= year;
            Fixed6::checked_sum(parts.iter().filter(counts_by).map(|part| part.amount))
        };
        let years = self.years_at_once(row.cost, counted_by)?;
        row.before = Fixed6::checked_sum(years.iter().filter(|one| one.year < of.year).map(|one| one.at_once))?;
        if let Some(now) = years.iter().find(|one| one.year == of.year) {
            (row.amount, row.left) = (now.at_once, now.left);
        }
        let limit = if step == Step::Supplies { &limits.supply_unit } else { &limits.de_minimis_item };
        let limit = of.money(Fixed6::round_from_decimal(limit.0)?);
        let how = match step {
            Step::Supplies if cheap => format!("an item cost at most {limit}"),
            Step::Supplies => life,
            _ => format!("elected for {year}, and an item cost at most {limit}"),
        };
        if step == Step::DeMinimis {
            let most = of.money(Fixed6::round_from_decimal(limits.supply_unit.0)?);
            row.says(Step::Supplies, format!("no: an item cost more than {most}"), None);
        }
        row.says(step, how, Some(row.amount));
        row.life = years.into_iter().filter(|one| !one.at_once.is_zero()).collect();
        Some(())
    }

    /// Every year from the one in which it came, where it counts at once: each year's part by the use of that year, and what is left.
    fn years_at_once(&self, cost: Fixed6, counted_by: impl Fn(i32) -> Option<Fixed6>) -> Option<Vec<ToolLifeYear>> {
        let last = self.of.costed().until.map_or(self.of.year, |day| day.year().max(self.of.year));
        let mut years = Vec::new();
        for year in self.account.date.year()..=last {
            let by_now = self.business_cost(counted_by(year)?, year)?;
            let before = self.business_cost(counted_by(year.checked_sub(1)?)?, year)?;
            let at_once = by_now.checked_sub(before)?;
            let left = self.business_cost(cost, year)?.checked_sub(by_now)?;
            years.push(ToolLifeYear { year, at_once, bonus: Fixed6::ZERO, table: Fixed6::ZERO, left });
        }
        Some(years)
    }
}

/// Where a way of recovery flows.
const fn feed_of(recovery: Recovery) -> Feed {
    match recovery {
        Recovery::AtOnce => Feed::ToolsAtOnce,
        Recovery::Section179 { .. } => Feed::Section179,
        Recovery::OverYears(_) => Feed::Depreciation,
    }
}
