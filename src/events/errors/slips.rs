//! Wording: what reads well and is probably not what was meant.

use chrono::NaiveDate;

use crate::diagnostics::Diagnostic;
use crate::events::errors as code;
use crate::sources::Span;

/// `each`: what `for` makes of one; `price`: what the list says of one.
pub(crate) fn for_or_at(span: Span, money: &str, count: &str, each: &str, name: &str) -> Diagnostic {
    let message = format!("{money} for {count} is {each} each; the price of `{name}` is {money}");
    Diagnostic::new(code::FOR_OR_AT, span, message).fix(format!("if {money} is the price of one"), span, format!("at {money}"))
}

/// A price that is far above the last lot's, and what it is probably of.
#[derive(Clone, Copy)]
pub(crate) struct TooHigh<'t> {
    /// The money.
    pub(crate) money: &'t str,
    /// The unit or pack in which the line counts, where it is not the thing's own.
    pub(crate) typed: Option<&'t str>,
    /// What one of the thing's own unit cost before.
    pub(crate) last: &'t str,
    /// Whether it is near to the price of one of the thing's own unit.
    pub(crate) of_own_unit: bool,
    /// Whether it is near to the price of the whole line.
    pub(crate) of_whole: bool,
}

pub(crate) fn at_or_for(span: Span, high: TooHigh<'_>, of: OfThing<'_>, day: NaiveDate, lot: Span) -> Diagnostic {
    let TooHigh { money, last, .. } = high;
    let (name, unit) = (of.name, of.unit);
    let per = high.typed.map_or_else(String::new, |typed| format!(" per {typed}"));
    let message = format!("`{name}` at {money}{per} is far above the {last} per {unit} of {day}");
    let told = Diagnostic::new(code::AT_OR_FOR, span, message).also(lot, "the last lot");
    let told = match high.of_own_unit {
        true => told.fix(format!("if {money} is the price per {unit}"), span, format!("at {money} per {unit}")),
        false => told,
    };
    match high.of_whole {
        true => told.fix(format!("if {money} is for the whole line"), span, format!("for {money}")),
        false => told,
    }
}

/// A thing and its unit, as they are told.
#[derive(Clone, Copy)]
pub(crate) struct OfThing<'t> {
    /// Its name.
    pub(crate) name: &'t str,
    /// Its unit.
    pub(crate) unit: &'t str,
}

/// `each`: what `for` makes of one unit; `last`: what one cost before.
pub(crate) fn for_or_at_of_lot(
    span: Span,
    money: &str,
    each: &str,
    last: &str,
    of: OfThing<'_>,
    day: NaiveDate,
    lot: Span,
) -> Diagnostic {
    let (name, unit) = (of.name, of.unit);
    let message = format!("{money} for the whole line is {each} per {unit}, far below the {last} of `{name}` on {day}");
    Diagnostic::new(code::FOR_OR_AT, span, message).also(lot, "the last lot").fix(
        format!("if {money} is the price of one"),
        span,
        format!("at {money}"),
    )
}

/// `each`: what one unit costs now; `last`: what one cost before.
pub(crate) fn far_from_last(line: Span, each: &str, last: &str, of: OfThing<'_>, day: NaiveDate, lot: Span) -> Diagnostic {
    let (name, unit) = (of.name, of.unit);
    let message = format!("`{name}` at {each} per {unit} is far from the {last} of {day}");
    Diagnostic::new(code::FAR_FROM_LAST, line, message)
        .also(lot, "the last lot")
        .note("if it is right, a line `expected \"why\"` in the entry says so")
}

pub(crate) fn odometer_down(span: Span, reading: &str, before: &str, day: NaiveDate, first: Span) -> Diagnostic {
    Diagnostic::new(code::DOES_NOT_FIT, span, format!("the odometer stands at {reading} mi, below the {before} mi of {day}"))
        .also(first, "the reading before")
}

pub(crate) fn odometer_short(span: Span, turned: &str, driven: &str, day: NaiveDate, first: Span) -> Diagnostic {
    let message = format!("the odometer turned by {turned} mi since {day}, and {driven} mi were driven for the shop in between");
    Diagnostic::new(code::DOES_NOT_FIT, span, message).also(first, "the reading before")
}

pub(crate) fn more_than_a_day(line: Span, day: NaiveDate) -> Diagnostic {
    Diagnostic::new(code::DOES_NOT_FIT, line, format!("with this the owner worked more than 16 hours on {day}"))
        .note("if it is the work of several days, each day has an entry of its own")
}

