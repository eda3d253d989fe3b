//! A line that belongs in another block: where it belongs, and what it was probably meant to say.

use crate::diagnostics::Diagnostic;
use crate::sources::{SourceSet, Span};
use crate::syntax::placement_errors as told;
use crate::syntax::placement_table::{LineKind, LineRow, definition_word, verb_word};
use crate::syntax::slip_errors::FREIGHT_BACK;
use crate::syntax::{AmountKind, DefinitionWord, Detail, DetailKind, Item, ListWord, SaidWhat, Verb};
use crate::units::Unit;

/// Lines that say what a sum is for.
const SUMS: [LineKind; 6] = [
    LineKind::MoneyFor,
    LineKind::MoneyForHome,
    LineKind::ForReceipt,
    LineKind::ForBought,
    LineKind::ForOrder,
    LineKind::ForSold,
];

/// What an item of a whole count costs: so many at a price, or the money for the line.
fn priced(item: &Item) -> Option<String> {
    let sum = item.said.iter().find_map(|said| match said.what {
        SaidWhat::At(price) => item.amount.value.checked_mul(price),
        SaidWhat::For(sum) => Some(sum),
        _ => None,
    })?;
    let mut sum = sum.normalize();
    (sum.scale() <= 2 && item.said.len() == 1).then(|| {
        sum.rescale(2);
        sum.to_string()
    })
}

