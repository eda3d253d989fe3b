//! Orders: what was sold, and everything of an order split over its lines by value.
//!
//! Costing rule 10 (`DEVELOPERS.md`). Discount, shipping charged, postage and packing go over the goods, fees over
//! goods and incomes; the channel's share is rounded on its own, its fees are summed exactly and rounded once. Two `sold` entries
//! of one order are one order, whose fee per sale is charged once.

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::fees::Charged;
use crate::costing::ledger::{About, Now, PostedTo};
use crate::costing::sale_sums::SaleSum;
use crate::costing::{Account, Bill, BillKind, Flow, OrderAccount, OrderLine, TaxFlow, TaxItem};
use crate::events::{Received, ReceivedFor, ReceivedLine, Sold};
use crate::names::{ChannelId, LabelId};
use crate::sources::Span;
use crate::units::{Fixed6, Weights};

/// All orders, and how each is known.
#[derive(Debug, Default)]
pub(crate) struct OrderBook {
    pub(crate) accounts: Vec<OrderAccount>,
    by_label: FxHashMap<LabelId, u32>,
    /// Sales of a channel, the last at the end: for returns without an order.
    pub(crate) by_channel: FxHashMap<ChannelId, Vec<SaleOfOrder>>,
    /// What the buyers of an order pay besides its goods.
    pub(crate) beside_goods: FxHashMap<u32, BesideGoods>,
    /// What the buyers of a bill pay, before fees and share.
    pub(crate) gross_of_bill: FxHashMap<u32, Fixed6>,
}

impl OrderBook {
    pub(crate) fn find(&self, order: LabelId) -> Option<u32> {
        self.by_label.get(&order).copied()
    }
}

/// What the buyers of an order pay besides its goods; the tax may lie within their prices, and a channel may collect it.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct BesideGoods {
    pub(crate) shipping: Fixed6,
    pub(crate) tax: Fixed6,
}

/// One sale of an order: its lines from the first of that sale on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SaleOfOrder {
    pub(crate) order: u32,
    pub(crate) from_line: usize,
}

/// A line of an order as the splits see it.
#[derive(Clone, Copy, Debug)]
struct Weighed {
    to: PostedTo,
    value: Fixed6,
    /// The paid cost of goods; `None` of work.
    paid: Option<Fixed6>,
    /// How many pieces.
    quantity: Decimal,
    is_goods: bool,
}

