//! Finds what lies long: lots on hand by the day they came, and the pace at which their thing went in the last 365 days, or in those that the book has
//! where these are fewer.
//!
//! The pace counts what was sold, less what came back, and what batches used, so that a part for sets is as quick as the sets are.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use rust_decimal::{Decimal, RoundingStrategy};

use crate::costing::{CostedBook, Flow};
use crate::names::{ResolvedBook, ThingId, ThingKind};
use crate::reports::period::{column, money_text, quantity_text};
use crate::reports::{ByAge, Period, SlowStock, StockAges};
use crate::sources::Span;
use crate::units::{Fixed6, Unit, checked_add_exact, group_digits};

/// Days after which something lies long.
const SLOW: i64 = 180;
const YEAR: u64 = 365;

/// The age of a lot on a day: which of the four sums it stands in, the youngest first.
pub(crate) fn age_of(came: NaiveDate, on: NaiveDate) -> usize {
    let days = on.signed_duration_since(came).num_days();
    usize::from(days > 90) + usize::from(days > SLOW) + usize::from(days > 365)
}

/// Whether a lot has lain long on a day.
pub(crate) fn is_slow(came: NaiveDate, on: NaiveDate) -> bool {
    on.signed_duration_since(came).num_days() > SLOW
}

/// Goods that went in the last 365 days; below zero: came back from a buyer.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Went {
    pub(crate) thing: ThingId,
    pub(crate) quantity: Decimal,
    pub(crate) date: NaiveDate,
    /// How, in words.
    pub(crate) how: &'static str,
    pub(crate) line: Span,
}

/// Hands on all that was sold, less what came back, packed with orders, and used by batches and in the shop, in the 365 days up to a day.
/// `None` where `each` gives it, or where there is no day so long before.
pub(crate) fn each_gone(costed: &CostedBook, last: NaiveDate, each: &mut dyn FnMut(Went) -> Option<()>) -> Option<()> {
    let from = last.checked_sub_days(Days::new(YEAR))?;
    for movement in costed.movements.iter().filter(|one| one.date > from) {
        let Some(thing) = movement.thing else { continue };
        let how = match movement.flow {
            Flow::Sold if movement.quantity.is_sign_negative() => "less what came back",
            Flow::Sold => "sold",
            Flow::PackingUsed => "packed with what went out",
            Flow::UsedInShop => "used in the shop",
            _ => continue,
        };
        each(Went { thing, quantity: movement.quantity, date: movement.date, how, line: movement.line })?;
    }
    for used in costed.batches.iter().flat_map(|batch| &batch.used).filter(|used| used.date > from) {
        each(Went { thing: used.thing, quantity: used.quantity, date: used.date, how: "used in a batch", line: used.line })?;
    }
    Some(())
}

/// So many months, in words.
pub(crate) fn months_words(months: Decimal) -> String {
    let noun = if months == Decimal::ONE { "month" } else { "months" };
    format!("{} {noun}", quantity_text(months))
}

/// Over how many days the pace goes: the last 365, or those of the book where these are fewer, from its first day to its last, both counted.
pub(crate) fn pace_days(first: Option<NaiveDate>, last: NaiveDate) -> i64 {
    let days = first.map(|first| last.signed_duration_since(first).num_days().saturating_add(1));
    days.map_or(365, |days| days.clamp(1, 365))
}

/// The days of the pace in words: `the last 365 days`, `the 257 days of the book`.
pub(crate) fn pace_words(days: i64) -> String {
    match days {
        365 => "the last 365 days".to_owned(),
        1 => "the one day of the book".to_owned(),
        days => format!("the {days} days of the book"),
    }
}

/// For how many months so much lasts where so much went in so many days, 365 of which are twelve months, to one digit; nothing where nothing went.
pub(crate) fn months_left(quantity: Decimal, gone: Decimal, days: i64) -> Option<Option<Decimal>> {
    if gone <= Decimal::ZERO {
        return Some(None);
    }
    let year = gone.checked_mul(Decimal::from(YEAR))?;
    let months = quantity.checked_mul(Decimal::from(12))?.checked_mul(Decimal::from(days))?.checked_div(year)?;
    Some(Some(months.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero)))
}

#[derive(Default)]
struct Lies {
    quantity: Decimal,
    slow: Decimal,
    slow_paid: Fixed6,
    oldest: Option<NaiveDate>,
    gone: Decimal,
}

