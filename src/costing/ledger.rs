//! Writing down what moved: movements, postings and the proof's flows, as the engine goes.
//!
//! Every flow is added to its year's proof when it happens; what is on hand is added up apart, at each year's end, from the
//! shelves, the bench and the unused licences.

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::fault::{Costed, OrFault};
use crate::costing::{Account, CostVector, Flow, Issue, Movement, Posting, Proof};
use crate::names::{BatchId, ChannelId, Target, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// The event that is being costed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Now {
    /// Its day.
    pub(crate) date: NaiveDate,
    /// Its index in the log.
    pub(crate) event: u32,
    /// Its head.
    pub(crate) head: Span,
}

/// What is said of a movement beside its flow and cost.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct About {
    pub(crate) line: Span,
    pub(crate) thing: Option<ThingId>,
    pub(crate) quantity: Decimal,
    pub(crate) batch: Option<BatchId>,
    pub(crate) order: Option<u32>,
    pub(crate) on: Option<Target>,
    pub(crate) bill: Option<u32>,
    pub(crate) issue: Issue,
    pub(crate) worth: Option<Fixed6>,
    pub(crate) wear_freight: Fixed6,
    pub(crate) by_employee: bool,
}

/// What is said of a posting beside its account and sum.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct PostedTo {
    pub(crate) line: Span,
    pub(crate) thing: Option<ThingId>,
    pub(crate) channel: Option<ChannelId>,
    pub(crate) on: Option<Target>,
    pub(crate) order: Option<u32>,
    pub(crate) bill: Option<u32>,
    pub(crate) meant_for: Option<NaiveDate>,
}

/// What an order came to so far, for what may still go back of it.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct OrderSums {
    /// Goods, shipping and incomes, without sales tax.
    pub(crate) charged: Fixed6,
    /// Sales tax that the shop collected.
    pub(crate) tax: Fixed6,
    /// Fees and shares.
    pub(crate) fees: Fixed6,
    /// Refunded, without sales tax.
    pub(crate) refunded: Fixed6,
    /// Sales tax refunded.
    pub(crate) tax_back: Fixed6,
    /// Fees given back.
    pub(crate) fees_back: Fixed6,
}

impl OrderSums {
    /// Adds another order's. `None` on overflow.
    pub(crate) fn add(&mut self, other: &Self) -> Option<()> {
        self.charged = self.charged.checked_add(other.charged)?;
        self.tax = self.tax.checked_add(other.tax)?;
        self.fees = self.fees.checked_add(other.fees)?;
        self.refunded = self.refunded.checked_add(other.refunded)?;
        self.tax_back = self.tax_back.checked_add(other.tax_back)?;
        self.fees_back = self.fees_back.checked_add(other.fees_back)?;
        Some(())
    }
}

/// Everything that was written down.
#[derive(Debug, Default)]
pub(crate) struct Ledger {
    /// Whether movements and postings are kept, or only the proof.
    pub(crate) keeps_journal: bool,
    pub(crate) movements: Vec<Movement>,
    pub(crate) postings: Vec<Posting>,
    pub(crate) proof: Proof,
    of_orders: Vec<OrderSums>,
}

impl Ledger {
    /// An empty one.
    pub(crate) fn new(keeps_journal: bool) -> Self {
        Self { keeps_journal, ..Self::default() }
    }

    /// What an order came to so far.
    pub(crate) fn of_order(&self, order: u32) -> OrderSums {
        self.of_orders.get(order as usize).copied().unwrap_or_default()
    }

    /// What an order came to so far, to be added to.
    pub(crate) fn of_order_mut(&mut self, order: u32) -> &mut OrderSums {
        let at = order as usize;
        if self.of_orders.len() <= at {
            self.of_orders.resize(at.saturating_add(1), OrderSums::default());
        }
        &mut self.of_orders[at]
    }

    /// Writes a movement down.
    pub(crate) fn flow(&mut self, now: Now, flow: Flow, vector: &CostVector, about: About) -> Costed<()> {
        let year = self.proof.years.entry(now.date.year()).or_default();
        year.flows.entry(flow).or_default().add(vector).or_fault()?;
        if self.keeps_journal {
            self.movements.push(Movement {
                date: now.date,
                event: now.event,
                line: about.line,
                flow,
                thing: about.thing,
                quantity: about.quantity,
                vector: vector.clone(),
                batch: about.batch,
                order: about.order,
                on: about.on,
                bill: about.bill,
                issue: about.issue,
                worth: about.worth,
                wear_freight: about.wear_freight,
                by_employee: about.by_employee,
            });
        }
        Ok(())
    }

    /// Writes a posting down; nothing is written for a sum of zero.
    pub(crate) fn post(&mut self, now: Now, account: Account, money: Fixed6, to: PostedTo) {
        if let Some(order) = to.order.filter(|_| !money.is_zero()) {
            let sums = self.of_order_mut(order);
            let sum = match account {
                Account::Goods | Account::ShippingCharged | Account::Income(_) => Some(&mut sums.charged),
                Account::Fee | Account::Commission => Some(&mut sums.fees),
                Account::Refund => Some(&mut sums.refunded),
                Account::FeeBack => Some(&mut sums.fees_back),
                _ => None,
            };
            if let Some(sum) = sum {
                // What is too large to be added up here is told where it was posted.
                *sum = sum.checked_add(money).unwrap_or(*sum);
            }
        }
        if self.keeps_journal && !money.is_zero() {
            self.postings.push(Posting {
                date: now.date,
                event: now.event,
                line: to.line,
                account,
                money,
                thing: to.thing,
                channel: to.channel,
                on: to.on,
                order: to.order,
                bill: to.bill,
                meant_for: to.meant_for,
            });
        }
    }
}
