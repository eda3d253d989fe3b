//! What happened, ready for the engine: names as ids, quantities in the thing's own unit, money in the book's currency.
//!
//! Money that was entered, or that is owed to somebody, is exact to the currency's digits. Prices, recipes' figures and rates of
//! the day have been looked up where they depend on nothing but the date; what depends on stock or on a batch's past is left
//! to the engine.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::events::{
    BatchWork, Bought, Counted, Credited, Left, Moved, Opened, Paid, Received, Returned, SentBack, Sold, TimeLine,
};
use crate::names::{BatchId, LabelId, Target, ToolId};
use crate::sources::Span;
use crate::syntax::Verb;
use crate::units::Fixed6;

/// One thing that happened on one day.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// The day.
    pub date: NaiveDate,
    /// The entry's verb.
    pub verb: Verb,
    /// The entry's head line.
    pub head: Span,
    /// The whole entry.
    pub span: Span,
    /// What happened.
    pub kind: EventKind,
}

/// What happened. Kinds that are large are boxed.
#[derive(Clone, Debug, PartialEq)]
pub enum EventKind {
    /// What was there when the book began, or was put in (`contributed`), or found (at no cost).
    Opened(Box<Opened>),
    /// A purchase.
    Bought(Box<Bought>),
    /// A payment made.
    Paid(Box<Paid>),
    /// A batch was worked at.
    Batch(Box<BatchWork>),
    /// Hours outside a `built` entry.
    Worked(Vec<TimeLine>),
    /// A sale.
    Sold(Box<Sold>),
    /// Money received.
    Received(Box<Received>),
    /// Goods moved between places (`sent`, `brought-back`).
    Moved(Box<Moved>),
    /// Goods or money back to a buyer.
    Returned(Box<Returned>),
    /// Goods back to a supplier.
    SentBack(Box<SentBack>),
    /// A supplier's credit on goods.
    Credited(Box<Credited>),
    /// A count.
    Counted(Box<Counted>),
    /// Goods that left without a sale.
    Left(Box<Left>),
    /// A batch was given up.
    GaveUp(BatchId),
    /// Miles.
    Drove {
        /// Miles.
        miles: Decimal,
        /// For what.
        on: Option<Target>,
        /// What for, in words.
        memo: Span,
    },
    /// An odometer's reading, in miles.
    Odometer(Decimal),
    /// A tool was sold or thrown out.
    Retired {
        /// The tool.
        tool: ToolId,
        /// What it fetched.
        proceeds: Fixed6,
    },
    /// What a channel's statement says of a year.
    Statement {
        /// The year.
        year: i32,
        /// From whom.
        from: LabelId,
        /// Gross.
        gross: Fixed6,
    },
    /// Words without effect on a figure.
    Noted,
    /// An answer to an open question.
    Answered {
        /// The question's name.
        question: Span,
        /// The answer.
        answer: Span,
    },
    /// A closed year.
    Closed {
        /// The year.
        year: i32,
        /// The net profit that was closed with.
        net: Option<Fixed6>,
        /// The seal.
        seal: Span,
    },
}

impl EventKind {
    /// Gives back the room that its lists took while they grew: a book has hundreds of thousands of them.
    pub(crate) fn shrink_to_fit(&mut self) {
        match self {
            Self::Bought(bought) => {
                bought.lines.shrink_to_fit();
                bought.settlement.payments.shrink_to_fit();
            }
            Self::Batch(work) => {
                work.used.shrink_to_fit();
                work.took.shrink_to_fit();
                work.made.shrink_to_fit();
            }
            Self::Worked(lines) => lines.shrink_to_fit(),
            Self::Sold(sold) => {
                sold.lines.shrink_to_fit();
                sold.incomes.shrink_to_fit();
                sold.taxes.shrink_to_fit();
                sold.packing.shrink_to_fit();
                sold.settlement.payments.shrink_to_fit();
            }
            _ => {}
        }
    }
}

/// A payment on a day. `money` is `None` for all that is still owed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Payment {
    /// How much.
    pub money: Option<Fixed6>,
    /// When.
    pub date: NaiveDate,
    /// The line.
    pub span: Span,
}

/// How an entry's sum is settled.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Settlement {
    /// Payments written in the entry, in the order of their days. Where nothing was written and nothing says that it is owed, one
    /// payment of the rest on the entry's day stands here, so an empty list means owed.
    pub payments: Vec<Payment>,
    /// `available DATE`: from when the money could be had.
    pub available: Option<NaiveDate>,
    /// Whether a line `unpaid` says that it is owed.
    pub said_unpaid: bool,
}
