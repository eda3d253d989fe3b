//! `returned`, `sent-back`, `credited`: goods and money that go the other way.

use crate::events::entry_goods::GoodsRule;
use crate::events::entry_reader::EntryReader;
use crate::events::slips_of_remarks::says_damage;
use crate::events::{Credited, EventKind, ReturnFate, Returned, ReturnedLine, SentBack, SentBackLine};
use crate::events::{errors, no_effect};
use crate::names::Known;
use crate::sources::Span;
use crate::syntax::{Detail, DetailKind, EXPENSE_BACK, Figure, Item, ListWord, MoneyWord, Purpose, SaidWhat};
use crate::units::Fixed6;

/// Reads a `returned` entry.
pub(crate) fn build_returned(reader: &mut EntryReader<'_>) {
    let order = reader.head_order().map(|name| reader.label(name));
    let channel = reader.head_via().map(|name| reader.channel(name));
    let place = reader.place_or_home();
    let mut returned = Returned {
        order: order.flatten(),
        channel: channel.flatten(),
        place: crate::names::PlaceId(0),
        lines: Vec::new(),
        refunds: Vec::new(),
        shipping: Fixed6::ZERO,
        sales_tax: Fixed6::ZERO,
        taxes: Vec::new(),
        tax_to: reader.shop_tax_account(),
        fee_back: Fixed6::ZERO,
    };
    let mut without_refund = Vec::new();
    reader.each_line(|reader, detail| read_returned_line(reader, &mut returned, &mut without_refund, detail));
    // What could not be read may be the refund.
    if returned.refunds.is_empty() && reader.failed {
        without_refund.clear();
    }
    if returned.refunds.is_empty() {
        for span in without_refund {
            let text = reader.text(span);
            reader.tell(errors::goods::return_without_refund(span, text));
        }
    } else if !without_refund.is_empty() {
        refund_the_only_goods(reader, &mut returned);
    }
    let Some(place) = place else { return };
    if returned.order.is_none() && returned.channel.is_none() {
        return;
    }
    returned.place = place;
    reader.happened(EventKind::Returned(Box::new(returned)));
}

/// What is refunded on lines of its own beside one line of goods that says no money is for these goods. Beside several nothing says for which.
fn refund_the_only_goods(reader: &mut EntryReader<'_>, returned: &mut Returned) {
    let Returned { lines, refunds, .. } = returned;
    if let [goods] = lines.as_mut_slice() {
        for (money, span) in refunds.drain(..) {
            reader.add(&mut goods.refunded, money, span);
        }
    }
}

fn read_returned_line(reader: &mut EntryReader<'_>, returned: &mut Returned, without_refund: &mut Vec<Span>, detail: &Detail) {
    match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) => {
            for item in items {
                let Some(line) = read_returned_item(reader, item) else { continue };
                returned.lines.push(line);
                if items.last().is_some_and(|last| last.span == item.span) {
                    warn_of_the_remark(reader, item, detail.memo);
                }
                if !item.said.iter().any(|said| matches!(said.what, SaidWhat::Refunded { .. })) {
                    without_refund.push(item.span);
                }
            }
        }
        DetailKind::Sum(MoneyWord::Refunded, money, span) => {
            if let Some(money) = reader.booked(*money, *span) {
                returned.refunds.push((money, detail.span));
            }
        }
        DetailKind::Sum(MoneyWord::FeeBack, money, span) => {
            if let Some(money) = reader.booked(*money, *span) {
                reader.add(&mut returned.fee_back, money, *span);
            }
        }
        DetailKind::Freight { money, shared, .. } => {
            no_effect::tell_sharing(reader, shared.is_some(), detail.span);
            if let Some(money) = reader.booked(*money, detail.span) {
                reader.add(&mut returned.shipping, money, detail.span);
            }
        }
        DetailKind::SalesTax { figure: Figure::Money(money), to } => {
            if let Some(money) = reader.booked(*money, detail.span) {
                reader.add(&mut returned.sales_tax, money, detail.span);
                returned.taxes.push((money, to.and_then(|name| reader.label(name))));
            }
        }
        _ => {}
    }
}

