//! What happened, ready for the engine: names as ids, quantities in the thing's own unit, money in the book's currency.
//!
//! Money that was entered, or that is owed to somebody, is exact to the currency's digits. Prices, recipes' figures and rates of
//! the day have been looked up where they depend on nothing but the date; what depends on stock or on a batch's past is left
//! to the engine.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::names::{
    BatchId, ChannelId, ExpenseId, HelperId, IncomeId, LabelId, PatternId, PlaceId, StepId, Target, ThingId, ToolId,
};
use crate::sources::Span;
use crate::syntax::{GaveAs, Verb};
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
}

/// `opened`, `contributed`, `found`.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// Which of the three.
    pub how: OpenedHow,
    /// Where the goods are.
    pub place: PlaceId,
    /// Goods.
    pub lines: Vec<OpenedLine>,
    /// Tools.
    pub tools: Vec<OpenedTool>,
    /// Money on batches that were on the bench.
    pub on_batches: Vec<(BatchId, Fixed6, Span)>,
    /// Money owed by buyers and channels.
    pub owed_by: Vec<OpenDebt>,
    /// Money owed to suppliers and helpers.
    pub owed_to: Vec<OpenDebt>,
}

/// How goods came without being bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the verbs")]
pub enum OpenedHow { Opened, Contributed, Found }

/// Goods that were there, put in, or found.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenedLine {
    /// The thing.
    pub thing: ThingId,
    /// How much.
    pub quantity: Decimal,
    /// Paid cost, all of it materials; zero for `found`.
    pub value: Fixed6,
    /// Own minutes in it, where they were said.
    pub minutes: Option<Fixed6>,
    /// The lot's code.
    pub lot: Option<LabelId>,
    /// Certificate, without quotes; empty if none.
    pub certificate: Span,
    /// The line.
    pub span: Span,
}

/// A tool that was there, or was put in.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenedTool {
    /// The tool.
    pub tool: ToolId,
    /// How many.
    pub count: Decimal,
    /// Its cost.
    pub value: Fixed6,
    /// Recovered in earlier years.
    pub already_recovered: Fixed6,
    /// The line.
    pub span: Span,
}

/// An open debt when the book began.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenDebt {
    /// Who.
    pub party: LabelId,
    /// The defined helper that is owed to, where the party is one.
    pub helper: Option<HelperId>,
    /// The pattern whose royalty is owed, where the party is one.
    pub pattern: Option<PatternId>,
    /// How much.
    pub money: Fixed6,
    /// The receipt's or order's name.
    pub reference: Option<LabelId>,
    /// The line.
    pub span: Span,
}

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

/// What a payment is for.
#[derive(Clone, Debug, PartialEq)]
pub enum PaidFor {
    /// An expense.
    Expense {
        /// Which.
        expense: ExpenseId,
        /// For what.
        on: Option<Target>,
        /// Paid ahead for a later day.
        meant_for: Option<NaiveDate>,
    },
    /// A receipt of the supplier in the head.
    Receipt(LabelId),
    /// A purchase without a number, by its day.
    BoughtOn(NaiveDate),
    /// Sales tax paid over, with the allowance kept.
    SalesTax {
        /// Whose; `None` for the shop's own account.
        to: Option<LabelId>,
        /// The allowance.
        allowed: Fixed6,
    },
    /// Hired time owed, to a defined helper or a name.
    Helper {
        /// The helper, where defined.
        helper: Option<HelperId>,
        /// The name.
        name: LabelId,
    },
    /// Royalty owed for a pattern.
    Royalty(PatternId),
}

/// A line of a payment.
#[derive(Clone, Debug, PartialEq)]
pub struct PaidLine {
    /// How much.
    pub money: Fixed6,
    /// What for.
    pub what: PaidFor,
    /// Memo, without quotes.
    pub memo: Span,
    /// The line.
    pub span: Span,
}

