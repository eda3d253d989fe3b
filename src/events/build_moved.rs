//! `sent` and `brought-back`: goods that change their place and stay the shop's.

use crate::events::entry_goods::GoodsRule;
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::events::{EventKind, Moved, StockLine};
use crate::syntax::{DetailKind, ListWord, MoneyWord};
use crate::units::Fixed6;

/// Reads a `sent` entry: from a place, or from home, to a place.
pub(crate) fn build_sent(reader: &mut EntryReader<'_>) {
    let from = match reader.head_from() {
        Some(party) => reader.place(party.span),
        None => reader.place_or_home(),
    };
    let to = reader.head_to().and_then(|party| reader.place(party.span));
    read_moved(reader, from, to);
}

/// Reads a `brought-back` entry: from a place to home, or to `at PLACE`.
pub(crate) fn build_brought_back(reader: &mut EntryReader<'_>) {
    let from = reader.head_from().and_then(|party| reader.place(party.span));
    let to = reader.place_or_home();
    read_moved(reader, from, to);
}

fn read_moved(reader: &mut EntryReader<'_>, from: Option<crate::names::PlaceId>, to: Option<crate::names::PlaceId>) {
    let mut lines: Vec<StockLine> = Vec::new();
    let mut packing: Vec<StockLine> = Vec::new();
    let mut postage = Fixed6::ZERO;
    reader.each_line(|reader, detail| match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) => {
            for item in items {
                lines.extend(reader.stock_line(item, GoodsRule::Any, detail.memo));
            }
        }
        DetailKind::Items(ListWord::PackedWith, items) => {
            for item in items {
                packing.extend(reader.stock_line(item, GoodsRule::Any, detail.memo));
            }
        }
        DetailKind::Sum(MoneyWord::Postage, money, span) => {
            if let Some(money) = reader.booked(*money, *span) {
                reader.add(&mut postage, money, *span);
            }
        }
        _ => {}
    });
    let (Some(from), Some(to)) = (from, to) else { return reader.fail() };
    if from == to {
        let told = errors::entries::same_place(reader.entry.head, &reader.desk.book.place(from).named.name);
        return reader.refuse(told);
    }
    reader.happened(EventKind::Moved(Box::new(Moved { from, to, lines, postage, packing })));
}
