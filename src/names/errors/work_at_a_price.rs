//! Work or an expense that is counted as goods are: `11 sharpening at 8` in a sale, `10 paring-knife heat-treat at 6.50` in a purchase.

use rust_decimal::Decimal;

use crate::diagnostics::Diagnostic;
use crate::names::errors::MONEY_WORD_ORDER;
use crate::names::errors::typed_line::TypedLine;
use crate::names::kinds::{a, kind_of, names_of};
use crate::names::{Known, Lookup};
use crate::sources::Span;
use crate::syntax::{AmountKind, DefinitionWord, Item, SaidWhat, Verb, is_work_word};

/// The sum of an item: so many at a price, or the money for the whole line; `None` where it comes out in no cents.
fn sum_of(item: &Item) -> Option<String> {
    let sum = item.said.iter().find_map(|said| match said.what {
        SaidWhat::At(price) => Some(item.amount.value.checked_mul(price)),
        SaidWhat::For(sum) => Some(Some(sum)),
        _ => None,
    })??;
    let mut sum = sum.normalize();
    (sum.scale() <= 2).then(|| {
        sum.rescale(2);
        sum.to_string()
    })
}

/// How many, at what price, as a remark.
fn remark_of(lookup: &Lookup<'_>, item: &Item, before: Span) -> String {
    let price = item.said.iter().find(|said| matches!(said.what, SaidWhat::At(_)));
    let price = price.map_or_else(String::new, |said| format!(" {}", lookup.sources.text(said.span)));
    format!("{}{price}", lookup.sources.text(before).trim())
}

/// Whether nothing stands on the line but the item.
fn is_alone(lookup: &Lookup<'_>, item: &Item) -> bool {
    let line = lookup.sources.text(lookup.sources.lines_of(item.name));
    !line.contains([',', '"'])
}

/// `11 sharpening at 8`, `6 class`: an income or expense that is counted; `None` where the figure is the money.
pub(crate) fn work_at_a_price(lookup: &Lookup<'_>, item: &Item, known: Option<Known>) -> Option<Diagnostic> {
    let verb = TypedLine::of(lookup.sources, item.name).verb.filter(|_| is_alone(lookup, item))?;
    let name = lookup.text(item.name);
    let kind = known.and_then(|known| kind_of(lookup.book, known)).map_or_else(String::new, a);
    let place = item.amount.span.to(item.name);
    let told = |message: String| {
        Diagnostic::new(MONEY_WORD_ORDER, place, message).label(format!("`{name}` is {kind}, which isn't counted"))
    };
    let whole = item.amount.value.fract() == Decimal::ZERO && !lookup.sources.text(item.amount.span).contains('.');
    let is_priced = item.said.iter().any(|said| matches!(said.what, SaidWhat::At(_) | SaidWhat::For(_) | SaidWhat::AtPer(..)));
    let count = remark_of(lookup, item, item.amount.span);
    match (known?, verb) {
        (Known::Income(_), Verb::Sold | Verb::Received) if is_priced => {
            let sum = sum_of(item)?;
            let told = told(format!("work is sold for a sum, and how many it was may follow as a remark: `{sum} for {name}`"));
            Some(told.fix("write it so", item.span, format!("{sum} for {name} \"{count}\"")))
        }
        (Known::Income(_), Verb::Sold | Verb::Received) if whole && item.said.is_empty() => {
            let told = told("a sum of money stands before `for`".into());
            let told = told.fix("where that is the money", item.span, format!("{count} for {name}"));
            Some(told.fix("where so many were done, with their sum", item.span, format!("SUM for {name} \"{count}\"")))
        }
        (Known::Expense(_), Verb::Bought) if is_priced => {
            Some(done_outside(told("a sum of money stands before `for`".into()), item, &name, &count))
        }
        (Known::Expense(_), Verb::Paid) if is_priced => {
            let sum = sum_of(item)?;
            let told = told(format!("an expense is a sum, and how many it was may follow as a remark: `{sum} for {name}`"));
            Some(told.fix("write it so", item.span, format!("{sum} for {name} \"{count}\"")))
        }
        _ => None,
    }
}

/// `2 knives sharpened at 8` in a sale: work on what belongs to a customer.
pub(crate) fn work_on_things(lookup: &Lookup<'_>, item: &Item, unit: Span) -> Option<Diagnostic> {
    let line = TypedLine::of(lookup.sources, item.name);
    let work = lookup.text(item.name);
    let sum = sum_of(item).filter(|_| line.verb == Some(Verb::Sold) && is_alone(lookup, item) && is_work_word(&work))?;
    let place = unit.to(item.name);
    let text = remark_of(lookup, item, item.amount.span.to(item.name));
    let message = format!("money for work that makes no product says what it is for: `{sum} for NAME`");
    let told = Diagnostic::new(MONEY_WORD_ORDER, place, message);
    let told = told.note("an income is defined in any file: `income repair \"Repairs\"`; goods of the shop's own have one name");
    let names = names_of(lookup.book, DefinitionWord::Income);
    let few = !names.is_empty() && names.len() <= MOST_INCOMES;
    if !few {
        return Some(told.fix("with the income's name", item.span, format!("{sum} for NAME \"{text}\"")));
    }
    Some(
        names.into_iter().fold(told, |told, name| {
            told.fix(format!("as the income `{name}`"), item.span, format!("{sum} for {name} \"{text}\""))
        }),
    )
}

/// How many incomes are offered.
const MOST_INCOMES: usize = 4;

/// `10 paring-knife heat-treat at 6.50` in a purchase: work on pieces by somebody else, where goods belong.
pub(crate) fn work_on_pieces(lookup: &Lookup<'_>, item: &Item, known: Known, told: Diagnostic) -> Diagnostic {
    let line = TypedLine::of(lookup.sources, item.name);
    let is_work = matches!(known, Known::Expense(_) | Known::Step(_));
    if !is_work || line.verb != Some(Verb::Bought) || !is_alone(lookup, item) {
        return told;
    }
    let name = lookup.text(item.name);
    let before = match item.amount.kind {
        AmountKind::Measured { unit } => item.amount.span.to(unit),
        AmountKind::Count { .. } | AmountKind::Time => item.amount.span,
    };
    let text = remark_of(lookup, item, before.to(item.name));
    match known {
        Known::Expense(_) => done_outside(told, item, &name, &text),
        _ => on_its_batch(told, item, &text),
    }
}

/// With the batch whose pieces were worked on.
fn on_its_batch(told: Diagnostic, item: &Item, text: &str) -> Diagnostic {
    let sum = sum_of(item).unwrap_or_else(|| "SUM".to_owned());
    let told = told.note("what others do on pieces that are being made is a cost of their batch, and of each piece in it");
    told.fix("money for work on a batch", item.span, format!("{sum} on batch NAME \"{text}\""))
}

/// With the batch whose pieces were worked on, and as the expense.
fn done_outside(told: Diagnostic, item: &Item, name: &str, text: &str) -> Diagnostic {
    let sum = sum_of(item).unwrap_or_else(|| "SUM".to_owned());
    on_its_batch(told, item, text).fix("or a cost of the shop, of no piece", item.span, format!("{sum} for {name} \"{text}\""))
}
