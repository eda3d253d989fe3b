//! A tax year by the form's lines, with everything that stands behind them, in exact figures.
//!
//! Nothing here is text for a reader but names and questions; the report rounds and writes. Every line that is fed keeps its
//! sums, and every sum its items, so that a figure can be followed to the entries that made it.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::{Basis, ExpenseId, IncomeId, StockKept, ToolId};
use crate::sources::Span;
use crate::units::Fixed6;
use crate::year::{Feed, Says, SourceNote, Step};

/// One entry's part of a sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// The day on which it counts.
    pub date: NaiveDate,
    /// How much, to six digits, with the sign that it has in its sum.
    pub amount: Fixed6,
    /// The event's index in the log; `None` for a figure of the year's start or end.
    pub event: Option<u32>,
    /// The entry's line; empty where there is none.
    pub span: Span,
}

/// What a sum is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum SumOf {
    Feed(Feed),
    Expense(ExpenseId),
    Income(IncomeId),
}

/// A sum that flows into a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sum {
    /// What it is of.
    pub of: SumOf,
    /// In words: `material bought`, an expense's title.
    pub name: String,
    /// How much it adds to its line, to six digits.
    pub amount: Fixed6,
    /// What its items come to before a share or limit was applied; the same as `amount` where there is none.
    pub whole: Fixed6,
    /// The share or limit in words; empty where there is none.
    pub share: String,
    /// What it is made of.
    pub items: Vec<Item>,
}

/// A line of the form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TaxLine {
    /// As printed: `27b`.
    pub number: String,
    /// Its stable name.
    pub name: String,
    /// The part of the form.
    pub part: String,
    /// Its label.
    pub label: String,
    /// Exact to the cent: of a line that is fed its sums, rounded once; of one that adds, the cents of those.
    pub cents: Fixed6,
    /// As it goes on the form: to the dollar or the cent. A line that adds adds printed lines.
    pub printed: Fixed6,
    /// Whether the form wants a list of what it is made of.
    pub itemized: bool,
    /// Whether it is a working, which is not on the form.
    pub working: bool,
    /// The lines that it adds (true) or subtracts, as indices.
    pub adds: Vec<(bool, usize)>,
    /// Its sums.
    pub sums: Vec<Sum>,
}

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

/// How a tool's year came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToolYear {
    /// Which.
    pub tool: ToolId,
    /// Its index among the book's tools; of a row that tells of several, that of the first.
    pub account: u32,
    /// The line at which it came.
    pub line: Span,
    /// In use from; the day it came where the book doesn't say.
    pub in_use_from: NaiveDate,
    /// How many.
    pub count: Decimal,
    /// Which of its line it is, from 1, and how many of that line have rows of their own: `(1, 1)` where the line has one row.
    pub of_line: (u32, u32),
    /// Landed cost of all of them.
    pub cost: Fixed6,
    /// Business part, in percent.
    pub business_use: Decimal,
    /// How its cost is recovered, in words, with the table, bonus and section 179 that apply.
    pub method: String,
    /// Recovered in earlier years.
    pub before: Fixed6,
    /// This year's section 179 as the limits allow it, what was carried into the year included, to the cent.
    pub section_179: Fixed6,
    /// Of section 179, carried to later years.
    pub carried: Fixed6,
    /// This year's other amount, to the cent.
    pub amount: Fixed6,
    /// Left after this year, of the business part.
    pub left: Fixed6,
    /// Where it stands; `None` where nothing is included.
    pub feed: Option<Feed>,
    /// Whether the form asks for it instead of having a line: then nothing of its cost is in a figure, and a gain is not known.
    pub asked: bool,
    /// Sold or thrown out this year.
    pub disposed: Option<ToolGone>,
    /// The ten steps, in their order.
    pub steps: Vec<ToolStep>,
    /// What it recovers year by year over its whole life, if nothing changes; empty where the book doesn't say how.
    pub life: Vec<ToolLifeYear>,
}

