//! A look over sales: one without the tax line of its channel's others, and a deposit that may be counted twice.

use chrono::NaiveDate;
use rustc_hash::FxHashMap;

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, ReceivedFor, Sold, errors};
use crate::names::{ChannelId, ChannelShare, LabelId, ResolvedBook};
use crate::sources::Span;
use crate::units::Fixed6;

/// Looks over all sales in their order.
pub(crate) fn look_over(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    look_for_tax(events, book, found);
    look_for_deposits(events, book, found);
}

/// How many sales of a channel have a tax line, and how many have none.
#[derive(Default)]
struct Taxed {
    with: usize,
    without: usize,
}

fn look_for_tax(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let mut channels: FxHashMap<ChannelId, Taxed> = FxHashMap::default();
    let sales = || {
        events.iter().filter_map(|event| match &event.kind {
            EventKind::Sold(sold) => owes_tax(sold, event.date, book).map(|channel| (event, sold, channel)),
            _ => None,
        })
    };
    for (_, sold, channel) in sales() {
        let taxed = channels.entry(channel).or_default();
        *(if sold.taxes.is_empty() { &mut taxed.without } else { &mut taxed.with }) += 1;
    }
    for (event, sold, channel) in sales() {
        let Some(taxed) = channels.get(&channel) else { continue };
        // Where many sales of a channel have no tax, that is how the shop sells there.
        let an_exception = taxed.with > taxed.without || taxed.without == 1 && taxed.with > 0;
        if sold.taxes.is_empty() && an_exception {
            found.push(errors::slips::no_tax_line(event.head, &book.channel(channel).named.name, taxed.with));
        }
    }
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
