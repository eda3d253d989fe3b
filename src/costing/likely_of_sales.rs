//! What of a sale or a return is no mistake and yet likely one: money back that may be of several sales, and a settled sale of which nothing came.
//!
//! Each is told once, at an entry whose `expected` answers it, and changes no figure.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashSet;

use crate::costing::engine::Engine;
use crate::costing::errors::likely_of_sales as likely;
use crate::costing::fault::{Costed, OrFault};
use crate::costing::likely_slips::CREDITED_WITHIN;
use crate::costing::orders::BesideGoods;
use crate::costing::{Bill, BillKind, OrderLine};
use crate::events::{EventKind, Returned, ReturnedLine, Sold};
use crate::names::{ChannelId, ChannelShare, ThingId};
use crate::units::{Fixed6, checked_sub_exact, part_of};

/// So many sales of a channel are looked at for one that a return may be of.
const SALES_LOOKED_AT: usize = 1000;

impl Engine<'_> {
    /// Tells of money back that names neither its order nor its goods, where the channel sold more than once within a year, or several
    /// things at once: all of it lowers the last sale.
    pub(crate) fn tell_which_sale(&mut self, returned: &Returned) {
        let Some(channel) = returned.channel.filter(|_| returned.order.is_none() && returned.lines.is_empty()) else { return };
        let Some((_, line)) = returned.refunds.first() else { return };
        let Some(sales) = self.orders.by_channel.get(&channel) else { return };
        let recent = |day: NaiveDate| day.checked_add_months(CREDITED_WITHIN).is_none_or(|until| until >= self.now.date);
        let account = |order: u32| usize::try_from(order).ok().and_then(|at| self.orders.accounts.get(at));
        let mut orders: Vec<u32> = sales.iter().map(|sale| sale.order).collect();
        orders.dedup();
        orders.retain(|order| account(*order).is_some_and(|account| recent(account.date)));
        let Some(last) = sales.last().and_then(|sale| account(sale.order)) else { return };
        let things: FxHashSet<ThingId> = last.lines.iter().map(|line| line.thing).collect();
        if orders.len() > 1 || things.len() > 1 {
            let told = likely::which_sale(self, (last.date, last.head), orders.len(), things.len(), *line);
            self.found.push(told);
        }
    }

    /// Tells of goods back, without an order, for which more is refunded than they brought in the sales that they are taken of, where others of
    /// their channel brought as much. `from` has these orders, and how many pieces of each.
    pub(crate) fn tell_dearer_than_sold(
        &mut self,
        returned: &Returned,
        line: &ReturnedLine,
        from: &[(u32, Decimal)],
    ) -> Costed<()> {
        let Some(channel) = returned.channel.filter(|_| returned.order.is_none() && !line.quantity.is_zero()) else {
            return Ok(());
        };
        let (mut brought, mut beside) = (Fixed6::ZERO, BesideGoods::default());
        for (order, quantity) in from {
            let Some(best) = self.best_price(*order, line.thing, *quantity)? else { return Ok(()) };
            brought = brought.checked_add(best).or_fault()?;
            let more = self.orders.beside_goods.get(order).copied().unwrap_or_default();
            beside.shipping = beside.shipping.checked_add(more.shipping).or_fault()?;
            beside.tax = beside.tax.checked_add(more.tax).or_fault()?;
        }
        let taken = from.first().and_then(|(order, _)| self.orders.accounts.get(*order as usize));
        let above = line.refunded.checked_sub(brought).or_fault()?;
        let with_tax = beside.shipping.checked_add(beside.tax).or_fault()?;
        let is_rounding = above <= self.smallest_coin();
        let with_shipping = !beside.shipping.is_zero() && above >= beside.shipping && above <= with_tax;
        let given_back = above <= beside.tax || with_shipping;
        let Some(taken) = taken.filter(|_| !above.is_negative() && !is_rounding && !given_back) else { return Ok(()) };
        let Some(other) = self.sale_that_brought(channel, line, from)? else { return Ok(()) };
        let told = likely::dearer_than_sold(self, taken, line, brought, other);
        self.found.push(told);
        Ok(())
    }

    /// What rounding may add.
    fn smallest_coin(&self) -> Fixed6 {
        Fixed6::from_decimal_exact(Decimal::new(1, self.book.shop.currency.digits())).unwrap_or_default()
    }

    /// The most that so many of a thing brought in an order, by its dearest line; `None` where it has none.
    fn best_price(&self, order: u32, thing: ThingId, quantity: Decimal) -> Costed<Option<Fixed6>> {
        let lines = self.orders.accounts.get(order as usize).map_or(&[][..], |account| &account.lines);
        let mut best = None;
        for line in lines.iter().filter(|line| line.thing == thing && !line.quantity.is_zero()) {
            best = best.max(Some(part_of(line.brought, quantity, line.quantity).or_fault()?));
        }
        Ok(best)
    }

    /// The last other sale of a channel, of the year before, of which pieces are out that brought what is refunded for as many.
    fn sale_that_brought(&self, channel: ChannelId, line: &ReturnedLine, from: &[(u32, Decimal)]) -> Costed<Option<&OrderLine>> {
        let sales = self.orders.by_channel.get(&channel).map_or(&[][..], Vec::as_slice);
        let recent = |day: NaiveDate| day.checked_add_months(CREDITED_WITHIN).is_none_or(|until| until >= self.now.date);
        let others = sales.iter().rev().take(SALES_LOOKED_AT).filter(|sale| from.iter().all(|(order, _)| *order != sale.order));
        for sale in others {
            let lines = self.orders.accounts.get(sale.order as usize).and_then(|account| account.lines.get(sale.from_line..));
            for sold in lines.unwrap_or_default().iter().filter(|sold| sold.thing == line.thing && recent(sold.date)) {
                let is_out = checked_sub_exact(sold.quantity, sold.returned)? >= line.quantity;
                let brought = part_of(sold.brought, line.quantity, sold.quantity).or_fault()?;
                if is_out && brought.checked_add(self.smallest_coin()).or_fault()? >= line.refunded {
                    return Ok(Some(sold));
                }
            }
        }
        Ok(None)
    }

    /// Tells of the first sale of each consignment channel that says what it settles and not whether that came, where nothing ever came of
    /// that channel later, and nothing of this sale: who enters what comes later knows that it is owed until then. A mistake may
    /// hide the entry that says it came, and without a tax year no report but that of the places goes by it.
    pub(crate) fn tell_settled_and_owed(&mut self) -> Costed<()> {
        if self.found.has_errors() || self.book.shop.tax_form.is_none() {
            return Ok(());
        }
        let mut silent: FxHashSet<ChannelId> = self.channels_that_pay_later();
        let mut found = Vec::new();
        for (at, bill) in (0u32..).zip(&self.owed.bills) {
            let Some((channel, sold)) = self.sale_of_bill(bill).filter(|(channel, _)| !silent.contains(channel)) else {
                continue;
            };
            let settlement = &sold.settlement;
            let says_nothing = settlement.payments.is_empty() && !settlement.said_unpaid && settlement.available.is_none();
            let is_consigned = matches!(self.book.channel(channel).share.on(bill.date), ChannelShare::Consignment(_));
            let Some((_, line)) = sold.settled.filter(|_| says_nothing && is_consigned && bill.paid.is_empty()) else { continue };
            let owed = self.owed.open(at)?;
            if owed.is_positive() {
                silent.insert(channel);
                found.push(likely::settled_and_owed(self, channel, owed, line));
            }
        }
        found.into_iter().for_each(|told| self.found.push(told));
        Ok(())
    }

    /// The channels from or through which money was received after a sale, or that owed some when the book began.
    fn channels_that_pay_later(&self) -> FxHashSet<ChannelId> {
        let mut channels: FxHashSet<ChannelId> = FxHashSet::default();
        for event in &self.log.events {
            let EventKind::Received(received) = &event.kind else { continue };
            channels.extend(received.via.or_else(|| self.channel_of_name(self.book.label(received.from))));
        }
        let later = self.owed.bills.iter().filter(|bill| bill.opened || !bill.paid.is_empty());
        let without_payment = later.filter_map(|bill| match self.sale_of_bill(bill) {
            Some((channel, sold)) => Some(channel).filter(|_| sold.settlement.payments.is_empty()),
            None => bill.channel,
        });
        channels.extend(without_payment);
        channels
    }

    fn channel_of_name(&self, name: &str) -> Option<ChannelId> {
        let at = self.book.channels.iter().position(|channel| channel.named.name == name)?;
        u32::try_from(at).ok().map(ChannelId)
    }

    fn sale_of_bill(&self, bill: &Bill) -> Option<(ChannelId, &Sold)> {
        let channel = bill.channel.filter(|_| bill.kind == BillKind::OwedToUs && !bill.opened)?;
        match &self.log.events.get(bill.event as usize)?.kind {
            EventKind::Sold(sold) => Some((channel, sold)),
            _ => None,
        }
    }
}
