//! Heads of definitions, and the lines that stand only below one.

use rust_decimal::RoundingStrategy;

use crate::sources::Span;
use crate::syntax::errors::{self, Unread};
use crate::syntax::grammar::Rule;
use crate::syntax::line_context::BlockWord;
use crate::syntax::lower_amount::lower_amount;
use crate::syntax::lower_item::below_amount;
use crate::syntax::lower_leaf::{Leaves, inner_text};
use crate::syntax::nodes::{Branch, Siblings};
use crate::syntax::words::head_word;
use crate::syntax::{AmountKind, Definition, DefinitionWord, DetailKind};
use crate::units::{SpacedM, read_decimal};

/// A definition of which only the first word is known.
pub(crate) fn empty_definition(word: DefinitionWord, head: Span) -> Definition {
    Definition {
        word,
        span: head,
        head,
        name: Span::new(head.start, head.start),
        title: Span::new(head.end, head.end),
        year: None,
        details: Vec::new(),
        damaged: false,
        unread: Vec::new(),
    }
}

/// Lowers a head; the definition has no details yet. What can't be its name is told, and the definition is damaged.
pub(crate) fn lower_definition(leaves: Leaves<'_>, head: Branch<'_>) -> (Definition, Option<Unread>) {
    let mut inner = head.inner;
    let word = inner.next().and_then(|word| match head_word(leaves.text(word.node.span)) {
        Some(BlockWord::Definition(word)) => Some(word),
        _ => None,
    });
    let mut definition = empty_definition(word.unwrap_or(DefinitionWord::Line), head.node.span);
    let mut why = None;
    for leaf in inner {
        match leaf.node.rule {
            Rule::year => match leaves.year(leaf.node.span) {
                Ok(year) => definition.year = Some(year),
                Err(unread) => why = Some(unread),
            },
            Rule::name if word == Some(DefinitionWord::Place) && leaves.text(leaf.node.span) == "home" => {
                definition.name = leaf.node.span;
            }
            Rule::name => match leaves.new_name(leaf.node.span) {
                Ok(name) => definition.name = name,
                Err(unread) => why = Some(unread),
            },
            Rule::text => definition.title = inner_text(leaf.inner).unwrap_or(definition.title),
            _ => why = Some(Unread::Slip),
        }
    }
    definition.damaged = why.is_some();
    (definition, why)
}

/// Lowers `1 bag = 50 ea` and `1 EUR = 1.0842`.
pub(crate) fn lower_conversion(leaves: Leaves<'_>, mut inner: Siblings<'_>) -> Result<DetailKind, Unread> {
    let one = inner.next().ok_or(Unread::Slip)?.node.span;
    let unit = inner.when(Rule::unit).ok_or(Unread::Slip)?.node.span;
    let right = inner.when(Rule::amount).ok_or(Unread::Slip)?;
    if leaves.text(one) != "1" {
        let told = errors::one_of_a_unit(one, leaves.text(one));
        let (currency, paid) = (leaves.text(unit), right.node.span);
        let rate =
            Some(currency).filter(|currency| is_currency(currency)).and_then(|_| rate_of(leaves.text(one), leaves.text(paid)));
        return Err(match rate {
            Some(rate) => told.fix("what one of them was", one.to(paid), format!("1 {currency} = {rate}")),
            None => told,
        }
        .into());
    }
    let holds = lower_amount(leaves, right.inner, SpacedM::Metres)?;
    match holds.kind {
        AmountKind::Count { .. } if is_currency(leaves.text(unit)) => {
            Ok(DetailKind::ExchangeRate { currency: unit, rate: leaves.decimal(holds.span)? })
        }
        AmountKind::Count { .. } => Err(errors::unit_missing(holds.span, leaves.text(holds.span)).into()),
        _ => Ok(DetailKind::Conversion { unit, holds }),
    }
}

/// What one of a foreign sum was, from so many and what was paid for them, to eight places.
fn rate_of(many: &str, paid: &str) -> Option<String> {
    let rate = read_decimal(paid).ok()?.checked_div(read_decimal(many).ok()?)?;
    let rate = rate.round_dp_with_strategy(8, RoundingStrategy::MidpointAwayFromZero).normalize();
    (!rate.is_zero()).then(|| rate.to_string())
}

/// Whether a word is spelled as a currency's code: three capitals.
fn is_currency(text: &str) -> bool {
    text.len() == 3 && text.bytes().all(|byte| byte.is_ascii_uppercase())
}

