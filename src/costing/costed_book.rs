//! What the engine hands on: every movement of cost, every sum of money by account, and what is left.
//!
//! *Movements* carry cost vectors (what came in, where it went); *postings* carry money of the shop's dealings (revenue, fees,
//! expenses); *bills* say when a dealing was settled. All three name their event and line, so a figure can be followed to its
//! entry. Sums that were split over lines, and all movements, have six digits.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::ledger::Now;
use crate::costing::overhead::OverheadLeft;
use crate::costing::{BatchAccount, CostVector, Issue, Proof, Trace};
use crate::names::{
    BatchId, ChannelId, ExpenseId, HelperId, IncomeId, LabelId, PatternId, PlaceId, StepId, Target, ThingId, ToolId,
};
use crate::sources::Span;
use crate::units::Fixed6;

/// Why cost came into the book's goods, or where it went. The order is that of the proof's line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Flow {
    // -- came in
    /// There when the book began (`opened`), batches on the bench included.
    Opened,
    /// Bought, landed; also straight to a batch, and licences.
    Bought,
    /// The owner's own things put in.
    Contributed,
    /// Own and bought-in time worked in batches.
    Time,
    /// Royalty on good pieces.
    Royalty,
    /// Overhead applied.
    Overhead,
    /// Issued without stock (`short stock is a warning`): from the unrecorded source.
    Unrecorded,
    /// A supplier's credit on goods: lowers what came in, so its vectors are negative.
    Credited,
    /// Back to a supplier: lowers what came in, so its vectors are negative.
    SentBack,
    // -- went to
    /// Sold, net of what came back.
    Sold,
    /// Packing used with an order or a shipment.
    PackingUsed,
    /// Used in the shop, outside a batch (wear of steps included).
    UsedInShop,
    /// Made for the shop: a tool.
    MadeForShop,
    /// Taken home.
    TakenHome,
    /// Given as a sample.
    Sample,
    /// Given as a gift.
    Gift,
    /// Donated.
    Donated,
    /// Scrapped.
    Scrapped,
    /// Missing in a count, net of what was found more (negative vectors).
    Missing,
    /// Abnormal loss of a batch.
    AbnormalLoss,
    /// Cost of goods by which a supplier's refund or credit fell short of what left (negative: went beyond), and corrections of issues that
    /// were made without stock: into cost of goods sold.
    PriceDifference,
}

impl Flow {
    /// Whether cost comes in by it (else it goes out).
    #[must_use]
    pub fn comes_in(self) -> bool {
        self <= Self::SentBack
    }
}

/// One movement of cost into or out of the goods. Moves between places, and from stock to a batch, are none.
#[derive(Clone, Debug, PartialEq)]
pub struct Movement {
    /// The day.
    pub date: NaiveDate,
    /// The event's index in the log.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// Why.
    pub flow: Flow,
    /// The thing that moved; `None` for time, royalty and overhead, and for money straight to a batch.
    pub thing: Option<ThingId>,
    /// How much of it.
    pub quantity: Decimal,
    /// Its cost, with its marks: of goods that were donated, or taken home while stock is kept as supplies, what was in the shop when the
    /// year began.
    pub vector: CostVector,
    /// The batch concerned: worked at, given up, or made for the shop.
    pub batch: Option<BatchId>,
    /// The order's index in [`CostedBook::orders`], for what was sold, returned or packed.
    pub order: Option<u32>,
    /// The channel, line or product that it is for, where the entry says one.
    pub on: Option<Target>,
    /// The purchase's bill, for what was bought; the owed bill of hired time or a royalty.
    pub bill: Option<u32>,
    /// The pieces, in [`CostedBook::trace`], where that is kept.
    pub issue: Issue,
    /// What the entry says it was worth (`gave … worth 42.00`).
    pub worth: Option<Fixed6>,
    /// The part of [`Component::Wear`](crate::costing::Component::Wear) that is freight in: for wear that was bought, which has no freight
    /// component of its own but two lines on a form. Zero elsewhere.
    pub wear_freight: Fixed6,
    /// Whether bought-in time was an employee's (else a contractor's).
    pub by_employee: bool,
}

