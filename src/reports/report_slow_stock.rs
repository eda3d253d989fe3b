//! Finds what lies long: lots on hand by the day they came, and the pace at which their thing went in the last 365 days.
//!
//! The pace counts what was sold, less what came back, and what batches used, so that a part for sets is as quick as the sets are.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use rust_decimal::{Decimal, RoundingStrategy};

use crate::costing::{CostedBook, Flow};
use crate::names::{ResolvedBook, ThingId, ThingKind};
use crate::reports::period::{column, money_text, quantity_text};
use crate::reports::{ByAge, SlowStock, StockAges};
use crate::units::{Fixed6, checked_add_exact};

/// Days after which something lies long.
const SLOW: i64 = 180;
const YEAR: u64 = 365;

#[derive(Default)]
struct Lies {
    quantity: Decimal,
    slow: Decimal,
    slow_paid: Fixed6,
    oldest: Option<NaiveDate>,
    gone: Decimal,
}

/// Makes the part of the report. `None` where a figure is too large to be carried.
pub(crate) fn report_slow_stock(book: &ResolvedBook, costed: &CostedBook) -> Option<StockAges> {
    let Some(last) = costed.until else {
        let zero = money_text(book, Fixed6::ZERO);
        let all = ByAge { to_90_days: zero.clone(), to_180_days: zero.clone(), to_365_days: zero.clone(), older: zero };
        return Some(StockAges { all, ..StockAges::default() });
    };
    let mut ages = [Fixed6::ZERO; 4];
    let mut things: BTreeMap<ThingId, Lies> = BTreeMap::new();
    for lot in &costed.stock {
        let days = last.signed_duration_since(lot.origin.date).num_days();
        let paid = lot.vector.paid()?;
        let age = ages.get_mut(usize::from(days > 90) + usize::from(days > SLOW) + usize::from(days > 365))?;
        *age = age.checked_add(paid)?;
        let lies = things.entry(lot.thing).or_default();
        add(&mut lies.quantity, lot.quantity)?;
        if days > SLOW {
            add(&mut lies.slow, lot.quantity)?;
            lies.slow_paid = lies.slow_paid.checked_add(paid)?;
        }
        lies.oldest = Some(lies.oldest.map_or(lot.origin.date, |oldest| oldest.min(lot.origin.date)));
    }
    things.retain(|_, lies| lies.slow > Decimal::ZERO);
    let from = last.checked_sub_days(Days::new(YEAR))?;
    for movement in costed.movements.iter().filter(|one| one.flow == Flow::Sold && one.date > from) {
        if let Some(lies) = movement.thing.and_then(|thing| things.get_mut(&thing)) {
            add(&mut lies.gone, movement.quantity)?;
        }
    }
    for used in costed.batches.iter().flat_map(|batch| &batch.used).filter(|used| used.date > from) {
        if let Some(lies) = things.get_mut(&used.thing) {
            add(&mut lies.gone, used.quantity)?;
        }
    }
    let mut slow: Vec<(Fixed6, SlowStock)> = Vec::new();
    for (thing, lies) in &things {
        slow.push((lies.slow_paid, row(book, *thing, lies, last)?));
    }
    slow.sort_by(|(a, one), (b, other)| b.cmp(a).then_with(|| one.name.cmp(&other.name)));
    let mut shown = column(book, &ages).into_iter().map(|sum| money_text(book, sum));
    let mut next = || shown.next().unwrap_or_default();
    let all = ByAge { to_90_days: next(), to_180_days: next(), to_365_days: next(), older: next() };
    Some(StockAges { on: Some(last.to_string()), all, slow: slow.into_iter().map(|(_, row)| row).collect() })
}

fn row(book: &ResolvedBook, thing: ThingId, lies: &Lies, last: NaiveDate) -> Option<SlowStock> {
    let named = book.thing(thing);
    let oldest = lies.oldest?;
    let unit = named.unit.as_str();
    let lasts = match lies.gone > Decimal::ZERO {
        true => {
            let months = lies.quantity.checked_mul(Decimal::from(12))?.checked_div(lies.gone)?;
            Some(months.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero))
        }
        false => None,
    };
    let (quantity, slow, gone) = (quantity_text(lies.quantity), quantity_text(lies.slow), quantity_text(lies.gone));
    let pace = match lasts {
        Some(months) => format!("{gone} went in the last 365 days, so what is there lasts {} months", quantity_text(months)),
        None => "nothing of it went in the last 365 days".to_owned(),
    };
    Some(SlowStock {
        name: named.named.name.clone(),
        title: named.named.title.clone(),
        kind: kind_word(named.kind).to_owned(),
        says: format!("{slow} of {quantity} {unit} came over {SLOW} days ago, the oldest on {oldest}; {pace}"),
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
