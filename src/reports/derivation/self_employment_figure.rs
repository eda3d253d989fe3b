//! Self-employment tax: each line of its schedule with its rule, down to the net profit of the form.

use super::{Step, Sum, Telling};
use crate::reports::figures::{ScheduleFigure, ScheduleOf};
use crate::reports::period::money_text;
use crate::reports::{FigureName, WhyRule};
use crate::year::{SourceNote, TaxYear};

impl Telling<'_> {
    /// A line of the schedule, by its index.
    pub(super) fn self_employment(&mut self, year: &TaxYear, at: usize) -> Option<(String, Vec<Step>)> {
        let line = year.self_employment.get(at)?;
        let digits = if year.whole_dollars { 0 } else { self.of.books.book.shop.currency.digits() };
        let (cents, printed) = (money_text(self.of.books.book, line.cents), line.printed.to_fixed_text(digits, digits));
        let as_printed = match line.cents == line.printed {
            true => String::new(),
            false => format!(" from cents, and {printed} stands on the schedule, whose lines start from printed ones"),
        };
        let answer = format!("Line {} of the self-employment tax of {} comes to {cents}{as_printed}.", line.number, year.year);
        Some((answer, vec![self.schedule_line(year, at, 0)?]))
    }

    fn schedule_line(&mut self, year: &TaxYear, at: usize, level: usize) -> Option<Step> {
        let line = year.self_employment.get(at)?;
        let how = if line.rule.how.is_empty() { String::new() } else { format!(": {}", line.rule.how) };
        let says = format!("line {}, {}{how}{}", line.number, line.label, sourced(line.rule.source.as_ref()));
        let mut step = Step::nowhere(says, Sum::both(line.cents), WhyRule::Said);
        let figure = ScheduleFigure { year: year.year, of: ScheduleOf::SelfEmployment(at) };
        if line.rule.from.is_empty() && !line.rule.is_profit {
            return Some(step.named(FigureName::Schedule(figure)));
        }
        if !self.enters(&mut step, FigureName::Schedule(figure), level) {
            return Some(step);
        }
        let below = level.saturating_add(1);
        if line.rule.is_profit {
            step.rule = WhyRule::SumOf;
            step.steps = vec![self.line_once(year, year.net_profit, below)?];
            return Some(step);
        }
        for (name, adds) in &line.rule.from {
            let Some(at) = year.self_employment.iter().position(|one| one.name == *name) else { continue };
            let from = self.schedule_line(year, at, below)?;
            // A sum has no need of what adds nothing; a rule names all from which it starts.
            if line.rule.adds && from.sum.is_nothing() {
                continue;
            }
            let less = || format!("less line {}", year.self_employment.get(at).map_or("", |one| one.number.as_str()));
            step.steps.push(if *adds || !line.rule.adds { from } else { super::step::taken_off(&less(), from)? });
        }
        step.rule = match (line.rule.adds, step.steps.is_empty()) {
            (_, true) => WhyRule::Said,
            (true, false) => WhyRule::SumOf,
            (false, false) => WhyRule::Figured,
        };
        Some(step)
    }
}

/// Where a rate stands, after what is figured by it.
pub(super) fn sourced(source: Option<&SourceNote>) -> String {
    source.map_or_else(String::new, |source| format!("; by {}", source.says()))
}
