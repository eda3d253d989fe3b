//! What a reader of a price must know beside its figures: what a channel takes itself and what a piece bears of it, the way to its place, the last fair.

use chrono::NaiveDate;
use rust_decimal::{Decimal, RoundingStrategy};

use super::Wanted;
use super::in_channel::{Priced, Reckoned};
use super::own_share::BroughtInBy;
use crate::names::{ResolvedBook, ThingId};
use crate::reports::period::{minutes_text, quantity_text, said_money, unit_cost_text};
use crate::reports::price_name;

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

/// What a piece bears of what a channel takes itself, and from what that was learnt. The outer `None` is overflow.
fn borne_by_value(priced: &Priced<'_>, here: &Reckoned<'_>) -> Option<Option<String>> {
    let (book, channel, own) = (priced.book, &priced.channel.named.name, here.own);
    if own.is_nothing() {
        return Some(None);
    }
    let took = own.in_words(book);
    if !own.revenue.is_positive() {
        return Some(Some(format!(
            "`{channel}` itself took {took} and brought in nothing in these days: no piece there bears any of that"
        )));
    }
    let mut parts = Vec::new();
    if !here.own_expenses.is_zero() {
        parts.push(unit_cost_text(here.own_expenses));
    }
    if !here.own_minutes.is_zero() {
        let tenths = here.own_minutes.to_decimal()?.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero);
        parts.push(format!("{} min", tenths.normalize()));
    }
    let bears = if parts.is_empty() { "none of that".to_owned() } else { parts.join(" and ") };
    let brings = unit_cost_text(here.brings_in);
    let learnt = match here.brought_in_by {
        BroughtInBy::Sales(..) => format!("one of this product brought in {brings} there"),
        by => format!("one of this product, not sold there, would bring in {brings} more by {}", by.text()),
    };
    Some(Some(format!(
        "`{channel}` itself took {took} for {} of sales of all products; {learnt}, so it bears {bears} of that, whatever is asked for it",
        said_money(book, own.revenue)
    )))
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
