//! Money back to a buyer.
//!
//! Costing rule 13: a refund or a fee back counts on its own day, in the group of its sale; where the order is still unpaid, it lowers
//! what is still to come. What comes back of several orders at once is shared by what is refunded for the goods of each, in the
//! currency's digits, or by their pieces where nothing is.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::errors::likely_of_sales as likely;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::PostedTo;
use crate::costing::sale_sums::{SaleSum, SalesOf, TaxesOfOrder, add_tax_to};
use crate::costing::{Account, TaxFlow, TaxItem};
use crate::events::{Returned, ReturnedLine};
use crate::names::{ChannelShare, ThingId};
use crate::sources::Span;
use crate::units::{Fixed6, Weights, checked_add_exact, part_of};

/// What of a return goes to one order.
#[derive(Clone, Debug, Default)]
pub(crate) struct Refund {
    order: u32,
    pieces: Decimal,
    /// For goods, line by line.
    goods: Vec<(ThingId, Fixed6, Span)>,
    /// Without goods, and for shipping; over all goods of the order.
    others: Vec<(Fixed6, Span)>,
    sales_tax: Fixed6,
    fee_back: Fixed6,
}

impl Refund {
    fn of_goods(&self) -> Costed<Fixed6> {
        Fixed6::checked_sum(self.goods.iter().map(|(_, money, _)| *money)).or_fault()
    }

    /// What the buyer gets, less the fee that comes back.
    fn money(&self) -> Costed<Fixed6> {
        let others = Fixed6::checked_sum(self.others.iter().map(|(money, _)| *money)).or_fault()?;
        let all = self.of_goods()?.checked_add(others).and_then(|sum| sum.checked_add(self.sales_tax));
        all.and_then(|sum| sum.checked_sub(self.fee_back)).or_fault()
    }
}

/// A return, order by order, in the order in which they are touched.
#[derive(Clone, Debug, Default)]
pub(crate) struct Refunds(Vec<Refund>);

impl Refunds {
    /// Adds a line whose pieces came from these orders.
    pub(crate) fn add(&mut self, line: &ReturnedLine, from: &[(u32, Decimal)], digits: u32) -> Costed<()> {
        let pieces: Vec<Decimal> = from.iter().map(|(_, pieces)| *pieces).collect();
        for ((order, pieces), money) in from.iter().zip(share(line.refunded, &pieces, digits)?) {
            let refund = self.of_order(*order);
            refund.pieces = checked_add_exact(refund.pieces, *pieces)?;
            refund.goods.push((line.thing, money, line.span));
        }
        Ok(())
    }

    fn of_order(&mut self, order: u32) -> &mut Refund {
        let at = self.0.iter().position(|refund| refund.order == order).unwrap_or_else(|| {
            self.0.push(Refund { order, ..Refund::default() });
            self.0.len() - 1
        });
        &mut self.0[at]
    }

    /// Each order's part of all that goes back; where no goods do, all is of the last.
    pub(crate) fn of_orders(mut self, returned: &Returned, last: u32, head: Span, digits: u32) -> Costed<Vec<Refund>> {
        if self.0.is_empty() {
            self.of_order(last);
        }
        let mut weights = Vec::with_capacity(self.0.len());
        for refund in &self.0 {
            weights.push(refund.of_goods()?.to_decimal().or_fault()?);
        }
        if weights.iter().all(Decimal::is_zero) {
            weights = self.0.iter().map(|refund| refund.pieces).collect();
        }
        for (money, line) in returned.refunds.iter().copied().chain([(returned.shipping, head)]) {
            for (refund, part) in self.0.iter_mut().zip(share(money, &weights, digits)?) {
                refund.others.push((part, line));
            }
        }
        let (taxes, fees) = (share(returned.sales_tax, &weights, digits)?, share(returned.fee_back, &weights, digits)?);
        for ((refund, tax), fee) in self.0.iter_mut().zip(taxes).zip(fees) {
            (refund.sales_tax, refund.fee_back) = (tax, fee);
        }
        Ok(self.0)
    }
}

