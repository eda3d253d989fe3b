//! A look over deposits: one for an order that no entry sells, while the one who paid it bought later as another order, or an order was sold whose name holds its name.

use chrono::NaiveDate;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, ReceivedFor, Sold, errors};
use crate::names::{LabelId, ResolvedBook, core_of_name};
use crate::sources::Span;
use crate::units::Fixed6;

/// A deposit: its order, who paid it, how much, and the line.
struct Deposit {
    order: LabelId,
    from: LabelId,
    money: Fixed6,
    line: Span,
}

/// Deposits whose order is sold nowhere, each told once.
#[derive(Default)]
struct OpenDeposits {
    all: Vec<Option<Deposit>>,
    of_payer: FxHashMap<LabelId, Vec<usize>>,
    by_word: FxHashMap<String, Vec<usize>>,
}

impl OpenDeposits {
    fn add(&mut self, deposit: Deposit, book: &ResolvedBook) {
        let at = self.all.len();
        self.of_payer.entry(deposit.from).or_default().push(at);
        for word in words_of_order(book.label(deposit.order)) {
            self.by_word.entry(word).or_default().push(at);
        }
        self.all.push(Some(deposit));
    }

    /// Takes those of a payer.
    fn take_of(&mut self, payer: LabelId) -> Vec<Deposit> {
        let of_payer = self.of_payer.remove(&payer).unwrap_or_default();
        of_payer.into_iter().filter_map(|at| self.all.get_mut(at)?.take()).collect()
    }

    /// Takes those whose order is probably the one that is sold, by its name.
    fn take_named_like(&mut self, order: LabelId, buyer: Option<LabelId>, book: &ResolvedBook) -> Vec<Deposit> {
        let name = book.label(order);
        let near = words_of_order(name).into_iter().filter_map(|word| self.by_word.get(&word)).flatten();
        let mut near: Vec<usize> = near.copied().collect();
        near.sort_unstable();
        near.dedup();
        let is_one = |deposit: &Deposit| {
            may_be_one_order(book.label(deposit.order), name)
                && buyer.is_none_or(|buyer| buyer == deposit.from || may_be_one(book.label(buyer), book.label(deposit.from)))
        };
        near.into_iter().filter_map(|at| self.all.get_mut(at)?.take_if(|deposit| is_one(deposit))).collect()
    }
}

/// The words of an order's name, in small letters, without the `s` behind them: `Jane's quilt` and `Janes quilt` have the same.
fn words_of_order(name: &str) -> Vec<String> {
    let name = name.to_lowercase().replace("'s", "").replace("\u{2019}s", "");
    let words = name.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    words.map(|word| if word.len() > 3 { word.strip_suffix('s').unwrap_or(word) } else { word }.to_owned()).collect()
}

/// Whether all words of one name stand in the other, `Jane` and `Janes quilt`. What the one has more must be words, for `A` and `A 2` are two orders, and one
/// of those that both have must be a word too.
fn may_be_one_order(one: &str, other: &str) -> bool {
    let (one, other) = (words_of_order(one), words_of_order(other));
    let (few, many) = if one.len() <= other.len() { (one, other) } else { (other, one) };
    let is_word = |word: &String| word.len() > 2 && word.chars().all(char::is_alphabetic);
    let is_numbered = |word: &String| word.chars().any(|letter| letter.is_ascii_digit());
    few.iter().all(|word| many.contains(word))
        && few.iter().any(is_word)
        && !many.iter().any(|word| !few.contains(word) && is_numbered(word))
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
    let mut open = OpenDeposits::default();
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
                        open.add(Deposit { order: *order, from: received.from, money: line.money, line: line.span }, book);
                    }
                }
            }
            EventKind::Sold(sold) if !open.all.is_empty() && !sold.order.is_some_and(|order| with_deposit.contains(&order)) => {
                let named = sold.order.map(|order| core_of_name(book.label(order)));
                let by_name = named.as_ref().and_then(|name| payer_of_name.get(name)).copied();
                for payer in sold.buyer.into_iter().chain(by_name).filter(|_| is_paid_at_once(sold)) {
                    for deposit in open.take_of(payer) {
                        found.push(told(&deposit, sold, event, book));
                    }
                }
                let Some(order) = sold.order else { continue };
                for deposit in open.take_named_like(order, sold.buyer, book) {
                    let money = deposit.money.to_fixed_text(book.shop.currency.digits(), 6);
                    let names = [book.label(deposit.order), book.label(order)];
                    found.push(errors::meanings::deposit_not_taken(event.head, names, &money, deposit.line));
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
