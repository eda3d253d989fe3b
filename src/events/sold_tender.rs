//! What came in at a sale: cash, card and check, held against what it comes to.

use crate::diagnostics::Diagnostic;
use crate::events::after_deposits::LeftOfSale;
use crate::events::entry_money::Sum;
use crate::events::entry_reader::EntryReader;
use crate::events::total_explained::{Total, explain_total};
use crate::events::{Tender, errors};
use crate::names::{ChannelShare, LabelId};
use crate::sources::Span;
use crate::syntax::{Detail, DetailKind, Figure, MoneyWord, Verb};
use crate::units::Fixed6;

/// What an entry says of how it was paid.
#[derive(Default)]
pub(crate) struct Tendered {
    pub(crate) cash: Option<Sum>,
    pub(crate) card: Option<Sum>,
    pub(crate) check: Option<Sum>,
    /// More than the sale, below zero where it was less, and the last line that says so.
    pub(crate) over: Option<(Sum, Span)>,
}

/// A tax line as written: its figure, to whom, where.
type TaxSaid = (Figure, Option<Span>, Span);

pub(crate) fn add_tender(reader: &mut EntryReader<'_>, to: &mut Option<Sum>, sum: Sum, span: Span) {
    let mut all = to.unwrap_or(Sum::ZERO);
    reader.plus(&mut all, sum, span);
    *to = Some(all);
}

/// What would explain that another sum came in than the sale comes to: tax that was meant on top, or a figure.
fn explain_tender(
    reader: &EntryReader<'_>,
    told: Diagnostic,
    (taxes, share): (&[TaxSaid], ChannelShare),
    (paid, due, over): (Sum, Sum, Sum),
    (charged, span): (Sum, Span),
) -> Diagnostic {
    if let ChannelShare::Consignment(percent) = share {
        // What a channel pays out is what it leaves, and no way of paying.
        let left = reader.coin.percent_of(charged, percent).ok().and_then(|share| due.minus(share));
        let sum = reader.as_written(paid.written);
        return match left.is_some_and(|left| left.written == paid.written) {
            true => told.fix("if that is what the channel paid out, after its share", span, format!("settled {sum}")),
            false => told.note(format!("what the channel paid out, after its share, is a line of its own: `settled {sum}`")),
        };
    }
    for (figure, _, line) in taxes {
        let Figure::Percent(percent) = figure else { continue };
        let on_top = reader.coin.percent_of(charged, *percent).ok();
        if let Some(tax) = on_top.filter(|tax| due.written.checked_add(tax.written) == Some(paid.written)) {
            let sum = reader.as_written(tax.written);
            return told.fix("if the tax came on top of the prices", *line, format!("sales-tax {sum}"));
        }
    }
    let (Some(stated), Some(comes_to)) = (paid.minus(over), due.minus(over)) else { return told };
    let total = Total {
        stated: (stated.written, span),
        comes_to: comes_to.written,
        parts: &reader.parts,
        verb: Verb::Sold,
        came_in: true,
    };
    explain_total(told, &total, &reader.coin, reader.desk.sources)
}

/// Cash, card and check come to the total, or to what deposits of its order left of it, or `over` and `short` say the difference. `charged` is what the goods and work come to, less discount.
pub(crate) fn tender_of(
    reader: &mut EntryReader<'_>,
    sale: &Tendered,
    taxes: &[TaxSaid],
    (order, share): (Option<LabelId>, ChannelShare),
    (total, charged): (Sum, Sum),
) -> Tender {
    let over = sale.over.map_or(Sum::ZERO, |(over, _)| over);
    let parts = [sale.cash, sale.card, sale.check];
    if parts.iter().any(Option::is_some) {
        let mut paid = Sum::ZERO;
        for part in parts.into_iter().flatten() {
            reader.plus(&mut paid, part, reader.entry.head);
        }
        let mut due = total;
        reader.plus(&mut due, over, reader.entry.head);
        if reader.may_compare() && paid.written != due.written {
            let span = tender_span(reader).unwrap_or(reader.entry.head);
            let texts = [paid.written, total.written, over.written].map(|money| reader.as_written(money));
            let apart = paid.written.checked_sub(total.written).unwrap_or_default();
            let size = if apart.is_negative() { apart.checked_neg().unwrap_or_default() } else { apart };
            // A tin is a little out; more than a twentieth of the sale is a price or a count.
            let is_tin = size.checked_mul_int(20).is_some_and(|size| size <= total.written);
            let line =
                is_tin.then(|| format!("{} {}", if apart.is_negative() { "short" } else { "over" }, reader.as_written(size)));
            let told = errors::money::tender_differs(span, &texts, sale.over.map(|(_, span)| span), line.as_deref());
            match (order, due.minus(paid)) {
                // What was paid before for the order may make up for it, which the other entries say.
                (Some(order), Some(left)) if left.written.is_positive() => {
                    let left = if reader.coin.foreign.is_none() { left.booked } else { Fixed6::ZERO };
                    let due = due.booked;
                    reader.left_of_sale = Some(LeftOfSale { sale: reader.entry.head, order, left, due, told });
                }
                _ => {
                    let told = explain_tender(reader, told, (taxes, share), (paid, due, over), (charged, span));
                    reader.tell(told);
                }
            }
        }
    }
    let booked = |part: Option<Sum>| part.map(|sum| sum.booked);
    Tender { cash: booked(sale.cash), card: booked(sale.card), check: booked(sale.check), over: over.booked }
}

fn tender_span(reader: &EntryReader<'_>) -> Option<Span> {
    let tender =
        |detail: &Detail| matches!(detail.kind, DetailKind::Sum(MoneyWord::Cash | MoneyWord::Card | MoneyWord::Check, ..));
    let lines = reader.entry.details.iter().filter(|detail| tender(detail)).map(|detail| detail.span);
    lines.reduce(Span::to)
}