/// A sum in parts of the currency's digits, of six where it has more itself; all of it where there is but one part.
fn share(money: Fixed6, weights: &[Decimal], digits: u32) -> Costed<Vec<Fixed6>> {
    if weights.len() == 1 {
        return Ok(vec![money]);
    }
    let mut parts = Vec::with_capacity(weights.len());
    let weights = Weights::new(weights)?;
    weights.split_at_digits(money, digits, &mut parts)?;
    if Fixed6::checked_sum(parts.iter().copied()) != Some(money) {
        weights.split(money, &mut parts)?;
    }
    Ok(parts)
}

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
    /// Posts what goes back of an order.
    pub(crate) fn refund(&mut self, returned: &Returned, refund: &Refund) -> Costed<()> {
        let (order, money_back) = (refund.order, refund.money()?);
        let mut lowered = self.lower_what_is_to_come(order, money_back)?;
        self.look_at_the_share(refund)?;
        let whole = lowered.bill.filter(|_| lowered.money == money_back);
        for (thing, refunded, line) in &refund.goods {
            for (part, bill) in lowered.split(*refunded)? {
                let to = self.posted_to(order, Some(*thing), *line, bill);
                self.ledger.post(self.now, Account::Refund, part, to)?;
            }
        }
        for (money, line) in &refund.others {
            for (part, bill) in lowered.split(*money)? {
                self.post_over_order(order, Account::Refund, part, *line, bill)?;
            }
        }
        // The fee comes back for the goods whose money goes back.
        match refund.of_goods()?.is_positive() {
            true => {
                let goods = refund.goods.iter().map(|(thing, money, _)| (*thing, *money)).collect();
                self.post_over_goods(goods, Account::FeeBack, refund.fee_back, (order, self.now.head, whole))?;
            }
            false => self.post_over_order(order, Account::FeeBack, refund.fee_back, self.now.head, whole)?,
        }
        for (to, tax) in self.tax_back(returned, order, refund.sales_tax)? {
            for (money, bill) in lowered.split(tax)? {
                if !money.is_zero() {
                    let channel = self.orders.accounts[order as usize].channel;
                    self.ledger.sales.add(order, channel, SaleSum::TaxBack, money)?;
                    self.ledger.sales.add_tax(order, to, money.checked_neg().or_fault()?)?;
                    let (date, event) = (self.now.date, self.now.event);
                    self.taxes.push(TaxItem { date, event, to, flow: TaxFlow::Refunded, money, bill, order: Some(order) });
                }
            }
        }
        Ok(())
    }

    /// Tells where a channel keeps its share of goods for which their buyer got money back: the refund is the maker's loss twice.
    fn look_at_the_share(&mut self, refund: &Refund) -> Costed<()> {
        let sale = &self.orders.accounts[refund.order as usize];
        let Some(channel) = sale.channel.filter(|_| refund.fee_back.is_zero()) else { return Ok(()) };
        let ChannelShare::Consignment(percent) = *self.book.channel(channel).share.on(sale.date) else { return Ok(()) };
        let goods = refund.of_goods()?;
        let share = part_of(goods, percent, Decimal::ONE_HUNDRED).or_fault()?.round_to(self.book.shop.currency.digits());
        if share.is_positive() {
            let told = likely::share_kept(self, channel, (goods, share));
            self.found.push(told);
        }
        Ok(())
    }

    /// Whose the sales tax is that goes back of an order: as the lines say, and where they don't, in proportion to what of the order's tax went
    /// where and is not back yet.
    fn tax_back(&self, returned: &Returned, order: u32, money: Fixed6) -> Costed<TaxesOfOrder> {
        let mut back = TaxesOfOrder::new();
        if money.is_zero() {
            return Ok(back);
        }
        let digits = self.book.shop.currency.digits();
        let weights = returned.taxes.iter().map(|(part, _)| part.to_decimal().or_fault()).collect::<Costed<Vec<_>>>()?;
        let parts = if money == returned.sales_tax {
            returned.taxes.iter().map(|(part, _)| *part).collect()
        } else {
            share(money, &weights, digits)?
        };
        let mut went = self.ledger.sales.taxes_of(order).to_vec();
        for ((_, to), part) in returned.taxes.iter().zip(&parts).filter(|((_, to), _)| to.is_some()) {
            back.push((*to, *part));
            if let Some((_, left)) = went.iter_mut().find(|(account, _)| account == to) {
                *left = left.checked_sub(*part).or_fault()?;
            }
        }
        went.retain(|(_, left)| left.is_positive());
        for ((_, _), part) in returned.taxes.iter().zip(&parts).filter(|((_, to), _)| to.is_none()) {
            if went.is_empty() {
                back.push((returned.tax_to, *part));
                continue;
            }
            let weights = went.iter().map(|(_, left)| left.to_decimal().or_fault()).collect::<Costed<Vec<_>>>()?;
            back.extend(went.iter().map(|(account, _)| *account).zip(share(*part, &weights, digits)?));
        }
        Ok(back)
    }

    /// No more can go back than came. Where tax is within the prices, who gives back the price may write it as one sum.
    pub(crate) fn check_what_goes_back(&mut self, returned: &Returned, last: u32) -> Costed<()> {
        let of = match (returned.order, returned.channel) {
            (None, Some(channel)) => SalesOf::Channel(channel),
            _ => SalesOf::Order(last),
        };
        let sales = &self.ledger.sales;
        let tax_left = sales.left(of, SaleSum::Tax, SaleSum::TaxBack)?;
        let money_left = sales.left(of, SaleSum::Charged, SaleSum::Refunded)?.checked_add(tax_left).or_fault()?;
        let fees_left = sales.left(of, SaleSum::Fees, SaleSum::FeesBack)?;
        let all_back = returned.back_to_the_buyer().or_fault()?;
        let gone = [
            (SaleSum::TaxBack, returned.sales_tax, tax_left),
            (SaleSum::Refunded, all_back, money_left),
            (SaleSum::FeesBack, returned.fee_back, fees_left),
        ];
        // Of each account no more goes back than went there with the order.
        let named = returned.taxes.iter().filter(|(_, to)| to.is_some() && returned.order.is_some());
        let mut by_account = TaxesOfOrder::new();
        for (money, to) in named {
            add_tax_to(&mut by_account, *to, *money)?;
        }
        let went = sales.taxes_of(last);
        let of_accounts = by_account.into_iter().map(|(to, money)| {
            let most = went.iter().find(|(account, _)| *account == to).map_or(Fixed6::ZERO, |(_, left)| *left);
            (SaleSum::TaxBack, money, most)
        });
        let gone: Vec<_> = gone.into_iter().chain(of_accounts).collect();
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

    /// Where an order is still unpaid, a refund lowers what is still to come, as far as that goes; the rest is paid out.
    fn lower_what_is_to_come(&mut self, order: u32, money: Fixed6) -> Costed<Lowered> {
        let Some(bill) = self.orders.accounts[order as usize].bill else { return Ok(Lowered::default()) };
        let lowered = self.owed.open(bill)?.min(money);
        if !lowered.is_positive() {
            return Ok(Lowered::default());
        }
        self.owed.bills[bill as usize].lower(self.now.date, lowered).or_fault()?;
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
        let lines = self.orders.accounts[order as usize].lines.iter().map(|line| (line.thing, line.value)).collect();
        self.post_over_goods(lines, account, money, (order, line, bill))
    }

    /// A sum split over some goods of an order, each with its value.
    fn post_over_goods(
        &mut self,
        lines: Vec<(ThingId, Fixed6)>,
        account: Account,
        money: Fixed6,
        (order, line, bill): (u32, Span, Option<u32>),
    ) -> Costed<()> {
        if money.is_zero() {
            return Ok(());
        }
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
