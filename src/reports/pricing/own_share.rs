//! What a channel takes itself, beside what its sales cost: booths, miles, the owner's hours there.
//!
//! It is of no product, so all that is sold there bears it, by value: of each sale's revenue a part as large as it was of all revenue of the channel so far
//! (common practice, no source). By the piece a top would bear as much of a booth as a rocking horse.

use rust_decimal::Decimal;

use super::in_channel::worth;
use super::terms::Bears;
use crate::names::ResolvedBook;
use crate::reports::overhead_so_far::hours_text;
use crate::reports::period::said_money;
use crate::units::{Fixed6, mul_div_round};

/// What a channel took itself, and what it brought in.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct OwnShare {
    pub(crate) expenses: Fixed6,
    /// The owner's.
    pub(crate) minutes: Fixed6,
    /// Of all products, shipping charged among it, less refunds, without sales tax: as what pays has it.
    pub(crate) revenue: Fixed6,
}

impl OwnShare {
    /// Whether it took anything.
    pub(crate) fn is_nothing(self) -> bool {
        self.expenses.is_zero() && self.minutes.is_zero()
    }

    /// Its expenses of its revenue, in parts of a hundred with two digits; nothing where nothing was brought in.
    pub(crate) fn expenses_percent(self) -> Option<Decimal> {
        percent_of(self.expenses, self.revenue)
    }

    /// The owner's minutes for a hundred of its revenue, with six digits; nothing where nothing was brought in.
    pub(crate) fn minutes_per_hundred(self) -> Option<Fixed6> {
        of_hundred(self.minutes, self.revenue, 100_000_000).map(Fixed6::from_micros)
    }

    /// What so much of its revenue bears: money and minutes, each rounded half away from zero to six digits. `None` on overflow.
    pub(crate) fn borne_by(self, revenue: Fixed6) -> Option<(Fixed6, Fixed6)> {
        if !self.revenue.is_positive() {
            return Some((Fixed6::ZERO, Fixed6::ZERO));
        }
        let part = |all: Fixed6| mul_div_round(all.micros(), revenue.micros(), self.revenue.micros()).map(Fixed6::from_micros);
        Some((part(self.expenses)?, part(self.minutes)?))
    }

    /// Its expenses, and the owner's hours there at a rate. `None` on overflow.
    pub(crate) fn money(self, rate: Fixed6) -> Option<Fixed6> {
        self.expenses.checked_add(worth(rate, self.minutes)?)
    }

    /// That of its revenue, in parts of a hundred with two digits; nothing where nothing was brought in.
    pub(crate) fn money_percent(self, rate: Fixed6) -> Option<Decimal> {
        percent_of(self.money(rate)?, self.revenue)
    }

    /// What a price bears of that beside `shipping`, which its buyer is charged. `None` on overflow.
    pub(super) fn bears(self, rate: Fixed6, shipping: Fixed6) -> Option<Bears> {
        match self.revenue.is_positive() {
            true => Some(Bears { money: self.money(rate)?, of: self.revenue, shipping }),
            false => Some(Bears::default()),
        }
    }

    /// What it took, in words: `$92.50 and 2 h of yours`.
    pub(crate) fn in_words(self, book: &ResolvedBook) -> String {
        let minutes = || format!("{} of yours", hours_text(self.minutes));
        match (self.expenses.is_zero(), self.minutes.is_zero()) {
            (true, _) => minutes(),
            (false, true) => said_money(book, self.expenses),
            (false, false) => format!("{} and {}", said_money(book, self.expenses), minutes()),
        }
    }
}

fn percent_of(part: Fixed6, whole: Fixed6) -> Option<Decimal> {
    of_hundred(part, whole, 10_000)
        .and_then(|hundredths| Decimal::try_from_i128_with_scale(hundredths, 2).ok())
        .map(|percent| percent.normalize())
}

fn of_hundred(part: Fixed6, whole: Fixed6, times: i128) -> Option<i128> {
    if whole.is_positive() { mul_div_round(part.micros(), times, whole.micros()) } else { None }
}
