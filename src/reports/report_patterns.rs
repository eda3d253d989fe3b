//! Fills the list of patterns from what was made by each, its licences and its bills of royalties.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::{CostedBook, usual_batch};
use crate::events::EventLog;
use crate::names::{PatternId, ResolvedBook, ThingId};
use crate::reports::pattern_uses::{PatternUses, Quarter, pattern_uses, quarter_text};
use crate::reports::period::{money_text, quantity_text, said_money};
use crate::reports::{PatternUse, RoyaltyQuarter};
use crate::units::{Fixed6, checked_add_exact};

/// Lists every pattern of which there is something to say, on a day up to which the book was costed. `None` where a figure is too large to be
/// carried.
pub(crate) fn report_patterns(
    book: &ResolvedBook,
    log: &EventLog,
    costed: &CostedBook,
    on: Option<NaiveDate>,
) -> Option<Vec<PatternUse>> {
    let Some(on) = on else { return Some(Vec::new()) };
    let uses = pattern_uses(book, log, costed, Some(on))?;
    let mut left: BTreeMap<PatternId, Decimal> = BTreeMap::new();
    for lot in &costed.licences {
        add(left.entry(lot.pattern).or_default(), lot.left)?;
    }
    let mut rows = Vec::with_capacity(uses.len());
    for (pattern, one) in &uses {
        let has_limit = book.pattern(*pattern).allows.on(on).is_some();
        let left = has_limit.then(|| left.get(pattern).copied().unwrap_or_default());
        rows.push(row(book, (*pattern, one), left, on)?);
    }
    rows.sort_by(|a, b| a.name.cmp(&b.name));
    Some(rows)
}

/// The royalties of a quarter: pieces, royalty and what is due, exact.
fn royalties(book: &ResolvedBook, one: &PatternUses<'_>, of: Quarter, on: NaiveDate) -> Option<(RoyaltyQuarter, Fixed6)> {
    let (mut pieces, mut royalty, mut due) = (Decimal::ZERO, Fixed6::ZERO, Fixed6::ZERO);
    for (made, owed) in one.made_in(of) {
        add(&mut pieces, made.quantity)?;
        royalty = royalty.checked_add(owed)?;
    }
    for bill in one.bills_of(of) {
        due = due.checked_add(bill.open_on(on)?)?;
        if bill.opened {
            royalty = royalty.checked_add(bill.total_on(on)?)?;
        }
    }
    let row = RoyaltyQuarter {
        quarter: of.map_or_else(|| "before the book".to_owned(), |_| quarter_text(of)),
        pieces: quantity_text(pieces),
        royalty: money_text(book, royalty),
        due: money_text(book, due),
    };
    Some((row, due))
}

fn row(
    book: &ResolvedBook,
    (pattern, one): (PatternId, &PatternUses<'_>),
    left: Option<Decimal>,
    on: NaiveDate,
) -> Option<PatternUse> {
    let named = &book.pattern(pattern).named;
    let usual = usual_batch(&one.sizes());
    let (mut made, mut permitted) = (Decimal::ZERO, Decimal::ZERO);
    for quantity in one.sizes() {
        add(&mut made, quantity)?;
    }
    for licences in &one.licences {
        add(&mut permitted, licences.pieces)?;
    }
    let quarters: Vec<(RoyaltyQuarter, Fixed6)> =
        one.quarters().into_iter().map(|of| royalties(book, one, of, on)).collect::<Option<_>>()?;
    let products: BTreeSet<ThingId> = one.made.iter().map(|made| made.thing).collect();
    let near = left.is_some_and(|left| usual.is_some_and(|usual| left < usual));
    let due = Fixed6::checked_sum(quarters.iter().map(|(_, due)| *due))?;
    let payee = one.paid_to.or(one.licensor).map(|label| book.label(label).to_owned());
    let mut says = format!("{} made", quantity_text(made));
    if let Some(left) = left {
        says.push_str(&format!(", {} of {} permitted left", quantity_text(left), quantity_text(permitted)));
        match usual {
            Some(usual) if near => {
                says.push_str(&format!(
                    "; another batch of the usual {} would go over: buy a licence first",
                    quantity_text(usual)
                ));
            }
            _ => {}
        }
    }
    if !due.is_zero() {
        // The book says to whom royalties were paid; of whom a licence was bought is likely the same.
        let to = match (payee.as_deref(), one.paid_to) {
            (Some(payee), Some(_)) => format!(" to {payee}"),
            (Some(payee), None) => format!(", likely to {payee}, of whom a licence was bought"),
            (None, _) => String::new(),
        };
        says.push_str(&format!("; {} of royalties are due{to}", said_money(book, due)));
    }
    Some(PatternUse {
        name: named.name.clone(),
        title: named.title.clone(),
        products: products.iter().map(|thing| book.thing(*thing).named.name.clone()).collect(),
        payee,
        made: quantity_text(made),
        permitted: left.map(|_| quantity_text(permitted)),
        left: left.map(quantity_text),
        usual_batch: usual.map(quantity_text),
        near,
        royalties: quarters.into_iter().map(|(row, _)| row).collect(),
        due: money_text(book, due),
        says,
    })
}

fn add(sum: &mut Decimal, quantity: Decimal) -> Option<()> {
    *sum = checked_add_exact(*sum, quantity).ok()?;
    Some(())
}
