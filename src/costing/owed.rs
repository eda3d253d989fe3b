//! What is owed, by us and to us, and how it is settled.
//!
//! `grammar/README.md`, "What is understood when you say nothing". A bill without a payment is owed. What is paid to a helper or for a pattern settles the oldest
//! first; a receipt for several orders fills them as named; more than is owed is a mistake.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rustc_hash::{FxHashMap, FxHashSet};
use smallvec::SmallVec;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::PostedTo;
use crate::costing::{Account, Bill, BillKind, Deposit, TaxFlow, TaxItem};
use crate::diagnostics::Diagnostic;
use crate::events::hired_time::{HiredTime, hired_times};
use crate::events::{Paid, PaidFor, PaidLine, Received, Settlement};
use crate::names::{LabelId, PatternId};
use crate::sources::Span;
use crate::units::Fixed6;

/// Bills of one name: nearly always one, which needs no room of its own.
type FewBills = SmallVec<[u32; 4]>;

/// All bills, and how each is known.
#[derive(Debug, Default)]
pub(crate) struct Owed {
    pub(crate) bills: Vec<Bill>,
    pub(crate) deposits: Vec<Deposit>,
    by_receipt: FxHashMap<(Option<LabelId>, LabelId), FewBills>,
    by_day: FxHashMap<(Option<LabelId>, NaiveDate), Vec<u32>>,
    by_order: FxHashMap<LabelId, FewBills>,
    /// Sales without an order.
    by_day_of_sale: FxHashMap<NaiveDate, Vec<u32>>,
    hired: FxHashMap<LabelId, Vec<u32>>,
    royalties: FxHashMap<PatternId, Vec<u32>>,
    pub(crate) deposits_of: FxHashMap<LabelId, Vec<usize>>,
    credits: FxHashMap<LabelId, Fixed6>,
    /// Orders that an entry of any day sells or gives back; gathered where it is first asked.
    pub(crate) sold_some_day: Option<FxHashSet<LabelId>>,
    /// The time of each helper on any day; gathered where it is first asked.
    hired_some_day: Option<BTreeMap<LabelId, Vec<HiredTime>>>,
}

impl Owed {
    /// Adds a bill; gives its index.
    pub(crate) fn add(&mut self, bill: Bill) -> u32 {
        let at = u32::try_from(self.bills.len()).unwrap_or(u32::MAX);
        self.bills.push(bill);
        at
    }

    pub(crate) fn know_receipt(&mut self, party: Option<LabelId>, receipt: Option<LabelId>, day: NaiveDate, bill: u32) {
        if let Some(receipt) = receipt {
            self.by_receipt.entry((party, receipt)).or_default().push(bill);
        }
        self.by_day.entry((party, day)).or_default().push(bill);
    }

    /// What a buyer or channel owes is known by its order, or else by the day of the sale.
    pub(crate) fn know_order(&mut self, order: Option<LabelId>, day: NaiveDate, bill: u32) {
        match order {
            Some(order) => self.by_order.entry(order).or_default().push(bill),
            None => self.by_day_of_sale.entry(day).or_default().push(bill),
        }
    }

    pub(crate) fn know_hired(&mut self, name: LabelId, bill: u32) {
        self.hired.entry(name).or_default().push(bill);
    }

    pub(crate) fn know_royalty(&mut self, pattern: PatternId, bill: u32) {
        self.royalties.entry(pattern).or_default().push(bill);
    }

    pub(crate) fn bills_of_receipt(&self, party: LabelId, receipt: LabelId) -> Vec<u32> {
        self.by_receipt.get(&(Some(party), receipt)).map(|bills| bills.to_vec()).unwrap_or_default()
    }

    pub(crate) fn bills_of_order(&self, order: LabelId) -> &[u32] {
        self.by_order.get(&order).map_or(&[], FewBills::as_slice)
    }

    /// The receipts of a supplier that are not all paid.
    pub(crate) fn open_receipts(&self, party: LabelId) -> impl Iterator<Item = LabelId> {
        let of_party = self.by_receipt.iter().filter(move |((whose, _), _)| *whose == Some(party));
        of_party.filter(|(_, bills)| self.any_open(bills)).map(|((_, receipt), _)| *receipt)
    }

    /// The days of a supplier's purchases that are not all paid.
    pub(crate) fn open_days(&self, party: LabelId) -> impl Iterator<Item = NaiveDate> {
        let of_party = self.by_day.iter().filter(move |((whose, _), _)| *whose == Some(party));
        of_party.filter(|(_, bills)| self.any_open(bills)).map(|((_, day), _)| *day)
    }

