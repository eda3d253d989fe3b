//! What is told of a sale or a return whose money is likely not as it was meant, and how `expected` answers it.

use chrono::NaiveDate;

use crate::costing::engine::Engine;
use crate::costing::errors::likely::meant;
use crate::costing::errors::{money, with_unit};
use crate::costing::{OrderAccount, OrderLine};
use crate::diagnostics::{Code, Diagnostic};
use crate::events::ReturnedLine;
use crate::names::ChannelId;
use crate::sources::Span;
use crate::units::Fixed6;

const SETTLED_AND_OWED: Code = Code(962);
const SHARE_KEPT: Code = Code(973);
const WHICH_SALE: Code = Code(977);

/// A consigned sale that says what reaches the shop, and not that it came.
pub(crate) fn settled_and_owed(engine: &Engine<'_>, channel: ChannelId, owed: Fixed6, line: Span) -> Diagnostic {
    let name = &engine.book.channel(channel).named.name;
    let owed = money(engine, owed);
    let message = format!("`settled` says what the sale brings, and not that it came: `{name}` still owes {owed}");
    Diagnostic::new(SETTLED_AND_OWED, line, message)
        .note("what is sold on consignment is owed until it is paid; where the money came that day, a line `paid` says so")
        .note(format!("where it comes later, a line `unpaid` says so, and `received DATE from {name}` when it is there"))
        .note("a line `expected \"why\"` answers it too")
}

/// Money back that names neither its order nor its goods. `orders`: from how many orders it may be.
pub(crate) fn which_sale(engine: &Engine<'_>, order: (NaiveDate, Span), orders: usize, things: usize, line: Span) -> Diagnostic {
    let of = if things > 1 { format!(", all {things} things of it by their value") } else { String::new() };
    let message = format!("which sale is this for? it lowers the last one, of {}{of}", order.0);
    let told = Diagnostic::new(WHICH_SALE, line, message).also(order.1, "refunded");
    let told = if orders > 1 {
        told.note(format!("the channel has {orders} sales by {}; `order \"…\"` in the head says which", engine.now.date))
    } else {
        told
    };
    meant(
        told.note("goods that are paid back and stay with the buyer are written `1 pull-cart, refunded 42.00, left with buyer`"),
    )
}

/// A consigned sale that comes back while its channel keeps its share.
pub(crate) fn share_kept(engine: &Engine<'_>, channel: ChannelId, (refunded, share): (Fixed6, Fixed6)) -> Diagnostic {
    let name = &engine.book.channel(channel).named.name;
    let (refunded, share) = (money(engine, refunded), money(engine, share));
    let message = format!("{refunded} is refunded for goods, and `{name}` keeps its share of them, {share}");
    meant(
        Diagnostic::new(SHARE_KEPT, engine.now.head, message)
            .note(format!("what it gives back of its share is a line of the entry: `fee back {share}`")),
    )
}

/// Goods back, of no order that is named, for which more is refunded than their sale brought: `taken` is that sale, `other` one that brought as much.
pub(crate) fn dearer_than_sold(
    engine: &Engine<'_>,
    taken: &OrderAccount,
    line: &ReturnedLine,
    brought: Fixed6,
    other: &OrderLine,
) -> Diagnostic {
    let digits = engine.book.shop.currency.digits();
    let (refunded, brought) = (money(engine, line.refunded), money(engine, brought.round_to(digits)));
    let (pieces, name) = (with_unit(engine, line.thing, line.quantity), engine.thing_name(line.thing));
    let which = match taken.order {
        Some(order) => format!("order `{}` of {}", engine.book.label(order), taken.date),
        None => format!("the sale of {}", taken.date),
    };
    let message = format!("this is taken of {which}, where {pieces} of `{name}` brought {brought}; {refunded} is refunded");
    let told = Diagnostic::new(WHICH_SALE, line.span, message)
        .also(taken.head, format!("this sale: {brought} for {pieces}"))
        .also(other.span, format!("one of {} brought as much as is refunded", other.date));
    meant(told.note(
        "without an order a return takes the channel's last sale of the thing; one of another sale names it, `returned DATE order \"…\"`, by the order in the head of that sale",
    ))
}
