//! What selling a piece cost in each channel so far, beside the fees that are a part of its price.
//!
//! Postage, packing and shipping charged are learnt from the product's own sales in the channel, else from all pieces sold there. What bringing goods to a
//! place cost is spread over the pieces sent there, less those taken away again. Booths, miles and the owner's hours on a channel belong to no product: all that
//! it sold bears them by value (`own_share.rs`). They are the figures of what pays, but for expenses that are meant for days after the book's last: no piece of those days is sold yet.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::own_share::OwnShare;
use crate::costing::{Account, Flow, Posting};
use crate::events::EventKind;
use crate::names::{ChannelId, PlaceId, ResolvedBook, ThingId};
use crate::reports::Period;
use crate::reports::margin::Margin;
use crate::reports::pays_part::{MileRate, PaysOf, PaysPart, PaysWhat, each_part};
use crate::reports::price::NOTHING_SOLD;
use crate::units::{Fixed6, Unit, checked_add_exact, checked_sub_exact, part_of};
use crate::year::Books;

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

/// What stands on a channel itself.
#[derive(Clone, Copy, Debug)]
pub(crate) enum OnChannel<'a> {
    /// Money that what is sold there bears.
    Spent(Fixed6),
    /// Money for days after the book's last, which no piece bears yet.
    Ahead(Fixed6),
    /// The owner's minutes.
    Worked(Fixed6),
    /// Postage or packing of goods that were brought there, or taken away.
    Sent(&'a Posting),
}

/// What a part of the margins is for the pieces of a channel on which it stands itself. `last` is the book's last day.
pub(crate) fn on_channel<'a>(part: &PaysPart<'a>, last: Option<NaiveDate>) -> Option<(ChannelId, OnChannel<'a>)> {
    let channel = part.groups.iter().find_map(|of| if let PaysOf::Channel(channel) = of { Some(*channel) } else { None })?;
    let what = match part.what {
        PaysWhat::Expense(_, money) if last.is_some_and(|last| part.day > last) => OnChannel::Ahead(money),
        PaysWhat::Expense(_, money) | PaysWhat::UsedInShop(_, money) | PaysWhat::Drive(_, money) => OnChannel::Spent(money),
        PaysWhat::Hours(hour) => OnChannel::Worked(hour.minutes),
        PaysWhat::Posting(posting) if posting.order.is_none() => OnChannel::Sent(posting),
        PaysWhat::Posting(_) | PaysWhat::Sold(_) | PaysWhat::Worked(_) => return None,
    };
    Some((channel, what))
}

/// What a channel sold of all products, and what was spent on it.
#[derive(Clone, Copy, Debug, Default)]
struct OfChannel {
    all: Sums,
    /// What bringing goods there cost; the pieces are those sent there less those taken away.
    sent: Sums,
    /// Pieces that stayed with their buyers.
    kept: Decimal,
    sales: u32,
    own: OwnShare,
    ahead: Fixed6,
}

/// What a channel sold of one product.
#[derive(Clone, Copy, Debug, Default)]
struct OfProduct {
    sums: Sums,
    /// What it brought in, less refunds, and how many stayed with their buyers.
    revenue: Fixed6,
    kept: Decimal,
    last: Option<(Fixed6, Decimal, NaiveDate)>,
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
    /// What the product brought in, less refunds, and how many of it stayed with their buyers.
    pub(super) brought_in: (Fixed6, Decimal),
    /// Of all pieces.
    pub(super) all: Sums,
    /// Sales.
    pub(super) sales: u32,
    /// What the channel took itself, and all that it brought in.
    pub(super) own: OwnShare,
    /// Spent for days after the book's last.
    pub(super) ahead: Fixed6,
    /// What bringing goods there cost.
    pub(super) sent: Sums,
    /// The last price of the product: what was charged, for how many pieces, and when.
    pub(super) last: Option<(Fixed6, Decimal, NaiveDate)>,
}

