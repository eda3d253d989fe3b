//! Goods back to a supplier, and a supplier's credit on goods.
//!
//! What is refunded lowers what was bought; where it differs from the goods' cost, the difference is a named price difference in the
//! cost of goods sold. Without `lot` or `receipt` the newest lot from that supplier goes back or is credited. Of a credit, the part
//! for goods already gone is a price difference of its day.

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::issue::Issued;
use crate::costing::ledger::About;
use crate::costing::shelf::Wanted;
use crate::costing::{Component, CostVector, Flow, LotOrigin};
use crate::events::{Bought, Credited, EventKind, SentBack, SentBackLine, StockLine};
use crate::names::{LabelId, PlaceId, ThingId};
use crate::sources::Span;
use crate::units::{Fixed6, Weights, checked_add_exact, checked_sub_exact};

/// A purchase of a thing: the event, how much came of it, and its bill.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Purchase {
    event: u32,
    quantity: Decimal,
    bill: Option<u32>,
    /// The purchase before it.
    before: Option<u32>,
}

/// The last purchase of a thing from a supplier, of any receipt and of each.
pub(crate) type LastPurchases = FxHashMap<(LabelId, ThingId, Option<LabelId>), Purchase>;

/// From whom goods came.
#[derive(Clone, Copy)]
pub(crate) struct Seller {
    pub(crate) supplier: LabelId,
    /// Of this receipt only.
    pub(crate) receipt: Option<LabelId>,
}

