//! Names of one noun as they stand in figures' names, each once: by number, and the number by name.
//!
//! A `/` within a name is written `_`. A name that stands already has `-2`, `-3` … added, in the order of the numbers; so what comes later changes no
//! earlier name.

use rustc_hash::FxHashMap;

/// The names of one noun.
#[derive(Clone, Debug, Default)]
pub(crate) struct NameTable {
    names: Vec<String>,
    numbers: FxHashMap<String, u32>,
}

impl NameTable {
    /// Takes names in the order of their numbers, from zero.
    pub(super) fn of(names: impl IntoIterator<Item = String>) -> Self {
        let names = names.into_iter();
        let mut table = Self::default();
        table.names.reserve(names.size_hint().0);
        table.numbers.reserve(names.size_hint().0);
        let mut next: FxHashMap<String, u32> = FxHashMap::default();
        for (number, name) in (0u32..).zip(names) {
            let name = if table.numbers.contains_key(&name) { table.free(&name, &mut next) } else { name };
            table.numbers.insert(name.clone(), number);
            table.names.push(name);
        }
        table
    }

    /// A name with the first number behind it that makes it another than all before.
    fn free(&self, name: &str, next: &mut FxHashMap<String, u32>) -> String {
        let last = next.entry(name.to_owned()).or_insert(1);
        loop {
            *last = last.saturating_add(1);
            let numbered = format!("{name}-{last}");
            if !self.numbers.contains_key(&numbered) {
                return numbered;
            }
        }
    }

    /// The name of a number; empty where there is none.
    pub(crate) fn name(&self, number: u32) -> &str {
        self.names.get(number as usize).map_or("", String::as_str)
    }

    /// The number of a name.
    pub(crate) fn number(&self, name: &str) -> Option<u32> {
        self.numbers.get(name).copied()
    }

    /// All numbers.
    pub(crate) fn numbers(&self) -> std::ops::Range<u32> {
        0..u32::try_from(self.names.len()).unwrap_or(u32::MAX)
    }
}

/// A name as a part of a figure's name.
pub(super) fn segment(name: &str) -> String {
    name.replace('/', "_")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_stands_already_has_a_number_behind_it() {
        let table = NameTable::of(["a", "b", "a", "a-2", "a", "a-2"].map(str::to_owned));
        assert_eq!(table.names, ["a", "b", "a-2", "a-2-2", "a-3", "a-2-3"]);
        for number in table.numbers() {
            assert_eq!(table.number(table.name(number)), Some(number));
        }
    }
}