    /// The orders that are not all paid, each with its first bill.
    pub(crate) fn open_orders(&self) -> impl Iterator<Item = (LabelId, &Bill)> {
        let open = self.by_order.iter().filter(|(_, bills)| self.any_open(bills));
        open.filter_map(|(order, bills)| Some((*order, self.bills.get(*bills.first()? as usize)?)))
    }

    /// The suppliers who have a receipt of this number.
    pub(crate) fn suppliers_of(&self, receipt: LabelId) -> impl Iterator<Item = LabelId> {
        self.by_receipt.keys().filter(move |(_, one)| *one == receipt).filter_map(|(whose, _)| *whose)
    }

    fn any_open(&self, bills: &[u32]) -> bool {
        bills.iter().any(|bill| self.open(*bill).is_ok_and(|open| open.is_positive()))
    }

    /// What is still open on a bill, all payments counted, dated later too.
    pub(crate) fn open(&self, bill: u32) -> Costed<Fixed6> {
        let bill = &self.bills[bill as usize];
        bill.paid.iter().try_fold(bill.total, |open, (_, paid)| open.checked_sub(*paid)).or_fault()
    }

    /// Settles bills as named, each up to what is open; gives what is left of the money.
    fn fill(&mut self, bills: &[u32], mut money: Fixed6, day: NaiveDate) -> Costed<Fixed6> {
        for at in bills {
            let part = self.open(*at)?.min(money);
            if part.is_positive() {
                self.bills[*at as usize].paid.push((day, part));
                money = money.checked_sub(part).or_fault()?;
            }
        }
        Ok(money)
    }

    /// Remembers that a supplier owes money for goods sent back.
    pub(crate) fn credit(&mut self, supplier: LabelId, money: Fixed6) -> Costed<()> {
        let credit = self.credits.entry(supplier).or_default();
        *credit = credit.checked_add(money).or_fault()?;
        Ok(())
    }
}

