//! Which batches of a product were open on a day, from the batch entries alone.
//!
//! A batch is known to be of a product from the first entry that says so (`aims at`, `made`), and is open up to and with the day
//! on which it is done. Nothing dated later moves an earlier figure: what a batch will make is not known before it is said.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::events::{BatchWork, Event, EventKind, Output};
use crate::names::{BatchId, ThingId};
use crate::syntax::Verb;
use crate::units::checked_add_exact;

/// Open batches by product.
#[derive(Debug, Default)]
pub(crate) struct OnTheBench {
    products: FxHashMap<ThingId, OfProduct>,
}

/// The days on which batches of a product opened and closed, with running counts and sums of their ids: where the count is one, the
/// difference of the sums is that batch.
#[derive(Debug, Default)]
struct OfProduct {
    opened: Vec<(NaiveDate, u64)>,
    closed: Vec<(NaiveDate, u64)>,
}

/// What the entries of a batch say of it.
#[derive(Debug, Default)]
struct Course {
    /// From when it is known to be of a product.
    of: Vec<(ThingId, NaiveDate)>,
    aims: Vec<(Output, Decimal)>,
    made: Vec<(NaiveDate, Output, Decimal)>,
    /// The days on which it ends whatever was aimed at.
    ends: Option<NaiveDate>,
    first_finish: Option<NaiveDate>,
}

impl OnTheBench {
    /// Reads the batch entries of a book, in any order.
    pub(crate) fn of<'e>(events: impl Iterator<Item = &'e Event>) -> Self {
        let mut courses: FxHashMap<BatchId, Course> = FxHashMap::default();
        for event in events {
            match &event.kind {
                EventKind::Batch(work) => courses.entry(work.batch).or_default().note(event, work),
                EventKind::GaveUp(batch) => courses.entry(*batch).or_default().end(event.date),
                _ => {}
            }
        }
        let mut bench = Self::default();
        let mut courses: Vec<(BatchId, Course)> = courses.into_iter().collect();
        courses.sort_unstable_by_key(|(batch, _)| *batch);
        for (batch, course) in courses {
            let done = course.done();
            for (product, from) in &course.of {
                let of = bench.products.entry(*product).or_default();
                of.opened.push((*from, u64::from(batch.0)));
                if let Some(done) = done {
                    of.closed.push((done.max(*from), u64::from(batch.0)));
                }
            }
        }
        bench.products.values_mut().for_each(OfProduct::add_up);
        bench
    }

    /// The one batch of a product that is open on a day; `None` where there is none or more than one.
    pub(crate) fn one_open(&self, product: ThingId, day: NaiveDate) -> Option<BatchId> {
        let of = self.products.get(&product)?;
        let opened = of.opened.partition_point(|(from, _)| *from <= day);
        let closed = of.closed.partition_point(|(done, _)| *done < day);
        if opened.checked_sub(closed)? != 1 {
            return None;
        }
        let sum = |list: &[(NaiveDate, u64)], count: usize| match count.checked_sub(1) {
            Some(at) => list.get(at).map(|(_, sum)| *sum),
            None => Some(0),
        };
        let id = sum(&of.opened, opened)?.checked_sub(sum(&of.closed, closed)?)?;
        u32::try_from(id).ok().map(BatchId)
    }
}

impl OfProduct {
    /// Turns ids into running sums, in the order of their days.
    fn add_up(&mut self) {
        self.opened = running(std::mem::take(&mut self.opened));
        self.closed = running(std::mem::take(&mut self.closed));
    }
}

/// Sorts by day and sums up the ids. Ids are below 2^32, so that four thousand million of them fit.
fn running(mut days: Vec<(NaiveDate, u64)>) -> Vec<(NaiveDate, u64)> {
    days.sort_unstable();
    let mut sum = 0u64;
    for (_, id) in &mut days {
        sum = sum.wrapping_add(*id);
        *id = sum;
    }
    days
}

impl Course {
    fn note(&mut self, event: &Event, work: &BatchWork) {
        let day = event.date;
        for (what, quantity, _) in &work.aims {
            self.aims.push((*what, *quantity));
            self.is_of(*what, day);
        }
        for line in &work.made {
            self.made.push((day, line.what, line.quantity));
            self.is_of(line.what, day);
        }
        for line in &work.lost {
            self.made.push((day, line.what, line.quantity));
            self.is_of(line.what, day);
        }
        if work.ends {
            self.end(day);
        }
        if event.verb == Verb::Finished {
            self.first_finish = Some(self.first_finish.map_or(day, |first| first.min(day)));
        }
    }

    fn is_of(&mut self, what: Output, day: NaiveDate) {
        let Output::Thing(thing) = what else { return };
        match self.of.iter_mut().find(|(known, _)| *known == thing) {
            Some((_, from)) => *from = (*from).min(day),
            None => self.of.push((thing, day)),
        }
    }

    fn end(&mut self, day: NaiveDate) {
        self.ends = Some(self.ends.map_or(day, |end| end.min(day)));
    }

    /// The day on which the batch is done; `None` while it is on the bench.
    fn done(&self) -> Option<NaiveDate> {
        if self.ends.is_some() {
            return self.ends;
        }
        if self.aims.is_empty() {
            return self.first_finish;
        }
        let mut done = None;
        for (what, aim) in &self.aims {
            done = done.max(Some(self.reached(*what, *aim)?));
        }
        done
    }

    fn reached(&self, what: Output, aim: Decimal) -> Option<NaiveDate> {
        let mut made: Vec<(NaiveDate, Decimal)> =
            self.made.iter().filter(|(_, output, _)| *output == what).map(|(day, _, quantity)| (*day, *quantity)).collect();
        made.sort_unstable();
        let mut sum = Decimal::ZERO;
        for (day, quantity) in made {
            sum = checked_add_exact(sum, quantity).ok()?;
            if sum >= aim {
                return Some(day);
            }
        }
        None
    }
}
