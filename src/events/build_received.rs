//! `received`: money for orders, or for an income without goods.

use crate::events::entry_reader::EntryReader;
use crate::events::{EventKind, Received, ReceivedFor, ReceivedLine};
use crate::events::{errors, no_effect};
use crate::names::{Known, LabelId};
use crate::sources::Span;
use crate::syntax::{DefinitionWord, DetailKind, EXPENSE_BACK, Purpose, Reference};

/// Reads a `received` entry.
pub(crate) fn build_received(reader: &mut EntryReader<'_>) {
    let from = reader.head_from().and_then(|party| reader.party(party));
    let via = match reader.head_via() {
        Some(name) => reader.channel(name).map(Some),
        None => Some(None),
    };
    let mut lines = Vec::new();
    reader.each_line(|reader, detail| {
        if let DetailKind::Money { money, money_span, purpose, .. } = &detail.kind {
            let Some(money) = reader.booked(*money, *money_span) else { return };
            if let Some(what) = read_purpose(reader, purpose) {
                no_effect::tell_nothing(reader, money.is_zero(), *money_span, "nothing was received");
                lines.push(ReceivedLine { money, what, span: detail.span });
            }
        }
    });
    let (Some(from), Some(via)) = (from, via) else { return };
    reader.happened(EventKind::Received(Box::new(Received { from, via, lines })));
}

fn read_purpose(reader: &mut EntryReader<'_>, purpose: &Purpose) -> Option<ReceivedFor> {
    match purpose {
        Purpose::For(name) => match reader.one_of(*name, &[DefinitionWord::Income]) {
            Some(Known::Income(income)) => Some(ReceivedFor::Income(income)),
            _ => {
                if let Some(Known::Expense(_)) = reader.quiet_kind(*name) {
                    reader.note_at(*name, EXPENSE_BACK);
                }
                None
            }
        },
        Purpose::Settles(references) => {
            if let [Reference::Sold(day, _)] = references.as_slice() {
                return Some(ReceivedFor::SoldOn(*day));
            }
            let mut orders: Vec<(LabelId, Span)> = Vec::new();
            for reference in references {
                match reference {
                    Reference::Order(name) => {
                        let order = reader.label(*name)?;
                        if orders.iter().any(|(one, _)| *one == order) {
                            let told = errors::entries::order_named_twice(*name, reader.text(*name));
                            reader.refuse(told);
                            return None;
                        }
                        orders.push((order, *name));
                    }
                    Reference::Receipt(_) | Reference::Bought(..) | Reference::Sold(..) => {
                        reader.fail();
                        return None;
                    }
                }
            }
            Some(ReceivedFor::Orders(orders))
        }
        Purpose::ForHome
        | Purpose::OnBatch(_)
        | Purpose::OwedBy(..)
        | Purpose::OwedTo(..)
        | Purpose::SalesTax { .. }
        | Purpose::Off(_) => {
            reader.fail();
            None
        }
    }
}
