//! `sold`: an order, or a whole fair in one entry.
//!
//! Prices of the day are looked up, wholesale prices are cut from the list, tax within prices is worked out once for the entry, and
//! what is stated is checked: total = goods - discount + shipping + tax charged by the shop; tender = total + over - short.

use rust_decimal::Decimal;

use crate::events::entry_goods::GoodsRule;
use crate::events::entry_money::Sum;
use crate::events::entry_reader::EntryReader;
use crate::events::errors;
use crate::events::no_effect;
use crate::events::sold_lines::{Selling, read_sold_item};
use crate::events::sold_tender::{Tendered, add_tender, tender_of};
use crate::events::total_explained::PartKind;
use crate::events::{EventKind, IncomeLine, Sold, StockLine, TaxLine};
use crate::names::{Channel, ChannelShare, Known, LabelId};
use crate::sources::Span;
use crate::syntax::{DefinitionWord, Detail, DetailKind, Figure, Item, ListWord, MoneyWord, Purpose, Said, SaidWhat};
use crate::units::{Fixed6, checked_add_exact};

/// A sale while its lines are read.
#[derive(Default)]
struct Sale {
    lines: Vec<crate::events::SoldLine>,
    goods: Sum,
    incomes: Vec<IncomeLine>,
    income: Sum,
    discounts: Vec<(Figure, Span)>,
    shipping: Sum,
    taxes: Vec<(Figure, Option<Span>, Span)>,
    postage: Sum,
    packing: Vec<StockLine>,
    fee: Option<(Fixed6, Span)>,
    extra_fees: Sum,
    tendered: Tendered,
    settled: Option<(Fixed6, Span)>,
    total: Option<(Decimal, Span)>,
    buyer: Option<LabelId>,
}

/// Reads a `sold` entry.
pub(crate) fn build_sold(reader: &mut EntryReader<'_>) {
    let said_place = reader.place_said();
    let order = reader.head_order().and_then(|name| reader.label(name));
    let channel_id = reader.head_via().and_then(|name| reader.channel(name));
    let channel = channel_id.map(|id| reader.desk.book.channel(id));
    let share = channel.map_or(ChannelShare::None, |channel| *channel.share.on(reader.date));
    let selling = Selling { share, channel_known: channel.is_some() };
    // Of a channel whose definition was read in part it isn't known what a price comes to.
    reader.unsummed |= channel.is_some_and(|channel| channel.named.incomplete);
    let mut sale = Sale::default();
    reader.each_line(|reader, detail| read_line(reader, &mut sale, selling, detail));

    let discounted = sale.discounts.last().map_or(reader.entry.head, |(_, line)| *line);
    let discount = discount_of(reader, &mut sale);
    let mut charged = sale.goods;
    reader.plus(&mut charged, sale.income, reader.entry.head);
    let before_discount = charged;
    reader.minus(&mut charged, discount, reader.entry.head);
    if charged.written.is_negative() && reader.may_compare() {
        let (text, before) = (reader.as_written(discount.written), reader.as_written(before_discount.written));
        reader.refuse_entry(errors::money::below_nothing(discounted, "sale", &text, &before));
    }
    let (taxes, on_top) = taxes_of(reader, &sale, channel, charged);
    let mut total = charged;
    reader.plus(&mut total, sale.shipping, reader.entry.head);
    reader.plus(&mut total, on_top, reader.entry.head);
    reader.check_total(sale.total, total, "goods less discount, with shipping and the sales tax that the shop charges");
    let tender = tender_of(reader, &sale.tendered, &sale.taxes, (order, share), (total, charged));
    if let (Some(channel), ChannelShare::Consignment(percent)) = (channel, share) {
        warn_of_fee(reader, &sale, channel, percent);
    }
    let owed = channel.is_some_and(|channel| *channel.pays_later.on(reader.date));
    let settlement = reader.settlement(Some(total), owed);

    let place = match (said_place, channel.and_then(|channel| channel.place)) {
        (Some(Some(place)), _) | (Some(None), Some(place)) => Some(place),
        (Some(None), None) => reader.home(),
        (None, _) => None,
    };
    let (Some(channel), Some(place)) = (channel_id, place) else { return };
    reader.happened(EventKind::Sold(Box::new(Sold {
        channel: Some(channel),
        place,
        order,
        buyer: sale.buyer,
        lines: sale.lines,
        incomes: sale.incomes,
        discount: discount.booked,
        shipping: sale.shipping.booked,
        taxes,
        postage: sale.postage.booked,
        packing: sale.packing,
        fee: sale.fee.map(|(fee, _)| fee),
        extra_fees: sale.extra_fees.booked,
        tender,
        settled: sale.settled.filter(|_| !reader.failed),
        settlement,
    })));
}

