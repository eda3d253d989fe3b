//! Where goods came from and where they went: a lot, a batch, an order, a receipt or a thing, both ways, through every level.
//!
//! Each lot and each batch is told once in a tree; further down it is only pointed to. The lists say the same flat, each reached thing once.

use schemars::JsonSchema;
use serde::Serialize;

use crate::reports::figure_text::{DayText, QuantityText};
use crate::reports::{ReportHead, WhyPlace};

/// What a step of a trace stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum TraceKind {
    /// A lot of a thing, as it came.
    Lot,
    /// A batch at which was worked.
    Batch,
    /// An order of a buyer, or a sale without a name.
    Order,
    /// A purchase.
    Purchase,
    /// There when the book began, put in, found, or counted as more.
    Origin,
    /// Moved to another place.
    Place,
    /// Left without a sale.
    Gone,
    /// Came back.
    Back,
    /// Still there.
    Left,
}

/// A step of a trace.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TraceStep {
    /// What it stands for.
    pub kind: TraceKind,
    /// What happened, in words.
    pub says: String,
    /// The name of the figure that says what it cost: `lot/red-oak/RO-0`, `batch/PC-021`, `order/W-1`.
    pub figure: Option<String>,
    /// The day.
    #[schemars(with = "Option<DayText>")]
    pub date: Option<String>,
    /// How much, in the unit.
    #[schemars(with = "Option<QuantityText>")]
    pub quantity: Option<String>,
    /// The unit.
    pub unit: Option<String>,
    /// Whether what follows stands further up, where it was reached before.
    pub above: bool,
    /// The line of the book that says it.
    pub at: Option<WhyPlace>,
    /// What follows from it.
    pub steps: Vec<TraceStep>,
}

/// A lot that came from outside: bought, there when the book began, put in, found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReachedSource {
    /// The day.
    #[schemars(with = "DayText")]
    pub date: String,
    /// How it came, in words.
    pub came: String,
    /// From whom; null where the entry does not say.
    pub supplier: Option<String>,
    /// The receipt.
    pub receipt: Option<String>,
    /// The thing.
    pub thing: String,
    /// The lot, as figures name it.
    pub lot: String,
    /// How much came.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// Its unit.
    pub unit: String,
    /// The certificate that came with it.
    pub certificate: Option<String>,
}

/// A batch that was reached.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReachedBatch {
    /// Its name.
    pub name: String,
    /// What it gave.
    pub made: Vec<MadeOfBatch>,
    /// Its first day.
    #[schemars(with = "Option<DayText>")]
    pub started: Option<String>,
    /// The day on which it was done.
    #[schemars(with = "Option<DayText>")]
    pub finished: Option<String>,
}

/// What a batch gave.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct MadeOfBatch {
    /// The product.
    pub thing: String,
    /// Good pieces.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
}

/// Goods of an order that were reached.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReachedOrder {
    /// The day.
    #[schemars(with = "DayText")]
    pub date: String,
    /// The order, as figures name it.
    pub order: String,
    /// The channel.
    pub channel: Option<String>,
    /// The buyer.
    pub buyer: Option<String>,
    /// The thing.
    pub thing: String,
    /// The lot it was of.
    pub lot: String,
    /// How much was sold.
    #[schemars(with = "QuantityText")]
    pub sold: String,
    /// How much of it came back.
    #[schemars(with = "QuantityText")]
    pub came_back: String,
    /// Its unit.
    pub unit: String,
}

/// What is left of what was reached.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReachedStock {
    /// The place; `on the bench` of what is in a batch that is not done, `on the bench or in what it gave so far` where pieces of it are.
    pub place: String,
    /// That batch; null of what lies on a shelf. Where pieces of it are done, a part of the quantity is in those.
    pub batch: Option<String>,
    /// The thing.
    pub thing: String,
    /// The lot.
    pub lot: String,
    /// How much.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// Its unit.
    pub unit: String,
}

/// What left otherwise of what was reached.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ReachedGone {
    /// The day.
    #[schemars(with = "DayText")]
    pub date: String,
    /// How: `taken home`, `scrapped`, `missing`.
    pub how: String,
    /// The thing.
    pub thing: String,
    /// The lot.
    pub lot: String,
    /// How much.
    #[schemars(with = "QuantityText")]
    pub quantity: String,
    /// Its unit.
    pub unit: String,
}

/// A material in a batch of goods for children, through all levels.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RecordMaterial {
    /// The thing.
    pub thing: String,
    /// Its title.
    pub title: String,
    /// The lot.
    pub lot: String,
    /// How it came, in words.
    pub came: String,
    /// From whom.
    pub supplier: Option<String>,
    /// The receipt.
    pub receipt: Option<String>,
    /// The certificate.
    pub certificate: Option<String>,
}

/// A paper of a record, or a note: a `file` or `note` line of the book.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RecordPaper {
    /// Of what: `batch PC-021`, `product pull-cart`.
    pub of: String,
    /// The day of its entry; null where it stands in a definition.
    #[schemars(with = "Option<DayText>")]
    pub date: Option<String>,
    /// The path below the book's folder; null of a note.
    pub file: Option<String>,
    /// The words of a note; null of a file.
    pub note: Option<String>,
}

/// The record of a batch of goods for children.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BatchRecord {
    /// The batch.
    pub batch: String,
    /// The product.
    pub product: String,
    /// Its title.
    pub title: String,
    /// For whom, by the maker's word: `from 18 months`.
    pub age: String,
    /// The first day of the batch.
    #[schemars(with = "DayText")]
    pub first: String,
    /// The last day on which pieces were finished.
    #[schemars(with = "DayText")]
    pub last: String,
    /// The place at which they were finished.
    pub place: Option<String>,
    /// Good pieces.
    #[schemars(with = "QuantityText")]
    pub pieces: String,
    /// The pattern.
    pub pattern: Option<String>,
    /// What went into them.
    pub materials: Vec<RecordMaterial>,
    /// The files and notes of the batch's entries, of the batches of its parts and of the product's definition.
    pub papers: Vec<RecordPaper>,
    /// The lines of a tracking label, as far as the book knows them.
    pub label: Vec<String>,
    /// The day up to which the record is kept.
    #[schemars(with = "Option<DayText>")]
    pub keep_until: Option<String>,
    /// What is missing.
    pub missing: Vec<String>,
}

/// Batch records, and what they are not.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BatchRecords {
    /// What a reader is told before them.
    pub caution: String,
    /// What a tracking label says, with its source.
    pub label_asks: String,
    /// Where it stands for how long they are kept.
    pub keep_source: String,
    /// The records.
    pub records: Vec<BatchRecord>,
}

/// The report.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TraceReport {
    /// Its head.
    #[serde(flatten)]
    pub head: ReportHead,
    /// What was asked about, as typed.
    pub asked: String,
    /// What that is, in words: `batch PC-021`, `2 lots of red-oak`.
    pub is: String,
    /// Where it came from.
    pub came_from: Vec<TraceStep>,
    /// Where it went.
    pub went_to: Vec<TraceStep>,
    /// Lots from outside of which it is made.
    pub sources: Vec<ReachedSource>,
    /// Batches through which it went, those it came from first.
    pub batches: Vec<ReachedBatch>,
    /// Orders to which it went.
    pub orders: Vec<ReachedOrder>,
    /// What of it is on hand.
    pub on_hand: Vec<ReachedStock>,
    /// What of it left otherwise.
    pub gone: Vec<ReachedGone>,
    /// The records of batches of goods for children; null where there are none.
    pub records: Option<BatchRecords>,
    /// What a reader must know.
    pub notes: Vec<String>,
}
