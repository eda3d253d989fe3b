//! A sale: what it brought in, what selling it cost, what its goods cost, and what is left; what came back is taken off on its own day.

use super::{Step, Sum, Telling};
use crate::costing::{Account, Movement, Posting};
use crate::reports::period::money_text;
use crate::reports::{FigureName, OrderFigure, OrderPart, WhyRule};

/// Whether a sum of an order lies on its goods. What lies on its incomes, or was fixed by a deposit before it, is in no margin (costing rules 13, 14).
fn is_of_goods(posting: &Posting) -> bool {
    posting.thing.is_some()
}

impl Telling<'_> {
    /// An order, or a part of it.
    pub(super) fn order(&mut self, figure: OrderFigure) -> Option<(String, Vec<Step>)> {
        let OrderFigure { order, part } = figure;
        let of = self.of;
        let name = of.names.order(order);
        let revenue = self.revenue(order)?;
        let selling = self.costs_of_selling(order)?;
        let goods = self.cost_of_order(order)?;
        let margin = revenue.sum.minus(selling.sum)?.minus(goods.sum)?;
        let text = |money| money_text(of.books.book, money);
        let (answer, top) = match part {
            Some(OrderPart::Revenue) => (format!("Order {name} brought in {}.", text(revenue.sum.paid)), revenue),
            Some(OrderPart::CostsOfSelling) => (format!("Selling order {name} cost {}.", text(selling.sum.paid)), selling),
            Some(OrderPart::CostOfGoods) => {
                let (paid, full) = (text(goods.sum.paid), text(goods.sum.full));
                (format!("The goods of order {name} cost {paid} paid and {full} full."), goods)
            }
            None | Some(OrderPart::Margin) => {
                let answer = format!(
                    "Order {name} brought in {}; {} went for selling it and {} for its goods, which leaves {} before your own time and overhead and {} after.",
                    text(revenue.sum.paid),
                    text(selling.sum.paid),
                    text(goods.sum.paid),
                    text(margin.paid),
                    text(margin.full),
                );
                let mut steps = vec![revenue, selling.negated()?, goods.negated()?];
                for step in steps.iter_mut().skip(1) {
                    step.says.insert_str(0, "less ");
                }
                let steps: Vec<Step> = steps.into_iter().filter(|step| !step.steps.is_empty()).collect();
                (answer, Step { steps, ..Step::nowhere(format!("what is left of order {name}"), margin, WhyRule::SumOf) })
            }
        };
        Some((answer, vec![top]))
    }

    /// What an order brought in.
    fn revenue(&self, order: u32) -> Option<Step> {
        let mut steps = Vec::new();
        for posting in self.of.index.postings_of(self.of.books.costed, order).filter(|one| is_of_goods(one)) {
            let (words, less) = match posting.account {
                Account::Goods => ("for", false),
                Account::ShippingCharged => ("shipping charged with", false),
                Account::Refund => ("less what was given back for", true),
                _ => continue,
            };
            steps.push(self.posted(posting, words, less)?);
        }
        Step::sum_of("revenue", steps).map(|step| step.named(part_figure(order, OrderPart::Revenue)))
    }

    /// What selling an order cost.
    fn costs_of_selling(&self, order: u32) -> Option<Step> {
        let mut steps = Vec::new();
        for posting in self.of.index.postings_of(self.of.books.costed, order).filter(|one| is_of_goods(one)) {
            let (words, less) = match posting.account {
                Account::Fee => ("fees on", false),
                Account::Commission => ("the share of the channel on", false),
                Account::FeeBack => ("less fees given back on", true),
                Account::Postage => ("postage for", false),
                Account::Packing => ("packing for", false),
                _ => continue,
            };
            steps.push(self.posted(posting, words, less)?);
        }
        Step::sum_of("costs of selling", steps).map(|step| step.named(part_figure(order, OrderPart::CostsOfSelling)))
    }

    /// A sum of money that stands on a line of an order.
    fn posted(&self, posting: &Posting, words: &str, less: bool) -> Option<Step> {
        let what = posting.thing.map_or("the order", |thing| self.of.books.book.thing(thing).named.name.as_str());
        let money = if less { posting.money.checked_neg()? } else { posting.money };
        Some(Step::new(format!("{} {words} {what}", posting.date), Sum::both(money), WhyRule::Said, posting.line))
    }

    /// What the goods of an order cost, less those that came back.
    fn cost_of_order(&mut self, order: u32) -> Option<Step> {
        let of = self.of;
        let moved: Vec<&Movement> = of.index.sold_of(of.books.costed, order).collect();
        let mut steps = Vec::with_capacity(moved.len());
        for movement in moved {
            let says = format!("{} {}", movement.date, self.moved_what(movement));
            let mut step = Step::new(says, Sum::of(&movement.vector)?, WhyRule::Said, movement.line);
            self.pieces_moved(&mut step, movement, 3)?;
            steps.push(step);
        }
        Step::sum_of("cost of goods", steps).map(|step| step.named(part_figure(order, OrderPart::CostOfGoods)))
    }
}

fn part_figure(order: u32, part: OrderPart) -> FigureName {
    FigureName::Order(OrderFigure { order, part: Some(part) })
}
