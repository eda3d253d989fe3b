//! What a reader of a price must know beside its figures: what a channel takes itself and what a price bears of it, the way to its place, the last fair.

use chrono::NaiveDate;
use rust_decimal::{Decimal, RoundingStrategy};

use super::Wanted;
use super::in_channel::{Priced, Reckoned};
use crate::names::{ResolvedBook, ThingId};
use crate::reports::period::{minutes_text, quantity_text, said_money, unit_cost_text};
use crate::reports::price_name;
use crate::reports::report_cost::price_text;

/// What the last fair of a channel cost, which is to be met where nothing else was asked about, and how its figures are asked for. The outer `None` is overflow.
pub(super) fn learnt_fair(
    book: &ResolvedBook,
    priced: &Priced<'_>,
    (product, wanted): (ThingId, Wanted),
    has_figures: bool,
) -> Option<Option<String>> {
    let Some(fair) = priced.fair else { return Some(None) };
    let channel = &priced.channel.named.name;
    let why = has_figures.then(|| price_name(book, product, wanted));
    let why = why.map_or_else(String::new, |figure| {
        format!("; `kerfbook why {figure}/{channel}/break-even-pieces` tells why so many pieces meet it")
    });
    Some(Some(format!(
        "what `{channel}` is to meet is what {} took: {}, and {} min of yours; `--fixed` and `--hours` ask about another{why}",
        fair.named(),
        fair.money_in_words(book),
        minutes_text(fair.minutes)
    )))
}

/// What a price bears of what a channel takes itself, and from what that was learnt; where it is too much for any price, that it is. The outer `None` is overflow.
fn borne_by_value(priced: &Priced<'_>, here: &Reckoned<'_>) -> Option<Option<String>> {
    let (book, channel, own) = (priced.book, &priced.channel.named.name, here.own);
    if own.is_nothing() {
        return Some(None);
    }
    let took = own.in_words(book);
    let Some((percent, minutes)) = own.expenses_percent().zip(own.minutes_per_hundred()) else {
        return Some(Some(format!(
            "`{channel}` itself took {took} and brought in nothing in these days: no price there bears any of that"
        )));
    };
    let mut parts = Vec::new();
    if !own.expenses.is_zero() {
        parts.push(format!("{percent} % of what it brings in"));
    }
    if !own.minutes.is_zero() {
        let tenths = minutes.to_decimal()?.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero);
        parts.push(format!("{} min for each {} of it", tenths.normalize(), price_text(book, Decimal::ONE_HUNDRED)));
    }
    let mut note = format!(
        "`{channel}` itself took {took} for {} of sales of all products; a price there bears that by value: {}",
        said_money(book, own.revenue),
        parts.join(", and ")
    );
    if let Some(rate) = priced.asked.per_hour.filter(|_| priced.is_carried_by_no_price(here).unwrap_or(false)) {
        note.push_str(&format!(
            ". With your hours at {} that is {}, more than such sales leave after fees: no price earns the hour there, since a dearer piece bears more of it, too",
            said_money(book, rate),
            said_money(book, own.money(rate)?)
        ));
    }
    Some(Some(note))
}

/// What a piece bears, or doesn't, beside what its sales cost: the way to the channel's place, and what is spent for days to come. The outer `None` is overflow.
pub(super) fn beside_sales(priced: &Priced<'_>, last: Option<NaiveDate>) -> Option<Vec<String>> {
    let (book, channel, here) = (priced.book, &priced.channel.named.name, priced.reckon()?);
    let mut notes: Vec<String> = borne_by_value(priced, &here)?.into_iter().collect();
    let pieces = here.sent_pieces();
    if pieces > Decimal::ZERO {
        let words: Vec<String> =
            [(here.sent_postage, here.sent.postage, "postage"), (here.sent_packing, here.sent.packing, "packing")]
                .into_iter()
                .filter(|(each, ..)| !each.is_zero())
                .map(|(each, all, what)| format!("{} of {what} ({} in all)", unit_cost_text(each), said_money(book, all)))
                .collect();
        let noun = if pieces == Decimal::ONE { "piece" } else { "pieces" };
        notes.push(format!(
            "a piece of `{channel}` bears the way there, too: {}, learnt from {} {noun} sent there and not taken away again",
            words.join(" and "),
            quantity_text(pieces)
        ));
    }
    if let Some(last) = last.filter(|_| !priced.sold.ahead.is_zero()) {
        notes.push(format!(
            "{} spent on `{channel}` is meant for days after {last}, so no piece sold before bears it",
            said_money(book, priced.sold.ahead)
        ));
    }
    Some(notes)
}
