//! The proof of a component: at the start and what came in is what went out and is there at the end, each flow down to its movements.
//!
//! A flow of the whole book is the sum of its years; what was there at a year's start is what the year before ended with.

use chrono::Datelike;

use super::amount::Shown;
use super::by_months::by_months;
use super::{Step, Sum, Telling};
use crate::costing::{CostVector, Flow, Movement};
use crate::names::ThingKind;
use crate::reports::figures::{ProofFigure, ProofFlow};
use crate::reports::{FigureName, StockFigure, StockOf, WhyRule};

impl Telling<'_> {
    /// A component's proof, or one of its flows.
    pub(super) fn proof(&mut self, figure: ProofFigure) -> Option<(String, Vec<Step>)> {
        let ProofFigure { of, year, flow } = figure;
        let when = year.map_or_else(String::new, |year| format!(" in {year}"));
        let proof = &self.of.books.costed.proof;
        let Some(sums) = (match year {
            Some(year) => proof.years.get(&year).cloned(),
            None => Some(proof.over_all()?),
        }) else {
            return Some((format!("The book has nothing{when}."), Vec::new()));
        };
        let shown = Shown::Proof(of);
        let text = |vector: &CostVector| Some(shown.text(shown.amounts(Sum::of(vector)?)[0]));
        if let Some(flow) = flow {
            let step = self.flow(figure, 0)?;
            let sum = shown.text(shown.amounts(step.sum)[0]);
            let answer = match flow {
                ProofFlow::AtStart => format!("{sum} of {} was there at the start{when}.", of.says()),
                ProofFlow::AtEnd => format!("{sum} of {} is there at the end{when}.", of.says()),
                ProofFlow::Flow(flow) => format!("{sum} of {} {}{when}.", of.says(), flow_in_words(flow)),
            };
            return Some((answer, vec![step]));
        }
        let (mut came, mut went) = (vec![self.flow(figure.with(ProofFlow::AtStart), 1)?], Vec::new());
        for flow in sums.flows.keys() {
            let step = self.flow(figure.with(ProofFlow::Flow(*flow)), 1)?;
            if flow.comes_in() { came.push(step) } else { went.push(step) }
        }
        went.push(self.flow(figure.with(ProofFlow::AtEnd), 1)?);
        let told = |steps: Vec<Step>| steps.into_iter().filter(|step| shown.shows(step.sum)).collect::<Vec<_>>();
        let came = Step::sum_of(format!("there at the start, and came in{when}"), told(came))?;
        let went = Step::sum_of(format!("went out, and is there at the end{when}"), told(went))?;
        let answer = format!(
            "{} of {} was there at the start or came in{when}, and as much went out or is there at the end; the difference is {}.",
            shown.text(shown.amounts(came.sum)[0]),
            of.says(),
            text(&sums.difference()?)?
        );
        Some((answer, vec![came, went]))
    }

    /// A flow of a component, or what was there.
    fn flow(&mut self, figure: ProofFigure, level: usize) -> Option<Step> {
        let flow = figure.flow?;
        let proof = &self.of.books.costed.proof;
        let when = figure.year.map_or_else(String::new, |year| format!(" in {year}"));
        let (sums, says) = match figure.year {
            Some(year) => (proof.years.get(&year).cloned().unwrap_or_default(), year.to_string()),
            None => (proof.over_all()?, "the book".to_owned()),
        };
        let (vector, says) = match flow {
            ProofFlow::AtStart => (sums.at_start, format!("there when {says} began")),
            ProofFlow::AtEnd => (sums.at_end, format!("there when {says} ended")),
            ProofFlow::Flow(flow) => {
                (sums.flows.get(&flow).cloned().unwrap_or_default(), format!("{}{when}", flow_in_words(flow)))
            }
        };
        let mut step = Step::nowhere(says, Sum::of(&vector)?, WhyRule::SumOf);
        if !self.enters(&mut step, FigureName::Proof(figure), level) {
            return Some(step);
        }
        let below = level.saturating_add(1);
        let years: Vec<i32> = proof.years.keys().copied().collect();
        step.steps = match (flow, figure.year) {
            (ProofFlow::AtStart, None) => match years.first() {
                Some(first) => vec![self.flow(ProofFigure { year: Some(*first), ..figure }, below)?],
                None => Vec::new(),
            },
            (ProofFlow::AtEnd, None) => match years.last() {
                Some(last) => vec![self.flow(ProofFigure { year: Some(*last), ..figure }, below)?],
                None => Vec::new(),
            },
            (ProofFlow::Flow(_), None) => {
                let each = years.into_iter().map(|year| self.flow(ProofFigure { year: Some(year), ..figure }, below));
                each.collect::<Option<_>>()?
            }
            (ProofFlow::AtStart, Some(year)) => match years.iter().rev().find(|one| **one < year) {
                Some(before) => {
                    vec![self.flow(ProofFigure { year: Some(*before), flow: Some(ProofFlow::AtEnd), ..figure }, below)?]
                }
                None => Vec::new(),
            },
            (ProofFlow::AtEnd, Some(year)) => self.at_end(year)?,
            (ProofFlow::Flow(flow), Some(year)) => self.moved_by(figure, flow, year, below)?,
        };
        Some(step)
    }

    /// What moved by a flow in a year, entry by entry.
    fn moved_by(&mut self, figure: ProofFigure, flow: Flow, year: i32, level: usize) -> Option<Vec<Step>> {
        let shown = Shown::Proof(figure.of);
        let movements = &self.of.books.costed.movements;
        let of_flow = self.of.moved_in(year, flow);
        let mut steps = Vec::new();
        for movement in of_flow.iter().filter_map(|at| movements.get(*at as usize)) {
            let sum = Sum::of(&movement.vector)?;
            if shown.shows(sum) {
                steps.push(((movement.date.year(), movement.date.month()), self.moved(movement, sum, level)?));
            }
        }
        by_months(steps)
    }

    /// A movement, with the pieces of which it was made where it left the shelf.
    fn moved(&mut self, movement: &Movement, sum: Sum, level: usize) -> Option<Step> {
        let book = self.of.books.book;
        let what = match (movement.thing, movement.batch) {
            (None, Some(batch)) => format!("batch {}", book.batch(batch).name),
            _ => self.moved_what(movement),
        };
        let mut step = Step::new(format!("{} {what}", movement.date), sum, WhyRule::Said, movement.line);
        // What comes in, or goes back to a supplier, is worth what its entry says.
        if movement.issue.count > 0 && !movement.flow.comes_in() {
            if self.folds {
                step.rule = WhyRule::Deeper;
            } else {
                self.pieces_moved(&mut step, movement, level)?;
            }
        }
        Some(step)
    }

    /// What was there at the end of a year, by where it was; of goods on the shelf by thing, where the book knows it.
    fn at_end(&mut self, year: i32) -> Option<Vec<Step>> {
        let costed = self.of.books.costed;
        let Some(end) = costed.end_of(year).filter(|end| end.year == year) else { return Some(Vec::new()) };
        let kinds = [
            ("materials on the shelf", ThingKind::Material),
            ("wear on the shelf", ThingKind::Wear),
            ("packing on the shelf", ThingKind::Packing),
            ("products on the shelf", ThingKind::Product),
        ];
        let is_last = costed.year_ends.last().is_some_and(|last| last.year == year);
        let mut steps = Vec::new();
        for ((says, kind), vector) in kinds.into_iter().zip(&end.shelf) {
            let mut things: Vec<Step> = Vec::new();
            for lot in costed.stock_at_end_of(year) {
                let thing = self.of.books.book.thing(lot.thing);
                if thing.kind != kind {
                    continue;
                }
                let sum = Sum::of(&lot.vector)?;
                let figure = FigureName::Stock(StockFigure { of: StockOf::Thing(lot.thing), on: None });
                match things.last_mut().filter(|last| last.says == thing.named.name) {
                    Some(last) => last.sum = last.sum.plus(sum)?,
                    None => {
                        let step = Step::nowhere(thing.named.name.as_str(), sum, WhyRule::Said);
                        things.push(if is_last { Step { rule: WhyRule::Deeper, ..step.named(figure) } } else { step });
                    }
                }
            }
            let whole = Sum::of(vector)?;
            let all = Step::sum_of(says, things)?;
            steps.push(if all.sum == whole { all } else { Step::nowhere(says, whole, WhyRule::Said) });
        }
        let batches: Vec<&str> = end.bench_of.iter().map(|(batch, _)| self.of.books.book.batch(*batch).name.as_str()).collect();
        let bench = if batches.is_empty() { "on the bench".to_owned() } else { format!("on the bench: {}", batches.join(", ")) };
        steps.push(Step::nowhere(bench, Sum::of(&end.bench)?, WhyRule::Said));
        steps.push(Step::nowhere("licences for pieces that are not made yet", Sum::of(&end.licences)?, WhyRule::Said));
        Some(steps.into_iter().filter(|step| !step.sum.is_nothing()).collect())
    }
}

/// A flow in words that go on from a sum.
fn flow_in_words(flow: Flow) -> &'static str {
    match flow {
        Flow::Opened => "was there when the book began",
        Flow::Bought => "was bought",
        Flow::Contributed => "was put in by the owner",
        Flow::Time => "was worked",
        Flow::Royalty => "came as royalty",
        Flow::Overhead => "came as overhead",
        Flow::Unrecorded => "was issued without a record",
        Flow::Credited => "came less by suppliers' credits",
        Flow::SentBack => "went back to suppliers",
        Flow::Sold => "was sold, less what came back",
        Flow::PackingUsed => "was used as packing",
        Flow::UsedInShop => "was used in the shop",
        Flow::MadeForShop => "was made for the shop",
        Flow::TakenHome => "was taken home",
        Flow::Sample => "went as samples",
        Flow::Gift => "went as gifts",
        Flow::Donated => "was donated",
        Flow::Scrapped => "was scrapped",
        Flow::Missing => "was missing, less what was found",
        Flow::AbnormalLoss => "was lost beyond the usual",
        Flow::PriceDifference => "was the difference of suppliers' refunds and credits",
    }
}
