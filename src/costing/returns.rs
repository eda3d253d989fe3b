//! Goods back from a buyer; the money is in `refunds.rs`.
//!
//! Costing rule 10: a return brings back the very vector, the last lot of the line first unless a batch is named, and the last
//! return takes the rest; its lot keeps its old date. Returned and scrapped is a named loss.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::About;
use crate::costing::orders::SaleOfOrder;
use crate::costing::refunds::Refunds;
use crate::costing::shelf::Lot;
use crate::costing::{CostVector, Flow, Pieces};
use crate::events::{ReturnFate, Returned, ReturnedLine};
use crate::units::{checked_add_exact, checked_sub_exact};

impl Engine<'_> {
    pub(crate) fn cost_returned(&mut self, returned: &Returned) -> Costed<()> {
        if self.hand_back_deposits(returned)? {
            return Ok(());
        }
        let last = self.last_order_of_return(returned)?;
        self.check_that_something_was_sold(returned, last)?;
        let mut refunds = Refunds::default();
        for line in &returned.lines {
            let mut from = self.return_line(returned, line)?;
            self.tell_dearer_than_sold(returned, line, &from)?;
            if from.is_empty() {
                // Left with the buyer, and no more than money goes back; where nothing was sold, another line's pieces tell it.
                let Some(last) = last else { continue };
                from.push((last, line.quantity));
            }
            refunds.add(line, &from, self.book.shop.currency.digits())?;
        }
        let Some(last) = last else { return Ok(()) };
        self.tell_which_sale(returned);
        self.check_what_goes_back(returned, last)?;
        for refund in refunds.of_orders(returned, last, self.now.head, self.book.shop.currency.digits())? {
            self.refund(returned, &refund)?;
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

    /// Money that goes back through a channel is taken off a sale there: where there is none yet, it would stand nowhere. Pieces that come
    /// back of no sale are told one by one.
    fn check_that_something_was_sold(&mut self, returned: &Returned, last: Option<u32>) -> Costed<()> {
        let (None, Some(channel)) = (last, returned.channel) else { return Ok(()) };
        let stays = |line: &ReturnedLine| line.fate == ReturnFate::LeftWithBuyer;
        let money = returned.back_to_the_buyer().or_fault()?;
        let says_nothing = returned.lines.is_empty() && money.is_zero() && returned.fee_back.is_zero();
        if says_nothing || !returned.lines.iter().all(stays) {
            return Ok(());
        }
        let told = errors::nothing_sold_before(self, channel, money, returned);
        self.found.push(told);
        Err(Fault::Told)
    }

    /// Takes a line's pieces back from the sales in turn; gives the orders that they came from, and how many each.
    fn return_line(&mut self, returned: &Returned, line: &ReturnedLine) -> Costed<Vec<(u32, Decimal)>> {
        let mut left = line.quantity;
        let mut from = Vec::new();
        let mut nth = 0usize;
        while let Some(sale) = self.sale_of_return(returned, nth).filter(|_| !left.is_zero()) {
            nth = nth.saturating_add(1);
            let before = left;
            let taken = self.take_back(sale, line, &mut left)?;
            if !taken.is_empty() {
                from.push((sale.order, checked_sub_exact(before, left)?));
                self.bring_back(returned, line, sale.order, taken)?;
            }
        }
        if !left.is_zero() && line.fate != ReturnFate::LeftWithBuyer {
            let sold = checked_sub_exact(line.quantity, left)?;
            // What was short when it was sold was told there.
            if !self.was_short(line.thing) {
                let told = errors::more_back_than_sold(self, line, sold);
                self.found.push(told);
            }
            return Err(Fault::Told);
        }
        Ok(from)
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
        about.issue = self.track_pieces(line.span, shelf, &pieces, false)?;
        let back = About { quantity: -quantity, ..about };
        self.ledger.flow(self.now, Flow::Sold, &vector.negated().or_fault()?, back)?;
        if line.fate == ReturnFate::Scrapped {
            about.issue = self.track_pieces(line.span, shelf, &pieces, true)?;
            return self.ledger.flow(self.now, Flow::Scrapped, &vector, About { quantity, ..about });
        }
        for piece in pieces {
            let lot = Lot { origin: piece.lot, quantity: piece.quantity, vector: piece.vector };
            self.shelve(line.thing, returned.place, lot, line.span)?;
        }
        Ok(())
    }
}
