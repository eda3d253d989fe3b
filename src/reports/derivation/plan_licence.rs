//! What a plan takes of a pattern's licences: the pieces of its builds, what the licences still permit, and those to buy down to the last purchase.

use rust_decimal::Decimal;

use super::{Step, Sum, Telling};
use crate::costing::{Amounts, Component};
use crate::names::{BatchId, PatternId, ThingId};
use crate::reports::planning::{LicenceNeed, Planned};
use crate::reports::{BatchFigure, FigureName, PlanFigure, PlanPart, PlanRow, WhyRule};
use crate::units::{checked_add_exact, checked_sub_exact};

/// What pieces made by a pattern are counted in.
const EACH: &str = "ea";

impl<'d> Telling<'d> {
    /// The first step of a row of a pattern; nothing inside where there is no figure. The outer `None` is overflow.
    pub(super) fn first_of_licence(&self, p: &Planned<'d>, pattern: PatternId, part: PlanPart) -> Option<Option<Step>> {
        let need = p.licence(pattern)?;
        let says = self.words_of_plan(p, PlanFigure::Row(PlanRow::Licence(pattern), part));
        let count = |much: Decimal, rule| Some(Step::nowhere(says.clone(), Sum::default(), rule).counted(much, EACH));
        Some(match part {
            PlanPart::Needed => count(need.needed, WhyRule::SumOf),
            PlanPart::Left => count(need.left, WhyRule::SumOf),
            PlanPart::OnTheBench => count(need.on_the_bench, WhyRule::SumOf),
            PlanPart::Short => count(need.short, WhyRule::SumOf),
            PlanPart::Buy => count(need.buy, WhyRule::Figured),
            _ => need.cost.map(|cost| Step::nowhere(says, Sum::both(cost), WhyRule::Figured)),
        })
    }

    /// What such a row is made of.
    pub(super) fn parts_of_licence(
        &mut self,
        p: &Planned<'d>,
        pattern: PatternId,
        part: PlanPart,
        level: usize,
    ) -> Option<Vec<Step>> {
        let need = p.licence(pattern)?;
        let row = |part| PlanFigure::Row(PlanRow::Licence(pattern), part);
        let at = p.books.book.pattern(pattern).named.span;
        match part {
            PlanPart::Needed => {
                let mut steps = Vec::new();
                for (build, pieces) in &need.wanted_by {
                    let says = format!("good {} of the plan", self.name(*build));
                    let mut step = Step::nowhere(says, Sum::default(), WhyRule::SumOf).counted(*pieces, EACH);
                    step.steps = self.coming(p, *build, level.saturating_add(1))?;
                    for below in &mut step.steps {
                        below.count = below.count.map(|(count, _)| (count, EACH));
                    }
                    steps.push(step);
                }
                let up = checked_sub_exact(need.needed, need.pieces).ok()?;
                if !up.is_zero() {
                    let says = "rounded up to whole pieces";
                    steps.push(Step::nowhere(says, Sum::default(), WhyRule::Said).counted(up, EACH));
                }
                Some(steps)
            }
            PlanPart::Left => {
                let lots = need.lots.iter().map(|lot| {
                    let says = format!("of the licence of {}", lot.date);
                    Step::new(says, Sum::default(), WhyRule::Said, at).counted(lot.left, EACH)
                });
                Some(lots.collect())
            }
            PlanPart::OnTheBench => {
                let of_batch = |(batch, thing, pieces): &(BatchId, ThingId, Decimal)| {
                    let says = format!("{} still to come of batch {}", self.name(*thing), p.books.book.batch(*batch).name);
                    let figure = FigureName::Batch(BatchFigure { batch: *batch, part: None });
                    Step::nowhere(says, Sum::default(), WhyRule::Said).counted(*pieces, EACH).named(figure)
                };
                Some(need.of_batches.iter().map(of_batch).collect())
            }
            PlanPart::Short => {
                let mut steps = self.plan_steps(p, [row(PlanPart::Needed), row(PlanPart::OnTheBench)], level)?;
                let all = checked_add_exact(need.needed, need.on_the_bench).ok()?;
                let taken = checked_sub_exact(all, need.short).ok()?;
                steps.push(self.less(p, "less what the licences permit", (taken, EACH), [row(PlanPart::Left)], level)?);
                Some(steps)
            }
            PlanPart::Buy => {
                let mut steps = self.plan_steps(p, [row(PlanPart::Short)], level)?;
                let permits = Step::new("pieces that one permits", Sum::default(), WhyRule::Said, at);
                steps.push(permits.counted(need.allows, EACH));
                Some(steps)
            }
            _ => {
                let mut steps = self.plan_steps(p, [row(PlanPart::Buy)], level)?;
                steps.extend(self.last_licence(p, need)?);
                Some(steps)
            }
        }
    }

    /// The last purchase of a pattern's licences; nothing where there was none. The outer `None` is overflow.
    pub(super) fn last_licence(&self, p: &Planned<'d>, need: &LicenceNeed) -> Option<Option<Step>> {
        let Some(last) = need.last else { return Some(None) };
        let name = &p.books.book.pattern(need.pattern).named.name;
        let says = format!("{} licence {name}, bought on {}", last.count.normalize(), last.date);
        let sum = Sum::of_amounts(Amounts::of_component(Component::Royalty, last.cost))?;
        Some(Some(Step::new(says, sum, WhyRule::Said, last.line)))
    }
}
