//! The order of batches and work within a day: by need, then by the entry's own text.
//!
//! An entry that uses what another batch of that day makes comes after the entry that makes it; of one batch, `started` comes before
//! `continued` and `worked`, and these before `finished` and `built`. Where batches need each other in a ring, the first by its
//! text begins. The work is n log n in the number of entries.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use rustc_hash::{FxHashMap, FxHashSet};

use crate::events::{BatchWork, Event, EventKind, Output};
use crate::names::{BatchId, ResolvedBook, StepId, Target, ThingId};
use crate::syntax::Verb;

/// What stands between entries: a thing that is made and used, or a stage of a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Link {
    Made(ThingId),
    Begun(BatchId),
    Worked(BatchId),
}

/// Entries and links, with what comes after each.
struct Needs<'b> {
    book: &'b ResolvedBook,
    after: Vec<Vec<usize>>,
    /// How many must come first because of a thing, and how many because of the course of a batch.
    for_things: Vec<u32>,
    for_batches: Vec<u32>,
    links: FxHashMap<Link, usize>,
    made: Vec<bool>,
}

/// Puts batch and work events of one day, which stand in the order of their texts, in the order of need.
pub(crate) fn order_by_need(day: Vec<Event>, book: &ResolvedBook, ordered: &mut Vec<Event>) {
    if day.len() < 2 {
        ordered.extend(day);
        return;
    }
    let order = Needs::of(&day, book).order(day.len());
    let mut places: Vec<Option<Event>> = day.into_iter().map(Some).collect();
    for at in order {
        ordered.extend(places.get_mut(at).and_then(Option::take));
    }
}

impl<'b> Needs<'b> {
    fn of(day: &[Event], book: &'b ResolvedBook) -> Self {
        let mut needs = Self {
            book,
            after: vec![Vec::new(); day.len()],
            for_things: vec![0; day.len()],
            for_batches: vec![0; day.len()],
            links: FxHashMap::default(),
            made: vec![false; day.len()],
        };
        let used = used_by_batch(day, book);
        for (at, event) in day.iter().enumerate() {
            match &event.kind {
                EventKind::Batch(work) => needs.note_batch(at, event, work, &used),
                EventKind::Worked(lines) => {
                    let mut seen = FxHashSet::default();
                    for line in lines {
                        if let Some(Target::Batch(batch)) = line.on
                            && seen.insert(batch)
                        {
                            needs.comes_between(at, batch);
                        }
                    }
                }
                _ => {}
            }
        }
        needs
    }

    fn note_batch(&mut self, at: usize, event: &Event, work: &BatchWork, used: &FxHashMap<BatchId, FxHashSet<ThingId>>) {
        match event.verb {
            Verb::Started => {
                let begun = self.link(Link::Begun(work.batch));
                self.put_before(at, begun);
            }
            Verb::Finished | Verb::Built => {
                let begun = self.link(Link::Begun(work.batch));
                let worked = self.link(Link::Worked(work.batch));
                self.put_before(begun, at);
                self.put_before(worked, at);
            }
            _ => self.comes_between(at, work.batch),
        }
        for thing in things_used(event, work, self.book) {
            let made = self.link(Link::Made(thing));
            self.put_before(made, at);
        }
        let own = used.get(&work.batch);
        let mut seen = FxHashSet::default();
        for line in &work.made {
            // What a batch both uses and makes that day can't be ordered by; its own use stands.
            if let Output::Thing(thing) = line.what
                && seen.insert(thing)
                && !own.is_some_and(|used| used.contains(&thing))
            {
                let made = self.link(Link::Made(thing));
                self.put_before(at, made);
            }
        }
    }

    fn comes_between(&mut self, at: usize, batch: BatchId) {
        let begun = self.link(Link::Begun(batch));
        let worked = self.link(Link::Worked(batch));
        self.put_before(begun, at);
        self.put_before(at, worked);
    }

    fn link(&mut self, link: Link) -> usize {
        let next = self.after.len();
        let at = *self.links.entry(link).or_insert(next);
        if at == next {
            self.after.push(Vec::new());
            self.for_things.push(0);
            self.for_batches.push(0);
            self.made.push(matches!(link, Link::Made(_)));
        }
        at
    }

