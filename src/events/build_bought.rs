//! `bought`: a purchase with its lines, freight, discount, tax, and how it is settled.
//!
//! Goods are counted in their own unit, money is exact to the currency's digits, and a stated total is checked:
//! lines + freight + tax - discount.

use rust_decimal::Decimal;

use crate::events::entry_goods::{GoodsRule, Stocked};
use crate::events::entry_money::Sum;
use crate::events::entry_prices::PriceSaid;
use crate::events::entry_reader::EntryReader;
use crate::events::total_explained::PartKind;
use crate::events::{Bought, BoughtLine, BoughtWhat, EventKind, Sharing};
use crate::events::{errors, no_effect};
use crate::names::{Known, offer_one_measure};
use crate::sources::Span;
use crate::syntax::{DefinitionWord, Detail, DetailKind, Figure, Item, ListWord, MoneyWord, Purpose, Said, SaidWhat, SharedBy};

/// A purchase while its lines are read.
#[derive(Default)]
struct Purchase {
    lines: Vec<BoughtLine>,
    goods: Sum,
    freight: Sum,
    freight_shared: Option<(SharedBy, Span)>,
    discounts: Vec<(Figure, Span)>,
    discount: Sum,
    discount_shared: Option<(SharedBy, Span)>,
    sales_tax: Sum,
    credit: Sum,
    total: Option<(Decimal, Span)>,
}

/// Reads a `bought` entry.
pub(crate) fn build_bought(reader: &mut EntryReader<'_>) {
    let place = reader.place_or_home();
    let supplier = reader.head_from().and_then(|party| reader.party(party));
    let receipt = reader.receipt();
    reader.sums_stand_without_head();
    let mut purchase = Purchase::default();
    reader.each_line(|reader, detail| read_line(reader, &mut purchase, detail));
    let discounted = purchase.discounts.last().map_or(reader.entry.head, |(_, line)| *line);
    for (figure, span) in std::mem::take(&mut purchase.discounts) {
        let sum = match figure {
            Figure::Money(money) => reader.sum(money, span),
            Figure::Percent(percent) => reader.percent_of(purchase.goods, percent, span),
        };
        if let Some(sum) = sum {
            reader.plus_part(PartKind::Discount, &mut purchase.discount, sum, span);
        }
    }
    let freight = share(reader, &mut purchase.lines, purchase.freight_shared, |line, measure| line.measure = measure);
    let discount = share(reader, &mut purchase.lines, purchase.discount_shared, |line, measure| line.discount_measure = measure);
    let Some(comes_to) = comes_to(reader, &purchase, discounted) else { return };
    reader.check_total(purchase.total, comes_to, "lines, freight and sales tax less discount");
    let settlement = reader.settlement(Some(comes_to), false);
    let Some(place) = place else { return };
    reader.happened(EventKind::Bought(Box::new(Bought {
        supplier,
        receipt,
        place,
        lines: purchase.lines,
        freight: (purchase.freight.booked, freight),
        discount: (purchase.discount.booked, discount),
        sales_tax: purchase.sales_tax.booked,
        credit: purchase.credit.booked,
        settlement,
        swapped: false,
    })));
}

/// What the bill comes to. A bill below nothing is a mistake of its last discount, `discounted`.
fn comes_to(reader: &mut EntryReader<'_>, purchase: &Purchase, discounted: Span) -> Option<Sum> {
    let head = reader.entry.head;
    let mut sum = purchase.goods;
    reader.plus(&mut sum, purchase.freight, head);
    reader.plus(&mut sum, purchase.sales_tax, head);
    let before_discount = sum;
    reader.minus(&mut sum, purchase.discount, head);
    if sum.booked.is_negative() && reader.may_compare() {
        let (discount, before) = (reader.as_written(purchase.discount.written), reader.as_written(before_discount.written));
        reader.refuse_entry(errors::money::below_nothing(discounted, "bill", &discount, &before));
    }
    (!sum.booked.is_negative()).then_some(sum)
}

