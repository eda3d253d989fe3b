//! Why a name can't be traced, in words: what can be asked of the thing that it names, and the names that are near.

use crate::costing::Links;
use crate::diagnostics::did_you_mean;
use crate::names::Named;
use crate::reports::FigureNames;
use crate::year::Books;

/// How many lots are listed; there may be thousands.
const MOST: usize = 12;

/// That a name stands for nothing.
pub(super) fn unknown(books: Books<'_>, links: &Links, names: &FigureNames<'_>, typed: &str) -> String {
    // Of `order/W-9` the order is what was mistyped.
    let bare = ["batch", "order", "receipt", "from", "buyer", "channel", "thing", "tool"]
        .into_iter()
        .find_map(|kind| typed.strip_prefix(kind)?.strip_prefix('/'))
        .unwrap_or(typed);
    let lot = typed.strip_prefix("lot/");
    let thing = lot.map_or((bare, ""), |lot| lot.split_once('/').unwrap_or((lot, "")));
    if let Some(told) = no_such_lot(links, names, thing, lot.is_some()) {
        return told;
    }
    let book = books.book;
    if book.tools.iter().any(|tool| tool.named.name == bare) {
        return format!(
            "`{bare}` is a tool that no batch made, so there is nothing to follow; its figures are under `kerfbook why year/YEAR/equipment`"
        );
    }
    if let Some(told) = only_paid_ahead(books, bare).or_else(|| no_goods(books, bare)) {
        return told;
    }
    let things = book.things.iter().map(|thing| thing.named.name.as_str());
    let tools = book.tools.iter().map(|tool| tool.named.name.as_str());
    let batches = book.batches.iter().map(|batch| batch.name.as_str());
    let labels = links.lots.iter().filter_map(|lot| lot.origin.code);
    let orders = books.costed.orders.iter().filter_map(|order| order.order);
    let labels = labels.chain(orders).map(|label| book.label(label));
    let near = did_you_mean(thing.0, things.chain(tools).chain(batches).chain(labels));
    let near = near.map_or_else(String::new, |near| format!("; {near}"));
    format!("there is no lot, batch, order, receipt, supplier, buyer, channel or thing `{typed}`{near}")
}

/// That an order is known by its deposits alone: what was received for it, and that nothing is sold yet.
fn only_paid_ahead(books: Books<'_>, order: &str) -> Option<String> {
    let digits = books.book.shop.currency.digits();
    let of_order = books.costed.deposits.iter().filter(|deposit| books.book.label(deposit.order) == order);
    let received: Vec<String> =
        of_order.map(|one| format!("{} on {}", one.money.to_fixed_text(digits, digits), one.date)).collect();
    if received.is_empty() {
        return None;
    }
    let received = received.join(", ");
    Some(format!(
        "the order `{order}` is not sold yet, so no goods can be followed; received for it: {received}; its sale will say `order \"{order}\"`"
    ))
}

/// That a name is of something through which no goods went, or that is no goods at all.
fn no_goods(books: Books<'_>, name: &str) -> Option<String> {
    let book = books.book;
    let is = |named: &Named| named.name == name;
    let what = match () {
        () if book.channels.iter().any(|one| is(&one.named)) => {
            return Some(format!("nothing was sold through the channel `{name}`, so there is nothing to follow"));
        }
        () if book.places.iter().any(|one| is(&one.named)) => {
            return Some(format!(
                "`{name}` is a place; what lies there is under `kerfbook stock`, and each lot of it can be followed"
            ));
        }
        () if book.lines.iter().any(is) => "a product line",
        () if book.patterns.iter().any(|one| is(&one.named)) => "a pattern",
        () if book.helpers.iter().any(|one| is(&one.named)) => "a helper",
        () if book.steps.iter().any(|one| is(&one.named)) => "a step",
        () if book.expenses.iter().any(|one| is(&one.named)) => "an expense",
        () if book.incomes.iter().any(|one| is(&one.named)) => "an income",
        () => return None,
    };
    Some(format!(
        "`{name}` is {what}, and only goods are followed: a lot, batch, order, receipt, supplier, buyer, channel or thing"
    ))
}

/// That a thing has no lot, or not that one: those that it has, the newest first. `None` where there is no such thing.
fn no_such_lot(links: &Links, names: &FigureNames<'_>, (thing, which): (&str, &str), asked_for_a_lot: bool) -> Option<String> {
    let id = names.thing_of(thing)?;
    let lots: Vec<&str> = links.lots.iter().rev().filter(|lot| lot.thing == id).map(|lot| names.lot(lot.origin.number)).collect();
    if lots.is_empty() {
        return Some(format!("no lot of `{thing}` ever came, so there is nothing to follow"));
    }
    if !asked_for_a_lot {
        return None;
    }
    let (count, noun) = (lots.len(), if lots.len() == 1 { "lot" } else { "lots" });
    let listed: Vec<String> = lots.iter().take(MOST).map(|lot| format!("`lot/{lot}`")).collect();
    let listed = listed.join(", ");
    let order = if count > 1 { ", the newest first" } else { "" };
    let has = match count > MOST {
        true => format!("it has {count} {noun}, the newest {MOST} of them are {listed}"),
        false => format!("it has {count} {noun}{order}: {listed}"),
    };
    let all = format!("`thing/{thing}` follows all of them");
    if which.is_empty() {
        return Some(format!("`lot/{thing}` does not say which lot of `{thing}`; {has}; {all}"));
    }
    // The near names are only asked where there is something to be near to.
    let of_thing = lots.iter().filter_map(|lot| lot.split_once('/')).map(|(_, which)| which);
    let near = did_you_mean(which, of_thing).map_or_else(String::new, |near| format!("; {near}"));
    Some(format!("there is no lot `{which}` of `{thing}`{near}; {has}; {all}"))
}
