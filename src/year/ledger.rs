//! Sums by line, each with the entries that made it, before anything is rounded.
//!
//! A sum is added to at most once for an entry's part; items keep the day on which they count. The sheet rounds; here every amount has six digits,
//! and an overflow is `None`.

use std::collections::BTreeMap;

use crate::units::Fixed6;
use crate::year::Feed;
use crate::year::books::BooksOfYear;
use crate::year::tax_year::{Item, Sum, SumOf};

/// The sums of every line of a form.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ledger {
    lines: BTreeMap<usize, Vec<Sum>>,
    /// What flows where the form has no line.
    asked: Vec<(Feed, Sum)>,
}

impl Ledger {
    /// Adds a sum to a line. One without items and without an amount is left out.
    pub(crate) fn add(&mut self, line: usize, sum: Sum) {
        if !sum.items.is_empty() || !sum.amount.is_zero() {
            self.lines.entry(line).or_default().push(sum);
        }
    }

    /// Adds items to the line of a feed, under a name. `None` on overflow.
    pub(crate) fn feed(&mut self, of: &BooksOfYear<'_>, feed: Feed, name: &str, items: Vec<Item>) -> Option<()> {
        let amount = total(&items)?;
        let name = name.to_owned();
        self.put(of, feed, Sum { of: SumOf::Feed(feed), name, amount, whole: amount, share: String::new(), items });
        Some(())
    }

    /// Adds a sum to the line of a feed; without a line it is kept apart, to be asked.
    pub(crate) fn put(&mut self, of: &BooksOfYear<'_>, feed: Feed, sum: Sum) {
        match of.form.line_of(feed) {
            Some(line) => self.add(line, sum),
            None if !sum.items.is_empty() || !sum.amount.is_zero() => self.asked.push((feed, sum)),
            None => {}
        }
    }

    /// What flows where the form has no line, in the order in which it came.
    pub(crate) fn asked(&self) -> &[(Feed, Sum)] {
        &self.asked
    }

    /// The sums of a line.
    pub(crate) fn sums(&self, line: usize) -> &[Sum] {
        self.lines.get(&line).map_or(&[], Vec::as_slice)
    }

    /// What a line's sums come to, to six digits. `None` on overflow.
    pub(crate) fn exact(&self, line: usize) -> Option<Fixed6> {
        Fixed6::checked_sum(self.sums(line).iter().map(|sum| sum.amount))
    }

    /// What a feed comes to. `None` on overflow.
    pub(crate) fn of_feed(&self, feed: Feed) -> Option<Fixed6> {
        let sums = self.lines.values().flatten().chain(self.asked.iter().map(|(_, sum)| sum));
        let sums = sums.filter(|sum| sum.of == SumOf::Feed(feed));
        Fixed6::checked_sum(sums.map(|sum| sum.amount))
    }
}

/// What items come to. `None` on overflow.
pub(crate) fn total(items: &[Item]) -> Option<Fixed6> {
    Fixed6::checked_sum(items.iter().map(|item| item.amount))
}
