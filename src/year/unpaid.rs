//! Cash basis: what of the costs that came in is not paid at a year's end, and how much of what is gone counts in a year.
//!
//! A cost of stock counts on the later of paid and gone. What is unpaid at a year's end is a mark that travels with the cost
//! ([`Mark::NotPaid`]), so it is known of what is still here and of what is gone. Of what left in a year, what is paid by its end
//! counts; of what left before, what was unpaid at the last year's end and is paid by this one's. So each amount counts once, in the year of
//! the later of the two days, and nothing that happens later moves an earlier year.

use chrono::{Datelike, NaiveDate};

use crate::costing::{Component, CostVector, Mark, Movement, NotPaid};
use crate::names::{StockKept, ThingKind};
use crate::units::Fixed6;
use crate::year::books::{Books, BooksOfYear};
use crate::year::came_in::{CameAs, came_in};
use crate::year::settled::{Part, Parts, Settled};

/// What of each movement that came in is not paid at the ends of years, by the bills' payments; empty where no bill of stock is open over
/// a year's end on the cash basis. `None` on overflow.
pub(crate) fn find_not_paid(books: Books<'_>) -> Option<NotPaid> {
    let mut not_paid = NotPaid::default();
    let Some(last_year) = books.costed.until.map(|day| day.year()) else { return Some(not_paid) };
    if !books.costed.bills.iter().any(|bill| is_open_over_a_year(&bill.paid, bill.total, bill.date)) {
        return Some(not_paid);
    }
    let settled = Settled::of(books)?;
    for (at, movement) in (0u32..).zip(&books.costed.movements) {
        if movement.bill.is_none() || !movement.flow.comes_in() {
            continue;
        }
        for (came_as, amount) in came_in(movement)? {
            let parts = settled.came_in(at, came_as, movement.date, amount);
            for year in movement.date.year()..=last_year {
                let paid = Fixed6::checked_sum(parts.iter().filter(|part| part.date.year() <= year).map(|part| part.amount))?;
                let unpaid = amount.checked_sub(paid)?;
                if unpaid.is_zero() {
                    break;
                }
                not_paid.add(at, year, component_of(came_as), unpaid)?;
            }
        }
    }
    Some(not_paid)
}

fn is_open_over_a_year(paid: &[(NaiveDate, Fixed6)], total: Fixed6, since: NaiveDate) -> bool {
    let within = paid.iter().filter(|(day, _)| day.year() <= since.year()).map(|(_, money)| *money);
    Fixed6::checked_sum(within) != Some(total)
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
        counted.not_paid = measure(&vector.marked(Mark::NotPaid(of.year)))?;
        if of.has(day) {
            counted.now = measure(vector)?.checked_sub(counted.not_paid)?;
        } else {
            counted.not_paid_before = measure(&vector.marked(Mark::NotPaid(of.year.checked_sub(1)?)))?;
            counted.from_before = counted.not_paid_before.checked_sub(counted.not_paid)?;
        }
        Some(counted)
    }

    /// All that counts in the year. `None` on overflow.
    pub(crate) fn in_the_year(self) -> Option<Fixed6> {
        self.now.checked_add(self.from_before)
    }
}
