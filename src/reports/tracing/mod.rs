//! Where goods came from and where they went: the model of `kerfbook trace`.
//!
//! In: a book that was costed with its links, and a name. Out: a [`TraceReport`]: two trees and the same as flat lists. The lists reach
//! everything, by a walk that goes to each lot and each batch once; the trees tell each once too, and fold far down.

mod asked;
mod errors;
mod flow_index;
mod of_order;
mod reach;
mod record;
mod record_papers;
mod record_rules;
mod whence;
mod whither;

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;

use self::asked::{Asked, read_asked};
use self::flow_index::FlowIndex;
use self::of_order::{gone_again, goods_of};
use self::reach::Reach;
use self::record_papers::BatchEntries;
use self::record_rules::{RecordRules, record_rules};
use crate::costing::{BatchAccount, BatchState, Came, LinkedLot, Links, StockLot};
use crate::events::EventKind;
use crate::names::{BatchId, LabelId, ThingId};
use crate::reports::period::quantity_text;
use crate::reports::{
    BatchRecord, BatchRecords, FigureNames, Period, ReachedBatch, ReachedGone, ReachedOrder, ReachedSource, ReachedStock,
    TraceKind, TraceReport, TraceStep, WhyPlace,
};
use crate::sources::{LineIndex, Span};
use crate::year::Books;

pub use asked::TraceFault;

/// How many levels a tree has before it folds.
const DEEPEST: usize = 60;

/// Traces what a name stands for. `Err` where it stands for nothing, or for several.
///
/// # Errors
/// A sentence for the reader.
pub fn report_trace(books: Books<'_>, names: &FigureNames<'_>, typed: &str) -> Result<TraceReport, TraceFault> {
    let Some(links) = books.costed.links.as_ref() else {
        return Err(TraceFault("the book was costed without its links".to_owned()));
    };
    let (asked, is) = read_asked(typed, books, links, names)?;
    let of = Traced::of(books, links, names);
    let reach = Reach::of(&of, &asked);
    // Of what went into everything each tree is as long as the book, and none needs another.
    let (came_from, (went_to, lists)) =
        rayon::join(|| came_from(&of, &asked), || rayon::join(|| went_to(&of, &asked), || Lists::of(&of, &asked, &reach)));
    let Lists { sources, batches, orders, on_hand, gone, records } = lists;
    Ok(TraceReport {
        head: Period::default().head("trace", books.book, books.log.first_day, books.costed.until),
        asked: typed.to_owned(),
        is,
        came_from,
        went_to,
        sources,
        batches,
        orders,
        on_hand,
        gone,
        notes: records.iter().flat_map(|records| of_later_parts(&of, &reach, records)).collect(),
        records,
    })
}

/// Of which batches the record holds more than what was asked about: what they used after that was made.
fn of_later_parts(of: &Traced<'_>, reach: &Reach, records: &BatchRecords) -> Vec<String> {
    let mut batches: Vec<&str> = records.records.iter().map(|record| record.batch.as_str()).collect();
    batches.dedup();
    let mut notes = Vec::new();
    for name in batches {
        let later = of.books.book.batch_id(name).map(|batch| reach.used_later(of, batch)).unwrap_or_default();
        let lots: Vec<String> = later.into_iter().map(|lot| format!("`{}`", of.names.lot(lot))).collect();
        if !lots.is_empty() {
            notes.push(format!(
                "batch {name} was finished in parts, and its record is of all of it: {} went into it only after what you asked about was made",
                lots.join(", ")
            ));
        }
    }
    notes
}

/// The tree of where it came from.
fn came_from(of: &Traced<'_>, asked: &Asked) -> Vec<TraceStep> {
    let mut tree = Tree::of(of);
    match asked {
        Asked::Lots(lots) => lots.iter().filter_map(|lot| tree.whence_lot(*lot, 0)).collect(),
        Asked::Batch(batch) => tree.whence_batch(*batch, NaiveDate::MAX, 0).unwrap_or_default(),
        Asked::Orders(orders) => orders.iter().flat_map(|order| tree.whence_order(*order)).collect(),
    }
}

