//! *What goes on the form?* The tax year by the form's own lines, with what stands behind them.
//!
//! A worksheet, not advice. `cents` is exact to the cent; `printed` follows the book's choice of whole dollars or cents.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{AmountText, MoneyText, QuantityText};
use crate::reports::{EquipmentRow, ReportHead, ToolGoneRow};

/// A line of the form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FormLine {
    /// As on the form: `27b`.
    pub line: String,
    /// The part of the form: `II`; empty where it has none.
    pub part: String,
    /// The form's label.
    pub label: String,
    /// Exact to the cent.
    #[schemars(with = "MoneyText")]
    pub cents: String,
    /// As it goes on the form.
    #[schemars(with = "MoneyText")]
    pub printed: String,
    /// The figure's name: `year/2026/line-42`.
    pub figure: String,
    /// What flows into it, by name; empty for a line that adds others.
    pub parts: Vec<NamedSum>,
    /// Whether the form itself wants these parts listed, as it does of other expenses.
    pub itemized: bool,
    /// Whether it is a working behind a line, which is not on the form.
    pub working: bool,
}

/// What a box of the form says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FormBoxAnswer {
    /// As on the form: `33`.
    pub line: String,
    /// The form's label.
    pub label: String,
    /// The answer, in words.
    pub answer: String,
}

/// A named sum.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct NamedSum {
    /// What.
    pub name: String,
    /// How much.
    #[schemars(with = "AmountText")]
    pub amount: String,
}

/// Where the cost of goods went, in six digits' exactness shown to the cent.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct GoodsWentTo {
    /// Sold, net of returned.
    #[schemars(with = "MoneyText")]
    pub sold: String,
    /// Scrapped.
    #[schemars(with = "MoneyText")]
    pub scrapped: String,
    /// Missing, net of found.
    #[schemars(with = "MoneyText")]
    pub missing: String,
    /// Abnormal losses.
    #[schemars(with = "MoneyText")]
    pub abnormal: String,
    /// Donated, out of this year's cost.
    #[schemars(with = "MoneyText")]
    pub donated: String,
    /// Differences of supplier's refunds and credits from cost.
    #[schemars(with = "MoneyText")]
    pub price_difference: String,
}

/// By what the form differs from where the goods went, but for rounding: what counts in another year, by the cash basis or by a change
/// of the stock method, and what was issued without a record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Timing {
    /// Gone but not yet paid for at the year's end.
    #[schemars(with = "MoneyText")]
    pub gone_not_paid: String,
    /// Gone in earlier years and paid for in this.
    #[schemars(with = "MoneyText")]
    pub gone_paid_now: String,
    /// Issued and not yet bought or made: taken off, so below zero.
    #[schemars(with = "MoneyText")]
    pub unrecorded: String,
    /// Last year's closing stock less the same stock by this year's method.
    #[schemars(with = "MoneyText")]
    pub method_change: String,
}

/// Part III, tied to the engine.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CostOfGoods {
    /// Where it went.
    pub went_to: GoodsWentTo,
    /// Timing; both zero on the accrual basis.
    pub timing: Timing,
    /// The engine's exact figure less printed 42.
    #[schemars(with = "MoneyText")]
    pub rounding: String,
    /// All of these in words, in the order in which they are shown; of timing that most years have none of, only what there is.
    pub rows: Vec<NamedSum>,
    /// What these come to but for the rounding, which is the last of them.
    #[schemars(with = "MoneyText")]
    pub total: String,
    /// What left other than by the cost of goods: taken home, samples, gifts, donated, used and made for the shop, packing.
    pub other_ways_out: Vec<NamedSum>,
}

/// Miles.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct MileageSchedule {
    /// Miles of the year.
    #[schemars(with = "QuantityText")]
    pub miles: String,
    /// Rates in force, with their days and sources.
    pub rates: Vec<NamedSum>,
    /// Miles times rates.
    #[schemars(with = "MoneyText")]
    pub amount: String,
}

