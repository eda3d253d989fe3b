//! Purchases: freight, sales tax and discount spread over all lines, and where each line goes.
//!
//! Costing rule 1. Expense, tool and `home` lines take their share too. Each split is by largest remainder at six digits, so a
//! bill's parts sum to the bill.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::{About, PostedTo};
use crate::costing::tools::NewTools;
use crate::costing::trace::NewLot;
use crate::costing::{Account, Bill, BillKind, Component, CostVector, Flow, Made, ToolCame};
use crate::events::{Bought, BoughtLine, BoughtWhat, Sharing};
use crate::names::ThingKind;
use crate::units::{Fixed6, Weights};

/// What a line of a purchase cost in the end.
#[derive(Clone, Copy, Debug)]
struct Landed {
    /// Value less discount, with its sales tax.
    goods: Fixed6,
    /// Its freight.
    freight: Fixed6,
    /// Its shares of discount and tax, which are in `goods`.
    discount: Fixed6,
    sales_tax: Fixed6,
}

impl Landed {
    fn made(self, price: Fixed6) -> Made {
        Made::Bought { price, discount: self.discount, sales_tax: self.sales_tax, freight: self.freight }
    }

    fn total(self) -> Costed<Fixed6> {
        self.goods.checked_add(self.freight).or_fault()
    }
}