fn read_line(reader: &mut EntryReader<'_>, purchase: &mut Purchase, detail: &Detail) {
    match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) => {
            for item in items {
                if let Some((line, value)) = read_item(reader, item, detail) {
                    reader.plus_part(PartKind::Goods, &mut purchase.goods, value, item.span);
                    purchase.lines.extend(line);
                }
            }
        }
        DetailKind::Money { money, money_span, purpose, said } => {
            let Some(value) = reader.sum(*money, *money_span) else { return };
            let summed = reader.may_compare();
            match read_purpose(reader, purpose, said) {
                Some(what) => purchase.lines.push(line_of(what, value, detail.memo, detail.span)),
                // A purpose that the book doesn't know has no part in what the bill comes to.
                None if matches!(**purpose, Purpose::For(_) | Purpose::OnBatch(_)) => reader.unsummed = !summed,
                None => return,
            }
            reader.plus_part(PartKind::Goods, &mut purchase.goods, value, detail.span);
        }
        DetailKind::Freight { money, shared, .. } => {
            if let Some(sum) = reader.sum(*money, detail.span) {
                reader.plus_part(PartKind::Freight, &mut purchase.freight, sum, detail.span);
            }
            purchase.freight_shared = purchase.freight_shared.or(shared.map(|shared| (shared, detail.span)));
        }
        DetailKind::Discount(figure, shared) => {
            purchase.discounts.push((*figure, detail.span));
            purchase.discount_shared = purchase.discount_shared.or(shared.map(|shared| (shared, detail.span)));
        }
        DetailKind::SalesTax { figure: Figure::Money(money), to } => {
            if let Some(sum) = reader.sum(*money, detail.span) {
                reader.plus_part(PartKind::SalesTax, &mut purchase.sales_tax, sum, detail.span);
            }
            if to.is_some() {
                reader.tell(errors::entries::no_effect_here(
                    detail.span,
                    "`to`",
                    "sales tax that the shop pays is part of what it bought",
                ));
            }
        }
        DetailKind::Sum(MoneyWord::Credit, money, span) => {
            if let Some(sum) = reader.sum(*money, *span) {
                reader.plus(&mut purchase.credit, sum, *span);
            }
        }
        DetailKind::Sum(MoneyWord::Total, money, span) => purchase.total = Some((*money, *span)),
        _ => {}
    }
}

/// An item: goods, a tool or licences; no line but its value where the book doesn't know them.
fn read_item(reader: &mut EntryReader<'_>, item: &Item, detail: &Detail) -> Option<(Option<BoughtLine>, Sum)> {
    let price = reader.price_said(item).ok()?;
    let summed = reader.may_compare();
    if item.licence {
        let (pattern, count) = reader.licences(item)?;
        no_effect::tell_of_item(reader, item, false);
        let value = whole_line_value(reader, item, price, count)?;
        let what = BoughtWhat::Licence { pattern, count };
        return Some((Some(line_of(what, value, detail.memo, item.span)), value));
    }
    let Some(goods) = reader.goods(item, GoodsRule::PacksNamed) else {
        return reader.value_of_unknown(item, price?, summed).map(|value| (None, value));
    };
    let Some(price) = price else {
        let told = errors::goods::no_value(item.span, reader.text(item.span), "what it cost");
        // `3 hides leather, 66 sq ft leather at 9.20`
        let again = |other: &&Item| other.span.start > item.span.end && reader.text(other.name) == reader.text(item.name);
        let told = match &detail.kind {
            DetailKind::Items(_, items) if items.iter().find(again).is_some_and(|other| !other.said.is_empty()) => {
                let first = item.amount.span.start;
                offer_one_measure(reader.desk.sources, told, Span::new(first, item.span.end))
            }
            _ => told,
        };
        reader.refuse(told);
        return None;
    };
    let value = reader.line_value(item, &goods, price, Decimal::ZERO)?;
    let what = match goods.what {
        Stocked::Tool(tool) => {
            no_effect::tell_of_item(reader, item, false);
            BoughtWhat::Tool { tool, count: goods.quantity }
        }
        Stocked::Thing(thing) => {
            let counted = reader.counted_said(item, thing)?;
            let lot = reader.lot_said(item);
            let (quantity, billed) = match counted {
                Some(counted) => (counted, Some(goods.quantity)),
                None => (goods.quantity, None),
            };
            BoughtWhat::Stock { thing, quantity, billed, lot }
        }
    };
    let mut line = line_of(what, value, detail.memo, item.span);
    (line.price, line.certificate) = (price.span(), certificate_said(item));
    Some((Some(line), value))
}

