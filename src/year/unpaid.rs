//! Cash basis: bills that are open over a year's end, and what of them is still on hand.
//!
//! A cost of stock counts on the later of paid and gone. What is unpaid at a year's end belongs to goods that are still here (then it
//! is simply not in the closing stock) or that are gone (then it waits for its payment). While all that a bill brought is on
//! hand at a year's end, that is exact. From the first year in which a part is gone and a part unpaid, only marks that travel with the cost
//! could tell how much; what of the bill had not counted before then counts in that year, paid or not, and the reader is told which bill
//! it is. So nothing that happens later moves an earlier year.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};

use crate::costing::{CostedBook, Movement};
use crate::events::Output;
use crate::names::{BatchId, StockKept, ThingId, ThingKind};
use crate::units::Fixed6;
use crate::year::books::BooksOfYear;
use crate::year::came_in::{CameAs, came_in};
use crate::year::settled::{Part, Parts, Settled};

/// How the costs of stock that came in count.
#[derive(Clone, Debug, Default)]
pub(crate) struct Unpaid {
    /// The year from which the goods of a bill count whether or not they are paid.
    counted_from: BTreeMap<Key, i32>,
}

/// What a movement brought, on which bill. Goods sent back to it have the same key as those that were bought.
type Key = (u32, Option<ThingId>, Option<BatchId>);

fn key_of(movement: &Movement) -> Option<Key> {
    Some((movement.bill?, movement.thing, movement.batch))
}

impl Unpaid {
    /// Looks at every movement with a bill. `None` on overflow.
    pub(crate) fn of(of: &BooksOfYear<'_>, settled: &Settled) -> Option<Self> {
        let costed = of.costed();
        let last_year = costed.until.map_or(of.year, |until| until.year().max(of.year));
        let mut counted_from: BTreeMap<Key, i32> = BTreeMap::new();
        let mut ways: Option<WaysOut> = None;
        for (at, movement) in (0u32..).zip(&costed.movements) {
            let Some(key) = key_of(movement).filter(|_| movement.flow.comes_in()) else { continue };
            let mut open_over = BTreeSet::new();
            for (came_as, amount) in came_in(movement)? {
                if !waits(of, movement, came_as) {
                    continue;
                }
                let parts = settled.came_in(at, came_as, movement.date, amount);
                for year in movement.date.year()..=last_year {
                    if paid_by(&parts, year)? == amount {
                        break;
                    }
                    open_over.insert(year);
                }
            }
            let in_part = open_over.into_iter().find(|year| {
                let end = NaiveDate::from_ymd_opt(*year, 12, 31);
                end.is_some_and(|end| !ways.get_or_insert_with(|| WaysOut::of(costed)).all_on_hand(costed, movement, end))
            });
            if let Some(year) = in_part {
                let from = counted_from.entry(key).or_insert(year);
                *from = year.min(*from);
            }
        }
        Some(Self { counted_from })
    }

    /// When a component of a movement counts in cost of goods: on the later of paid and here. `None` on overflow.
    pub(crate) fn parts(
        &self,
        settled: &Settled,
        at: u32,
        movement: &Movement,
        came_as: CameAs,
        amount: Fixed6,
    ) -> Option<Parts> {
        let parts = settled.came_in(at, came_as, movement.date, amount);
        let mut parts: Parts =
            parts.into_iter().map(|part| Part { date: part.date.max(movement.date), amount: part.amount }).collect();
        if let Some(from) = self.counted_from(movement).and_then(|year| NaiveDate::from_ymd_opt(year, 1, 1)) {
            parts.retain(|part| part.date < from);
            let before = Fixed6::checked_sum(parts.iter().map(|part| part.amount))?;
            parts.push(Part { date: from.max(movement.date), amount: amount.checked_sub(before)? });
        }
        Some(parts)
    }

    fn counted_from(&self, movement: &Movement) -> Option<i32> {
        self.counted_from.get(&key_of(movement)?).copied()
    }

    /// What came in and counts in a year or the one before whether or not it is paid, in the order of the book.
    pub(crate) fn counted_unpaid<'c>(&self, costed: &'c CostedBook, year: i32) -> Vec<&'c Movement> {
        let near = |movement: &&Movement| {
            let from = self.counted_from(movement).filter(|_| movement.flow.comes_in());
            from.is_some_and(|from| from == year || from.checked_add(1) == Some(year))
        };
        costed.movements.iter().filter(near).collect()
    }

    /// What came in by the end of a year and is not paid by then; it is all on hand. `None` on overflow.
    pub(crate) fn at_end(&self, of: &BooksOfYear<'_>, settled: &Settled, year: i32, kept: StockKept) -> Option<Fixed6> {
        let mut unpaid = Fixed6::ZERO;
        for (at, movement) in (0u32..).zip(&of.costed().movements) {
            if movement.bill.is_none() || !movement.flow.comes_in() || movement.date.year() > year {
                continue;
            }
            for (came_as, amount) in came_in(movement)? {
                if is_inside(of, movement, came_as, kept) {
                    let parts = self.parts(settled, at, movement, came_as, amount)?;
                    unpaid = unpaid.checked_add(amount.checked_sub(paid_by(&parts, year)?)?)?;
                }
            }
        }
        Some(unpaid)
    }
}

