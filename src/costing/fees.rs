//! What a channel keeps of an order: its share, rounded on its own, and its fees, summed exactly and rounded once.
//!
//! `fee … of total` is of the order's total, `of goods` of the goods after discount, `of card` of what was paid by card. A
//! written `fee` replaces the channel's fees, never its share; an `extra fee` comes on top. Fees on a deposit `via` a channel are
//! fixed on its day, and the sale bears only the rest.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::PostedTo;
use crate::costing::{Account, Bill, Deposit};
use crate::events::{Received, ReceivedLine, Sold};
use crate::names::{ChannelId, ChannelShare, FeeRule, LabelId};
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact, mul_div_round, part_of};

/// What was charged on a sale.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Charged {
    /// The order's total: goods and incomes less discount, shipping and the tax that the shop charges.
    pub(crate) total: Fixed6,
    /// Fees of the whole sale less those on deposits.
    pub(crate) fees_now: Fixed6,
    /// Fees that deposits bore.
    pub(crate) fees_before: Fixed6,
    /// The consignee's share.
    pub(crate) share: Fixed6,
}

/// What fees are a part of.
#[derive(Clone, Copy, Debug)]
struct Bases {
    total: Fixed6,
    goods: Fixed6,
    card: Fixed6,
    pieces: Decimal,
    per_sale: bool,
}