/// The value of a line of things that are counted one by one.
fn whole_line_value(reader: &mut EntryReader<'_>, item: &Item, price: Option<PriceSaid>, count: Decimal) -> Option<Sum> {
    match price {
        Some(PriceSaid::For(money, span)) => reader.sum(money, span),
        Some(PriceSaid::At(money, span) | PriceSaid::AtPer(money, _, span)) => reader.line_sum(money, count, span),
        None => {
            let told = errors::goods::no_value(item.span, reader.text(item.span), "what it cost");
            reader.refuse(told);
            None
        }
    }
}

fn line_of(what: BoughtWhat, value: Sum, memo: Span, span: Span) -> BoughtLine {
    let (price, certificate) = (Span::default(), Span::default());
    BoughtLine { what, value: value.booked, measure: None, discount_measure: None, price, certificate, memo, span }
}

/// The certificate said of an item; empty if none.
pub(crate) fn certificate_said(item: &Item) -> Span {
    let certificate = |said: &Said| if let SaidWhat::Certificate(span) = said.what { Some(span) } else { None };
    item.said.iter().find_map(certificate).unwrap_or_default()
}

/// What a sum of a purchase is for.
fn read_purpose(reader: &mut EntryReader<'_>, purpose: &Purpose, said: &[Said]) -> Option<BoughtWhat> {
    match purpose {
        Purpose::ForHome => Some(BoughtWhat::Home),
        Purpose::OnBatch(batch) => reader.batch(*batch).map(BoughtWhat::Batch),
        Purpose::For(name) => {
            let Known::Expense(expense) = reader.one_of(*name, &[DefinitionWord::Expense])? else { return None };
            let (on, meant_for) = reader.expense_said(said)?;
            Some(BoughtWhat::Expense { expense, on, meant_for })
        }
        Purpose::OwedBy(..) | Purpose::OwedTo(..) | Purpose::Settles(_) | Purpose::SalesTax { .. } | Purpose::Off(_) => {
            reader.fail();
            None
        }
    }
}

/// Gives each line its measure where something is shared by quantity or weight.
fn share(
    reader: &mut EntryReader<'_>,
    lines: &mut [BoughtLine],
    shared: Option<(SharedBy, Span)>,
    put: impl Fn(&mut BoughtLine, Option<Decimal>),
) -> Sharing {
    let Some((by, span)) = shared else { return Sharing::Value };
    if by == SharedBy::Value {
        return Sharing::Value;
    }
    let mut dimension = None;
    for line in lines.iter_mut() {
        let measure = match by {
            SharedBy::Weight => reader.weight_of(&line.what),
            _ => reader.size_of(&line.what).and_then(|(found, measure)| {
                let agrees = *dimension.get_or_insert(found) == found;
                agrees.then_some(measure)
            }),
        };
        if measure.is_none() {
            let told = errors::money::no_measure(span, line.span, reader.text(line.span), by == SharedBy::Weight);
            reader.refuse(told);
            return Sharing::Value;
        }
        put(line, measure);
    }
    Sharing::Measure
}
