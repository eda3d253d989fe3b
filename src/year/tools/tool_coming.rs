//! What is asked of how a tool came to the shop: before it was in use, out of the owner's own, or before the book began; and of its use since.
//!
//! What the book says of a tool's coming decides what may be recovered of its cost at all; where it leaves that open, it is a question.

use chrono::Datelike;

use crate::costing::ToolCame;
use crate::names::ToolId;
use crate::units::Fixed6;
use crate::year::Rule;
use crate::year::questions::Questions;
use crate::year::tax_year::ToolYear;
use crate::year::tools::equipment::OneTool;

impl OneTool<'_> {
    /// Asks of a tool that would be in use before it came. Of several of one name the definition may speak of another.
    pub(crate) fn ask_of_earlier_use(&self, questions: &mut Questions) {
        let (of, account) = (self.of, self.account);
        let Some(said) = self.tool.in_use_from.filter(|said| *said < account.date && account.came != ToolCame::Opened) else {
            return;
        };
        let of_name = |tool: ToolId| of.costed().tools.iter().filter(move |other| other.tool == tool);
        let fits_another = of_name(account.tool).any(|other| other.came == ToolCame::Opened || other.date <= said);
        if fits_another || account.date.year() != of.year {
            return;
        }
        let (name, title) = (&self.tool.named.name, &self.tool.named.title);
        let question = format!(
            "`{title}` is in use from {said} by its definition, and came on {}: was it the owner's own before? It counts from the day it came",
            account.date
        );
        questions.ask(
            &format!("{name}/in-use-from"),
            question,
            Rule::Recovery,
            "in use from, corrected or left out, in the tool's definition; `contributed` for a tool of the owner's; or answered …",
            vec![self.tool.named.span, account.line],
        );
    }

    /// Asks where the business part changes within the year while the tool is in use: the year goes by its part at the year's end.
    pub(crate) fn ask_of_use_within_the_year(&self, questions: &mut Questions) {
        let of = self.of;
        let begun = self.in_use.max(of.first);
        let (before, after) = (*self.tool.business_use.on(begun), self.business_use(of.year));
        if self.in_use > of.last || before == after {
            return;
        }
        let (name, title) = (&self.tool.named.name, &self.tool.named.title);
        let question = format!(
            "the business part of `{title}` went from {}% to {}% within {}: what was it on an average? The whole year is figured by {}%",
            before.normalize(),
            after.normalize(),
            of.year,
            after.normalize()
        );
        let answer = "the year's average from the year's first day on, by `changed`; or answered …";
        questions.ask(&format!("{name}/business-use"), question, Rule::Recovery, answer, vec![self.tool.named.span]);
    }

    /// Asks whether the cost of a tool of the owner's is the smaller of cost and value.
    pub(crate) fn ask_of_own(&self, questions: &mut Questions) {
        let (name, title) = (&self.tool.named.name, &self.tool.named.title);
        questions.ask(
            &format!("{name}/contributed"),
            format!(
                "is the cost given for `{title}` the smaller of what it cost and what it was worth when it came to the shop?"
            ),
            Rule::OwnTool,
            "answered … with both figures",
            vec![self.account.line],
        );
    }

    /// Asks what was recovered of a tool before the book, where it was put in use no earlier than in the year in which the book begins.
    pub(crate) fn ask_of_early_recovery(&self, stated: Fixed6, questions: &mut Questions) {
        let (name, title) = (&self.tool.named.name, &self.tool.named.title);
        let question = format!(
            "`{title}` had {} recovered before the book, and is in use from {}, in the year in which the book begins: in which year was that \
             deducted?",
            self.of.money(stated),
            self.in_use
        );
        questions.ask(
            &format!("{name}/recovered-before"),
            question,
            Rule::RecoveredBefore,
            "already recovered, left out, or in use from, corrected; or answered …",
            vec![self.account.line],
        );
    }

    /// A tool expensed at once that was there when the book began: what was deducted by then is for the book to say. `None` on overflow.
    pub(crate) fn opened_at_once(&self, row: &mut ToolYear, questions: &mut Questions) -> Option<()> {
        "expensed at once, before the book began".clone_into(&mut row.method);
        let left = self.business_cost(row.cost, self.of.year)?.checked_sub(row.before)?;
        row.left = left.max(Fixed6::ZERO);
        if !left.is_positive() {
            return Some(());
        }
        let (name, title) = (&self.tool.named.name, &self.tool.named.title);
        let question = format!(
            "`{title}` is expensed at once and was there when the book began, with {} of its {} not said to be recovered by then: was it \
             deducted before? Nothing of it is included",
            self.of.money(row.left),
            self.of.money(row.cost)
        );
        let answer = "already recovered …, on its `opened` line; or `bought` on its own day, where it came this year";
        questions.ask_definition(&format!("{name}/recovery"), question, Rule::Recovery, answer, vec![self.account.line]);
        Some(())
    }
}
