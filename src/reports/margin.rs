//! Margins: what a group of sales brought in, what selling cost, and what the goods cost, in exact figures.
//!
//! Costing rule 13. Revenue is goods at net price and shipping charged, less refunds, without sales tax; what came back is taken off on its own
//! day, in the group of its sale. A sum belongs to a margin where it stands on a piece; what stands on a line or channel is direct.

use rust_decimal::Decimal;

use crate::costing::{Account, CostVector, Posting};
use crate::units::{Fixed6, checked_add_exact, mul_div_round};

/// The sums of a group.
#[derive(Clone, Debug, Default)]
pub(crate) struct Margin {
    pub(crate) units: Decimal,
    pub(crate) revenue: Fixed6,
    pub(crate) fees: Fixed6,
    pub(crate) postage: Fixed6,
    pub(crate) packing: Fixed6,
    pub(crate) direct: Fixed6,
    /// Cost of what was sold, net of what came back.
    pub(crate) sold: CostVector,
    /// Own minutes worked on the line or channel itself.
    pub(crate) minutes_on: Fixed6,
    /// Whether goods were sold, and whether some came back.
    pub(crate) went_out: bool,
    pub(crate) came_back: bool,
}

impl Margin {
    /// Adds a posting, where it is one of a margin's. `None` on overflow.
    pub(crate) fn post(&mut self, posting: &Posting) -> Option<()> {
        let money = posting.money;
        match posting.account {
            Account::Goods | Account::ShippingCharged => self.revenue = self.revenue.checked_add(money)?,
            Account::Refund => self.revenue = self.revenue.checked_sub(money)?,
            Account::Fee | Account::Commission => self.fees = self.fees.checked_add(money)?,
            Account::FeeBack => self.fees = self.fees.checked_sub(money)?,
            Account::Postage => self.postage = self.postage.checked_add(money)?,
            Account::Packing => self.packing = self.packing.checked_add(money)?,
            Account::Income(_)
            | Account::Expense(_)
            | Account::HiredTime { .. }
            | Account::Licence(_)
            | Account::TillOver
            | Account::TaxAllowance => {}
        }
        Some(())
    }

    /// Adds goods sold, or takes off goods that came back.
    pub(crate) fn sell(&mut self, quantity: Decimal, vector: &CostVector) -> Option<()> {
        self.units = checked_add_exact(self.units, quantity).ok()?;
        self.sold.add(vector)
    }

    /// Revenue less selling costs less paid cost.
    pub(crate) fn paid_margin(&self) -> Option<Fixed6> {
        self.revenue
            .checked_sub(self.fees)?
            .checked_sub(self.postage)?
            .checked_sub(self.packing)?
            .checked_sub(self.direct)?
            .checked_sub(self.sold.paid()?)
    }

    /// Own minutes, or `None` inside where hours are unknown. The outer `None` is overflow.
    pub(crate) fn own_minutes(&self) -> Option<Option<Fixed6>> {
        if self.sold.hours_unknown() {
            return Some(None);
        }
        Some(Some(self.sold.own_minutes()?.checked_add(self.minutes_on)?))
    }
}

/// Money per hour, rounded half away from zero to six digits; nothing where there are no minutes, or where more came back than was sold.
pub(crate) fn per_hour(money: Fixed6, minutes: Fixed6) -> Option<Fixed6> {
    if !minutes.is_positive() {
        return None;
    }
    mul_div_round(money.micros(), 60_000_000, minutes.micros()).map(Fixed6::from_micros)
}