/// A tool that left the shop, for the list of sold tools: on no line of the form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ToolGone {
    /// The day.
    pub date: NaiveDate,
    /// What it fetched; zero where it was thrown out.
    pub proceeds: Fixed6,
    /// Of that, the business part.
    pub business_proceeds: Fixed6,
    /// Business part of its cost.
    pub business_cost: Fixed6,
    /// Recovered by then, this year's part too.
    pub recovered: Fixed6,
    /// Business part of what it fetched, less that of its cost, plus what was recovered; below zero: a loss. `None` where the business
    /// part changed, which is asked.
    pub gain: Option<Fixed6>,
}

/// What one of the ten steps says of a tool's year.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToolStep {
    /// Which.
    pub step: Step,
    /// What it says; empty where it does not apply.
    pub how: String,
    /// Its amount; `None` where it has none.
    pub amount: Option<Fixed6>,
}

/// A year of a tool's life, to the cent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ToolLifeYear {
    /// The year.
    pub year: i32,
    /// At once: as supplies, de minimis, or under section 179 before its limits.
    pub at_once: Fixed6,
    /// Bonus.
    pub bonus: Fixed6,
    /// By the table, less what the year of sale takes off.
    pub table: Fixed6,
    /// What the later years recover.
    pub left: Fixed6,
}

/// Miles at one rate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MilesAtRate {
    /// First day of the rate.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
    /// Money per mile.
    pub rate: Decimal,
    /// Miles.
    pub miles: Decimal,
    /// The rate's source.
    pub source: SourceNote,
}

/// Miles of the year.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mileage {
    /// All miles.
    pub miles: Decimal,
    /// By rate.
    pub rates: Vec<MilesAtRate>,
    /// Miles times rates, summed exactly and rounded once to the cent.
    pub amount: Fixed6,
}

/// The home workshop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HomeYear {
    /// Whether by the simplified method.
    pub simplified: bool,
    /// How it was figured, in words.
    pub how: String,
    /// Before the limit, to the cent.
    pub before_limit: Fixed6,
    /// After it.
    pub amount: Fixed6,
    /// What the limit cut off; carried by nothing here.
    pub excess: Fixed6,
    /// Index of the form's line that limits it; `None` until it is put on its line.
    pub limit: Option<usize>,
    /// By the simplified method: money per square foot, and the square feet that count of each month, from January on.
    pub by_feet: Option<HomeFeet>,
}

/// The home workshop by the simplified method.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HomeFeet {
    /// Money per square foot of the average area.
    pub per_square_foot: Decimal,
    /// Square feet of each month, at most as many as count.
    pub months: Vec<Decimal>,
    /// Where the method stands.
    pub source: SourceNote,
}

/// A sales tax account over a period.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TaxPeriod {
    /// Whose; empty for the one account without a name.
    pub to: String,
    /// `2026-Q1`, or `2026`.
    pub period: String,
    /// Owed when the period began, over all earlier ones.
    pub owed_before: Fixed6,
    /// Collected by the shop.
    pub collected: Fixed6,
    /// Given back.
    pub refunded: Fixed6,
    /// Paid over.
    pub paid_over: Fixed6,
    /// Allowance kept.
    pub allowed: Fixed6,
    /// Owed at the period's end, over all earlier ones.
    pub owed: Fixed6,
    /// Collected by channels: a memo.
    pub by_channels: Fixed6,
}

/// A line of the schedule for self-employment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScheduleSum {
    /// As printed.
    pub number: String,
    /// Its label.
    pub label: String,
    /// Its stable name.
    pub name: String,
    /// The figure, in the sheet's unit.
    pub printed: Fixed6,
    /// From printed lines, rounded to the cent instead.
    pub cents: Fixed6,
    /// How it comes about.
    pub rule: ScheduleRule,
}

/// How a line of the schedule comes about from others.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ScheduleRule {
    /// In words, with its rate: `12.4% of the smaller of lines 6 and 9`.
    pub how: String,
    /// The lines from which it is figured, by stable name; true where they are added, false where they are taken off.
    pub from: Vec<(&'static str, bool)>,
    /// Whether it is no more than these added up.
    pub adds: bool,
    /// Whether it is the net profit of the form.
    pub is_profit: bool,
    /// Where its rate stands.
    pub source: Option<SourceNote>,
}

