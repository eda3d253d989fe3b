//! A look over bills and payments: the same one twice, and a bill paid as a new expense.

use chrono::NaiveDate;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::entry_text::entry_text;
use crate::events::slips_of_remarks::says_one_of;
use crate::events::{Bought, Event, EventKind, Paid, PaidFor, errors};
use crate::names::{Channel, CountsAs, ExpenseId, FeeRule, LabelId, ResolvedBook};
use crate::sources::{SourceSet, Span};
use crate::units::Fixed6;

/// A bill that was not paid in full when it was entered.
struct OpenBill {
    day: NaiveDate,
    receipt: Option<LabelId>,
    head: Span,
}

/// A bill or payment of the day: who, how much, and whether it is a payment.
type OfTheDay = (LabelId, Fixed6, bool);

/// Looks over all bills and payments in their order.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let mut receipts: FxHashMap<(LabelId, LabelId), Span> = FxHashMap::default();
    let mut open: FxHashMap<(LabelId, Fixed6), OpenBill> = FxHashMap::default();
    let mut of_the_day: FxHashMap<OfTheDay, (Span, Span, Option<LabelId>)> = FxHashMap::default();
    let mut day = None;
    let mut asked: FxHashSet<LabelId> = FxHashSet::default();
    let mut card_fees: FxHashSet<ExpenseId> = FxHashSet::default();
    for event in events {
        if day != Some(event.date) {
            day = Some(event.date);
            of_the_day.clear();
        }
        let key = match &event.kind {
            EventKind::Bought(bought) if !bought.swapped => note_bill(event, bought, &mut open),
            EventKind::Paid(paid) => {
                look_at_payment(event, paid, sources, book, &mut open, found);
                look_for_channel(event.date, paid, book, &mut asked, found);
                look_for_card_fees(event.date, paid, book, &mut card_fees, found);
                sum_of(paid).map(|sum| ((paid.to, sum, true), paid.receipt))
            }
            _ => None,
        };
        let mut known_receipt = false;
        if let EventKind::Bought(bought) = &event.kind
            && let (Some(supplier), Some(receipt)) = (bought.supplier, bought.receipt)
            && let Some(first) = receipts.insert((supplier, receipt), event.head)
        {
            known_receipt = true;
            found.push(errors::slips::same_receipt(event.head, first, book.label(receipt), book.label(supplier)));
        }
        let Some((key, receipt)) = key else { continue };
        if let Some((first, first_entry, other)) = of_the_day.get(&key) {
            let told_apart = receipt.is_some() && other.is_some() && receipt != *other;
            if !known_receipt && !told_apart && !has_note(sources, event.span) && !has_note(sources, *first_entry) {
                let what = if key.2 { "payee" } else { "seller" };
                found.push(errors::slips::same_twice(event.head, *first, what));
            }
        } else {
            of_the_day.insert(key, (event.head, event.span, receipt));
        }
    }
}

/// Whether a line `note` stands in an entry.
pub(crate) fn has_note(sources: &SourceSet, entry: Span) -> bool {
    entry_text(sources, entry).lines().skip(1).any(|line| line.starts_with("note "))
}

fn sum_of(paid: &Paid) -> Option<Fixed6> {
    Fixed6::checked_sum(paid.lines.iter().map(|line| line.money))
}

fn note_bill(
    event: &Event,
    bought: &Bought,
    open: &mut FxHashMap<(LabelId, Fixed6), OpenBill>,
) -> Option<(OfTheDay, Option<LabelId>)> {
    let (supplier, total) = (bought.supplier?, bought.total()?);
    let paid_all = bought.settlement.payments.iter().any(|payment| payment.money.is_none());
    if !paid_all {
        let paid = Fixed6::checked_sum(bought.settlement.payments.iter().filter_map(|payment| payment.money))?;
        let rest = total.checked_sub(paid)?.checked_sub(bought.credit)?;
        for sum in [rest, total] {
            if sum.is_positive() {
                open.insert((supplier, sum), OpenBill { day: event.date, receipt: bought.receipt, head: event.head });
            }
        }
    }
    Some(((supplier, total, false), bought.receipt))
}

/// Tells of an expense that a channel of the book was paid and that is not said to be for selling there, once a channel.
fn look_for_channel(day: NaiveDate, paid: &Paid, book: &ResolvedBook, asked: &mut FxHashSet<LabelId>, found: &mut Diagnostics) {
    let Some(channel) = book.channels.iter().find(|channel| channel.named.name == book.label(paid.to)) else { return };
    let line = paid.lines.iter().find(|line| match line.what {
        PaidFor::Expense { expense, on: None, .. } => *book.expense(expense).counts_as.on(day) == CountsAs::Unassigned,
        _ => false,
    });
    if let Some(line) = line.filter(|_| asked.insert(paid.to)) {
        found.push(errors::slips::channel_paid(line.span, &channel.named.name));
    }
}

/// Tells of card fees that are paid by themselves, where a channel of that day takes them of each of its sales; once an expense.
fn look_for_card_fees(
    day: NaiveDate,
    paid: &Paid,
    book: &ResolvedBook,
    asked: &mut FxHashSet<ExpenseId>,
    found: &mut Diagnostics,
) {
    let of_cards = |channel: &&Channel| {
        !channel.named.incomplete && channel.fees.on(day).iter().any(|fee| matches!(fee, FeeRule::OfCard(_)))
    };
    let Some(channel) = book.channels.iter().find(of_cards) else { return };
    for line in &paid.lines {
        let PaidFor::Expense { expense, .. } = line.what else { continue };
        let named = &book.expense(expense).named;
        let says = |words: &[&str]| says_one_of(&named.name, words) || says_one_of(&named.title, words);
        if says(&["card", "cards", "payment", "merchant"]) && says(&["fee", "fees", "processing"]) && asked.insert(expense) {
            found.push(errors::meanings::card_fees_twice(line.span, &named.name, &channel.named.name));
        }
    }
}

fn look_at_payment(
    event: &Event,
    paid: &Paid,
    sources: &SourceSet,
    book: &ResolvedBook,
    open: &mut FxHashMap<(LabelId, Fixed6), OpenBill>,
    found: &mut Diagnostics,
) {
    for line in &paid.lines {
        match line.what {
            PaidFor::Expense { .. } => {
                let Some(bill) = open.get(&(paid.to, line.money)) else { continue };
                if has_note(sources, event.span) {
                    continue;
                }
                let money = line.money.to_fixed_text(book.shop.currency.digits(), 6);
                let settles = match bill.receipt {
                    Some(receipt) => format!("{money} for receipt \"{}\"", book.label(receipt)),
                    None => format!("{money} for bought {}", bill.day),
                };
                let supplier = book.label(paid.to);
                found.push(errors::slips::paid_again(line.span, bill.head, &money, supplier, bill.day, &settles));
            }
            PaidFor::Receipt(_) | PaidFor::BoughtOn(_) => {
                open.remove(&(paid.to, line.money));
            }
            PaidFor::SalesTax { .. } | PaidFor::Helper { .. } | PaidFor::Royalty(_) => {}
        }
    }
}
