//! Elections that hold for many tools at once, and a book that takes them for some: asked, since only the owner knows which was meant.
//!
//! Bonus is declined for a whole class of a year, the things recovered over the same number of years. The de minimis election of a year
//! is for every item within its limit. Neither changes a figure here: each tool counts as its definition says.

use std::collections::BTreeMap;

use chrono::Datelike;
use rust_decimal::Decimal;

use crate::costing::ToolCame;
use crate::names::Recovery;
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::forms::source_note::SourceNotes;
use crate::year::questions::Questions;
use crate::year::tools::equipment::OneTool;
use crate::year::{Feed, Rule};

/// Tools by name, each once, with the lines of their definitions.
#[derive(Default)]
struct Named {
    names: Vec<String>,
    entries: Vec<Span>,
}

impl Named {
    fn add(&mut self, one: &OneTool<'_>) {
        let name = format!("`{}`", one.tool.named.title);
        if !self.names.contains(&name) {
            self.names.push(name);
            self.entries.push(one.tool.named.span);
        }
    }
}

/// Asks of both. `None` on overflow.
pub(crate) fn ask_of_elections(of: &BooksOfYear<'_>, questions: &mut Questions, sources: &mut SourceNotes) -> Option<()> {
    ask_of_bonus(of, questions);
    ask_of_de_minimis(of, questions, sources)
}

/// The tools that were not the owner's own.
fn not_own<'a>(of: &'a BooksOfYear<'a>) -> impl Iterator<Item = OneTool<'a>> {
    let tools = (0u32..).zip(&of.costed().tools).filter(|(_, account)| account.came != ToolCame::Contributed);
    tools.filter_map(move |(at, _)| OneTool::at(of, at))
}

fn ask_of_bonus(of: &BooksOfYear<'_>, questions: &mut Questions) {
    if of.form.line_of(Feed::Depreciation).is_none() {
        return;
    }
    let mut by_years: BTreeMap<Decimal, (Named, Named)> = BTreeMap::new();
    // One that was there when the book began may be in use since that year only, if the book says since when.
    let is_known = |one: &OneTool<'_>| one.account.came != ToolCame::Opened || one.tool.in_use_from.is_some();
    let first_here = |one: &OneTool<'_>| one.in_use.year() == of.year && one.account.date.year() <= of.year;
    for one in not_own(of).filter(|one| first_here(one) && is_known(one)) {
        let (Some(Recovery::OverYears(over)) | Some(Recovery::Section179 { rest_over: Some(over), .. })) = one.tool.recovery
        else {
            continue;
        };
        // Where there is none to take, nothing is declined; what left in its first year has none either way.
        let rule = of.figures.bonus(of.year, one.account.date.min(one.in_use)).filter(|rule| !rule.percent.0.is_zero());
        if rule.is_none() || one.account.retired.is_some_and(|(day, _)| day.year() == of.year) {
            continue;
        }
        let (taken, declined) = by_years.entry(over.normalize()).or_default();
        if one.tool.no_bonus { declined.add(&one) } else { taken.add(&one) }
    }
    for (over, (taken, declined)) in by_years {
        if taken.names.is_empty() || declined.names.is_empty() {
            continue;
        }
        let question = format!(
            "bonus depreciation of {} is declined for {} and not for {}, all recovered over {over} years: the election is for all of these or for \
             none; which?",
            of.year,
            declined.names.join(", "),
            taken.names.join(", ")
        );
        let entries = [declined.entries, taken.entries].concat();
        let answer = "no bonus, in the definitions of all these tools or of none; or answered …";
        questions.ask(&format!("bonus/{over}-years"), question, Rule::BonusByClass, answer, entries);
    }
}

fn ask_of_de_minimis(of: &BooksOfYear<'_>, questions: &mut Questions, sources: &mut SourceNotes) -> Option<()> {
    let elected = of.book().choices.get(&of.year).is_some_and(|choices| choices.de_minimis);
    let Some(limits) = of.figures.at_once(of.year).filter(|_| elected && of.form.line_of(Feed::ToolsAtOnce).is_some()) else {
        return Some(());
    };
    sources.note(&limits.note());
    let mut otherwise = Named::default();
    for one in not_own(of).filter(|one| one.account.came != ToolCame::Opened && of.has(one.account.date)) {
        let most = Fixed6::round_from_decimal(limits.de_minimis_item.0.checked_mul(one.account.count)?)?;
        let within = one.waited()?.unwrap_or(one.account.cost) <= most;
        if within && matches!(one.tool.recovery, Some(Recovery::OverYears(_) | Recovery::Section179 { .. })) {
            otherwise.add(&one);
        }
    }
    if otherwise.names.is_empty() {
        return Some(());
    }
    let question = format!(
        "de minimis is elected for {}, which holds for every item of at most {}, and {} is recovered otherwise: is the election made, and these \
         are expensed at once, or is it not?",
        of.year,
        of.money(Fixed6::round_from_decimal(limits.de_minimis_item.0)?),
        otherwise.names.join(", ")
    );
    let answer = "expensed at once, in these tools' definitions; or no `de minimis elected` in `choices`; or answered …";
    questions.ask("de-minimis/all-items", question, Rule::DeMinimisAllItems, answer, otherwise.entries);
    Some(())
}
