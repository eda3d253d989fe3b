//! Rule 11 and what leaves without a sale: counts, gifts, losses, and goods back to their suppliers.

use std::collections::BTreeSet;

use kerfbook::costing::Flow;
use kerfbook::events::{Counted, Credited, Left, LeftHow, SentBack};
use kerfbook::names::{LabelId, PlaceId, ThingId};
use kerfbook::syntax::GaveAs;
use num_traits::{Signed, Zero};

use super::exact_number::{Exact, of_amount, of_decimal, share};
use super::exact_vector::{Cut, ExactVector};
use super::twin::Twin;
use super::twin_shelf::Origin;

impl Twin<'_> {
    /// Goods that left without a sale.
    pub(crate) fn left(&mut self, left: &Left) {
        let flow = match left.how {
            LeftHow::TookHome => Flow::TakenHome,
            LeftHow::Gave(GaveAs::Sample) => Flow::Sample,
            LeftHow::Gave(GaveAs::Gift | GaveAs::Thanks) => Flow::Gift,
            LeftHow::Gave(GaveAs::Donation) => Flow::Donated,
            LeftHow::Scrapped => Flow::Scrapped,
            LeftHow::UsedUp => Flow::UsedInShop,
        };
        for line in &left.lines {
            let code = line.goods.lot;
            let much = of_decimal(line.goods.quantity);
            let issued = self.issue(line.goods.thing, left.place, &much, |origin| code.is_none() || origin.code == code);
            self.moves(flow, Some(line.goods.thing), &issued.vector);
        }
    }

    /// A count: less is a named loss, more comes in as a negative one.
    pub(crate) fn counted(&mut self, counted: &Counted) {
        for line in &counted.lines {
            let here = self.shelf.on_hand(line.thing, counted.place, line.lot);
            let now = of_decimal(line.quantity);
            if now < here {
                self.missing(line.thing, counted.place, &(&here - &now), line.lot);
            } else if now > here {
                // What was taken without a record has come too, if so many are there in spite of it.
                let open = self.unrecorded.get(&(line.thing, counted.place)).map(|open| open.quantity.clone());
                self.found_more(line.thing, counted.place, now - here + open.unwrap_or_default(), line.lot);
            }
        }
        if counted.nothing_else {
            // Of what is counted by lots, the lots that are not listed are not there.
            let by_lots: BTreeSet<ThingId> =
                counted.lines.iter().filter(|line| line.lot.is_some()).map(|line| line.thing).collect();
            for thing in by_lots {
                let is_other = |origin: &Origin| !counted.lines.iter().any(|line| line.thing == thing && line.lot == origin.code);
                let here = self.shelf.heaps.get(&(thing, counted.place)).map_or(&[][..], |heap| &heap.lots);
                let others = here.iter().filter(|lot| is_other(&lot.origin));
                let others: Vec<(u32, Exact)> = others.map(|lot| (lot.origin.number, lot.quantity.clone())).collect();
                // Each lot is a draw of its own, with its own rounding.
                for (number, all) in others {
                    let issued = self.issue(thing, counted.place, &all, |origin| origin.number == number);
                    self.moves(Flow::Missing, Some(thing), &issued.vector);
                }
            }
            let listed: Vec<ThingId> = counted.lines.iter().map(|line| line.thing).collect();
            let here: Vec<ThingId> =
                self.shelf.heaps.keys().filter(|(_, place)| *place == counted.place).map(|(thing, _)| *thing).collect();
            for thing in here.into_iter().filter(|thing| !listed.contains(thing)) {
                let all = self.shelf.on_hand(thing, counted.place, None);
                self.missing(thing, counted.place, &all, None);
            }
        }
    }

    fn missing(&mut self, thing: ThingId, place: PlaceId, much: &Exact, code: Option<LabelId>) {
        if !much.is_zero() {
            let issued = self.issue(thing, place, much, |origin| code.is_none() || origin.code == code);
            self.moves(Flow::Missing, Some(thing), &issued.vector);
        }
    }

    /// More than is booked comes in at the newest lot's unit cost at that place, else anywhere, else at what was last known.
    fn found_more(&mut self, thing: ThingId, place: PlaceId, more: Exact, code: Option<LabelId>) {
        let lots = self.shelf.lots();
        let newest = |here: bool| {
            lots.iter().filter(|(of, at, _)| *of == thing && (!here || *at == place)).max_by_key(|(.., lot)| lot.origin)
        };
        let vector = match newest(true).or_else(|| newest(false)) {
            Some((.., lot)) => lot.vector.part(&(&more / &lot.quantity), Cut::Drawn),
            None => self.last_known_cost(thing, &more),
        };
        self.moves(Flow::Missing, Some(thing), &vector.negated());
        self.arrives(thing, place, more, vector, code);
    }

    /// Goods back to a supplier: of the named lot or receipt, else of the newest lot from that supplier. The refund lowers what was
    /// bought; what it falls short of their cost is a price difference.
    pub(crate) fn sent_back(&mut self, sent: &SentBack) {
        let refunds: Exact = sent.lines.iter().map(|line| of_amount(line.refunded)).sum();
        for line in &sent.lines {
            let thing = line.goods.thing;
            let numbers = self.lots_of(sent.supplier, sent.receipt, thing, line.goods.lot);
            let much = of_decimal(line.goods.quantity);
            let code = line.goods.lot;
            let issued = self.issue(thing, sent.place, &much, |origin| {
                if code.is_some() { origin.code == code } else { numbers.contains(&origin.number) }
            });
            let refund = of_amount(line.refunded) + of_amount(sent.sales_tax) * share(&of_amount(line.refunded), &refunds);
            let back = ExactVector::of(self.goods_component(thing), refund).with_slack(1);
            self.moves(Flow::SentBack, Some(thing), &back.negated());
            let mut difference = issued.vector;
            difference.add(&back.negated());
            self.moves(Flow::PriceDifference, Some(thing), &difference);
        }
    }

    /// The numbers of the lots that a supplier's entry is about.
    fn lots_of(&self, supplier: LabelId, receipt: Option<LabelId>, thing: ThingId, code: Option<LabelId>) -> Vec<u32> {
        let of = self.purchases.iter().filter(|(_, bought)| {
            bought.thing == thing && bought.supplier == Some(supplier) && (receipt.is_none() || bought.receipt == receipt)
        });
        let numbers: Vec<u32> = of.map(|(number, _)| *number).collect();
        if receipt.is_some() || code.is_some() { numbers } else { numbers.last().copied().into_iter().collect() }
    }

    /// A credit lowers that lot's cost; for what has left of it, it is a price difference of today.
    pub(crate) fn credited(&mut self, credited: &Credited) {
        for (money, thing, _) in &credited.lines {
            let component = self.goods_component(*thing);
            let numbers = self.lots_of(credited.supplier, credited.receipt, *thing, None);
            let money = of_amount(*money);
            let bought: Exact =
                numbers.iter().filter_map(|number| self.purchases.get(number)).map(|bought| of_decimal(bought.quantity)).sum();
            self.moves(Flow::Credited, Some(*thing), &ExactVector::of(component, -money.clone()));
            let mut gone = money.clone();
            let average = self.shelf.average;
            for ((of, _), heap) in &mut self.shelf.heaps {
                if of != thing {
                    continue;
                }
                for lot in heap.lots.iter_mut().filter(|lot| numbers.contains(&lot.origin.number)) {
                    let part = &money * share(&lot.quantity, &bought);
                    gone -= &part;
                    let off = ExactVector::of(component, -part).with_slack(1);
                    if average { heap.pool.add(&off) } else { lot.vector.add(&off) }
                }
            }
            if gone.is_positive() {
                self.moves(Flow::PriceDifference, Some(*thing), &ExactVector::of(component, -gone).with_slack(1));
            }
        }
    }
}
