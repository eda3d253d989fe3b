//! What selling a piece cost in each channel so far, beside the fees that are a part of its price.
//!
//! Postage, packing and shipping charged are learnt from the product's own sales in the channel, else from all pieces sold there. Booths and
//! the owner's hours on a channel belong to no product: they are spread over all pieces that it sold.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::costing::{Account, CostedBook, Flow};
use crate::names::{ChannelId, ResolvedBook, Target, ThingId};
use crate::reports::Period;
use crate::units::{Fixed6, Unit, checked_add_exact, part_of};

/// Sums of sales.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Sums {
    /// Pieces that went to buyers, those that came back among them: their postage was paid all the same.
    pub(crate) pieces: Decimal,
    pub(super) shipping: Fixed6,
    pub(super) postage: Fixed6,
    pub(super) packing: Fixed6,
}

impl Sums {
    fn post(&mut self, account: Account, money: Fixed6) -> Option<()> {
        let sum = match account {
            Account::ShippingCharged => &mut self.shipping,
            Account::Postage => &mut self.postage,
            Account::Packing => &mut self.packing,
            _ => return Some(()),
        };
        *sum = sum.checked_add(money)?;
        Some(())
    }
}

/// What a channel sold of all products, and what was spent on it.
#[derive(Clone, Copy, Debug, Default)]
struct OfChannel {
    all: Sums,
    /// Pieces that stayed with their buyers.
    kept: Decimal,
    sales: u32,
    own_expenses: Fixed6,
    own_minutes: Fixed6,
}

/// What a channel sold of one product.
#[derive(Clone, Copy, Debug, Default)]
struct OfProduct {
    sums: Sums,
    last: Option<(Fixed6, Decimal)>,
}

/// What each channel sold, of each product and in all, found in one pass through the book.
#[derive(Debug, Default)]
pub(super) struct SoldByChannel {
    channels: BTreeMap<ChannelId, OfChannel>,
    products: BTreeMap<(ThingId, ChannelId), OfProduct>,
}

/// What was learnt of a channel.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sold {
    /// Of the product that is asked about.
    pub(super) product: Sums,
    /// Of all pieces.
    pub(super) all: Sums,
    /// All pieces that stayed with their buyers: they bear what was spent on the channel.
    pub(super) kept: Decimal,
    /// Sales.
    pub(super) sales: u32,
    pub(super) own_expenses: Fixed6,
    pub(super) own_minutes: Fixed6,
    /// The last price of the product: what was charged, and for how many pieces.
    pub(super) last: Option<(Fixed6, Decimal)>,
}

impl Sold {
    /// The sums to learn from, and what they are of.
    pub(super) fn learnt_from(&self) -> (Sums, &'static str) {
        if self.product.pieces > Decimal::ZERO {
            (self.product, "this product")
        } else if self.all.pieces > Decimal::ZERO {
            (self.all, "the channel")
        } else {
            (Sums::default(), "nothing sold yet")
        }
    }

    /// Pieces that went into a sale: one at least.
    pub(super) fn pieces_a_sale(&self) -> Option<Decimal> {
        if self.sales == 0 {
            return Some(Decimal::ONE);
        }
        Some(self.all.pieces.checked_div(Decimal::from(self.sales))?.max(Decimal::ONE))
    }
}

/// A sum for one of so many pieces, rounded to six digits; nothing where there are none.
pub(super) fn for_one(sum: Fixed6, pieces: Decimal) -> Option<Fixed6> {
    if pieces <= Decimal::ZERO { Some(Fixed6::ZERO) } else { part_of(sum, Decimal::ONE, pieces) }
}

impl SoldByChannel {
    /// Goes through a book once. `None` where a sum is too large to be carried.
    pub(super) fn of(book: &ResolvedBook, costed: &CostedBook, period: Period) -> Option<Self> {
        let mut sold = Self::default();
        for posting in costed.postings.iter().filter(|one| period.covers(one.date)) {
            if let Some(channel) = posting.channel {
                sold.channel(channel).all.post(posting.account, posting.money)?;
                if let Some(thing) = posting.thing {
                    sold.product(thing, channel).sums.post(posting.account, posting.money)?;
                }
            }
            let direct = matches!(posting.account, Account::Expense(_) | Account::HiredTime { .. });
            if let Some(Target::Channel(channel)) = posting.on.filter(|_| direct) {
                let money = match posting.account {
                    Account::Expense(expense) => {
                        let percent = *book.expense(expense).business_use.on(posting.date);
                        part_of(posting.money, percent, Decimal::ONE_HUNDRED)?
                    }
                    _ => posting.money,
                };
                let of = sold.channel(channel);
                of.own_expenses = of.own_expenses.checked_add(money)?;
            }
        }
        for hour in costed.hours.iter().filter(|hour| hour.own && period.covers(hour.date)) {
            if let Some(Target::Channel(channel)) = hour.on {
                let of = sold.channel(channel);
                of.own_minutes = of.own_minutes.checked_add(hour.minutes)?;
            }
        }
        for movement in costed.movements.iter().filter(|one| one.flow == Flow::Sold && period.covers(one.date)) {
            let order = movement.order.and_then(|order| costed.orders.get(order as usize));
            let (Some(channel), Some(thing)) = (order.and_then(|order| order.channel), movement.thing) else { continue };
            if book.thing(thing).unit == Unit::Each {
                let of = sold.channel(channel);
                of.kept = checked_add_exact(of.kept, movement.quantity).ok()?;
                of.all.pieces = checked_add_exact(of.all.pieces, movement.quantity.max(Decimal::ZERO)).ok()?;
            }
            let sums = &mut sold.product(thing, channel).sums;
            sums.pieces = checked_add_exact(sums.pieces, movement.quantity.max(Decimal::ZERO)).ok()?;
        }
        for order in &costed.orders {
            let Some(channel) = order.channel else { continue };
            let mut any = false;
            for line in order.lines.iter().filter(|line| period.covers(line.date) && line.quantity > Decimal::ZERO) {
                any = true;
                sold.product(line.thing, channel).last = Some((line.value, line.quantity));
            }
            if any {
                let of = sold.channel(channel);
                of.sales = of.sales.saturating_add(1);
            }
        }
        Some(sold)
    }

    /// What was learnt of a channel for a product.
    pub(super) fn learnt(&self, product: ThingId, channel: ChannelId) -> Sold {
        let OfChannel { all, kept, sales, own_expenses, own_minutes } = self.channels.get(&channel).copied().unwrap_or_default();
        let OfProduct { sums, last } = self.products.get(&(product, channel)).copied().unwrap_or_default();
        Sold { product: sums, all, kept, sales, own_expenses, own_minutes, last }
    }

    fn channel(&mut self, channel: ChannelId) -> &mut OfChannel {
        self.channels.entry(channel).or_default()
    }

    fn product(&mut self, product: ThingId, channel: ChannelId) -> &mut OfProduct {
        self.products.entry((product, channel)).or_default()
    }
}