impl Engine<'_> {
    pub(crate) fn cost_bought(&mut self, bought: &Bought) -> Costed<()> {
        let landed = self.landed(bought)?;
        let bill = if bought.swapped { None } else { Some(self.bill_of(bought)?) };
        for (line, landed) in bought.lines.iter().zip(landed) {
            self.cost_bought_line(bought, line, landed, bill)?;
        }
        Ok(())
    }

    fn landed(&mut self, bought: &Bought) -> Costed<Vec<Landed>> {
        let alone = |line: &BoughtLine| Landed {
            goods: line.value,
            freight: Fixed6::ZERO,
            discount: Fixed6::ZERO,
            sales_tax: Fixed6::ZERO,
        };
        let mut landed: Vec<Landed> = bought.lines.iter().map(alone).collect();
        let (freight, freight_by) = bought.freight;
        let (discount, discount_by) = bought.discount;
        for (at, share) in self.shares(bought, freight, freight_by, |line| line.measure)?.into_iter().enumerate() {
            landed[at].freight = share;
        }
        for (at, share) in self.shares(bought, discount, discount_by, |line| line.discount_measure)?.into_iter().enumerate() {
            landed[at].discount = share;
            landed[at].goods = landed[at].goods.checked_sub(share).or_fault()?;
        }
        for (at, share) in self.shares(bought, bought.sales_tax, Sharing::Value, |_| None)?.into_iter().enumerate() {
            landed[at].sales_tax = share;
            landed[at].goods = landed[at].goods.checked_add(share).or_fault()?;
        }
        Ok(landed)
    }

    fn shares(
        &mut self,
        bought: &Bought,
        sum: Fixed6,
        by: Sharing,
        measure: fn(&BoughtLine) -> Option<Decimal>,
    ) -> Costed<Vec<Fixed6>> {
        let mut shares = Vec::new();
        if sum.is_zero() {
            return Ok(shares);
        }
        if let [_] = bought.lines.as_slice() {
            return Ok(vec![sum]);
        }
        let weights: Vec<Decimal> = match by {
            Sharing::Value => bought.lines.iter().filter_map(|line| line.value.to_decimal()).collect(),
            Sharing::Measure => bought.lines.iter().map(|line| measure(line).unwrap_or_default()).collect(),
        };
        if weights.len() != bought.lines.len() {
            return Err(Fault::Figures);
        }
        if weights.iter().all(Decimal::is_zero) {
            self.found.push(errors::cannot_share(self.now.head, sum, by));
            return Err(Fault::Told);
        }
        Weights::new(&weights)?.split(sum, &mut shares)?;
        Ok(shares)
    }

    fn bill_of(&mut self, bought: &Bought) -> Costed<u32> {
        let total = bought.total().and_then(|sum| sum.checked_sub(bought.credit)).or_fault()?;
        let at = self.owed.add(Bill {
            party: bought.supplier,
            reference: bought.receipt,
            ..Bill::new(BillKind::OwedByUs, self.now, total)
        });
        self.owed.know_receipt(bought.supplier, bought.receipt, self.now.date, at);
        if !bought.credit.is_zero() {
            self.use_credit(bought.supplier, bought.credit)?;
        }
        self.settle(at, &bought.settlement)?;
        Ok(at)
    }

    fn cost_bought_line(&mut self, bought: &Bought, line: &BoughtLine, landed: Landed, bill: Option<u32>) -> Costed<()> {
        let about = About { line: line.span, bill, ..About::default() };
        match &line.what {
            BoughtWhat::Stock { thing, quantity, lot, .. } => {
                let mut vector = CostVector::default();
                let mut wear_freight = Fixed6::ZERO;
                match self.book.thing(*thing).kind {
                    ThingKind::Material | ThingKind::Product => {
                        vector.set(Component::Materials, landed.goods);
                        vector.set(Component::Freight, landed.freight);
                    }
                    ThingKind::Wear => {
                        vector.set(Component::Wear, landed.total()?);
                        wear_freight = landed.freight;
                    }
                    ThingKind::Packing => vector.set(Component::Materials, landed.total()?),
                }
                self.mark_unpaid(&mut vector);
                let about = About { thing: Some(*thing), quantity: *quantity, wear_freight, ..about };
                self.ledger.flow(self.now, Flow::Bought, &vector, about)?;
                let new = NewLot {
                    thing: *thing,
                    place: bought.place,
                    quantity: *quantity,
                    code: *lot,
                    batch: None,
                    line: line.span,
                    made: landed.made(line.value),
                };
                self.receive(new, vector)?;
                self.remember_purchase(bought, *thing, *quantity, bill)?;
            }
            BoughtWhat::Tool { tool, count } => {
                let (cost, recovered, came) = (landed.total()?, Fixed6::ZERO, ToolCame::Bought);
                self.keep_tools(NewTools { tool: *tool, count: *count, cost, recovered, came, bill, line: line.span })?;
            }
            BoughtWhat::Licence { pattern, count } => {
                let cost = landed.total()?;
                match *self.book.pattern(*pattern).allows.on(self.now.date) {
                    Some(allows) => {
                        let mut vector = CostVector::of(Component::Royalty, cost);
                        self.mark_unpaid(&mut vector);
                        self.ledger.flow(self.now, Flow::Bought, &vector, about)?;
                        self.licences.buy(*pattern, self.now.date, *count, allows, vector)?;
                    }
                    None => {
                        let to = PostedTo { line: line.span, bill, ..PostedTo::default() };
                        self.ledger.post(self.now, Account::Licence(*pattern), cost, to)?;
                    }
                }
            }
            BoughtWhat::Expense { expense, on, meant_for } => {
                let to = PostedTo { line: line.span, on: *on, bill, meant_for: *meant_for, ..PostedTo::default() };
                self.ledger.post(self.now, Account::Expense(*expense), landed.total()?, to)?;
            }
            BoughtWhat::Home => {}
            BoughtWhat::Batch(batch) => {
                let mut vector = CostVector::of(Component::Materials, landed.goods);
                vector.set(Component::Freight, landed.freight);
                self.begin_batch(*batch, line.span)?;
                self.mark_unpaid(&mut vector);
                self.ledger.flow(self.now, Flow::Bought, &vector, About { batch: Some(*batch), ..about })?;
                self.batches.collect(*batch, &vector)?;
                self.batches.progress_mut(*batch).holds_money = true;
            }
        }
        Ok(())
    }
}
