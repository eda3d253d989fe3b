//! A look over sales: one without the tax line or the fee of its channel's others, and a deposit that may be counted twice.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::diagnostics::Diagnostics;
use crate::events::{Doubts, Event, EventKind, ReceivedFor, Sold, errors};
use crate::names::{ChannelId, ChannelShare, LabelId, ResolvedBook, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

/// Looks over all sales in their order.
pub(crate) fn look_over(events: &[Event], book: &ResolvedBook, doubts: &Doubts, found: &mut Diagnostics) {
    // What a sale lacks may stand in a line that could not be read, and what its channel does in one of its definition.
    let is_sure = |event: &Event, sold: &Sold| !doubts.heads.contains(&event.head.start) && !doubts.has_terms(sold.channel);
    look_for_tax(events, book, &is_sure, found);
    look_for_fees(events, book, &is_sure, found);
    look_for_deposits(events, book, found);
    look_for_shares(events, book, found);
}

/// Lines of consigned sales at just what the channel leaves of the list price, or of what one fetched there the last time.
fn look_for_shares(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let digits = book.shop.currency.digits();
    let mut last: FxHashMap<(ChannelId, ThingId), (Fixed6, Decimal)> = FxHashMap::default();
    for event in events {
        let EventKind::Sold(sold) = &event.kind else { continue };
        let Some((id, channel)) = sold.channel.map(|channel| (channel, book.channel(channel))) else { continue };
        let ChannelShare::Consignment(percent) = *channel.share.on(event.date) else { continue };
        for line in &sold.lines {
            let left_of = |sum: Fixed6| {
                let part = sum
                    .to_decimal()?
                    .checked_mul(Decimal::ONE_HUNDRED.checked_sub(percent)?)?
                    .checked_div(Decimal::ONE_HUNDRED)?;
                Fixed6::round_from_decimal(part).map(|part| part.round_to(digits))
            };
            let as_before = last.get(&(id, line.thing)).and_then(|(value, quantity)| {
                let one = value.to_decimal()?.checked_mul(line.quantity)?.checked_div(*quantity)?;
                Fixed6::round_from_decimal(one).map(|sum| (sum.round_to(digits), "its last price there, "))
            });
            let prices = [line.list_value.map(|list| (list, "the list price of ")), as_before];
            let mut prices = prices.into_iter().flatten().filter(|(price, _)| *price != line.value && price.is_positive());
            if let Some((price, whose)) = prices.find(|(price, _)| left_of(*price) == Some(line.value)) {
                let texts = [line.value, price, left_of(line.value).unwrap_or_default()].map(|sum| sum.to_fixed_text(digits, 6));
                let [value, price, left] = &texts;
                let told = errors::meanings::share_taken_off_before(line.span, [value, price, left], whose, &channel.named.name);
                found.push(told);
                break;
            }
            last.insert((id, line.thing), (line.value, line.quantity));
        }
    }
}

/// How many sales of a channel have a line, and how many have none.
#[derive(Clone, Copy, Default)]
struct Having {
    with: usize,
    without: usize,
}

impl Having {
    /// Whether a sale without is an exception, of which `before` says what came before it. Where many sales of a channel have no such line,
    /// that is how the shop sells there; and a first line blames no sale before it.
    fn is_exception(self, before: Self) -> bool {
        let is_rule = self.with > self.without && self.with > 1;
        is_rule || before.with > 0 && (self.with > self.without || self.without == 1)
    }
}

/// The sales without a line that the other sales of their channel have, with the channel and how many have it. `asked` gives the
/// channel of a sale that would have it, `has` whether it does.
fn without_line(
    events: &[Event],
    asked: impl Fn(&Event, &Sold) -> Option<ChannelId>,
    has: impl Fn(&Sold) -> bool,
) -> Vec<(&Event, ChannelId, usize)> {
    let sales = || {
        events.iter().filter_map(|event| match &event.kind {
            EventKind::Sold(sold) => asked(event, sold).map(|channel| (event, channel, has(sold))),
            _ => None,
        })
    };
    let mut channels: FxHashMap<ChannelId, Having> = FxHashMap::default();
    for (_, channel, has) in sales() {
        let having = channels.entry(channel).or_default();
        *(if has { &mut having.with } else { &mut having.without }) += 1;
    }
    let mut so_far: FxHashMap<ChannelId, Having> = FxHashMap::default();
    let exceptions = sales().filter_map(|(event, channel, has)| {
        let before = so_far.entry(channel).or_default();
        before.with += usize::from(has);
        let having = channels.get(&channel).filter(|having| !has && having.is_exception(*before))?;
        Some((event, channel, having.with))
    });
    exceptions.collect()
}

fn look_for_tax(events: &[Event], book: &ResolvedBook, is_sure: &dyn Fn(&Event, &Sold) -> bool, found: &mut Diagnostics) {
    let asked = |event: &Event, sold: &Sold| owes_tax(sold, event.date, book).filter(|_| is_sure(event, sold));
    for (event, channel, with) in without_line(events, asked, |sold| !sold.taxes.is_empty()) {
        found.push(errors::slips::no_tax_line(event.head, &book.channel(channel).named.name, with));
    }
}

fn look_for_fees(events: &[Event], book: &ResolvedBook, is_sure: &dyn Fn(&Event, &Sold) -> bool, found: &mut Diagnostics) {
    // Where the channel has fees or a share, they are worked out.
    let has = |sold: &Sold| sold.fee.is_some() || !sold.extra_fees.is_zero();
    let asked = |event: &Event, sold: &Sold| {
        let channel = book.channel(sold.channel?);
        let by_hand = channel.fees.on(event.date).is_empty() && *channel.share.on(event.date) == ChannelShare::None;
        sold.channel.filter(|_| by_hand && is_sure(event, sold) && (has(sold) || !came_without_card(sold)))
    };
    for (event, channel, with) in without_line(events, asked, has) {
        found.push(errors::slips::no_fee(event.head, &book.channel(channel).named.name, with));
    }
}

/// Whether its lines say that all of a sale came in cash or by check, of which no fee is taken.
fn came_without_card(sold: &Sold) -> bool {
    sold.tender.card.is_none() && (sold.tender.cash.is_some() || sold.tender.check.is_some())
}

/// The channel of a sale of goods on which the shop would owe the tax itself.
fn owes_tax(sold: &Sold, day: NaiveDate, book: &ResolvedBook) -> Option<ChannelId> {
    let id = sold.channel.filter(|_| !sold.lines.is_empty())?;
    let channel = book.channel(id);
    let own = !*channel.collects_sales_tax.on(day) && *channel.share.on(day) == ChannelShare::None;
    own.then_some(id)
}

fn look_for_deposits(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let mut incomes: FxHashMap<LabelId, (NaiveDate, Fixed6, Span)> = FxHashMap::default();
    for event in events {
        match &event.kind {
            EventKind::Received(received) => {
                for line in &received.lines {
                    if matches!(line.what, ReceivedFor::Income(_)) {
                        incomes.insert(received.from, (event.date, line.money, line.span));
                    }
                }
            }
            EventKind::Sold(sold) => {
                let Some(buyer) = sold.buyer else { continue };
                if let Some((day, money, line)) = incomes.remove(&buyer) {
                    let money = money.to_fixed_text(book.shop.currency.digits(), 6);
                    found.push(errors::slips::deposit_twice(event.head, line, &money, book.label(buyer), day));
                }
            }
            _ => {}
        }
    }
}
