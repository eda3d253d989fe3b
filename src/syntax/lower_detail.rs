//! Lines of a block: which form a line has, and its figures.
//!
//! The grammar has decided by the first word; here each form is one arm. Whether a line may stand in its block is not asked.

use crate::sources::Span;
use crate::syntax::errors::Unread;
use crate::syntax::grammar::Rule;
use crate::syntax::lower_definition::{lower_conversion, lower_limit, lower_percent, lower_rate, lower_workshop, lower_years};
use crate::syntax::lower_item::lower_items;
use crate::syntax::lower_leaf::{Leaves, inner_text, next_text};
use crate::syntax::lower_money::lower_money;
use crate::syntax::lower_plain::{list_word, money_word, plain};
use crate::syntax::nodes::{Branch, Siblings};
use crate::syntax::{Detail, DetailKind, FeeBase, Figure, ListWord, MoneyWord, SharedBy};

/// Lowers a line. A second one comes of `made 6 spoon, 12 spinning-top, shared by count`.
pub(crate) fn lower_detail(leaves: Leaves<'_>, line: Branch<'_>) -> Result<(Detail, Option<Detail>), Unread> {
    let span = line.node.span;
    let mut inner = line.inner;
    let kind = lower_kind(leaves, &mut inner)?;
    let shared = inner.when(Rule::shared_out).map(|shared| lower_shared_out(leaves, &kind, shared.node.span)).transpose()?;
    let memo = match inner.when(Rule::memo) {
        Some(memo) => inner_text(memo.inner)?,
        None => Span::new(span.end, span.end),
    };
    if inner.peek().is_some() {
        return Err(Unread::Slip);
    }
    Ok((Detail { span, kind, memo }, shared))
}

/// `shared by price` behind what was made, as the line of its own that it stands for.
fn lower_shared_out(leaves: Leaves<'_>, kind: &DetailKind, span: Span) -> Result<Detail, Unread> {
    match kind {
        DetailKind::Items(ListWord::Made, _) => {
            let plain = plain(&leaves.words(span)).ok_or(Unread::Slip)?;
            Ok(Detail { span, kind: DetailKind::Plain(plain), memo: Span::new(span.end, span.end) })
        }
        _ => Err(Unread::Slip),
    }
}

/// Lowers what a line says, up to its memo.
fn lower_kind(leaves: Leaves<'_>, inner: &mut Siblings<'_>) -> Result<DetailKind, Unread> {
    if inner.peek() == Some(Rule::item) {
        return Ok(DetailKind::Items(ListWord::Bare, lower_items(leaves, inner, ListWord::Bare)?));
    }
    let first = inner.next().ok_or(Unread::Slip)?;
    let word = first.node.span;
    Ok(match first.node.rule {
        Rule::list_word => {
            let word = list_word(leaves, word)?;
            DetailKind::Items(word, lower_items(leaves, inner, word)?)
        }
        Rule::num => {
            let kind = lower_money(leaves, word, *inner)?;
            *inner = inner.starting_at(Rule::memo);
            kind
        }
        Rule::common_word => lower_common(leaves, word, inner)?,
        Rule::sum_word => {
            let (sum, span) = next_sum(leaves, inner)?;
            DetailKind::Sum(money_word(leaves, word)?, sum, span)
        }
        Rule::plain => DetailKind::Plain(plain(&leaves.words(word)).ok_or(Unread::Slip)?),
        Rule::to_word => DetailKind::To(leaves.party(inner)?),
        Rule::receipt_word => DetailKind::Receipt(leaves.text_or_code(inner)?),
        Rule::sales_tax_word => lower_sales_tax(leaves, inner)?,
        Rule::paid_word => lower_paid(leaves, inner)?,
        Rule::freight_word => {
            let money = leaves.next_decimal(inner)?;
            DetailKind::Freight { shipping: leaves.text(word) == "shipping", money, shared: lower_shared(leaves, inner) }
        }
        Rule::discount_word => {
            let figure = leaves.sum_or_percent(inner)?;
            DetailKind::Discount(figure, lower_shared(leaves, inner))
        }
        Rule::fee_word => lower_fee(leaves, inner)?,
        Rule::text_word => {
            let text = next_text(inner)?;
            match leaves.text(word) {
                "note" => DetailKind::Note(text),
                "file" => DetailKind::File(text),
                "expected" => DetailKind::Expected(text),
                _ => DetailKind::Seal(text),
            }
        }
        Rule::date_word => {
            let date = leaves.next_date(inner)?;
            if leaves.text(word) == "available" { DetailKind::Available(date) } else { DetailKind::InUseFrom(date) }
        }
        Rule::measured_word => DetailKind::MeasuredIn(inner.when(Rule::unit).ok_or(Unread::Slip)?.node.span),
        Rule::lone_name_word => {
            let name = leaves.next_name(inner)?;
            if leaves.text(word) == "line" { DetailKind::Line(name) } else { DetailKind::Pattern(name) }
        }
        Rule::name_word => {
            let name = leaves.next_name(inner)?;
            match leaves.text(word) {
                "from" => DetailKind::FromMaterial(name),
                "currency" => DetailKind::Currency(name),
                _ => DetailKind::TaxForm(name),
            }
        }
        Rule::form_line_word => DetailKind::FormLine(leaves.code(inner.next().ok_or(Unread::Slip)?.node.span)?),
        Rule::percent_word => lower_percent(leaves, word, take_all(inner))?,
        Rule::rate_word => lower_rate(leaves, word, take_all(inner))?,
        Rule::reorder_word => lower_limit(leaves, take_all(inner), true)?,
        Rule::allows_word => lower_limit(leaves, take_all(inner), false)?,
        Rule::hours_word => DetailKind::HoursPerWeek(leaves.next_decimal(inner)?),
        Rule::years_word => lower_years(leaves, word, take_all(inner))?,
        Rule::section_word => match inner.when(Rule::num) {
            Some(sum) => DetailKind::Section179(Some(leaves.decimal(sum.node.span)?)),
            None => DetailKind::Section179(None),
        },
        Rule::workshop_word => lower_workshop(leaves, take_all(inner))?,
        Rule::conversion => lower_conversion(leaves, first.inner)?,
        _ => return Err(Unread::Slip),
    })
}

