//! A look over sales tax: more paid over to an account than the book says was collected for it.
//!
//! In: all events in their order. Out: a warning for the first such payment of each account. Must not: move a figure.

use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::{Event, EventKind, PaidFor, errors};
use crate::names::{LabelId, ResolvedBook};
use crate::units::Fixed6;

/// Looks over all sales, returns and payments in their order.
pub(crate) fn look_over(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let mut owed: FxHashMap<Option<LabelId>, Fixed6> = FxHashMap::default();
    let mut told: FxHashSet<Option<LabelId>> = FxHashSet::default();
    // What states ask for is often rounded to whole money: common practice, no source.
    let rounded = Fixed6::from_micros(1_000_000);
    for event in events {
        match &event.kind {
            EventKind::Sold(sold) => {
                for tax in sold.taxes.iter().filter(|tax| !tax.by_channel) {
                    add(&mut owed, tax.to, Some(tax.money));
                }
            }
            EventKind::Returned(returned) => {
                for (money, to) in &returned.taxes {
                    add(&mut owed, to.or(returned.tax_to), Fixed6::ZERO.checked_sub(*money));
                }
            }
            EventKind::Paid(paid) => {
                for line in &paid.lines {
                    let PaidFor::SalesTax { to, allowed } = line.what else { continue };
                    let before = owed.get(&to).copied().unwrap_or_default();
                    let settled = line.money.checked_add(allowed);
                    add(&mut owed, to, settled.and_then(|sum| Fixed6::ZERO.checked_sub(sum)));
                    let above = settled.and_then(|sum| sum.checked_sub(before));
                    if above.is_some_and(|above| above > rounded) && told.insert(to) {
                        let text = |money: Fixed6| money.to_fixed_text(book.shop.currency.digits(), 6);
                        let owed = if before.is_positive() { before } else { Fixed6::ZERO };
                        let to = to.map(|to| book.label(to));
                        found.push(errors::slips::more_tax_than_collected(line.span, to, &text(owed)));
                    }
                }
            }
            _ => {}
        }
    }
}

fn add(owed: &mut FxHashMap<Option<LabelId>, Fixed6>, to: Option<LabelId>, money: Option<Fixed6>) {
    let so_far = owed.entry(to).or_default();
    if let Some(sum) = money.and_then(|money| so_far.checked_add(money)) {
        *so_far = sum;
    }
}
