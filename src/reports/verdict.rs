//! Whether a product, line, channel or fair pays, and why: the model. And how each did year after year, and the bridge to the form.
//!
//! Figures are those of the report of what pays, held against the owner's rate and against what the same hours earned best in another of its kind.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::BridgeLine;
use crate::reports::figure_text::{MinutesText, MoneyText};

/// Whether something pays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// An hour in it earned at least the owner's rate, or it took no hour and left something after the overhead in its goods.
    Pays,
    /// It left something after what was paid, and an hour in it earned less than the owner's rate, or at most so much where not all its hours are known; or it took no
    /// hour and left less than the overhead in its goods.
    BelowRate,
    /// It brought less than was paid for it.
    Loses,
    /// It left something, and not all its hours are known, or the book keeps none.
    HoursUnknown,
    /// It left nothing, neither more nor less than was paid, and took no hour; or nothing of it was sold, or no more than came back.
    NothingLeft,
    /// It left something, and the shop states no rate to hold an hour against.
    NoRate,
}

/// Where the same hours earned best.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OtherUse {
    /// `line`, `channel`, `product` or `fair`.
    pub by: String,
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// What an hour in it earned.
    #[schemars(with = "MoneyText")]
    pub earned_per_hour: String,
}

/// What would be otherwise without it. Overhead and hours that stand on nothing stay whatever is dropped.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct IfDropped {
    /// Revenue that would not come.
    #[schemars(with = "MoneyText")]
    pub loses: String,
    /// Its own costs, which would not arise: fees, postage, packing, expenses on it, and the paid cost of its goods.
    #[schemars(with = "MoneyText")]
    pub saves: String,
    /// Overhead that its goods bore, and that others would have to bear.
    #[schemars(with = "MoneyText")]
    pub overhead_stays: String,
    /// Own minutes that would be free; null where hours are unknown.
    #[schemars(with = "Option<MinutesText>")]
    pub frees_minutes: Option<String>,
    /// The same in a sentence.
    pub says: String,
}

/// Whether one product, line, channel or fair pays.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysVerdict {
    /// `line`, `channel`, `product` or `fair`.
    pub by: String,
    /// Its name; of a fair its channel's, a `/` and its last day.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Whether it pays.
    pub verdict: Verdict,
    /// Why, in a sentence.
    pub says: String,
    /// Earned per hour less the owner's rate; null where one of them is unknown.
    #[schemars(with = "Option<MoneyText>")]
    pub over_rate: Option<String>,
    /// The other group of its kind in which an hour earned most: of a fair, another fair or a channel that is not its own. No sale is in both. Null where the hours of no
    /// other are known.
    pub best_other: Option<OtherUse>,
    /// What dropping it would save.
    pub if_dropped: IfDropped,
}

/// A year of a product, line or channel, as the report of that year prints it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TrendYear {
    /// The year.
    pub year: i32,
    /// Whether the book ends before the year does.
    pub so_far: bool,
    /// Revenue.
    #[schemars(with = "MoneyText")]
    pub revenue: String,
    /// Paid margin.
    #[schemars(with = "MoneyText")]
    pub paid_margin: String,
    /// Full margin.
    #[schemars(with = "MoneyText")]
    pub full_margin: String,
    /// Own minutes; null where hours are unknown.
    #[schemars(with = "Option<MinutesText>")]
    pub own_minutes: Option<String>,
    /// Per own hour; null where hours are unknown, or where there are none.
    #[schemars(with = "Option<MoneyText>")]
    pub earned_per_hour: Option<String>,
}

/// How a product, line or channel that ever had something did, year after year, whatever days the report covers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysTrend {
    /// `line`, `channel` or `product`.
    pub by: String,
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Its years, from the first in which something counts to the last of the book.
    pub years: Vec<TrendYear>,
}

/// The bridge from the paid margins to the net profit of a tax year.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysBridge {
    /// The year.
    pub year: i32,
    /// Its steps; all but the last add up to the last.
    pub lines: Vec<BridgeLine>,
}
