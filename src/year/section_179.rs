//! The limits of section 179 that all tools share: dollars, phase-out, and the business's income.
//!
//! What was elected beyond the income is carried to later years; out of a year that has no form, nobody knows how much, and it is asked. The income is the tentative profit of the sheet without section 179,
//! plus wages from elsewhere where the book says them.

use std::collections::BTreeMap;

use chrono::Datelike;

use crate::costing::ToolCame;
use crate::names::Recovery;
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::questions::Questions;
use crate::year::tax_year::ToolYear;

/// What section 179 comes to in a year.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Allowed {
    /// Deducted this year, what was carried into it included.
    pub(crate) amount: Fixed6,
    /// Carried on.
    pub(crate) carried: Fixed6,
    /// The first year whose limits are missing where they were needed; nothing was deducted in it.
    pub(crate) without_limits: Option<i32>,
}

/// Elected amounts and incomes by year, the year itself last.
pub(crate) type YearsBefore = BTreeMap<i32, (Fixed6, Fixed6)>;

/// Runs the years up to this one. `None` on overflow.
pub(crate) fn allow(of: &BooksOfYear<'_>, years: &YearsBefore) -> Option<Allowed> {
    let mut carried = Fixed6::ZERO;
    let mut allowed = Allowed::default();
    for (year, (elected, income)) in years {
        if elected.is_zero() && carried.is_zero() {
            allowed = Allowed { without_limits: allowed.without_limits, ..Allowed::default() };
            continue;
        }
        let limit = match of.figures.section_179(*year) {
            Some(rule) => {
                let over = elected.checked_sub(Fixed6::round_from_decimal(rule.phase_out_from.0)?)?.max(Fixed6::ZERO);
                Fixed6::round_from_decimal(rule.limit.0)?.checked_sub(over)?.max(Fixed6::ZERO)
            }
            None => {
                allowed.without_limits.get_or_insert(*year);
                Fixed6::ZERO
            }
        };
        let wanted = elected.checked_add(carried)?.min(limit);
        let amount = wanted.min(*income).max(Fixed6::ZERO);
        // Beyond the dollar limit nothing is carried of what was elected this year.
        carried = (*elected).min(limit).checked_add(carried)?.checked_sub(amount)?;
        allowed = Allowed { amount, carried, ..allowed };
    }
    Some(allowed)
}

/// Asks what the limits leave open.
pub(crate) fn ask(
    of: &BooksOfYear<'_>,
    years: &YearsBefore,
    allowed: Allowed,
    tools: &[ToolYear],
    questions: &mut Questions,
) -> Option<()> {
    let entries: Vec<Span> = tools.iter().filter(|tool| tool.section_179.is_positive()).map(|tool| tool.line).collect();
    let (elected, _) = years.get(&of.year).copied().unwrap_or_default();
    if let Some(rule) = of.figures.section_179(of.year)
        && (elected > Fixed6::round_from_decimal(rule.limit.0)? || elected > Fixed6::round_from_decimal(rule.phase_out_from.0)?)
    {
        let question =
            format!("section 179 of {} is beyond the limit of {}: for which tools is it taken?", of.money(elected), rule.limit.0);
        questions.ask(
            "section-179/limit",
            question,
            Rule::Section179Limit,
            "expensed under section 179 with a stated amount",
            entries.clone(),
        );
    }
    if allowed.carried.is_positive() {
        let known = of.book().choices.get(&of.year).and_then(|choices| choices.wages_elsewhere).is_some();
        let wages = if known { "" } else { "; wages from elsewhere, which would raise the limit, are not stated" };
        let question = format!(
            "{} of section 179 is beyond this year's income and carried to the next{wages}: is that right?",
            of.money(allowed.carried)
        );
        let answer = format!("choices {} with `wages elsewhere …`; or answered …", of.year);
        questions.ask("section-179/income", question, Rule::Section179Income, &answer, entries);
    }
    Some(())
}

/// Asks what is carried out of years that have no form: what was deducted then can't be known.
pub(crate) fn ask_of_years_without_form(of: &BooksOfYear<'_>, without_form: &[i32], questions: &mut Questions) {
    for year in without_form {
        let taken = of.costed().tools.iter().filter(|account| {
            let tool = of.book().tool(account.tool);
            let first = account.in_use_from(tool.in_use_from).year();
            let gone = account.retired.is_some_and(|(day, _)| day.year() == first || day < of.first);
            let came = matches!(account.came, ToolCame::Bought | ToolCame::Made);
            matches!(tool.recovery, Some(Recovery::Section179 { .. })) && first == *year && came && !gone
        });
        let (mut names, mut entries) = (Vec::new(), Vec::new());
        for account in taken {
            let name = format!("`{}`", of.book().tool(account.tool).named.name);
            if !names.contains(&name) {
                names.push(name);
            }
            entries.push(account.line);
        }
        if names.is_empty() {
            continue;
        }
        let question = format!(
            "section 179 was taken in {year} for {}, and without a form of {year} it is not known what of that was beyond the income of {year}: \
             how much is carried to {}? Nothing of it is included",
            names.join(", "),
            of.year
        );
        let answer =
            format!("`forms/{}/{year}.toml` beside the book; or answered … with the amount, or that it is none", of.form.name);
        questions.ask(&format!("section-179/carried-from-{year}"), question, Rule::Section179Income, &answer, entries);
    }
}
