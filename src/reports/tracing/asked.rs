//! What a name that is traced stands for: a batch, an order, a lot, a receipt, a supplier, a buyer or a channel, or a
//! thing.
//!
//! Where it stands for several, the asker is told to say which: `batch/NAME`, `order/NAME`, `lot/THING/WHICH`, `receipt/NAME`, `from/NAME`,
//! `buyer/NAME`, `channel/NAME`, `thing/NAME`, `tool/NAME`.

use std::collections::BTreeSet;

use super::errors::unknown;
use crate::costing::Links;
use crate::events::{EventKind, Output};
use crate::names::{BatchId, ChannelId, LabelId, ThingId, ToolId};
use crate::reports::FigureNames;
use crate::year::Books;

/// What is traced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Asked {
    /// Lots, by number: one, those of a code, of a receipt, of a supplier or of a thing.
    Lots(Vec<u32>),
    /// A batch.
    Batch(BatchId),
    /// Orders, by index: one, or those of a buyer or channel.
    Orders(Vec<u32>),
}

/// Why a name can't be traced: a sentence for the reader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TraceFault(pub String);

/// A way to read a name, with the words for what it found.
struct Reading {
    /// How it is asked for alone.
    named: String,
    words: String,
    asked: Asked,
}

/// Reads a name.
pub(super) fn read_asked(
    typed: &str,
    books: Books<'_>,
    links: &Links,
    names: &FigureNames<'_>,
) -> Result<(Asked, String), TraceFault> {
    let reader = Reader { books, links, names };
    let mut readings = match typed.split_once('/') {
        Some(("batch", name)) => reader.batch(name),
        Some(("order", name)) => reader.order(name),
        // As figures name it, else by its code alone.
        Some(("lot", name)) => match reader.lot(name) {
            none if none.is_empty() => reader.code(name),
            found => found,
        },
        Some(("receipt", name)) => reader.receipt(name),
        Some(("from", name)) => reader.supplier(name),
        Some(("buyer", name)) => reader.buyer(name),
        Some(("channel", name)) => reader.channel(name),
        Some(("thing", name)) => reader.thing(name),
        Some(("tool", name)) => reader.tool(name),
        _ => Vec::new(),
    };
    if readings.is_empty() {
        readings = reader.any(typed);
    }
    // A channel that is a supplier or buyer too is asked for by its kind.
    if readings.is_empty() {
        readings = reader.channel(typed);
    }
    if readings.len() > 1 {
        let ways: Vec<String> = readings.iter().map(|one| format!("`{}` ({})", one.named, one.words)).collect();
        return Err(TraceFault(format!("`{typed}` stands for several; say which: {}", ways.join(", "))));
    }
    match readings.pop() {
        Some(one) => Ok((one.asked, one.words)),
        None => Err(TraceFault(unknown(books, links, names, typed))),
    }
}

struct Reader<'a> {
    books: Books<'a>,
    links: &'a Links,
    names: &'a FigureNames<'a>,
}

