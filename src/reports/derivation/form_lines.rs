//! A line of a tax year's form: the lines that it adds, or what flows into it, entry by entry.
//!
//! Amounts are those of the line to the cent; of a line that is fed its sums have six digits, and what rounding takes is a step of its own, so that
//! every sum adds up. A sum of which a share counts, or that a limit cuts, has that as a step too.

use super::by_months::{entries_by_months, month_of};
use super::step::taken_off;
use super::{Step, Sum, Telling};
use crate::reports::period::money_text;
use crate::reports::{FigureName, ScheduleFigure, ScheduleOf, WhyRule};
use crate::units::Fixed6;
use crate::year::{Feed, HomeYear, SumOf, TaxLine, TaxYear};

impl Telling<'_> {
    /// A line of a form, by its index among the year's lines.
    pub(super) fn form_line(&self, year: &TaxYear, at: usize) -> Option<(String, Vec<Step>)> {
        let line = year.lines.get(at)?;
        let digits = if year.whole_dollars { 0 } else { self.of.books.book.shop.currency.digits() };
        let (cents, printed) = (money_text(self.of.books.book, line.cents), line.printed.to_fixed_text(digits, digits));
        if line.cents.is_zero() {
            let says = format!("Line {} of {} is nothing: {}.", line.number, year.year, why_nothing(year, line));
            return Some((says, vec![self.line(year, at, 1, 0)?]));
        }
        let answer = match line.cents == line.printed {
            true => format!("Line {} of {} comes to {cents}.", line.number, year.year),
            false => {
                format!("Line {} of {} comes to {cents} to the cent, and {printed} stands on the form.", line.number, year.year)
            }
        };
        Some((answer, vec![self.line(year, at, 1, 0)?]))
    }

    /// A line with what it is made of; `sign` is −1 where a line above takes it off.
    pub(super) fn line(&self, year: &TaxYear, at: usize, sign: i128, level: usize) -> Option<Step> {
        let line = year.lines.get(at)?;
        let less = if sign < 0 { "less " } else { "" };
        let says = format!("{less}{}", line_words(line));
        let figure = line_figure(year, at);
        let mut top = Step::nowhere(says, Sum::both(line.cents.checked_mul_int(sign)?), WhyRule::SumOf).named(figure);
        if self.stops(figure, level) && !line.cents.is_zero() {
            top.rule = WhyRule::Deeper;
            return Some(top);
        }
        let mut steps = Vec::new();
        for (plus, added) in &line.adds {
            if !year.lines.get(*added)?.cents.is_zero() {
                steps.push(self.line(year, *added, if *plus { sign } else { sign.checked_neg()? }, level + 1)?);
            }
        }
        if line.adds.is_empty() {
            for sum in line.sums.iter().filter(|sum| !sum.amount.is_zero()) {
                let amount = sum.amount.checked_mul_int(sign)?;
                if let Some(home) = year.home.as_ref().filter(|_| sum.of == SumOf::Feed(Feed::HomeWorkshop)) {
                    steps.push(self.home_of_line(year, home, sign)?);
                    continue;
                }
                let mut step = Step::nowhere(sum.name.clone(), Sum::both(amount), WhyRule::SumOf);
                let mut items = Vec::new();
                for item in sum.items.iter().filter(|item| !item.amount.is_zero()) {
                    let of_item = Sum::both(item.amount.checked_mul_int(sign)?);
                    items.push((month_of(item.date), Step::new(item.date.to_string(), of_item, WhyRule::Said, item.span)));
                }
                step.steps = entries_by_months(items)?;
                let share = if sum.share.is_empty() { "rounded to the cent" } else { sum.share.as_str() };
                rest(&mut step, share)?;
                steps.push(step);
            }
        }
        top.steps = steps;
        rest(&mut top, "rounded to the cent")?;
        if top.steps.is_empty() {
            top.rule = WhyRule::Said;
        }
        Some(top)
    }
}

/// Why a line comes to nothing, in words.
fn why_nothing(year: &TaxYear, line: &TaxLine) -> String {
    let added: Vec<&TaxLine> = line.adds.iter().filter_map(|(_, added)| year.lines.get(*added)).collect();
    if !added.is_empty() {
        let numbers: Vec<&str> = added.iter().map(|line| line.number.as_str()).collect();
        let lines = format!("{} {}", if numbers.len() == 1 { "line" } else { "lines" }, numbers.join(", "));
        return match added.iter().all(|line| line.cents.is_zero()) {
            true => format!("so {} {lines}, of which it is made", if numbers.len() == 1 { "is" } else { "are" }),
            false => format!("{lines}, of which it is made, come to nothing together"),
        };
    }
    let sums: Vec<&str> = line.sums.iter().filter(|sum| !sum.whole.is_zero()).map(|sum| sum.name.as_str()).collect();
    match sums.is_empty() {
        true => "no entry of the year goes into it".to_owned(),
        false => format!("what could go into it comes to nothing ({})", sums.join(", ")),
    }
}

/// A line in words: its number and label.
pub(super) fn line_words(line: &TaxLine) -> String {
    format!("line {}, {}", line.number, line.label)
}

/// The figure of a line, by its index.
pub(super) fn line_figure(year: &TaxYear, at: usize) -> FigureName {
    match year.cost_of_goods_line == Some(at) {
        true => FigureName::CostOfGoods { year: year.year },
        false => FigureName::Line { year: year.year, at },
    }
}

impl Telling<'_> {
    /// The home workshop on its line, as the figure that it is.
    fn home_of_line(&self, year: &TaxYear, home: &HomeYear, sign: i128) -> Option<Step> {
        let figure = ScheduleFigure { year: year.year, of: ScheduleOf::HomeWorkshop };
        let mut step = self.home_amount(year, home)?.named(FigureName::Schedule(figure));
        if self.folds {
            (step.rule, step.steps) = (WhyRule::Deeper, Vec::new());
        }
        if sign < 0 { taken_off("less the home workshop", step) } else { Some(step) }
    }
}

/// What the steps below do not come to, as a step of its own.
fn rest(step: &mut Step, says: &str) -> Option<()> {
    let below = Fixed6::checked_sum(step.steps.iter().map(|one| one.sum.paid))?;
    let left = step.sum.paid.checked_sub(below)?;
    if !left.is_zero() {
        step.steps.push(Step::nowhere(says, Sum::both(left), WhyRule::Said));
    }
    Some(())
}
