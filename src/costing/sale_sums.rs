//! What sales came to, order by order and channel by channel, and what of it went back.
//!
//! No more can go back than came: of money, of the sales tax that the shop collected, of fees. A return that names no order is
//! held against all that its channel sold.

use rustc_hash::FxHashMap;

use crate::costing::Account;
use crate::costing::fault::{Costed, OrFault};
use crate::names::{ChannelId, LabelId};
use crate::units::Fixed6;

/// A sum that is kept of sales.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum SaleSum {
    /// Goods, shipping and incomes, without sales tax.
    Charged,
    /// Sales tax that the shop collected.
    Tax,
    /// Fees and shares, those of its deposits among them.
    Fees,
    /// Refunded, without sales tax.
    Refunded,
    /// Sales tax refunded.
    TaxBack,
    /// Fees given back.
    FeesBack,
}

impl SaleSum {
    /// The sum to which a posting belongs; `None` for what no buyer and no channel is party to.
    pub(crate) const fn of(account: Account) -> Option<Self> {
        match account {
            Account::Goods | Account::ShippingCharged | Account::Income(_) => Some(Self::Charged),
            Account::Fee | Account::Commission => Some(Self::Fees),
            Account::Refund => Some(Self::Refunded),
            Account::FeeBack => Some(Self::FeesBack),
            _ => None,
        }
    }
}

type Sums = [Fixed6; 6];

/// The sums of every order and every channel.
#[derive(Debug, Default)]
pub(crate) struct SaleSums {
    /// Whether anything is kept: nothing need be where nothing goes back.
    keeps: bool,
    of_orders: Vec<Sums>,
    of_channels: Vec<Sums>,
    /// Sales tax that the shop collected with an order less what went back of it, by whose it is.
    taxes: FxHashMap<u32, TaxesOfOrder>,
}

/// Sales tax of an order by account; `None` for the shop's own without a name.
pub(crate) type TaxesOfOrder = Vec<(Option<LabelId>, Fixed6)>;

/// Of which sales: those of one order, or all of a channel.
#[derive(Clone, Copy, Debug)]
pub(crate) enum SalesOf {
    Order(u32),
    Channel(ChannelId),
}

impl SaleSums {
    /// Without any sale yet.
    pub(crate) fn new(keeps: bool) -> Self {
        Self { keeps, ..Self::default() }
    }

    /// Adds to a sum of an order, and of its channel.
    pub(crate) fn add(&mut self, order: u32, channel: Option<ChannelId>, what: SaleSum, money: Fixed6) -> Costed<()> {
        if !self.keeps {
            return Ok(());
        }
        add_to(&mut self.of_orders, order as usize, what, money)?;
        match channel {
            Some(channel) => add_to(&mut self.of_channels, channel.index(), what, money),
            None => Ok(()),
        }
    }

    /// Adds to the sales tax of an order on an account; below zero it went back.
    pub(crate) fn add_tax(&mut self, order: u32, to: Option<LabelId>, money: Fixed6) -> Costed<()> {
        if !self.keeps {
            return Ok(());
        }
        add_tax_to(self.taxes.entry(order).or_default(), to, money)
    }

    /// The sales tax of an order that has not gone back, by account.
    pub(crate) fn taxes_of(&self, order: u32) -> &[(Option<LabelId>, Fixed6)] {
        self.taxes.get(&order).map_or(&[], Vec::as_slice)
    }

    /// What of a sum has not gone back.
    pub(crate) fn left(&self, of: SalesOf, came: SaleSum, back: SaleSum) -> Costed<Fixed6> {
        let sums = match of {
            SalesOf::Order(order) => self.of_orders.get(order as usize),
            SalesOf::Channel(channel) => self.of_channels.get(channel.index()),
        };
        let sums = sums.copied().unwrap_or_default();
        sums[came as usize].checked_sub(sums[back as usize]).or_fault()
    }
}

/// Adds to the sum of an account.
pub(crate) fn add_tax_to(taxes: &mut TaxesOfOrder, to: Option<LabelId>, money: Fixed6) -> Costed<()> {
    match taxes.iter_mut().find(|(account, _)| *account == to) {
        Some((_, sum)) => *sum = sum.checked_add(money).or_fault()?,
        None => taxes.push((to, money)),
    }
    Ok(())
}

fn add_to(list: &mut Vec<Sums>, at: usize, what: SaleSum, money: Fixed6) -> Costed<()> {
    if list.len() <= at {
        list.resize(at.saturating_add(1), Sums::default());
    }
    let sum = &mut list[at][what as usize];
    *sum = sum.checked_add(money).or_fault()?;
    Ok(())
}