/// A line of the bridge, to six digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BridgeSum {
    /// What.
    pub name: String,
    /// How much, with its sign.
    pub amount: Fixed6,
    /// What it is made of: these add up to it. Empty for the last line, the net profit, which the steps before add up to.
    pub parts: Vec<BridgePart>,
}

/// A part of a step of the bridge, to six digits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BridgePart {
    /// What, in words.
    pub says: String,
    /// How much, with the sign that it has in its step.
    pub amount: Fixed6,
    /// Where it is told.
    pub of: BridgeOf,
}

/// Where a part of a step of the bridge is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BridgeOf {
    /// With the line of the form that has this index.
    Line(usize),
    /// With the margins: what sales brought in, less fees and postage.
    Sales,
    /// With the margins: the paid cost of what was sold.
    GoodsSold,
    /// With the margins: packing.
    Packing,
    /// With the cost of goods.
    CostOfGoods,
    /// Nowhere else.
    Itself,
}

/// A part of the cut-off list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutOff {
    /// What it lists.
    pub name: String,
    /// Its rows, in words and figures.
    pub rows: Vec<String>,
    /// What is said where it has no rows.
    pub empty: String,
}

/// What the program can't decide.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// Its stable name, by which `answered` names it.
    pub name: String,
    /// The question, in a sentence.
    pub question: String,
    /// The rule behind it.
    pub rule: String,
    /// Where the rule stands, with its mark.
    pub source: String,
    /// The detail or entry that answers it.
    pub answer_with: String,
    /// The entries concerned.
    pub entries: Vec<Span>,
    /// The answer, where one was given.
    pub answer: Option<String>,
}

/// What a box of the form says, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoxAnswer {
    /// As printed.
    pub number: String,
    /// Its label.
    pub label: String,
    /// What it wants.
    pub says: Says,
    /// The answer.
    pub answer: String,
}

/// A tax year.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TaxYear {
    /// The form's name.
    pub form: String,
    /// The form's title.
    pub form_title: String,
    /// The year.
    pub year: i32,
    /// Whether the form's data is provisional.
    pub provisional: bool,
    /// When an amount counts, on the year's last day.
    pub basis: Basis,
    /// What waits in the goods, on the year's last day.
    pub stock: StockKept,
    /// Whether the sheet is in whole dollars.
    pub whole_dollars: bool,
    /// All lines, in the form's order.
    pub lines: Vec<TaxLine>,
    /// Boxes that want words in place of an amount.
    pub boxes: Vec<BoxAnswer>,
    /// Index of the line that holds the net profit or loss.
    pub net_profit: usize,
    /// Index of the line that holds the cost of goods; none where the form has none.
    pub cost_of_goods_line: Option<usize>,
    /// Part III.
    pub cost_of_goods: CostOfGoods,
    /// Tools.
    pub equipment: Vec<ToolYear>,
    /// Miles.
    pub mileage: Mileage,
    /// Home workshop, where there is one.
    pub home: Option<HomeYear>,
    /// Sales tax by account and quarter, then the year.
    pub sales_tax: Vec<TaxPeriod>,
    /// Self-employment tax; empty where the form has no such schedule.
    pub self_employment: Vec<ScheduleSum>,
    /// From paid margins to the net profit.
    pub bridge: Vec<BridgeSum>,
    /// The cut-off list.
    pub cut_off: Vec<CutOff>,
    /// Questions, answered ones too, by name.
    pub questions: Vec<Question>,
    /// Where the figures that were used come from.
    pub sources: Vec<SourceNote>,
    /// What a reader of the figures must know.
    pub notes: Vec<String>,
}

impl TaxYear {
    /// A line by its number or stable name.
    #[must_use]
    pub fn line(&self, name: &str) -> Option<&TaxLine> {
        self.lines.iter().find(|line| line.number == name || line.name == name)
    }

    /// The net profit or loss, exact to the cent.
    #[must_use]
    pub fn net_cents(&self) -> Fixed6 {
        self.lines.get(self.net_profit).map_or(Fixed6::ZERO, |line| line.cents)
    }

    /// Questions that nothing answers yet.
    pub fn open_questions(&self) -> impl Iterator<Item = &Question> {
        self.questions.iter().filter(|question| question.answer.is_none())
    }
}