fn read_line(reader: &mut EntryReader<'_>, sale: &mut Sale, selling: Selling, detail: &Detail) {
    match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) => {
            if detail.memo.start == detail.memo.end {
                warn_of_the_last_price(reader, items);
            }
            for item in items {
                if let Some((line, value)) = read_sold_item(reader, item, selling) {
                    reader.plus_part(PartKind::Goods, &mut sale.goods, value, item.span);
                    sale.lines.extend(line);
                }
            }
        }
        DetailKind::Items(ListWord::PackedWith, items) => {
            for item in items {
                sale.packing.extend(reader.stock_line(item, GoodsRule::Any, detail.memo));
            }
        }
        DetailKind::Money { money, money_span, purpose, said } => {
            let Some(sum) = reader.sum(*money, *money_span) else { return };
            let summed = reader.may_compare();
            match read_income(reader, purpose, said, sum.booked, detail) {
                Some(line) => sale.incomes.push(line),
                // Work that the book doesn't know has no part in what the sale comes to.
                None if matches!(**purpose, Purpose::For(_)) => reader.unsummed = !summed,
                None => return,
            }
            reader.plus_part(PartKind::Goods, &mut sale.income, sum, detail.span);
        }
        DetailKind::Discount(figure, shared) => {
            sale.discounts.push((*figure, detail.span));
            no_effect::tell_sharing(reader, shared.is_some(), detail.span);
        }
        DetailKind::Freight { money, shared, .. } => {
            no_effect::tell_sharing(reader, shared.is_some(), detail.span);
            if let Some(sum) = reader.sum(*money, detail.span) {
                reader.plus_part(PartKind::Freight, &mut sale.shipping, sum, detail.span);
            }
        }
        DetailKind::SalesTax { figure, to } => sale.taxes.push((*figure, *to, detail.span)),
        DetailKind::Sum(MoneyWord::Total, money, span) => sale.total = Some((*money, *span)),
        DetailKind::Sum(word, money, span) => {
            if let Some(sum) = reader.sum(*money, *span) {
                read_sum(reader, sale, *word, sum, *span);
            }
        }
        DetailKind::To(party) => sale.buyer = reader.party(*party),
        _ => {}
    }
}

/// `1 jam, 1 salt for 14`: a sum behind the last of several things on a line, which none of the others has.
fn warn_of_the_last_price(reader: &mut EntryReader<'_>, items: &[Item]) {
    let sum = |item: &Item| item.said.iter().find_map(|said| matches!(said.what, SaidWhat::For(_)).then_some(said.span));
    let priced =
        |item: &Item| item.said.iter().any(|said| matches!(said.what, SaidWhat::For(_) | SaidWhat::At(_) | SaidWhat::AtPer(..)));
    let [first @ .., last] = items else { return };
    let Some(said) = sum(last).filter(|_| !first.is_empty() && !first.iter().any(priced)) else { return };
    let told = errors::meanings::price_of_the_last(last.span, reader.text(last.name), reader.text(said));
    reader.tell(told);
}

fn read_sum(reader: &mut EntryReader<'_>, sale: &mut Sale, word: MoneyWord, sum: Sum, span: Span) {
    match word {
        MoneyWord::Settled => sale.settled = Some((sum.booked, span)),
        MoneyWord::Postage => reader.plus(&mut sale.postage, sum, span),
        MoneyWord::Fee => {
            let mut fee = sale.fee.map_or(Fixed6::ZERO, |(fee, _)| fee);
            reader.add(&mut fee, sum.booked, span);
            sale.fee = Some((fee, span));
        }
        MoneyWord::ExtraFee => reader.plus(&mut sale.extra_fees, sum, span),
        MoneyWord::Cash => add_tender(reader, &mut sale.tendered.cash, sum, span),
        MoneyWord::Card => add_tender(reader, &mut sale.tendered.card, sum, span),
        MoneyWord::Check => add_tender(reader, &mut sale.tendered.check, sum, span),
        MoneyWord::Over | MoneyWord::Short => {
            let (mut over, _) = sale.tendered.over.unwrap_or((Sum::ZERO, span));
            if word == MoneyWord::Over {
                reader.plus(&mut over, sum, span);
            } else {
                reader.minus(&mut over, sum, span);
            }
            sale.tendered.over = Some((over, span));
        }
        _ => {}
    }
}