/// A payment made (`paid`).
#[derive(Clone, Debug, PartialEq)]
pub struct Paid {
    /// To whom.
    pub to: LabelId,
    /// The receipt in its head.
    pub receipt: Option<LabelId>,
    /// Its lines.
    pub lines: Vec<PaidLine>,
    /// How it is settled (an expense may be billed now and paid later).
    pub settlement: Settlement,
}

/// Goods of a line, from a lot if one is named.
#[derive(Clone, Debug, PartialEq)]
pub struct StockLine {
    /// The thing.
    pub thing: ThingId,
    /// How much.
    pub quantity: Decimal,
    /// The named lot (a lot's code or a batch's name).
    pub lot: Option<LabelId>,
    /// Memo, without quotes.
    pub memo: Span,
    /// The line.
    pub span: Span,
}

/// Who worked, and what the work costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Worker {
    /// The owner, at the owner's rate of the day (full view only); `None` where the shop states none.
    Owner(Option<Decimal>),
    /// Hired.
    Hired {
        /// The helper, where defined.
        helper: Option<HelperId>,
        /// The name.
        name: LabelId,
        /// What is owed for this line, to the currency's digits.
        pay: Fixed6,
        /// Whether it is owed until paid.
        paid_later: bool,
        /// Whether an employee.
        employee: bool,
    },
}

/// Time worked.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeLine {
    /// Minutes.
    pub minutes: Fixed6,
    /// At what.
    pub step: StepId,
    /// By whom.
    pub worker: Worker,
    /// On what, in `worked`; `None` in a batch entry and for general work. `on PRODUCT` has been looked up: its one open batch,
    /// else the product itself.
    pub on: Option<Target>,
    /// The line.
    pub span: Span,
}

/// What a batch makes, loses or aims at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Output {
    /// A product or material.
    Thing(ThingId),
    /// A tool.
    Tool(ToolId),
}

/// Good pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct MadeLine {
    /// What.
    pub what: Output,
    /// How many.
    pub quantity: Decimal,
    /// Weight of a piece where `share` is said.
    pub share: Option<Decimal>,
    /// How far the rest is worked, in parts of a hundred; 100 where not said.
    pub rest_worked: Decimal,
    /// Whether the list price is known on that day, for `shared by price`.
    pub list_price: Option<Decimal>,
    /// The line.
    pub span: Span,
}

/// Pieces lost.
#[derive(Clone, Debug, PartialEq)]
pub struct LostLine {
    /// What.
    pub what: Output,
    /// How many.
    pub quantity: Decimal,
    /// Whether charged off: a named loss; else the good pieces bear it.
    pub charged_off: bool,
    /// Memo, without quotes.
    pub memo: Span,
    /// The line.
    pub span: Span,
}

/// Material kept for later.
#[derive(Clone, Debug, PartialEq)]
pub struct KeptLine {
    /// What.
    pub thing: ThingId,
    /// How much.
    pub quantity: Decimal,
    /// What it is worth, for the whole line; zero where not said.
    pub worth: Fixed6,
    /// The line.
    pub span: Span,
}

/// How several outputs share a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum OutputSharing { BySharesOrSingle, ByPrice, ByCount }

/// A `built`, `started`, `continued` or `finished` entry.
#[derive(Clone, Debug, PartialEq)]
pub struct BatchWork {
    /// The batch.
    pub batch: BatchId,
    /// Where its goods come from and go to.
    pub place: PlaceId,
    /// What it aims at (`started`).
    pub aims: Vec<(Output, Decimal, Span)>,
    /// What was used.
    pub used: Vec<StockLine>,
    /// `used as planned` or `made … as planned`; the line.
    pub used_as_planned: Option<Span>,
    /// Time taken.
    pub took: Vec<TimeLine>,
    /// `took as planned` or `made … as planned`; the line.
    pub took_as_planned: Option<Span>,
    /// Good pieces.
    pub made: Vec<MadeLine>,
    /// `made nothing`; the line.
    pub made_nothing: Option<Span>,
    /// Lost pieces.
    pub lost: Vec<LostLine>,
    /// Kept material.
    pub kept: Vec<KeptLine>,
    /// How outputs share it.
    pub sharing: OutputSharing,
    /// Whether this entry ends the batch whatever was aimed at: a `built` entry, or `nothing else`.
    pub ends: bool,
    /// The owner's rate of the day, for times as planned.
    pub owner_rate: Option<Decimal>,
}

