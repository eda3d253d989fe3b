//! Items: `31.5 bf red-oak at 5.90`, `45m sanding on PC-014`, `1 sheet baltic-6 per 18 ea`.
//!
//! After a number, one word is a thing, two are its unit and the thing; `sq ft` and its kind are one unit of two words.

use rust_decimal::Decimal;
use smallvec::SmallVec;

use crate::sources::Span;
use crate::syntax::errors::{self, Unread};
use crate::syntax::grammar::Rule;
use crate::syntax::lower_amount::{amount, figure_is_time, lower_amount, lower_sizes, time, unit_is_time};
use crate::syntax::lower_leaf::{Leaves, next_text};
use crate::syntax::nodes::{Branch, Siblings};
use crate::syntax::words::{begins_two_word_unit, is_measuring_unit};
use crate::syntax::{Amount, AmountKind, Item, ListWord, Said, SaidWhat, Sizes};
use crate::units::SpacedM;

/// Lowers the items that come next.
pub(crate) fn lower_items(leaves: Leaves<'_>, inner: &mut Siblings<'_>, word: ListWord) -> Result<Vec<Item>, Unread> {
    let ahead = *inner;
    let mut items = Vec::with_capacity(ahead.take_while(|branch| branch.node.rule == Rule::item).count());
    while let Some(item) = inner.when(Rule::item) {
        items.push(lower_item(leaves, item, word)?);
    }
    Ok(items)
}

/// How `m` after a blank reads in a list.
fn spaced_m(word: ListWord) -> SpacedM {
    match word {
        ListWord::Took | ListWord::Takes => SpacedM::Minutes,
        _ => SpacedM::Metres,
    }
}

/// An item's amount, its name and whether it is a licence.
struct Thing {
    amount: Amount,
    name: Span,
    licence: bool,
}

/// Lowers one item.
fn lower_item(leaves: Leaves<'_>, item: Branch<'_>, word: ListWord) -> Result<Item, Unread> {
    let mut inner = item.inner;
    let figure = inner.next().ok_or(Unread::Slip)?.node.span;
    let mut words: SmallVec<[Span; 3]> = SmallVec::new();
    while let Some(name) = inner.when(Rule::name) {
        words.push(name.node.span);
    }
    let thing = lower_thing(leaves, figure, &words, spaced_m(word))?;
    let (said, sizes) = lower_said(leaves, inner, word)?;
    Ok(Item { span: item.node.span, amount: thing.amount, name: thing.name, licence: thing.licence, said, sizes })
}

/// Tells unit and name apart.
fn lower_thing(leaves: Leaves<'_>, figure: Span, words: &[Span], spaced_m: SpacedM) -> Result<Thing, Unread> {
    let nameless = |amount: Amount| Thing { amount, name: Span::new(amount.span.end, amount.span.end), licence: false };
    let named = |amount: Amount, name: Span| Ok(Thing { amount, name: leaves.name(name)?, licence: false });
    match *words {
        [] if figure_is_time(leaves, figure) => Ok(nameless(time(leaves, figure, spaced_m)?)),
        [name] if figure_is_time(leaves, figure) => named(time(leaves, figure, spaced_m)?, name),
        _ if figure_is_time(leaves, figure) => Err(Unread::Slip),
        [unit] if unit_is_time(leaves, unit, spaced_m) => Ok(nameless(amount(leaves, figure, Some(unit), spaced_m)?)),
        [unit] if is_measuring_unit(leaves.text(unit)) => Err(of_what(leaves, figure.to(unit), unit)),
        [name] => named(amount(leaves, figure, None, spaced_m)?, name),
        [first, second] if begins_two_word_unit(leaves.text(first)) => {
            Err(of_what(leaves, figure.to(second), first.to(second)))
        }
        [licence, name] if matches!(leaves.text(licence), "licence" | "license" | "licences" | "licenses") => {
            let amount = amount(leaves, figure, None, spaced_m)?;
            Ok(Thing { amount, name: leaves.name(name)?, licence: true })
        }
        [unit, name] => named(amount(leaves, figure, Some(leaves.name(unit)?), spaced_m)?, name),
        [first, second, name] if begins_two_word_unit(leaves.text(first)) => {
            named(amount(leaves, figure, Some(first.to(second)), spaced_m)?, name)
        }
        _ => Err(Unread::Slip),
    }
}

/// A quantity without its thing.
fn of_what(leaves: Leaves<'_>, span: Span, unit: Span) -> Unread {
    errors::unit_of_what(span, leaves.text(span), leaves.text(unit)).into()
}

