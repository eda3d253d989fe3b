//! Finds a text in a sorted list of texts without a second copy of them.
//!
//! A book may have a million order names; a hash table of owned strings would hold each twice. This one holds positions only
//! and reads the texts where they are. It is filled once and never changed.

use std::hash::{Hash, Hasher};

use rustc_hash::FxHasher;

/// No position.
const FREE: u32 = u32::MAX;

/// Positions of texts by their hash. An index that was never filled searches the sorted list instead.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TextIndex {
    slots: Vec<u32>,
}

impl TextIndex {
    /// Takes all texts of a list, in its order. Texts beyond four thousand million aren't taken.
    pub fn of<'t>(texts: impl ExactSizeIterator<Item = &'t str>) -> Self {
        let wanted = texts.len().saturating_mul(2).max(8).next_power_of_two();
        let mut slots = vec![FREE; wanted];
        for (at, text) in texts.enumerate() {
            let Some(at) = u32::try_from(at).ok().filter(|at| *at != FREE) else { break };
            let mut slot = first_slot(text, wanted);
            while slots.get(slot).is_some_and(|taken| *taken != FREE) {
                slot = (slot + 1) % wanted;
            }
            if let Some(free) = slots.get_mut(slot) {
                *free = at;
            }
        }
        Self { slots }
    }

    /// The position of a text in the list of `count` texts from which this was made; `text_at` gives the text of a position.
    pub fn find<'t>(&self, text: &str, count: usize, text_at: impl Fn(usize) -> Option<&'t str>) -> Option<u32> {
        if self.slots.is_empty() {
            return search_sorted(text, count, text_at);
        }
        let mut slot = first_slot(text, self.slots.len());
        loop {
            let at = *self.slots.get(slot)?;
            if at == FREE {
                return None;
            }
            if text_at(at as usize) == Some(text) {
                return Some(at);
            }
            slot = (slot + 1) % self.slots.len();
        }
    }
}

fn first_slot(text: &str, slots: usize) -> usize {
    let mut hasher = FxHasher::default();
    text.hash(&mut hasher);
    // The table is at most half full, so a run of taken slots is short and always ends.
    usize::try_from(hasher.finish() % (slots as u64)).unwrap_or(0)
}

fn search_sorted<'t>(text: &str, count: usize, text_at: impl Fn(usize) -> Option<&'t str>) -> Option<u32> {
    let (mut low, mut high) = (0, count);
    while low < high {
        let middle = low + (high - low) / 2;
        match text_at(middle)?.cmp(text) {
            std::cmp::Ordering::Less => low = middle + 1,
            std::cmp::Ordering::Equal => return u32::try_from(middle).ok(),
            std::cmp::Ordering::Greater => high = middle,
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_text_is_found_at_its_place_and_no_other() {
        let texts: Vec<String> = (0..1000).map(|n| format!("W-{n:04}")).collect();
        let index = TextIndex::of(texts.iter().map(String::as_str));
        for index in [index, TextIndex::default()] {
            for (at, text) in texts.iter().enumerate() {
                let found = index.find(text, texts.len(), |at| texts.get(at).map(String::as_str));
                assert_eq!(found.map(|at| at as usize), Some(at));
            }
            assert_eq!(index.find("W-1000", texts.len(), |at| texts.get(at).map(String::as_str)), None);
        }
    }

    #[test]
    fn an_empty_list_holds_nothing() {
        assert_eq!(TextIndex::of(std::iter::empty()).find("a", 0, |_| None), None);
    }
}
