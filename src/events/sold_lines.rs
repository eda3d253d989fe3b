//! A line of goods in a sale: how many, at which price.
//!
//! Without a price it costs the list price of the day, through a wholesale channel that channel's part of it. A written price is what
//! the shop gets (wholesale) or what the customer pays (consignment), and is never cut again. `12 board, 7 back`: five sold.

use rust_decimal::Decimal;

use crate::events::SoldLine;
use crate::events::entry_goods::{GoodsRule, Measured, Stocked};
use crate::events::entry_money::Sum;
use crate::events::entry_prices::PriceSaid;
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::names::{ChannelShare, ThingId, ThingKind};
use crate::sources::Span;
use crate::syntax::{Item, SaidWhat};
use crate::units::{Fixed6, checked_mul_exact, checked_sub_exact, div_to_nine};

/// Through what goods are sold.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Selling {
    /// What the channel keeps.
    pub(crate) share: ChannelShare,
    /// Whether the channel is known; else a missing price is no mistake of its own.
    pub(crate) channel_known: bool,
}

/// Reads an item of a sale and what it comes to. No line where all pieces were brought back.
pub(crate) fn read_sold_item(reader: &mut EntryReader<'_>, item: &Item, selling: Selling) -> Option<(Option<SoldLine>, Sum)> {
    let price = reader.price_said(item).ok()?;
    let summed = reader.may_compare();
    let Some(goods) = reader.goods(item, GoodsRule::Any) else {
        let brought_back = item.said.iter().any(|said| matches!(said.what, SaidWhat::Back(_)));
        let price = price.filter(|_| !brought_back)?;
        return reader.value_of_unknown(item, price, summed).map(|value| (None, value));
    };
    let Stocked::Thing(thing) = goods.what else {
        let told = errors::goods::tool_is_no_stock(item.name, reader.text(item.name), reader.date, reader.entry.verb);
        reader.refuse(told);
        return None;
    };
    let (quantity, back) = sold_quantity(reader, item, &goods)?;
    if quantity.is_zero() {
        return Some((None, Sum::ZERO));
    }
    let list = *reader.desk.book.thing(thing).price.on(reader.date);
    let list_value = match list {
        Some(price) => Some(reader.list_sum(price, quantity, item.span)?),
        None => None,
    };
    if let (Some(PriceSaid::For(money, span)), Some(list)) = (price, list) {
        warn_of_for(reader, thing, selling, (money, span), list, quantity);
    }
    let value = match price {
        Some(price) => reader.line_value(item, &goods, price, back)?,
        None => listed_value(reader, item, thing, selling, list, quantity)?,
    };
    let line = SoldLine {
        thing,
        quantity,
        lot: reader.lot_said(item),
        value: value.booked,
        list_value: list_value.map(|sum| sum.booked),
        span: item.span,
    };
    Some((Some(line), value))
}

/// How many were sold, and how many were brought back.
fn sold_quantity(reader: &mut EntryReader<'_>, item: &Item, goods: &Measured) -> Option<(Decimal, Decimal)> {
    let back: Option<(Decimal, Span)> =
        item.said.iter().find_map(|said| if let SaidWhat::Back(back) = said.what { Some((back, said.span)) } else { None });
    let Some((back, span)) = back else { return Some((goods.quantity, Decimal::ZERO)) };
    let rest = reader.exact(checked_sub_exact(goods.quantity, back), span)?;
    if rest.is_sign_negative() && !rest.is_zero() {
        let told = errors::goods::more_back(span, item.amount.span, reader.text(item.name));
        reader.refuse(told);
        return None;
    }
    Some((rest, back))
}

/// The value of a line without a price.
fn listed_value(
    reader: &mut EntryReader<'_>,
    item: &Item,
    thing: ThingId,
    selling: Selling,
    list: Option<Decimal>,
    quantity: Decimal,
) -> Option<Sum> {
    let Some(list) = list else {
        let named = &reader.desk.book.thing(thing).named;
        if named.incomplete {
            reader.fail();
        } else {
            let told = errors::goods::no_price(item.span, reader.text(item.span), &named.name, reader.date)
                .also(named.span, "defined here");
            let is_product = reader.desk.book.thing(thing).kind == ThingKind::Product;
            let told = if is_product { told } else { errors::goods::or_packing(told, reader.text(item.span), item.span) };
            reader.refuse(told);
        }
        return None;
    };
    match selling.share {
        _ if !selling.channel_known => None,
        ChannelShare::Wholesale(percent) => {
            // The part is taken before rounding, so that a line is rounded once.
            let hundredth = Decimal::new(1, 2);
            let part = reader.exact(checked_mul_exact(percent, hundredth), item.span)?;
            let price = reader.exact(checked_mul_exact(list, part), item.span)?;
            reader.list_sum(price, quantity, item.span)
        }
        ChannelShare::None | ChannelShare::Consignment(_) => reader.list_sum(list, quantity, item.span),
    }
}

/// `2 pull-cart for 42.00` where the price of one is 42.00.
fn warn_of_for(
    reader: &mut EntryReader<'_>,
    thing: ThingId,
    selling: Selling,
    (money, span): (Decimal, Span),
    list: Decimal,
    quantity: Decimal,
) {
    let price_of_one = match selling.share {
        ChannelShare::Wholesale(percent) => {
            checked_mul_exact(list, percent).ok().and_then(|part| part.checked_div(Decimal::ONE_HUNDRED))
        }
        ChannelShare::None | ChannelShare::Consignment(_) => Some(list),
    };
    if quantity <= Decimal::ONE || reader.coin.foreign.is_some() || (price_of_one != Some(money) && money != list) {
        return;
    }
    let digits = reader.coin.book.digits();
    let Some(each) = div_to_nine(money, quantity).ok().and_then(Fixed6::round_from_decimal) else { return };
    let money = reader.text(span).trim_start_matches("for").trim_start().to_owned();
    let count = quantity.normalize().to_string();
    let name = &reader.desk.book.thing(thing).named.name;
    let told = errors::slips::for_or_at(span, &money, &count, &each.to_fixed_text(digits, digits), name);
    reader.tell(told);
}
