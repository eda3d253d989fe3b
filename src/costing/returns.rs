//! Goods and money back to a buyer.
//!
//! Costing rule 10: a return brings back the very vector, the last lot of the line first unless a batch is named, and the last
//! return takes the rest; its lot keeps its old date. Returned and scrapped is a named loss. A refund counts on its own day, in the group
//! of its sale; where the order is still unpaid, it lowers what is still to come.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::{About, PostedTo};
use crate::costing::orders::SaleOfOrder;
use crate::costing::sale_sums::{SaleSum, SalesOf};
use crate::costing::shelf::Lot;
use crate::costing::{Account, CostVector, Flow, Pieces, TaxFlow, TaxItem};
use crate::events::{ReturnFate, Returned, ReturnedLine};
use crate::names::ThingId;
use crate::sources::Span;
use crate::units::{Fixed6, Weights, checked_add_exact, checked_sub_exact};

/// How much of a return lowers what the buyer still owes.
#[derive(Clone, Copy, Debug, Default)]
struct Lowered {
    /// The bill that it lowers.
    bill: Option<u32>,
    /// By how much.
    money: Fixed6,
    /// How much of that no posting has taken yet; `None` where all of the return lowers the bill.
    left: Option<Fixed6>,
}

impl Lowered {
    /// A sum's part that lowers the bill, and the part that is paid out.
    fn split(&mut self, sum: Fixed6) -> Costed<[(Fixed6, Option<u32>); 2]> {
        let on_bill = match (self.bill, self.left) {
            (None, _) => Fixed6::ZERO,
            (Some(_), None) => sum,
            (Some(_), Some(left)) => left.min(sum),
        };
        if let Some(left) = &mut self.left {
            *left = left.checked_sub(on_bill).or_fault()?;
        }
        Ok([(on_bill, self.bill), (sum.checked_sub(on_bill).or_fault()?, None)])
    }
}

