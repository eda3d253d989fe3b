//! A look over deposits: one for an order that no entry sells, while the one who paid it bought later as another order.

use chrono::NaiveDate;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, ReceivedFor, Sold, errors};
use crate::names::{LabelId, ResolvedBook, core_of_name};
use crate::sources::Span;

/// A deposit: its order, who paid it, and the line.
struct Deposit {
    order: LabelId,
    from: LabelId,
    line: Span,
}

/// Looks over all deposits and sales in their order. A sale that may be a deposit's is paid at once, has none of its own, and is one of its payer, or one of an order whose name
/// is the same save for case, joints and zeros before a number; each deposit is told once.
pub(crate) fn look_over(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let mut known: FxHashSet<LabelId> = FxHashSet::default();
    for event in events {
        match &event.kind {
            EventKind::Sold(sold) => known.extend(sold.order),
            EventKind::Returned(returned) => known.extend(returned.order),
            _ => {}
        }
    }
    // Which of them are paid for before they are sold.
    let mut with_deposit: FxHashSet<LabelId> = FxHashSet::default();
    let mut of_payer: FxHashMap<LabelId, Vec<Deposit>> = FxHashMap::default();
    let mut payer_of_name: FxHashMap<String, LabelId> = FxHashMap::default();
    let mut first_payer: FxHashMap<LabelId, (LabelId, NaiveDate, Span)> = FxHashMap::default();
    for event in events {
        match &event.kind {
            EventKind::Received(received) => {
                let is_channel = book.channels.iter().any(|channel| channel.named.name == book.label(received.from));
                for line in &received.lines {
                    let ReceivedFor::Orders(orders) = &line.what else { continue };
                    for (order, _) in orders.iter().filter(|_| !is_channel) {
                        let (payer, day, head) = *first_payer.entry(*order).or_insert((received.from, event.date, line.span));
                        if payer != received.from && !may_be_one(book.label(payer), book.label(received.from)) {
                            let names = [book.label(payer), book.label(received.from)];
                            found.push(errors::meanings::two_payers(line.span, book.label(*order), names, (day, head)));
                        }
                    }
                    with_deposit.extend(orders.iter().map(|(order, _)| *order));
                    if let [(order, _)] = orders.as_slice()
                        && !known.contains(order)
                    {
                        payer_of_name.insert(core_of_name(book.label(*order)), received.from);
                        let deposit = Deposit { order: *order, from: received.from, line: line.span };
                        of_payer.entry(received.from).or_default().push(deposit);
                    }
                }
            }
            EventKind::Sold(sold)
                if !of_payer.is_empty()
                    && is_paid_at_once(sold)
                    && !sold.order.is_some_and(|order| with_deposit.contains(&order)) =>
            {
                let named = sold.order.map(|order| core_of_name(book.label(order)));
                let by_name = named.as_ref().and_then(|name| payer_of_name.get(name)).copied();
                for payer in sold.buyer.into_iter().chain(by_name) {
                    for deposit in of_payer.remove(&payer).unwrap_or_default() {
                        found.push(told(&deposit, sold, event, book));
                    }
                }
            }
            _ => {}
        }
    }
}

/// Whether two names may be of one payer: a word of the one stands in the other, `Kay` and `Mrs. A. Kay`.
fn may_be_one(one: &str, other: &str) -> bool {
    let words = |name: &str| -> Vec<String> {
        let words = name.split(|letter: char| !letter.is_alphanumeric()).map(str::to_lowercase);
        words.filter(|word| word.len() > 2 && !["the", "mrs", "and"].contains(&word.as_str())).collect()
    };
    let other = words(other);
    words(one).iter().any(|word| other.contains(word))
}

fn is_paid_at_once(sold: &Sold) -> bool {
    sold.settlement.payments.iter().any(|payment| payment.money.is_none())
}

fn told(deposit: &Deposit, sold: &Sold, event: &Event, book: &ResolvedBook) -> crate::diagnostics::Diagnostic {
    let sale = sold.order.map(|order| book.label(order));
    errors::slips::deposit_without_its_sale(
        deposit.line,
        book.label(deposit.order),
        book.label(deposit.from),
        (event.date, event.head),
        sale,
    )
}
