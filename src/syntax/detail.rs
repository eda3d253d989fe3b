//! A line of a block: what its words say, with figures read and names kept as spans.
//!
//! One enum serves definitions and entries, since `changed` takes the lines of a definition. A money line is told from an item
//! by what follows its number. Texts are without their quotes.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::sources::Span;
use crate::syntax::{Amount, Item, Party, Said};

/// A line of a block.
#[derive(Clone, Debug, PartialEq)]
pub struct Detail {
    /// The line, without indentation, comment and line break.
    pub span: Span,
    /// What it says.
    pub kind: DetailKind,
    /// The memo in quotes at its end; empty where there is none.
    pub memo: Span,
}

/// The word before a list of items.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the words of the language; `Bare` is a list without a word")]
pub enum ListWord {
    Bare,
    Used,
    Took,
    Made,
    Lost,
    Kept,
    AimsAt,
    PackedWith,
    Gave,
    Got,
    Needs,
    Takes,
    Wears,
}

/// What a sum of money is for.
#[derive(Clone, Debug, PartialEq)]
pub enum Purpose {
    /// `for NAME`: an expense, income, helper or pattern.
    For(Span),
    /// `for home`.
    ForHome,
    /// `on batch CODE` (`on CODE` is read so too).
    OnBatch(Span),
    /// `owed by NAME [for order|receipt "…"]`.
    OwedBy(Party, Option<Reference>),
    /// `owed to NAME [for receipt|order "…"]`.
    OwedTo(Party, Option<Reference>),
    /// `for receipt "…"`, `for order "…"`, `for orders "…", "…"`, `for bought DATE`.
    Settles(Vec<Reference>),
    /// `for sales-tax [to NAME] [, allowed MONEY]`.
    SalesTax {
        /// Whose tax; `None` for the shop's own.
        to: Option<Span>,
        /// The allowance kept.
        allowed: Option<Decimal>,
    },
    /// `off NAME`: a credit on a thing.
    Off(Span),
}

/// What a payment settles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reference {
    /// A supplier's receipt.
    Receipt(Span),
    /// An order.
    Order(Span),
    /// A purchase without a number, by its day.
    Bought(NaiveDate, Span),
    /// A sale without an order, by its day.
    Sold(NaiveDate, Span),
}

/// Money, or a part of a hundred.
#[derive(Clone, Copy, Debug, PartialEq)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum Figure {
    Money(Decimal),
    Percent(Decimal),
}

/// A detail that is one word and one sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum MoneyWord {
    Total,
    Settled,
    Postage,
    Fee,
    ExtraFee,
    FeeBack,
    Cash,
    Card,
    Check,
    Over,
    Short,
    Credit,
    Refunded,
    Gross,
    Net,
    Price,
    WagesElsewhere,
}

/// A detail that is words alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum Plain {
    Unpaid,
    NothingElse,
    MadeNothing,
    UsedAsPlanned,
    TookAsPlanned,
    SharedByPrice,
    SharedByCount,
    CostingFifo,
    CostingAverage,
    OverheadFromExpenses,
    CashBasis,
    AccrualBasis,
    StockAsInventory,
    StockAsSupplies,
    WholeDollars,
    Cents,
    ShortStockError,
    ShortStockWarning,
    Home,
    Indirect,
    TalliedExactly,
    TalliedBySurfaceMeasure,
    AsWear,
    AsPacking,
    Contractor,
    Employee,
    PaidLater,
    PaysLater,
    SalesTaxCollectedByChannel,
    CountsAsOverhead,
    CountsAsHouseCost,
    ExpensedAtOnce,
    NoBonus,
    MidQuarter,
    DeMinimisElected,
}

/// How freight or a discount is shared over the lines of a purchase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum SharedBy {
    Value,
    Quantity,
    Weight,
}

/// Of what a channel's fee is a part, or how often it is charged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum FeeBase {
    Total,
    Goods,
    Card,
    PerSale,
    PerItem,
}

