//! What the engine hands on: every movement of cost, every sum of money by account, and what is left.
//!
//! *Movements* carry cost vectors (what came in, where it went); *postings* carry money of the shop's dealings (revenue, fees,
//! expenses); *bills* say when a dealing was settled. All three name their event and line, so a figure can be followed to its
//! entry.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::overhead::OverheadLeft;
use crate::costing::{BatchAccount, Bill, CostVector, Deposit, Links, Movement, Posting, Proof, Trace};
use crate::names::{BatchId, ChannelId, LabelId, PatternId, PlaceId, StepId, Target, ThingId, ToolId};
use crate::sources::Span;
use crate::units::Fixed6;

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
    /// The same less its part of the discount.
    pub brought: Fixed6,
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
    /// How many: one, but for those of a line that is too long or not in whole numbers.
    pub count: Decimal,
    /// Which of its line it is, from 0, and how many accounts the line has.
    pub of_line: (u32, u32),
    /// Its part of the line's landed cost, or of the batch's paid cost.
    pub cost: Fixed6,
    /// Its part of what was recovered before the book began.
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
    /// The index of the sale that it was collected with, or goes back of; `None` of what is paid over.
    pub order: Option<u32>,
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
    /// By how much the paid cost of pieces that licences still permit rose or fell on a day, in the order of the entries.
    pub licence_changes: Vec<(NaiveDate, Fixed6)>,
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
    /// Where the pieces of each lot went, without their costs, where that was asked for in place of the trace.
    pub links: Option<Links>,
    /// Each year's actual overhead and direct minutes, where overhead comes from expenses on some day; for the marking, so a marked book has none.
    pub(crate) overhead: BTreeMap<i32, OverheadLeft>,
}

impl CostedBook {
    /// The end of a year, or of the last before it that the book knows; `None` before its first.
    #[must_use]
    pub fn end_of(&self, year: i32) -> Option<&YearEnd> {
        self.year_ends.iter().rev().find(|end| end.year <= year)
    }

    /// Every lot that ever came, in the order of arrival, with its thing; none where neither the trace nor the links are kept.
    pub fn lots_made(&self) -> impl Iterator<Item = (ThingId, LotOrigin)> {
        let traced = self.trace.iter().flat_map(|trace| trace.lots.iter().map(|lot| (lot.thing, lot.origin)));
        traced.chain(self.links.iter().flat_map(|links| links.lots.iter().map(|lot| (lot.thing, lot.origin))))
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
