//! The cost of a year's goods, and where they went.

use crate::units::Fixed6;
use crate::year::Item;

/// Where the goods of Part III went, by the components that wait, to six digits.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct WentTo {
    /// Sold, net of what came back.
    pub sold: Fixed6,
    /// Scrapped.
    pub scrapped: Fixed6,
    /// Missing in counts, net of found.
    pub missing: Fixed6,
    /// Abnormal losses of batches.
    pub abnormal: Fixed6,
    /// Donated, out of this year's cost.
    pub donated: Fixed6,
    /// Suppliers' refunds and credits that differ from cost.
    pub price_difference: Fixed6,
}

/// Part III, tied to the engine, to six digits.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CostOfGoods {
    /// Where it went: these sum to the engine's figure.
    pub went_to: WentTo,
    /// Gone but not yet paid for at the end of the year (cash basis).
    pub gone_not_paid: Fixed6,
    /// Gone in earlier years and paid for in this one (cash basis).
    pub gone_paid_now: Fixed6,
    /// Issued without stock: excluded.
    pub unrecorded: Fixed6,
    /// Last year's closing stock less the same stock by this year's method, where the stock method changed.
    pub method_change: Fixed6,
    /// Lines 35 + 36 + 37 + 38 + 39 − 41, exact; equal to where it went, less gone not paid, plus gone paid now, less unrecorded,
    /// plus the change of method.
    pub exact: Fixed6,
    /// The engine's exact figure less what is printed.
    pub rounding: Fixed6,
    /// What left otherwise: name and cost, by all components that wait.
    pub other_ways_out: Vec<(String, Fixed6)>,
    /// Donations off the opening stock, for the owner's own return: date, line, amount.
    pub donations: Vec<Item>,
    /// Wear and packing that were given away unused and are on no line: a memo, at their cost.
    pub donated_unused: Vec<Item>,
}
