//! A tax year by the form's lines, with everything that stands behind them, in exact figures.
//!
//! Nothing here is text for a reader but names and questions; the report rounds and writes. Every line that is fed keeps its
//! sums, and every sum its items, so that a figure can be followed to the entries that made it.

mod form_line;
mod goods_of_year;
mod question;
mod schedules;
mod tool_year;
mod travel_and_home;

pub use form_line::{BoxAnswer, Item, Sum, SumOf, TaxLine};
pub use goods_of_year::{CostOfGoods, WentTo};
pub use question::Question;
pub use schedules::{BridgeOf, BridgePart, BridgeSum, CutOff, ScheduleRule, ScheduleSum, TaxPeriod};
pub use tool_year::{ToolGone, ToolLifeYear, ToolStep, ToolYear};
pub use travel_and_home::{HomeFeet, HomeYear, Mileage, MilesAtRate};

use crate::names::{Basis, StockKept};
use crate::units::Fixed6;
use crate::year::SourceNote;

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
