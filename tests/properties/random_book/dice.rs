//! Chance, from one number: the same number throws the same dice, so that a book that failed can be written again.

/// A row of throws.
#[derive(Clone, Debug)]
pub(crate) struct Dice(u64);

impl Dice {
    /// Dice that throw what this number says.
    pub(crate) fn new(number: u64) -> Self {
        Self(number)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 to below `sides`.
    pub(crate) fn below(&mut self, sides: u64) -> u64 {
        self.next().checked_rem(sides).unwrap_or(0)
    }

    /// A number between two, both included.
    pub(crate) fn between(&mut self, low: i128, high: i128) -> i128 {
        let sides = u64::try_from(high.saturating_sub(low).max(0)).unwrap_or(0).saturating_add(1);
        low.saturating_add(i128::from(self.below(sides)))
    }

    /// True so many times in a hundred.
    pub(crate) fn chance(&mut self, in_a_hundred: u64) -> bool {
        self.below(100) < in_a_hundred
    }

    /// One of a list; `None` where it is empty.
    pub(crate) fn pick<'l, T>(&mut self, list: &'l [T]) -> Option<&'l T> {
        let at = self.below(u64::try_from(list.len()).unwrap_or(0).max(1));
        list.get(usize::try_from(at).unwrap_or(0))
    }

    /// A list in another order.
    pub(crate) fn shuffle<T>(&mut self, list: &mut [T]) {
        for last in (1..list.len()).rev() {
            let with = usize::try_from(self.below(u64::try_from(last).unwrap_or(0) + 1)).unwrap_or(0);
            list.swap(last, with);
        }
    }
}
