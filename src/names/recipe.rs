//! What a product needs and takes, and what a step wears.
//!
//! In: the lines of a definition and of its changes. Out: lists by day, in own units and minutes. Where a pack of a named thing
//! changes its size on a later day, the recipe that counts in packs changes with it on that day.

use std::cell::Cell;
use std::collections::BTreeSet;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::diagnostics::Diagnostics;
use crate::names::definition_lines::DefinitionLines;
use crate::names::errors::recipes;
use crate::names::resolve_people::pieces;
use crate::names::{CountRule, Counting, Dated, Lookup, Need, StepId, Take, Tallied, ThingId, ThingKind, Wear};
use crate::syntax::{Amount, AmountKind, Detail, DetailKind, Item, ListWord, SaidWhat};
use crate::units::checked_mul_exact;

/// Things or steps by day, and whether every item of their lines could be read.
pub(crate) struct ReadList<T> {
    pub(crate) list: Dated<Vec<T>>,
    pub(crate) whole: bool,
}

/// What a product needs.
pub(crate) fn resolve_needs(
    lookup: &Lookup<'_>,
    product: ThingId,
    lines: DefinitionLines<'_>,
    found: &mut Diagnostics,
) -> ReadList<Need> {
    let read = |item: &Item, day, found: &mut Diagnostics| need(lookup, item, day, found);
    let (ReadList { list: needs, whole }, changed) = lists(lookup, ListWord::Needs, lines, read, |need| need.thing, found);
    for (day, detail) in changed {
        let before = day.pred_opt().map_or_else(|| needs.first(), |eve| needs.on(eve));
        let after = needs.on(day);
        let gone = before.iter().filter(|need| after.iter().all(|kept| kept.thing != need.thing));
        let gone: BTreeSet<ThingId> = gone.map(|need| need.thing).collect();
        let names: Vec<&str> = gone.into_iter().map(|thing| lookup.book.thing(thing).named.name.as_str()).collect();
        if !names.is_empty() {
            found.push(recipes::needs_fall_out(&lookup.book.thing(product).named.name, &names, detail.span, day));
        }
    }
    ReadList { list: needs, whole }
}

/// The times that a product takes.
pub(crate) fn resolve_takes(
    lookup: &Lookup<'_>,
    product: ThingId,
    lines: DefinitionLines<'_>,
    found: &mut Diagnostics,
) -> ReadList<Take> {
    let (base, changes) = lines.groups(found, |detail| is_list(detail, ListWord::Takes));
    let mut whole = true;
    let mut read = |details: &[&Detail]| -> Vec<Take> {
        let taken = items(details).map(|item| take(lookup, item, found));
        taken.inspect(|taken| whole &= taken.is_some()).flatten().collect()
    };
    let mut takes = Dated::new(read(&base));
    let mut days = Vec::new();
    for (day, details) in changes {
        takes.change(day, read(&details));
        days.extend(details.first().map(|first| (day, first.span)));
    }
    for (day, line) in days {
        let before = day.pred_opt().map_or_else(|| takes.first(), |eve| takes.on(eve));
        let after = takes.on(day);
        let gone = before.iter().filter(|take| after.iter().all(|kept| kept.step != take.step));
        let gone: BTreeSet<StepId> = gone.map(|take| take.step).collect();
        let names: Vec<&str> = gone.into_iter().map(|step| lookup.book.step(step).named.name.as_str()).collect();
        if !names.is_empty() {
            found.push(recipes::takes_fall_out(&lookup.book.thing(product).named.name, &names, line, day));
        }
    }
    ReadList { list: takes, whole }
}

/// What a step wears.
pub(crate) fn resolve_wears(lookup: &Lookup<'_>, lines: DefinitionLines<'_>, found: &mut Diagnostics) -> ReadList<Wear> {
    let read = |item: &Item, day, found: &mut Diagnostics| wear(lookup, item, day, found);
    lists(lookup, ListWord::Wears, lines, read, |wear| wear.thing, found).0
}

/// Reads the lists of a word; also gives the days on which the lines themselves changed, with the first line of each.
fn lists<'s, T: Clone + PartialEq>(
    lookup: &Lookup<'_>,
    word: ListWord,
    lines: DefinitionLines<'s>,
    read: impl Fn(&Item, Option<NaiveDate>, &mut Diagnostics) -> Option<T>,
    thing: impl Fn(&T) -> ThingId,
    found: &mut Diagnostics,
) -> (ReadList<T>, Vec<(NaiveDate, &'s Detail)>) {
    let (base, changes) = lines.groups(found, |detail| is_list(detail, word));
    let whole = Cell::new(true);
    let list = |details: &[&Detail], day, found: &mut Diagnostics| -> Vec<T> {
        let things = items(details).map(|item| read(item, day, found));
        things.inspect(|thing| whole.set(whole.get() && thing.is_some())).flatten().collect()
    };
    let mut dated = Dated::new(list(&base, None, found));
    let mut days = Vec::new();
    for (day, details) in &changes {
        dated.change(*day, list(details, Some(*day), found));
        days.extend(details.first().map(|first| (*day, *first)));
    }
    let mut pack_days = BTreeSet::new();
    for one in dated.first().iter().chain(dated.changes().iter().flat_map(|(_, list)| list)) {
        pack_days.extend(lookup.book.thing(thing(one)).packs.changes().iter().map(|(day, _)| *day));
    }
    for day in pack_days {
        let in_force = changes.iter().rev().find(|(from, _)| *from <= day).map_or(&base, |(_, details)| details);
        // The same lines with another pack: what is wrong with them has been told.
        let followed = list(in_force, Some(day), &mut Diagnostics::default());
        if followed != *dated.on(day) {
            dated.change(day, followed);
        }
    }
    (ReadList { list: dated, whole: whole.get() }, days)
}

fn is_list(detail: &Detail, word: ListWord) -> bool {
    matches!(&detail.kind, DetailKind::Items(said, _) if *said == word)
}

fn items<'d>(details: &'d [&Detail]) -> impl Iterator<Item = &'d Item> {
    details.iter().flat_map(|detail| match &detail.kind {
        DetailKind::Items(_, items) => items.as_slice(),
        _ => &[],
    })
}

