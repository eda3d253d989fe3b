//! What belongs to each thing, batch, order and bill, found once: so that all sheets together take as long as the book is.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::batch_goods::{PiecesOfBatches, Where, pieces_of_batches};
use super::definition_lines::DefinitionLines;
use super::sheet::{SheetKind, SheetName, SheetPlace};
use crate::costing::{Account, BatchState, Flow, Movement, Posting, StandardPrices, TaxItem};
use crate::events::{EventKind, Returned};
use crate::names::{BatchId, LabelId, Named, ThingId};
use crate::reports::FigureNames;
use crate::reports::payment_line::payment_line;
use crate::sources::{LineIndex, Span};
use crate::units::{Fixed6, checked_add_exact};
use crate::year::Books;

/// An item of a batch: the batch's index, and the item's among what it used.
pub(super) type UsedAt = (u32, u32);

/// The lists of a costed book by what they belong to. Everything is an index into the lists themselves, in their order.
#[derive(Debug)]
pub struct SheetIndex<'a> {
    pub(super) books: Books<'a>,
    pub(super) names: &'a FigureNames<'a>,
    moved: Vec<Vec<u32>>,
    used: Vec<Vec<UsedAt>>,
    lots: Vec<Vec<u32>>,
    order_moves: Vec<Vec<u32>>,
    order_posts: Vec<Vec<u32>>,
    taxes: BTreeMap<u32, Vec<u32>>,
    /// The entries by which something of an order went back.
    returns: BTreeMap<u32, BTreeSet<u32>>,
    /// Of how many orders something went back by an entry.
    orders_of_return: BTreeMap<u32, usize>,
    left: BTreeMap<u32, Decimal>,
    pieces: PiecesOfBatches,
    straight: BTreeMap<BatchId, Vec<u32>>,
    on_hand: Vec<(Decimal, Fixed6)>,
    lines: LineIndex<'a>,
    definitions: DefinitionLines<'a>,
    pub(super) prices: StandardPrices,
}

impl<'a> SheetIndex<'a> {
    /// Goes through a book once. `None` where a figure is too large to be carried.
    #[must_use]
    pub fn of(books: Books<'a>, names: &'a FigureNames<'a>) -> Option<Self> {
        let (book, costed) = (books.book, books.costed);
        let none = |count: usize| vec![Vec::new(); count];
        let mut index = Self {
            books,
            names,
            moved: none(book.things.len()),
            used: vec![Vec::new(); book.things.len()],
            lots: none(book.things.len()),
            order_moves: none(costed.orders.len()),
            order_posts: none(costed.orders.len()),
            taxes: BTreeMap::new(),
            returns: BTreeMap::new(),
            orders_of_return: BTreeMap::new(),
            left: BTreeMap::new(),
            pieces: pieces_of_batches(costed)?,
            straight: BTreeMap::new(),
            on_hand: vec![Default::default(); book.things.len()],
            lines: LineIndex::of(books.sources),
            definitions: DefinitionLines::of(books.sources),
            prices: StandardPrices::of(costed)?,
        };
        for (at, movement) in (0u32..).zip(&costed.movements) {
            put(&mut index.moved, movement.thing.map(ThingId::index), at);
            put(&mut index.order_moves, movement.order.map(|order| order as usize), at);
            if let Some(batch) = movement.batch.filter(|_| movement.thing.is_none())
                && matches!(movement.flow, Flow::Bought | Flow::Opened)
            {
                index.straight.entry(batch).or_default().push(at);
            }
        }
        for (at, posting) in (0u32..).zip(&costed.postings) {
            put(&mut index.order_posts, posting.order.map(|order| order as usize), at);
        }
        for (batch, account) in (0u32..).zip(&costed.batches) {
            for (item, used) in (0u32..).zip(&account.used) {
                put(&mut index.used, Some(used.thing.index()), (batch, item));
            }
        }
        for (at, tax) in (0u32..).zip(&costed.taxes) {
            if let Some(order) = tax.order {
                index.taxes.entry(order).or_default().push(at);
            }
        }
        index.find_returns();
        for lot in &costed.stock {
            let left = index.left.entry(lot.origin.number).or_default();
            *left = checked_add_exact(*left, lot.quantity).ok()?;
            let (quantity, paid) = index.on_hand.get_mut(lot.thing.index())?;
            (*quantity, *paid) = (checked_add_exact(*quantity, lot.quantity).ok()?, paid.checked_add(lot.vector.paid()?)?);
        }
        let lots = costed.trace.as_ref().map_or(&[][..], |trace| trace.lots.as_slice());
        for (at, lot) in (0u32..).zip(lots) {
            put(&mut index.lots, Some(lot.thing.index()), at);
        }
        Some(index)
    }

