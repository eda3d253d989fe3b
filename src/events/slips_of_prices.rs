//! A look over what came in: `at` where `for` was probably meant, and `for` where `at` was, and prices far from the last ones.
//!
//! A price per unit that is more than three times the last lot's, and that divided by the quantity comes near to it, is probably what
//! the whole line cost. A line that makes a unit cost less than a third of it, and whose sum is near to it, is probably the price
//! of one.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::diagnostics::Diagnostics;
use crate::events::{BoughtWhat, Event, EventKind, OpenedHow, errors};
use crate::names::{ResolvedBook, ThingId, singular_of};
use crate::sources::{SourceSet, Span};
use crate::units::{Fixed6, checked_mul_exact, div_to_nine, read_decimal};

/// The unit cost of the last lot of a thing.
struct LastLot {
    unit_cost: Fixed6,
    day: NaiveDate,
    line: Span,
}

/// What came in: the thing and how much of it, its value, what is said of its price, and the line.
struct Arrival {
    thing: ThingId,
    quantity: Decimal,
    value: Fixed6,
    price: Span,
    line: Span,
}

/// Looks over all purchases in their order.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let mut last: FxHashMap<ThingId, LastLot> = FxHashMap::default();
    let mut look = |arrival: Arrival, day: NaiveDate| {
        let Arrival { thing, quantity, value, price, line } = arrival;
        let unit_cost =
            value.to_decimal().and_then(|value| div_to_nine(value, quantity).ok()).and_then(Fixed6::round_from_decimal);
        let Some(unit_cost) = unit_cost else { return };
        let slip = last.get(&thing).and_then(|before| {
            let (name, own) = (book.thing(thing).named.name.as_str(), book.thing(thing).unit.as_str());
            let unit = unit_of_line(sources.text(line), name).filter(|unit| unit != own);
            let typed =
                Typed { price: sources.text(price), count: first_number(sources.text(line))?, other_unit: unit.is_some() };
            Some((before, unit, slip_of(before, unit_cost, quantity, &typed)?))
        });
        let slipped = slip.is_some();
        let digits = book.shop.currency.digits();
        let text = |cost: Fixed6| cost.to_fixed_text(digits, digits.saturating_add(2));
        if let Some(before) = last.get(&thing).filter(|before| slip.is_none() && is_far(before.unit_cost, unit_cost)) {
            let thing = book.thing(thing);
            let of = errors::slips::OfThing { name: thing.named.name.as_str(), unit: thing.unit.as_str() };
            found.push(errors::slips::far_from_last(
                line,
                &text(unit_cost),
                &text(before.unit_cost),
                of,
                before.day,
                before.line,
            ));
        }
        if let Some((before, typed, slip)) = slip {
            let (last, thing) = (text(before.unit_cost), book.thing(thing));
            let of = errors::slips::OfThing { name: thing.named.name.as_str(), unit: thing.unit.as_str() };
            found.push(match slip {
                Slip::WholeForOne(money) => {
                    errors::slips::for_or_at_of_lot(price, money, &text(unit_cost), &last, of, before.day, before.line)
                }
                Slip::OneForWhole { money, of_own_unit, of_whole } => {
                    let high = errors::slips::TooHigh { money, typed: typed.as_deref(), last: &last, of_own_unit, of_whole };
                    errors::slips::at_or_for(price, high, of, before.day, before.line)
                }
            });
        }
        // What was probably typed wrongly is no measure for the next.
        if !slipped {
            last.insert(thing, LastLot { unit_cost, day, line });
        }
    };
    for event in events {
        match &event.kind {
            EventKind::Opened(opened) if opened.how != OpenedHow::Found => {
                for line in &opened.lines {
                    let (thing, quantity, value) = (line.thing, line.quantity, line.value);
                    look(Arrival { thing, quantity, value, price: line.price, line: line.span }, event.date);
                }
            }
            EventKind::Bought(bought) => {
                for line in &bought.lines {
                    if let BoughtWhat::Stock { thing, quantity, .. } = line.what {
                        look(Arrival { thing, quantity, value: line.value, price: line.price, line: line.span }, event.date);
                    }
                }
            }
            _ => {}
        }
    }
}