/// Whether a component of what came in is part of cost of goods: of packing nothing is, and of supplies materials and freight.
pub(crate) fn is_inside(of: &BooksOfYear<'_>, movement: &Movement, came_as: CameAs, kept: StockKept) -> bool {
    let packing = movement.thing.is_some_and(|thing| of.book().thing(thing).kind == ThingKind::Packing);
    !packing && (kept == StockKept::Inventory || matches!(came_as, CameAs::Materials | CameAs::Freight))
}

/// Whether a component waits for something beside its payment: goods until they are gone, wear and packing until they are used.
fn waits(of: &BooksOfYear<'_>, movement: &Movement, came_as: CameAs) -> bool {
    let kept = *of.book().shop.stock_kept.on(movement.date);
    is_inside(of, movement, came_as, kept) || !matches!(came_as, CameAs::BoughtInTime | CameAs::Royalty)
}

fn paid_by(parts: &Parts, year: i32) -> Option<Fixed6> {
    Fixed6::checked_sum(parts.iter().filter(|part| part.date.year() <= year).map(|part| part.amount))
}

/// Where goods went, by thing and batch, with the days.
#[derive(Clone, Debug, Default)]
struct WaysOut {
    /// Days on which a thing left.
    left: BTreeMap<ThingId, Vec<NaiveDate>>,
    /// Batches that used a thing, with the days.
    used: BTreeMap<ThingId, Vec<(NaiveDate, BatchId)>>,
    /// Days on which cost left straight from a batch.
    lost: BTreeMap<BatchId, Vec<NaiveDate>>,
}

impl WaysOut {
    fn of(costed: &CostedBook) -> Self {
        let mut ways = Self::default();
        for movement in &costed.movements {
            // What is sent back takes its part of the open bill along.
            let leaves = !movement.flow.comes_in() && !movement.vector.is_zero();
            if let Some(thing) = movement.thing.filter(|_| leaves) {
                ways.left.entry(thing).or_default().push(movement.date);
            }
            if let Some(batch) = movement.batch.filter(|_| leaves) {
                ways.lost.entry(batch).or_default().push(movement.date);
            }
        }
        for account in &costed.batches {
            for used in &account.used {
                ways.used.entry(used.thing).or_default().push((used.date, account.batch));
            }
        }
        ways
    }

    /// Whether nothing of what a movement brought has left the goods by a day, however often it was made into something else.
    fn all_on_hand(&self, costed: &CostedBook, movement: &Movement, end: NaiveDate) -> bool {
        let within = |day: NaiveDate| movement.date <= day && day <= end;
        let mut seen: (BTreeSet<ThingId>, BTreeSet<BatchId>) = Default::default();
        let mut things: Vec<ThingId> = movement.thing.into_iter().collect();
        let mut batches: Vec<BatchId> = movement.batch.into_iter().collect();
        if things.is_empty() && batches.is_empty() {
            // A limited licence: whether a piece has taken a permit of it, no movement of a thing shows.
            return false;
        }
        loop {
            if let Some(batch) = batches.pop() {
                if !seen.1.insert(batch) {
                    continue;
                }
                let Some(account) = costed.batches.get(batch.index()) else { return false };
                if self.lost.get(&batch).is_some_and(|days| days.iter().any(|day| within(*day))) {
                    return false;
                }
                for output in account.outputs.iter().filter(|output| within(output.date)) {
                    match output.what {
                        Output::Thing(thing) => things.push(thing),
                        Output::Tool(_) => return false,
                    }
                }
                things.extend(account.kept.iter().filter(|kept| within(kept.date)).map(|kept| kept.thing));
            } else if let Some(thing) = things.pop() {
                if !seen.0.insert(thing) {
                    continue;
                }
                if self.left.get(&thing).is_some_and(|days| days.iter().any(|day| within(*day))) {
                    return false;
                }
                let used = self.used.get(&thing).map_or(&[][..], Vec::as_slice);
                batches.extend(used.iter().filter(|(day, _)| within(*day)).map(|(_, batch)| *batch));
            } else {
                return true;
            }
        }
    }
}