    /// The book.
    #[must_use]
    pub fn books(&self) -> Books<'a> {
        self.books
    }

    /// The name of a thing's sheet.
    #[must_use]
    pub fn thing_name(&self, thing: ThingId) -> SheetName {
        SheetName::new(SheetKind::Thing, self.names.thing(thing))
    }

    /// The name of a batch's sheet.
    #[must_use]
    pub fn batch_name(&self, batch: BatchId) -> SheetName {
        SheetName::new(SheetKind::Batch, self.names.batch(batch))
    }

    /// The name of an order's sheet, by the order's index.
    #[must_use]
    pub fn order_name(&self, order: u32) -> SheetName {
        SheetName::new(SheetKind::Order, self.names.order(order))
    }

    /// The line of the book at which a span begins; none of an empty one.
    pub(super) fn place(&self, at: Span) -> Option<SheetPlace> {
        let place = self.lines.place(at.start).filter(|_| !at.is_empty())?;
        Some(SheetPlace { file: place.path.to_owned(), line: place.line })
    }

    /// The line of a definition that begins with a word, as it is in force at the end of the book; else the definition's head.
    pub(super) fn line_of_definition(&self, named: &Named, word: &str) -> Option<SheetPlace> {
        let day = self.books.costed.until.map(|day| day.to_string()).unwrap_or_default();
        self.definitions.find(&named.name, word, &day).or_else(|| self.place(named.span))
    }

    /// The line by which money came or went back for an order on a day; else the head of its sale.
    pub(super) fn place_of_payment(&self, order: Option<LabelId>, day: NaiveDate, head: Span) -> Option<SheetPlace> {
        self.place(payment_line(self.books.log, order, day).unwrap_or(head))
    }

    /// The head of an event.
    pub(super) fn place_of_event(&self, event: u32) -> Option<SheetPlace> {
        self.place(self.books.log.events.get(event as usize)?.head)
    }

    pub(super) fn moved(&self, thing: ThingId) -> impl Iterator<Item = &'a Movement> {
        let movements = &self.books.costed.movements;
        at(&self.moved, thing.index()).iter().filter_map(|at| movements.get(*at as usize))
    }

    pub(super) fn used(&self, thing: ThingId) -> &[UsedAt] {
        self.used.get(thing.index()).map_or(&[], Vec::as_slice)
    }

    /// The lots of a thing, as indices into the trace's.
    pub(super) fn lots(&self, thing: ThingId) -> &[u32] {
        at(&self.lots, thing.index())
    }

    /// What was bought straight for a batch, or lay in it when the book began.
    pub(super) fn straight_to(&self, batch: BatchId) -> impl Iterator<Item = &'a Movement> {
        let movements = &self.books.costed.movements;
        self.straight.get(&batch).into_iter().flatten().filter_map(|at| movements.get(*at as usize))
    }

    /// Where the pieces of a batch are.
    pub(super) fn pieces_of(&self, batch: BatchId) -> Option<&BTreeMap<(ThingId, Where), Decimal>> {
        self.pieces.get(&batch)
    }

    /// How much of a lot is left.
    pub(super) fn left(&self, number: u32) -> Decimal {
        self.left.get(&number).copied().unwrap_or_default()
    }

    /// How much of a thing is on hand, and its paid cost.
    pub(super) fn on_hand(&self, thing: ThingId) -> (Decimal, Fixed6) {
        self.on_hand.get(thing.index()).copied().unwrap_or_default()
    }

    pub(super) fn order_moves(&self, order: usize) -> impl Iterator<Item = &'a Movement> {
        let movements = &self.books.costed.movements;
        at(&self.order_moves, order).iter().filter_map(|at| movements.get(*at as usize))
    }

    pub(super) fn order_posts(&self, order: usize) -> impl Iterator<Item = &'a Posting> {
        let postings = &self.books.costed.postings;
        at(&self.order_posts, order).iter().filter_map(|at| postings.get(*at as usize))
    }

    /// The sales tax of an order, collected and given back.
    pub(super) fn taxes(&self, order: usize) -> impl Iterator<Item = &'a TaxItem> {
        let taxes = &self.books.costed.taxes;
        let order = u32::try_from(order).ok();
        order
            .and_then(|order| self.taxes.get(&order))
            .map_or(&[][..], Vec::as_slice)
            .iter()
            .filter_map(|at| taxes.get(*at as usize))
    }

    /// The entries by which something of an order went back, in their order.
    pub(super) fn returns(&self, order: usize) -> impl Iterator<Item = (u32, &'a Returned)> {
        let events = &self.books.log.events;
        let found = u32::try_from(order).ok().and_then(|order| self.returns.get(&order));
        found.into_iter().flatten().filter_map(|at| match &events.get(*at as usize)?.kind {
            EventKind::Returned(returned) => Some((*at, &**returned)),
            _ => None,
        })
    }

    /// Of how many orders something went back by an entry.
    pub(super) fn orders_of_return(&self, event: u32) -> usize {
        self.orders_of_return.get(&event).copied().unwrap_or_default()
    }

    fn find_returns(&mut self) {
        let costed = self.books.costed;
        let mut of_names: BTreeMap<LabelId, u32> = BTreeMap::new();
        for (at, account) in (0u32..).zip(&costed.orders) {
            of_names.extend(account.order.map(|name| (name, at)));
        }
        for (at, event) in (0u32..).zip(&self.books.log.events) {
            if let EventKind::Returned(returned) = &event.kind
                && let Some(order) = returned.order.and_then(|name| of_names.get(&name))
            {
                self.returns.entry(*order).or_default().insert(at);
            }
        }
        // Of a return that names no order, those of which it was.
        let posted = costed.postings.iter().filter(|one| matches!(one.account, Account::Refund | Account::FeeBack));
        let back = costed.movements.iter().filter(|one| one.flow == Flow::Sold && one.quantity.is_sign_negative());
        let found = posted.map(|one| (one.order, one.event)).chain(back.map(|one| (one.order, one.event)));
        for (order, event) in found {
            if let Some(order) = order {
                self.returns.entry(order).or_default().insert(event);
            }
        }
        for event in self.returns.values().flatten() {
            let orders = self.orders_of_return.entry(*event).or_default();
            *orders = orders.saturating_add(1);
        }
    }

    /// Whether a batch was begun: one that was only named has nothing to show.
    #[must_use]
    pub fn is_begun(&self, batch: usize) -> bool {
        self.books.costed.batches.get(batch).is_some_and(|one| one.state != BatchState::NotBegun)
    }
}

fn at(lists: &[Vec<u32>], which: usize) -> &[u32] {
    lists.get(which).map_or(&[], Vec::as_slice)
}

fn put<T>(lists: &mut [Vec<T>], which: Option<usize>, what: T) {
    if let Some(list) = which.and_then(|which| lists.get_mut(which)) {
        list.push(what);
    }
}