impl Engine<'_> {
    pub(crate) fn charge(&mut self, sold: &Sold, order: u32) -> Costed<Charged> {
        let goods = Fixed6::checked_sum(sold.lines.iter().map(|line| line.value)).or_fault()?;
        let incomes = Fixed6::checked_sum(sold.incomes.iter().map(|line| line.money)).or_fault()?;
        let tax_on_top =
            Fixed6::checked_sum(sold.taxes.iter().filter(|tax| !tax.included && !tax.by_channel).map(|tax| tax.money))
                .or_fault()?;
        let before_discount = goods.checked_add(incomes).or_fault()?;
        if sold.discount > before_discount {
            // Told where the entry was read (K311); only an entry that was read in part leads here.
            return Err(Fault::Told);
        }
        let total = before_discount
            .checked_sub(sold.discount)
            .and_then(|sum| sum.checked_add(sold.shipping))
            .and_then(|sum| sum.checked_add(tax_on_top))
            .or_fault()?;
        let Some(channel) = sold.channel else { return Ok(Charged::default()) };
        let goods_net = goods.checked_sub(sold.discount.min(goods)).or_fault()?;
        let mut pieces = Decimal::ZERO;
        for line in &sold.lines {
            pieces = checked_add_exact(pieces, line.quantity)?;
        }
        let per_sale = self.orders.accounts[order as usize].bill.is_none();
        let bases = Bases { total, goods: goods_net, card: sold.tender.card.unwrap_or_default(), pieces, per_sale };
        let fees_before = match sold.order {
            Some(label) => self.owed.fees_on_open_deposits(label)?,
            None => Fixed6::ZERO,
        };
        let whole = match sold.fee {
            Some(fee) => fee,
            None => self.channel_fees(channel, bases)?,
        };
        let fees_now = whole.checked_add(sold.extra_fees).and_then(|sum| sum.checked_sub(fees_before)).or_fault()?;
        let share = match self.book.channel(channel).share.on(self.now.date) {
            ChannelShare::Consignment(percent) => self.percent_of(goods_net, *percent)?,
            ChannelShare::None | ChannelShare::Wholesale(_) => Fixed6::ZERO,
        };
        Ok(Charged { total, fees_now, fees_before, share })
    }

    /// A part of a hundred, rounded to the currency's digits.
    fn percent_of(&self, base: Fixed6, percent: Decimal) -> Costed<Fixed6> {
        let base = base.to_decimal().or_fault()?;
        let exact = checked_mul_exact(base, percent)?;
        let hundredth = checked_mul_exact(exact, Decimal::new(1, 2))?;
        Ok(crate::units::line_total(hundredth, Decimal::ONE, self.book.shop.currency)?)
    }

    fn channel_fees(&self, channel: ChannelId, bases: Bases) -> Costed<Fixed6> {
        let hundredth = Decimal::new(1, 2);
        let mut sum = Decimal::ZERO;
        for rule in self.book.channel(channel).fees.on(self.now.date) {
            let (base, rate) = match rule {
                FeeRule::OfTotal(percent) => (bases.total.to_decimal().or_fault()?, checked_mul_exact(*percent, hundredth)?),
                FeeRule::OfGoods(percent) => (bases.goods.to_decimal().or_fault()?, checked_mul_exact(*percent, hundredth)?),
                FeeRule::OfCard(percent) => (bases.card.to_decimal().or_fault()?, checked_mul_exact(*percent, hundredth)?),
                FeeRule::PerSale(money) if bases.per_sale => (Decimal::ONE, *money),
                FeeRule::PerSale(_) => continue,
                FeeRule::PerItem(money) => (bases.pieces, *money),
            };
            sum = checked_add_exact(sum, checked_mul_exact(base, rate)?)?;
        }
        Ok(crate::units::line_total(sum, Decimal::ONE, self.book.shop.currency)?)
    }

    /// A deposit: money for an order that is not sold yet.
    pub(crate) fn cost_deposit(&mut self, received: &Received, line: &ReceivedLine, orders: &[(LabelId, Span)]) -> Costed<()> {
        // Of several orders one that was not sold has been told.
        let &[named] = orders else { return Err(Fault::Told) };
        self.tell_deposit_meant_for_another(received.from, named);
        let (order, _) = named;
        let mut fee = Fixed6::ZERO;
        if let Some(via) = received.via {
            let per_sale = !self.owed.has_deposits(order);
            let bases = Bases { total: line.money, goods: line.money, card: Fixed6::ZERO, pieces: Decimal::ZERO, per_sale };
            fee = self.channel_fees(via, bases)?;
            let to = PostedTo { line: line.span, channel: Some(via), ..PostedTo::default() };
            self.ledger.post(self.now, Account::Fee, fee, to)?;
        }
        let money = line.money.checked_sub(fee).or_fault()?;
        self.owed.deposit(Deposit {
            date: self.now.date,
            event: self.now.event,
            line: line.span,
            order,
            money,
            fee,
            used: false,
            handed_back: None,
        });
        Ok(())
    }

    /// The fee in what a buyer paid for an order that was sold before: its part of the fees and share that the sale bore.
    pub(crate) fn fee_on_payment(&mut self, bills: &[u32], money: Fixed6) -> Costed<Fixed6> {
        let mut gross = Fixed6::ZERO;
        let mut net = Fixed6::ZERO;
        for at in bills {
            let (bill, charged) = (&self.owed.bills[*at as usize], self.orders.gross_of_bill.get(at).copied());
            let (of_buyer, of_shop) = match charged {
                Some(charged) if bill.lowered.is_empty() => (charged, bill.total),
                Some(charged) => still_to_pay(bill, charged).or_fault()?,
                None => (bill.total, bill.total),
            };
            net = net.checked_add(of_shop).or_fault()?;
            gross = gross.checked_add(of_buyer).or_fault()?;
        }
        if gross.is_zero() || money > gross {
            return Ok(Fixed6::ZERO);
        }
        let part = part_of(net, money.to_decimal().or_fault()?, gross.to_decimal().or_fault()?).or_fault()?;
        money.checked_sub(part.round_to(self.book.shop.currency.digits())).or_fault()
    }
}

/// What a buyer has still to pay of a bill that was lowered, and what of it reaches the shop: each payment took its part of the
/// channel's fees along, and a refund takes off both alike. `None` on overflow.
fn still_to_pay(bill: &Bill, charged: Fixed6) -> Option<(Fixed6, Fixed6)> {
    let lowered = bill.lowered.iter().map(|(date, money)| (*date, *money, false));
    let mut changes: Vec<_> = lowered.chain(bill.paid.iter().map(|(date, money)| (*date, *money, true))).collect();
    changes.sort_by_key(|(date, ..)| *date);
    let at_first = Fixed6::checked_sum(bill.lowered.iter().map(|(_, money)| *money))?;
    let (mut gross, mut net) = (charged, bill.total.checked_add(at_first)?);
    for (_, money, paid) in changes {
        let of_buyer = match paid {
            true if !net.is_zero() => Fixed6::from_micros(mul_div_round(gross.micros(), money.micros(), net.micros())?),
            _ => money,
        };
        (gross, net) = (gross.checked_sub(of_buyer)?, net.checked_sub(money)?);
    }
    Some((gross, net))
}
