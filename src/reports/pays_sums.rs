//! The sums of sales, as each row of *what pays* prints them: from revenue to the margins, and the owner's minutes.
//!
//! One struct for the rows of groups, of what is in no group and of all sales; in JSON its keys stand among the row's own.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{MinutesText, MoneyText};

/// The columns of money.
pub(crate) const MONEY_COLUMNS: usize = 10;

/// What sales came to and cost.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysSums {
    /// Goods at net price, shipping charged, less refunds; without sales tax.
    #[schemars(with = "MoneyText")]
    pub revenue: String,
    /// Fees and shares, less what was given back.
    #[schemars(with = "MoneyText")]
    pub fees: String,
    /// Postage.
    #[schemars(with = "MoneyText")]
    pub postage: String,
    /// Packing used.
    #[schemars(with = "MoneyText")]
    pub packing: String,
    /// Expenses, miles and hired hours entered on lines and channels.
    #[schemars(with = "MoneyText")]
    pub direct_expenses: String,
    /// Paid cost of what was sold, net of what came back.
    #[schemars(with = "MoneyText")]
    pub paid_cost: String,
    /// Revenue less selling costs less paid cost.
    #[schemars(with = "MoneyText")]
    pub paid_margin: String,
    /// Own time in those goods.
    #[schemars(with = "MoneyText")]
    pub own_time: String,
    /// Overhead in those goods.
    #[schemars(with = "MoneyText")]
    pub overhead: String,
    /// Paid margin less own time and overhead.
    #[schemars(with = "MoneyText")]
    pub full_margin: String,
    /// Own minutes in those goods and worked on the lines and channels; null where hours are unknown.
    #[schemars(with = "Option<MinutesText>")]
    pub own_minutes: Option<String>,
}

impl PaysSums {
    /// Sums of which the money is handed in in the order of the columns, which is that of the fields.
    pub(crate) fn new(money: [String; MONEY_COLUMNS], own_minutes: Option<String>) -> Self {
        let [revenue, fees, postage, packing, direct_expenses, paid_cost, paid_margin, own_time, overhead, full_margin] = money;
        Self {
            revenue,
            fees,
            postage,
            packing,
            direct_expenses,
            paid_cost,
            paid_margin,
            own_time,
            overhead,
            full_margin,
            own_minutes,
        }
    }

    /// The money in the order of the columns.
    pub(crate) fn money(&self) -> [&str; MONEY_COLUMNS] {
        [
            &self.revenue,
            &self.fees,
            &self.postage,
            &self.packing,
            &self.direct_expenses,
            &self.paid_cost,
            &self.paid_margin,
            &self.own_time,
            &self.overhead,
            &self.full_margin,
        ]
    }
}