/// What a sum of money is, from the shop's side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Account {
    /// Goods sold at net price without sales tax, discount already off.
    Goods,
    /// Shipping charged to a buyer.
    ShippingCharged,
    /// Refunds and allowances (a positive sum that lowers revenue).
    Refund,
    /// Income without goods.
    Income(IncomeId),
    /// Fees of a channel.
    Fee,
    /// A consignee's share.
    Commission,
    /// Fees given back (a positive sum).
    FeeBack,
    /// Postage paid for an order or shipment.
    Postage,
    /// An expense.
    Expense(ExpenseId),
    /// Hired hours outside batches.
    HiredTime {
        /// The helper, where defined.
        helper: Option<HelperId>,
        /// Whether an employee.
        employee: bool,
    },
    /// A licence without limit: an expense when bought.
    Licence(PatternId),
    /// Till over (positive) or short (negative).
    TillOver,
    /// Allowance kept of sales tax.
    TaxAllowance,
    /// Paid cost of packing used, split over an order's lines, for margins only: the same sum is in the movements ([`Flow::PackingUsed`]).
    Packing,
}

/// A sum of money in one account.
#[derive(Clone, Debug, PartialEq)]
pub struct Posting {
    /// The day of its entry.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// What it is.
    pub account: Account,
    /// How much. What was split over lines has six digits; the parts sum to the sum that was entered.
    pub money: Fixed6,
    /// The thing of the order's line over which it was split.
    pub thing: Option<ThingId>,
    /// The channel.
    pub channel: Option<ChannelId>,
    /// For what, where the entry says so.
    pub on: Option<Target>,
    /// The order's index, for what belongs to one.
    pub order: Option<u32>,
    /// The bill by which it is settled; `None`: settled on its own day. A refund has its order's bill where it lowers what the buyer still
    /// owes, and none where it was paid out. A fee fixed by a deposit has none.
    pub bill: Option<u32>,
    /// The day it is meant for, where it was paid ahead.
    pub meant_for: Option<NaiveDate>,
}

impl Posting {
    /// The day to which it belongs under accrual, in margins and as overhead: the later day it is meant for, or else its own.
    #[must_use]
    pub fn belongs_to(&self) -> NaiveDate {
        self.meant_for.map_or(self.date, |day| day.max(self.date))
    }
}

/// Who owes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants say it")]
pub enum BillKind {
    OwedByUs,
    OwedToUs,
}

/// What is owed, and when it was settled.
#[derive(Clone, Debug, PartialEq)]
pub struct Bill {
    /// Who owes.
    pub kind: BillKind,
    /// Supplier, payee, helper, or the buyer whom the sale names.
    pub party: Option<LabelId>,
    /// The pattern whose royalty is owed.
    pub pattern: Option<PatternId>,
    /// The channel of a sale.
    pub channel: Option<ChannelId>,
    /// Receipt or order.
    pub reference: Option<LabelId>,
    /// The day it arose.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The entry's head.
    pub line: Span,
    /// What was owed at first.
    pub total: Fixed6,
    /// What was paid, and when (in the order of the days). Fees and shares kept by a channel count with the payment they are taken from.
    pub paid: Vec<(NaiveDate, Fixed6)>,
    /// From when the money could be had.
    pub available: Option<NaiveDate>,
    /// Whether it was owed before the book began.
    pub opened: bool,
}

impl Bill {
    /// Something that is owed from now on, and of which nothing is paid: by or to nobody who is named, until it is said.
    pub(crate) fn new(kind: BillKind, now: Now, total: Fixed6) -> Self {
        Self {
            kind,
            party: None,
            pattern: None,
            channel: None,
            reference: None,
            date: now.date,
            event: now.event,
            line: now.head,
            total,
            paid: Vec::new(),
            available: None,
            opened: false,
        }
    }

    /// What is still owed after all payments up to a day. `None` on overflow.
    #[must_use]
    pub fn open_on(&self, day: NaiveDate) -> Option<Fixed6> {
        let mut open = self.total;
        for (paid_on, money) in &self.paid {
            if *paid_on <= day {
                open = open.checked_sub(*money)?;
            }
        }
        Some(open)
    }
}

/// Goods of one lot within a sold line.
#[derive(Clone, Debug, PartialEq)]
pub struct Pieces {
    /// The lot they came from.
    pub lot: LotOrigin,
    /// How many.
    pub quantity: Decimal,
    /// Their cost.
    pub vector: CostVector,
}

