//! What was made by each pattern, which licences were bought, and which royalties are owed: line by line, so that the list adds up and a
//! derivation tells the same.
//!
//! A royalty is reckoned as at its entry: rate of the day times good pieces, rounded to the currency's digits. What is due is what is open of the bills
//! that `paid later` made, and of what was owed when the book began. Quarters are those of the calendar.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use rust_decimal::Decimal;

use crate::costing::{Bill, BillKind, CostedBook};
use crate::events::{BoughtWhat, EventKind, EventLog, Output, PaidFor};
use crate::names::{LabelId, PatternId, ResolvedBook, ThingId};
use crate::sources::Span;
use crate::units::{Fixed6, checked_mul_exact, line_total};

/// A quarter: year and number from 1; none for what was owed before the book.
pub(crate) type Quarter = Option<(i32, u32)>;

const BEFORE_THE_BOOK: &str = "before-the-book";

/// Good pieces of one entry.
#[derive(Clone, Copy, Debug)]
pub(crate) struct MadeByPattern {
    pub(crate) thing: ThingId,
    pub(crate) quantity: Decimal,
    /// Their royalty; none where the pattern had no rate on the day.
    pub(crate) royalty: Option<Fixed6>,
    pub(crate) date: NaiveDate,
    pub(crate) line: Span,
}

/// Licences of one line that allow a number of pieces.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LicencesBought {
    /// Pieces that all of them allow.
    pub(crate) pieces: Decimal,
    pub(crate) date: NaiveDate,
    pub(crate) line: Span,
}

/// What is known of a pattern.
#[derive(Clone, Debug, Default)]
pub(crate) struct PatternUses<'a> {
    /// In the order of the days.
    pub(crate) made: Vec<MadeByPattern>,
    pub(crate) licences: Vec<LicencesBought>,
    /// Bills of royalties.
    pub(crate) bills: Vec<&'a Bill>,
    /// Of whom a licence was bought, and to whom a royalty was paid.
    pub(crate) licensor: Option<LabelId>,
    pub(crate) paid_to: Option<LabelId>,
}

impl PatternUses<'_> {
    /// The quarters in which a royalty was reckoned or owed, the oldest first.
    pub(crate) fn quarters(&self) -> BTreeSet<Quarter> {
        let reckoned = self.made.iter().filter(|one| one.royalty.is_some()).map(|one| quarter(one.date));
        reckoned.chain(self.bills.iter().map(|bill| quarter_of(bill))).collect()
    }

    /// What was made in a quarter and bears a royalty.
    pub(crate) fn made_in(&self, of: Quarter) -> impl Iterator<Item = (&MadeByPattern, Fixed6)> {
        let made = self.made.iter().filter_map(|one| Some((one, one.royalty?)));
        made.filter(move |(one, _)| quarter(one.date) == of)
    }

    /// The bills of a quarter.
    pub(crate) fn bills_of(&self, of: Quarter) -> impl Iterator<Item = &Bill> {
        self.bills.iter().copied().filter(move |bill| quarter_of(bill) == of)
    }

    /// The sizes of its batches, entry by entry.
    pub(crate) fn sizes(&self) -> Vec<Decimal> {
        self.made.iter().map(|one| one.quantity).collect()
    }
}

/// Every pattern of which there is something to say, on a day up to which the book was costed. `None` where a figure is too large to be carried.
pub(crate) fn pattern_uses<'a>(
    book: &ResolvedBook,
    log: &EventLog,
    costed: &'a CostedBook,
    on: Option<NaiveDate>,
) -> Option<BTreeMap<PatternId, PatternUses<'a>>> {
    let mut uses: BTreeMap<PatternId, PatternUses<'a>> = BTreeMap::new();
    let Some(on) = on else { return Some(uses) };
    let mut outputs: Vec<_> = costed.batches.iter().flat_map(|batch| &batch.outputs).collect();
    outputs.sort_by_key(|output| (output.date, output.event, output.line.start));
    for output in outputs {
        let Output::Thing(thing) = output.what else { continue };
        let Some(pattern) = *book.thing(thing).pattern.on(output.date) else { continue };
        let royalty = match *book.pattern(pattern).royalty.on(output.date) {
            Some(rate) => Some(line_total(rate, output.quantity, book.shop.currency).ok()?),
            None => None,
        };
        let (quantity, date, line) = (output.quantity, output.date, output.line);
        uses.entry(pattern).or_default().made.push(MadeByPattern { thing, quantity, royalty, date, line });
    }
    for event in log.events.iter().filter(|event| event.date <= on) {
        match &event.kind {
            EventKind::Bought(bought) => {
                for line in &bought.lines {
                    let BoughtWhat::Licence { pattern, count } = line.what else { continue };
                    let one = uses.entry(pattern).or_default();
                    one.licensor = bought.supplier.or(one.licensor);
                    if let Some(allows) = *book.pattern(pattern).allows.on(event.date) {
                        let pieces = checked_mul_exact(count, allows).ok()?;
                        one.licences.push(LicencesBought { pieces, date: event.date, line: line.span });
                    }
                }
            }
            EventKind::Paid(paid) => {
                for line in &paid.lines {
                    if let PaidFor::Royalty(pattern) = line.what {
                        uses.entry(pattern).or_default().paid_to = Some(paid.to);
                    }
                }
            }
            _ => {}
        }
    }
    for bill in costed.bills.iter().filter(|bill| bill.kind == BillKind::OwedByUs && bill.date <= on) {
        if let Some(pattern) = bill.pattern {
            uses.entry(pattern).or_default().bills.push(bill);
        }
    }
    Some(uses)
}

/// The quarter of a bill's day; none of one that was there when the book began.
fn quarter_of(bill: &Bill) -> Quarter {
    if bill.opened { None } else { quarter(bill.date) }
}

fn quarter(day: NaiveDate) -> Quarter {
    Some((day.year(), day.month0().checked_div(3)?.checked_add(1)?))
}

/// A quarter as it stands in a figure's name.
pub(crate) fn quarter_text(quarter: Quarter) -> String {
    quarter.map_or_else(|| BEFORE_THE_BOOK.to_owned(), |(year, number)| format!("{year:04}-Q{number}"))
}

/// Reads a quarter of a figure's name.
pub(crate) fn read_quarter(typed: &str) -> Option<Quarter> {
    if typed == BEFORE_THE_BOOK {
        return Some(None);
    }
    let (year, number) = typed.split_once("-Q")?;
    let four = year.len() == 4 && year.bytes().all(|byte| byte.is_ascii_digit());
    let number: u32 = number.parse().ok().filter(|number| (1..=4).contains(number))?;
    Some(Some((year.parse().ok().filter(|_| four)?, number)))
}
