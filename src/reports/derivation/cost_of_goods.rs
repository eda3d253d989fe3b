//! The goods sold in a tax year: what they cost, by where they went, movement by movement.
//!
//! The form knows only what waits in the goods, so the paid cost of a sum is the form's; its full cost is what the movements come to.

use std::collections::BTreeMap;

use super::form_lines::{line_figure, line_words};
use super::{MOST_LEVELS, Step, Sum, Telling};
use crate::costing::{Flow, Movement};
use crate::reports::WhyRule;
use crate::reports::period::money_text;
use crate::units::Fixed6;
use crate::year::{TaxYear, goes_into_cost_of_goods, waiting_cost};

impl Telling<'_> {
    /// The cost of goods sold of a tax year, by where the goods went.
    pub(super) fn cost_of_goods(&mut self, year: &TaxYear) -> Option<(String, Vec<Step>)> {
        let cost = &year.cost_of_goods;
        let went = &cost.went_to;
        let ways = [
            (Flow::Sold, "sold, less what came back", went.sold),
            (Flow::Scrapped, "scrapped", went.scrapped),
            (Flow::Missing, "missing, less what was found", went.missing),
            (Flow::AbnormalLoss, "losses beyond the usual", went.abnormal),
            (Flow::Donated, "donated, out of this year's cost", went.donated),
            (Flow::PriceDifference, "refunds and credits against cost", went.price_difference),
        ];
        let mut by_flow: BTreeMap<Flow, Vec<&Movement>> = BTreeMap::new();
        let costed = self.of.books.costed;
        for movement in self.of.index.gone_in(costed, year.year) {
            // A credit of which nothing falls on goods that are gone is no difference.
            let is_none = movement.flow == Flow::PriceDifference && Sum::of(&movement.vector)?.is_nothing();
            if goes_into_cost_of_goods(self.of.books.book, movement) && !is_none {
                by_flow.entry(movement.flow).or_default().push(movement);
            }
        }
        let mut steps = Vec::new();
        for (flow, says, sum) in ways {
            let moved = by_flow.remove(&flow).unwrap_or_default();
            if !sum.is_zero() || !moved.is_empty() {
                steps.push(self.way(year, flow, says, sum, &moved)?);
            }
        }
        let timing = [
            ("less what is gone and not paid for", cost.gone_not_paid.checked_neg()?),
            ("what was gone before and is paid for now", cost.gone_paid_now),
            ("less what was issued without a record", cost.unrecorded.checked_neg()?),
            ("the change of the stock method", cost.method_change),
        ];
        for (says, sum) in timing.into_iter().filter(|(_, sum)| !sum.is_zero()) {
            steps.push(Step::nowhere(says, Sum::both(sum), WhyRule::Said));
        }
        let top = sum_of(format!("cost of goods sold in {}, before it is rounded", year.year), cost.exact, steps)?;
        let exact = money_text(self.of.books.book, cost.exact);
        let line = year.cost_of_goods_line.and_then(|at| year.lines.get(at));
        let answer = match line.filter(|line| money_text(self.of.books.book, line.cents) != exact) {
            // The lines that it adds are rounded to the cent one by one.
            Some(line) => {
                let cents = money_text(self.of.books.book, line.cents);
                format!(
                    "The goods sold in {} cost {exact}; by lines that are rounded each, line {} has {cents}.",
                    year.year, line.number
                )
            }
            None => format!("The goods sold in {} cost {exact}.", year.year),
        };
        let Some((at, line)) = year.cost_of_goods_line.zip(line) else { return Some((answer, vec![top])) };
        let mut whole = Step::nowhere(line_words(line), top.sum, WhyRule::SumOf).named(line_figure(year, at));
        let rounding = line.cents.checked_sub(top.sum.paid)?;
        whole.steps = vec![top];
        if !rounding.is_zero() {
            whole.sum = whole.sum.plus(Sum::both(rounding))?;
            whole.steps.push(Step::nowhere(
                "the lines that it adds are rounded to the cent, each",
                Sum::both(rounding),
                WhyRule::Said,
            ));
        }
        Some((answer, vec![whole]))
    }

    /// A way into the cost of goods, movement by movement: of each, the components that wait.
    fn way(&mut self, year: &TaxYear, flow: Flow, says: &str, paid: Fixed6, moved: &[&Movement]) -> Option<Step> {
        let mut steps = Vec::with_capacity(moved.len());
        for movement in moved {
            let is_lost = matches!(flow, Flow::Scrapped | Flow::AbnormalLoss) && movement.issue.count == 0;
            let batch = movement.batch.filter(|_| is_lost);
            let what = batch.map_or_else(|| self.moved_what(movement), |batch| self.lost_what(movement, batch));
            let says = format!("{} {what}", movement.date);
            let mut step = Step::new(says.as_str(), Sum::of(&movement.vector)?, WhyRule::Said, movement.line);
            match batch {
                Some(batch) => self.lost(&mut step, movement, batch, 3)?,
                None => self.pieces_moved(&mut step, movement, 3)?,
            }
            let waiting = waiting_cost(&movement.vector, year.stock)?;
            if waiting != step.sum.paid {
                let says = format!("{says}, of which the materials wait in the goods");
                let mut part = Step::new(says, Sum::both(waiting), WhyRule::PartOf, movement.line);
                part.steps = vec![step];
                step = part;
            }
            steps.push(step);
        }
        if flow == Flow::Donated {
            for off in &year.cost_of_goods.donations {
                let says = "less what was in the opening stock, for the owner's own return";
                steps.push(Step::new(says, Sum::both(off.amount.checked_neg()?), WhyRule::Said, off.span));
            }
        }
        sum_of(says.to_owned(), paid, steps)
    }

    /// The pieces of what moved by a way into the cost of goods.
    pub(super) fn pieces_moved(&mut self, step: &mut Step, movement: &Movement, level: usize) -> Option<()> {
        if movement.issue.count == 0 {
            return Some(());
        }
        step.rule = WhyRule::Deeper;
        if level <= MOST_LEVELS {
            let mut pieces = self.issue(movement.issue, level)?;
            if movement.quantity.is_sign_negative() {
                pieces = pieces.into_iter().map(came_back).collect::<Option<_>>()?;
            }
            if movement.flow == Flow::PriceDifference {
                let cost = pieces.iter().try_fold(Sum::default(), |sum, piece| sum.plus(piece.sum))?;
                let says = "less what the supplier gave for that";
                pieces.push(Step::new(says, step.sum.minus(cost)?, WhyRule::Said, movement.line));
            }
            step.rule = WhyRule::SumOf;
            step.made_of(&movement.date.to_string(), pieces);
        }
        Some(())
    }

    /// What moved by a way into the cost of goods, in words; below zero it came back.
    pub(super) fn moved_what(&self, movement: &Movement) -> String {
        let what = match movement.thing {
            Some(thing) if movement.flow == Flow::PriceDifference => format!("on {}", self.of.books.book.thing(thing).named.name),
            Some(thing) => self.amount_of(thing, movement.quantity.abs()),
            None => "cost on the bench".to_owned(),
        };
        match movement.flow {
            _ if !movement.quantity.is_sign_negative() || movement.quantity.is_zero() => what,
            Flow::Missing => format!("{what}, which a count found more"),
            _ => format!("{what}, which came back"),
        }
    }
}

/// A sum of the form, which knows only what waits in the goods; its full cost is what the steps below come to.
fn sum_of(says: String, paid: Fixed6, steps: Vec<Step>) -> Option<Step> {
    let mut step = Step::sum_of(says, steps)?;
    step.sum.paid = paid;
    Some(step)
}

/// A piece of an issue that is less than nothing: what came back has its pieces as they came, and here they are taken off. What is below stays as
/// it came.
fn came_back(piece: Step) -> Option<Step> {
    let (says, sum) = (format!("{}, which came back", piece.says), piece.sum.negated()?);
    if piece.rule == WhyRule::SumOf {
        let whole = Step::new(says, sum, WhyRule::PartOf, piece.at);
        return Some(Step { steps: vec![piece], ..whole });
    }
    Some(Step { says, sum, ..piece })
}