impl Reader<'_> {
    fn any(&self, typed: &str) -> Vec<Reading> {
        let ways = [
            Self::batch,
            Self::order,
            Self::code,
            Self::receipt,
            Self::supplier,
            Self::buyer,
            Self::thing,
            Self::tool,
            Self::lot,
        ];
        let mut readings: Vec<Reading> = Vec::new();
        for way in ways {
            for reading in way(self, typed) {
                // A batch and the lots that it made are one thing to ask about.
                let is_told = |one: &Reading| {
                    matches!(one.asked, Asked::Batch(_)) && (reading.named.starts_with("lot/") || one.asked == reading.asked)
                };
                if !readings.iter().any(is_told) {
                    readings.push(reading);
                }
            }
        }
        readings
    }

    fn batch(&self, name: &str) -> Vec<Reading> {
        // As the book calls it, else as figures do.
        let id = self.books.book.batch_id(name).or_else(|| self.names.batch_of(name));
        let words = |id: BatchId| format!("batch {}", self.books.book.batch(id).name);
        id.map(|id| one(format!("batch/{name}"), words(id), Asked::Batch(id))).into_iter().collect()
    }

    fn order(&self, name: &str) -> Vec<Reading> {
        let orders = (0u32..).zip(&self.books.costed.orders);
        let of_name = |label: Option<LabelId>| label.is_some_and(|label| self.books.book.label(label) == name);
        let mut found: Vec<u32> = orders.filter(|(_, order)| of_name(order.order)).map(|(at, _)| at).collect();
        if found.is_empty() {
            let count = u32::try_from(self.books.costed.orders.len()).unwrap_or(u32::MAX);
            found = (0..count).filter(|at| self.names.order(*at) == name && name.contains('-')).take(1).collect();
        }
        if found.is_empty() {
            Vec::new()
        } else {
            one_list(format!("order/{name}"), format!("order {name}"), Asked::Orders(found))
        }
    }

    /// A lot as figures name it: `red-oak/RO-0`.
    fn lot(&self, name: &str) -> Vec<Reading> {
        let found = self.links.lots.iter().find(|lot| self.names.lot(lot.origin.number) == name);
        let words = |number: u32| format!("lot {}", self.names.lot(number));
        found
            .map(|lot| one(format!("lot/{name}"), words(lot.origin.number), Asked::Lots(vec![lot.origin.number])))
            .into_iter()
            .collect()
    }

    /// A lot's code: of each thing that has it.
    fn code(&self, code: &str) -> Vec<Reading> {
        let is_of = |label: LabelId| self.books.book.label(label) == code;
        let lots = self.links.lots.iter().filter(|lot| lot.origin.batch.is_none() && lot.origin.code.is_some_and(is_of));
        self.lots(format!("lot/{code}"), code, lots.map(|lot| lot.origin.number).collect())
    }

    fn thing(&self, name: &str) -> Vec<Reading> {
        let at = self.books.book.things.iter().position(|thing| thing.named.name == name);
        let Some(thing) = at.and_then(|at| u32::try_from(at).ok()).map(ThingId) else { return Vec::new() };
        let lots = self.links.lots.iter().filter(|lot| lot.thing == thing).map(|lot| lot.origin.number).collect();
        self.lots(format!("thing/{name}"), name, lots)
    }

    /// A jig or fixture, by each batch that made it.
    fn tool(&self, name: &str) -> Vec<Reading> {
        let book = self.books.book;
        let at = book.tools.iter().position(|tool| tool.named.name == name);
        let Some(tool) = at.and_then(|at| u32::try_from(at).ok()).map(ToolId) else { return Vec::new() };
        let made = self.links.outputs.iter().filter(|output| output.what == Output::Tool(tool));
        let batches: BTreeSet<BatchId> = made.map(|output| output.batch).collect();
        let reading = |batch: BatchId| {
            let of_batch = &book.batch(batch).name;
            one(format!("batch/{of_batch}"), format!("{name}, made in batch {of_batch}"), Asked::Batch(batch))
        };
        batches.into_iter().map(reading).collect()
    }

    fn receipt(&self, name: &str) -> Vec<Reading> {
        self.purchases(format!("receipt/{name}"), &format!("receipt {name}"), |_, receipt| receipt == Some(name))
    }

    fn supplier(&self, name: &str) -> Vec<Reading> {
        self.purchases(format!("from/{name}"), &format!("what came from {name}"), |supplier, _| supplier == Some(name))
    }

    fn purchases(&self, named: String, words: &str, is: impl Fn(Option<&str>, Option<&str>) -> bool) -> Vec<Reading> {
        let label = |label: Option<LabelId>| label.map(|label| self.books.book.label(label));
        let mut lots = Vec::new();
        for lot in &self.links.lots {
            let Some(event) = self.books.log.events.get(lot.origin.event as usize) else { continue };
            if let EventKind::Bought(bought) = &event.kind
                && is(label(bought.supplier), label(bought.receipt))
            {
                lots.push(lot.origin.number);
            }
        }
        self.lots(named, words, lots)
    }

    fn buyer(&self, name: &str) -> Vec<Reading> {
        let of_name = |label: Option<LabelId>| label.is_some_and(|label| self.books.book.label(label) == name);
        let orders = (0u32..).zip(&self.books.costed.orders);
        let found: Vec<u32> = orders.filter(|(_, order)| of_name(order.buyer)).map(|(at, _)| at).collect();
        if found.is_empty() {
            return Vec::new();
        }
        one_list(format!("buyer/{name}"), format!("what {name} bought"), Asked::Orders(found))
    }

    /// All that was sold through a channel.
    fn channel(&self, name: &str) -> Vec<Reading> {
        let is_it = |channel: ChannelId| self.books.book.channel(channel).named.name == name;
        let orders = (0u32..).zip(&self.books.costed.orders);
        let found: Vec<u32> = orders.filter(|(_, order)| order.channel.is_some_and(is_it)).map(|(at, _)| at).collect();
        if found.is_empty() {
            return Vec::new();
        }
        one_list(format!("channel/{name}"), format!("what was sold through {name}"), Asked::Orders(found))
    }

    fn lots(&self, named: String, words: &str, lots: Vec<u32>) -> Vec<Reading> {
        let words = match lots.as_slice() {
            [] => return Vec::new(),
            [single] => format!("lot {}", self.names.lot(*single)),
            many => format!("{words}, {} lots", many.len()),
        };
        one_list(named, words, Asked::Lots(lots))
    }
}

fn one(named: String, words: String, asked: Asked) -> Reading {
    Reading { named, words, asked }
}

fn one_list(named: String, words: String, asked: Asked) -> Vec<Reading> {
    vec![one(named, words, asked)]
}
