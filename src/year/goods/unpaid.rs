//! Cash basis: what of the costs that came in is not paid at a year's end, and how much of what is gone counts in a year.
//!
//! A cost of stock counts on the later of paid and gone. What is unpaid at a year's end is a mark that travels with the cost
//! ([`Mark::NotPaid`]), so it is known of what is still here and of what is gone. Of what left in a year, what is paid by its end
//! counts; of what left before, what was unpaid at the last year's end and is paid by this one's. So each amount counts once, in the year of
//! the later of the two days, and nothing that happens later moves an earlier year.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use crate::costing::{Bill, BillKind, Component, CostVector, Movement, NotPaid};
use crate::names::{Basis, BatchId, StockKept, ThingId, ThingKind};
use crate::units::{Fixed6, mul_div_round};
use crate::year::bill_split::{Part, Parts};
use crate::year::books::{Books, BooksOfYear};
use crate::year::goods::came_in::{CameAs, came_in};
use crate::year::settled::Settled;

/// What of each movement that came in is not paid at the ends of years, by the bills' payments; empty where no bill of stock is open over
/// a year's end on the cash basis. `None` on overflow.
pub(crate) fn find_not_paid(books: Books<'_>) -> Option<NotPaid> {
    let mut not_paid = NotPaid::default();
    let Some(last_year) = books.last_marked_year() else { return Some(not_paid) };
    if !books.costed.bills.iter().any(|bill| is_open_over_a_year(books, bill)) {
        return Some(not_paid);
    }
    let settled = Settled::of(books)?;
    let mut of_bills: BTreeMap<OnBill, Vec<Came>> = BTreeMap::new();
    for (at, movement) in (0u32..).zip(&books.costed.movements) {
        let Some(bill) = movement.bill.filter(|_| movement.flow.comes_in()) else { continue };
        for (came_as, amount) in came_in(movement)? {
            let parts = settled.came_in(at, came_as, movement.date, amount);
            let on_bill = OnBill { bill, thing: movement.thing, batch: movement.batch, came_as };
            of_bills.entry(on_bill).or_default().push(Came { at, year: movement.date.year(), amount, parts });
        }
    }
    for (on_bill, came) in of_bills {
        let Some(first) = came.iter().map(|one| one.year).min() else { continue };
        for year in first..=last_year {
            for (at, unpaid) in unpaid_at_end_of(year, &came)? {
                not_paid.add(at, year, component_of(on_bill.came_as), unpaid)?;
            }
        }
    }
    Some(not_paid)
}

/// What one bill is for: its lines of one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct OnBill {
    bill: u32,
    thing: Option<ThingId>,
    batch: Option<BatchId>,
    came_as: CameAs,
}

/// A component of a movement that came in, and when it was paid.
struct Came {
    at: u32,
    year: i32,
    amount: Fixed6,
    parts: Parts,
}

/// What of each movement is unpaid at a year's end. Goods that went back lower what is owed for those that stayed, so what is unpaid of
/// all together is shared by amount: each piece is then paid for as much as any other. `None` on overflow.
fn unpaid_at_end_of(year: i32, came: &[Came]) -> Option<Vec<(u32, Fixed6)>> {
    let here: Vec<&Came> = came.iter().filter(|one| one.year <= year).collect();
    let amount = Fixed6::checked_sum(here.iter().map(|one| one.amount))?;
    let mut unpaid = Vec::with_capacity(here.len());
    for one in &here {
        let paid = Fixed6::checked_sum(one.parts.iter().filter(|part| part.date.year() <= year).map(|part| part.amount))?;
        unpaid.push(one.amount.checked_sub(paid)?);
    }
    // Where all went back again nothing of it is anywhere, and each keeps its own.
    if !amount.is_zero() && here.iter().any(|one| one.amount.is_negative()) {
        let all = Fixed6::checked_sum(unpaid.iter().copied())?;
        let mut left = all;
        for (one, unpaid) in here.iter().zip(&mut unpaid).skip(1) {
            *unpaid = Fixed6::from_micros(mul_div_round(all.micros(), one.amount.micros(), amount.micros())?);
            left = left.checked_sub(*unpaid)?;
        }
        unpaid[0] = left;
    }
    Some(here.iter().map(|one| one.at).zip(unpaid).filter(|(_, unpaid)| !unpaid.is_zero()).collect())
}

fn is_open_over_a_year(books: Books<'_>, bill: &Bill) -> bool {
    if bill.kind != BillKind::OwedByUs || *books.book.shop.basis.on(bill.date) != Basis::Cash {
        return false;
    }
    // What goes back or is credited in a later year was open until then.
    let end = NaiveDate::from_ymd_opt(bill.date.year(), 12, 31);
    end.and_then(|end| bill.open_on(end)).is_none_or(|open| !open.is_zero())
}

fn component_of(came_as: CameAs) -> Component {
    match came_as {
        CameAs::Materials => Component::Materials,
        CameAs::Freight => Component::Freight,
        CameAs::Wear | CameAs::WearFreight => Component::Wear,
        CameAs::BoughtInTime => Component::BoughtInTime,
        CameAs::Royalty => Component::Royalty,
    }
}

/// When a component of a movement that came in counts in cost of goods: on the later of paid and here.
pub(crate) fn counted_parts(settled: &Settled, at: u32, movement: &Movement, came_as: CameAs, amount: Fixed6) -> Parts {
    let parts = settled.came_in(at, came_as, movement.date, amount);
    parts.into_iter().map(|part| Part { date: part.date.max(movement.date), amount: part.amount }).collect()
}

/// Whether a component of what came in is part of cost of goods: of packing nothing is, and of supplies materials and freight.
pub(crate) fn is_inside(of: &BooksOfYear<'_>, movement: &Movement, came_as: CameAs, kept: StockKept) -> bool {
    let packing = movement.thing.is_some_and(|thing| of.book().thing(thing).kind == ThingKind::Packing);
    !packing && (kept == StockKept::Inventory || matches!(came_as, CameAs::Materials | CameAs::Freight))
}

/// What of a cost that left or was used on a day counts in the year, and what of it is left open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Counted {
    /// Of what left in the year: what is paid by its end.
    pub(crate) now: Fixed6,
    /// Of what left before: what is paid in the year.
    pub(crate) from_before: Fixed6,
    /// Gone by the year's end and not paid by then.
    pub(crate) not_paid: Fixed6,
    /// Gone by the end of the year before and not paid by then.
    pub(crate) not_paid_before: Fixed6,
}

impl Counted {
    /// Looks at a cost that left on a day, by a measure of a cost (what of it waits, say). `None` on overflow.
    pub(crate) fn of(
        of: &BooksOfYear<'_>,
        day: NaiveDate,
        vector: &CostVector,
        measure: impl Fn(&CostVector) -> Option<Fixed6>,
    ) -> Option<Self> {
        let mut counted = Self::default();
        if day > of.last {
            return Some(counted);
        }
        counted.not_paid = measure(&vector.marked(of.not_paid_at_end_of(of.year)))?;
        if of.has(day) {
            counted.now = measure(vector)?.checked_sub(counted.not_paid)?;
        } else {
            counted.not_paid_before = measure(&vector.marked(of.not_paid_at_end_of(of.year.checked_sub(1)?)))?;
            counted.from_before = counted.not_paid_before.checked_sub(counted.not_paid)?;
        }
        Some(counted)
    }

    /// All that counts in the year. `None` on overflow.
    pub(crate) fn in_the_year(self) -> Option<Fixed6> {
        self.now.checked_add(self.from_before)
    }
}
