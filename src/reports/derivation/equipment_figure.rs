//! A tool's tax year: what it recovers by the ten steps, what was recovered of the business part of its cost by then, its whole life, and its sale.

use super::{Step, Sum, Telling};
use crate::names::ToolId;
use crate::reports::WhyRule;
use crate::reports::period::money_text;
use crate::units::Fixed6;
use crate::year::{self, TaxYear, ToolYear};

impl Telling<'_> {
    /// The rows of a tool in a tax year.
    pub(super) fn equipment(&self, year: &TaxYear, tool: ToolId) -> Option<(String, Vec<Step>)> {
        let book = self.of.books.book;
        let name = &book.tool(tool).named.title;
        let (mut this_year, mut left, mut steps) = (Fixed6::ZERO, Fixed6::ZERO, Vec::new());
        for row in year.equipment.iter().filter(|row| row.tool == tool) {
            this_year = this_year.checked_add(row.amount)?.checked_add(row.section_179)?;
            left = left.checked_add(row.left)?;
            let which = if row.of_line.1 == 1 { String::new() } else { format!(", {} of {}", row.of_line.0, row.of_line.1) };
            self.tool_row(year.year, &format!("{name}{which}"), row, &mut steps)?;
        }
        let answer = match steps.is_empty() {
            true => format!("{name} is not among the tools of {}.", year.year),
            false => format!(
                "Of {name}, {} is recovered in {}, and {} is left for later years.",
                money_text(book, this_year),
                year.year,
                money_text(book, left)
            ),
        };
        Some((answer, steps))
    }

    fn tool_row(&self, year: i32, name: &str, row: &ToolYear, steps: &mut Vec<Step>) -> Option<()> {
        let said = |step: &year::ToolStep| {
            let amount = step.amount?;
            let how = if step.how.is_empty() { String::new() } else { format!(": {}", step.how) };
            Some(Step::new(format!("{}{how}", step.step.name()), Sum::both(amount), WhyRule::Said, row.line))
        };
        let of = |wanted: year::Step| row.steps.iter().find(|step| step.step == wanted);
        let added: Vec<Step> = row.steps.iter().filter(|step| step.step.is_added()).filter_map(said).collect();
        let amount = row.amount.checked_add(row.section_179)?;
        let mut recovered =
            Step::nowhere(format!("{name}, recovered in {year}: {}", row.method), Sum::both(amount), WhyRule::SumOf);
        recovered.steps = added;
        told_in_full(&mut recovered, "what the limits and elections leave of that")?;
        let landed = of(year::Step::LandedCost).and_then(said);
        let business = of(year::Step::BusinessPart).and_then(said).map(|mut step| {
            if let Some(landed) = landed {
                // The share is rounded to the cent, which the cost of what was made here is not.
                (step.rule, step.steps) = (WhyRule::Figured, vec![landed]);
            }
            step
        });
        steps.push(recovered.clone());
        if let Some(business) = business {
            let mut left = Step::nowhere(format!("{name}, left after {year}"), Sum::both(row.left), WhyRule::SumOf);
            let taken = [("less what was recovered before", row.before), ("less what is recovered in the year", amount)];
            left.steps.push(business);
            for (says, money) in taken.into_iter().filter(|(_, money)| !money.is_zero()) {
                left.steps.push(Step::nowhere(says, Sum::both(money.checked_neg()?), WhyRule::Said));
            }
            let gone = match row.disposed {
                Some(gone) => format!("less what nothing recovers any more, since it left on {}", gone.date),
                None => "what other years recovered or will recover otherwise".to_owned(),
            };
            told_in_full(&mut left, &gone)?;
            steps.push(left);
        }
        let mut years = Vec::with_capacity(row.life.len());
        for one in &row.life {
            let parts = [("at once", one.at_once), ("bonus", one.bonus), ("by the table", one.table)];
            let parts = parts.into_iter().filter(|(_, money)| !money.is_zero());
            let parts = parts.map(|(says, money)| Step::nowhere(says, Sum::both(money), WhyRule::Said)).collect();
            let left = money_text(self.of.books.book, one.left);
            years.push(Step::sum_of(format!("{}, after which {left} is left", one.year), parts)?);
        }
        if !years.is_empty() {
            let first = row.life.first().map_or(year, |one| one.year);
            steps.push(Step::sum_of(format!("{name}, over its life from {first} on, if nothing changes"), years)?);
        }
        if let Some(gone) = row.disposed
            && let Some(gain) = gone.gain
        {
            let says = format!("{name}, gain or loss when it left on {}: on no line of the form", gone.date);
            let mut sale = Step::new(says, Sum::both(gain), WhyRule::SumOf, row.line);
            for (says, money) in [
                ("what it fetched, the business part", gone.business_proceeds),
                ("less the business part of what it cost", gone.business_cost.checked_neg()?),
                ("what was recovered of it by then", gone.recovered),
            ] {
                sale.steps.push(Step::nowhere(says, Sum::both(money), WhyRule::Said));
            }
            steps.push(sale);
        }
        Some(())
    }
}

/// What the steps below do not come to, as a step of its own; nothing is below a sum of nothing.
pub(super) fn told_in_full(step: &mut Step, says: &str) -> Option<()> {
    let below = Fixed6::checked_sum(step.steps.iter().map(|one| one.sum.paid))?;
    let rest = step.sum.paid.checked_sub(below)?;
    if !rest.is_zero() {
        step.steps.push(Step::nowhere(says, Sum::both(rest), WhyRule::Said));
    }
    if step.steps.is_empty() {
        step.rule = WhyRule::Said;
    }
    Some(())
}
