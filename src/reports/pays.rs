//! *What pays?* Margins and earnings per hour, by product, product line and channel.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{MinutesText, MoneyText, MonthText, QuantityText};
use crate::reports::{PaysBridge, PaysSums, PaysTrend, PaysVerdict, ReportHead, StockAges};
use crate::units::group_digits;

/// One product, line or channel.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysGroup {
    /// `line`, `channel` or `product`; of [`PaysReport::fairs`] `fair`.
    pub by: String,
    /// Its name; of a fair its channel's, a `/` and its last day.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Pieces sold, net of returned. A line, a channel and the totals count pieces alone; a product that is measured otherwise stands in its own unit.
    #[schemars(with = "QuantityText")]
    pub units: String,
    /// The unit of those of a product; `ea` of a line or channel.
    pub unit: String,
    /// Its sums.
    #[serde(flatten)]
    pub sums: PaysSums,
    /// Paid margin less overhead, per own hour; null where hours are unknown.
    #[schemars(with = "Option<MoneyText>")]
    pub earned_per_hour: Option<String>,
}

impl PaysGroup {
    /// How much of it was sold: `9 pieces`, `12.5 bf`; `None` where that is no pieces, as of a line of lumber.
    pub(crate) fn sold_in_words(&self) -> Option<String> {
        match (self.units.as_str(), self.unit.as_str()) {
            ("0", _) => None,
            ("1", "ea") => Some("one piece".to_owned()),
            (units, "ea") => Some(format!("{} pieces", group_digits(units))),
            (units, unit) => Some(format!("{} {unit}", group_digits(units))),
        }
    }
}

/// What of all sales stands in no group of a kind, so that its groups and these rows add up to all sales; and what stands on channels beside their fairs, so
/// that fairs and these rows add up to these channels.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysRestRow {
    /// The kind of group in which it stands in none: `line`, `channel`, `product` or `fair`.
    pub by: String,
    /// Of fairs their channel; else null.
    pub name: Option<String>,
    /// Why: `no_line` (goods in no product line), `swapped` (by no channel), `for_lines` and `for_channels` (spent, driven and worked for one as a
    /// whole, and shipments to a channel), `for_places` (shipments to a place that is no channel). Of fairs: `no_fair`, `to_come` (paid ahead for days after
    /// the book's last), `other_fairs` (of fairs whose last day is not covered), `outside_days` (what the fairs that are told have outside the days, taken off). Its figures' names begin with `pays/rest/`, its kind, of fairs their channel, and this with dashes:
    /// `pays/rest/line/no-line`, `pays/rest/fair/craft-fair/to-come`; those of days other than a year or the whole book have none.
    pub why: String,
    /// The same in words.
    pub title: String,
    /// Pieces sold, net of returned.
    #[schemars(with = "QuantityText")]
    pub units: String,
    /// Its sums.
    #[serde(flatten)]
    pub sums: PaysSums,
}

/// Sums over all products, with the lines' and channels' own costs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysTotals {
    /// Pieces.
    #[schemars(with = "QuantityText")]
    pub units: String,
    /// Its sums.
    #[serde(flatten)]
    pub sums: PaysSums,
    /// Per own hour.
    #[schemars(with = "Option<MoneyText>")]
    pub earned_per_hour: Option<String>,
}

/// What belongs to no piece.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Unassigned {
    /// Own minutes at indirect steps and for nothing in particular.
    #[schemars(with = "MinutesText")]
    pub indirect_minutes: String,
    /// Actual overhead less applied; plus is under.
    #[schemars(with = "MoneyText")]
    pub overhead_under_applied: String,
}

/// Minutes worked at a step in the period: into batches, on lines and channels, and for the shop at large.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StepHours {
    /// The step's name; null for minutes that name none.
    pub name: Option<String>,
    /// Its title.
    pub title: String,
    /// The owner's.
    #[schemars(with = "MinutesText")]
    pub own_minutes: String,
    /// Bought in.
    #[schemars(with = "MinutesText")]
    pub bought_in_minutes: String,
}

/// A month's income and cost, for the picture.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysMonth {
    /// `2026-03`.
    #[schemars(with = "MonthText")]
    pub month: String,
    /// Revenue.
    #[schemars(with = "MoneyText")]
    pub revenue: String,
    /// Paid cost and selling costs.
    #[schemars(with = "MoneyText")]
    pub cost: String,
}

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PaysReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// Lines, channels and products.
    pub groups: Vec<PaysGroup>,
    /// What stands in no group of a kind; with it the groups of each kind add up to the sums.
    pub rest: Vec<PaysRestRow>,
    /// Fairs whose last day is covered, each whole; one that began before them says so in its title. What stands on a channel itself counts for the fair of its day and up to three days after it, else for
    /// the next.
    pub fairs: Vec<PaysGroup>,
    /// What fairs and the rows beside them add up to: all that stands on channels with fairs, in the days covered. Null where there is none.
    pub fairs_total: Option<PaysTotals>,
    /// Whether each line, channel, product and fair pays, and why.
    pub verdicts: Vec<PaysVerdict>,
    /// Each line, channel and product year after year.
    pub trend: Vec<PaysTrend>,
    /// Sums.
    pub totals: PaysTotals,
    /// What belongs to no piece.
    pub unassigned: Unassigned,
    /// The form's net profit per own hour worked; null where no form, no year or no hours.
    #[schemars(with = "Option<MoneyText>")]
    pub year_per_hour: Option<String>,
    /// The owner's hour at the rate of the last day covered; null where the shop states none.
    #[schemars(with = "Option<MoneyText>")]
    pub owner_rate: Option<String>,
    /// Hours worked, by step, the most first.
    pub hours: Vec<StepHours>,
    /// Months of the period.
    pub months: Vec<PaysMonth>,
    /// What lies long, on the book's last day.
    pub stock_ages: StockAges,
    /// Bridges to the net profit, of the tax years that are covered whole.
    pub bridges: Vec<PaysBridge>,
    /// Warnings that a reader of the figures must know.
    pub notes: Vec<String>,
}