/// What a line says.
#[derive(Clone, Debug, PartialEq)]
pub enum DetailKind {
    /// A list of items, with or without a word before it. `wears 1 blade-no7 per 40 min` is a list of one with `Per`.
    Items(ListWord, Vec<Item>),
    /// `MONEY for …`, `MONEY on batch …`, `MONEY owed …`, `MONEY off …`, with `on`, `meant for`, `by` … said of it.
    Money {
        /// The sum.
        money: Decimal,
        /// Where the sum stands.
        money_span: Span,
        /// What it is for.
        purpose: Box<Purpose>,
        /// What else is said (`on craft-fair`, `meant for DATE`).
        said: Vec<Said>,
    },
    /// A word and a sum.
    Sum(MoneyWord, Decimal, Span),
    /// Words alone.
    Plain(Plain),
    /// `freight MONEY [shared by …]` and `shipping MONEY`, which are one word in `bought`.
    Freight {
        /// Whether the word was `shipping`.
        shipping: bool,
        /// The sum.
        money: Decimal,
        /// How it is shared.
        shared: Option<SharedBy>,
    },
    /// `discount MONEY`, `discount N%`, with `shared by …`.
    Discount(Figure, Option<SharedBy>),
    /// `sales-tax MONEY [to NAME]`, `sales-tax N% included`.
    SalesTax {
        /// The sum, or the part within the prices.
        figure: Figure,
        /// Whose tax.
        to: Option<Span>,
    },
    /// `paid MONEY on DATE`, `paid DATE`, `paid MONEY`, `paid`.
    Paid {
        /// The sum; `None` for all the rest.
        money: Option<Decimal>,
        /// The day; `None` for the entry's own.
        date: Option<NaiveDate>,
    },
    /// `available DATE`.
    Available(NaiveDate),
    /// `to NAME|"…"` in `sold`.
    To(Party),
    /// `note "…"`.
    Note(Span),
    /// `file "…"`.
    File(Span),
    /// `expected "…"`: what was warned of is meant.
    Expected(Span),
    /// `receipt "…"` as a detail.
    Receipt(Span),
    /// `seal "…"`.
    Seal(Span),
    /// `1 EUR = 1.0842`.
    ExchangeRate {
        /// The foreign currency's code.
        currency: Span,
        /// The book's money for one of it.
        rate: Decimal,
    },
    /// `currency USD`.
    Currency(Span),
    /// `owner time MONEY per h`.
    OwnerTime(Decimal),
    /// `overhead MONEY per h`.
    OverheadRate(Decimal),
    /// `tax form NAME`.
    TaxForm(Span),
    /// `sales-tax to NAME` in `shop`.
    SalesTaxTo(Span),
    /// `home workshop 200 sq ft, simplified` or `home workshop 12% of house costs`, with `from DATE`.
    HomeWorkshop {
        /// Area for the simplified method.
        area: Option<Amount>,
        /// Part of the house costs.
        percent: Option<Decimal>,
        /// From when.
        from: Option<NaiveDate>,
    },
    /// `hours N per week`.
    HoursPerWeek(Decimal),
    /// `measured in UNIT`, the unit's words.
    MeasuredIn(Span),
    /// `reorder at AMOUNT`.
    ReorderAt(Amount),
    /// `from NAME` in `material`.
    FromMaterial(Span),
    /// `1 UNIT = AMOUNT`.
    Conversion {
        /// The unit or pack on the left (its number is 1).
        unit: Span,
        /// What it holds.
        holds: Amount,
    },
    /// `line NAME`.
    Line(Span),
    /// `pattern NAME`.
    Pattern(Span),
    /// `for children from N years|months`.
    ForChildren {
        /// The youngest age, in months.
        from_months: u32,
    },
    /// `allows N ea for sale`.
    Allows(Amount),
    /// `royalty MONEY per ea`.
    Royalty(Decimal),
    /// `costs MONEY per h`.
    Costs(Decimal),
    /// `fee N% of …`, `fee MONEY per sale|item`.
    Fee(Figure, FeeBase),
    /// `prices include sales-tax N%`.
    PricesInclude(Decimal),
    /// `consignment N%`.
    Consignment(Decimal),
    /// `wholesale N%`.
    Wholesale(Decimal),
    /// `form line WORD`.
    FormLine(Span),
    /// `business use N%`.
    BusinessUse(Decimal),
    /// `in use from DATE`.
    InUseFrom(NaiveDate),
    /// `recovered over N years`.
    RecoveredOver(Decimal),
    /// `expensed under section 179 [MONEY]`.
    Section179(Option<Decimal>),
    /// `lasts N years`.
    Lasts(Decimal),
}
