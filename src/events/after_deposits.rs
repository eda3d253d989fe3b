//! Cash, card and check of a sale that come to less than its total: they may be what the deposits of its order left to be paid.
//!
//! In: all events in their order, and such sales. Out: the mistake of each that no deposit makes up for. Must not: move a figure, since the
//! sale takes its deposits by itself.

use rustc_hash::FxHashMap;

use crate::diagnostics::{Diagnostic, Diagnostics};
use crate::events::{Doubts, Event, EventKind, ReceivedFor, errors};
use crate::names::{LabelId, ResolvedBook};
use crate::sources::Span;
use crate::units::Fixed6;

/// A sale by an order of which less came in that day than it comes to.
#[derive(Clone, Debug)]
pub(crate) struct LeftOfSale {
    /// The head of the sale.
    pub(crate) sale: Span,
    /// Its order.
    pub(crate) order: LabelId,
    /// What cash, card and check leave of it; zero in other money than the shop's, of which no deposit is held.
    pub(crate) left: Fixed6,
    /// What the sale comes to, with `over` or `short`.
    pub(crate) due: Fixed6,
    /// What is told unless deposits come to just that much.
    pub(crate) told: Diagnostic,
}

/// Holds each such sale against the deposits of its order that came before it.
pub(crate) fn look_over(events: &[Event], sales: Vec<LeftOfSale>, doubts: &Doubts, book: &ResolvedBook, found: &mut Diagnostics) {
    if sales.is_empty() {
        return;
    }
    let mut sales: FxHashMap<u32, LeftOfSale> = sales.into_iter().map(|sale| (sale.sale.start, sale)).collect();
    let mut open: FxHashMap<LabelId, Fixed6> = FxHashMap::default();
    for event in events {
        match &event.kind {
            EventKind::Received(received) => {
                for line in &received.lines {
                    if let ReceivedFor::Orders(orders) = &line.what
                        && let [(order, _)] = orders.as_slice()
                    {
                        add(&mut open, *order, Some(line.money));
                    }
                }
            }
            EventKind::Returned(returned) if returned.lines.is_empty() => {
                if let Some(order) = returned.order {
                    add(&mut open, order, returned.refunded().and_then(|back| Fixed6::ZERO.checked_sub(back)));
                }
            }
            EventKind::Sold(sold) => {
                // The first sale of an order takes its deposits; what comes later settles it.
                let before = sold.order.and_then(|order| open.insert(order, Fixed6::ZERO)).unwrap_or_default();
                if let Some(sale) = sales.remove(&event.head.start)
                    && sale.left != before
                    && !doubts.papers.contains(&sale.order)
                {
                    found.push(told(sale, before, book));
                }
            }
            _ => {}
        }
    }
}

fn add(open: &mut FxHashMap<LabelId, Fixed6>, order: LabelId, money: Option<Fixed6>) {
    let so_far = open.entry(order).or_default();
    if let Some(sum) = money.and_then(|money| so_far.checked_add(money)) {
        *so_far = sum;
    }
}

fn told(sale: LeftOfSale, before: Fixed6, book: &ResolvedBook) -> Diagnostic {
    let digits = book.shop.currency.digits();
    let rest = sale.due.checked_sub(before).filter(|rest| before.is_positive() && rest.is_positive());
    match rest {
        Some(rest) => {
            let sums = [before, rest, sale.due].map(|sum| sum.to_fixed_text(digits, 6));
            errors::money::beside_a_deposit(sale.told, book.label(sale.order), &sums)
        }
        None => errors::money::after_a_deposit(sale.told, book.label(sale.order)),
    }
}
