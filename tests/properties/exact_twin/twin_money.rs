//! Rule 10 in money: revenue, shipping, fees, commission, postage and packing of an order over its lines by value; what is given back
//! on its own day; and the money of purchases and payments that is no stock.
//!
//! What is owed is rounded to the currency's digits where it arises. A part of a split may differ from its exact share by one millionth.

use kerfbook::costing::{Account, Component};
use kerfbook::events::{Paid, PaidFor, Received, ReceivedFor, Sold};
use kerfbook::names::{ChannelShare, FeeRule, LabelId, ThingId};
use kerfbook::units::Fixed6;
use num_traits::Zero;

use super::exact_number::{Exact, nothing, of_amount, of_decimal, rounded, share, whole};
use super::exact_vector::ExactVector;
use super::twin::Twin;

/// Money in an account, exactly.
#[derive(Clone, Debug)]
pub(crate) struct TwinPosting {
    pub(crate) event: u32,
    /// The order's index.
    pub(crate) order: Option<u32>,
    pub(crate) thing: Option<ThingId>,
    pub(crate) account: Account,
    pub(crate) money: Exact,
    /// By how many millionths the real part may differ.
    pub(crate) slack: Exact,
}

/// A line over which the sums of an order are split.
#[derive(Clone, Debug)]
pub(crate) struct ValuedLine {
    /// The thing; none for work without goods.
    pub(crate) thing: Option<ThingId>,
    pub(crate) value: Exact,
}

/// A deposit: what the channel's fees on it came to.
#[derive(Clone, Debug)]
pub(crate) struct TwinDeposit {
    pub(crate) order: LabelId,
    pub(crate) fee: Exact,
}

fn hundredths(percent: rust_decimal::Decimal) -> Exact {
    of_decimal(percent) / whole(100)
}