/// The tree of where it went.
fn went_to(of: &Traced<'_>, asked: &Asked) -> Vec<TraceStep> {
    let mut tree = Tree::of(of);
    match asked {
        Asked::Lots(lots) => lots.iter().filter_map(|lot| tree.whither_lot(*lot, 0)).collect(),
        Asked::Batch(batch) => tree.whither_asked_batch(*batch),
        Asked::Orders(orders) => orders.iter().filter_map(|order| tree.whither_order(*order)).collect(),
    }
}

/// What a trace reaches, as flat lists, and the records of its batches.
struct Lists {
    sources: Vec<ReachedSource>,
    batches: Vec<ReachedBatch>,
    orders: Vec<ReachedOrder>,
    on_hand: Vec<ReachedStock>,
    gone: Vec<ReachedGone>,
    records: Option<BatchRecords>,
}

impl Lists {
    fn of(of: &Traced<'_>, asked: &Asked, reach: &Reach) -> Self {
        let (orders, gone) = match asked {
            Asked::Orders(orders) => (goods_of(of, orders), gone_again(of, orders)),
            Asked::Lots(_) | Asked::Batch(_) => (reach.orders(of), reach.gone(of)),
        };
        let (sources, batches) = (reach.sources(of), reach.batches(of));
        let (on_hand, records) = (reach.on_hand(of, asked), record::records_of(of, asked, reach));
        Self { sources, batches, orders, on_hand, gone, records }
    }
}

/// The records of goods for children, batch by batch: what the batch itself took, so that all of them together are as long as the book.
pub struct DirectRecords<'a> {
    of: Traced<'a>,
    rules: RecordRules,
    entries: BatchEntries<'a>,
}

impl<'a> DirectRecords<'a> {
    /// Goes through a book once, by the links of its batches. Nothing where the rules can't be read.
    #[must_use]
    pub fn of(books: Books<'a>, links: &'a Links, names: &'a FigureNames<'a>) -> Option<Self> {
        Some(Self { of: Traced::of(books, links, names), rules: record_rules()?, entries: BatchEntries::of(books) })
    }

    /// Those of a batch; none where nothing of it is for children.
    pub(crate) fn of_batch(&self, account: &BatchAccount) -> Vec<BatchRecord> {
        record::direct_records(&self.of, (&self.rules, &self.entries), account)
    }
}

/// Supplier, receipt and certificate of a lot.
type Purchase<'a> = (Option<&'a str>, Option<&'a str>, Option<&'a str>);

/// What is traced in.
struct Traced<'a> {
    books: Books<'a>,
    links: &'a Links,
    names: &'a FigureNames<'a>,
    index: FlowIndex<'a>,
    /// What is on hand, by the lots' numbers.
    stock: Vec<&'a StockLot>,
    lines: LineIndex<'a>,
}

impl<'a> Traced<'a> {
    fn of(books: Books<'a>, links: &'a Links, names: &'a FigureNames<'a>) -> Self {
        let mut stock: Vec<&StockLot> = books.costed.stock.iter().collect();
        stock.sort_by_key(|lot| lot.origin.number);
        Self { books, links, names, index: FlowIndex::of(links), stock, lines: LineIndex::of(books.sources) }
    }