/// Where a lot came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LotOrigin {
    /// Its day: by this it is older or younger. Goods that return keep it.
    pub date: NaiveDate,
    /// Its number in the order of arrival.
    pub number: u32,
    /// Its code, or its batch's name.
    pub code: Option<LabelId>,
    /// The batch that made it.
    pub batch: Option<BatchId>,
    /// The event that brought it.
    pub event: u32,
}

/// A line of an order.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderLine {
    /// The day.
    pub date: NaiveDate,
    /// The line.
    pub span: Span,
    /// The thing.
    pub thing: ThingId,
    /// How many.
    pub quantity: Decimal,
    /// Its value at the prices of the order, sales tax within it included.
    pub value: Fixed6,
    /// Its goods that have not come back, lot by lot, in the order in which they left; none where neither a report nor a return asks for them.
    pub pieces: Vec<Pieces>,
    /// How many came back.
    pub returned: Decimal,
}

/// An order: one or more `sold` entries of one name, or one without a name.
#[derive(Clone, Debug, PartialEq)]
pub struct OrderAccount {
    /// Its name.
    pub order: Option<LabelId>,
    /// The channel; `None` for a swap.
    pub channel: Option<ChannelId>,
    /// The buyer.
    pub buyer: Option<LabelId>,
    /// The first day.
    pub date: NaiveDate,
    /// The first entry's head.
    pub head: Span,
    /// Its goods.
    pub lines: Vec<OrderLine>,
    /// Its bill.
    pub bill: Option<u32>,
}

/// A lot on hand.
#[derive(Clone, Debug, PartialEq)]
pub struct StockLot {
    /// The thing.
    pub thing: ThingId,
    /// Where it is.
    pub place: PlaceId,
    /// Where it came from.
    pub origin: LotOrigin,
    /// How much.
    pub quantity: Decimal,
    /// Its cost (under average, its part of the pool by largest remainder).
    pub vector: CostVector,
}

/// A tool of the shop.
#[derive(Clone, Debug, PartialEq)]
pub struct ToolAccount {
    /// Which.
    pub tool: ToolId,
    /// The day it came.
    pub date: NaiveDate,
    /// How it came.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// How many.
    pub count: Decimal,
    /// Landed cost, or the batch's paid cost.
    pub cost: Fixed6,
    /// Recovered before the book began.
    pub already_recovered: Fixed6,
    /// How it came to the shop.
    pub came: ToolCame,
    /// Its bill, where bought.
    pub bill: Option<u32>,
    /// The day it left and what it fetched.
    pub retired: Option<(NaiveDate, Fixed6)>,
}

/// How a tool came to the shop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the verbs")]
pub enum ToolCame {
    Opened,
    Bought,
    Contributed,
    Made,
}

/// Hours outside batches.
#[derive(Clone, Debug, PartialEq)]
pub struct HourItem {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// The step.
    pub step: StepId,
    /// Minutes.
    pub minutes: Fixed6,
    /// Whether the owner's.
    pub own: bool,
    /// For what; `None`: general.
    pub on: Option<Target>,
}

/// Miles driven.
#[derive(Clone, Debug, PartialEq)]
pub struct MileItem {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// Miles.
    pub miles: Decimal,
    /// For what.
    pub on: Option<Target>,
    /// What for, in words.
    pub memo: Span,
}

/// What happened to a sales tax account.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum TaxFlow {
    /// Collected by the shop.
    Collected,
    /// Given back to buyers.
    Refunded,
    /// Paid over.
    PaidOver,
    /// Allowance kept.
    Allowed,
    /// Collected by a channel: a memo.
    ByChannel,
}

/// A sum on a sales tax account.
#[derive(Clone, Debug, PartialEq)]
pub struct TaxItem {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// Whose; `None` for the shop's own.
    pub to: Option<LabelId>,
    /// What.
    pub flow: TaxFlow,
    /// How much.
    pub money: Fixed6,
    /// The bill of the sale that it belongs to.
    pub bill: Option<u32>,
}

/// Money that came before its order's sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Deposit {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
    /// The order.
    pub order: LabelId,
    /// What reached the shop.
    pub money: Fixed6,
    /// The channel's fee on it, where it came `via` a channel.
    pub fee: Fixed6,
    /// Whether the sale has come by now (its bill then holds the payment).
    pub used: bool,
    /// Where it was handed back to the buyer.
    pub handed_back: Option<HandedBack>,
}

