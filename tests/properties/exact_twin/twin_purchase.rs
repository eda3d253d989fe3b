//! Rule 1, landed cost: freight, sales tax and discount over all lines of a purchase.

use kerfbook::costing::{Account, Component, Flow};
use kerfbook::events::{Bought, BoughtLine, BoughtWhat, Sharing};
use kerfbook::names::ThingKind;
use rust_decimal::Decimal;

use super::exact_number::{Exact, of_amount, of_decimal, share, whole};
use super::exact_vector::ExactVector;
use super::twin::{Purchase, Twin, TwinLicence};

/// How a sum is shared: each line's part by its value, or by its measure where one is given.
fn parts(sum: &Exact, lines: &[BoughtLine], measure: impl Fn(&BoughtLine) -> Option<Decimal>) -> Vec<Exact> {
    let weights: Vec<Exact> = lines.iter().map(|line| measure(line).map_or_else(|| of_amount(line.value), of_decimal)).collect();
    let all: Exact = weights.iter().cloned().sum();
    weights.iter().map(|weight| sum * share(weight, &all)).collect()
}

impl Twin<'_> {
    /// A purchase. Its sums are cut by largest remainder: three of them, so each line has at most three millionths of slack.
    pub(crate) fn bought(&mut self, bought: &Bought) {
        let by_measure = |sharing: Sharing, measure: Option<Decimal>| if sharing == Sharing::Measure { measure } else { None };
        let freights = parts(&of_amount(bought.freight.0), &bought.lines, |line| by_measure(bought.freight.1, line.measure));
        let discounts =
            parts(&of_amount(bought.discount.0), &bought.lines, |line| by_measure(bought.discount.1, line.discount_measure));
        let taxes = parts(&of_amount(bought.sales_tax), &bought.lines, |_| None);
        let slack = [bought.freight.0, bought.discount.0, bought.sales_tax].iter().filter(|sum| !sum.is_zero()).count();
        let slack = if bought.lines.len() > 1 { i64::try_from(slack).unwrap_or(3) } else { 0 };
        for (((line, freight), discount), tax) in bought.lines.iter().zip(freights).zip(discounts).zip(taxes) {
            let goods = of_amount(line.value) - discount + tax;
            let apart = |component| {
                let mut vector = ExactVector::of(component, goods.clone());
                vector.add_to(Component::Freight, &freight);
                vector.with_slack(slack)
            };
            let together = |component| ExactVector::of(component, &goods + &freight).with_slack(slack);
            match &line.what {
                BoughtWhat::Stock { thing, quantity, lot, .. } => {
                    let vector = match self.book.thing(*thing).kind {
                        ThingKind::Wear => together(Component::Wear),
                        ThingKind::Packing => together(Component::Materials),
                        ThingKind::Material | ThingKind::Product => apart(Component::Materials),
                    };
                    self.moves(Flow::Bought, Some(*thing), &vector);
                    let number = self.arrives(*thing, bought.place, of_decimal(*quantity), vector, *lot);
                    self.purchases.insert(
                        number,
                        Purchase { thing: *thing, supplier: bought.supplier, receipt: bought.receipt, quantity: *quantity },
                    );
                }
                BoughtWhat::Licence { pattern, count } => {
                    if let Some(allows) = self.book.pattern(*pattern).allows.on(self.date) {
                        let cost = together(Component::Royalty);
                        self.moves(Flow::Bought, None, &cost);
                        let left = of_decimal(*allows) * of_decimal(*count);
                        self.licences.push(TwinLicence { pattern: *pattern, left, cost });
                    } else {
                        self.post(Account::Licence(*pattern), None, None, &goods + &freight, whole(slack));
                    }
                }
                BoughtWhat::Batch(batch) => {
                    let vector = apart(Component::Materials);
                    self.moves(Flow::Bought, None, &vector);
                    self.batches[batch.index()].collect(&vector);
                }
                BoughtWhat::Expense { expense, meant_for, .. } => {
                    self.expense(*expense, &goods + &freight, whole(slack), *meant_for);
                }
                BoughtWhat::Tool { tool, count } => self.tools_came(*tool, *count, &(&goods + &freight), &whole(slack)),
                BoughtWhat::Home => {}
            }
        }
    }
}
