//! The parts of a column of what pays, one by one: postings, goods sold, expenses and hours, at the lines of the book that say them.
//!
//! What an order brought in, and what its goods cost, is told with the order where all of it stands in the column. Of more parts than a reader takes in,
//! months come first.

use chrono::Datelike;
use rust_decimal::Decimal;

use super::amount::Shown;
use super::by_months::by_months;
use super::pays_figure::shown_of;
use super::{Step, Sum, Telling};
use crate::costing::{Account, Posting};
use crate::reports::margin::Margin;
use crate::reports::pays_part::{PaysOf, PaysPart, PaysWhat};
use crate::reports::period::{money_text, quantity_text};
use crate::reports::report_pays::in_pieces;
use crate::reports::{FigureName, OrderFigure, OrderPart, PaysColumn, WhyRule};
use crate::units::Fixed6;

/// A month, and the steps of one order in it; of no order, a single step.
type OfOrder = ((i32, u32), Option<u32>, Vec<Step>);

impl Telling<'_> {
    /// Parts one by one, or by their months where they are many. What an order brought in, and what its goods cost, is told with the order.
    pub(super) fn parts(
        &mut self,
        parts: &[&PaysPart<'_>],
        of: Option<PaysOf>,
        column: PaysColumn,
        level: usize,
    ) -> Option<Vec<Step>> {
        let mut by_order: Vec<OfOrder> = Vec::new();
        let is_told_with_order = matches!(column, PaysColumn::Revenue | PaysColumn::PaidCost);
        let before = self.part;
        self.part = match shown_of(column) {
            Shown::Part(part) => Some(part),
            _ => None,
        };
        for part in parts {
            let Some((sum, count)) = self.part_sum(part, of, column)? else { continue };
            if count.is_none_or(|count| count.is_zero()) && !self.shows(column, sum) {
                continue;
            }
            let month = (part.day.year(), part.day.month());
            let order = part.order().filter(|_| is_told_with_order);
            let step = self.part(part, of, (column, sum, count), level)?;
            match by_order.last_mut().filter(|(last, of, _)| order.is_some() && (*last, *of) == (month, order)) {
                Some((_, _, steps)) => steps.push(step),
                None => by_order.push((month, order, vec![step])),
            }
        }
        let mut steps = Vec::with_capacity(by_order.len());
        for (month, order, parts) in by_order {
            match order {
                Some(order) => {
                    let of_order = self.of_order(order, column, parts, level)?;
                    steps.extend(of_order.into_iter().map(|step| (month, step)));
                }
                None => steps.extend(parts.into_iter().map(|step| (month, step))),
            }
        }
        self.part = before;
        by_months(steps)
    }

    /// Parts of an order: where they are all that it brought in, or all that its goods cost, as that figure.
    fn of_order(&mut self, order: u32, column: PaysColumn, parts: Vec<Step>, level: usize) -> Option<Vec<Step>> {
        let costed = self.of.books.costed;
        let name = self.of.names.order(order);
        let (part, mut whole) = match column {
            PaysColumn::Revenue => (OrderPart::Revenue, Sum::default()),
            _ => (OrderPart::CostOfGoods, Sum::default()),
        };
        if part == OrderPart::Revenue {
            let mut margin = Margin::default();
            for posting in self.of.index.postings_of(costed, order) {
                margin.post(posting)?;
            }
            whole = Sum::both(margin.revenue);
        } else {
            for movement in self.of.index.sold_of(costed, order) {
                whole = whole.plus(Sum::of(&movement.vector)?)?;
            }
        }
        let date = costed.orders.get(order as usize).map(|order| order.date);
        let says = match date {
            Some(date) if name.starts_with(&date.to_string()) => format!("the sale of {name}"),
            Some(date) => format!("{date} order {name}"),
            None => format!("order {name}"),
        };
        let mut step = Step::sum_of(says, parts)?;
        if step.sum != whole {
            return Some(step.steps);
        }
        let parts = std::mem::take(&mut step.steps);
        if self.enters(&mut step, FigureName::Order(OrderFigure { order, part: Some(part) }), level) {
            step.steps = parts;
        }
        Some(vec![step])
    }

    /// Whether a sum has any of what a column shows.
    fn shows(&self, column: PaysColumn, sum: Sum) -> bool {
        let shown = shown_of(column);
        !shown.amounts(sum)[0].is_zero()
    }

    /// What a part counts in a column, and how many; `None` inside where it is in another.
    fn part_sum(&self, part: &PaysPart<'_>, of: Option<PaysOf>, column: PaysColumn) -> Option<Option<(Sum, Option<Decimal>)>> {
        let money = |money: Fixed6| Some((Sum::both(money), None));
        Some(match part.what {
            PaysWhat::Posting(posting) => {
                let mut one = Margin::default();
                one.post(posting)?;
                match column {
                    PaysColumn::Revenue => money(one.revenue),
                    PaysColumn::Fees => money(one.fees),
                    PaysColumn::Postage => money(one.postage),
                    PaysColumn::Packing => money(one.packing),
                    _ => None,
                }
            }
            PaysWhat::Sold(movement) => match column {
                PaysColumn::Units => {
                    let own_unit = matches!(of, Some(PaysOf::Product(_)));
                    let counts = own_unit || in_pieces(self.of.books.book, movement.thing);
                    counts.then_some((Sum::default(), Some(movement.quantity)))
                }
                PaysColumn::PaidCost | PaysColumn::OwnTime | PaysColumn::Overhead | PaysColumn::OwnMinutes => {
                    Some((Sum::of(&movement.vector)?, None))
                }
                _ => None,
            },
            PaysWhat::Expense(_, direct) | PaysWhat::UsedInShop(_, direct) | PaysWhat::Drive(_, direct) => {
                if column == PaysColumn::DirectExpenses { money(direct) } else { None }
            }
            PaysWhat::Hours(hour) if column == PaysColumn::OwnMinutes => Some((Sum::own_minutes(hour.minutes), None)),
            PaysWhat::Worked(movement) if column == PaysColumn::OwnMinutes => {
                Some((Sum::own_minutes(movement.vector.own_minutes()?), None))
            }
            PaysWhat::Hours(_) | PaysWhat::Worked(_) => None,
        })
    }

    /// A part as a step, at the line of the book that says it.
    fn part(
        &mut self,
        part: &PaysPart<'_>,
        of: Option<PaysOf>,
        (column, sum, count): (PaysColumn, Sum, Option<Decimal>),
        level: usize,
    ) -> Option<Step> {
        let book = self.of.books.book;
        let day = part.day;
        Some(match part.what {
            PaysWhat::Posting(posting) => {
                let says = format!("{day} {}", self.posted_what(posting, of));
                Step::new(says, sum, WhyRule::Said, posting.line)
            }
            PaysWhat::Sold(movement) => {
                let hours = match column {
                    PaysColumn::OwnMinutes if movement.vector.hours_unknown() => ", of which not all hours are known",
                    _ => "",
                };
                let says = format!("{day} {}{hours}", self.moved_what(movement));
                let mut step = Step::new(says, sum, WhyRule::Said, movement.line);
                match (count, movement.thing) {
                    (Some(count), Some(thing)) => step = step.counted(count, book.thing(thing).unit.as_str()),
                    // Folded, the lots of each sale are told with its order.
                    _ if self.folds && movement.issue.count > 0 => step.rule = WhyRule::Deeper,
                    _ => self.pieces_moved(&mut step, movement, level)?,
                }
                step
            }
            PaysWhat::Expense(posting, money) => {
                let says = format!("{day} {}", self.expense_what(posting, money));
                Step::new(says, sum, WhyRule::Said, posting.line)
            }
            PaysWhat::UsedInShop(movement, _) => {
                let says = format!("{day} {} used in the shop", self.moved_what(movement));
                Step::new(says, sum, WhyRule::Said, movement.line)
            }
            PaysWhat::Drive(drive, _) => {
                let says = format!("{day} {} miles at the rate of the day", quantity_text(drive.miles));
                Step::new(says, sum, WhyRule::Said, self.head(drive.event))
            }
            PaysWhat::Hours(hour) => {
                let says = format!("{day} {}", book.step(hour.step).named.name);
                Step::new(says, sum, WhyRule::Said, hour.line)
            }
            PaysWhat::Worked(movement) => {
                let batch = movement.batch.map_or("", |batch| book.batch(batch).name.as_str());
                Step::new(format!("{day} in batch {batch}"), sum, WhyRule::Said, movement.line)
            }
        })
    }

    /// An expense in words, with its business part.
    pub(super) fn expense_what(&self, posting: &Posting, money: Fixed6) -> String {
        let book = self.of.books.book;
        let what = match posting.account {
            Account::Expense(expense) => book.expense(expense).named.name.as_str(),
            _ => "hired hours",
        };
        if money == posting.money {
            what.to_owned()
        } else {
            format!("{what}, the business part of {}", money_text(book, posting.money))
        }
    }

    /// What a posting of a sale is, in words.
    fn posted_what(&self, posting: &Posting, of: Option<PaysOf>) -> String {
        let book = self.of.books.book;
        let what = match posting.account {
            Account::Goods => "price",
            Account::ShippingCharged => "shipping charged",
            Account::Refund => "less refunded",
            Account::Fee => "fee",
            Account::Commission => "consignee's share",
            Account::FeeBack => "less fee given back",
            Account::Postage => "postage",
            Account::Packing => "packing",
            _ => "other",
        };
        match posting.thing {
            Some(thing) if of == Some(PaysOf::Product(thing)) => what.to_owned(),
            Some(thing) => format!("{what}, of {}", book.thing(thing).named.name),
            None => {
                let to = posting.channel.map_or_else(String::new, |to| format!(" to {}", book.channel(to).named.name));
                format!("{what} of a shipment{to}")
            }
        }
    }
}