impl Deposit {
    /// What the buyer paid: what reached the shop and the channel's fee. `None` on overflow.
    #[must_use]
    pub fn from_buyer(&self) -> Option<Fixed6> {
        self.money.checked_add(self.fee)
    }
}

/// How a deposit was handed back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HandedBack {
    /// The day.
    pub date: NaiveDate,
    /// The event's index.
    pub event: u32,
    /// The line.
    pub line: Span,
}

/// Licences that permit pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct LicenceLot {
    /// The pattern.
    pub pattern: PatternId,
    /// The day it was bought.
    pub date: NaiveDate,
    /// Pieces still permitted.
    pub left: Decimal,
    /// Cost of those: royalty alone.
    pub vector: CostVector,
}

/// What is on hand and open at the end of a year, for the form.
#[derive(Clone, Debug, PartialEq)]
pub struct YearEnd {
    /// The year.
    pub year: i32,
    /// Cost on the shelf and at other places, by class and component: materials class, wear class, packing class, products.
    pub shelf: [CostVector; 4],
    /// Cost on the bench.
    pub bench: CostVector,
    /// Paid cost on the bench by batch; a batch without is not listed.
    pub bench_of: Vec<(BatchId, Fixed6)>,
    /// Cost of unused limited licences.
    pub licences: CostVector,
    /// Cost of issues still without a record.
    pub unrecorded: CostVector,
    /// What was on hand, where a book that names a tax form goes on after the year; see [`CostedBook::stock_at_end_of`].
    pub stock: Vec<StockLot>,
}

/// A book's costs.
#[derive(Clone, Debug)]
pub struct CostedBook {
    /// The last day that was costed; `None` for an empty book.
    pub until: Option<NaiveDate>,
    /// Movements in the order in which they happened.
    pub movements: Vec<Movement>,
    /// Postings in the order in which they happened.
    pub postings: Vec<Posting>,
    /// Bills.
    pub bills: Vec<Bill>,
    /// Batches, by [`BatchId`].
    pub batches: Vec<BatchAccount>,
    /// Orders.
    pub orders: Vec<OrderAccount>,
    /// What is on hand, by thing, place and age; nothing where [`CostOptions::keep_stock`](crate::costing::CostOptions) says no.
    pub stock: Vec<StockLot>,
    /// Tools.
    pub tools: Vec<ToolAccount>,
    /// Hours outside batches.
    pub hours: Vec<HourItem>,
    /// Miles.
    pub miles: Vec<MileItem>,
    /// Odometer readings.
    pub odometer: Vec<(NaiveDate, Decimal)>,
    /// Sales tax.
    pub taxes: Vec<TaxItem>,
    /// Deposits.
    pub deposits: Vec<Deposit>,
    /// Licences with pieces left.
    pub licences: Vec<LicenceLot>,
    /// Figures at the end of each year of the book.
    pub year_ends: Vec<YearEnd>,
    /// Last count of each place.
    pub last_counts: Vec<(PlaceId, NaiveDate)>,
    /// What channels said of a year: year, from whom, gross, event.
    pub statements: Vec<(i32, LabelId, Fixed6, u32)>,
    /// The proof.
    pub proof: Proof,
    /// Whether the costs are marked by what is not paid at the ends of years ([`cost_book_marked`](crate::costing::cost_book_marked)), or it
    /// was seen that there is nothing to mark.
    pub marked: bool,
    /// What made each lot and each issue, where it was asked for.
    pub trace: Option<Trace>,
    /// Each year's actual overhead and direct minutes, where overhead comes from expenses on some day.
    pub(crate) overhead: BTreeMap<i32, OverheadLeft>,
}

impl CostedBook {
    /// The end of a year, or of the last before it that the book knows; `None` before its first.
    #[must_use]
    pub fn end_of(&self, year: i32) -> Option<&YearEnd> {
        self.year_ends.iter().rev().find(|end| end.year <= year)
    }

    /// What was on hand at the end of a year. Only a book that names a tax form, costed with its stock, knows it of years before its last.
    #[must_use]
    pub fn stock_at_end_of(&self, year: i32) -> &[StockLot] {
        match (self.end_of(year), self.year_ends.last()) {
            (Some(end), Some(last)) if end.year < last.year => &end.stock,
            (Some(_), _) => &self.stock,
            (None, _) => &[],
        }
    }
}
