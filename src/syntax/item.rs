//! An item of a list: an amount, the name of a thing, sizes, and what else is said of it.
//!
//! The same form serves stock (`31.5 bf red-oak at 5.90`), time (`45m sanding on PC-014`) and recipes
//! (`1 sheet baltic-6 per 18 ea`); which of its parts may stand where is the placement table's matter.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::sources::Span;
use crate::syntax::Party;

/// A number, with or without a unit, or a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amount {
    /// The number as written, exactly; minutes for a time.
    pub value: Decimal,
    /// What kind of figure it is.
    pub kind: AmountKind,
    /// Number and unit.
    pub span: Span,
}

/// What kind of figure an [`Amount`] is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AmountKind {
    /// No unit: `9 cutting-board`.
    Count {
        /// Whether it was written without a point or fraction.
        whole: bool,
    },
    /// With a unit or a pack, as written: `bf`, `sq ft`, `bags`, `boards`.
    Measured {
        /// The unit's words.
        unit: Span,
    },
    /// A time: `1h 48m`, `40 min`; `value` is in minutes.
    Time,
}

/// One side of a board or sheet, in its own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// The number as written (`6 1/2` is 6.5, `4/4` is 1).
    pub value: Decimal,
    /// Whether it is in quarters of an inch (`5/4`).
    pub quarters: bool,
    /// The unit beside it; `None` where the last side's unit serves.
    pub unit: Option<Span>,
    /// Where it stands.
    pub span: Span,
}

/// `T x W x L` or `W x L`, in the order as written.
#[derive(Clone, Debug, PartialEq)]
pub struct Sizes {
    /// Two or three sides.
    pub sides: Vec<Side>,
    /// Where they stand.
    pub span: Span,
}

/// An item of a list.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The whole item.
    pub span: Span,
    /// How much.
    pub amount: Amount,
    /// Of what; empty where no name follows (`took 2h`).
    pub name: Span,
    /// Whether the word `licence` stands between the number and the name.
    pub licence: bool,
    /// What else is said of it.
    pub said: Vec<Said>,
    /// Sizes, where they are given.
    pub sizes: Option<Box<Sizes>>,
}

/// Something said of an item, with its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Said {
    /// What is said.
    pub what: SaidWhat,
    /// Where.
    pub span: Span,
}

/// What may be said of an item.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SaidWhat {
    /// `at MONEY`, per unit of the quantity.
    At(Decimal),
    /// `at MONEY per UNIT`; the unit's words (`at 18.00 per h`, `at 11.20 per bf`).
    AtPer(Decimal, Span),
    /// `for MONEY`, the whole line.
    For(Decimal),
    /// `lot CODE`.
    Lot(Span),
    /// `share N`.
    Share(Decimal),
    /// `worth MONEY`.
    Worth(Decimal),
    /// `refunded MONEY`.
    Refunded {
        /// The money.
        money: Decimal,
        /// Whether `as credit` follows.
        as_credit: bool,
    },
    /// `by NAME`.
    By(Party),
    /// `on NAME` (a batch, line, product or channel).
    On(Span),
    /// `per N UNIT` (`per 18 ea`, `per 40 min`); minutes for a time.
    Per(Amount),
    /// `certificate "…"`, without quotes.
    Certificate(Span),
    /// `counted N UNIT`.
    Counted(Amount),
    /// `meant for DATE`.
    MeantFor(NaiveDate),
    /// A time after a comma: `, 6h`, in minutes.
    Hours(Decimal),
    /// `N back`.
    Back(Decimal),
    /// `charged off`.
    ChargedOff,
    /// `back to stock`.
    BackToStock,
    /// `scrapped`.
    Scrapped,
    /// `left with buyer`.
    LeftWithBuyer,
    /// `already recovered MONEY`.
    AlreadyRecovered(Decimal),
    /// `the rest N%`.
    TheRest(Decimal),
    /// `as planned`.
    AsPlanned,
}
