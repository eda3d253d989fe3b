//! Channels in which a piece costs its buyer less than where it lies on consignment.
//!
//! What lies at a place is marked as `marked_price.rs` says; where nothing lies any more, the last sale there tells. A consignee's contract commonly forbids
//! to ask less elsewhere (common practice, no source).

use chrono::NaiveDate;

use super::in_channel::is_below;
use super::{PriceIndex, PricedProduct};
use crate::events::{EventKind, Sold};
use crate::names::{Channel, ChannelId, ChannelShare, ThingId};
use crate::reports::ChannelPrice;
use crate::reports::period::unit_cost_text;
use crate::reports::report_cost::price_text;
use crate::units::{Fixed6, mul_div_round};
use crate::year::Books;

/// Says which channels do.
pub(super) fn undercut(
    index: &PriceIndex<'_>,
    (product, priced): (ThingId, &PricedProduct<'_>),
    channels: &[ChannelPrice],
) -> Vec<String> {
    let book = index.books.book;
    let Some(day) = priced.day else { return Vec::new() };
    let named = |one: &ChannelPrice| {
        let of = (0u32..).zip(&book.channels).find(|(_, channel)| channel.named.name == one.name);
        of.map(|(at, channel)| (ChannelId(at), channel))
    };
    let mut notes = Vec::new();
    for consigned in channels {
        let Some((_, channel)) = named(consigned) else { continue };
        if !matches!(channel.share.on(day), ChannelShare::Consignment(_)) {
            continue;
        }
        let Some((there, lies)) = marked(index, product, (channel, consigned), day) else { continue };
        for other in channels {
            let sells = named(other).filter(|(_, channel)| *channel.share.on(day) == ChannelShare::None);
            let Some((here, lowered)) = sells.and_then(|(id, _)| asked(index, (product, priced), id, other)) else { continue };
            if is_below(&here, &there) {
                let there = match lies {
                    Lies::AtList => format!("{there} at which it lies at `{}` which has it on consignment", consigned.name),
                    Lies::AtLast => format!("{there} of `{}` which has it on consignment", consigned.name),
                    Lies::No => format!("{there} at which `{}` sold it on consignment", consigned.name),
                };
                notes.push(format!(
                    "`{}` asks {here}{lowered}, less than the {there}; look at your agreement with it",
                    other.name
                ));
            }
        }
    }
    notes
}

/// Whether goods lie at a place, and what says their price.
#[derive(Clone, Copy)]
enum Lies {
    AtList,
    AtLast,
    No,
}

/// What a buyer is asked at a place, where goods lie there; else what one was asked last.
fn marked(
    index: &PriceIndex<'_>,
    product: ThingId,
    (channel, here): (&Channel, &ChannelPrice),
    day: NaiveDate,
) -> Option<(String, Lies)> {
    let Books { book, costed, .. } = index.books;
    let place = channel.place.filter(|_| costed.until.is_some_and(|until| index.period.covers(until)));
    let lies = |place| index.on_hand(product).any(|lot| lot.place == place && lot.quantity.is_sign_positive());
    let marked = place.filter(|place| lies(*place)).and_then(|place| index.marked.on(book, place, product, day));
    match (marked, &here.at_last_price) {
        (Some(marked), _) => {
            Some((price_text(book, marked.price), if marked.sale.is_none() { Lies::AtList } else { Lies::AtLast }))
        }
        // Of a channel that is no place of the shop it isn't known what lies there.
        (None, last) => Some((last.as_ref()?.price.clone(), if channel.place.is_some() { Lies::No } else { Lies::AtLast })),
    }
}

/// What a buyer paid last, less the discount of that sale; the list price where none was sold, or where it changed since.
fn asked(
    index: &PriceIndex<'_>,
    (product, priced): (ThingId, &PricedProduct<'_>),
    channel: ChannelId,
    one: &ChannelPrice,
) -> Option<(String, &'static str)> {
    let list = || one.at_list_price.as_ref().map(|at| (at.price.clone(), ""));
    let Some(last) = &one.at_last_price else { return list() };
    let changes = index.books.book.thing(product).price.changes();
    let changed = changes.iter().rev().map(|(from, _)| *from).find(|from| priced.day.is_some_and(|day| *from <= day));
    let sold = priced.sold.get(&channel).and_then(|sold| sold.last).map(|(_, _, day)| day);
    if changed > sold && one.at_list_price.is_some() {
        return list();
    }
    let lowered = last_discount(index, product, channel).and_then(|(off, goods)| {
        let price = Fixed6::from_decimal_exact(last.price.parse().ok()?)?;
        let off = mul_div_round(price.micros(), off.micros(), goods.micros()).map(Fixed6::from_micros)?;
        price.checked_sub(off).map(unit_cost_text)
    });
    Some(lowered.map_or_else(|| (last.price.clone(), ""), |price| (price, " after its discount")))
}

/// What part of the goods of its last sale in a channel was taken off as a discount, at most all of it; nothing where none was.
fn last_discount(index: &PriceIndex<'_>, product: ThingId, channel: ChannelId) -> Option<(Fixed6, Fixed6)> {
    let (log, period) = (index.books.log, index.period);
    let is_there = |sold: &Sold| sold.channel == Some(channel) && sold.lines.iter().any(|line| line.thing == product);
    let sold = log.events.iter().rev().filter(|event| period.covers(event.date)).find_map(|event| match &event.kind {
        EventKind::Sold(sold) if is_there(sold) => Some(sold),
        _ => None,
    })?;
    let goods = Fixed6::checked_sum(sold.lines.iter().map(|line| line.value))?;
    (sold.discount.is_positive() && goods.is_positive()).then(|| (sold.discount.min(goods), goods))
}
