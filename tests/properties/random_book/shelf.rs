//! A simple model of what is where, in quantities only: it keeps a random book from ever running short.
//!
//! Heaps lie in the order in which they came, as lots do, so that lots can be named that have enough left.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::quantity_text::Nano;

/// What came at once and is still there.
#[derive(Clone, Debug)]
pub(crate) struct Heap {
    pub(crate) date: NaiveDate,
    pub(crate) number: u32,
    /// The lot's code or its batch's name.
    pub(crate) code: Option<String>,
    pub(crate) quantity: Nano,
}

/// All heaps by thing and place.
#[derive(Clone, Debug, Default)]
pub(crate) struct Shelf {
    heaps: BTreeMap<(&'static str, &'static str), Vec<Heap>>,
    next: u32,
}

impl Shelf {
    /// How much of a thing is at a place.
    pub(crate) fn on_hand(&self, thing: &'static str, place: &'static str) -> Nano {
        self.heaps.get(&(thing, place)).map_or(0, |heaps| heaps.iter().map(|heap| heap.quantity).sum())
    }

    /// The heaps of a thing at a place.
    pub(crate) fn heaps(&self, thing: &'static str, place: &'static str) -> &[Heap] {
        self.heaps.get(&(thing, place)).map_or(&[], Vec::as_slice)
    }

    /// What is at a place.
    pub(crate) fn things_at(&self, place: &str) -> Vec<&'static str> {
        let here = self.heaps.iter().filter(|((_, at), heaps)| *at == place && heaps.iter().any(|heap| heap.quantity > 0));
        here.map(|((thing, _), _)| *thing).collect()
    }

    /// Puts what came.
    pub(crate) fn put(
        &mut self,
        thing: &'static str,
        place: &'static str,
        date: NaiveDate,
        quantity: Nano,
        code: Option<String>,
    ) {
        self.next += 1;
        let number = self.next;
        self.lay(thing, place, Heap { date, number, code, quantity });
    }

    /// Lays a heap by its age.
    pub(crate) fn lay(&mut self, thing: &'static str, place: &'static str, heap: Heap) {
        if heap.quantity <= 0 {
            return;
        }
        let heaps = self.heaps.entry((thing, place)).or_default();
        match heaps.binary_search_by_key(&(heap.date, heap.number), |one| (one.date, one.number)) {
            Ok(at) => heaps[at].quantity += heap.quantity,
            Err(at) => heaps.insert(at, heap),
        }
    }

    /// Takes so much, the oldest first, or of a named lot; what is short is not taken.
    pub(crate) fn take(&mut self, thing: &'static str, place: &'static str, quantity: Nano, code: Option<&str>) -> Vec<Heap> {
        let mut taken = Vec::new();
        let mut left = quantity;
        let Some(heaps) = self.heaps.get_mut(&(thing, place)) else { return taken };
        for heap in heaps.iter_mut() {
            if left > 0 && code.is_none_or(|code| heap.code.as_deref() == Some(code)) {
                let part = heap.quantity.min(left);
                heap.quantity -= part;
                left -= part;
                taken.push(Heap { quantity: part, ..heap.clone() });
            }
        }
        heaps.retain(|heap| heap.quantity > 0);
        taken
    }
}
