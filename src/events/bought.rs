//! A purchase: its lines, and what is shared over them.
//!
//! Sums are in the book's currency, exact to its digits; freight, tax and discount are shared by the engine.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::events::Settlement;
use crate::names::{BatchId, ExpenseId, LabelId, PatternId, PlaceId, Target, ThingId, ToolId};
use crate::sources::Span;
use crate::units::Fixed6;

/// What a purchase line is.
#[derive(Clone, Debug, PartialEq)]
pub enum BoughtWhat {
    /// Counted goods.
    Stock {
        /// The thing.
        thing: ThingId,
        /// Quantity counted (not billed).
        quantity: Decimal,
        /// Quantity billed, where another was counted.
        billed: Option<Decimal>,
        /// The lot's code.
        lot: Option<LabelId>,
    },
    /// A tool.
    Tool {
        /// Which.
        tool: ToolId,
        /// How many.
        count: Decimal,
    },
    /// Licences of a pattern.
    Licence {
        /// Which.
        pattern: PatternId,
        /// How many.
        count: Decimal,
    },
    /// An expense that is not counted.
    Expense {
        /// Which.
        expense: ExpenseId,
        /// For what.
        on: Option<Target>,
        /// Paid ahead for a later day.
        meant_for: Option<NaiveDate>,
    },
    /// Not the shop's.
    Home,
    /// Straight to a batch.
    Batch(BatchId),
}

/// A line of a purchase.
#[derive(Clone, Debug, PartialEq)]
pub struct BoughtLine {
    /// What it is.
    pub what: BoughtWhat,
    /// Its own value, before freight, discount and tax.
    pub value: Fixed6,
    /// Its measure for sharing freight by quantity or weight, in one dimension for all lines; `None` where that isn't asked for.
    pub measure: Option<Decimal>,
    /// The same for sharing the discount.
    pub discount_measure: Option<Decimal>,
    /// What is said of its price, `at 5.90` or `for 11.50`; empty if nothing.
    pub price: Span,
    /// Certificate, without quotes; empty if none.
    pub certificate: Span,
    /// Memo, without quotes; empty if none.
    pub memo: Span,
    /// The line.
    pub span: Span,
}

/// How freight or a discount is shared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Sharing {
    /// By the lines' own value.
    #[default]
    Value,
    /// By [`BoughtLine::measure`]; the discount by [`BoughtLine::discount_measure`].
    Measure,
}

/// A purchase.
#[derive(Clone, Debug, PartialEq)]
pub struct Bought {
    /// From whom.
    pub supplier: Option<LabelId>,
    /// The receipt.
    pub receipt: Option<LabelId>,
    /// Where the goods come to.
    pub place: PlaceId,
    /// Its lines.
    pub lines: Vec<BoughtLine>,
    /// Freight, and how it is shared.
    pub freight: (Fixed6, Sharing),
    /// Discount as a positive sum, and how it is shared.
    pub discount: (Fixed6, Sharing),
    /// Sales tax, shared by value.
    pub sales_tax: Fixed6,
    /// What the supplier owed and this bill uses (`credit 22.90`).
    pub credit: Fixed6,
    /// How it is settled.
    pub settlement: Settlement,
    /// The goods of a `swapped` entry: no money moves.
    pub swapped: bool,
}

impl Bought {
    /// What the bill comes to: lines, freight and tax less discount. `None` on overflow.
    #[must_use]
    pub fn total(&self) -> Option<Fixed6> {
        let mut sum = Fixed6::ZERO;
        for line in &self.lines {
            sum = sum.checked_add(line.value)?;
        }
        sum.checked_add(self.freight.0)?.checked_add(self.sales_tax)?.checked_sub(self.discount.0)
    }
}