impl Engine<'_> {
    fn purchase_of(&self, origin: &LotOrigin) -> Option<&Bought> {
        match self.log.events.get(origin.event as usize).map(|event| &event.kind) {
            Some(EventKind::Bought(bought)) => Some(bought),
            _ => None,
        }
    }

    fn came_from(&self, origin: &LotOrigin, seller: Seller) -> bool {
        self.purchase_of(origin).is_some_and(|bought| {
            bought.supplier == Some(seller.supplier) && (seller.receipt.is_none() || bought.receipt == seller.receipt)
        })
    }

    /// The newest lot of a seller at a place.
    fn newest_lot_from(&self, thing: ThingId, place: PlaceId, seller: Seller) -> Option<LotOrigin> {
        let shelf = &self.shelves[self.shelf_at(thing, place)];
        shelf.lots().rev().map(|lot| lot.origin).find(|origin| self.came_from(origin, seller))
    }

    pub(crate) fn cost_sent_back(&mut self, sent_back: &SentBack) -> Costed<()> {
        let mut weights = Vec::with_capacity(sent_back.lines.len());
        for line in &sent_back.lines {
            weights.push(line.refunded.to_decimal().or_fault()?);
        }
        let mut taxes = vec![Fixed6::ZERO; sent_back.lines.len()];
        if !sent_back.sales_tax.is_zero() {
            Weights::new(&weights)?.split(sent_back.sales_tax, &mut taxes)?;
        }
        for (line, tax) in sent_back.lines.iter().zip(taxes) {
            let refund = line.refunded.checked_add(tax).or_fault()?;
            self.send_back_line(sent_back, line, refund)?;
        }
        Ok(())
    }

    fn send_back_line(&mut self, sent_back: &SentBack, line: &SentBackLine, refund: Fixed6) -> Costed<()> {
        let goods = &line.goods;
        let seller = Seller { supplier: sent_back.supplier, receipt: sent_back.receipt };
        let issued = if goods.lot.is_some() {
            self.issue_line(goods, sent_back.place)?
        } else {
            self.issue_from_seller(goods, sent_back.place, seller)?
        };
        self.check_refund(&issued, refund, line)?;
        let component = Component::of_goods(self.book.thing(goods.thing).kind);
        let mut lowered = CostVector::of(component, refund.checked_neg().or_fault()?);
        self.mark_unpaid(&mut lowered);
        let mut difference = issued.vector;
        difference.add(&lowered).or_fault()?;
        let bill = self.settle_refund(seller, line, refund)?;
        let about = About {
            line: goods.span,
            thing: Some(goods.thing),
            quantity: goods.quantity,
            bill,
            issue: issued.traced,
            ..About::default()
        };
        self.ledger.flow(self.now, Flow::SentBack, &lowered, about)?;
        self.ledger.flow(self.now, Flow::PriceDifference, &difference, About { quantity: Decimal::ZERO, ..about })
    }

    /// A supplier may give back more or less than goods cost, but never more than the bills that brought them.
    fn check_refund(&mut self, issued: &Issued, refund: Fixed6, line: &SentBackLine) -> Costed<()> {
        let mut events: Vec<u32> = issued.pieces.iter().map(|piece| piece.lot.event).collect();
        events.sort_unstable();
        events.dedup();
        let mut bills = Fixed6::ZERO;
        for event in &events {
            let Some(EventKind::Bought(bought)) = self.log.events.get(*event as usize).map(|event| &event.kind) else {
                // Goods that no bill brought have no price to be held against.
                return Ok(());
            };
            bills = bills.checked_add(bought.total().or_fault()?).or_fault()?;
        }
        if refund <= bills {
            return Ok(());
        }
        let purchase =
            events.first().and_then(|event| self.log.events.get(*event as usize)).map_or(self.now.head, |event| event.head);
        let told = errors::more_than_the_bill(self, refund, bills, line.goods.span, purchase);
        self.found.push(told);
        Err(Fault::Told)
    }

    /// As credit: the supplier owes it. Else it lowers an open bill of that receipt, or is money back. Gives the bill that it lowered.
    fn settle_refund(&mut self, seller: Seller, line: &SentBackLine, refund: Fixed6) -> Costed<Option<u32>> {
        if line.as_credit {
            self.owed.credit(seller.supplier, refund)?;
            return Ok(None);
        }
        let Some(receipt) = seller.receipt else { return Ok(None) };
        for bill in self.owed.bills_of_receipt(seller.supplier, receipt) {
            if self.owed.open(bill)? >= refund {
                self.owed.bills[bill as usize].lower(self.now.date, refund).or_fault()?;
                return Ok(Some(bill));
            }
        }
        Ok(None)
    }

    /// Lowers the open bill of a purchase by a credit; gives the bill, or `None` where it is paid and the credit is money back.
    fn lower_open_bill(&mut self, bill: Option<u32>, money: Fixed6) -> Costed<Option<u32>> {
        let Some(bill) = bill else { return Ok(None) };
        if self.owed.open(bill)? < money {
            return Ok(None);
        }
        self.owed.bills[bill as usize].lower(self.now.date, money).or_fault()?;
        Ok(Some(bill))
    }

    fn issue_from_seller(&mut self, goods: &StockLine, place: PlaceId, seller: Seller) -> Costed<Issued> {
        let mut issued = Issued::default();
        let mut left = goods.quantity;
        while !left.is_zero() {
            let Some(origin) = self.newest_lot_from(goods.thing, place, seller) else {
                let found = checked_sub_exact(goods.quantity, left)?;
                let last = issued.pieces.last().and_then(|piece| self.log.events.get(piece.lot.event as usize));
                let told = errors::not_enough_from(self, goods, found, seller, last.map(|event| event.head));
                self.found.push(told);
                return Err(Fault::Told);
            };
            let shelf = self.shelf_at(goods.thing, place);
            let wanted = Wanted::Exactly(origin.number);
            let taken = self.shelves[shelf].available(wanted)?.min(left);
            for piece in self.shelves[shelf].take(taken, wanted)? {
                issued.vector.add(&piece.vector).or_fault()?;
                issued.pieces.push(piece);
            }
            left = checked_sub_exact(left, taken)?;
        }
        self.trace_issue(goods.thing, place, goods.span, &mut issued)?;
        Ok(issued)
    }

    pub(crate) fn cost_credited(&mut self, credited: &Credited) -> Costed<()> {
        let seller = Seller { supplier: credited.supplier, receipt: credited.receipt };
        for (money, thing, line) in &credited.lines {
            self.credit_line(seller, *money, *thing, *line)?;
        }
        Ok(())
    }

    fn credit_line(&mut self, seller: Seller, money: Fixed6, thing: ThingId, line: Span) -> Costed<()> {
        let component = Component::of_goods(self.book.thing(thing).kind);
        let last = self.purchases.get(&(seller.supplier, thing, seller.receipt)).copied();
        let Some(Purchase { event, quantity, bill, before }) = last else {
            let told = errors::never_bought_from(self, thing, seller, line);
            self.found.push(told);
            return Err(Fault::Told);
        };
        if let (None, Some(before)) = (seller.receipt, before) {
            self.tell_which_delivery(thing, seller.supplier, (event, before), line);
        }
        let bill = self.lower_open_bill(bill, money)?;
        let about = About { line, thing: Some(thing), bill, ..About::default() };
        let mut whole = CostVector::of(component, money.checked_neg().or_fault()?);
        self.mark_unpaid(&mut whole);
        self.ledger.flow(self.now, Flow::Credited, &whole, about)?;
        let first = thing.index() * self.book.places.len();
        let mut lots: Vec<(usize, LotOrigin)> = Vec::new();
        let mut weights: Vec<Decimal> = Vec::new();
        let mut gone = quantity;
        for at in first..first + self.book.places.len() {
            for lot in self.shelves[at].lots().filter(|lot| lot.origin.event == event) {
                lots.push((at, lot.origin));
                weights.push(lot.quantity);
                gone = checked_sub_exact(gone, lot.quantity)?;
            }
        }
        weights.push(gone);
        // What is there and what is gone share it, so that nothing is a price difference where all is there.
        let parts = whole.split(&weights)?;
        for ((at, lot), change) in lots.into_iter().zip(&parts) {
            if !self.shelves[at].change_value(lot.number, change)? {
                let told = errors::credit_above_cost(self, thing, money, line);
                self.found.push(told);
                return Err(Fault::Told);
            }
            if let (Some(trace), Ok(place)) = (&mut self.trace, u32::try_from(at - first)) {
                trace.move_piece(self.now, line, (thing, PlaceId(place)), (lot.number, Decimal::ZERO), change)?;
            }
        }
        let difference = parts.last().cloned().unwrap_or_default();
        self.ledger.flow(self.now, Flow::PriceDifference, &difference, about)
    }

    /// Remembers a purchase as the last of a thing from its supplier, with any receipt and with its own.
    pub(crate) fn remember_purchase(
        &mut self,
        bought: &Bought,
        thing: ThingId,
        quantity: Decimal,
        bill: Option<u32>,
    ) -> Costed<()> {
        let Some(supplier) = bought.supplier.filter(|_| self.asked_later.purchases) else { return Ok(()) };
        let event = self.now.event;
        let mut remember = |receipt| {
            let last = self.purchases.entry((supplier, thing, receipt)).or_insert(Purchase {
                event,
                quantity: Decimal::ZERO,
                bill,
                before: None,
            });
            if last.event != event {
                *last = Purchase { event, quantity: Decimal::ZERO, bill, before: Some(last.event) };
            }
            last.quantity = checked_add_exact(last.quantity, quantity)?;
            Costed::Ok(())
        };
        remember(None)?;
        if bought.receipt.is_some() { remember(bought.receipt) } else { Ok(()) }
    }
}