impl Engine<'_> {
    pub(crate) fn cost_sold(&mut self, sold: &Sold) -> Costed<()> {
        let order = self.order_of(sold);
        if let Some(channel) = sold.channel.filter(|_| self.asked_later.returns) {
            // An order that goes on is the channel's last once more, with what is sold now.
            let from_line = self.orders.accounts[order as usize].lines.len();
            self.orders.by_channel.entry(channel).or_default().push(SaleOfOrder { order, from_line });
        }
        let mut weighed = Vec::with_capacity(sold.lines.len() + sold.incomes.len());
        for line in &sold.lines {
            let issued = self.issue(line.thing, sold.place, line.quantity, line.lot, line.span)?;
            let about = About {
                line: line.span,
                thing: Some(line.thing),
                quantity: line.quantity,
                order: Some(order),
                issue: issued.traced,
                ..About::default()
            };
            self.ledger.flow(self.now, Flow::Sold, &issued.vector, about)?;
            if self.asked_later.lines_sold {
                self.orders.accounts[order as usize].lines.push(OrderLine {
                    date: self.now.date,
                    span: line.span,
                    thing: line.thing,
                    quantity: line.quantity,
                    value: line.value,
                    brought: line.value,
                    pieces: issued.pieces,
                    returned: Decimal::ZERO,
                });
            }
            let to = PostedTo {
                line: line.span,
                thing: Some(line.thing),
                channel: sold.channel,
                order: Some(order),
                ..PostedTo::default()
            };
            let paid = Some(issued.vector.paid().or_fault()?);
            weighed.push(Weighed { to, value: line.value, paid, quantity: line.quantity, is_goods: true });
        }
        for line in &sold.incomes {
            let to = PostedTo { line: line.span, channel: sold.channel, on: line.on, order: Some(order), ..PostedTo::default() };
            weighed.push(Weighed { to, value: line.money, paid: None, quantity: Decimal::ONE, is_goods: false });
        }
        self.deal_with_place(sold.place);
        let charged = self.charge(sold, order)?;
        let bill = self.bill_of_sale(sold, order, &charged)?;
        for one in &mut weighed {
            one.to.bill = bill;
        }
        self.post_sale(sold, &weighed, &charged, bill, order)
    }

    fn order_of(&mut self, sold: &Sold) -> u32 {
        if let Some(known) = sold.order.and_then(|label| self.orders.find(label)) {
            return known;
        }
        let at = u32::try_from(self.orders.accounts.len()).unwrap_or(u32::MAX);
        self.orders.accounts.push(OrderAccount {
            order: sold.order,
            channel: sold.channel,
            buyer: sold.buyer,
            date: self.now.date,
            head: self.now.head,
            lines: Vec::with_capacity(if self.asked_later.lines_sold { sold.lines.len() } else { 0 }),
            bill: None,
        });
        if let Some(label) = sold.order {
            self.orders.by_label.insert(label, at);
        }
        at
    }

    fn bill_of_sale(&mut self, sold: &Sold, order: u32, charged: &Charged) -> Costed<Option<u32>> {
        if sold.channel.is_none() {
            return Ok(None);
        }
        let net = charged
            .total
            .checked_sub(charged.fees_now)
            .and_then(|net| net.checked_sub(charged.fees_before))
            .and_then(|net| net.checked_sub(charged.share))
            .or_fault()?;
        if let Some((settled, line)) = sold.settled
            && settled != net
        {
            let told = errors::settled_differs(self, settled, net, charged, line);
            self.found.push(told);
            return Err(Fault::Told);
        }
        let deposits = sold.order.map(|label| self.owed.take_deposits(label)).unwrap_or_default();
        let at = self.owed.add(Bill {
            party: sold.buyer,
            channel: sold.channel,
            reference: sold.order,
            ..Bill::new(BillKind::OwedToUs, self.now, net)
        });
        self.owed.know_order(sold.order, self.now.date, at);
        self.orders.gross_of_bill.insert(at, charged.total);
        self.orders.accounts[order as usize].bill.get_or_insert(at);
        let mut open = net;
        for deposit in &deposits {
            if deposit.money > open {
                let told = errors::deposit_above_sale(self, (deposit.money, open), deposit.order, deposit.line);
                self.found.push(told);
                return Err(Fault::Told);
            }
            open = open.checked_sub(deposit.money).or_fault()?;
            self.owed.bills[at as usize].paid.push((deposit.date, deposit.money));
        }
        self.settle(at, &sold.settlement)?;
        Ok(Some(at))
    }

    fn post_sale(&mut self, sold: &Sold, lines: &[Weighed], charged: &Charged, bill: Option<u32>, order: u32) -> Costed<()> {
        let taxes_within = Fixed6::checked_sum(sold.taxes.iter().filter(|tax| tax.included).map(|tax| tax.money)).or_fault()?;
        let any_goods = lines.iter().any(|line| line.is_goods);
        let goods = |line: &Weighed| line.is_goods || !any_goods;
        // A discount is of goods; only what is more than they are worth is of the work.
        let worth = Fixed6::checked_sum(lines.iter().filter(|line| goods(line)).map(|line| line.value)).or_fault()?;
        let of_goods = shares(lines, sold.discount.min(worth), goods)?;
        let of_work = shares(lines, sold.discount.checked_sub(sold.discount.min(worth)).or_fault()?, |line| !goods(line))?;
        let mut discounted = lines.to_vec();
        for ((line, goods), work) in discounted.iter_mut().zip(of_goods).zip(of_work) {
            line.value = line.value.checked_sub(goods).and_then(|value| value.checked_sub(work)).or_fault()?;
        }
        if self.asked_later.lines_sold {
            let kept = &mut self.orders.accounts[order as usize].lines;
            let of_sale = kept.len().saturating_sub(sold.lines.len());
            for (line, one) in kept[of_sale..].iter_mut().zip(&discounted) {
                line.brought = one.value;
            }
        }
        self.note_beside_goods(sold, order)?;
        // Tax within prices lies in what was charged.
        let tax_shares = shares(&discounted, taxes_within, |_| true)?;
        for (at, line) in discounted.iter().enumerate() {
            let net = line.value.checked_sub(tax_shares[at]).or_fault()?;
            let account = match (line.is_goods, sold.incomes.get(at.wrapping_sub(sold.lines.len()))) {
                (false, Some(income)) => Account::Income(income.income),
                _ => Account::Goods,
            };
            self.ledger.post(self.now, account, net, line.to)?;
            if let (Some(thing), Some(paid)) = (line.to.thing, line.paid) {
                self.tell_below_cost((thing, line.quantity), net, paid, line.to.line);
            }
        }
        let deposit_fee = charged.fees_before;
        let fees = charged.fees_now.checked_add(deposit_fee).or_fault()?;
        let mut packed = Fixed6::ZERO;
        for line in &sold.packing {
            let place = self.book.shop.home.unwrap_or(sold.place);
            packed = packed.checked_add(self.pack(line, place, Some(order))?).or_fault()?;
        }
        let everything = |_: &Weighed| true;
        self.post_shares(lines, Account::ShippingCharged, sold.shipping, goods)?;
        self.post_shares(lines, Account::Fee, fees, everything)?;
        self.post_shares(lines, Account::Commission, charged.share, goods)?;
        let by_us: Vec<Weighed> = lines.iter().map(|line| Weighed { to: PostedTo { bill: None, ..line.to }, ..*line }).collect();
        self.post_shares(&by_us, Account::Postage, sold.postage, goods)?;
        self.post_shares(&by_us, Account::Packing, packed, goods)?;
        let whole = PostedTo { line: self.now.head, channel: sold.channel, order: Some(order), ..PostedTo::default() };
        if !deposit_fee.is_zero() {
            // The deposit's fee counted on its own day; here it only moves from the order to its lines.
            self.ledger.post(self.now, Account::Fee, deposit_fee.checked_neg().or_fault()?, whole)?;
            self.ledger.sales.add(order, sold.channel, SaleSum::Fees, deposit_fee)?;
        }
        self.ledger.post(self.now, Account::TillOver, sold.tender.over, whole)?;
        for tax in &sold.taxes {
            let flow = if tax.by_channel { TaxFlow::ByChannel } else { TaxFlow::Collected };
            if !tax.by_channel {
                self.ledger.sales.add(order, sold.channel, SaleSum::Tax, tax.money)?;
                self.ledger.sales.add_tax(order, tax.to, tax.money)?;
            }
            let (date, event) = (self.now.date, self.now.event);
            self.taxes.push(TaxItem { date, event, to: tax.to, flow, money: tax.money, bill, order: Some(order) });
        }
        Ok(())
    }

    /// Remembers what the buyers of an order pay besides its goods, where any may come back.
    fn note_beside_goods(&mut self, sold: &Sold, order: u32) -> Costed<()> {
        if self.asked_later.returns && !(sold.shipping.is_zero() && sold.taxes.is_empty()) {
            let beside = self.orders.beside_goods.entry(order).or_default();
            beside.shipping = beside.shipping.checked_add(sold.shipping).or_fault()?;
            for tax in &sold.taxes {
                beside.tax = beside.tax.checked_add(tax.money).or_fault()?;
            }
        }
        Ok(())
    }

    fn post_shares(&mut self, lines: &[Weighed], account: Account, sum: Fixed6, to: impl Fn(&Weighed) -> bool) -> Costed<()> {
        if sum.is_zero() {
            return Ok(());
        }
        let parts = shares(lines, sum, to)?;
        let now: Now = self.now;
        for (line, part) in lines.iter().zip(parts) {
            self.ledger.post(now, account, part, line.to)?;
        }
        Ok(())
    }

    pub(crate) fn cost_received(&mut self, received: &Received) -> Costed<()> {
        for line in &received.lines {
            match &line.what {
                ReceivedFor::Income(income) => {
                    let to = PostedTo { line: line.span, channel: received.via, ..PostedTo::default() };
                    self.ledger.post(self.now, Account::Income(*income), line.money, to)?;
                }
                ReceivedFor::Orders(orders) => self.cost_received_for_orders(received, line, orders)?,
                ReceivedFor::SoldOn(day) => {
                    let bills = self.sales_paid_by(*day, received, line.span)?;
                    self.settle_sales(received, line, &bills)?;
                }
            }
        }
        Ok(())
    }

    fn cost_received_for_orders(&mut self, received: &Received, line: &ReceivedLine, orders: &[(LabelId, Span)]) -> Costed<()> {
        let unsold = orders.iter().find(|(order, _)| self.owed.bills_of_order(*order).is_empty());
        if let Some(unsold) = unsold.filter(|_| orders.len() > 1) {
            let told = errors::settling::order_not_owed(self, received.from, *unsold, orders);
            self.found.push(told);
            return Err(Fault::Told);
        }
        let bills: Vec<u32> = orders.iter().flat_map(|(order, _)| self.owed.bills_of_order(*order)).copied().collect();
        if bills.is_empty() {
            return self.cost_deposit(received, line, orders);
        }
        self.settle_sales(received, line, &bills)
    }

    /// Settles what was sold before, as named. What a buyer paid `via` a channel settles that much less the channel's fees on it.
    fn settle_sales(&mut self, received: &Received, line: &ReceivedLine, bills: &[u32]) -> Costed<()> {
        let mut money = line.money;
        if received.via.is_some() {
            let fee = self.fee_on_payment(bills, money)?;
            money = money.checked_sub(fee).or_fault()?;
        }
        self.receive_for(bills, money, line.span)
    }
}

/// A sum over the lines that bear it, by value; equally where they have none. The parts sum to the whole.
fn shares(lines: &[Weighed], sum: Fixed6, bears: impl Fn(&Weighed) -> bool) -> Costed<Vec<Fixed6>> {
    let mut parts = vec![Fixed6::ZERO; lines.len()];
    if sum.is_zero() {
        return Ok(parts);
    }
    let mut weights: Vec<Decimal> = Vec::with_capacity(lines.len());
    for line in lines {
        let value = if bears(line) { line.value.to_decimal().or_fault()? } else { Decimal::ZERO };
        weights.push(value);
    }
    if weights.iter().all(Decimal::is_zero) {
        for (weight, line) in weights.iter_mut().zip(lines) {
            *weight = if bears(line) { Decimal::ONE } else { Decimal::ZERO };
        }
    }
    if weights.is_empty() {
        return Err(Fault::NoWeight);
    }
    Weights::new(&weights)?.split(sum, &mut parts)?;
    Ok(parts)
}
