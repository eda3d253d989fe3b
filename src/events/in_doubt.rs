//! What is put in doubt by an entry that was read only in part, by a head that is lost, and by a bill whose lines lack something.
//!
//! One mistake is told once, and not again wherever it is felt: names and texts of what could not be read stand for all that may have
//! been said of them there.

use chrono::NaiveDate;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::events::desk::Desk;
use crate::events::{BoughtWhat, Doubts, Event, EventKind, ReceivedFor};
use crate::names::{Known, LabelId, Lookup, ResolvedBook, ThingId, ThingKind};
use crate::sources::Span;
use crate::syntax::{DetailKind, Entry, HeadPart, Item, Purpose, SaidWhat};

/// What the book lacks, as far as its mistakes show.
#[derive(Default)]
pub(crate) struct Lacking {
    /// Whether lines stand somewhere whose head is lost: a sale, or something else, may be in the book of which no name is left.
    pub(crate) heads: bool,
    /// Purchases whose total is above their lines, with supplier and day: something may have been bought that no line says.
    pub(crate) goods: Vec<(Option<LabelId>, NaiveDate)>,
}

impl Lacking {
    /// Takes another's in.
    pub(crate) fn extend(&mut self, other: Self) {
        self.heads |= other.heads;
        self.goods.extend(other.goods);
    }

    /// Notes what an entry lacks. `goods` says whether its lines come to less than its total.
    pub(crate) fn note(&mut self, desk: &Desk<'_>, entry: &Entry, goods: bool) {
        self.heads |= entry.holds_others;
        if let (true, Some(date)) = (goods, entry.date) {
            let look = Lookup::new(desk.book, desk.sources);
            let from = |(part, _): &(HeadPart, Span)| if let HeadPart::From(party) = part { look.party(*party) } else { None };
            self.goods.push((entry.parts.iter().find_map(from), date));
        }
    }

    /// The orders of the book that are settled, or come back, and that no entry sold: where a head is lost, it may have sold them.
    pub(crate) fn orders(&self, events: &[Event]) -> FxHashSet<LabelId> {
        let mut orders = FxHashSet::default();
        if !self.heads {
            return orders;
        }
        for event in events {
            match &event.kind {
                EventKind::Received(received) => {
                    for line in &received.lines {
                        if let ReceivedFor::Orders(of) = &line.what {
                            orders.extend(of.iter().map(|(order, _)| *order));
                        }
                    }
                }
                EventKind::Returned(returned) => orders.extend(returned.order),
                _ => {}
            }
        }
        for event in events {
            if let EventKind::Sold(sold) = &event.kind
                && let Some(order) = sold.order
            {
                orders.remove(&order);
            }
        }
        orders
    }

    /// What may have been bought on the bills that lack goods, and since when: materials that came of the same supplier on another
    /// day, or of none at all.
    pub(crate) fn things(&self, events: &[Event], book: &ResolvedBook) -> Vec<(ThingId, NaiveDate)> {
        if self.goods.is_empty() {
            return Vec::new();
        }
        let mut sellers: FxHashMap<ThingId, FxHashSet<Option<LabelId>>> = FxHashMap::default();
        for event in events {
            if let EventKind::Bought(bought) = &event.kind {
                for line in &bought.lines {
                    if let BoughtWhat::Stock { thing, .. } = &line.what {
                        sellers.entry(*thing).or_default().insert(bought.supplier);
                    }
                }
            }
        }
        let things = (0..).map(ThingId).zip(&book.things).filter(|(_, thing)| thing.kind != ThingKind::Product);
        let bills = things.flat_map(|(thing, _)| self.goods.iter().map(move |(seller, day)| (thing, *seller, *day)));
        bills
            .filter(|(thing, seller, _)| sellers.get(thing).is_none_or(|sellers| sellers.contains(seller)))
            .map(|(thing, _, day)| (thing, day))
            .collect()
    }
}

/// Puts in doubt what an entry that was read only in part is about.
pub(crate) fn doubt_all(desk: &Desk<'_>, entry: &Entry, doubts: &mut Doubts) {
    let look = Lookup::new(desk.book, desk.sources);
    doubts.heads.insert(entry.head.start);
    for (part, _) in &entry.parts {
        match part {
            HeadPart::Order(span) | HeadPart::Receipt(span) => doubts.papers.extend(look.label(*span)),
            HeadPart::Batch(span) => doubts.batches.extend(desk.book.batch_id(&look.text(*span))),
            HeadPart::From(party) | HeadPart::To(party) | HeadPart::By(party) | HeadPart::With(party) => {
                doubts.parties.extend(look.party(*party));
            }
            HeadPart::Via(span) => {
                if let Some(Known::Channel(channel)) = desk.book.table.get(look.text(*span).as_ref()) {
                    doubts.channels.insert(*channel);
                }
            }
            _ => {}
        }
    }
    doubts.batches.extend(look.batch_of(entry));
    for detail in &entry.details {
        match &detail.kind {
            DetailKind::Receipt(span) => doubts.papers.extend(look.label(*span)),
            DetailKind::To(party) => doubts.parties.extend(look.party(*party)),
            DetailKind::Money { purpose, .. } => {
                if let Purpose::OwedTo(party, _) | Purpose::OwedBy(party, _) = purpose.as_ref() {
                    doubts.parties.extend(look.party(*party));
                }
            }
            DetailKind::Items(_, items) => {
                for item in items {
                    doubt_item(&look, item, doubts);
                }
            }
            _ => {}
        }
    }
    for line in entry.unread.iter().chain(Some(&entry.head).filter(|_| entry.damaged)) {
        doubt_names(&look, desk.sources.text(*line), doubts);
    }
}

fn doubt_item(look: &Lookup<'_>, item: &Item, doubts: &mut Doubts) {
    if let Some(Known::Tool(tool)) = look.book.table.get(look.text(item.name).as_ref()) {
        doubts.tools.insert(*tool);
    }
    for said in &item.said {
        match said.what {
            SaidWhat::By(party) => doubts.parties.extend(look.party(party)),
            SaidWhat::On(code) => doubts.batches.extend(look.book.batch_id(&look.text(code))),
            _ => {}
        }
    }
}

/// Puts in doubt all that is named in a text that could not be read: its words, and its texts between quotes.
fn doubt_names(look: &Lookup<'_>, text: &str, doubts: &mut Doubts) {
    let quote = |c: char| matches!(c, '"' | '“' | '”' | '„');
    let gap = |c: char| c.is_whitespace() || c == ',';
    let words = text.split(quote).step_by(2).flat_map(|between| between.split(gap));
    for name in words.chain(text.split(quote).skip(1).step_by(2)).filter(|name| !name.is_empty()) {
        if let Some(label) = look.book.label_id(name) {
            doubts.papers.insert(label);
            doubts.parties.insert(label);
        }
        doubts.batches.extend(look.book.batch_id(name));
        match look.book.table.get(name) {
            Some(Known::Channel(channel)) => {
                doubts.channels.insert(*channel);
            }
            Some(Known::Tool(tool)) => {
                doubts.tools.insert(*tool);
            }
            _ => {}
        }
    }
}
