//! Purchases: by what a line's share of the freight, the discount and the sales tax went, in words with their numbers.
//!
//! Found once for all purchases, so that a bill of many lines is added up once and not for each of its lots.

use rust_decimal::Decimal;
use rustc_hash::FxHashMap;

use crate::costing::LotMade;
use crate::events::{Bought, BoughtLine, EventKind, EventLog, Sharing};
use crate::names::ResolvedBook;
use crate::reports::period::{money_text, quantity_text};
use crate::sources::Span;
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact, div_to_nine};

/// What the lines of a bill come to, by each way of sharing.
#[derive(Clone, Copy, Debug, Default)]
struct Whole {
    value: Fixed6,
    measure: Decimal,
    discount_measure: Decimal,
}

/// What a bill says for all its lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum ForAll {
    Discount,
    SalesTax,
    Freight,
}

/// The lines of all bills, and what they come to.
#[derive(Debug, Default)]
pub(super) struct Purchases {
    wholes: FxHashMap<u32, Whole>,
    lines: FxHashMap<(u32, Span), u32>,
}

impl Purchases {
    /// Goes through the events once. A bill whose sums can't be carried is not kept; the book was costed, so there is none.
    pub(super) fn of(log: &EventLog) -> Self {
        let mut purchases = Self::default();
        for (event, one) in (0u32..).zip(&log.events) {
            let EventKind::Bought(bought) = &one.kind else { continue };
            if bought.lines.len() < 2 {
                continue;
            }
            let whole = bought.lines.iter().try_fold(Whole::default(), |sum, line| {
                Some(Whole {
                    value: sum.value.checked_add(line.value)?,
                    measure: checked_add_exact(sum.measure, line.measure.unwrap_or_default()).ok()?,
                    discount_measure: checked_add_exact(sum.discount_measure, line.discount_measure.unwrap_or_default()).ok()?,
                })
            });
            purchases.wholes.extend(whole.map(|whole| (event, whole)));
            for (at, line) in (0u32..).zip(&bought.lines) {
                purchases.lines.entry((event, line.span)).or_insert(at);
            }
        }
        purchases
    }

    /// How a lot came to its share, in words: ` of 12.50: 23.00 of 145.10 by value`. Measures are in one unit for all
    /// lines, which may be none of theirs, so of those the part is told in percent. A bill of a single line has nothing to share.
    pub(super) fn shared(&self, log: &EventLog, book: &ResolvedBook, lot: &LotMade, what: ForAll) -> String {
        self.parts(log, lot).map_or_else(String::new, |(bought, line, whole)| {
            let (sum, by) = match what {
                ForAll::Discount => bought.discount,
                ForAll::SalesTax => (bought.sales_tax, Sharing::Value),
                ForAll::Freight => bought.freight,
            };
            let sum = money_text(book, sum);
            let (part, of) = match (by, what) {
                (Sharing::Value, _) => {
                    let (part, of) = (money_text(book, line.value), money_text(book, whole.value));
                    return format!(" of {sum}: {part} of {of} by value");
                }
                (Sharing::Measure, ForAll::Discount) => (line.discount_measure, whole.discount_measure),
                (Sharing::Measure, _) => (line.measure, whole.measure),
            };
            percent(part, of)
                .map_or_else(String::new, |percent| format!(" of {sum}: {percent}% of all that came, by how much it is"))
        })
    }

    fn parts<'l>(&self, log: &'l EventLog, lot: &LotMade) -> Option<(&'l Bought, &'l BoughtLine, Whole)> {
        let event = lot.origin.event;
        let EventKind::Bought(bought) = &log.events.get(event as usize)?.kind else { return None };
        let line = bought.lines.get(*self.lines.get(&(event, lot.line))? as usize)?;
        Some((bought, line, *self.wholes.get(&event)?))
    }
}

/// A part in percent, to nine digits.
fn percent(part: Option<Decimal>, of: Decimal) -> Option<String> {
    let hundredfold = checked_mul_exact(part?, Decimal::ONE_HUNDRED).ok()?;
    div_to_nine(hundredfold, of).ok().map(quantity_text)
}