impl Engine<'_> {
    pub(crate) fn cost_returned(&mut self, returned: &Returned) -> Costed<()> {
        if self.hand_back_deposits(returned)? {
            return Ok(());
        }
        let last = self.last_order_of_return(returned)?;
        let mut money_back = Fixed6::checked_sum(returned.refunds.iter().map(|(money, _)| *money)).or_fault()?;
        money_back = money_back
            .checked_add(returned.shipping)
            .and_then(|sum| sum.checked_add(returned.sales_tax))
            .and_then(|sum| sum.checked_sub(returned.fee_back))
            .or_fault()?;
        let mut touched = last;
        let mut refunds: Vec<(u32, ThingId, Fixed6, Span)> = Vec::new();
        for line in &returned.lines {
            let Some(order) = self.return_line(returned, line)?.or(last) else { return Err(Fault::Told) };
            touched = Some(order);
            refunds.push((order, line.thing, line.refunded, line.span));
            money_back = money_back.checked_add(line.refunded).or_fault()?;
        }
        let (Some(order), Some(last)) = (touched, last) else { return Ok(()) };
        self.check_what_goes_back(returned, last)?;
        let mut lowered = self.lower_what_is_to_come(order, money_back)?;
        let whole = lowered.bill.filter(|_| lowered.money == money_back);
        for (order, thing, refunded, line) in refunds {
            for (part, bill) in lowered.split(refunded)? {
                let to = self.posted_to(order, Some(thing), line, bill);
                self.ledger.post(self.now, Account::Refund, part, to)?;
            }
        }
        let shipping = (returned.shipping, self.now.head);
        for (money, line) in returned.refunds.iter().copied().chain([shipping]) {
            for (part, bill) in lowered.split(money)? {
                self.post_over_order(order, Account::Refund, part, line, bill)?;
            }
        }
        self.post_over_order(order, Account::FeeBack, returned.fee_back, self.now.head, whole)?;
        for (money, bill) in lowered.split(returned.sales_tax)? {
            if !money.is_zero() {
                let channel = self.orders.accounts[order as usize].channel;
                self.ledger.sales.add(order, channel, SaleSum::TaxBack, money)?;
                self.taxes.push(TaxItem {
                    date: self.now.date,
                    event: self.now.event,
                    to: returned.tax_to,
                    flow: TaxFlow::Refunded,
                    money,
                    bill,
                });
            }
        }
        Ok(())
    }

    /// No more can go back than came. Where tax is within the prices, who gives back the price may write it as one sum.
    fn check_what_goes_back(&mut self, returned: &Returned, last: u32) -> Costed<()> {
        let of = match (returned.order, returned.channel) {
            (None, Some(channel)) => SalesOf::Channel(channel),
            _ => SalesOf::Order(last),
        };
        let lines = returned.lines.iter().map(|line| line.refunded);
        let refunds = lines.chain(returned.refunds.iter().map(|(money, _)| *money)).chain([returned.shipping]);
        let refunded = Fixed6::checked_sum(refunds).or_fault()?;
        let sales = &self.ledger.sales;
        let tax_left = sales.left(of, SaleSum::Tax, SaleSum::TaxBack)?;
        let money_left = sales.left(of, SaleSum::Charged, SaleSum::Refunded)?.checked_add(tax_left).or_fault()?;
        let fees_left = sales.left(of, SaleSum::Fees, SaleSum::FeesBack)?;
        let all_back = refunded.checked_add(returned.sales_tax).or_fault()?;
        let gone = [
            (SaleSum::TaxBack, returned.sales_tax, tax_left),
            (SaleSum::Refunded, all_back, money_left),
            (SaleSum::FeesBack, returned.fee_back, fees_left),
        ];
        for (what, money, most) in gone {
            let most = most.max(Fixed6::ZERO);
            if money > most {
                let sale = returned.order.map(|_| self.orders.accounts[last as usize].head);
                let told = errors::more_goes_back(self, what, money, most, sale);
                self.found.push(told);
                return Err(Fault::Told);
            }
        }
        Ok(())
    }

    /// The sales that a return may be of, the last first: the whole order that it names, or those of its channel. `None` after the last.
    fn sale_of_return(&self, returned: &Returned, nth: usize) -> Option<SaleOfOrder> {
        match (returned.order, returned.channel) {
            (Some(label), _) => {
                let order = self.orders.find(label).filter(|_| nth == 0)?;
                Some(SaleOfOrder { order, from_line: 0 })
            }
            (None, channel) => self.orders.by_channel.get(&channel?)?.iter().rev().nth(nth).copied(),
        }
    }

    /// The order of the last sale that a return may be of. A name that nothing was sold under is told once.
    fn last_order_of_return(&mut self, returned: &Returned) -> Costed<Option<u32>> {
        let last = self.sale_of_return(returned, 0).map(|sale| sale.order);
        if let (None, Some(label)) = (last, returned.order) {
            if self.told.insert(label) {
                let told = errors::no_such_order(self, label);
                self.found.push(told);
            }
            return Err(Fault::Told);
        }
        Ok(last)
    }

    /// Takes a line's pieces back from the sales in turn; gives the first order that they came from.
    fn return_line(&mut self, returned: &Returned, line: &ReturnedLine) -> Costed<Option<u32>> {
        let mut left = line.quantity;
        let mut first = None;
        let mut nth = 0usize;
        while let Some(sale) = self.sale_of_return(returned, nth).filter(|_| !left.is_zero()) {
            nth = nth.saturating_add(1);
            let taken = self.take_back(sale, line, &mut left)?;
            if !taken.is_empty() {
                first.get_or_insert(sale.order);
                self.bring_back(returned, line, sale.order, taken)?;
            }
        }
        if !left.is_zero() && line.fate != ReturnFate::LeftWithBuyer {
            let sold = checked_sub_exact(line.quantity, left)?;
            let told = errors::more_back_than_sold(self, line, sold);
            self.found.push(told);
            return Err(Fault::Told);
        }
        Ok(first)
    }

    /// Takes pieces back from a sale's lines, and from those of the order after them.
    fn take_back(&mut self, sale: SaleOfOrder, line: &ReturnedLine, left: &mut Decimal) -> Costed<Vec<Pieces>> {
        let wanted = self.wanted(line.lot);
        let lines = &mut self.orders.accounts[sale.order as usize].lines[sale.from_line..];
        let mut taken = Vec::new();
        for sold in lines.iter_mut().rev().filter(|sold| sold.thing == line.thing) {
            if line.fate == ReturnFate::LeftWithBuyer {
                let there = checked_sub_exact(sold.quantity, sold.returned)?.min(*left);
                sold.returned = checked_add_exact(sold.returned, there)?;
                *left = checked_sub_exact(*left, there)?;
                if !there.is_zero() {
                    taken.push(Pieces {
                        lot: crate::costing::LotOrigin {
                            date: sold.date,
                            number: 0,
                            code: None,
                            batch: None,
                            event: self.now.event,
                        },
                        quantity: there,
                        vector: CostVector::default(),
                    });
                }
                continue;
            }
            for at in (0..sold.pieces.len()).rev() {
                let piece = &mut sold.pieces[at];
                if left.is_zero() || !wanted.takes(&piece.lot) {
                    continue;
                }
                let quantity = piece.quantity.min(*left);
                let vector = piece.vector.take_part(quantity, piece.quantity).or_fault()?;
                piece.quantity = checked_sub_exact(piece.quantity, quantity)?;
                sold.returned = checked_add_exact(sold.returned, quantity)?;
                *left = checked_sub_exact(*left, quantity)?;
                taken.push(Pieces { lot: piece.lot, quantity, vector });
            }
            sold.pieces.retain(|piece| !piece.quantity.is_zero());
        }
        Ok(taken)
    }

    fn bring_back(&mut self, returned: &Returned, line: &ReturnedLine, order: u32, pieces: Vec<Pieces>) -> Costed<()> {
        if line.fate == ReturnFate::LeftWithBuyer {
            return Ok(());
        }
        let mut vector = CostVector::default();
        let mut quantity = Decimal::ZERO;
        for piece in &pieces {
            vector.add(&piece.vector).or_fault()?;
            quantity = checked_add_exact(quantity, piece.quantity)?;
        }
        let mut about = About { line: line.span, thing: Some(line.thing), order: Some(order), ..About::default() };
        let shelf = (line.thing, returned.place);
        if let Some(trace) = &mut self.trace {
            about.issue = trace.move_pieces(self.now, line.span, shelf, &pieces, false)?;
        }
        let back = About { quantity: -quantity, ..about };
        self.ledger.flow(self.now, Flow::Sold, &vector.negated().or_fault()?, back)?;
        if line.fate == ReturnFate::Scrapped {
            if let Some(trace) = &mut self.trace {
                about.issue = trace.move_pieces(self.now, line.span, shelf, &pieces, true)?;
            }
            return self.ledger.flow(self.now, Flow::Scrapped, &vector, About { quantity, ..about });
        }
        for piece in pieces {
            let lot = Lot { origin: piece.lot, quantity: piece.quantity, vector: piece.vector };
            self.shelve(line.thing, returned.place, lot, line.span)?;
        }
        Ok(())
    }

    /// Where an order is still unpaid, a refund lowers what is still to come, as far as that goes; the rest is paid out.
    fn lower_what_is_to_come(&mut self, order: u32, money: Fixed6) -> Costed<Lowered> {
        let Some(bill) = self.orders.accounts[order as usize].bill else { return Ok(Lowered::default()) };
        let lowered = self.owed.open(bill)?.min(money);
        if !lowered.is_positive() {
            return Ok(Lowered::default());
        }
        let bill_total = &mut self.owed.bills[bill as usize].total;
        *bill_total = bill_total.checked_sub(lowered).or_fault()?;
        // A fee given back with the whole makes the refunds larger than what they lower; they all belong to the bill then.
        let left = if lowered == money { None } else { Some(lowered) };
        Ok(Lowered { bill: Some(bill), money: lowered, left })
    }

    fn posted_to(&self, order: u32, thing: Option<ThingId>, line: Span, bill: Option<u32>) -> PostedTo {
        let channel = self.orders.accounts[order as usize].channel;
        PostedTo { line, thing, channel, order: Some(order), bill, ..PostedTo::default() }
    }

    /// A sum split over an order's goods by value.
    fn post_over_order(&mut self, order: u32, account: Account, money: Fixed6, line: Span, bill: Option<u32>) -> Costed<()> {
        if money.is_zero() {
            return Ok(());
        }
        let lines: Vec<(ThingId, Fixed6)> =
            self.orders.accounts[order as usize].lines.iter().map(|line| (line.thing, line.value)).collect();
        if lines.is_empty() {
            let to = self.posted_to(order, None, line, bill);
            self.ledger.post(self.now, account, money, to)?;
            return Ok(());
        }
        let mut weights = Vec::with_capacity(lines.len());
        for (_, value) in &lines {
            weights.push(value.to_decimal().or_fault()?);
        }
        if weights.iter().all(Decimal::is_zero) {
            weights.fill(Decimal::ONE);
        }
        let mut parts = Vec::new();
        Weights::new(&weights)?.split(money, &mut parts)?;
        for ((thing, _), part) in lines.into_iter().zip(parts) {
            let to = self.posted_to(order, Some(thing), line, bill);
            self.ledger.post(self.now, account, part, to)?;
        }
        Ok(())
    }
}
