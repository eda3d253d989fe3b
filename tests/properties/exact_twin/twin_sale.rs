//! Rules 9 and 10: goods sold, moved between places, and returned with the very vector that they left with.

use kerfbook::costing::Flow;
use kerfbook::events::{Moved, ReturnFate, Returned, Sold, StockLine};
use num_traits::Signed;

use super::exact_number::of_decimal;
use super::twin::Twin;
use super::twin_order::{TwinOrder, TwinOrderLine};

impl Twin<'_> {
    /// A sale.
    pub(crate) fn sold(&mut self, sold: &Sold) {
        let mut lines = Vec::new();
        for line in &sold.lines {
            let code = line.lot;
            let issued = self
                .shelf
                .issue(line.thing, sold.place, &of_decimal(line.quantity), |origin| code.is_none() || origin.code == code);
            self.moves(Flow::Sold, Some(line.thing), &issued.vector);
            lines.push(TwinOrderLine { thing: line.thing, pieces: issued.pieces });
        }
        self.packed(&sold.packing);
        let known = sold.order.and_then(|name| self.orders.iter_mut().find(|order| order.order == Some(name)));
        match known {
            Some(order) => {
                order.lines.extend(lines);
                order.date = self.date;
            }
            None => self.orders.push(TwinOrder { order: sold.order, channel: sold.channel, date: self.date, lines }),
        }
    }

    fn packed(&mut self, lines: &[StockLine]) {
        for line in lines {
            let code = line.lot;
            let home = self.home();
            let issued =
                self.shelf.issue(line.thing, home, &of_decimal(line.quantity), |origin| code.is_none() || origin.code == code);
            self.moves(Flow::PackingUsed, Some(line.thing), &issued.vector);
        }
    }

    /// Goods that change their place. They keep their age and their cost.
    pub(crate) fn moved(&mut self, moved: &Moved) {
        for line in &moved.lines {
            let code = line.lot;
            let issued = self
                .shelf
                .issue(line.thing, moved.from, &of_decimal(line.quantity), |origin| code.is_none() || origin.code == code);
            if self.shelf.average {
                // The sender's average goes into the receiver's pool, whole.
                let mut vector = issued.vector;
                for mut piece in issued.pieces {
                    piece.vector = std::mem::take(&mut vector);
                    self.shelf.put(line.thing, moved.to, piece);
                }
            } else {
                issued.pieces.into_iter().for_each(|piece| self.shelf.put(line.thing, moved.to, piece));
            }
        }
        self.packed(&moved.packing);
    }

    /// Goods back from a buyer: the last line of the order first, of it the last lot.
    pub(crate) fn returned(&mut self, returned: &Returned) {
        for line in &returned.lines {
            if line.fate == ReturnFate::LeftWithBuyer {
                // It has not come back.
                continue;
            }
            let mut left = of_decimal(line.quantity);
            let mut back = Vec::new();
            for order in self.orders.iter_mut().rev() {
                let is_it = match returned.order {
                    Some(name) => order.order == Some(name),
                    None => order.channel == returned.channel,
                };
                if is_it {
                    for sold in order.lines.iter_mut().rev().filter(|sold| sold.thing == line.thing) {
                        back.extend(sold.take_back(&mut left, line.lot));
                    }
                }
            }
            assert!(!left.is_positive(), "more comes back than was sold");
            for piece in back {
                match line.fate {
                    ReturnFate::BackToStock => {
                        self.moves(Flow::Sold, Some(line.thing), &piece.vector.negated());
                        self.shelf.put(line.thing, returned.place, piece);
                    }
                    ReturnFate::Scrapped => {
                        self.moves(Flow::Sold, Some(line.thing), &piece.vector.negated());
                        self.moves(Flow::Scrapped, Some(line.thing), &piece.vector);
                    }
                    ReturnFate::LeftWithBuyer => {}
                }
            }
        }
    }
}