    /// Says that one comes before another. What waits for a thing waits in another count than what waits for its batch.
    fn put_before(&mut self, first: usize, then: usize) {
        let is_made = |at: usize| self.made.get(at).copied().unwrap_or(false);
        let for_thing = is_made(first) || is_made(then);
        let counts = if for_thing { &mut self.for_things } else { &mut self.for_batches };
        if let (Some(after), Some(before)) = (self.after.get_mut(first), counts.get_mut(then)) {
            after.push(then);
            *before = before.saturating_add(1);
        }
    }

    /// The entries in order. Links come as soon as they can, entries by their place in the text order. In a ring the first entry by
    /// its text goes first, of those that don't wait for an entry of their own batch.
    fn order(mut self, entries: usize) -> Vec<usize> {
        let mut order = Vec::with_capacity(entries);
        let mut done = vec![false; self.after.len()];
        // Links sort before entries, since they are only a way from one entry to the next.
        let rank = |at: usize| Reverse((at < entries, at));
        let mut ready: BinaryHeap<Reverse<(bool, usize)>> = BinaryHeap::new();
        let mut in_a_ring: BinaryHeap<Reverse<(bool, usize)>> = BinaryHeap::new();
        for at in 0..self.after.len() {
            if self.waits(at, &self.for_batches) {
                continue;
            }
            let heap = if self.waits(at, &self.for_things) { &mut in_a_ring } else { &mut ready };
            heap.push(rank(at));
        }
        while let Some(Reverse((is_entry, at))) = ready.pop().or_else(|| in_a_ring.pop()) {
            match done.get_mut(at) {
                Some(done) if !*done => *done = true,
                _ => continue,
            }
            if is_entry {
                order.push(at);
            }
            let after = self.after.get_mut(at).map(std::mem::take).unwrap_or_default();
            for then in after {
                let is_made = |at: usize| self.made.get(at).copied().unwrap_or(false);
                let for_thing = is_made(at) || is_made(then);
                let counts = if for_thing { &mut self.for_things } else { &mut self.for_batches };
                if let Some(count) = counts.get_mut(then) {
                    *count = count.saturating_sub(1);
                }
                if self.waits(then, &self.for_batches) || done.get(then).copied().unwrap_or(true) {
                    continue;
                }
                let heap = if self.waits(then, &self.for_things) { &mut in_a_ring } else { &mut ready };
                heap.push(rank(then));
            }
        }
        order
    }

    fn waits(&self, at: usize, counts: &[u32]) -> bool {
        counts.get(at).is_some_and(|count| *count > 0)
    }
}

/// What each batch uses on a day.
fn used_by_batch(day: &[Event], book: &ResolvedBook) -> FxHashMap<BatchId, FxHashSet<ThingId>> {
    let mut used: FxHashMap<BatchId, FxHashSet<ThingId>> = FxHashMap::default();
    for event in day {
        if let EventKind::Batch(work) = &event.kind {
            used.entry(work.batch).or_default().extend(things_used(event, work, book));
        }
    }
    used
}

/// What an entry uses: the things that it names, those of its recipe where it goes as planned, and what its steps wear. Each once,
/// in the order of their ids.
fn things_used(event: &Event, work: &BatchWork, book: &ResolvedBook) -> Vec<ThingId> {
    let mut things: Vec<ThingId> = work.used.iter().map(|line| line.thing).collect();
    let mut steps: Vec<StepId> = work.took.iter().map(|line| line.step).collect();
    if work.used_as_planned.is_some() || work.took_as_planned.is_some() {
        let outputs: Vec<Output> = match event.verb {
            Verb::Started => work.aims.iter().map(|(what, ..)| *what).collect(),
            _ => work.made.iter().map(|line| line.what).chain(work.lost.iter().map(|line| line.what)).collect(),
        };
        for what in outputs {
            let Output::Thing(thing) = what else { continue };
            let thing = book.thing(thing);
            if work.used_as_planned.is_some() {
                things.extend(thing.needs.on(event.date).iter().map(|need| need.thing));
            }
            if work.took_as_planned.is_some() {
                steps.extend(thing.takes.on(event.date).iter().map(|take| take.step));
            }
        }
    }
    steps.sort_unstable();
    steps.dedup();
    for step in steps {
        things.extend(book.step(step).wears.on(event.date).iter().map(|wear| wear.thing));
    }
    things.sort_unstable();
    things.dedup();
    things
}
