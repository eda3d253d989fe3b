//! `swapped`: goods for goods. It is a sale and a purchase of the same worth, and no money moves.
//!
//! One side's prices fix the other: what is given costs the list price of the day unless it says another, and one line without a
//! price takes what is left of the other side's worth.

use rust_decimal::Decimal;

use crate::events::entry_goods::{GoodsRule, Stocked};
use crate::events::entry_money::Sum;
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::events::{Bought, BoughtLine, BoughtWhat, EventKind, Payment, Settlement, Sharing, Sold, SoldLine, Tender};
use crate::sources::Span;
use crate::syntax::{Detail, DetailKind, Item, ListWord};
use crate::units::Fixed6;

/// One side of the swap while it is read.
#[derive(Default)]
struct Side {
    lines: Vec<SideLine>,
    worth: Sum,
    open: Option<usize>,
}

struct SideLine {
    what: Stocked,
    quantity: Decimal,
    lot: Option<crate::names::LabelId>,
    value: Fixed6,
    list_value: Option<Fixed6>,
    memo: Span,
    span: Span,
}

/// Reads a `swapped` entry.
pub(crate) fn build_swapped(reader: &mut EntryReader<'_>) {
    let place = reader.place_or_home();
    let with = reader.head_with().and_then(|party| reader.party(party));
    let receipt = reader.receipt();
    let (mut gave, mut got) = (Side::default(), Side::default());
    reader.each_line(|reader, detail| {
        if let DetailKind::Items(word @ (ListWord::Gave | ListWord::Got), items) = &detail.kind {
            let given = *word == ListWord::Gave;
            let side = if given { &mut gave } else { &mut got };
            for item in items {
                read_item(reader, side, item, detail, given);
            }
        }
    });
    if reader.may_compare() && (gave.lines.is_empty() || got.lines.is_empty()) {
        let told = errors::goods::swap_has_two_sides(reader.entry.head, gave.lines.is_empty());
        return reader.refuse(told);
    }
    if !agree(reader, &mut gave, &mut got) {
        return reader.fail();
    }
    let (Some(place), Some(with)) = (place, with) else { return reader.fail() };
    if let Some(line) = got.lines.iter().find(|line| gave.lines.iter().any(|given| given.what == line.what)) {
        let Stocked::Thing(thing) = line.what else { return reader.fail() };
        let told = errors::meanings::swapped_for_the_same(line.span, &reader.desk.book.thing(thing).named.name);
        reader.tell(told);
    }
    let settlement = || Settlement {
        payments: vec![Payment { money: None, date: reader.date, span: reader.entry.head }],
        available: None,
        said_unpaid: false,
    };
    let (sale, purchase) = (settlement(), settlement());
    reader.happened(EventKind::Bought(Box::new(Bought {
        supplier: Some(with),
        receipt,
        place,
        lines: got.lines.into_iter().map(bought_line).collect(),
        freight: (Fixed6::ZERO, Sharing::Value),
        discount: (Fixed6::ZERO, Sharing::Value),
        sales_tax: Fixed6::ZERO,
        credit: Fixed6::ZERO,
        settlement: purchase,
        swapped: true,
    })));
    reader.happened(EventKind::Sold(Box::new(Sold {
        channel: None,
        place,
        order: None,
        buyer: Some(with),
        lines: gave.lines.into_iter().filter_map(sold_line).collect(),
        incomes: Vec::new(),
        discount: Fixed6::ZERO,
        shipping: Fixed6::ZERO,
        taxes: Vec::new(),
        postage: Fixed6::ZERO,
        packing: Vec::new(),
        fee: None,
        extra_fees: Fixed6::ZERO,
        tender: Tender::default(),
        settled: None,
        settlement: sale,
    })));
}