/// Lowers what is said of an item or a sum, and tells what is said twice.
pub(crate) fn lower_said(
    leaves: Leaves<'_>,
    inner: Siblings<'_>,
    word: ListWord,
) -> Result<(Vec<Said>, Option<Box<Sizes>>), Unread> {
    let sizes_count = inner.filter(|branch| branch.node.rule == Rule::sizes).count();
    let mut said: Vec<Said> = Vec::with_capacity(inner.count().saturating_sub(sizes_count));
    let mut sizes: Option<Box<Sizes>> = None;
    for branch in inner {
        if branch.node.rule == Rule::sizes {
            if let Some(first) = &sizes {
                return Err(errors::said_twice(first.span, branch.node.span).into());
            }
            sizes = Some(Box::new(lower_sizes(leaves, branch)?));
            continue;
        }
        let what = lower_one(leaves, branch, word)?;
        if let Some(first) = said.iter().find(|one| kind(&one.what) == kind(&what)) {
            return Err(errors::said_twice(first.span, branch.node.span).into());
        }
        said.push(Said { what, span: branch.node.span });
    }
    if sizes.is_some()
        && let Some(at) = said.iter().find(|one| matches!(one.what, SaidWhat::At(_)))
    {
        return Err(errors::at_needs_per(at.span, leaves.text(at.span)).into());
    }
    Ok((said, sizes))
}

/// What is said with the same word; `at` with and without `per` is one.
fn kind(what: &SaidWhat) -> std::mem::Discriminant<SaidWhat> {
    match what {
        SaidWhat::AtPer(..) => std::mem::discriminant(&SaidWhat::At(Decimal::ZERO)),
        other => std::mem::discriminant(other),
    }
}

/// Lowers one thing that is said.
fn lower_one(leaves: Leaves<'_>, branch: Branch<'_>, word: ListWord) -> Result<SaidWhat, Unread> {
    let mut inner = branch.inner;
    Ok(match branch.node.rule {
        Rule::at_money => {
            let money = leaves.next_decimal(&mut inner)?;
            match inner.when(Rule::unit) {
                Some(unit) => SaidWhat::AtPer(money, unit.node.span),
                None => SaidWhat::At(money),
            }
        }
        Rule::for_money => SaidWhat::For(leaves.next_decimal(&mut inner)?),
        Rule::lot => SaidWhat::Lot(leaves.only_code(inner)?),
        Rule::share => SaidWhat::Share(leaves.next_decimal(&mut inner)?),
        Rule::worth => SaidWhat::Worth(leaves.next_decimal(&mut inner)?),
        Rule::refunded => {
            let money = leaves.next_decimal(&mut inner)?;
            SaidWhat::Refunded { money, as_credit: inner.when(Rule::as_credit).is_some() }
        }
        Rule::by => SaidWhat::By(leaves.party(&mut inner)?),
        Rule::on => SaidWhat::On(leaves.only_code(inner)?),
        Rule::per => {
            let spaced_m = if word == ListWord::Wears { SpacedM::Minutes } else { SpacedM::Metres };
            SaidWhat::Per(below_amount(leaves, inner, spaced_m)?)
        }
        Rule::counted => SaidWhat::Counted(below_amount(leaves, inner, SpacedM::Metres)?),
        Rule::certificate => SaidWhat::Certificate(next_text(&mut inner)?),
        Rule::meant => SaidWhat::MeantFor(leaves.next_date(&mut inner)?),
        Rule::time_said => SaidWhat::Hours(time(leaves, branch.node.span, SpacedM::Minutes)?.value),
        Rule::back => SaidWhat::Back(leaves.next_decimal(&mut inner)?),
        Rule::already => SaidWhat::AlreadyRecovered(leaves.next_decimal(&mut inner)?),
        Rule::the_rest => SaidWhat::TheRest(leaves.next_percent(&mut inner)?),
        Rule::charged_off => SaidWhat::ChargedOff,
        Rule::back_to_stock => SaidWhat::BackToStock,
        Rule::scrapped => SaidWhat::Scrapped,
        Rule::left_with_buyer => SaidWhat::LeftWithBuyer,
        Rule::as_planned => SaidWhat::AsPlanned,
        _ => return Err(Unread::Slip),
    })
}

/// The amount below `per` or `counted`, where no thing follows that would tell its unit.
pub(crate) fn below_amount(leaves: Leaves<'_>, mut inner: Siblings<'_>, spaced_m: SpacedM) -> Result<Amount, Unread> {
    let amount = lower_amount(leaves, inner.when(Rule::amount).ok_or(Unread::Slip)?.inner, spaced_m)?;
    match amount.kind {
        AmountKind::Count { .. } => Err(errors::unit_missing(amount.span, leaves.text(amount.span)).into()),
        _ => Ok(amount),
    }
}