/// Whether one unit costs more than three times as much as another, or less than a third. What costs nothing is a gift.
fn is_far(one: Fixed6, other: Fixed6) -> bool {
    let above = |low: Fixed6, high: Fixed6| low.checked_mul_int(3).is_some_and(|three| high > three);
    !one.is_zero() && !other.is_zero() && (above(one, other) || above(other, one))
}

/// A price as it was typed, and the number of what was bought, of packs or inches too.
struct Typed<'t> {
    price: &'t str,
    count: Decimal,
    /// Whether it is counted in another unit than the thing's own.
    other_unit: bool,
}

/// A price that is probably another, and its money.
enum Slip<'t> {
    /// `for`, and `at` was meant.
    WholeForOne(&'t str),
    /// `at`, and `for` was meant, or the price of one of the thing's own unit.
    OneForWhole {
        /// The money.
        money: &'t str,
        /// Whether it may be the price of one of the thing's own unit.
        of_own_unit: bool,
        /// Whether it may be the price of the whole line.
        of_whole: bool,
    },
}

/// The number with which an item begins.
fn first_number(item: &str) -> Option<Decimal> {
    read_decimal(item.split_whitespace().next()?).ok()
}

fn slip_of<'t>(last: &LastLot, unit_cost: Fixed6, quantity: Decimal, typed: &Typed<'t>) -> Option<Slip<'t>> {
    let mut words = typed.price.split_whitespace();
    let (word, money) = (words.next()?, words.next()?);
    // What `at 5.90 per lb` is of is said.
    if words.next().is_some() {
        return None;
    }
    match word {
        "for" => whole_for_one(last, unit_cost, quantity, typed.count, money),
        "at" => one_for_whole(last, unit_cost, typed, money),
        _ => None,
    }
}

/// `for MONEY` that makes a unit far cheaper than the last lot's, and is itself near to the price of one that was typed.
fn whole_for_one<'t>(last: &LastLot, unit_cost: Fixed6, quantity: Decimal, count: Decimal, money: &'t str) -> Option<Slip<'t>> {
    if unit_cost.is_zero() || unit_cost.checked_mul_int(3)? >= last.unit_cost {
        return None;
    }
    let typed = Fixed6::round_from_decimal(read_decimal(money).ok()?)?;
    // What the last lot cost by the unit that is typed here, which may be a pack or an inch.
    let last_of_one = checked_mul_exact(last.unit_cost.to_decimal()?, div_to_nine(quantity, count).ok()?).ok()?;
    let last_of_one = Fixed6::round_from_decimal(last_of_one)?;
    is_near(typed, last_of_one)?.then_some(Slip::WholeForOne(money))
}

/// `at MONEY` that is far above the last lot's, and near to it once it is divided by how many were bought, or as it stands where
/// another unit was counted.
fn one_for_whole<'t>(last: &LastLot, unit_cost: Fixed6, typed: &Typed<'_>, money: &'t str) -> Option<Slip<'t>> {
    if unit_cost <= last.unit_cost.checked_mul_int(3)? || last.unit_cost.is_zero() {
        return None;
    }
    let of_one = div_to_nine(unit_cost.to_decimal()?, typed.count).ok().and_then(Fixed6::round_from_decimal)?;
    let of_whole = is_near(of_one, last.unit_cost)?;
    let price = Fixed6::round_from_decimal(read_decimal(money).ok()?)?;
    let of_own_unit = typed.other_unit && is_near(price, last.unit_cost)?;
    (of_whole || of_own_unit).then_some(Slip::OneForWhole { money, of_own_unit, of_whole })
}

/// The unit or pack in which a line counts, as it is typed between the number and the name.
fn unit_of_line(line: &str, name: &str) -> Option<String> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let is_name = |word: &str| word == name || singular_of(word, name);
    let at = words.iter().position(|word| is_name(word.trim_end_matches(',')))?;
    words.get(1..at).filter(|unit| !unit.is_empty()).map(|unit| unit.join(" "))
}

/// Near is from half of it to twice as much. `None` where a figure is too large.
fn is_near(one: Fixed6, other: Fixed6) -> Option<bool> {
    Some(one.checked_mul_int(2)? >= other && one <= other.checked_mul_int(2)?)
}
