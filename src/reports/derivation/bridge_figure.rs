//! A step of the bridge from the margins to the form's net profit: what it is made of, by the lines of the form and the columns of what pays.

use super::step::taken_off;
use super::{Step, Sum, Telling};
use crate::reports::figures::{ScheduleFigure, ScheduleOf};
use crate::reports::period::money_text;
use crate::reports::{FigureName, PaysColumn, WhyRule};
use crate::year::{BridgeOf, BridgePart, TaxYear};

impl Telling<'_> {
    /// A step of the bridge, by its index; the last is the net profit, which all others add up to.
    pub(super) fn bridge(&mut self, year: &TaxYear, at: usize) -> Option<(String, Vec<Step>)> {
        let one = year.bridge.get(at)?;
        let amount = money_text(self.of.books.book, one.amount);
        let answer = format!("In the bridge of {}, the {} come to {amount}.", year.year, one.name);
        let answer = if at + 1 == year.bridge.len() {
            format!("The steps of the bridge of {} add up to the {}: {amount}.", year.year, one.name)
        } else {
            answer
        };
        Some((answer, vec![self.bridge_step(year, at, 0)?]))
    }

    fn bridge_step(&mut self, year: &TaxYear, at: usize, level: usize) -> Option<Step> {
        let one = year.bridge.get(at)?;
        let mut step = Step::nowhere(one.name.as_str(), Sum::both(one.amount), WhyRule::SumOf);
        let figure = ScheduleFigure { year: year.year, of: ScheduleOf::Bridge(at) };
        if !self.enters(&mut step, FigureName::Schedule(figure), level) {
            return Some(step);
        }
        let below = level.saturating_add(1);
        if at + 1 == year.bridge.len() {
            for at in 0..at {
                let before = self.bridge_step(year, at, below)?;
                if !before.sum.is_nothing() {
                    step.steps.push(before);
                }
            }
        } else {
            for part in one.parts.iter().filter(|part| !part.amount.is_zero()) {
                step.steps.push(self.bridge_part(year, part, below)?);
            }
        }
        if step.steps.is_empty() {
            step.rule = WhyRule::Said;
        }
        Some(step)
    }

    fn bridge_part(&mut self, year: &TaxYear, part: &BridgePart, level: usize) -> Option<Step> {
        let mut step = Step::nowhere(part.says.as_str(), Sum::both(part.amount), WhyRule::Said);
        let below = level.saturating_add(1);
        let of_year = Some(year.year);
        let steps = match part.of {
            BridgeOf::Itself => return Some(step),
            BridgeOf::Line(at) => vec![self.line_once(year, at, below)?],
            BridgeOf::CostOfGoods => match year.cost_of_goods_line {
                Some(at) => vec![self.line_once(year, at, below)?],
                None => return Some(step),
            },
            BridgeOf::Sales => {
                let mut steps = vec![self.column((None, of_year), PaysColumn::Revenue, below)?];
                for column in [PaysColumn::Fees, PaysColumn::Postage] {
                    let of_column = self.column((None, of_year), column, below)?;
                    steps.push(taken_off(&format!("less {}", column.says()), of_column)?);
                }
                steps.extend(self.on_no_product(year.year, PaysColumn::Postage, below)?);
                steps
            }
            BridgeOf::GoodsSold => {
                let of_column = self.column((None, of_year), PaysColumn::PaidCost, below)?;
                vec![taken_off("less paid cost of what was sold", of_column)?]
            }
            BridgeOf::Packing => {
                let of_column = self.column((None, of_year), PaysColumn::Packing, below)?;
                let mut steps = vec![taken_off("less packing", of_column)?];
                steps.extend(self.on_no_product(year.year, PaysColumn::Packing, below)?);
                steps
            }
        };
        let steps: Vec<Step> = steps.into_iter().filter(|step| !step.shows_nothing()).collect();
        let paid = crate::units::Fixed6::checked_sum(steps.iter().map(|step| step.sum.paid))?;
        // A line of the form may have other sums beside it.
        step.rule = if paid == part.amount { WhyRule::SumOf } else { WhyRule::Figured };
        step.steps = steps;
        if step.steps.is_empty() {
            step.rule = WhyRule::Said;
        }
        Some(step)
    }

    /// What shipments cost that stand on no product: in the totals, and in no product's margin.
    fn on_no_product(&mut self, year: i32, column: PaysColumn, level: usize) -> Option<Option<Step>> {
        let index = self.of.pays()?;
        let parts: Vec<_> = index.on_no_product(year).filter(|part| !part.is_indirect()).collect();
        let steps = self.parts(&parts, None, column, level)?;
        let says = format!("{} of shipments, which is on no product", column.says());
        if steps.is_empty() { Some(None) } else { Step::sum_of(says, steps).map(Some) }
    }

    /// A line of the form, told where it is reached first.
    pub(super) fn line_once(&mut self, year: &TaxYear, at: usize, level: usize) -> Option<Step> {
        let mut step = self.line(year, at, 1, level)?;
        let is_told = step.figure.is_some_and(|figure| !self.told.insert(figure));
        if is_told && !step.steps.is_empty() {
            (step.rule, step.steps) = (WhyRule::Above, Vec::new());
        }
        Some(step)
    }
}
