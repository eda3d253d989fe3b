//! Lots and issues: what a lot cost when it came, and the pieces of which an issue was taken.

use rust_decimal::Decimal;

use super::amount::part_of;
use super::cost::words_of;
use super::purchases::ForAll;
use super::stock::change_of_cost;
use super::{Step, Sum, Telling};
use crate::costing::{Component, Issue, LotMade, Made, ShelfEntry};
use crate::names::{CostingMethod, ThingKind};
use crate::reports::period::{minutes_text, quantity_text, unit_cost_text};
use crate::reports::{CostPart, FigureName, LotFigure, WhyRule};

impl Telling<'_> {
    /// The pieces of an issue, each a part of its lot; under average, one part of the pool. They add up to what was issued.
    pub(super) fn issue(&mut self, issue: Issue, level: usize) -> Option<Vec<Step>> {
        let pieces = self.of.trace.pieces(issue);
        let Some(first) = pieces.first() else { return Some(Vec::new()) };
        let year = chrono::NaiveDate::from_ymd_opt(chrono::Datelike::year(&first.date), 1, 1)?;
        let pooled = *self.of.books.book.shop.costing.on(year) == CostingMethod::Average && first.quantity.is_sign_negative();
        if pooled {
            return Some(vec![self.taken_from_pool(issue, pieces, level)?]);
        }
        pieces.iter().map(|piece| self.piece(piece, issue.first as usize, level)).collect()
    }

    /// A piece of a lot, as much as it moved; `before` is where its issue stands among the entries.
    fn piece(&mut self, piece: &ShelfEntry, before: usize, level: usize) -> Option<Step> {
        let lot = self.of.trace.lot(piece.lot)?;
        let sum = Sum::of_entry(piece)?;
        let went = piece.quantity.is_sign_negative();
        let sum = if went { sum.negated()? } else { sum };
        let whole = quantity_text(lot.quantity);
        let says = format!("{} of the {whole} that {}", self.amount_of(piece.thing, piece.quantity.abs()), self.came(lot));
        let changes = self.of.index.changes_of_lot(self.of.trace, piece.lot, before);
        if !changes.is_empty() {
            let mut step = Step::new(says, sum, WhyRule::PartOf, piece.line);
            step.steps = vec![self.changed(lot, &changes, level)?];
            return Some(step);
        }
        if piece.quantity.abs() == lot.quantity && Sum::of_lot(lot)? == sum {
            return self.lot(piece.lot, level);
        }
        let mut step = Step::new(says, sum, WhyRule::PartOf, piece.line);
        step.steps = vec![self.lot(piece.lot, level.saturating_add(1))?];
        Some(step)
    }

    /// A lot of which a piece was taken, with what changed its cost before.
    fn changed(&mut self, lot: &LotMade, changes: &[&ShelfEntry], level: usize) -> Option<Step> {
        let mut whole = Sum::of_lot(lot)?;
        let mut steps = Vec::with_capacity(changes.len());
        for change in changes {
            let sum = Sum::of_entry(change)?;
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
            Made::Finished(batch) => format!("{was} made in batch {}", self.of.books.book.batch(batch).name),
            Made::Kept(batch) => format!("{was} kept of batch {}", self.of.books.book.batch(batch).name),
        };
        format!("{how} on {}", lot.origin.date)
    }

    /// What a lot cost when it came.
    pub(super) fn lot_figure(&mut self, figure: LotFigure) -> Option<(String, Vec<Step>)> {
        let top = self.lot(figure.number, 0)?;
        let answer = match figure.part {
            None => {
                format!("{}, cost {} paid and {} full.", top.says, unit_cost_text(top.sum.paid), unit_cost_text(top.sum.full))
            }
            Some(part) => match part_of(top.sum, part) {
                none if none.is_zero() => format!("{}: no {} is in its cost.", top.says, words_of(part)),
                minutes if part == CostPart::Minutes => {
                    format!("{}: {} minutes of yours are in it.", top.says, minutes_text(minutes))
                }
                money => format!("{}: {} of {} are in its cost.", top.says, unit_cost_text(money), words_of(part)),
            },
        };
        Some((answer, vec![top]))
    }

    /// A lot as it came, with what made its cost.
    pub(super) fn lot(&mut self, number: u32, level: usize) -> Option<Step> {
        let lot = self.of.trace.lot(number)?;
        let sum = Sum::of_lot(lot)?;
        let says = format!("{}, which {}", self.amount_of(lot.thing, lot.quantity), self.came(lot));
        let figure = FigureName::Lot(LotFigure { number, part: self.part });
        let mut step = Step::new(says, sum, WhyRule::Said, lot.line).named(figure);
        if !matches!(lot.made, Made::Bought { .. } | Made::Finished(_)) {
            return Some(step);
        }
        if let Made::Bought { .. } = lot.made {
            step.steps = self.bought(lot)?;
            if step.steps.is_empty() {
                return Some(step);
            }
        }
        if self.lots.contains(&number) {
            (step.rule, step.steps) = (WhyRule::Above, Vec::new());
            return Some(step);
        }
        if self.stops(figure, level) {
            (step.rule, step.steps) = (WhyRule::Deeper, Vec::new());
            return Some(step);
        }
        self.lots.insert(number);
        step.rule = WhyRule::SumOf;
        if let Made::Finished(batch) = lot.made {
            step.steps = self.finished(lot, batch, level.saturating_add(1))?;
        }
        Some(step)
    }

    /// What a lot was bought for, where more than its price is in it.
    fn bought(&self, lot: &LotMade) -> Option<Vec<Step>> {
        let Made::Bought { price, discount, sales_tax, freight } = lot.made else { return Some(Vec::new()) };
        let head = self.head(lot.origin.event);
        // Freight on wear is in its wear, and on packing in its price.
        let (goods, carried) = match self.of.books.book.thing(lot.thing).kind {
            ThingKind::Wear => (Component::Wear, Component::Wear),
            ThingKind::Packing => (Component::Materials, Component::Materials),
            ThingKind::Material | ThingKind::Product => (Component::Materials, Component::Freight),
        };
        let parts = [
            ("its price", goods, price, lot.line, None),
            ("less its share of the discount", goods, discount.checked_neg()?, head, Some(ForAll::Discount)),
            ("its share of the sales tax", goods, sales_tax, head, Some(ForAll::SalesTax)),
            ("its share of the freight", carried, freight, head, Some(ForAll::Freight)),
        ];
        if parts.iter().skip(1).all(|(_, _, money, _, _)| money.is_zero()) {
            return Some(Vec::new());
        }
        let of = self.of;
        let mut steps = Vec::new();
        for (says, component, money, at, shared) in parts.into_iter().filter(|(_, _, money, _, _)| !money.is_zero()) {
            let by = shared.map_or_else(String::new, |what| of.purchases.shared(of.books.log, of.books.book, lot, what));
            steps.push(Step::new(format!("{says}{by}"), Sum::of_component(component, money)?, WhyRule::Said, at));
        }
        Some(steps)
    }
}
