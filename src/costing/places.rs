//! Goods that move between places, are counted, or leave without a sale.
//!
//! Costing rules 9 and 11. Lots move as they are; consigned goods stay the shop's until sold. In a count less is a named loss; more
//! comes in at the newest lot's unit vector at that place, else anywhere, else at zero, as a negative loss.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors;
use crate::costing::errors::likely;
use crate::costing::fault::{Costed, OrFault};
use crate::costing::issue::Issued;
use crate::costing::ledger::{About, PostedTo};
use crate::costing::shelf::{Lot, Wanted};
use crate::costing::trace::NewLot;
use crate::costing::{Account, CostVector, Flow, Made, Mark};
use crate::events::{Counted, Left, LeftHow, Moved, StockLine};
use crate::names::{ChannelId, PlaceId, ThingId};
use crate::syntax::GaveAs;
use crate::units::{Fixed6, checked_add_exact, checked_sub_exact};

/// Of how many things a count takes all, without listing them, before it is told.
const NOT_LISTED: usize = 2;

impl Engine<'_> {
    pub(crate) fn cost_moved(&mut self, moved: &Moved) -> Costed<()> {
        for line in &moved.lines {
            let issued = self.issue_line(line, moved.from)?;
            self.put_pieces(line.thing, moved.to, issued.pieces, line.span)?;
            self.short_at(line.thing, moved.from, moved.to);
        }
        self.deal_with_place(moved.from);
        self.deal_with_place(moved.to);
        let channel = self.channel_of_place(moved.to).or_else(|| self.channel_of_place(moved.from));
        let to = PostedTo { line: self.now.head, channel, ..PostedTo::default() };
        self.ledger.post(self.now, Account::Postage, moved.postage, to)?;
        for line in &moved.packing {
            let packed = self.pack(line, moved.from, None)?;
            self.ledger.post(self.now, Account::Packing, packed, to)?;
        }
        Ok(())
    }

    fn channel_of_place(&self, place: PlaceId) -> Option<ChannelId> {
        let at = self.book.channels.iter().position(|channel| channel.place == Some(place))?;
        u32::try_from(at).ok().map(ChannelId)
    }

    /// Uses packing for an order or shipment; gives its paid cost.
    pub(crate) fn pack(&mut self, line: &StockLine, place: PlaceId, order: Option<u32>) -> Costed<Fixed6> {
        let issued = self.issue_line(line, place)?;
        let paid = issued.vector.paid().or_fault()?;
        let about = About {
            line: line.span,
            thing: Some(line.thing),
            quantity: line.quantity,
            order,
            issue: issued.traced,
            ..About::default()
        };
        self.ledger.flow(self.now, Flow::PackingUsed, &issued.vector, about)?;
        Ok(paid)
    }

    pub(crate) fn cost_left(&mut self, left: &Left) -> Costed<()> {
        let flow = match left.how {
            LeftHow::TookHome => Flow::TakenHome,
            LeftHow::Gave(GaveAs::Sample) => Flow::Sample,
            LeftHow::Gave(GaveAs::Gift | GaveAs::Thanks) => Flow::Gift,
            LeftHow::Gave(GaveAs::Donation) => Flow::Donated,
            LeftHow::Scrapped => Flow::Scrapped,
            LeftHow::UsedUp => Flow::UsedInShop,
        };
        for line in &left.lines {
            let goods = &line.goods;
            let issued = self.issue_line(goods, left.place)?;
            let about = About {
                line: goods.span,
                thing: Some(goods.thing),
                quantity: goods.quantity,
                on: left.on,
                worth: line.worth,
                issue: issued.traced,
                ..About::default()
            };
            self.ledger.flow(self.now, flow, &issued.vector, about)?;
        }
        Ok(())
    }

    pub(crate) fn cost_counted(&mut self, counted: &Counted) -> Costed<()> {
        self.last_counts.insert(counted.place, self.now.date);
        self.deal_with_place(counted.place);
        for line in &counted.lines {
            self.count_one(line, counted.place)?;
        }
        if counted.nothing_else {
            let (mut missing, mut paid) = (Vec::new(), Fixed6::ZERO);
            for at in 0..self.book.things.len() {
                let Ok(id) = u32::try_from(at) else { break };
                let (quantity, cost) = self.miss_what_is_not_listed(ThingId(id), counted)?;
                if !quantity.is_zero() && counted.lines.iter().all(|line| line.thing != ThingId(id)) {
                    missing.push((ThingId(id), quantity, cost));
                    paid = paid.checked_add(cost).or_fault()?;
                }
            }
            // A place where nothing is there at all is said to be empty.
            if missing.len() >= NOT_LISTED && !counted.lines.is_empty() {
                missing.sort_by_key(|(_, _, cost)| std::cmp::Reverse(*cost));
                let told = likely::nothing_else_takes(self, &missing, paid);
                self.found.push(told);
            }
        }
        Ok(())
    }

    /// `nothing else`: the lots of a thing that no line counts are missing. Gives how much that is, and its paid cost.
    fn miss_what_is_not_listed(&mut self, thing: ThingId, counted: &Counted) -> Costed<(Decimal, Fixed6)> {
        let shelf = self.shelf_at(thing, counted.place);
        let listed: Vec<Wanted> =
            counted.lines.iter().filter(|line| line.thing == thing).map(|line| self.wanted(line.lot)).collect();
        let is_listed = |lot: &&Lot| listed.iter().any(|wanted| wanted.takes(&lot.origin)) || lot.origin.event == self.now.event;
        let others = self.shelves[shelf].lots().filter(|lot| !is_listed(lot));
        let others: Vec<(u32, Decimal)> = others.map(|lot| (lot.origin.number, lot.quantity)).collect();
        let (mut issued, mut quantity) = (Issued::default(), Decimal::ZERO);
        for (number, all) in others {
            for piece in self.shelves[shelf].take(all, Wanted::Exactly(number))? {
                issued.vector.add(&piece.vector).or_fault()?;
                quantity = checked_add_exact(quantity, piece.quantity)?;
                issued.pieces.push(piece);
            }
        }
        if quantity.is_zero() {
            return Ok((Decimal::ZERO, Fixed6::ZERO));
        }
        self.trace_issue(thing, counted.place, self.now.head, &mut issued)?;
        let about = About { line: self.now.head, thing: Some(thing), quantity, issue: issued.traced, ..About::default() };
        self.ledger.flow(self.now, Flow::Missing, &issued.vector, about)?;
        Ok((quantity, issued.vector.paid().or_fault()?))
    }

    /// Holds what is there of a thing, or of one of its lots, against the book.
    fn count_one(&mut self, counted: &StockLine, place: PlaceId) -> Costed<()> {
        let StockLine { thing, quantity: there, lot, span: line, .. } = *counted;
        let shelf = self.shelf_at(thing, place);
        let booked = self.shelves[shelf].available(self.wanted(lot))?;
        if there < booked {
            let missing = checked_sub_exact(booked, there)?;
            if lot.is_none() && self.is_far_less(thing, there, booked)? {
                let told = likely::counted_less(self, thing, (there, booked), line);
                self.found.push(told);
            }
            let issued = self.issue(thing, place, missing, lot, line)?;
            let about = About { line, thing: Some(thing), quantity: missing, issue: issued.traced, ..About::default() };
            self.ledger.flow(self.now, Flow::Missing, &issued.vector, about)?;
        } else if there > booked {
            // What was issued without a record has come too, if so many are there in spite of it.
            let unrecorded = self.shelves[shelf].unrecorded.as_ref().map(|(open, _)| *open);
            let more = checked_add_exact(checked_sub_exact(there, booked)?, unrecorded.unwrap_or_default())?;
            let vector = self.newest_vector(thing, place, more)?;
            let about = About { line, thing: Some(thing), quantity: -more, ..About::default() };
            let uncertain = self.log.is_uncertain(thing, self.now.date);
            if !uncertain && vector.is_some() && self.is_far_more(thing, there, booked)? {
                let told = likely::counted_more(self, thing, (there, booked), line);
                self.found.push(told);
            }
            if vector.is_none() && !uncertain {
                self.found.push(errors::found_without_cost(self, thing, line));
            }
            let vector = vector.unwrap_or_default();
            self.ledger.flow(self.now, Flow::Missing, &vector.negated().or_fault()?, about)?;
            // What is found of a lot is of that lot.
            let batch = lot.and_then(|label| self.batch_of_label.get(&label).copied());
            let code = lot.filter(|_| batch.is_none());
            let new = NewLot { thing, place, quantity: more, code, batch, line, made: Made::CountedMore };
            self.receive(new, vector)?;
        }
        Ok(())
    }

    /// The cost of a quantity at the newest lot's unit cost: at this place, else anywhere, else of the last that ever came.
    fn newest_vector(&self, thing: ThingId, place: PlaceId, quantity: Decimal) -> Costed<Option<CostVector>> {
        let mut newest: Option<(chrono::NaiveDate, u32, Decimal, CostVector)> = None;
        let here = self.shelf_at(thing, place);
        let first = thing.index() * self.book.places.len();
        let elsewhere = (first..first + self.book.places.len()).filter(|at| *at != here);
        for at in std::iter::once(here).chain(elsewhere) {
            let shelf = &self.shelves[at];
            if let Some(lot) = shelf.lots().next_back() {
                let (whole, vector) = if shelf.is_average() {
                    (shelf.on_hand(), shelf.value().clone())
                } else {
                    (lot.quantity, lot.vector.clone())
                };
                let key = (lot.origin.date, lot.origin.number);
                if newest.as_ref().is_none_or(|(date, number, ..)| key > (*date, *number)) {
                    newest = Some((key.0, key.1, whole, vector));
                }
            }
            if at == here && newest.is_some() {
                break;
            }
        }
        let last = match newest {
            Some((_, _, whole, vector)) => Some((whole, vector)),
            None => self.newest[thing.index()].clone(),
        };
        match last {
            Some((whole, vector)) => {
                let mut vector = vector.scaled(quantity, whole).or_fault()?;
                // What is found was not in the stock with which the year began.
                vector.drop_marks(|mark| matches!(mark, Mark::NotPaid(_)));
                Ok(Some(vector))
            }
            None => Ok(None),
        }
    }
}