impl Twin<'_> {
    /// Money to the currency's digits.
    pub(crate) fn owed(&self, money: &Exact) -> Exact {
        rounded(money, self.book.shop.currency.digits())
    }

    /// Notes a sum that belongs to no order, or a part of one.
    pub(crate) fn post(&mut self, account: Account, order: Option<u32>, thing: Option<ThingId>, money: Exact, slack: Exact) {
        if !money.is_zero() {
            self.postings.push(TwinPosting { event: self.event, order, thing, account, money, slack });
        }
    }

    /// Notes a whole sum over lines by their value.
    pub(crate) fn post_over(&mut self, account: Account, order: u32, lines: &[ValuedLine], sum: &Exact) {
        let all: Exact = lines.iter().map(|line| line.value.clone()).sum();
        let slack = if lines.len() > 1 { whole(1) } else { nothing() };
        for line in lines {
            self.post(account, Some(order), line.thing, sum * share(&line.value, &all), slack.clone());
        }
    }

    /// The money of a sale. `order` is its index, `known` says that an earlier entry sold of it too, and `packing` is the cost of what it
    /// was packed with.
    pub(crate) fn sale_money(&mut self, sold: &Sold, order: u32, known: bool, packing: &ExactVector) -> Vec<ValuedLine> {
        let goods: Vec<ValuedLine> =
            sold.lines.iter().map(|line| ValuedLine { thing: Some(line.thing), value: of_amount(line.value) }).collect();
        let incomes = sold.incomes.iter().map(|line| ValuedLine { thing: None, value: of_amount(line.money) });
        let lines: Vec<ValuedLine> = goods.iter().cloned().chain(incomes).collect();
        let all: Exact = lines.iter().map(|line| line.value.clone()).sum();
        let discount = of_amount(sold.discount);
        let within: Exact = sold.taxes.iter().filter(|tax| tax.included).map(|tax| of_amount(tax.money)).sum();
        // A discount is of goods; tax within prices is a part of goods and work less discount.
        let of_goods: Exact = goods.iter().map(|line| line.value.clone()).sum();
        let split = |sum: &Exact, lines: usize| if sum.is_zero() || lines < 2 { nothing() } else { whole(1) };
        let slack = split(&discount, goods.len()) + split(&within, lines.len());
        for (at, line) in lines.iter().enumerate() {
            let income = at.checked_sub(goods.len());
            let off = if income.is_none() { &discount * share(&line.value, &of_goods) } else { nothing() };
            let charged = &line.value - off;
            let tax = &within * share(&charged, &(&all - &discount));
            let account = income.map_or(Account::Goods, |income| Account::Income(sold.incomes[income].income));
            self.post(account, Some(order), line.thing, charged - tax, slack.clone());
        }
        // What is shipped and packed are goods.
        let shipped = if goods.is_empty() { &lines } else { &goods };
        self.post_over(Account::ShippingCharged, order, shipped, &of_amount(sold.shipping));
        let fee = self.fee_of(sold, known);
        self.post_over(Account::Fee, order, &lines, &fee);
        // The lines bear all fees; those that a deposit fixed count already, so that the sale has only the rest.
        let fixed = self.deposits.iter().filter(|deposit| !known && Some(deposit.order) == sold.order);
        let fixed: Exact = fixed.map(|deposit| deposit.fee.clone()).sum();
        self.post(Account::Fee, Some(order), None, -fixed, nothing());
        self.post_over(Account::Commission, order, shipped, &self.commission_of(sold));
        self.post_over(Account::Postage, order, shipped, &of_amount(sold.postage));
        self.post(Account::TillOver, Some(order), None, of_amount(sold.tender.over), nothing());
        // The packing's cost has a slack of its own.
        let all: Exact = shipped.iter().map(|line| line.value.clone()).sum();
        for line in shipped {
            let part = share(&line.value, &all);
            let slack = &packing.slack * whole(5) + whole(1);
            self.post(Account::Packing, Some(order), line.thing, paid_cost(packing) * part, slack);
        }
        lines
    }

    /// The fees of a sale by its channel's rules, or as written, and what comes on top, rounded once.
    fn fee_of(&self, sold: &Sold, known: bool) -> Exact {
        let extra = of_amount(sold.extra_fees);
        if let Some(fee) = sold.fee {
            return of_amount(fee) + extra;
        }
        let Some(channel) = sold.channel else { return extra };
        let goods: Exact = sold.lines.iter().map(|line| of_amount(line.value)).sum::<Exact>();
        let work: Exact = sold.incomes.iter().map(|line| of_amount(line.money)).sum();
        let on_top: Exact =
            sold.taxes.iter().filter(|tax| !tax.included && !tax.by_channel).map(|tax| of_amount(tax.money)).sum();
        let discount = of_amount(sold.discount);
        let total = &goods + work - &discount + of_amount(sold.shipping) + on_top;
        let pieces: Exact = sold.lines.iter().map(|line| of_decimal(line.quantity)).sum();
        let mut fees = nothing();
        for rule in self.book.channel(channel).fees.on(self.date) {
            fees += match rule {
                FeeRule::OfTotal(percent) => hundredths(*percent) * &total,
                FeeRule::OfGoods(percent) => hundredths(*percent) * (&goods - &discount),
                FeeRule::OfCard(percent) => hundredths(*percent) * of_amount(sold.tender.card.unwrap_or(Fixed6::ZERO)),
                FeeRule::PerSale(money) if !known => of_decimal(*money),
                FeeRule::PerSale(_) => nothing(),
                FeeRule::PerItem(money) => of_decimal(*money) * &pieces,
            };
        }
        self.owed(&(fees + extra))
    }

    /// What a consignee keeps of its customers' prices, rounded on its own.
    fn commission_of(&self, sold: &Sold) -> Exact {
        let Some(channel) = sold.channel else { return nothing() };
        let ChannelShare::Consignment(percent) = self.book.channel(channel).share.on(self.date) else { return nothing() };
        let goods: Exact = sold.lines.iter().map(|line| of_amount(line.value)).sum();
        self.owed(&(hundredths(*percent) * (goods - of_amount(sold.discount))))
    }

    /// Payments of expenses, and the allowance kept of sales tax.
    pub(crate) fn paid(&mut self, paid: &Paid) {
        for line in &paid.lines {
            match &line.what {
                PaidFor::Expense { expense, meant_for, .. } => {
                    self.expense(*expense, of_amount(line.money), nothing(), *meant_for);
                }
                PaidFor::SalesTax { allowed, .. } => {
                    self.post(Account::TaxAllowance, None, None, of_amount(*allowed), nothing());
                }
                PaidFor::Receipt(_) | PaidFor::BoughtOn(_) | PaidFor::Helper { .. } | PaidFor::Royalty(_) => {}
            }
        }
    }

    /// Incomes received without an order, and deposits: where one came through a channel, that channel's fees on it are of today.
    pub(crate) fn received(&mut self, received: &Received) {
        for line in &received.lines {
            match &line.what {
                ReceivedFor::Income(income) => {
                    self.post(Account::Income(*income), None, None, of_amount(line.money), nothing());
                }
                ReceivedFor::Orders(orders) => {
                    let (Some(channel), [(order, _)]) = (received.via, orders.as_slice()) else { continue };
                    let is_sold = self.orders.iter().any(|one| one.order == Some(*order));
                    assert!(!is_sold, "a random book's later payments are what reached the shop");
                    let is_first = !self.deposits.iter().any(|deposit| deposit.order == *order);
                    let mut fees = nothing();
                    for rule in self.book.channel(channel).fees.on(self.date) {
                        fees += match rule {
                            FeeRule::OfTotal(percent) | FeeRule::OfGoods(percent) => hundredths(*percent) * of_amount(line.money),
                            FeeRule::PerSale(money) if is_first => of_decimal(*money),
                            FeeRule::PerSale(_) | FeeRule::PerItem(_) | FeeRule::OfCard(_) => nothing(),
                        };
                    }
                    let fee = self.owed(&fees);
                    self.post(Account::Fee, None, None, fee.clone(), nothing());
                    self.deposits.push(TwinDeposit { order: *order, fee });
                }
                ReceivedFor::SoldOn(_) => {}
            }
        }
    }
}

/// What others were paid for: all but own time and overhead.
pub(crate) fn paid_cost(vector: &ExactVector) -> Exact {
    let paid = [Component::Materials, Component::Freight, Component::Wear, Component::BoughtInTime, Component::Royalty];
    paid.iter().map(|component| vector.get(*component).clone()).sum()
}