fn need(lookup: &Lookup<'_>, item: &Item, day: Option<NaiveDate>, found: &mut Diagnostics) -> Option<Need> {
    let per = per_pieces(lookup, item, found);
    let goods = exact_goods(lookup, item, day, per.unwrap_or(Decimal::ONE), found);
    let (thing, quantity, pieces) = goods?;
    per.map(|_| Need { thing, quantity, per: pieces, span: item.span })
}

/// An item's thing, and how much of it for `per` pieces or minutes, or for so many times `per` as make the quantity a finite decimal (`4 in` in feet
/// is 1 for three), so that a recipe is multiplied before it is divided. Gives what the quantity is for last. What no such number makes finite, or none
/// with which `per` can be kept, stays rounded to 9 places.
fn exact_goods(
    lookup: &Lookup<'_>,
    item: &Item,
    day: Option<NaiveDate>,
    per: Decimal,
    found: &mut Diagnostics,
) -> Option<(ThingId, Decimal, Decimal)> {
    let counting = Counting { day, rule: CountRule::Plain };
    let (thing, quantity) = lookup.goods(item, counting, found)?;
    let so_often = |times: Decimal| {
        let mut more = item.clone();
        more.amount.value = checked_mul_exact(item.amount.value, times).ok()?;
        // Larger figures may be too large; what is wrong with the item itself has been told.
        lookup.goods(&more, counting, &mut Diagnostics::default()).map(|(_, quantity)| quantity)
    };
    let is_exact = |times: Decimal, quantity: Decimal| {
        let thousand = so_often(checked_mul_exact(times, Decimal::ONE_THOUSAND).ok()?)?;
        Some(thousand == checked_mul_exact(quantity, Decimal::ONE_THOUSAND).ok()?)
    };
    // Surface measure rounds each board, so that more boards are no multiple of one.
    let of = lookup.book.thing(thing);
    let by_surface = *day.map_or_else(|| of.tallied.first(), |day| of.tallied.on(day)) == Tallied::BySurfaceMeasure;
    if (item.sizes.is_some() && by_surface) || is_exact(Decimal::ONE, quantity) != Some(false) {
        return Some((thing, quantity, per));
    }
    let exact = FINITE_BY.into_iter().map(Decimal::from).find_map(|times| {
        let (quantity, per) = (so_often(times)?, checked_mul_exact(per, times).ok()?);
        (is_exact(times, quantity) == Some(true)).then_some((thing, quantity, per))
    });
    Some(exact.unwrap_or((thing, quantity, per)))
}

/// What makes a length, an area or a volume finite in another unit: powers of 3 (inches in a foot, feet in a yard), of 127 (millimetres in an inch is
/// 127/5), 7 and 11 (cubic inches in a gallon are 231), and their products.
const FINITE_BY: [u32; 16] = [3, 7, 9, 11, 21, 27, 33, 63, 77, 81, 127, 231, 381, 693, 16_129, 2_048_383];

fn take(lookup: &Lookup<'_>, item: &Item, found: &mut Diagnostics) -> Option<Take> {
    let time = lookup.time(item, found);
    let per = per_pieces(lookup, item, found);
    let (step, minutes) = time?;
    Some(Take { step, minutes, per: per?, span: item.span })
}

fn wear(lookup: &Lookup<'_>, item: &Item, day: Option<NaiveDate>, found: &mut Diagnostics) -> Option<Wear> {
    let per_minutes = match per_of(item) {
        Some(per) if per.kind == AmountKind::Time && !per.value.is_zero() => Some(per.value),
        Some(per) => {
            found.push(recipes::wear_per_no_time(lookup, per));
            None
        }
        None => {
            found.push(recipes::wear_without_per(lookup, item));
            None
        }
    };
    let (thing, quantity, minutes) = exact_goods(lookup, item, day, per_minutes.unwrap_or(Decimal::ONE), found)?;
    let worn = lookup.book.thing(thing);
    if worn.kind != ThingKind::Wear {
        let head = lookup.sources.lines_of(worn.named.span);
        found.push(recipes::wears_what_is_no_wear(&worn.named, head, item.span));
    }
    per_minutes.map(|_| Wear { thing, quantity, per_minutes: minutes, span: item.span })
}

fn per_of(item: &Item) -> Option<&Amount> {
    item.said.iter().find_map(|said| match &said.what {
        SaidWhat::Per(amount) => Some(amount),
        _ => None,
    })
}

/// For how many pieces an item of a recipe is: one, or `per 18 ea`.
fn per_pieces(lookup: &Lookup<'_>, item: &Item, found: &mut Diagnostics) -> Option<Decimal> {
    per_of(item).map_or(Some(Decimal::ONE), |per| pieces(lookup.sources, per, found))
}