/// The home workshop.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct HomeWorkshopRow {
    /// `simplified` or `part of house costs`.
    pub method: String,
    /// Before the limit.
    #[schemars(with = "MoneyText")]
    pub before_limit: String,
    /// What counts.
    #[schemars(with = "MoneyText")]
    pub amount: String,
    /// What the limit cut off.
    #[schemars(with = "MoneyText")]
    pub excess: String,
}

/// A sales tax account over a period.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SalesTaxRow {
    /// Whose.
    pub to: String,
    /// Period: `2026-Q1`, or the year.
    pub period: String,
    /// Owed when the period began.
    #[schemars(with = "MoneyText")]
    pub owed_before: String,
    /// Collected by the shop.
    #[schemars(with = "MoneyText")]
    pub collected: String,
    /// Given back.
    #[schemars(with = "MoneyText")]
    pub refunded: String,
    /// Paid over.
    #[schemars(with = "MoneyText")]
    pub paid_over: String,
    /// Allowance kept.
    #[schemars(with = "MoneyText")]
    pub allowed: String,
    /// Owed at the end of the period.
    #[schemars(with = "MoneyText")]
    pub owed: String,
    /// Collected by channels: a memo, no debt of the shop.
    #[schemars(with = "MoneyText")]
    pub collected_by_channels: String,
}

/// Self-employment tax.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SelfEmployment {
    /// Its lines.
    pub lines: Vec<FormLine>,
}

/// The schedules behind the form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Schedules {
    /// Tools.
    pub equipment: Vec<EquipmentRow>,
    /// Tools that left in the year.
    pub tools_gone: Vec<ToolGoneRow>,
    /// Miles.
    pub mileage: MileageSchedule,
    /// Home workshop; null where there is none.
    pub home_workshop: Option<HomeWorkshopRow>,
    /// Sales tax.
    pub sales_tax: Vec<SalesTaxRow>,
    /// Self-employment tax.
    pub self_employment: SelfEmployment,
}

/// A line of the bridge from margins to the form.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BridgeLine {
    /// What.
    pub name: String,
    /// How much, with its sign.
    #[schemars(with = "MoneyText")]
    pub amount: String,
}

/// A part of the cut-off list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CutOffPart {
    /// What it lists.
    pub name: String,
    /// Its rows.
    pub rows: Vec<String>,
    /// What is said where it has none.
    pub empty: String,
}

/// A question that the program can't decide.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OpenQuestion {
    /// Its stable name, `gift-shop/agent`.
    pub name: String,
    /// The question.
    pub question: String,
    /// The rule behind it.
    pub rule: String,
    /// The rule's source.
    pub source: String,
    /// What answers it.
    pub answer_with: String,
    /// The entries concerned, `2026-03.kerf:12`.
    pub entries: Vec<String>,
    /// The answer, where one was given.
    pub answer: Option<String>,
}

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct YearReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// The caution, in one line.
    pub caution: String,
    /// The form's name: `us-schedule-c`.
    pub form: String,
    /// The form's title and the tax year that its data is for, and whether it is provisional.
    pub form_title: String,
    /// The year.
    pub year: i32,
    /// `cash` or `accrual`.
    pub basis: String,
    /// `inventory` or `supplies`.
    pub stock: String,
    /// The line of the form that holds the net profit or loss: `31`.
    pub net_profit_line: String,
    /// Every line of the form, zeros too.
    pub lines: Vec<FormLine>,
    /// Boxes that want words in place of an amount, as far as the book knows them.
    pub boxes: Vec<FormBoxAnswer>,
    /// Cost of goods.
    pub cost_of_goods: CostOfGoods,
    /// Schedules.
    pub schedules: Schedules,
    /// From the margins to the net profit.
    pub bridge: Vec<BridgeLine>,
    /// The cut-off list.
    pub cut_off: Vec<CutOffPart>,
    /// Open questions.
    pub open_questions: Vec<OpenQuestion>,
    /// Where the figures of the form come from: label and source.
    pub sources: Vec<String>,
    /// Warnings that a reader of the figures must know.
    pub notes: Vec<String>,
}
