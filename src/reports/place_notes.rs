//! What a reader of a place's list must know beside its figures: what is marked at another price than the list's, or was until the list's ended it, and what was sold there and came back to
//! another place, with what that took off what the place owes.

use std::collections::BTreeMap;

use crate::costing::Bill;
use crate::events::{EventKind, ReturnFate};
use crate::names::{PlaceId, ResolvedBook};
use crate::reports::PlaceRow;
use crate::reports::marked_price::Marked;
use crate::reports::period::{money_text, quantity_text, said_money};
use crate::reports::report_cost::price_text;
use crate::units::Fixed6;
use crate::year::Books;

/// That what is there is marked at another price than the list's, in a sentence; nothing where it isn't, or nothing is there.
pub(crate) fn marked_anew(row: &PlaceRow) -> Option<String> {
    let (price, day) = (row.asked.as_ref()?, row.asked_by_sale_of.as_ref()?);
    if row.left == "0" || row.list_price.as_ref() == Some(price) {
        return None;
    }
    let list = match &row.list_price {
        Some(list) => format!("your list price is {list}"),
        None => "it has no list price".to_owned(),
    };
    Some(format!("{} is marked {price} there, as it was sold on {day}; {list}.", row.title))
}

/// That what is there was sold at another price than the list's which is asked now, in a sentence; nothing where it wasn't, or nothing is there.
pub(crate) fn price_ended(book: &ResolvedBook, row: &PlaceRow, asked: Option<Marked>) -> Option<String> {
    let (price, ended) = (row.asked.as_ref()?, asked?.ended?);
    let last = price_text(book, ended.price);
    let says =
        || format!("{} was sold there last at {last} on {}; by your list it is {price} {}.", row.title, ended.sold, ended.why());
    (row.left != "0").then(says)
}

/// What was sold at each place and came back from its buyer, but not to there, in the order of the days: by its order, else by the channel that sells there.
pub(crate) fn came_back_elsewhere(books: Books<'_>) -> BTreeMap<PlaceId, Vec<String>> {
    let book = books.book;
    let (mut sold_at, mut notes) = (BTreeMap::new(), BTreeMap::<PlaceId, Vec<String>>::new());
    for event in books.log.events.iter().filter(|event| Some(event.date) <= books.costed.until) {
        match &event.kind {
            EventKind::Sold(sold) => {
                sold_at.extend(sold.order.map(|order| (order, sold.place)));
            }
            EventKind::Returned(returned) => {
                let by_channel = || returned.channel.and_then(|channel| book.channel(channel).place);
                let from = match returned.order {
                    Some(order) => sold_at.get(&order).copied(),
                    None => by_channel(),
                };
                let Some(from) = from.filter(|from| Some(*from) != book.shop.home) else { continue };
                let order = returned.order.map_or_else(String::new, |order| format!(" of order {}", book.label(order)));
                for line in &returned.lines {
                    let whither = match line.fate {
                        ReturnFate::BackToStock if returned.place == from => continue,
                        ReturnFate::BackToStock => format!("came back to {}", book.place(returned.place).named.title),
                        ReturnFate::Scrapped => "came back and was scrapped".to_owned(),
                        ReturnFate::LeftWithBuyer => "was refunded and left with its buyer".to_owned(),
                    };
                    let money = match line.refunded.is_zero() {
                        true => String::new(),
                        false => format!(", for {}", said_money(book, line.refunded)),
                    };
                    let title = &book.thing(line.thing).named.title;
                    let much = quantity_text(line.quantity);
                    notes.entry(from).or_default().push(format!(
                        "{much} {title}{order} {whither} on {}{money}: it stays among what was sold here, and is not there.",
                        event.date
                    ));
                }
            }
            _ => {}
        }
    }
    notes
}

/// What a sale came to at first, where something lowered that by a day; the outer `None` is a figure too large to be carried.
pub(crate) fn lowered(books: Books<'_>, bill: &Bill, order: &str, total: Fixed6) -> Option<Option<String>> {
    let until = books.costed.until;
    let by = Fixed6::checked_sum(bill.lowered.iter().filter(|(day, _)| Some(*day) <= until).map(|(_, money)| *money))?;
    if by.is_zero() {
        return Some(None);
    }
    let money = |money| money_text(books.book, money);
    let first = total.checked_add(by)?;
    Some(Some(format!(
        "{order} came to {} at first; what went back for it took {} off that: {}.",
        money(first),
        money(by),
        money(total)
    )))
}
