//! Goods that come without a purchase: there when the book began, put in by the owner, or found.
//!
//! An opened product's value is materials unless split; its hours are unknown unless stated. What was opened counts as there at the
//! start. What was found comes at no cost.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::fault::{Costed, OrFault};
use crate::costing::ledger::About;
use crate::costing::tools::NewTools;
use crate::costing::trace::NewLot;
use crate::costing::{Bill, BillKind, Component, CostVector, Flow, Made, ToolCame};
use crate::events::{OpenDebt, Opened, OpenedHow, OpenedLine};
use crate::names::ThingKind;
use crate::units::{Fixed6, mul_div_round};

impl Engine<'_> {
    pub(crate) fn cost_opened(&mut self, opened: &Opened) -> Costed<()> {
        let flow = if opened.how == OpenedHow::Opened { Flow::Opened } else { Flow::Contributed };
        for line in &opened.lines {
            let mut vector = self.opened_vector(line)?;
            let about = About { line: line.span, thing: Some(line.thing), quantity: line.quantity, ..About::default() };
            if flow == Flow::Opened {
                self.carry_in_on_the_first_day(&mut vector)?;
            }
            self.ledger.flow(self.now, flow, &vector, about)?;
            let made = match opened.how {
                OpenedHow::Opened => Made::Opened,
                OpenedHow::Contributed => Made::Contributed,
                OpenedHow::Found => Made::Found,
            };
            let new = NewLot {
                thing: line.thing,
                place: opened.place,
                quantity: line.quantity,
                code: line.lot,
                batch: None,
                line: line.span,
                made,
            };
            self.receive(new, vector)?;
        }
        for tool in &opened.tools {
            let came = if opened.how == OpenedHow::Opened { ToolCame::Opened } else { ToolCame::Contributed };
            let recovered = tool.already_recovered;
            let new =
                NewTools { tool: tool.tool, count: tool.count, cost: tool.value, recovered, came, bill: None, line: tool.span };
            self.keep_tools(new)?;
        }
        for (batch, money, line) in &opened.on_batches {
            let mut vector = CostVector::of(Component::Materials, *money);
            vector.add_without_hours(Decimal::ONE).or_fault()?;
            self.carry_in_on_the_first_day(&mut vector)?;
            self.ledger.flow(self.now, flow, &vector, About { line: *line, batch: Some(*batch), ..About::default() })?;
            self.begin_batch(*batch, *line)?;
            self.batches.collect(*batch, &vector)?;
            self.batches.progress_mut(*batch).holds_money = true;
        }
        for debt in &opened.owed_by {
            self.open_debt(debt, BillKind::OwedToUs);
        }
        for debt in &opened.owed_to {
            self.open_debt(debt, BillKind::OwedByUs);
        }
        Ok(())
    }

    fn opened_vector(&self, line: &OpenedLine) -> Costed<CostVector> {
        let kind = self.book.thing(line.thing).kind;
        let component = Component::of_goods(kind);
        let mut vector = CostVector::of(component, line.value);
        if kind == ThingKind::Product {
            match line.minutes {
                Some(minutes) => {
                    vector.add(&CostVector::of_minutes(None, minutes, Fixed6::ZERO)).or_fault()?;
                    if let Some(rate) = self.book.shop.owner_time.on(self.now.date) {
                        vector.add_to(Component::OwnTime, hourly(*rate, minutes)?).or_fault()?;
                    }
                }
                None => vector.add_without_hours(line.quantity).or_fault()?,
            }
        }
        Ok(vector)
    }

    fn open_debt(&mut self, debt: &OpenDebt, kind: BillKind) {
        // A pattern is owed its royalty, as where pieces are made; nobody else is named.
        let royalty = debt.pattern.filter(|_| kind == BillKind::OwedByUs);
        let bill = Bill {
            party: royalty.is_none().then_some(debt.party),
            pattern: royalty,
            reference: debt.reference,
            line: debt.span,
            opened: true,
            ..Bill::new(kind, self.now, debt.money)
        };
        let at = self.owed.add(bill);
        let day = debt.of_day.unwrap_or(self.now.date);
        match kind {
            BillKind::OwedToUs => self.owed.know_order(debt.reference, day, at),
            BillKind::OwedByUs => self.owed.know_receipt(Some(debt.party), debt.reference, day, at),
        }
        if kind == BillKind::OwedByUs && debt.reference.is_none() {
            match royalty {
                Some(pattern) => self.owed.know_royalty(pattern, at),
                None => self.owed.know_hired(debt.party, at),
            }
        }
    }
}

/// Money per hour times minutes, rounded once, half away from zero, to six digits.
pub(crate) fn hourly(rate: Decimal, minutes: Fixed6) -> Costed<Fixed6> {
    let den = 10_i128.checked_pow(rate.scale()).and_then(|ten| ten.checked_mul(60)).or_fault()?;
    mul_div_round(minutes.micros(), rate.mantissa(), den).map(Fixed6::from_micros).or_fault()
}