/// Makes the part of the report, of a book that begins on a day: what lies on its last, and nothing where that is outside the days that are asked about. `None` where a figure is too large to be carried.
pub(crate) fn report_slow_stock(
    book: &ResolvedBook,
    (costed, first): (&CostedBook, Option<NaiveDate>),
    period: Period,
) -> Option<StockAges> {
    let Some(last) = costed.until.filter(|last| period.covers(*last)) else {
        let zero = money_text(book, Fixed6::ZERO);
        let all = ByAge { to_90_days: zero.clone(), to_180_days: zero.clone(), to_365_days: zero.clone(), older: zero };
        return Some(StockAges { all, ..StockAges::default() });
    };
    let mut ages = [Fixed6::ZERO; 4];
    let mut things: BTreeMap<ThingId, Lies> = BTreeMap::new();
    for lot in &costed.stock {
        let paid = lot.vector.paid()?;
        let age = ages.get_mut(age_of(lot.origin.date, last))?;
        *age = age.checked_add(paid)?;
        let lies = things.entry(lot.thing).or_default();
        add(&mut lies.quantity, lot.quantity)?;
        if is_slow(lot.origin.date, last) {
            add(&mut lies.slow, lot.quantity)?;
            lies.slow_paid = lies.slow_paid.checked_add(paid)?;
        }
        lies.oldest = Some(lies.oldest.map_or(lot.origin.date, |oldest| oldest.min(lot.origin.date)));
    }
    things.retain(|_, lies| lies.slow > Decimal::ZERO);
    each_gone(costed, last, &mut |went| match things.get_mut(&went.thing) {
        Some(lies) => add(&mut lies.gone, went.quantity),
        None => Some(()),
    })?;
    let days = pace_days(first, last);
    let mut slow: Vec<(Fixed6, SlowStock)> = Vec::new();
    for (thing, lies) in &things {
        slow.push((lies.slow_paid, row(book, *thing, lies, (last, days))?));
    }
    slow.sort_by(|(a, one), (b, other)| b.cmp(a).then_with(|| one.name.cmp(&other.name)));
    let mut shown = column(book, &ages).into_iter().map(|sum| money_text(book, sum));
    let mut next = || shown.next().unwrap_or_default();
    let all = ByAge { to_90_days: next(), to_180_days: next(), to_365_days: next(), older: next() };
    Some(StockAges { on: Some(last.to_string()), all, slow: slow.into_iter().map(|(_, row)| row).collect() })
}

fn row(book: &ResolvedBook, thing: ThingId, lies: &Lies, (last, days): (NaiveDate, i64)) -> Option<SlowStock> {
    let named = book.thing(thing);
    let oldest = lies.oldest?;
    let unit = named.unit.as_str();
    let lasts = months_left(lies.quantity, lies.gone, days)?;
    let (quantity, slow, gone) = (quantity_text(lies.quantity), quantity_text(lies.slow), quantity_text(lies.gone));
    let pace = match lasts {
        Some(months) => {
            format!(
                "{} {unit} went in {}, so what is there lasts {}",
                at_sight(lies.gone),
                pace_words(days),
                months_words(months)
            )
        }
        None => format!("nothing of it went in {}", pace_words(days)),
    };
    let is_one = lies.quantity == Decimal::ONE && named.unit == Unit::Each;
    let of_all = match lies.slow == lies.quantity {
        true if is_one => format!("the one that is there came over {SLOW} days ago, on {oldest}"),
        true => format!("all {} {unit} came over {SLOW} days ago, the oldest on {oldest}", at_sight(lies.quantity)),
        false => {
            let (slow, all) = (at_sight(lies.slow), at_sight(lies.quantity));
            format!("{slow} of {all} {unit} came over {SLOW} days ago, the oldest on {oldest}")
        }
    };
    Some(SlowStock {
        name: named.named.name.clone(),
        title: named.named.title.clone(),
        kind: kind_word(named.kind).to_owned(),
        says: format!("{of_all}; {pace}"),
        quantity,
        unit: unit.to_owned(),
        slow_quantity: slow,
        slow_paid: money_text(book, lies.slow_paid),
        oldest: oldest.to_string(),
        oldest_days: last.signed_duration_since(oldest).num_days(),
        gone_in_a_year: gone,
        lasts_months: lasts.map(quantity_text),
    })
}

/// A quantity as a sentence says it: three digits after the point at the most, half away from zero; so little that these say nothing stays whole.
fn at_sight(quantity: Decimal) -> String {
    let short = quantity.round_dp_with_strategy(3, RoundingStrategy::MidpointAwayFromZero);
    group_digits(&quantity_text(if short.is_zero() { quantity } else { short }))
}

const fn kind_word(kind: ThingKind) -> &'static str {
    match kind {
        ThingKind::Material => "material",
        ThingKind::Wear => "wear",
        ThingKind::Packing => "packing",
        ThingKind::Product => "product",
    }
}

fn add(sum: &mut Decimal, quantity: Decimal) -> Option<()> {
    *sum = checked_add_exact(*sum, quantity).ok()?;
    Some(())
}
