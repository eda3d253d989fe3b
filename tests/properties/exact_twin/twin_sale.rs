//! Rules 9 and 10: goods sold, moved between places, and returned with the very vector that they left with.

use chrono::NaiveDate;
use kerfbook::costing::{Account, Flow};
use kerfbook::events::{Moved, ReturnFate, Returned, Sold, StockLine};
use kerfbook::names::ThingId;
use num_traits::Signed;

use super::exact_number::{Exact, nothing, of_amount, of_decimal, share, whole};
use super::exact_vector::ExactVector;
use super::twin::Twin;
use super::twin_money::ValuedLine;
use super::twin_order::{TwinOrder, TwinOrderLine};

impl Twin<'_> {
    /// A sale.
    pub(crate) fn sold(&mut self, sold: &Sold) {
        let mut lines = Vec::new();
        for line in &sold.lines {
            let code = line.lot;
            let issued =
                self.issue(line.thing, sold.place, &of_decimal(line.quantity), |origin| code.is_none() || origin.code == code);
            self.moves(Flow::Sold, Some(line.thing), &issued.vector);
            lines.push(TwinOrderLine { thing: line.thing, date: self.date, pieces: issued.pieces, left_with_buyer: nothing() });
        }
        let packing = self.packed(&sold.packing);
        let known = sold.order.and_then(|name| self.orders.iter().position(|order| order.order == Some(name)));
        let at = known.unwrap_or(self.orders.len());
        let values = self.sale_money(sold, u32::try_from(at).expect("a small book"), known.is_some(), &packing);
        match self.orders.get_mut(at) {
            Some(order) => {
                order.lines.extend(lines);
                order.values.extend(values);
            }
            None => self.orders.push(TwinOrder { order: sold.order, channel: sold.channel, lines, values }),
        }
    }

    fn packed(&mut self, lines: &[StockLine]) -> ExactVector {
        let mut all = ExactVector::default();
        for line in lines {
            let code = line.lot;
            let home = self.home();
            let issued = self.issue(line.thing, home, &of_decimal(line.quantity), |origin| code.is_none() || origin.code == code);
            self.moves(Flow::PackingUsed, Some(line.thing), &issued.vector);
            all.add(&issued.vector);
        }
        all
    }

    /// Goods that change their place. They keep their age and their cost.
    pub(crate) fn moved(&mut self, moved: &Moved) {
        for line in &moved.lines {
            let code = line.lot;
            let issued =
                self.issue(line.thing, moved.from, &of_decimal(line.quantity), |origin| code.is_none() || origin.code == code);
            if self.shelf.average && !self.lacks(line.thing, moved.to) {
                // The sender's average goes into the receiver's pool, whole.
                let mut vector = issued.vector;
                for mut piece in issued.pieces {
                    piece.vector = std::mem::take(&mut vector);
                    self.lay(line.thing, moved.to, piece);
                }
            } else {
                issued.pieces.into_iter().for_each(|piece| self.lay(line.thing, moved.to, piece));
            }
        }
        self.packed(&moved.packing);
        self.post(Account::Postage, None, None, of_amount(moved.postage), nothing());
    }

    /// Goods back from a buyer: the last line of the order first, of it the last lot. Refunds and fees given back are of today.
    pub(crate) fn returned(&mut self, returned: &Returned) {
        for line in &returned.lines {
            let mut left = of_decimal(line.quantity);
            let mut back = Vec::new();
            // The orders of which pieces are, the newest first; the refund is of all of them.
            let mut of_orders: Vec<(usize, Exact)> = Vec::new();
            for (_, at, sold) in self.sold_last_first(returned, line.thing) {
                let sold = &mut self.orders[at].lines[sold];
                let before = left.clone();
                // What was refunded and stayed with the buyer may still come back, but is not refunded so again.
                let stays = line.fate == ReturnFate::LeftWithBuyer;
                let can = if stays { sold.quantity() - &sold.left_with_buyer } else { sold.quantity() };
                let mut wanted = if can < left { can } else { left.clone() };
                left -= &wanted;
                if stays {
                    sold.left_with_buyer += wanted;
                } else {
                    back.extend(sold.take_back(&mut wanted, line.lot));
                    left += wanted;
                }
                if left < before {
                    match of_orders.iter_mut().find(|(order, _)| *order == at) {
                        Some((_, pieces)) => *pieces += before - &left,
                        None => of_orders.push((at, before - &left)),
                    }
                }
            }
            assert!(!left.is_positive(), "more comes back than was sold");
            let pieces: Vec<Exact> = of_orders.iter().map(|(_, pieces)| pieces.clone()).collect();
            for ((at, _), money) in of_orders.iter().zip(in_cents(&of_amount(line.refunded), &pieces)) {
                let order = u32::try_from(*at).expect("a small book");
                self.post(Account::Refund, Some(order), Some(line.thing), money, nothing());
            }
            for piece in back {
                self.moves(Flow::Sold, Some(line.thing), &piece.vector.negated());
                if line.fate == ReturnFate::BackToStock {
                    self.lay(line.thing, returned.place, piece);
                } else {
                    self.moves(Flow::Scrapped, Some(line.thing), &piece.vector);
                }
            }
        }
        let Some(at) = returned.order.and_then(|name| self.orders.iter().position(|order| order.order == Some(name))) else {
            return;
        };
        let (order, values) = (u32::try_from(at).expect("a small book"), self.orders[at].values.clone());
        // What is given back is for the goods, where there are any.
        let goods: Vec<ValuedLine> = values.iter().filter(|line| line.thing.is_some()).cloned().collect();
        let allowed = if goods.is_empty() { &values } else { &goods };
        for (money, _) in &returned.refunds {
            self.post_over(Account::Refund, order, allowed, &of_amount(*money));
        }
        self.post_over(Account::Refund, order, allowed, &of_amount(returned.shipping));
        // A fee comes back for the goods whose money goes back.
        let refunded = returned.lines.iter().filter(|line| line.refunded.is_positive());
        let refunded: Vec<ValuedLine> =
            refunded.map(|line| ValuedLine { thing: Some(line.thing), value: of_amount(line.refunded) }).collect();
        let of_fee = if refunded.is_empty() { allowed } else { &refunded };
        self.post_over(Account::FeeBack, order, of_fee, &of_amount(returned.fee_back));
    }

    /// The lines of which something may come back, the last sold first: day, order and line.
    fn sold_last_first(&self, returned: &Returned, thing: ThingId) -> Vec<(NaiveDate, usize, usize)> {
        let mut out = Vec::new();
        for (at, order) in self.orders.iter().enumerate() {
            let is_it = match returned.order {
                Some(name) => order.order == Some(name),
                None => order.channel == returned.channel,
            };
            let lines = order.lines.iter().enumerate().filter(|(_, sold)| is_it && sold.thing == thing);
            out.extend(lines.map(|(line, sold)| (sold.date, at, line)));
        }
        out.sort_unstable();
        out.reverse();
        out
    }
}

/// A sum in parts of whole cents: each gets the cents below its share, and those that are left go to the largest rests, the first first.
fn in_cents(sum: &Exact, weights: &[Exact]) -> Vec<Exact> {
    let all: Exact = weights.iter().sum();
    let shares: Vec<Exact> = weights.iter().map(|weight| sum * share(weight, &all) * whole(100)).collect();
    let mut cents: Vec<Exact> = shares.iter().map(Exact::floor).collect();
    let mut by_rest: Vec<usize> = (0..shares.len()).collect();
    by_rest.sort_by_key(|at| std::cmp::Reverse(&shares[*at] - &cents[*at]));
    for at in by_rest {
        if cents.iter().sum::<Exact>() < sum * whole(100) {
            cents[at] += whole(1);
        }
    }
    cents.into_iter().map(|cents| cents / whole(100)).collect()
}