pub(crate) fn paid_in_an_earlier_year(line: Span, paid: NaiveDate, sold: NaiveDate) -> Diagnostic {
    let message = format!("paid on {paid}, in a year before the sale of {sold}");
    Diagnostic::new(code::DOES_NOT_FIT, line, message)
        .note("money for a sale to come is `received` on its day, `for order \"…\"`, and the sale names the order")
}

/// `more` are other entries of days to come that aren't told one by one.
pub(crate) fn in_the_future(span: Span, day: NaiveDate, today: NaiveDate, more: usize) -> Diagnostic {
    let told = Diagnostic::new(
        code::IN_THE_FUTURE,
        span,
        format!("{day} is a day to come, for today is {today}; the entry counts as if it had happened"),
    );
    let told = if more == 0 { told } else { told.note(format!("{more} more entries are of days to come; this is the earliest")) };
    told.note("a wrong month or year? if it is meant, a line `expected \"why\"` in the entry says so")
}

pub(crate) fn last_years_number(span: Span, meant: NaiveDate, neighbour: Span) -> Diagnostic {
    Diagnostic::new(code::LAST_YEARS_NUMBER, span, "this is a year before the entries around it")
        .also(neighbour, "beside this one")
        .fix("if last year's number slipped in", span, meant.to_string())
}

pub(crate) fn same_twice(second: Span, first: Span, what: &str) -> Diagnostic {
    Diagnostic::new(code::SAME_TWICE, second, format!("the same {what}, day and total stand in another entry"))
        .also(first, "the other one")
        .note("delete one of them; if both happened, say so with a line `note \"…\"`")
}

pub(crate) fn same_receipt(second: Span, first: Span, receipt: &str, supplier: &str) -> Diagnostic {
    let message = format!("receipt `{receipt}` of `{supplier}` stands in another entry too");
    Diagnostic::new(code::SAME_RECEIPT, second, message)
        .also(first, "the other one")
        .note("a receipt is known by its supplier and number, so what is paid for it could be for either")
}

pub(crate) fn paid_again(span: Span, bill: Span, text: &str, supplier: &str, day: NaiveDate, line: &str) -> Diagnostic {
    let message = format!("{text} to `{supplier}` is already in the purchase of {day}, which is not paid yet");
    Diagnostic::new(code::PAID_AGAIN, span, message).also(bill, "the purchase").fix(
        "to settle it, and not to count it a second time",
        span,
        line,
    )
}

/// An expense that a channel was paid, and that is not said to be for selling there.
pub(crate) fn channel_paid(line: Span, channel: &str) -> Diagnostic {
    let message = format!("`{channel}` is a channel, and this cost is not put to it");
    Diagnostic::new(code::CHANNEL_PAID, line, message)
        .note(format!("a cost of selling there has the channel behind its sum: `60.00 for booth-fee on {channel}`; else `pays` counts it on no channel"))
        .note("if it is for something else, a line `expected \"why\"` in the entry says so")
}

pub(crate) fn no_tax_line(span: Span, channel: &str, with: usize) -> Diagnostic {
    let message = format!("this sale has no sales tax, and {}", others_have(channel, with));
    Diagnostic::new(code::NO_TAX_LINE, span, message).note(
        "tax on top is `sales-tax 8.40`, tax within the prices `sales-tax 6% included`; if none was due, nothing is missing",
    )
}

pub(crate) fn no_fee(span: Span, channel: &str, with: usize) -> Diagnostic {
    let message = format!("this sale has no line `fee`, and {}", others_have(channel, with));
    Diagnostic::new(code::NO_FEE, span, message)
        .note(format!("what a channel takes of every sale stands once at `channel {channel}`: `fee 3% of total`; `fee 0.00` says that there was none"))
}

fn others_have(channel: &str, with: usize) -> String {
    match with {
        1 => format!("another sale through `{channel}` has"),
        _ => format!("{with} other sales through `{channel}` have"),
    }
}

pub(crate) fn deposit_twice(sale: Span, deposit: Span, money: &str, from: &str, day: NaiveDate) -> Diagnostic {
    let message = format!("`{from}` paid {money} on {day} as income, and this sale counts in full as well");
    Diagnostic::new(code::DEPOSIT_TWICE, sale, message)
        .also(deposit, "received here")
        .note(format!("if that was a deposit on this sale, both name the order: `{money} for order \"…\"`"))
}