/// `1 robin "cracked"`: goods that nothing says the fate of go back to the shelf as good ones.
fn warn_of_the_remark(reader: &mut EntryReader<'_>, item: &Item, memo: Span) {
    let is_fate = |said: &SaidWhat| matches!(said, SaidWhat::BackToStock | SaidWhat::Scrapped | SaidWhat::LeftWithBuyer);
    if says_damage(reader.text(memo)) && !item.said.iter().any(|said| is_fate(&said.what)) {
        let told =
            errors::meanings::returned_as_damaged(item.span, reader.text(item.name), reader.text(item.span), reader.text(memo));
        reader.tell(told);
    }
}

fn read_returned_item(reader: &mut EntryReader<'_>, item: &Item) -> Option<ReturnedLine> {
    let goods = reader.stock_line(item, GoodsRule::Any, Span::default())?;
    let mut fate: Option<(ReturnFate, Span)> = None;
    let mut refunded = Fixed6::ZERO;
    for said in &item.said {
        let this = match said.what {
            SaidWhat::BackToStock => ReturnFate::BackToStock,
            SaidWhat::Scrapped => ReturnFate::Scrapped,
            SaidWhat::LeftWithBuyer => ReturnFate::LeftWithBuyer,
            SaidWhat::Refunded { money, .. } => {
                refunded = reader.booked(money, said.span)?;
                continue;
            }
            _ => continue,
        };
        if let Some((_, first)) = fate {
            reader.refuse(errors::goods::two_fates(said.span, first));
            return None;
        }
        fate = Some((this, said.span));
    }
    let fate = fate.map_or(ReturnFate::BackToStock, |(fate, _)| fate);
    Some(ReturnedLine { thing: goods.thing, quantity: goods.quantity, refunded, fate, lot: goods.lot, span: item.span })
}

/// Reads a `sent-back` entry.
pub(crate) fn build_sent_back(reader: &mut EntryReader<'_>) {
    let supplier = reader.head_to().and_then(|party| reader.party(party));
    let receipt = reader.receipt();
    let place = reader.place_or_home();
    let mut lines = Vec::new();
    let mut sales_tax = Fixed6::ZERO;
    reader.each_line(|reader, detail| match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) => {
            for item in items {
                lines.extend(read_sent_back_item(reader, item, detail.memo));
            }
        }
        DetailKind::SalesTax { figure: Figure::Money(money), .. } => {
            if let Some(money) = reader.booked(*money, detail.span) {
                reader.add(&mut sales_tax, money, detail.span);
            }
        }
        _ => {}
    });
    let (Some(supplier), Some(place)) = (supplier, place) else { return };
    reader.happened(EventKind::SentBack(Box::new(SentBack { supplier, receipt, place, lines, sales_tax })));
}

fn read_sent_back_item(reader: &mut EntryReader<'_>, item: &Item, memo: Span) -> Option<SentBackLine> {
    let goods = reader.stock_line(item, GoodsRule::Any, memo)?;
    let refund = item.said.iter().find_map(|said| match said.what {
        SaidWhat::Refunded { money, as_credit } => Some((money, as_credit, said.span)),
        _ => None,
    });
    let Some((money, as_credit, span)) = refund else {
        let told = errors::goods::no_refund(item.span, reader.text(item.span));
        reader.refuse(told);
        return None;
    };
    let refunded = reader.booked(money, span)?;
    Some(SentBackLine { goods, refunded, as_credit })
}

/// Reads a `credited` entry.
pub(crate) fn build_credited(reader: &mut EntryReader<'_>) {
    let supplier = reader.head_by().and_then(|party| reader.party(party));
    let receipt = reader.receipt();
    let mut lines = Vec::new();
    reader.each_line(|reader, detail| {
        if let DetailKind::Money { money, money_span, purpose, .. } = &detail.kind {
            let Some(money) = reader.booked(*money, *money_span) else { return };
            match purpose.as_ref() {
                Purpose::Off(name) => match reader.thing(*name) {
                    Some(thing) => lines.push((money, thing, detail.span)),
                    None => note_what_can_be_credited(reader, *name),
                },
                _ => reader.fail(),
            }
        }
    });
    let Some(supplier) = supplier else { return };
    reader.happened(EventKind::Credited(Box::new(Credited { supplier, receipt, lines })));
}

/// Says of a name that is no stock what can be written in place of its credit.
fn note_what_can_be_credited(reader: &mut EntryReader<'_>, name: Span) {
    let note = match reader.quiet_kind(name) {
        Some(Known::Tool(_)) => errors::goods::tool_credited(reader.date),
        Some(Known::Expense(_)) => EXPENSE_BACK.to_owned(),
        _ => return,
    };
    reader.note_at(name, &note);
}