/// A line that belongs elsewhere, with the nearest right line where there is one.
pub(super) fn misplaced(row: &LineRow, detail: &Detail, block: &str, verb: Option<Verb>, sources: &SourceSet) -> Diagnostic {
    let belongs: Vec<_> = row.blocks.words().collect();
    let is_time = |item: &Item| item.amount.kind == AmountKind::Time;
    let told = match &detail.kind {
        DetailKind::Items(ListWord::Bare, items) if items.iter().all(is_time) => {
            let told = told::misplaced_line(detail.span, "a time", block, &[verb_word(Verb::Worked)]);
            let in_product = block == definition_word(DefinitionWord::Product);
            if in_product {
                told.fix("the time that it takes", Span::new(detail.span.start, detail.span.start), "takes ")
            } else {
                told
            }
        }
        _ => told::misplaced_line(detail.span, row.words, block, &belongs),
    };
    let column_one = sources.lines_of(Span::new(detail.span.start, detail.span.start)).start == detail.span.start;
    let told = if column_one { told.note(told::AT_COLUMN_ONE) } else { told };
    let first_word = |length: usize| {
        let end = detail.span.start.saturating_add(u32::try_from(length).unwrap_or(0));
        Span::new(detail.span.start, end.min(detail.span.end))
    };
    match (row.kind, verb) {
        (_, Some(Verb::Noted)) => {
            let text: String = sources.text(detail.span).chars().filter(|letter| *letter != '"').collect();
            told.fix("as a text, where it moved nothing", detail.span, format!("note \"{text}\""))
        }
        (LineKind::Freight, Some(Verb::Sold | Verb::Returned)) => {
            told.fix("what the buyer paid for it", first_word("freight".len()), "shipping")
        }
        (LineKind::Item, Some(Verb::Paid | Verb::Received)) => match &detail.kind {
            DetailKind::Items(_, items) => match items.as_slice() {
                [item] if verb == Some(Verb::Received) && sources.text(item.name) == "deposit" => {
                    told.fix("if that is money for an order", item.name, "for order \"NAME\"")
                }
                [item] if verb == Some(Verb::Received) && sources.text(item.name) == "down" => {
                    told.fix("if that is money for an order", item.name, "for order \"NAME\"")
                }
                // `1 sidelight for 640`: what was ordered, or work at a price.
                [item] if verb == Some(Verb::Received) && priced(item).is_some() => {
                    let text: String = sources.text(detail.span).chars().filter(|letter| *letter != '"').collect();
                    let (sum, name) = (priced(item).unwrap_or_default(), sources.text(item.name));
                    let count = sources.text(item.amount.span.to(item.name));
                    told.note("what was ordered needs no line here: it stands in the sale, on the day on which it is delivered, and what was paid ahead is taken off there")
                        .fix("goods that were ordered, as a text", detail.span, format!("note \"{text}\""))
                        .fix("or work without goods, its money", detail.span, format!("{sum} for {name} \"{count}\""))
                }
                [item] => match item.amount.kind {
                    AmountKind::Count { .. } if priced(item).is_some() => {
                        let name = sources.text(item.name);
                        let sum = priced(item).unwrap_or_default();
                        let said = match item.said.iter().find(|said| matches!(said.what, SaidWhat::At(_))) {
                            Some(said) => format!(" \"{} {}\"", sources.text(item.amount.span), sources.text(said.span)),
                            None => String::new(),
                        };
                        told.fix("if that is money", item.span, format!("{sum} for {name}{said}"))
                    }
                    AmountKind::Count { .. } => told.fix("if that is money", Span::new(item.name.start, item.name.start), "for "),
                    // `60 booth fee`
                    AmountKind::Measured { unit } if Unit::parse(sources.text(unit)).is_none() => {
                        let words = unit.to(item.name);
                        let name = sources.text(words).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
                        told.fix("if that is money", words, format!("for {name}"))
                    }
                    _ => told,
                },
                _ => told,
            },
            _ => told,
        },
        (LineKind::MoneyFor, Some(Verb::Returned)) => match &detail.kind {
            DetailKind::Money { .. } => {
                let typed = sources.text(detail.span);
                let (sum, name) = typed.split_once(" for ").unwrap_or((typed, "NAME"));
                let right = format!("1 {}, refunded {}", name.trim(), sum.trim());
                told.fix("goods that come back, with their money", detail.span, right)
            }
            _ => told,
        },
        (LineKind::Fee, Some(Verb::Received)) => {
            told.note("what was kept of the money stands in the sale that it is of, as a line `fee 6.85`; here stands what came, without it")
        }
        (LineKind::Discount, Some(Verb::Received)) => told.note(
            "what a buyer takes off later is an entry of its own: `returned DATE order \"…\"` or `returned DATE via NAME`, and below it `refunded 7.00 \"why\"`",
        ),
        (LineKind::Postage, Some(Verb::Bought)) => {
            told.fix("what the supplier charged for it", first_word("postage".len()), "freight")
        }
        (LineKind::SalesTaxTo, Some(Verb::Sold | Verb::Returned)) => {
            told.note("in a sale the sum of the tax stands between: `sales-tax 8.40 to NAME`")
        }
        (LineKind::ForOrder, Some(Verb::Paid)) => {
            told.note("what a buyer paid is `received`; money back to a buyer is `returned`")
        }
        (LineKind::ForSold, Some(Verb::Paid)) => {
            told.note("what a buyer paid is `received`; a purchase of a day is settled by `for bought DATE`")
        }
        (LineKind::ForBought, Some(Verb::Received)) => {
            told.note("a supplier's bill is settled in `paid`; a sale of a day by `for sold DATE`")
        }
        (LineKind::ForReceipt, Some(Verb::Received)) => told
            .note("money that a supplier gives back for goods is `credited 2026-02-15 by NAME`")
            .note("a supplier's bill is settled in `paid`"),
        (LineKind::TaxIncluded, _) => told.note("where the sum of the tax is known, write it: `sales-tax 8.40`"),
        (LineKind::Freight, Some(Verb::Credited)) => told.note(FREIGHT_BACK),
        (kind, Some(Verb::Credited)) if SUMS.contains(&kind) => {
            told.note("a credit says off what it is taken: `8.00 off red-oak`").note(FREIGHT_BACK)
        }
        (LineKind::MoneyOff, Some(Verb::Bought)) => told.note("money off the whole bill is `discount 5.00`"),
        _ => told,
    }
}