/// Goods sold.
#[derive(Clone, Debug, PartialEq)]
pub struct SoldLine {
    /// The thing.
    pub thing: ThingId,
    /// How many (less what was brought back).
    pub quantity: Decimal,
    /// The named lot.
    pub lot: Option<LabelId>,
    /// Goods value of the line at the prices that the shop gets (wholesale already halved) or that the customer pays (consignment),
    /// with sales tax where prices include it.
    pub value: Fixed6,
    /// Value at list prices of the day, where there is one.
    pub list_value: Option<Fixed6>,
    /// The line.
    pub span: Span,
}

/// Income of a sale without goods.
#[derive(Clone, Debug, PartialEq)]
pub struct IncomeLine {
    /// Which.
    pub income: IncomeId,
    /// How much.
    pub money: Fixed6,
    /// For what.
    pub on: Option<Target>,
    /// The line.
    pub span: Span,
}

/// Sales tax on a sale.
#[derive(Clone, Debug, PartialEq)]
pub struct TaxLine {
    /// How much: on top of the prices, or within them.
    pub money: Fixed6,
    /// Whose; `None` for the shop's own account.
    pub to: Option<LabelId>,
    /// Whether it is within the prices.
    pub included: bool,
    /// Whether the channel collects it: a memo only.
    pub by_channel: bool,
    /// The line (the head where the channel's prices include it).
    pub span: Span,
}

/// How the buyers of a fair paid.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Tender {
    /// Cash.
    pub cash: Option<Fixed6>,
    /// Card.
    pub card: Option<Fixed6>,
    /// Check.
    pub check: Option<Fixed6>,
    /// More in the tin than sold (negative: less).
    pub over: Fixed6,
}

/// A sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Sold {
    /// The channel; `None` for goods given in a swap.
    pub channel: Option<ChannelId>,
    /// From where the goods leave.
    pub place: PlaceId,
    /// The order.
    pub order: Option<LabelId>,
    /// The buyer.
    pub buyer: Option<LabelId>,
    /// Goods.
    pub lines: Vec<SoldLine>,
    /// Work without goods.
    pub incomes: Vec<IncomeLine>,
    /// Discount as a positive sum.
    pub discount: Fixed6,
    /// Shipping charged.
    pub shipping: Fixed6,
    /// Sales tax.
    pub taxes: Vec<TaxLine>,
    /// Postage paid.
    pub postage: Fixed6,
    /// Packing used.
    pub packing: Vec<StockLine>,
    /// `fee`: replaces the channel's fees.
    pub fee: Option<Fixed6>,
    /// `extra fee`, the sum of them.
    pub extra_fees: Fixed6,
    /// Tender.
    pub tender: Tender,
    /// `settled`, checked: what reaches the shop, and where it stands.
    pub settled: Option<(Fixed6, Span)>,
    /// How it is settled.
    pub settlement: Settlement,
}

/// What money received is for.
#[derive(Clone, Debug, PartialEq)]
pub enum ReceivedFor {
    /// An income without goods.
    Income(IncomeId),
    /// Orders, filled as named.
    Orders(Vec<LabelId>),
}

/// A line of money received.
#[derive(Clone, Debug, PartialEq)]
pub struct ReceivedLine {
    /// How much.
    pub money: Fixed6,
    /// What for.
    pub what: ReceivedFor,
    /// The line.
    pub span: Span,
}