impl Engine<'_> {
    /// Settles a bill as its entry says.
    pub(crate) fn settle(&mut self, bill: u32, settlement: &Settlement) -> Costed<()> {
        self.owed.bills[bill as usize].available = settlement.available;
        self.owed.bills[bill as usize].paid.reserve_exact(settlement.payments.len());
        for payment in &settlement.payments {
            let open = self.owed.open(bill)?;
            let money = payment.money.unwrap_or(open);
            if money > open {
                let told = errors::more_than_owed(self, money, open, payment.span, self.owed.bills[bill as usize].line);
                let told = errors::settling::with_reckoning(told, self, bill);
                self.found.push(told);
                return Err(Fault::Told);
            }
            if !money.is_zero() {
                self.owed.bills[bill as usize].paid.push((payment.date, money));
            }
        }
        self.owed.bills[bill as usize].paid.sort_by_key(|(day, _)| *day);
        Ok(())
    }

    /// Uses what a supplier owes for goods sent back.
    pub(crate) fn use_credit(&mut self, supplier: Option<LabelId>, money: Fixed6) -> Costed<()> {
        let there = supplier.and_then(|supplier| self.owed.credits.get(&supplier).copied()).unwrap_or_default();
        if money > there {
            let told = errors::no_such_credit(self, supplier, money, there);
            self.found.push(told);
            return Err(Fault::Told);
        }
        if let Some(supplier) = supplier {
            self.owed.credits.insert(supplier, there.checked_sub(money).or_fault()?);
        }
        Ok(())
    }

    pub(crate) fn cost_paid(&mut self, paid: &Paid) -> Costed<()> {
        let mut expenses = Fixed6::ZERO;
        for line in &paid.lines {
            if matches!(line.what, PaidFor::Expense { .. }) {
                expenses = expenses.checked_add(line.money).or_fault()?;
            }
        }
        let on_the_day = matches!(paid.settlement.payments.as_slice(), [one] if one.money.is_none() && one.date == self.now.date);
        let mut bill = None;
        if !on_the_day && !expenses.is_zero() {
            let at = self.owed.add(Bill {
                party: Some(paid.to),
                reference: paid.receipt,
                ..Bill::new(BillKind::OwedByUs, self.now, expenses)
            });
            self.owed.know_receipt(Some(paid.to), paid.receipt, self.now.date, at);
            self.settle(at, &paid.settlement)?;
            bill = Some(at);
        }
        for line in &paid.lines {
            self.cost_paid_line(paid, line, bill)?;
        }
        Ok(())
    }

    fn cost_paid_line(&mut self, paid: &Paid, line: &PaidLine, bill: Option<u32>) -> Costed<()> {
        let date = self.now.date;
        match &line.what {
            PaidFor::Expense { expense, on, meant_for } => {
                let to = PostedTo { line: line.span, on: *on, bill, meant_for: *meant_for, ..PostedTo::default() };
                self.ledger.post(self.now, Account::Expense(*expense), line.money, to)?;
                Ok(())
            }
            PaidFor::Receipt(receipt) => {
                let bills = self.owed.bills_of_receipt(paid.to, *receipt);
                self.pay_named(&bills, line, |engine| errors::settling::receipt_not_owed(engine, paid.to, *receipt, line.named))
            }
            PaidFor::BoughtOn(day) => {
                let bills = self.owed.by_day.get(&(Some(paid.to), *day)).cloned().unwrap_or_default();
                self.pay_named(&bills, line, |engine| errors::settling::day_not_owed(engine, paid.to, *day, line.named))
            }
            PaidFor::SalesTax { to, allowed } => {
                for (flow, money) in [(TaxFlow::PaidOver, line.money), (TaxFlow::Allowed, *allowed)] {
                    if !money.is_zero() {
                        self.taxes.push(TaxItem { date, event: self.now.event, to: *to, flow, money, bill: None, order: None });
                    }
                }
                let to = PostedTo { line: line.span, ..PostedTo::default() };
                self.ledger.post(self.now, Account::TaxAllowance, *allowed, to)?;
                Ok(())
            }
            PaidFor::Helper { name, .. } => {
                let bills = self.owed.hired.get(name).cloned().unwrap_or_default();
                if bills.is_empty() && self.owed.hired_some_day.is_none() {
                    self.owed.hired_some_day = Some(hired_times(&self.log.events));
                }
                self.pay_named(&bills, line, |engine| {
                    let times = engine.owed.hired_some_day.as_ref().and_then(|times| times.get(name));
                    errors::settling::helper_not_owed(engine, *name, line, times.map_or(&[], Vec::as_slice))
                })
            }
            PaidFor::Royalty(pattern) => {
                let bills = self.owed.royalties.get(pattern).cloned().unwrap_or_default();
                self.pay_named(&bills, line, |engine| errors::settling::royalty_not_owed(engine, *pattern, line.named))
            }
        }
    }

    /// Pays what a line names; `none` says what is told where there is no such bill.
    fn pay_named(&mut self, bills: &[u32], line: &PaidLine, none: impl Fn(&Self) -> Diagnostic) -> Costed<()> {
        if bills.is_empty() && line.money.is_positive() {
            let told = none(self);
            self.found.push(told);
            return Ok(());
        }
        self.pay_bills(bills, line.money, line.span)
    }

    fn pay_bills(&mut self, bills: &[u32], money: Fixed6, line: Span) -> Costed<()> {
        let left = self.owed.fill(bills, money, self.now.date)?;
        if let Some(last) = bills.last().filter(|_| left.is_positive()) {
            let open = money.checked_sub(left).or_fault()?;
            let told = errors::more_than_owed(self, money, open, line, self.owed.bills[*last as usize].line);
            let told = errors::settling::with_reckoning(told, self, *last);
            let told = if open.is_zero() { errors::settling::with_payments(told, self, *last) } else { told };
            self.found.push(told);
        }
        Ok(())
    }

    /// Money that reached the shop for orders that were sold before: fills them as named.
    pub(crate) fn receive_for(&mut self, bills: &[u32], money: Fixed6, line: Span) -> Costed<()> {
        self.pay_bills(bills, money, line)
    }

    /// The sales of a day, without an order, that somebody pays for: the channel that they went through, or their buyer. Who pays
    /// `via` a channel may be a buyer whom the sale didn't name.
    pub(crate) fn sales_paid_by(&mut self, day: NaiveDate, received: &Received, line: Span) -> Costed<Vec<u32>> {
        let of_day = self.owed.by_day_of_sale.get(&day).map_or(&[][..], Vec::as_slice);
        let payer = self.book.label(received.from);
        let is_theirs = |at: &u32| {
            let bill = &self.owed.bills[*at as usize];
            let is_buyer = bill.party == Some(received.from);
            match received.via {
                Some(via) => bill.channel == Some(via) && (is_buyer || bill.party.is_none()),
                None => is_buyer || bill.channel.is_some_and(|channel| self.book.channel(channel).named.name == payer),
            }
        };
        let theirs: Vec<u32> = of_day.iter().copied().filter(is_theirs).collect();
        if theirs.is_empty() {
            let others: Vec<Span> = of_day.iter().map(|bill| self.owed.bills[*bill as usize].line).collect();
            let told = errors::no_such_sale(self, day, received.from, &others, line);
            self.found.push(told);
            return Err(Fault::Told);
        }
        Ok(theirs)
    }
}
