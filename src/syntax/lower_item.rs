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
    let mut items: Vec<Item> = Vec::with_capacity(ahead.take_while(|branch| branch.node.rule == Rule::item).count());
    while let Some(branch) = inner.when(Rule::item) {
        let mut parts = branch.inner;
        let part = lower_part(leaves, &mut parts, word)?;
        let said = lower_said(leaves, parts, word)?;
        let after_comma =
            items.last().is_none_or(|last| leaves.text(Span::new(last.span.end, branch.node.span.start)).contains(','));
        match (part, items.last_mut()) {
            (Part::Thing(thing), _) if after_comma => items.push(thing.item(branch.node.span, said)),
            (Part::Time(time), last) if last.as_ref().is_none_or(|last| stands_alone(word, last)) && after_comma => {
                items.push(nameless(time).item(branch.node.span, said));
            }
            (Part::Thing(_), _) | (_, None) => return Err(Unread::Slip),
            (part, Some(last)) => add_to(last, part, branch.node.span, said)?,
        }
    }
    if let Some(at) = items
        .iter()
        .filter(|item| item.sizes.is_some())
        .flat_map(|item| &item.said)
        .find(|one| matches!(one.what, SaidWhat::At(_)))
    {
        return Err(errors::at_needs_per(at.span, leaves.text(at.span)).into());
    }
    Ok(items)
}

/// Whether a time without a name is an item of its own behind `last`, and not said of it.
fn stands_alone(word: ListWord, last: &Item) -> bool {
    matches!(word, ListWord::Took | ListWord::Takes) || last.amount.kind == AmountKind::Time
}

/// Adds a further part and what is said behind it to the item before it.
fn add_to(item: &mut Item, part: Part, span: Span, said: Vec<Said>) -> Result<(), Unread> {
    match part {
        Part::Sizes(sizes) => match &item.sizes {
            Some(first) => return Err(errors::said_twice(first.span, sizes.span).into()),
            None => item.sizes = Some(sizes),
        },
        Part::Back(pieces, span) => add_said(&mut item.said, Said { what: SaidWhat::Back(pieces), span })?,
        Part::Time(time) => add_said(&mut item.said, Said { what: SaidWhat::Hours(time.value), span: time.span })?,
        Part::Thing(_) => return Err(Unread::Slip),
    }
    for one in said {
        add_said(&mut item.said, one)?;
    }
    item.span.end = span.end;
    Ok(())
}

/// Adds what is said, unless it was said before.
fn add_said(said: &mut Vec<Said>, one: Said) -> Result<(), Unread> {
    if let Some(first) = said.iter().find(|earlier| kind(&earlier.what) == kind(&one.what)) {
        return Err(errors::said_twice(first.span, one.span).into());
    }
    said.push(one);
    Ok(())
}

/// What begins with a number in a list.
enum Part {
    /// An item.
    Thing(Thing),
    /// A time without a name.
    Time(Amount),
    /// Sizes of the item before.
    Sizes(Box<Sizes>),
    /// `7 back`.
    Back(Decimal, Span),
}

/// Lowers a number and what belongs to it, up to what is said.
fn lower_part(leaves: Leaves<'_>, inner: &mut Siblings<'_>, word: ListWord) -> Result<Part, Unread> {
    let first = inner.next().ok_or(Unread::Slip)?;
    let figure = first.node.span;
    if first.node.rule == Rule::time_alone {
        return Ok(Part::Time(time(leaves, figure, spaced_m(word))?));
    }
    let words = inner.when(Rule::words).map(|words| words.node.span);
    if let Some(sides) = inner.when(Rule::by_sides) {
        return Ok(Part::Sizes(Box::new(lower_sizes(leaves, figure, words, sides)?)));
    }
    let words = words.ok_or(Unread::Slip)?;
    if leaves.text(words) == "back" {
        return Ok(Part::Back(leaves.decimal(figure)?, figure.to(words)));
    }
    lower_thing(leaves, figure, &split_words(leaves, words), spaced_m(word))
}

/// The words of a span, at most three.
fn split_words(leaves: Leaves<'_>, words: Span) -> SmallVec<[Span; 3]> {
    let text = leaves.text(words);
    let mut spans: SmallVec<[Span; 3]> = SmallVec::new();
    let mut start = 0;
    for (at, c) in text.char_indices() {
        if c.is_whitespace() {
            if at > start {
                spans.push(below(words, start, at));
            }
            start = at + c.len_utf8();
        }
    }
    spans.push(below(words, start, text.len()));
    spans
}