fn read_item(reader: &mut EntryReader<'_>, side: &mut Side, item: &Item, detail: &Detail, given: bool) {
    let Ok(price) = reader.price_said(item) else { return };
    let rule = if given { GoodsRule::Any } else { GoodsRule::PacksNamed };
    let Some(goods) = reader.goods(item, rule) else { return };
    if let (true, Stocked::Tool(_)) = (given, goods.what) {
        let told = errors::goods::tool_is_no_stock(item.name, reader.text(item.name), reader.date, reader.entry.verb);
        return reader.refuse(told);
    }
    let list = match goods.what {
        Stocked::Thing(thing) if given => *reader.desk.book.thing(thing).price.on(reader.date),
        _ => None,
    };
    let list_value = list.and_then(|price| reader.list_sum(price, goods.quantity, item.span));
    let value = match price {
        Some(price) => reader.line_value(item, &goods, price, Decimal::ZERO),
        None => list_value,
    };
    if price.is_some() && value.is_none() {
        return;
    }
    if let Some(value) = value {
        reader.plus(&mut side.worth, value, item.span);
    } else if let Some(first) = side.open.and_then(|at| side.lines.get(at)) {
        let told = errors::goods::two_open_sides(item.span, first.span);
        return reader.refuse(told);
    } else {
        side.open = Some(side.lines.len());
    }
    side.lines.push(SideLine {
        what: goods.what,
        quantity: goods.quantity,
        lot: reader.lot_said(item),
        value: value.map_or(Fixed6::ZERO, |sum| sum.booked),
        list_value: list_value.map(|sum| sum.booked),
        memo: detail.memo,
        span: item.span,
    });
}

/// Gives the line without a price what the other side leaves it, and checks that both sides are worth the same.
fn agree(reader: &mut EntryReader<'_>, gave: &mut Side, got: &mut Side) -> bool {
    if !reader.may_compare() {
        return true;
    }
    match (gave.open, got.open) {
        (Some(given), Some(taken)) => {
            let spans = (gave.lines.get(given).map(|line| line.span), got.lines.get(taken).map(|line| line.span));
            let told = errors::goods::two_open_sides(spans.1.unwrap_or_default(), spans.0.unwrap_or_default());
            reader.refuse(told);
            false
        }
        (Some(at), None) => fill(reader, gave, at, got.worth),
        (None, Some(at)) => fill(reader, got, at, gave.worth),
        (None, None) if gave.worth.written != got.worth.written => {
            let (given, taken) = (reader.as_written(gave.worth.written), reader.as_written(got.worth.written));
            let told = errors::goods::swap_differs(reader.entry.head, &given, &taken);
            reader.refuse(told);
            false
        }
        (None, None) => true,
    }
}

fn fill(reader: &mut EntryReader<'_>, side: &mut Side, at: usize, other: Sum) -> bool {
    let left = other.minus(side.worth);
    let Some(line) = side.lines.get_mut(at) else { return false };
    match left.filter(|left| !left.booked.is_negative()) {
        Some(left) => {
            line.value = left.booked;
            true
        }
        None => {
            let (there, here) = (reader.as_written(other.written), reader.as_written(side.worth.written));
            let told = errors::goods::swap_differs(line.span, &here, &there);
            reader.refuse(told);
            false
        }
    }
}

fn bought_line(line: SideLine) -> BoughtLine {
    let what = match line.what {
        Stocked::Thing(thing) => BoughtWhat::Stock { thing, quantity: line.quantity, billed: None, lot: line.lot },
        Stocked::Tool(tool) => BoughtWhat::Tool { tool, count: line.quantity },
    };
    BoughtLine {
        what,
        value: line.value,
        measure: None,
        discount_measure: None,
        price: Span::default(),
        certificate: Span::default(),
        memo: line.memo,
        span: line.span,
    }
}

fn sold_line(line: SideLine) -> Option<SoldLine> {
    let Stocked::Thing(thing) = line.what else { return None };
    Some(SoldLine {
        thing,
        quantity: line.quantity,
        lot: line.lot,
        value: line.value,
        list_value: line.list_value,
        span: line.span,
    })
}
