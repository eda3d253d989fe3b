//! The limits of section 179 that all tools share: dollars, phase-out, and the business's income.
//!
//! What was elected beyond the income is carried to later years; out of a year that has no form, nobody knows how much, and it is
//! asked. The income is the tentative profit of the sheet without section 179, plus wages from elsewhere where the book says them.

use std::collections::{BTreeMap, BTreeSet};

use chrono::Datelike;

use crate::costing::ToolCame;
use crate::names::Recovery;
use crate::sources::Span;
use crate::units::{Fixed6, Weights};
use crate::year::Rule;
use crate::year::books::BooksOfYear;
use crate::year::questions::Questions;
use crate::year::tax_year::ToolYear;

/// What section 179 comes to in a year.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Allowed {
    /// Deducted this year, what was carried into it included.
    pub(crate) amount: Fixed6,
    /// Carried on.
    pub(crate) carried: Fixed6,
    /// The first year whose limits are missing where they were needed; nothing was deducted in it.
    pub(crate) without_limits: Option<i32>,
    /// The same by the indices of the tools.
    pub(crate) tools: BTreeMap<u32, Taken>,
}

/// What a tool has of section 179, to the cent. What was elected is deducted, carried, beyond the limit of its year, or given back.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Taken {
    /// The year of the election.
    pub(crate) year: i32,
    /// Elected.
    pub(crate) elected: Fixed6,
    /// Of that, beyond the yearly limit: neither deducted nor carried.
    pub(crate) beyond: Fixed6,
    /// Deducted in earlier years.
    pub(crate) before: Fixed6,
    /// Deducted this year.
    pub(crate) now: Fixed6,
    /// Carried on.
    pub(crate) carried: Fixed6,
    /// Carried until the tool left, and then part of its cost again.
    pub(crate) given_back: Fixed6,
}

/// What a year's tools elected, by their indices, and the income that limits it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Elections {
    pub(crate) elected: BTreeMap<u32, Fixed6>,
    pub(crate) income: Fixed6,
}

impl Elections {
    fn sum(&self) -> Option<Fixed6> {
        Fixed6::checked_sum(self.elected.values().copied())
    }
}

/// Elections and incomes by year, the year itself last.
pub(crate) type YearsBefore = BTreeMap<i32, Elections>;

/// Runs the years up to this one. What a year's limits allow is shared over its elections first, then over what is carried, the oldest
/// first (26 CFR 1.179-3(b), (e), FROM MEMORY), in each in proportion. `None` on overflow.
pub(crate) fn allow(of: &BooksOfYear<'_>, years: &YearsBefore) -> Option<Allowed> {
    let mut allowed = Allowed::default();
    for (year, elections) in years {
        open_year(of, *year, &mut allowed.tools)?;
        let carried = Fixed6::checked_sum(allowed.tools.values().map(|taken| taken.carried))?;
        let elected = elections.sum()?;
        (allowed.amount, allowed.carried) = (Fixed6::ZERO, Fixed6::ZERO);
        if elected.is_zero() && carried.is_zero() {
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
        // Beyond the dollar limit nothing is carried of what was elected this year.
        let wants: Vec<Fixed6> = elections.elected.values().copied().collect();
        let within = in_proportion(&wants, elected.min(limit), of.digits())?;
        for ((account, elected), within) in elections.elected.iter().zip(within) {
            let beyond = elected.checked_sub(within)?;
            let taken = Taken { year: *year, elected: *elected, beyond, carried: within, ..Taken::default() };
            allowed.tools.insert(*account, taken);
        }
        let wanted = elected.checked_add(carried)?.min(limit);
        allowed.amount = wanted.min(elections.income).max(Fixed6::ZERO);
        share(&mut allowed.tools, *year, allowed.amount, of.digits())?;
        allowed.carried = Fixed6::checked_sum(allowed.tools.values().map(|taken| taken.carried))?;
    }
    Some(allowed)
}

/// Carries each tool into a year; what is carried of one that leaves by its end is part of its cost again.
fn open_year(of: &BooksOfYear<'_>, year: i32, tools: &mut BTreeMap<u32, Taken>) -> Option<()> {
    for (account, taken) in tools.iter_mut() {
        taken.before = taken.before.checked_add(taken.now)?;
        taken.now = Fixed6::ZERO;
        let retired = of.costed().tools.get(*account as usize).and_then(|account| account.retired);
        if retired.is_some_and(|(day, _)| day.year() <= year) {
            taken.given_back = taken.given_back.checked_add(taken.carried)?;
            taken.carried = Fixed6::ZERO;
        }
    }
    Some(())
}

/// Shares what a year allows: its own elections first, then the oldest.
fn share(tools: &mut BTreeMap<u32, Taken>, year: i32, amount: Fixed6, digits: u32) -> Option<()> {
    let mut left = amount;
    let earlier: BTreeSet<i32> = tools.values().map(|taken| taken.year).filter(|elected| *elected != year).collect();
    for elected_in in [year].into_iter().chain(earlier) {
        let mut of_year: Vec<&mut Taken> = tools.values_mut().filter(|taken| taken.year == elected_in).collect();
        let open: Vec<Fixed6> = of_year.iter().map(|taken| taken.carried).collect();
        let part = left.min(Fixed6::checked_sum(open.iter().copied())?);
        for (taken, share) in of_year.iter_mut().zip(in_proportion(&open, part, digits)?) {
            taken.now = share;
            taken.carried = taken.carried.checked_sub(share)?;
        }
        left = left.checked_sub(part)?;
    }
    Some(())
}

/// Parts of an amount in proportion to what is wanted, at most that, to so many digits. `None` on overflow.
fn in_proportion(wanted: &[Fixed6], amount: Fixed6, digits: u32) -> Option<Vec<Fixed6>> {
    if Fixed6::checked_sum(wanted.iter().copied())? == amount {
        return Some(wanted.to_vec());
    }
    let mut parts = Vec::with_capacity(wanted.len());
    Weights::from_amounts(wanted).ok()?.split_at_digits(amount, digits, &mut parts).ok()?;
    Some(parts)
}

/// Asks what the limits leave open.
pub(crate) fn ask(
    of: &BooksOfYear<'_>,
    years: &YearsBefore,
    allowed: &Allowed,
    tools: &[ToolYear],
    questions: &mut Questions,
) -> Option<()> {
    let lines_of = |wanted: fn(&Taken, i32) -> bool| -> Vec<Span> {
        let chosen = tools.iter().filter(|tool| allowed.tools.get(&tool.account).is_some_and(|taken| wanted(taken, of.year)));
        chosen.map(|tool| tool.line).collect()
    };
    let elected = years.get(&of.year).map_or(Some(Fixed6::ZERO), Elections::sum)?;
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
            lines_of(|taken, year| taken.year == year),
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
        questions.ask(
            "section-179/income",
            question,
            Rule::Section179Income,
            &answer,
            lines_of(|taken, _| taken.carried.is_positive()),
        );
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
            let name = format!("`{}`", of.book().tool(account.tool).named.title);
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