    fn label(&self, label: Option<LabelId>) -> Option<&'a str> {
        label.map(|label| self.books.book.label(label))
    }

    fn thing(&self, thing: ThingId) -> &'a str {
        self.books.book.thing(thing).named.name.as_str()
    }

    fn unit(&self, thing: ThingId) -> &'a str {
        self.books.book.thing(thing).unit.as_str()
    }

    /// `8 bf red-oak`, `6 pull-cart`.
    fn much(&self, quantity: Decimal, thing: ThingId) -> String {
        self.so_much(&quantity_text(quantity), thing)
    }

    /// The same of a quantity that is written out.
    fn so_much(&self, quantity: &str, thing: ThingId) -> String {
        match self.unit(thing) {
            "ea" => [quantity, " ", self.thing(thing)].concat(),
            unit => [quantity, " ", unit, " ", self.thing(thing)].concat(),
        }
    }

    fn at(&self, span: Span) -> Option<WhyPlace> {
        if span.is_empty() {
            return None;
        }
        let place = self.lines.place(span.start)?;
        let text = self.books.sources.text(self.books.sources.lines_of(span));
        let text = text.lines().next().unwrap_or("").trim().to_owned();
        Some(WhyPlace { file: place.path.to_owned(), line: place.line, text })
    }

    /// What is on hand of a lot, place by place.
    fn left_of(&self, lot: u32) -> &[&'a StockLot] {
        let from = self.stock.partition_point(|one| one.origin.number < lot);
        let to = self.stock.partition_point(|one| one.origin.number <= lot);
        self.stock.get(from..to).unwrap_or(&[])
    }

    /// Whether a batch is on the bench, so that what it used is in it still.
    fn is_open(&self, batch: BatchId) -> bool {
        self.books.costed.batches.get(batch.index()).is_some_and(|account| account.state == BatchState::OnTheBench)
    }

    /// What an open batch used, lot by lot, and from which day on; nothing of one that is done.
    fn in_open_batch(&self, batch: BatchId) -> BTreeMap<u32, (Decimal, NaiveDate)> {
        let mut used: BTreeMap<u32, (Decimal, NaiveDate)> = BTreeMap::new();
        for piece in self.index.uses(batch, 0..usize::MAX).filter(|_| self.is_open(batch)) {
            let (sum, _) = used.entry(piece.lot).or_insert((Decimal::ZERO, piece.date));
            *sum = sum.saturating_sub(piece.quantity);
        }
        used.retain(|_, (quantity, _)| !quantity.is_zero());
        used
    }

    /// Whether an open batch gave pieces on a day or later, so that a part of what it used on that day is in them; how much is not told by lots.
    fn gave_since(&self, batch: BatchId, day: NaiveDate) -> bool {
        self.index.outputs(batch).nth(self.index.outputs_before(batch, day)).is_some()
    }

    /// Where what an open batch used from a day on is: on the bench, or, where pieces of it were done since, partly in those.
    fn on_the_bench(&self, batch: BatchId, day: NaiveDate) -> &'static str {
        if self.gave_since(batch, day) { "on the bench or in what it gave so far" } else { "on the bench" }
    }

    /// `in batch ST-2, which is not done`; where pieces of it were done since the day, those may have it.
    fn in_batch(&self, batch: BatchId, day: NaiveDate) -> String {
        let name = &self.books.book.batch(batch).name;
        if self.gave_since(batch, day) {
            format!("in batch {name}, or in what it gave so far")
        } else {
            format!("in batch {name}, which is not done")
        }
    }

    /// How a lot came, in words, with what [`Traced::purchase`] says of it.
    fn came(&self, lot: &LinkedLot, (supplier, receipt, _): Purchase<'a>) -> String {
        let on = lot.origin.date;
        match lot.came {
            Came::Opened => format!("there when the book began on {on}"),
            Came::Contributed => format!("put in by the owner on {on}"),
            Came::Found => format!("found on {on}"),
            Came::CountedMore => format!("counted on {on}, more than was booked"),
            Came::Unrecorded => format!("used on {on} before any was recorded"),
            Came::Finished(batch) => format!("made in batch {} on {on}", self.books.book.batch(batch).name),
            Came::Kept(batch) => format!("kept of batch {} on {on}", self.books.book.batch(batch).name),
            Came::Bought => {
                let mut says = format!("bought on {on}");
                for (before, name) in [(" from ", supplier), (", receipt ", receipt)] {
                    for part in name.into_iter().flat_map(|name| [before, name]) {
                        says.push_str(part);
                    }
                }
                says
            }
        }
    }

    /// Supplier, receipt and certificate of a lot.
    fn purchase(&self, lot: &LinkedLot) -> Purchase<'a> {
        let event = self.books.log.events.get(lot.origin.event as usize);
        let said = |span: Span| (!span.is_empty()).then(|| self.books.sources.text(span));
        match event.map(|event| &event.kind) {
            Some(EventKind::Bought(bought)) => {
                let line = bought.lines.iter().find(|line| line.span == lot.line);
                (self.label(bought.supplier), self.label(bought.receipt), line.and_then(|line| said(line.certificate)))
            }
            Some(EventKind::Opened(opened)) => {
                let line = opened.lines.iter().find(|line| line.span == lot.line);
                (None, None, line.and_then(|line| said(line.certificate)))
            }
            _ => (None, None, None),
        }
    }

    fn lot_step(&self, lot: &LinkedLot, quantity: Decimal) -> TraceStep {
        let purchase = self.purchase(lot);
        let quantity = quantity_text(quantity);
        let mut says = self.so_much(&quantity, lot.thing);
        says.push_str(", ");
        says.push_str(&self.came(lot, purchase));
        if let (.., Some(certificate)) = purchase {
            says.extend([", certificate `", certificate, "`"]);
        }
        TraceStep {
            kind: TraceKind::Lot,
            says,
            figure: Some(["lot/", self.names.lot(lot.origin.number)].concat()),
            date: Some(lot.origin.date.to_string()),
            quantity: Some(quantity),
            unit: Some(self.unit(lot.thing).to_owned()),
            above: false,
            at: self.at(lot.line),
            steps: Vec::new(),
        }
    }

    fn batch_step(&self, batch: BatchId, says: String, at: Span) -> TraceStep {
        TraceStep {
            kind: TraceKind::Batch,
            says,
            figure: Some(format!("batch/{}", self.names.batch(batch))),
            date: None,
            quantity: None,
            unit: None,
            above: false,
            at: self.at(at),
            steps: Vec::new(),
        }
    }

    /// An order, and how much of a thing went with it (below zero: came back from it).
    fn order_step(&self, order: u32, moved: Option<(Decimal, ThingId, NaiveDate)>, at: Span) -> Option<TraceStep> {
        let account = self.books.costed.orders.get(order as usize)?;
        let name = self.names.order(order);
        let came_back = moved.is_some_and(|(quantity, ..)| quantity.is_sign_negative());
        let much = moved.map(|(quantity, ..)| quantity_text(quantity.abs()));
        let day = moved.map_or(account.date, |(.., day)| day).to_string();
        let mut says = match moved.zip(much.as_deref()) {
            None => ["order ", name, " of ", &day].concat(),
            Some(((_, thing, _), much)) if came_back => {
                [&self.so_much(much, thing), " came back on ", &day, " from order ", name].concat()
            }
            Some(((_, thing, _), much)) => [&self.so_much(much, thing), " sold on ", &day, " with order ", name].concat(),
        };
        if let Some(channel) = account.channel {
            says.extend([" via ", &self.books.book.channel(channel).named.name]);
        }
        if let Some(buyer) = self.label(account.buyer).filter(|_| !came_back) {
            says.extend([" to ", buyer]);
        }
        let kind = if came_back { TraceKind::Back } else { TraceKind::Order };
        Some(TraceStep {
            kind,
            says,
            figure: Some(["order/", name].concat()),
            date: Some(day),
            quantity: much,
            unit: moved.map(|(_, thing, _)| self.unit(thing).to_owned()),
            above: false,
            at: self.at(if at.is_empty() { account.head } else { at }),
            steps: Vec::new(),
        })
    }
}

/// A tree while it is told: each lot once, and of a batch that was finished in parts what belongs to each of them.
struct Tree<'t, 'a> {
    of: &'t Traced<'a>,
    lots: BTreeSet<u32>,
    /// With how much of each: of its uses backwards, or of what it gave forwards.
    batches: BTreeSet<(BatchId, usize)>,
}

impl<'t, 'a> Tree<'t, 'a> {
    fn of(of: &'t Traced<'a>) -> Self {
        Self { of, lots: BTreeSet::new(), batches: BTreeSet::new() }
    }
}