pub(crate) fn fee_beside_share(span: Span, channel: &str, percent: &str, share: &str) -> Diagnostic {
    let message = format!("`{channel}` keeps its {percent} % ({share}) beside this fee");
    Diagnostic::new(code::FEE_BESIDE_SHARE, span, message)
        .note("`fee` replaces the channel's fees and never its share; if nothing else was kept, leave the line out")
}

/// `what`: the figure as it is told; `against`: what it is held against.
pub(crate) fn out_of_proportion(line: Span, what: &str, against: &str) -> Diagnostic {
    Diagnostic::new(code::OUT_OF_PROPORTION, line, format!("{what}, {against}"))
        .note("a point that slipped? if it is right, a line `expected \"why\"` in the entry says so")
}

/// `sale`: the day and head of what the payer of the deposit bought; `named`: its order.
pub(crate) fn deposit_without_its_sale(
    line: Span,
    order: &str,
    payer: &str,
    sale: (NaiveDate, Span),
    named: Option<&str>,
) -> Diagnostic {
    let sold = named.map_or_else(|| "a sale without an order".to_owned(), |named| format!("order `{named}`"));
    let message = format!("order `{order}` is sold nowhere in the book, so this deposit of `{payer}` stays open");
    Diagnostic::new(code::DEPOSIT_WITHOUT_SALE, line, message)
        .also(sale.1, format!("{sold} of {} was paid in full without it", sale.0))
        .note("if that is the same order, give both one name; if it is still to be made, a line `expected \"why\"` says so")
}

/// `thing`: what was kept; `source`: of what, where its definition says so.
pub(crate) fn kept_at_nothing(line: Span, thing: &str, source: Option<&str>) -> Diagnostic {
    let all = source.map_or_else(|| "all of its material".to_owned(), |source| format!("all of the `{source}`"));
    let message =
        format!("this `{thing}` is kept at no worth, so its batch bears {all}, and what is made of it later costs nothing");
    Diagnostic::new(code::KEPT_AT_NOTHING, line, message)
        .note("`worth 1.20` behind it moves that much from the batch to the shelf; told once for each thing, and of none of which a line says `worth 0.00`")
        .fix("if that is meant, say so", Span::new(line.end, line.end), " worth 0.00")
}

/// `behind`: behind the head of the expense, or of the shop where an expense `counts` as overhead already; `from_expenses`: whether the
/// shop takes its overhead from expenses.
pub(crate) fn not_in_the_full_cost(payment: Span, expense: &str, behind: Span, counts: bool, from_expenses: bool) -> Diagnostic {
    let message = format!("`{expense}` is paid month after month, and no part of it is in what a piece costs in full");
    let told = Diagnostic::new(code::NOT_IN_FULL_COST, payment, message);
    let told = match (counts, from_expenses) {
        (true, _) => told
            .note("an expense counts as overhead, but the shop has no `overhead`: `overhead from expenses`, or a rate, `overhead 3.50 per h`")
            .fix("spread what was paid over the hours", behind, "\n    overhead from expenses"),
        (false, true) => told.fix("if it is for the workshop", behind, "\n    counts as overhead"),
        (false, false) => told
            .note("and `shop` says how it reaches the pieces: `overhead from expenses`, or a rate, `overhead 3.50 per h`")
            .fix("if it is for the workshop", behind, "\n    counts as overhead"),
    };
    told.note("the tax year has it either way; if it is no cost of making, a line `expected \"why\"` in this entry says so")
}

/// `to`: the account; `owed`: what was collected for it and not paid over yet.
pub(crate) fn more_tax_than_collected(line: Span, to: Option<&str>, owed: &str) -> Diagnostic {
    let to = to.map(|to| format!(" for `{to}`")).unwrap_or_default();
    let message = format!("by the book {owed} of sales tax{to} is still to be paid over, and this is more");
    Diagnostic::new(code::MORE_TAX_THAN_COLLECTED, line, message)
        .note(
            "tax that buyers paid stands in the sale: `sales-tax 8.40` on top of the prices, `sales-tax 6% included` within them",
        )
        .note("tax that the shop paid when it bought is part of that purchase: a line `sales-tax 9.31` in its `bought` entry")
        .note("if it was collected before the book began, or is due all the same, a line `expected \"why\"` in the entry says so")
}
