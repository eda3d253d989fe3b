//! Deposits: money that came before its order's sale. The sale takes them, or they are handed back to the buyer.
//!
//! A deposit holds what reached the shop and the channel's fee on it; what the buyer paid is both. What is handed back is of what the
//! buyer paid, the oldest first. The fee stays with what is left of the deposit, as far as that bears it.

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::owed::Owed;
use crate::costing::{Deposit, HandedBack};
use crate::events::{EventKind, Returned};
use crate::names::LabelId;
use crate::sources::Span;
use crate::units::Fixed6;

impl Owed {
    /// Remembers a deposit.
    pub(crate) fn deposit(&mut self, deposit: Deposit) {
        self.deposits_of.entry(deposit.order).or_default().push(self.deposits.len());
        self.deposits.push(deposit);
    }

    /// Whether an order has deposits that no sale has used.
    pub(crate) fn has_deposits(&self, order: LabelId) -> bool {
        self.deposits_of.contains_key(&order)
    }

    /// The fees on an order's deposits that no sale has used.
    pub(crate) fn fees_on_open_deposits(&self, order: LabelId) -> Costed<Fixed6> {
        let deposits = self.deposits_of.get(&order).map_or(&[][..], Vec::as_slice);
        Fixed6::checked_sum(deposits.iter().filter_map(|at| self.deposits.get(*at)).map(|one| one.fee)).or_fault()
    }

    /// Takes the deposits of an order that no sale has used.
    pub(crate) fn take_deposits(&mut self, order: LabelId) -> Vec<Deposit> {
        let mut taken = Vec::new();
        for at in self.deposits_of.remove(&order).unwrap_or_default() {
            if let Some(deposit) = self.deposits.get_mut(at)
                && !deposit.used
            {
                deposit.used = true;
                taken.push(deposit.clone());
            }
        }
        taken
    }

    /// What buyers paid on deposits of an order that are still open, fees included.
    pub(crate) fn open_deposits(&self, order: LabelId) -> Costed<Fixed6> {
        let deposits = self.deposits_of.get(&order).map_or(&[][..], Vec::as_slice);
        let mut open = Fixed6::ZERO;
        for deposit in deposits.iter().filter_map(|at| self.deposits.get(*at)) {
            open = open.checked_add(deposit.from_buyer().or_fault()?).or_fault()?;
        }
        Ok(open)
    }

    /// Hands money back of an order's deposits, which must hold that much. Of a deposit that is handed back in part, the rest becomes a
    /// deposit of its own.
    fn hand_back(&mut self, order: LabelId, money: Fixed6, back: HandedBack) -> Costed<()> {
        let mut left = money;
        let mut still_open = Vec::new();
        for at in self.deposits_of.remove(&order).unwrap_or_default() {
            let Some(deposit) = self.deposits.get_mut(at) else { continue };
            let paid = deposit.from_buyer().or_fault()?;
            let now = paid.min(left);
            if !now.is_positive() {
                still_open.push(at);
                continue;
            }
            left = left.checked_sub(now).or_fault()?;
            let rest = paid.checked_sub(now).or_fault()?;
            let mut kept = deposit.clone();
            kept.fee = deposit.fee.min(rest);
            kept.money = rest.checked_sub(kept.fee).or_fault()?;
            deposit.fee = deposit.fee.checked_sub(kept.fee).or_fault()?;
            deposit.money = now.checked_sub(deposit.fee).or_fault()?;
            deposit.handed_back = Some(back);
            if rest.is_positive() {
                still_open.push(self.deposits.len());
                self.deposits.push(kept);
            }
        }
        if !still_open.is_empty() {
            self.deposits_of.insert(order, still_open);
        }
        Ok(())
    }
}

impl Engine<'_> {
    /// Warns of a deposit for an order, with its place, that is never sold, where the payer owes one of nearly that name.
    pub(crate) fn tell_deposit_meant_for_another(&mut self, from: LabelId, order: (LabelId, Span)) {
        let log = self.log;
        let sold = self.owed.sold_some_day.get_or_insert_with(|| {
            let named = log.events.iter().filter_map(|event| match &event.kind {
                EventKind::Sold(sold) => sold.order,
                EventKind::Returned(returned) => returned.order,
                _ => None,
            });
            named.collect()
        });
        if !sold.contains(&order.0)
            && let Some(told) = errors::settling::deposit_meant_for_another(self, from, order)
        {
            self.found.push(told);
        }
    }

    /// Hands a deposit back, where the order was not sold; says whether that is what the entry does.
    pub(crate) fn hand_back_deposits(&mut self, returned: &Returned) -> Costed<bool> {
        let Some(order) = returned.order.filter(|order| self.orders.find(*order).is_none()) else { return Ok(false) };
        let only_money = returned.lines.is_empty()
            && [returned.shipping, returned.sales_tax, returned.fee_back].iter().all(|sum| sum.is_zero())
            && !returned.refunds.is_empty();
        if !only_money || !self.owed.has_deposits(order) {
            return Ok(false);
        }
        for (money, line) in &returned.refunds {
            let open = self.owed.open_deposits(order)?;
            if *money > open {
                let told = errors::more_than_deposited(self, *money, open, *line, order);
                self.found.push(told);
                return Err(Fault::Told);
            }
            self.owed.hand_back(order, *money, HandedBack { date: self.now.date, event: self.now.event, line: *line })?;
        }
        Ok(true)
    }
}