/// Work without goods: `120.00 for engraving`.
fn read_income(
    reader: &mut EntryReader<'_>,
    purpose: &Purpose,
    said: &[Said],
    money: Fixed6,
    detail: &Detail,
) -> Option<IncomeLine> {
    let Purpose::For(name) = purpose else {
        reader.fail();
        return None;
    };
    let Known::Income(income) = reader.one_of(*name, &[DefinitionWord::Income])? else { return None };
    let on = said.iter().find_map(|one| if let SaidWhat::On(name) = one.what { Some(name) } else { None });
    let on = match on {
        Some(name) => Some(reader.target(name)?),
        None => None,
    };
    Some(IncomeLine { income, money, on, span: detail.span })
}

/// The discounts of a sale; a percentage is of goods.
fn discount_of(reader: &mut EntryReader<'_>, sale: &mut Sale) -> Sum {
    let mut discount = Sum::ZERO;
    for (figure, span) in std::mem::take(&mut sale.discounts) {
        let sum = match figure {
            Figure::Money(money) => reader.sum(money, span),
            Figure::Percent(percent) => reader.percent_of(sale.goods, percent, span),
        };
        if let Some(sum) = sum {
            reader.plus_part(PartKind::Discount, &mut discount, sum, span);
        }
    }
    discount
}

/// A fee on consignment that is less than half of the channel's share may have been meant as that share.
fn warn_of_fee(reader: &mut EntryReader<'_>, sale: &Sale, channel: &Channel, percent: Decimal) {
    let Some((fee, span)) = sale.fee else { return };
    let Ok(share) = reader.coin.percent_of(sale.goods, percent) else { return };
    if fee.checked_add(fee).is_some_and(|twice| twice < share.booked) {
        let share = share.booked.to_fixed_text(reader.coin.book.digits(), 6);
        let percent = percent.normalize().to_string();
        reader.tell(errors::slips::fee_beside_share(span, &channel.named.name, &percent, &share));
    }
}

/// The tax lines, and how much tax the shop charges on top of its prices. Tax within prices is a part of goods and work less
/// discount. A channel that collects the tax, buys for resale, or sells on consignment leaves none to the shop.
fn taxes_of(reader: &mut EntryReader<'_>, sale: &Sale, channel: Option<&Channel>, charged: Sum) -> (Vec<TaxLine>, Sum) {
    let by_channel = channel.is_some_and(|channel| {
        *channel.collects_sales_tax.on(reader.date) || *channel.share.on(reader.date) != ChannelShare::None
    });
    let mut taxes = Vec::new();
    let mut on_top = Sum::ZERO;
    let rule = channel.and_then(|channel| *channel.prices_include_tax.on(reader.date));
    let mut lines = sale.taxes.clone();
    if let Some(percent) = rule
        && lines.is_empty()
        && !(sale.lines.is_empty() && sale.incomes.is_empty())
    {
        lines.push((Figure::Percent(percent), None, reader.entry.head));
    }
    let mut within = Decimal::ZERO;
    for (figure, _, span) in &lines {
        if let Figure::Percent(percent) = figure
            && let Some(sum) = reader.exact(checked_add_exact(within, *percent), *span)
        {
            within = sum;
        }
    }
    for (figure, to, span) in lines {
        let to = match to {
            Some(name) => match reader.label(name) {
                Some(label) => Some(label),
                None => continue,
            },
            None => reader.shop_tax_account(),
        };
        let (sum, included) = match figure {
            Figure::Money(money) => (reader.sum(money, span), false),
            Figure::Percent(percent) => (reader.tax_within(charged, percent, within, span), true),
        };
        let Some(sum) = sum else { continue };
        if !included && !by_channel {
            reader.plus_part(PartKind::SalesTax, &mut on_top, sum, span);
        }
        taxes.push(TaxLine { money: sum.booked, to, included, by_channel, span });
    }
    (taxes, on_top)
}
