//! A look over what came in: `at` where `for` was probably meant, and `for` where `at` was.
//!
//! A price per unit that is more than three times the last lot's, and that divided by the quantity comes near to it, is probably what
//! the whole line cost. A line that makes a unit cost less than a third of it, and whose sum is near to it, is probably the price
//! of one.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::diagnostics::Diagnostics;
use crate::events::{BoughtWhat, Event, EventKind, OpenedHow, errors};
use crate::names::{ResolvedBook, ThingId};
use crate::sources::{SourceSet, Span};
use crate::units::{Fixed6, checked_mul_exact, div_to_nine, read_decimal};

/// The unit cost of the last lot of a thing.
struct LastLot {
    unit_cost: Fixed6,
    day: NaiveDate,
    line: Span,
}

/// Looks over all purchases in their order.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let mut last: FxHashMap<ThingId, LastLot> = FxHashMap::default();
    let mut look = |thing: ThingId, value: Fixed6, quantity: Decimal, line: Span, day: NaiveDate| {
        let unit_cost =
            value.to_decimal().and_then(|value| div_to_nine(value, quantity).ok()).and_then(Fixed6::round_from_decimal);
        let Some(unit_cost) = unit_cost else { return };
        if let Some(before) = last.get(&thing)
            && let Some(slip) = whole_for_one(before, unit_cost, quantity, sources.text(line))
        {
            let digits = book.shop.currency.digits();
            let each = unit_cost.to_fixed_text(digits, digits.saturating_add(2));
            let last = before.unit_cost.to_fixed_text(digits, digits.saturating_add(2));
            let thing = book.thing(thing);
            let span = Span::new(line.start + slip.start, line.start + slip.end);
            let of = errors::slips::OfThing { name: &thing.named.name, unit: thing.unit.as_str() };
            found.push(errors::slips::for_or_at_of_lot(span, slip.money, &each, &last, of, before.day, before.line));
        }
        if let Some(before) = last.get(&thing)
            && let Some(slip) = slip(before, unit_cost, sources.text(line))
        {
            let named = &book.thing(thing).named;
            let digits = book.shop.currency.digits();
            let last = before.unit_cost.to_fixed_text(digits, digits.saturating_add(2));
            let unit = book.thing(thing).unit.as_str();
            let span = Span::new(line.start + slip.start, line.start + slip.end);
            found.push(errors::slips::at_or_for(span, slip.money, &last, unit, &named.name, before.day, before.line));
        }
        last.insert(thing, LastLot { unit_cost, day, line });
    };
    for event in events {
        match &event.kind {
            EventKind::Opened(opened) if opened.how != OpenedHow::Found => {
                for line in &opened.lines {
                    look(line.thing, line.value, line.quantity, line.span, event.date);
                }
            }
            EventKind::Bought(bought) => {
                for line in &bought.lines {
                    if let BoughtWhat::Stock { thing, quantity, .. } = &line.what {
                        look(*thing, line.value, *quantity, line.span, event.date);
                    }
                }
            }
            _ => {}
        }
    }
}

/// `at MONEY` in the text of an item: where, and the money.
struct Slip<'t> {
    start: u32,
    end: u32,
    money: &'t str,
}

/// `for MONEY` that makes a unit far cheaper than the last lot's, and is itself near to the price of one that was typed.
fn whole_for_one<'t>(last: &LastLot, unit_cost: Fixed6, quantity: Decimal, text: &'t str) -> Option<Slip<'t>> {
    if unit_cost.is_zero() || unit_cost.checked_mul_int(3)? >= last.unit_cost {
        return None;
    }
    let at = text.find(" for ")? + 1;
    let money = text.get(at + 4..)?.split([' ', ',']).next()?;
    let count = read_decimal(text.split(' ').next()?).ok()?;
    let typed = Fixed6::round_from_decimal(read_decimal(money).ok()?)?;
    // What the last lot cost by the unit that is typed here, which may be a pack or an inch.
    let last_of_one = checked_mul_exact(last.unit_cost.to_decimal()?, div_to_nine(quantity, count).ok()?).ok()?;
    let last_of_one = Fixed6::round_from_decimal(last_of_one)?;
    if typed.checked_mul_int(2)? < last_of_one || typed > last_of_one.checked_mul_int(2)? {
        return None;
    }
    let (start, end) = (u32::try_from(at).ok()?, u32::try_from(at + 4 + money.len()).ok()?);
    Some(Slip { start, end, money })
}

fn slip<'t>(last: &LastLot, unit_cost: Fixed6, text: &'t str) -> Option<Slip<'t>> {
    if unit_cost <= last.unit_cost.checked_mul_int(3)? || last.unit_cost.is_zero() {
        return None;
    }
    let at = text.find(" at ")? + 1;
    let money = text.get(at + 3..)?.split([' ', ',']).next()?;
    if text.get(at..)?.contains(" per ") {
        return None;
    }
    let count = read_decimal(text.split(' ').next()?).ok()?;
    let of_one = div_to_nine(unit_cost.to_decimal()?, count).ok().and_then(Fixed6::round_from_decimal)?;
    // Near is from half of it to twice as much.
    if of_one.checked_mul_int(2)? < last.unit_cost || of_one > last.unit_cost.checked_mul_int(2)? {
        return None;
    }
    let start = u32::try_from(at).ok()?;
    let end = u32::try_from(at + 3 + money.len()).ok()?;
    Some(Slip { start, end, money })
}
