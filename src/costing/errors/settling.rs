//! What is told of a sum that settles nothing: what was named, what is open with that party, and what was probably meant.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors::{NOTHING_OWED, label, money};
use crate::costing::{Bill, OrderLine};
use crate::diagnostics::{Diagnostic, near_names};
use crate::events::hired_time::{HiredTime, nearest_time};
use crate::events::{EventKind, PaidLine};
use crate::names::{ChannelShare, LabelId, NEARLY_ANOTHER, PatternId};
use crate::sources::Span;
use crate::syntax::is_code;
use crate::units::{Fixed6, line_total};

/// How many open bills are listed where none is near to what was written.
const MOST: usize = 5;

/// A receipt that the payee has no open bill of.
pub(crate) fn receipt_not_owed(engine: &Engine<'_>, to: LabelId, receipt: LabelId, place: Span) -> Diagnostic {
    let (payee, typed) = (engine.book.label(to), engine.book.label(receipt));
    let open: Vec<LabelId> = engine.owed.open_receipts(to).collect();
    let told = Diagnostic::new(NOTHING_OWED, place, format!("nothing is owed to `{payee}` for receipt `{typed}`"));
    let told = offer(engine, told, typed, place, open, &format!("open with `{payee}`"));
    let others: Vec<String> = engine.owed.suppliers_of(receipt).map(|other| format!("`{}`", label(engine, other))).collect();
    let told = match others.iter().min() {
        Some(other) => told.note(format!("a receipt of that number is from {other}")),
        None => told,
    };
    told.note("a bill without a number is known by its day: `for bought 2026-06-05`")
}

/// A day on which nothing was bought that is not paid.
pub(crate) fn day_not_owed(engine: &Engine<'_>, to: LabelId, day: NaiveDate, place: Span) -> Diagnostic {
    let payee = engine.book.label(to);
    let told = Diagnostic::new(NOTHING_OWED, place, format!("nothing is owed to `{payee}` for what was bought on {day}"));
    let mut open: Vec<NaiveDate> = engine.owed.open_days(to).collect();
    open.sort_unstable_by_key(|one| ((*one - day).abs(), *one));
    let told = open.iter().take(2).fold(told, |told, one| told.fix("this day is open", place, format!("bought {one}")));
    if open.is_empty() { told.note(format!("nothing bought from `{payee}` is open on {}", engine.now.date)) } else { told }
}

/// A helper to whom no hired time is owed: time that was paid on its day needs no payment.
pub(crate) fn helper_not_owed(engine: &Engine<'_>, name: LabelId, line: &PaidLine, times: &[HiredTime]) -> Diagnostic {
    let (place, name) = (line.named, engine.book.label(name));
    if let Some(time) = nearest_time(times, line.money, engine.now.date).filter(|time| !time.paid_later) {
        let (paid, day) = (money(engine, time.pay), time.date);
        let told = Diagnostic::new(NOTHING_OWED, place, format!("nothing is owed to `{name}` for hired time"))
            .also(time.line, format!("{paid} for the time of `{name}`, paid on its day"));
        let of_same = time.pay == line.money;
        let told = match of_same {
            true => told
                .note(format!("the book has it: the time of {day} stands with its pay, {paid}, so this payment needs no line")),
            false => told.note(format!(
                "time of `{name}` stands in the book with its pay, as that of {day}, {paid}: a payment for that needs no line"
            )),
        };
        return told.note(format!(
            "where `{name}` is paid on another day than that of the time, a line `paid later` at the helper says so"
        ));
    }
    let step = engine.book.steps.first().map_or("STEP", |step| step.named.name.as_str());
    Diagnostic::new(NOTHING_OWED, place, format!("nothing is owed to `{name}` for hired time"))
        .note(format!("the time stands with what it cost in its batch, `took 3h {step} by {name} for 60.00`, or in `worked`, `3h {step} by {name} for 60.00`"))
        .note("hired time is paid on its day, unless the helper is defined as `paid later`")
}

/// A pattern for which no royalty is owed.
pub(crate) fn royalty_not_owed(engine: &Engine<'_>, pattern: PatternId, place: Span) -> Diagnostic {
    let name = &engine.book.pattern(pattern).named.name;
    Diagnostic::new(NOTHING_OWED, place, format!("no royalty is owed for `{name}`"))
        .note("a royalty is paid on the day of the making, unless the pattern is defined as `paid later`")
}

/// One of several orders that was not sold; `named` are all that the line names.
pub(crate) fn order_not_owed(
    engine: &Engine<'_>,
    from: LabelId,
    (order, place): (LabelId, Span),
    named: &[(LabelId, Span)],
) -> Diagnostic {
    let (payer, typed) = (engine.book.label(from), engine.book.label(order));
    let others = engine.owed.open_orders().filter(|(one, _)| named.iter().all(|(named, _)| named != one));
    let of_payer: Vec<LabelId> = others.filter(|(_, bill)| is_owed_by(engine, bill, from)).map(|(order, _)| order).collect();
    let told = Diagnostic::new(NOTHING_OWED, place, format!("nothing is owed for order `{typed}`: it was not sold by this day"));
    offer(engine, told, typed, place, of_payer, &format!("open with `{payer}`"))
        .note("a deposit is for one order, with a sum of its own")
}