impl Sold {
    /// The sums to learn from, and what they are of.
    pub(super) fn learnt_from(&self) -> (Sums, &'static str) {
        if self.product.pieces > Decimal::ZERO {
            (self.product, "this product")
        } else if self.all.pieces > Decimal::ZERO {
            (self.all, "the channel")
        } else {
            (Sums::default(), NOTHING_SOLD)
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
    pub(super) fn of(books: Books<'_>, period: Period, mile_rate: MileRate<'_>) -> Option<Self> {
        let Books { book, costed, .. } = books;
        let mut sold = Self::default();
        each_part(book, costed, period, mile_rate, &mut |part| {
            if let PaysWhat::Posting(posting @ Posting { order: Some(_), channel: Some(channel), .. }) = part.what {
                let mut of_sale = Margin::default();
                of_sale.post(posting)?;
                let own = &mut sold.channel(*channel).own;
                own.revenue = own.revenue.checked_add(of_sale.revenue)?;
                if let Some(thing) = posting.thing {
                    let of_product = sold.product(thing, *channel);
                    of_product.revenue = of_product.revenue.checked_add(of_sale.revenue)?;
                }
            }
            let Some((channel, what)) = on_channel(&part, costed.until) else { return Some(()) };
            let of = sold.channel(channel);
            let (sum, more) = match what {
                OnChannel::Spent(money) => (&mut of.own.expenses, money),
                OnChannel::Ahead(money) => (&mut of.ahead, money),
                OnChannel::Worked(minutes) => (&mut of.own.minutes, minutes),
                OnChannel::Sent(posting) => return of.sent.post(posting.account, posting.money),
            };
            *sum = sum.checked_add(more)?;
            Some(())
        })?;
        sold.count_sent(books, period)?;
        for posting in costed.postings.iter().filter(|one| period.covers(one.date) && one.order.is_some()) {
            if let Some(channel) = posting.channel {
                sold.channel(channel).all.post(posting.account, posting.money)?;
                if let Some(thing) = posting.thing {
                    sold.product(thing, channel).sums.post(posting.account, posting.money)?;
                }
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
            let of = sold.product(thing, channel);
            of.kept = checked_add_exact(of.kept, movement.quantity).ok()?;
            of.sums.pieces = checked_add_exact(of.sums.pieces, movement.quantity.max(Decimal::ZERO)).ok()?;
        }
        for order in &costed.orders {
            let Some(channel) = order.channel else { continue };
            let mut any = false;
            for line in order.lines.iter().filter(|line| period.covers(line.date) && line.quantity > Decimal::ZERO) {
                any = true;
                sold.product(line.thing, channel).last = Some((line.value, line.quantity, line.date));
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
        let OfChannel { all, mut sent, kept, sales, own, ahead } = self.channels.get(&channel).copied().unwrap_or_default();
        let OfProduct { sums, revenue, kept: stayed, last } = self.products.get(&(product, channel)).copied().unwrap_or_default();
        if sent.pieces <= Decimal::ZERO {
            // All is taken away again: those that were sold meanwhile bear the way.
            sent.pieces = kept;
        }
        Sold { product: sums, brought_in: (revenue, stayed), all, sales, own, ahead, sent, last }
    }

    /// Counts the pieces that were sent to the places of channels, less those taken away.
    fn count_sent(&mut self, Books { book, log, .. }: Books<'_>, period: Period) -> Option<()> {
        let at = |place| channel_of(book, place);
        for event in log.events.iter().filter(|event| period.covers(event.date)) {
            let EventKind::Moved(moved) = &event.kind else { continue };
            for line in moved.lines.iter().filter(|line| book.thing(line.thing).unit == Unit::Each) {
                if let Some(channel) = at(moved.to) {
                    let sent = &mut self.channel(channel).sent;
                    sent.pieces = checked_add_exact(sent.pieces, line.quantity).ok()?;
                }
                if let Some(channel) = at(moved.from) {
                    let sent = &mut self.channel(channel).sent;
                    sent.pieces = checked_sub_exact(sent.pieces, line.quantity).ok()?;
                }
            }
        }
        Some(())
    }

    fn channel(&mut self, channel: ChannelId) -> &mut OfChannel {
        self.channels.entry(channel).or_default()
    }

    fn product(&mut self, product: ThingId, channel: ChannelId) -> &mut OfProduct {
        self.products.entry((product, channel)).or_default()
    }
}

/// The channel that is a place.
fn channel_of(book: &ResolvedBook, place: PlaceId) -> Option<ChannelId> {
    let at = book.channels.iter().position(|channel| channel.place == Some(place))?;
    u32::try_from(at).ok().map(ChannelId)
}
