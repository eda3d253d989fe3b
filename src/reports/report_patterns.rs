//! Fills the list of patterns: one way through the batches' outputs, one through the purchases, one through the bills of royalties.
//!
//! A royalty is reckoned as at its entry: rate of the day times good pieces, rounded to the currency's digits. What is due is what is open of the bills
//! that `paid later` made, and of what was owed when the book began. Quarters are those of the calendar.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{BillKind, CostedBook, usual_batch};
use crate::events::{BoughtWhat, EventKind, EventLog, Output, PaidFor};
use crate::names::{LabelId, PatternId, ResolvedBook, ThingId};
use crate::reports::period::{money_text, quantity_text, said_money};
use crate::reports::{PatternUse, RoyaltyQuarter};
use crate::units::{Fixed6, checked_add_exact, checked_mul_exact, line_total};

/// A quarter: year and number from 1; none for what was owed before the book.
type Quarter = Option<(i32, u32)>;

#[derive(Default)]
struct Royalty {
    pieces: Decimal,
    royalty: Fixed6,
    due: Fixed6,
}

#[derive(Default)]
struct Used {
    products: BTreeSet<ThingId>,
    /// Of which a licence was bought, and to whom a royalty was paid.
    licensor: Option<LabelId>,
    paid_to: Option<LabelId>,
    made: Decimal,
    sizes: Vec<Decimal>,
    permitted: Decimal,
    royalties: BTreeMap<Quarter, Royalty>,
}

/// Lists every pattern of which there is something to say, on a day up to which the book was costed. `None` where a figure is too large to be
/// carried.
pub(crate) fn report_patterns(
    book: &ResolvedBook,
    log: &EventLog,
    costed: &CostedBook,
    on: Option<NaiveDate>,
) -> Option<Vec<PatternUse>> {
    let Some(on) = on else { return Some(Vec::new()) };
    let mut used: BTreeMap<PatternId, Used> = BTreeMap::new();
    let mut outputs: Vec<_> = costed.batches.iter().flat_map(|batch| &batch.outputs).collect();
    outputs.sort_by_key(|output| (output.date, output.event, output.line.start));
    for output in outputs {
        let Output::Thing(thing) = output.what else { continue };
        let Some(pattern) = *book.thing(thing).pattern.on(output.date) else { continue };
        let one = used.entry(pattern).or_default();
        one.products.insert(thing);
        add(&mut one.made, output.quantity)?;
        one.sizes.push(output.quantity);
        if let Some(rate) = *book.pattern(pattern).royalty.on(output.date) {
            let royalty = line_total(rate, output.quantity, book.shop.currency).ok()?;
            let row = one.royalties.entry(quarter(output.date)).or_default();
            add(&mut row.pieces, output.quantity)?;
            row.royalty = row.royalty.checked_add(royalty)?;
        }
    }
    for event in log.events.iter().filter(|event| event.date <= on) {
        match &event.kind {
            EventKind::Bought(bought) => {
                for line in &bought.lines {
                    let BoughtWhat::Licence { pattern, count } = line.what else { continue };
                    let one = used.entry(pattern).or_default();
                    one.licensor = bought.supplier.or(one.licensor);
                    if let Some(allows) = *book.pattern(pattern).allows.on(event.date) {
                        add(&mut one.permitted, checked_mul_exact(count, allows).ok()?)?;
                    }
                }
            }
            EventKind::Paid(paid) => {
                for line in &paid.lines {
                    if let PaidFor::Royalty(pattern) = line.what {
                        used.entry(pattern).or_default().paid_to = Some(paid.to);
                    }
                }
            }
            _ => {}
        }
    }
    for bill in costed.bills.iter().filter(|bill| bill.kind == BillKind::OwedByUs && bill.date <= on) {
        let Some(pattern) = bill.pattern else { continue };
        let open = bill.open_on(on)?;
        let of = if bill.opened { None } else { quarter(bill.date) };
        let row = used.entry(pattern).or_default().royalties.entry(of).or_default();
        row.due = row.due.checked_add(open)?;
        if bill.opened {
            row.royalty = row.royalty.checked_add(bill.total_on(on)?)?;
        }
    }
    let mut left: BTreeMap<PatternId, Decimal> = BTreeMap::new();
    for lot in &costed.licences {
        add(left.entry(lot.pattern).or_default(), lot.left)?;
    }
    let mut rows = Vec::with_capacity(used.len());
    for (pattern, one) in &used {
        let has_limit = book.pattern(*pattern).allows.on(on).is_some();
        let left = has_limit.then(|| left.get(pattern).copied().unwrap_or_default());
        rows.push(row(book, *pattern, one, left)?);
    }
    rows.sort_by(|a, b| a.name.cmp(&b.name));
    Some(rows)
}

fn row(book: &ResolvedBook, pattern: PatternId, one: &Used, left: Option<Decimal>) -> Option<PatternUse> {
    let named = &book.pattern(pattern).named;
    let usual = usual_batch(&one.sizes);
    let near = left.is_some_and(|left| usual.is_some_and(|usual| left < usual));
    let due = Fixed6::checked_sum(one.royalties.values().map(|row| row.due))?;
    let payee = one.paid_to.or(one.licensor).map(|label| book.label(label).to_owned());
    let mut says = format!("{} made", quantity_text(one.made));
    if let Some(left) = left {
        says.push_str(&format!(", {} of {} permitted left", quantity_text(left), quantity_text(one.permitted)));
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
        let to = payee.as_deref().map_or_else(String::new, |payee| format!(" to {payee}"));
        says.push_str(&format!("; {} of royalties are due{to}", said_money(book, due)));
    }
    Some(PatternUse {
        name: named.name.clone(),
        title: named.title.clone(),
        products: one.products.iter().map(|thing| book.thing(*thing).named.name.clone()).collect(),
        payee,
        made: quantity_text(one.made),
        permitted: left.map(|_| quantity_text(one.permitted)),
        left: left.map(quantity_text),
        usual_batch: usual.map(quantity_text),
        near,
        royalties: one
            .royalties
            .iter()
            .map(|(of, row)| RoyaltyQuarter {
                quarter: of.map_or_else(|| "before the book".to_owned(), |(year, number)| format!("{year:04}-Q{number}")),
                pieces: quantity_text(row.pieces),
                royalty: money_text(book, row.royalty),
                due: money_text(book, row.due),
            })
            .collect(),
        due: money_text(book, due),
        says,
    })
}

fn quarter(day: NaiveDate) -> Quarter {
    Some((day.year(), day.month0().checked_div(3)?.checked_add(1)?))
}

fn add(sum: &mut Decimal, quantity: Decimal) -> Option<()> {
    *sum = checked_add_exact(*sum, quantity).ok()?;
    Some(())
}