/// A deposit for an order that no entry sells, where the payer owes an order of nearly that name; `None` where it owes none. An
/// order with the next number is a new one, and so is one with any number after it.
pub(crate) fn deposit_meant_for_another(
    engine: &Engine<'_>,
    from: LabelId,
    (order, place): (LabelId, Span),
) -> Option<Diagnostic> {
    let (payer, typed) = (engine.book.label(from), engine.book.label(order));
    let of_payer = engine.owed.open_orders().filter(|(_, bill)| is_owed_by(engine, bill, from));
    let mut open: Vec<(&str, Span)> = of_payer.map(|(order, bill)| (engine.book.label(order), bill.line)).collect();
    open.retain(|(name, _)| fits_in_place(name, typed) && !is_numbered_after(typed, name));
    let near = near_names(typed, open.iter().map(|(name, _)| *name));
    let message = format!("order `{typed}` is sold nowhere in the book, so this is a deposit for it; is it nearly another?");
    let told = Diagnostic::new(NEARLY_ANOTHER, place, message).label(format!("`{payer}` owes an order of nearly this name"));
    if near.is_empty() {
        return None;
    }
    Some(near.into_iter().fold(told, |told, name| {
        let sold = open.iter().find(|(one, _)| *one == name).map(|(_, sold)| *sold);
        let told = sold.into_iter().fold(told, |told, sold| told.also(sold, format!("`{name}` is open")));
        told.fix(format!("if `{name}` is meant"), place, name)
    }))
}

/// Whether two names are the same save for their digits, and the first has the larger number.
fn is_numbered_after(one: &str, other: &str) -> bool {
    let digits_blank = |name: &str| -> Vec<Option<char>> {
        let mut letters: Vec<Option<char>> = name.chars().map(|one| (!one.is_ascii_digit()).then_some(one)).collect();
        letters.dedup_by(|a, b| a.is_none() && b.is_none());
        letters
    };
    digits_blank(one) == digits_blank(other) && (one.len(), one) > (other.len(), other)
}

/// Whether a name may take another's place where it stands: a code may stand without quotes; what is no code has them, and another
/// text may take its place between them.
fn fits_in_place(name: &str, typed: &str) -> bool {
    is_code(name) || !is_code(typed)
}

/// Whether the payer is the buyer of an order, or the channel through which it was sold.
fn is_owed_by(engine: &Engine<'_>, bill: &Bill, payer: LabelId) -> bool {
    let channel = match engine.log.events.get(bill.event as usize).map(|event| &event.kind) {
        Some(EventKind::Sold(sold)) => sold.channel,
        _ => None,
    };
    let channel = channel.map(|channel| engine.book.channel(channel).named.name.as_str());
    bill.party == Some(payer) || channel == Some(engine.book.label(payer))
}

/// Offers what is near to what was written, or lists what is open where that is little.
fn offer(engine: &Engine<'_>, told: Diagnostic, typed: &str, place: Span, known: Vec<LabelId>, what: &str) -> Diagnostic {
    let mut known: Vec<&str> = known.into_iter().map(|one| engine.book.label(one)).collect();
    known.sort_unstable();
    known.dedup();
    let near = near_names(typed, known.iter().copied().filter(|name| fits_in_place(name, typed)));
    if near.is_empty() && !known.is_empty() && known.len() <= MOST {
        let listed: Vec<String> = known.iter().map(|one| format!("`{one}`")).collect();
        return told.note(format!("{what}: {}", listed.join(", ")));
    }
    near.into_iter().fold(told, |told, name| told.fix(format!("did you mean `{name}`?"), place, name))
}

/// So many lines of an order are told.
const MOST_LINES: usize = 4;

/// When a bill was paid of which nothing is owed any more.
pub(crate) fn with_payments(told: Diagnostic, engine: &Engine<'_>, bill: u32) -> Diagnostic {
    let Some(bill) = usize::try_from(bill).ok().and_then(|at| engine.owed.bills.get(at)) else { return told };
    let days: Vec<String> = bill.paid.iter().map(|(day, sum)| format!("{} on {day}", money(engine, *sum))).collect();
    if days.is_empty() || days.len() > 4 {
        return told;
    }
    told.note(format!("it is paid: {}; what is entered without a line `unpaid` counts as paid on its own day", days.join(", ")))
}

/// Adds how what a wholesale order comes to was reckoned: `4 candle at 14.00, of which the buyer pays 40 %: 22.40`. Of another bill nothing.
pub(crate) fn with_reckoning(told: Diagnostic, engine: &Engine<'_>, bill: u32) -> Diagnostic {
    let account = engine.orders.accounts.iter().find(|account| account.bill == Some(bill));
    let Some((account, channel)) = account.and_then(|account| Some((account, engine.book.channel(account.channel?)))) else {
        return told;
    };
    let reckoned = |line: &OrderLine| {
        let ChannelShare::Wholesale(percent) = *channel.share.on(line.date) else { return None };
        let (count, name) = (line.quantity.normalize(), engine.thing_name(line.thing));
        let part = percent.checked_mul(Decimal::new(1, 2))?;
        let by_list = engine.book.thing(line.thing).price.on(line.date).filter(|list| {
            let each = list.checked_mul(part);
            let whole = each.and_then(|each| line_total(each, line.quantity, engine.book.shop.currency).ok());
            whole == Some(line.value)
        });
        let value = money(engine, line.value);
        Some(match by_list.and_then(Fixed6::from_decimal_exact) {
            Some(list) => {
                let (list, percent) = (money(engine, list), percent.normalize());
                format!("{count} `{name}` at {list}, of which `{}` pays {percent} %: {value}", channel.named.name)
            }
            None => format!("{count} `{name}` at the price that the sale says: {value}"),
        })
    };
    let mut written: Vec<&OrderLine> = account.lines.iter().collect();
    written.sort_by_key(|line| line.span.start);
    let Some(lines) = written.into_iter().map(reckoned).collect::<Option<Vec<String>>>().filter(|lines| !lines.is_empty()) else {
        return told;
    };
    let more = match lines.len().saturating_sub(MOST_LINES) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    told.note(format!("the order: {}{more}", lines.iter().take(MOST_LINES).cloned().collect::<Vec<_>>().join("; ")))
}
