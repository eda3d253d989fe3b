//! `paid`: an expense, a bill that is settled, sales tax paid over, hired time or royalty that was owed.

use rust_decimal::Decimal;

use crate::events::entry_money::Sum;
use crate::events::entry_reader::EntryReader;
use crate::events::total_explained::PartKind;
use crate::events::{EventKind, Paid, PaidFor, PaidLine};
use crate::events::{errors, no_effect};
use crate::names::Known;
use crate::sources::Span;
use crate::syntax::{DefinitionWord, Detail, DetailKind, MoneyWord, Plain, Purpose, Reference, Said};
use crate::units::Fixed6;

/// Reads a `paid` entry.
pub(crate) fn build_paid(reader: &mut EntryReader<'_>) {
    let to = reader.head_to().and_then(|party| reader.party(party));
    let receipt = reader.receipt();
    let mut lines = Vec::new();
    let mut sum = Sum::ZERO;
    let mut total: Option<(Decimal, Span)> = None;
    reader.each_line(|reader, detail| match &detail.kind {
        DetailKind::Money { money, money_span, purpose, said } => {
            let Some(money) = reader.sum(*money, *money_span) else { return };
            if let Some(what) = read_purpose(reader, purpose, said, detail) {
                no_effect::tell_nothing(reader, money.booked.is_zero(), *money_span, "nothing was paid");
                reader.plus_part(PartKind::Goods, &mut sum, money, detail.span);
                let named = named_in(purpose).unwrap_or(detail.span);
                lines.push(PaidLine { money: money.booked, what, named, memo: detail.memo, span: detail.span });
            }
        }
        DetailKind::Sum(MoneyWord::Total, money, span) => total = Some((*money, *span)),
        _ => {}
    });
    reader.check_total(total, sum, "lines");
    let settlement = reader.settlement(Some(sum), false);
    tell_settling(reader, &lines);
    let Some(to) = to else { return };
    reader.happened(EventKind::Paid(Box::new(Paid { to, receipt, lines, settlement })));
}

/// Only an expense can be entered now and paid on another day: what settles a bill is paid on the entry's day.
fn tell_settling(reader: &mut EntryReader<'_>, lines: &[PaidLine]) {
    if lines.is_empty() || lines.iter().any(|line| matches!(line.what, PaidFor::Expense { .. })) {
        return;
    }
    for detail in &reader.entry.details {
        if matches!(detail.kind, DetailKind::Paid { .. } | DetailKind::Plain(Plain::Unpaid)) {
            let why = "these lines settle what was owed, on the day of the entry";
            reader.tell(errors::entries::no_effect_here(detail.span, "this line", why));
        }
    }
}

/// Where the receipt, day or name stands that says what a sum is for.
fn named_in(purpose: &Purpose) -> Option<Span> {
    match purpose {
        Purpose::For(name) => Some(*name),
        Purpose::Settles(references) => references.first().map(|reference| match reference {
            Reference::Receipt(span) | Reference::Order(span) | Reference::Bought(_, span) | Reference::Sold(_, span) => *span,
        }),
        _ => None,
    }
}

fn read_purpose(reader: &mut EntryReader<'_>, purpose: &Purpose, said: &[Said], detail: &Detail) -> Option<PaidFor> {
    match purpose {
        Purpose::For(name) => read_named(reader, *name, said),
        Purpose::Settles(references) => match references.as_slice() {
            [Reference::Receipt(name)] => reader.label(*name).map(PaidFor::Receipt),
            [Reference::Bought(date, _)] => Some(PaidFor::BoughtOn(*date)),
            [Reference::Order(_) | Reference::Sold(..)] | [] => {
                reader.fail();
                None
            }
            _ => {
                reader.refuse(errors::entries::one_receipt_a_line(detail.span));
                None
            }
        },
        Purpose::SalesTax { to, allowed } => {
            let to = match to {
                Some(name) => Some(reader.label(*name)?),
                None => reader.shop_tax_account(),
            };
            let allowed = match allowed {
                Some(money) => reader.booked(*money, detail.span)?,
                None => Fixed6::ZERO,
            };
            Some(PaidFor::SalesTax { to, allowed })
        }
        Purpose::ForHome | Purpose::OnBatch(_) | Purpose::OwedBy(..) | Purpose::OwedTo(..) | Purpose::Off(_) => {
            reader.fail();
            None
        }
    }
}

/// `for NAME`: an expense, a helper or a pattern. Somebody who was hired without being defined may be owed to, too.
fn read_named(reader: &mut EntryReader<'_>, name: Span, said: &[Said]) -> Option<PaidFor> {
    if reader.known_quietly(name).is_none()
        && let Some(label) = reader.look().label(name)
        && reader.desk.hired.contains(&label)
    {
        return Some(PaidFor::Helper { helper: None, name: label });
    }
    match reader.one_of(name, &[DefinitionWord::Expense, DefinitionWord::Helper, DefinitionWord::Pattern])? {
        Known::Expense(expense) => {
            let (on, meant_for) = reader.expense_said(said)?;
            Some(PaidFor::Expense { expense, on, meant_for })
        }
        Known::Helper(helper) => {
            let label = reader.label(name)?;
            Some(PaidFor::Helper { helper: Some(helper), name: label })
        }
        Known::Pattern(pattern) => Some(PaidFor::Royalty(pattern)),
        _ => None,
    }
}
