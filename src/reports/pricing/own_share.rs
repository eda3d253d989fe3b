//! What a channel takes itself, beside what its sales cost: booths, miles, the owner's hours there.
//!
//! It is of no product, so all that is sold there bears it, by value (common practice, no source): a piece bears of it a part as large as what it brings in is of all
//! revenue of the channel so far. By the piece a top would bear as much of a booth as a rocking horse. A booth costs what it costs, so that part is a sum, the same at
//! whatever price is looked for: what one brought in so far tells it, not the price that is asked about. What was not sold there yet is counted as one more that is: so
//! no piece bears more than the channel took.

use rust_decimal::Decimal;

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

    /// What a piece that brings in so much bears: money and minutes, each rounded half away from zero to six digits. `None` on overflow.
    pub(super) fn borne_by(self, (revenue, by): (Fixed6, BroughtInBy)) -> Option<(Fixed6, Fixed6)> {
        if !self.revenue.is_positive() {
            return Some((Fixed6::ZERO, Fixed6::ZERO));
        }
        let whole = if by.is_of_sales() { self.revenue } else { self.revenue.checked_add(revenue)? };
        let part = |all: Fixed6| mul_div_round(all.micros(), revenue.micros(), whole.micros()).map(Fixed6::from_micros);
        Some((part(self.expenses)?, part(self.minutes)?))
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

/// From what it is known what one of a product brings in there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BroughtInBy {
    /// From what was sold there: so much for so many that stayed with their buyers.
    Sales(Fixed6, Decimal),
    /// None was sold there: from its list price.
    ListPrice,
    /// From the last price at which it was sold, since all came back and it has no list price.
    LastPrice,
    /// It has no price: from the least one that covers its full cost, else what was laid out.
    LeastPrice,
    /// No price covers its cost.
    Nothing,
}

impl BroughtInBy {
    /// Whether it is part of what the channel brought in.
    pub(crate) const fn is_of_sales(self) -> bool {
        matches!(self, Self::Sales(..))
    }

    /// As the report says it.
    pub(crate) const fn text(self) -> &'static str {
        match self {
            Self::Sales(..) => "what was sold there",
            Self::ListPrice => "its list price",
            Self::LastPrice => "its last price",
            Self::LeastPrice => "the least price that covers its cost",
            Self::Nothing => "no price",
        }
    }
}
