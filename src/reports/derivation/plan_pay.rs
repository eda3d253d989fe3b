//! What helpers and royalties take of a plan's money: build by build, down to the last batches and the pattern's rate.

use super::{Step, Sum, Telling};
use crate::reports::planning::{PaidFor, Planned};
use crate::reports::{PlanFigure, WhyRule};
use crate::units::Fixed6;

impl<'d> Telling<'d> {
    /// What helpers or royalties take at once, or both later; each rounded to the currency's digits.
    pub(super) fn paid_for(&mut self, p: &Planned<'d>, figure: PlanFigure, level: usize) -> Option<Vec<Step>> {
        let below = level.saturating_add(1);
        let book = p.books.book;
        let mut steps = Vec::new();
        for pay in &p.pays {
            let of_helpers = matches!(pay.paid_for, PaidFor::Helpers(..));
            let money = match figure {
                PlanFigure::DueLater => pay.later,
                PlanFigure::HelperPay if of_helpers => pay.at_once,
                PlanFigure::Royalties if !of_helpers => pay.at_once,
                _ => continue,
            };
            if money.is_zero() {
                continue;
            }
            let sum = Sum::both(money);
            steps.push(match pay.paid_for {
                PaidFor::Helpers(build, at) => {
                    let says = format!("helpers at {} for {}", book.step(at).named.name, self.name(build));
                    let mut step = Step::nowhere(says, sum, WhyRule::Figured);
                    step.steps = self.cost_of_helpers(p, p.build(build)?, at, below)?;
                    step
                }
                PaidFor::Royalty(build, pattern) => {
                    let named = &book.pattern(pattern).named;
                    let says = format!("royalty of {} for {}", named.name, self.name(build));
                    let mut step = Step::new(says, sum, WhyRule::Figured, named.span);
                    step.steps = self.coming(p, build, below)?;
                    let rate = (*book.pattern(pattern).royalty.on(p.ground.day)).unwrap_or_default();
                    let each = Sum::both(Fixed6::round_from_decimal(rate)?);
                    step.steps.push(Step::new("for each good piece", each, WhyRule::Said, named.span));
                    step
                }
            });
        }
        Some(steps)
    }
}
