//! `opened`, `contributed`, `found`: goods that came without being bought, and what was owed when the book began.

use crate::events::build_bought::certificate_said;
use crate::events::entry_goods::{GoodsRule, Stocked};
use crate::events::entry_prices::PriceSaid;
use crate::events::entry_reader::EntryReader;
use crate::events::{EventKind, OpenDebt, Opened, OpenedHow, OpenedLine, OpenedTool};
use crate::events::{errors, no_effect};
use crate::names::Known;
use crate::sources::Span;
use crate::syntax::{Detail, DetailKind, Item, ListWord, Party, Purpose, Reference, SaidWhat, Verb};
use crate::units::Fixed6;

/// Reads an `opened`, `contributed` or `found` entry.
pub(crate) fn build_opened(reader: &mut EntryReader<'_>) {
    let how = match reader.entry.verb {
        Verb::Contributed => OpenedHow::Contributed,
        Verb::Found => OpenedHow::Found,
        _ => OpenedHow::Opened,
    };
    let place = reader.place_or_home();
    let mut opened = Opened {
        how,
        place: crate::names::PlaceId(0),
        lines: Vec::new(),
        tools: Vec::new(),
        on_batches: Vec::new(),
        owed_by: Vec::new(),
        owed_to: Vec::new(),
    };
    reader.each_line(|reader, detail| match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) => {
            for item in items {
                read_item(reader, &mut opened, item);
            }
        }
        DetailKind::Money { money, money_span, purpose, .. } => {
            if let Some(money) = reader.booked(*money, *money_span) {
                read_money(reader, &mut opened, money, purpose, detail);
            }
        }
        _ => {}
    });
    let Some(place) = place else { return };
    opened.place = place;
    reader.happened(EventKind::Opened(Box::new(opened)));
}

fn read_item(reader: &mut EntryReader<'_>, opened: &mut Opened, item: &Item) {
    let rule = if opened.how == OpenedHow::Found { GoodsRule::Any } else { GoodsRule::PacksNamed };
    let Ok(price) = reader.price_said(item) else { return };
    let Some(goods) = reader.goods(item, rule) else { return };
    let worth = reader.worth_said(item);
    let value = match (price, opened.how, worth) {
        (_, _, None) => return,
        (_, OpenedHow::Found, _) => Some(Fixed6::ZERO),
        // The owner's own things count at the smaller of what they cost and what they are worth.
        (Some(price), _, Some(Some(worth))) => {
            let cost = reader.line_value(item, &goods, price, rust_decimal::Decimal::ZERO);
            cost.map(|sum| sum.booked.min(worth))
        }
        (Some(price), _, _) => reader.line_value(item, &goods, price, rust_decimal::Decimal::ZERO).map(|sum| sum.booked),
        (None, OpenedHow::Contributed, Some(Some(worth))) => Some(worth),
        (None, _, _) => {
            let told = errors::goods::no_value(item.span, reader.text(item.span), "what it is worth");
            reader.refuse(told);
            None
        }
    };
    let (Some(value), Some(minutes)) = (value, reader.hours_said(item)) else { return };
    no_effect::tell_of_item(reader, item, matches!(goods.what, Stocked::Thing(_)));
    match goods.what {
        Stocked::Thing(thing) => opened.lines.push(OpenedLine {
            thing,
            quantity: goods.quantity,
            value,
            minutes,
            lot: reader.lot_said(item),
            price: price.map_or_else(Span::default, PriceSaid::span),
            certificate: certificate_said(item),
            span: item.span,
        }),
        Stocked::Tool(tool) => {
            let recovered = item.said.iter().find_map(|said| match said.what {
                SaidWhat::AlreadyRecovered(money) => Some((money, said.span)),
                _ => None,
            });
            let already_recovered = match recovered {
                Some((money, span)) => match reader.booked(money, span) {
                    Some(money) if money > value => {
                        let told = errors::money::recovered_more(span, &reader.as_written(value));
                        return reader.refuse(told);
                    }
                    Some(money) => money,
                    None => return,
                },
                None => Fixed6::ZERO,
            };
            opened.tools.push(OpenedTool { tool, count: goods.quantity, value, already_recovered, span: item.span });
        }
    }
}

fn read_money(reader: &mut EntryReader<'_>, opened: &mut Opened, money: Fixed6, purpose: &Purpose, detail: &Detail) {
    match purpose {
        Purpose::OnBatch(name) => {
            if let Some(batch) = reader.batch(*name) {
                opened.on_batches.push((batch, money, detail.span));
            }
        }
        Purpose::OwedBy(party, reference) => opened.owed_by.extend(debt(reader, *party, *reference, money, detail.span)),
        Purpose::OwedTo(party, reference) => opened.owed_to.extend(debt(reader, *party, *reference, money, detail.span)),
        Purpose::For(_) | Purpose::ForHome | Purpose::Settles(_) | Purpose::SalesTax { .. } | Purpose::Off(_) => {
            reader.fail();
        }
    }
}

fn debt(reader: &mut EntryReader<'_>, party: Party, reference: Option<Reference>, money: Fixed6, span: Span) -> Option<OpenDebt> {
    let label = reader.party(party)?;
    let (mut helper, mut pattern) = (None, None);
    match reader.known_quietly(party.span) {
        Some(Known::Helper(id)) => helper = Some(id),
        Some(Known::Pattern(id)) => pattern = Some(id),
        _ => {}
    }
    let mut of_day = None;
    let reference = match reference {
        Some(Reference::Receipt(name) | Reference::Order(name)) => Some(reader.label(name)?),
        Some(Reference::Bought(day, _) | Reference::Sold(day, _)) => {
            of_day = Some(day);
            None
        }
        None => None,
    };
    Some(OpenDebt { party: label, helper, pattern, money, reference, of_day, span })
}
