//! Issuing goods from a shelf, and putting new goods on one.
//!
//! Costing rule 2: an issue larger than what is on hand is a mistake that names the day's stock and the last purchase; with
//! `short stock is a warning` what is missing comes from the *unrecorded* source at the last known unit vector, and a later
//! receipt settles it first, the difference being a named price correction.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::fault::{Costed, Fault, OrFault};
use crate::costing::ledger::About;
use crate::costing::shelf::{Lot, Wanted};
use crate::costing::trace::NewLot;
use crate::costing::{Amounts, CostVector, Flow, Issue, LinkedLot, LotMade, LotOrigin, Made, Pieces};
use crate::events::StockLine;
use crate::names::{LabelId, PlaceId, ThingId};
use crate::sources::Span;
use crate::units::{checked_add_exact, checked_sub_exact};

/// Goods that were issued.
#[derive(Clone, Debug, Default)]
pub(crate) struct Issued {
    /// Lot by lot.
    pub(crate) pieces: Vec<Pieces>,
    /// The sum of their cost.
    pub(crate) vector: CostVector,
    /// Where the trace has them.
    pub(crate) traced: Issue,
}

impl Engine<'_> {
    /// What a named lot means: the label, and the batch of that name.
    pub(crate) fn wanted(&self, lot: Option<LabelId>) -> Wanted {
        lot.map_or(Wanted::Oldest, |label| Wanted::Named(label, self.batch_of_label.get(&label).copied()))
    }

    /// Issues a line's goods from a place.
    pub(crate) fn issue_line(&mut self, line: &StockLine, place: PlaceId) -> Costed<Issued> {
        self.issue(line.thing, place, line.quantity, line.lot, line.span)
    }

    /// Issues goods from a place, from a named lot if one is given.
    pub(crate) fn issue(
        &mut self,
        thing: ThingId,
        place: PlaceId,
        quantity: Decimal,
        lot: Option<LabelId>,
        line: Span,
    ) -> Costed<Issued> {
        let wanted = self.wanted(lot);
        let shelf = self.shelf_at(thing, place);
        let available = self.shelves[shelf].available(wanted)?;
        let from_stock = quantity.min(available);
        let pieces = self.shelves[shelf].take(from_stock, wanted)?;
        let mut issued = Issued { pieces, ..Issued::default() };
        for piece in &issued.pieces {
            issued.vector.add(&piece.vector).or_fault()?;
        }
        let missing = checked_sub_exact(quantity, from_stock)?;
        if !missing.is_zero() {
            self.issue_short(thing, place, lot, (quantity, missing), line, &mut issued)?;
        }
        self.trace_issue(thing, place, line, &mut issued)?;
        Ok(issued)
    }

    /// What was told to be short at one place is short at another too, to which it was to come.
    pub(crate) fn short_at(&mut self, thing: ThingId, from: PlaceId, to: PlaceId) {
        let (from, to) = (self.shelf_at(thing, from), self.shelf_at(thing, to));
        let short = self.shelves[from].shortage_told || self.shelves[from].lot_shortage_told;
        self.shelves[to].shortage_told |= short;
    }

    /// Whether a thing was told to be short at some place.
    pub(crate) fn was_short(&self, thing: ThingId) -> bool {
        (0..).map(PlaceId).take(self.book.places.len()).any(|place| self.shelves[self.shelf_at(thing, place)].shortage_told)
    }

    fn issue_short(
        &mut self,
        thing: ThingId,
        place: PlaceId,
        lot: Option<LabelId>,
        (asked, missing): (Decimal, Decimal),
        line: Span,
        issued: &mut Issued,
    ) -> Costed<()> {
        let shelf = self.shelf_at(thing, place);
        let uncertain = self.log.is_uncertain(thing, self.now.date);
        if !*self.book.shop.short_stock_is_a_warning.on(self.now.date) {
            let at = &mut self.shelves[shelf];
            // What a lot lacks may lack on the shelf later; a second lot may be misspelled as well.
            if !uncertain && !at.shortage_told && (lot.is_some() || !at.lot_shortage_told) {
                at.shortage_told = lot.is_none();
                at.lot_shortage_told |= lot.is_some();
                let told = errors::short_stock(self, thing, place, lot, asked, missing, line);
                self.found.push(told);
            }
            return Ok(());
        }
        let mut vector = match &self.newest[thing.index()] {
            Some((quantity, vector)) => vector.scaled(missing, *quantity).or_fault()?,
            None => CostVector::default(),
        };
        // Nobody was owed for what no entry brought.
        vector.drop_marks(|_| false);
        if !uncertain {
            let told = errors::short_stock_warning(self, thing, place, asked, missing, line);
            self.found.push(told);
        }
        self.ledger.flow(
            self.now,
            Flow::Unrecorded,
            &vector,
            About { line, thing: Some(thing), quantity: missing, ..About::default() },
        )?;
        issued.vector.add(&vector).or_fault()?;
        let open = self.shelves[shelf].unrecorded.get_or_insert_with(|| (Decimal::ZERO, CostVector::default()));
        open.0 = checked_add_exact(open.0, missing)?;
        open.1.add(&vector).or_fault()?;
        let new = NewLot { thing, place, quantity: missing, code: None, batch: None, line, made: Made::Unrecorded };
        let origin = self.origin(new, &vector)?;
        // It was never on the shelf, from which the issue is about to take it.
        self.track_piece(line, (thing, place), (origin.number, missing), &vector)?;
        issued.pieces.push(Pieces { lot: origin, quantity: missing, vector });
        Ok(())
    }

    /// Writes an issue down in the trace, or the links.
    pub(crate) fn trace_issue(&mut self, thing: ThingId, place: PlaceId, line: Span, issued: &mut Issued) -> Costed<()> {
        issued.traced = self.track_pieces(line, (thing, place), &issued.pieces, true)?;
        Ok(())
    }

    /// Writes pieces that went off a shelf, or onto one, down in the trace, or the links.
    pub(crate) fn track_pieces(&mut self, line: Span, shelf: (ThingId, PlaceId), pieces: &[Pieces], went: bool) -> Costed<Issue> {
        if let Some(trace) = &mut self.trace {
            return trace.move_pieces(self.now, line, shelf, pieces, went);
        }
        let Some(links) = &mut self.ledger.links else { return Ok(Issue::default()) };
        let moved = pieces.iter().map(|piece| (piece.lot.number, if went { -piece.quantity } else { piece.quantity }));
        links.move_pieces(self.now, line, shelf.0, moved)
    }

    /// Writes so much of a lot that came onto a shelf, below zero: that went, down in the trace, or the links. The cost has no sign.
    fn track_piece(
        &mut self,
        line: Span,
        shelf: (ThingId, PlaceId),
        (lot, quantity): (u32, Decimal),
        vector: &CostVector,
    ) -> Costed<()> {
        if let Some(trace) = &mut self.trace {
            trace.move_piece(self.now, line, shelf, (lot, quantity), vector)?;
        }
        if let Some(links) = &mut self.ledger.links {
            links.move_pieces(self.now, line, shelf.0, std::iter::once((lot, quantity)))?;
        }
        Ok(())
    }

    /// A new origin, of today.
    fn origin(&mut self, new: NewLot, vector: &CostVector) -> Costed<LotOrigin> {
        self.lots_made = self.lots_made.checked_add(1).or_fault()?;
        let NewLot { thing, place, quantity, code, batch, line, made } = new;
        let origin = LotOrigin { date: self.now.date, number: self.lots_made, code, batch, event: self.now.event };
        if let Some(trace) = &mut self.trace {
            let cost = Amounts::of(vector).or_fault()?;
            trace.lots.push(LotMade { origin, line, thing, place, quantity, cost, made });
        }
        if let Some(links) = &mut self.ledger.links {
            links.lots.push(LinkedLot { origin, line, thing, place, quantity, came: made.into() });
        }
        Ok(origin)
    }

    /// Puts new goods on a shelf: settles what was issued without a record first.
    pub(crate) fn receive(&mut self, new: NewLot, vector: CostVector) -> Costed<()> {
        let NewLot { thing, place, quantity, line, .. } = new;
        let origin = self.origin(new, &vector)?;
        if vector.has_negative() {
            self.found.push(errors::below_zero(self, thing, line));
            return Err(Fault::Told);
        }
        if quantity.is_zero() {
            return Ok(());
        }
        self.newest[thing.index()] = Some((quantity, vector.clone()));
        self.put(thing, place, Lot { origin, quantity, vector }, line)
    }

    /// Puts goods on a shelf that keep their origin (moved).
    fn put(&mut self, thing: ThingId, place: PlaceId, lot: Lot, line: Span) -> Costed<()> {
        self.track_piece(line, (thing, place), (lot.origin.number, lot.quantity), &lot.vector)?;
        self.shelve(thing, place, lot, line)
    }

    /// Puts goods on a shelf that the trace knows to be there (returned): settles what was issued without a record first.
    pub(crate) fn shelve(&mut self, thing: ThingId, place: PlaceId, mut lot: Lot, line: Span) -> Costed<()> {
        let shelf = self.shelf_at(thing, place);
        self.shelves[shelf].last_in = Some((self.now.event, line));
        if let Some((open, estimate)) = self.shelves[shelf].unrecorded.take() {
            let settled = open.min(lot.quantity);
            let mut estimate_left = estimate;
            let estimated = estimate_left.take_part(settled, open).or_fault()?;
            let actual = lot.vector.take_part(settled, lot.quantity).or_fault()?;
            lot.quantity = checked_sub_exact(lot.quantity, settled)?;
            self.track_piece(line, (thing, place), (lot.origin.number, -settled), &actual)?;
            let rest = checked_sub_exact(open, settled)?;
            if !rest.is_zero() {
                self.shelves[shelf].unrecorded = Some((rest, estimate_left));
            }
            let about = About { line, thing: Some(thing), quantity: settled, ..About::default() };
            let mut difference = actual;
            difference.subtract(&estimated).or_fault()?;
            self.ledger.flow(self.now, Flow::Unrecorded, &estimated.negated().or_fault()?, about)?;
            // The settled pieces count once, as recorded now.
            self.ledger.flow(self.now, Flow::PriceDifference, &difference, About { quantity: Decimal::ZERO, ..about })?;
        }
        if lot.quantity.is_zero() {
            return Ok(());
        }
        self.shelves[shelf].put(lot)
    }

    /// Puts issued goods on another shelf as they are.
    pub(crate) fn put_pieces(&mut self, thing: ThingId, place: PlaceId, pieces: Vec<Pieces>, line: Span) -> Costed<()> {
        for piece in pieces {
            self.put(thing, place, Lot { origin: piece.lot, quantity: piece.quantity, vector: piece.vector }, line)?;
        }
        Ok(())
    }
}