/// Money received.
#[derive(Clone, Debug, PartialEq)]
pub struct Received {
    /// From whom.
    pub from: LabelId,
    /// `via`: it is what the buyer paid, and the channel's fees count today.
    pub via: Option<ChannelId>,
    /// Its lines.
    pub lines: Vec<ReceivedLine>,
}

/// Goods moved between places.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// From.
    pub from: PlaceId,
    /// To.
    pub to: PlaceId,
    /// Goods.
    pub lines: Vec<StockLine>,
    /// Postage.
    pub postage: Fixed6,
    /// Packing used.
    pub packing: Vec<StockLine>,
}

/// What becomes of a piece that a buyer returned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the words of the language")]
pub enum ReturnFate { BackToStock, Scrapped, LeftWithBuyer }

/// A returned line.
#[derive(Clone, Debug, PartialEq)]
pub struct ReturnedLine {
    /// The thing.
    pub thing: ThingId,
    /// How many.
    pub quantity: Decimal,
    /// Refunded for the line.
    pub refunded: Fixed6,
    /// What becomes of it.
    pub fate: ReturnFate,
    /// The named lot or batch.
    pub lot: Option<LabelId>,
    /// The line.
    pub span: Span,
}

/// Goods or money back to a buyer.
#[derive(Clone, Debug, PartialEq)]
pub struct Returned {
    /// The order; else the channel's last sales of the thing.
    pub order: Option<LabelId>,
    /// The channel.
    pub channel: Option<ChannelId>,
    /// Where the goods come to.
    pub place: PlaceId,
    /// Goods.
    pub lines: Vec<ReturnedLine>,
    /// Refunds without goods.
    pub refunds: Vec<(Fixed6, Span)>,
    /// Shipping given back.
    pub shipping: Fixed6,
    /// Sales tax given back.
    pub sales_tax: Fixed6,
    /// Whose; `None` for the shop's own account.
    pub tax_to: Option<LabelId>,
    /// Fees given back to the shop.
    pub fee_back: Fixed6,
}

/// A line of goods sent back.
#[derive(Clone, Debug, PartialEq)]
pub struct SentBackLine {
    /// The goods.
    pub goods: StockLine,
    /// Refunded for the line.
    pub refunded: Fixed6,
    /// Whether as credit.
    pub as_credit: bool,
}

/// Goods back to a supplier.
#[derive(Clone, Debug, PartialEq)]
pub struct SentBack {
    /// To whom.
    pub supplier: LabelId,
    /// The receipt.
    pub receipt: Option<LabelId>,
    /// From where.
    pub place: PlaceId,
    /// Its lines.
    pub lines: Vec<SentBackLine>,
    /// Sales tax that comes back too.
    pub sales_tax: Fixed6,
}

/// A supplier's credit.
#[derive(Clone, Debug, PartialEq)]
pub struct Credited {
    /// By whom.
    pub supplier: LabelId,
    /// The receipt.
    pub receipt: Option<LabelId>,
    /// Sum, thing and line.
    pub lines: Vec<(Fixed6, ThingId, Span)>,
}

/// A count.
#[derive(Clone, Debug, PartialEq)]
pub struct Counted {
    /// Where.
    pub place: PlaceId,
    /// What was there.
    pub lines: Vec<StockLine>,
    /// Whether what isn't listed is gone.
    pub nothing_else: bool,
}

/// Why goods left without a sale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the verbs")]
pub enum LeftHow { TookHome, Gave(GaveAs), Scrapped, UsedUp }

/// A line of goods that left.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftLine {
    /// The goods.
    pub goods: StockLine,
    /// What it was worth, where said (for the whole line).
    pub worth: Option<Fixed6>,
}

/// Goods that left without a sale.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// How.
    pub how: LeftHow,
    /// From where.
    pub place: PlaceId,
    /// To whom, in `gave`.
    pub to: Option<LabelId>,
    /// For what, in `used-up`.
    pub on: Option<Target>,
    /// Goods.
    pub lines: Vec<LeftLine>,
}
