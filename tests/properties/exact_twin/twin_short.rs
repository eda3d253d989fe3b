//! Rule 2, `short stock is a warning`: what is not there comes from an unrecorded source at the last known unit cost; what comes in later
//! settles that first, and the difference is a price difference.

use kerfbook::costing::Flow;
use kerfbook::names::{PlaceId, ThingId};
use num_traits::Zero;

use super::exact_number::{Exact, share};
use super::exact_vector::{Cut, ExactVector};
use super::twin::Twin;
use super::twin_shelf::{Issued, Origin, TwinLot};

/// What was taken without a record and has not come yet, all together.
#[derive(Clone, Debug, Default)]
pub(crate) struct Unrecorded {
    pub(crate) quantity: Exact,
    pub(crate) vector: ExactVector,
}

impl Twin<'_> {
    /// Issues from the lots that are chosen, and what they lack from the unrecorded source.
    pub(crate) fn issue(&mut self, thing: ThingId, place: PlaceId, much: &Exact, chosen: impl Fn(&Origin) -> bool) -> Issued {
        let (mut issued, lacks) = self.shelf.issue(thing, place, much, chosen);
        if lacks.is_zero() {
            return issued;
        }
        assert!(*self.book.shop.short_stock_is_a_warning.on(self.date), "short of {thing:?} at {place:?} by {lacks}");
        let vector = self.last_known_cost(thing, &lacks);
        self.moves(Flow::Unrecorded, Some(thing), &vector);
        let open = self.unrecorded.entry((thing, place)).or_default();
        open.quantity += &lacks;
        open.vector.add(&vector);
        issued.vector.add(&vector);
        let origin = Origin { date: self.date, number: self.shelf.next_number(), event: self.event, code: None };
        issued.pieces.push(TwinLot { origin, quantity: lacks, vector });
        issued
    }

    /// What so much of a thing cost when it last came; nothing where it never did.
    pub(crate) fn last_known_cost(&self, thing: ThingId, much: &Exact) -> ExactVector {
        self.last_known.get(&thing).map_or_else(ExactVector::default, |(of, vector)| vector.part(&(much / of), Cut::Drawn))
    }

    /// Whether something of a thing was taken at a place without a record.
    pub(crate) fn lacks(&self, thing: ThingId, place: PlaceId) -> bool {
        self.unrecorded.get(&(thing, place)).is_some_and(|open| !open.quantity.is_zero())
    }

    /// Lays goods at a place, after what settles the unrecorded quantity there; the difference of their costs is noted.
    pub(crate) fn lay(&mut self, thing: ThingId, place: PlaceId, mut lot: TwinLot) {
        self.settle_unrecorded(thing, place, &mut lot);
        self.shelf.put(thing, place, lot);
    }

    fn settle_unrecorded(&mut self, thing: ThingId, place: PlaceId, lot: &mut TwinLot) {
        let Some(open) = self.unrecorded.get_mut(&(thing, place)).filter(|open| !open.quantity.is_zero()) else { return };
        let part = if open.quantity < lot.quantity { open.quantity.clone() } else { lot.quantity.clone() };
        let booked = open.vector.draw(&share(&part, &open.quantity));
        let came = lot.vector.draw(&share(&part, &lot.quantity));
        open.quantity -= &part;
        lot.quantity -= &part;
        self.moves(Flow::Unrecorded, Some(thing), &booked.negated());
        let mut difference = came;
        difference.add(&booked.negated());
        self.moves(Flow::PriceDifference, Some(thing), &difference);
    }
}
