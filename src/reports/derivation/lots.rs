//! Lots and issues: what a lot cost when it came, and the pieces of which an issue was taken.

use rust_decimal::Decimal;

use super::goods::change_of_cost;
use super::{Step, Sum, Telling};
use crate::costing::{Issue, LotMade, Made, ShelfEntry};
use crate::names::CostingMethod;
use crate::reports::WhyRule;
use crate::reports::period::quantity_text;

impl Telling<'_> {
    /// The pieces of an issue, each a part of its lot; under average, one part of the pool. They add up to what was issued.
    pub(super) fn issue(&mut self, issue: Issue, level: usize) -> Option<Vec<Step>> {
        let trace = self.trace;
        let pieces = trace.pieces(issue);
        let Some(first) = pieces.first() else { return Some(Vec::new()) };
        let year = chrono::NaiveDate::from_ymd_opt(chrono::Datelike::year(&first.date), 1, 1)?;
        let pooled = *self.books.book.shop.costing.on(year) == CostingMethod::Average && first.quantity.is_sign_negative();
        if pooled {
            return Some(vec![self.taken_from_pool(issue, pieces, level)?]);
        }
        pieces.iter().map(|piece| self.piece(piece, issue.first as usize, level)).collect()
    }

    /// A piece of a lot, as much as it moved; `before` is where its issue stands among the entries.
    fn piece(&mut self, piece: &ShelfEntry, before: usize, level: usize) -> Option<Step> {
        let lot = self.trace.lot(piece.lot)?;
        let sum = Sum::of_entry(piece);
        let went = piece.quantity.is_sign_negative();
        let sum = if went { sum.negated()? } else { sum };
        let whole = quantity_text(lot.quantity);
        let says = format!("{} of the {whole} that {}", self.amount_of(piece.thing, piece.quantity.abs()), self.came(lot));
        let changes = self.index.changes_of_lot(self.trace, piece.lot, before);
        if !changes.is_empty() {
            let mut step = Step::new(says, sum, WhyRule::PartOf, piece.line);
            step.steps = vec![self.changed(lot, &changes, level)?];
            return Some(step);
        }
        if piece.quantity.abs() == lot.quantity && Sum::of_lot(lot) == sum {
            return self.lot(piece.lot, level);
        }
        let mut step = Step::new(says, sum, WhyRule::PartOf, piece.line);
        step.steps = vec![self.lot(piece.lot, level.saturating_add(1))?];
        Some(step)
    }

    /// A lot of which a piece was taken, with what changed its cost before.
    fn changed(&mut self, lot: &LotMade, changes: &[&ShelfEntry], level: usize) -> Option<Step> {
        let mut whole = Sum::of_lot(lot);
        let mut steps = Vec::with_capacity(changes.len());
        for change in changes {
            let sum = Sum::of_entry(change);
            whole = whole.plus(sum)?;
            steps.push(Step::new(change_of_cost(change), sum, WhyRule::Said, change.line));
        }
        let whose = if lot.quantity <= Decimal::ONE { "its" } else { "their" };
        let says = format!("the {}, {whose} cost as it was changed since", self.amount_of(lot.thing, lot.quantity));
        let mut changed = Step::new(says, whole, WhyRule::SumOf, lot.line);
        let number = lot.origin.number;
        if self.changes.insert(number, changes.len()) == Some(changes.len()) {
            changed.rule = WhyRule::Above;
            return Some(changed);
        }
        changed.steps = vec![self.lot(number, level.saturating_add(2))?];
        changed.steps.append(&mut steps);
        Some(changed)
    }

    /// How a lot came, in words: `were bought on 2026-03-02`.
    fn came(&self, lot: &LotMade) -> String {
        let was = if lot.quantity <= Decimal::ONE { "was" } else { "were" };
        let how = match lot.made {
            Made::Opened => format!("{was} there when the book began"),
            Made::Contributed => "the owner put in".to_owned(),
            Made::Found => format!("{was} found"),
            Made::CountedMore => "a count found more".to_owned(),
            Made::Unrecorded => format!("{was} issued without a record"),
            Made::Bought { .. } => format!("{was} bought"),
            Made::Finished(batch) => format!("{was} made in batch {}", self.books.book.batch(batch).name),
            Made::Kept(batch) => format!("{was} kept of batch {}", self.books.book.batch(batch).name),
        };
        format!("{how} on {}", lot.origin.date)
    }

    /// A lot as it came, with what made its cost.
    pub(super) fn lot(&mut self, number: u32, level: usize) -> Option<Step> {
        let trace = self.trace;
        let lot = trace.lot(number)?;
        let sum = Sum::of_lot(lot);
        let says = format!("{}, which {}", self.amount_of(lot.thing, lot.quantity), self.came(lot));
        let mut step = Step::new(says, sum, WhyRule::Said, lot.line);
        if !matches!(lot.made, Made::Bought { .. } | Made::Finished(_)) {
            return Some(step);
        }
        if self.lots.contains(&number) {
            step.rule = WhyRule::Above;
            return Some(step);
        }
        if level >= self.levels {
            step.rule = WhyRule::Deeper;
            return Some(step);
        }
        self.lots.insert(number);
        match lot.made {
            Made::Bought { price, discount, sales_tax, freight } => {
                let head = self.head(lot.origin.event);
                let parts = [
                    ("its price", price, lot.line),
                    ("less its share of the discount", discount.checked_neg()?, head),
                    ("its share of the sales tax", sales_tax, head),
                    ("its share of the freight", freight, head),
                ];
                if parts.iter().skip(1).any(|(_, money, _)| !money.is_zero()) {
                    step.rule = WhyRule::SumOf;
                    for (says, money, at) in parts.into_iter().filter(|(_, money, _)| !money.is_zero()) {
                        step.steps.push(Step::new(says, Sum::both(money), WhyRule::Said, at));
                    }
                }
            }
            Made::Finished(batch) => {
                step.rule = WhyRule::SumOf;
                step.steps = self.finished(lot, batch, level.saturating_add(1))?;
            }
            _ => {}
        }
        Some(step)
    }
}