/// What comes before the memo; nothing but the memo is left.
fn take_all<'t>(inner: &mut Siblings<'t>) -> Siblings<'t> {
    let all = inner.until(Rule::memo);
    *inner = inner.starting_at(Rule::memo);
    all
}

/// The next sum of money, and where it stands.
fn next_sum(leaves: Leaves<'_>, inner: &mut Siblings<'_>) -> Result<(rust_decimal::Decimal, Span), Unread> {
    let span = inner.next().ok_or(Unread::Slip)?.node.span;
    Ok((leaves.decimal(span)?, span))
}

/// `total`, `postage`, `shipping`, `sales-tax` and a sum, with nothing else; of the last, a percentage is incomplete.
fn lower_common(leaves: Leaves<'_>, word: Span, inner: &mut Siblings<'_>) -> Result<DetailKind, Unread> {
    let (sum, span) = next_sum(leaves, inner)?;
    Ok(match leaves.text(word) {
        "total" => DetailKind::Sum(MoneyWord::Total, sum, span),
        "postage" => DetailKind::Sum(MoneyWord::Postage, sum, span),
        "shipping" => DetailKind::Freight { shipping: true, money: sum, shared: None },
        _ => DetailKind::SalesTax { figure: Figure::Money(sum), to: None },
    })
}

/// `shared by …`, where it stands.
fn lower_shared(leaves: Leaves<'_>, inner: &mut Siblings<'_>) -> Option<SharedBy> {
    let how = inner.when(Rule::shared_by)?;
    Some(match leaves.text(how.node.span).rsplit(char::is_whitespace).next() {
        Some("quantity") => SharedBy::Quantity,
        Some("weight") => SharedBy::Weight,
        _ => SharedBy::Value,
    })
}

/// `sales-tax 8.40 to ny-state`, `sales-tax 6% included`, `sales-tax to ny-state`.
fn lower_sales_tax(leaves: Leaves<'_>, inner: &mut Siblings<'_>) -> Result<DetailKind, Unread> {
    if let Some(to) = inner.when(Rule::tax_to_only) {
        return Ok(DetailKind::SalesTaxTo(leaves.only_name(to.inner)?));
    }
    let figure = leaves.sum_or_percent(inner)?;
    let included = inner.when(Rule::included).is_some();
    let to = inner.when(Rule::tax_to).map(|to| leaves.only_name(to.inner)).transpose()?;
    match figure {
        Figure::Percent(_) if !included => Err(Unread::Slip),
        Figure::Money(_) if included => Err(Unread::Slip),
        _ => Ok(DetailKind::SalesTax { figure, to }),
    }
}

/// `paid`, `paid DATE`, `paid MONEY`, `paid MONEY on DATE`.
fn lower_paid(leaves: Leaves<'_>, inner: &mut Siblings<'_>) -> Result<DetailKind, Unread> {
    let money = inner.when(Rule::num).map(|sum| leaves.decimal(sum.node.span)).transpose()?;
    let date = inner.when(Rule::date).map(|date| leaves.date(date.node.span)).transpose()?;
    Ok(DetailKind::Paid { money, date })
}

/// `fee 8.56`, `fee 3% of total`, `fee 0.25 per sale`.
fn lower_fee(leaves: Leaves<'_>, inner: &mut Siblings<'_>) -> Result<DetailKind, Unread> {
    let span = inner.peek_span().ok_or(Unread::Slip)?;
    let figure = leaves.sum_or_percent(inner)?;
    let base = inner.when(Rule::fee_base).map(|base| leaves.words(base.node.span));
    Ok(match (figure, base.as_deref()) {
        (Figure::Money(sum), None) => DetailKind::Sum(MoneyWord::Fee, sum, span),
        (Figure::Money(_), Some("per sale")) => DetailKind::Fee(figure, FeeBase::PerSale),
        (Figure::Money(_), Some("per item")) => DetailKind::Fee(figure, FeeBase::PerItem),
        (Figure::Percent(_), Some("of total")) => DetailKind::Fee(figure, FeeBase::Total),
        (Figure::Percent(_), Some("of goods")) => DetailKind::Fee(figure, FeeBase::Goods),
        (Figure::Percent(_), Some("of card")) => DetailKind::Fee(figure, FeeBase::Card),
        _ => return Err(Unread::Slip),
    })
}