/// Lowers `owner time 24.00 per h`, `overhead 3.50 per h`, `costs 18.00 per h`, `royalty 0.50 per ea`.
pub(crate) fn lower_rate(leaves: Leaves<'_>, word: Span, mut inner: Siblings<'_>) -> Result<DetailKind, Unread> {
    let word = leaves.words(word);
    let money = leaves.next_decimal(&mut inner)?;
    let unit = inner.when(Rule::unit).ok_or(Unread::Slip)?.node.span;
    let expected = if word == "royalty" { "ea" } else { "h" };
    if leaves.text(unit) != expected {
        let told = errors::wrong_unit_here(unit, &word, &format!("per `{expected}`"), expected);
        let is_pair = matches!(leaves.text(unit), "pair" | "pairs");
        let told = if is_pair {
            told.note("a pair is two pieces: where one of the product is a single piece, it is half the sum")
        } else {
            told
        };
        return Err(told.into());
    }
    Ok(match word.as_str() {
        "owner time" => DetailKind::OwnerTime(money),
        "overhead" => DetailKind::OverheadRate(money),
        "costs" => DetailKind::Costs(money),
        "royalty" => DetailKind::Royalty(money),
        _ => return Err(Unread::Slip),
    })
}

/// Lowers `consignment 40%`, `wholesale 50%`, `business use 60%`, `prices include sales-tax 6%`.
pub(crate) fn lower_percent(leaves: Leaves<'_>, word: Span, mut inner: Siblings<'_>) -> Result<DetailKind, Unread> {
    let percent = leaves.next_percent(&mut inner)?;
    Ok(match leaves.words(word).as_str() {
        "consignment" => DetailKind::Consignment(percent),
        "wholesale" => DetailKind::Wholesale(percent),
        "business use" => DetailKind::BusinessUse(percent),
        "prices include sales-tax" => DetailKind::PricesInclude(percent),
        _ => return Err(Unread::Slip),
    })
}

/// Lowers `recovered over 7 years`, `lasts 10 years`, `for children from 3 years`.
pub(crate) fn lower_years(leaves: Leaves<'_>, word: Span, mut inner: Siblings<'_>) -> Result<DetailKind, Unread> {
    let word = leaves.words(word);
    let count = inner.next().ok_or(Unread::Slip)?.node.span;
    let span = inner.when(Rule::span_of_time).ok_or(Unread::Slip)?.node.span;
    let in_months = leaves.text(span).starts_with("month");
    if word == "for children from" {
        let months: u32 = leaves.text(count).parse().map_err(|_| Unread::Slip)?;
        let from_months = if in_months { Some(months) } else { months.checked_mul(12) };
        return Ok(DetailKind::ForChildren { from_months: from_months.ok_or(Unread::Slip)? });
    }
    let years = leaves.decimal(count)?;
    if in_months {
        return Err(errors::wrong_unit_here(span, &word, "in years", "years").into());
    }
    Ok(if word == "lasts" { DetailKind::Lasts(years) } else { DetailKind::RecoveredOver(years) })
}

/// Lowers `home workshop 200 sq ft, simplified` and `home workshop 12% of house costs`, with `from DATE`.
pub(crate) fn lower_workshop(leaves: Leaves<'_>, mut inner: Siblings<'_>) -> Result<DetailKind, Unread> {
    let (mut area, mut percent, mut from) = (None, None, None);
    if let Some(amount) = inner.when(Rule::amount) {
        area = Some(lower_amount(leaves, amount.inner, SpacedM::Metres)?);
        inner.when(Rule::simplified);
    } else {
        percent = Some(leaves.next_percent(&mut inner)?);
    }
    if let Some(mut since) = inner.when(Rule::workshop_from) {
        from = Some(leaves.next_date(&mut since.inner)?);
    }
    Ok(DetailKind::HomeWorkshop { area, percent, from })
}

/// Lowers `reorder at 20 bf` and `allows 50 ea for sale`.
pub(crate) fn lower_limit(leaves: Leaves<'_>, inner: Siblings<'_>, is_reorder: bool) -> Result<DetailKind, Unread> {
    let amount = below_amount(leaves, inner, SpacedM::Metres)?;
    Ok(if is_reorder { DetailKind::ReorderAt(amount) } else { DetailKind::Allows(amount) })
}