/// A part of a span.
fn below(span: Span, start: usize, end: usize) -> Span {
    let at = |position: usize| span.start.saturating_add(u32::try_from(position).unwrap_or(u32::MAX));
    Span::new(at(start), at(end))
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

impl Thing {
    fn item(self, span: Span, said: Vec<Said>) -> Item {
        Item { span, amount: self.amount, name: self.name, licence: self.licence, said, sizes: None }
    }
}

/// A time of no step.
fn nameless(amount: Amount) -> Thing {
    Thing { amount, name: Span::new(amount.span.end, amount.span.end), licence: false }
}

/// Tells unit and name apart.
fn lower_thing(leaves: Leaves<'_>, figure: Span, words: &[Span], spaced_m: SpacedM) -> Result<Part, Unread> {
    let named = |amount: Amount, name: Span| Ok(Part::Thing(Thing { amount, name: leaves.name(name)?, licence: false }));
    match *words {
        [name] if figure_is_time(leaves, figure) => named(time(leaves, figure, spaced_m)?, name),
        _ if figure_is_time(leaves, figure) => Err(Unread::Slip),
        [unit] if unit_is_time(leaves, unit, spaced_m) => Ok(Part::Time(amount(leaves, figure, Some(unit), spaced_m)?)),
        [unit] if is_measuring_unit(leaves.text(unit)) => Err(of_what(leaves, figure.to(unit), unit)),
        [name] => named(amount(leaves, figure, None, spaced_m)?, name),
        [first, second] if begins_two_word_unit(leaves.text(first)) => Err(of_what(leaves, figure.to(second), first.to(second))),
        [licence, name] if matches!(leaves.text(licence), "licence" | "license" | "licences" | "licenses") => {
            let amount = amount(leaves, figure, None, spaced_m)?;
            Ok(Part::Thing(Thing { amount, name: leaves.name(name)?, licence: true }))
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
pub(crate) fn lower_said(leaves: Leaves<'_>, inner: Siblings<'_>, word: ListWord) -> Result<Vec<Said>, Unread> {
    let mut said: Vec<Said> = Vec::with_capacity(inner.count());
    for branch in inner {
        let what = lower_one(leaves, branch, word)?;
        add_said(&mut said, Said { what, span: branch.node.span })?;
    }
    Ok(said)
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
    let first_word = leaves.first_word(branch.node.span);
    Ok(match branch.node.rule {
        Rule::said_number => lower_number_said(leaves, first_word, &mut inner)?,
        Rule::said_code if first_word == "lot" => SaidWhat::Lot(leaves.only_code(inner)?),
        Rule::said_code => SaidWhat::On(leaves.only_code(inner)?),
        Rule::by => SaidWhat::By(leaves.party(&mut inner)?),
        Rule::said_amount if first_word == "per" => {
            let spaced_m = if word == ListWord::Wears { SpacedM::Minutes } else { SpacedM::Metres };
            match below_amount(leaves, inner, spaced_m) {
                // `at 8.00 per 100` is a price of so many, and no quantity without its unit.
                Err(Unread::Told(told)) if word == ListWord::Bare && told.code == errors::UNIT_MISSING => {
                    return Err(Unread::Slip);
                }
                amount => SaidWhat::Per(amount?),
            }
        }
        Rule::said_amount => SaidWhat::Counted(below_amount(leaves, inner, SpacedM::Metres)?),
        Rule::certificate => SaidWhat::Certificate(next_text(&mut inner)?),
        Rule::meant => SaidWhat::MeantFor(leaves.next_date(&mut inner)?),
        Rule::said_words => match first_word {
            "as" => SaidWhat::AsPlanned,
            "scrapped" => SaidWhat::Scrapped,
            "back" => SaidWhat::BackToStock,
            "left" => SaidWhat::LeftWithBuyer,
            _ => SaidWhat::ChargedOff,
        },
        _ => return Err(Unread::Slip),
    })
}

/// Lowers a word and a number, `at … per …` and `refunded … as credit` included.
fn lower_number_said(leaves: Leaves<'_>, first_word: &str, inner: &mut Siblings<'_>) -> Result<SaidWhat, Unread> {
    if first_word == "the" {
        return Ok(SaidWhat::TheRest(leaves.next_percent(inner)?));
    }
    let number = leaves.next_decimal(inner)?;
    let unit = inner.when(Rule::unit).map(|unit| unit.node.span);
    let as_credit = inner.when(Rule::as_credit).is_some();
    Ok(match (first_word, unit, as_credit) {
        ("at", Some(unit), false) => SaidWhat::AtPer(number, unit),
        ("at", None, false) => SaidWhat::At(number),
        ("for", None, false) => SaidWhat::For(number),
        ("share", None, false) => SaidWhat::Share(number),
        ("worth", None, false) => SaidWhat::Worth(number),
        ("refunded", None, as_credit) => SaidWhat::Refunded { money: number, as_credit },
        ("already", None, false) => SaidWhat::AlreadyRecovered(number),
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
