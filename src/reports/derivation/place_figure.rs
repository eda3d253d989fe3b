//! A place away from home: what was brought there, sold and taken away, line by line; what is left, lot by lot; and what is owed, bill by bill.

use rust_decimal::Decimal;

use super::{Step, Sum, Telling};
use crate::costing::Bill;
use crate::names::{PlaceId, ThingId};
use crate::reports::marked_price::Marked;
use crate::reports::period::said_money;
use crate::reports::place_moves::each_move;
use crate::reports::report_cost::price_text;
use crate::reports::report_places::place_of_bill;
use crate::reports::{FigureName, OwedPart, PlaceFigure, PlaceOf, PlacePart, WhyRule};
use crate::units::{Fixed6, line_total};

impl Telling<'_> {
    /// A figure of a place.
    pub(super) fn place(&mut self, figure: PlaceFigure) -> Option<(String, Vec<Step>)> {
        match figure.of {
            PlaceOf::SlipTogether => return self.slip(figure.place, None),
            PlaceOf::SlipOn(day, None) => return self.slip(figure.place, Some(day)),
            PlaceOf::Paper(thing, part) => return self.paper((figure.place, None), thing, part),
            PlaceOf::SlipOn(day, Some((thing, part))) => return self.paper((figure.place, Some(day)), thing, part),
            PlaceOf::Missing(thing, part) => return self.missing(figure.place, thing, part),
            of @ (PlaceOf::Sale(..) | PlaceOf::UsualDays | PlaceOf::DaysSinceCount) => return self.owed_by(figure.place, of),
            PlaceOf::Owed | PlaceOf::LeftAtPrice | PlaceOf::Thing(..) => {}
        }
        let top = self.place_step(figure, 0)?;
        let book = self.of.books.book;
        let place = &book.place(figure.place).named.title;
        let answer = match (figure.of, top.count) {
            (PlaceOf::Owed, _) => format!("{place} owes {}.", said_money(book, top.sum.paid)),
            (PlaceOf::LeftAtPrice, _) => {
                format!("What is at {place} comes to {} at the asked prices.", said_money(book, top.sum.paid))
            }
            (PlaceOf::Thing(thing, part), Some((count, _))) => {
                format!("At {place}, {}: {}.", says_of(part, place), self.amount_of(thing, count))
            }
            (PlaceOf::Thing(thing, _), None) => {
                let name = &book.thing(thing).named.name;
                match top.steps.is_empty() {
                    true => format!("No price is asked for {name}, so what is at {place} has no worth at prices."),
                    false => format!("{name} at {place} comes to {} at the asked price.", said_money(book, top.sum.paid)),
                }
            }
            _ => return None,
        };
        Some((answer, if top.rule == WhyRule::Figured && top.steps.is_empty() { Vec::new() } else { vec![top] }))
    }

    fn place_step(&mut self, figure: PlaceFigure, level: usize) -> Option<Step> {
        let PlaceFigure { place, of } = figure;
        let title = &self.of.books.book.place(place).named.title;
        let steps = match of {
            PlaceOf::Owed => self.open_bills(place, level.saturating_add(1))?,
            PlaceOf::LeftAtPrice => {
                let mut steps = Vec::new();
                for thing in self.things_left(place)? {
                    let of = PlaceOf::Thing(thing, PlacePart::LeftAtPrice);
                    let step = self.place_step(PlaceFigure { place, of }, level.saturating_add(1))?;
                    if step.rule != WhyRule::Figured || !step.steps.is_empty() {
                        steps.push(step);
                    }
                }
                steps
            }
            PlaceOf::Sale(..) | PlaceOf::UsualDays | PlaceOf::DaysSinceCount => return None,
            PlaceOf::SlipTogether | PlaceOf::SlipOn(..) | PlaceOf::Missing(..) | PlaceOf::Paper(..) => return None,
            PlaceOf::Thing(thing, PlacePart::LeftAtPrice) => return self.at_price(place, thing, level),
            PlaceOf::Thing(thing, part) => return self.moved_at(place, thing, part, level),
        };
        let says = if of == PlaceOf::Owed { format!("owed by {title}") } else { format!("at {title}, at the asked prices") };
        let mut step = Step::sum_of(says, steps)?;
        step.figure = Some(FigureName::Places(figure));
        Some(step)
    }

    /// A quantity of a thing at a place, entry by entry.
    fn moved_at(&mut self, place: PlaceId, thing: ThingId, part: PlacePart, level: usize) -> Option<Step> {
        let of = self.of;
        let unit = of.books.book.thing(thing).unit.as_str();
        let mut steps = Vec::new();
        if part == PlacePart::Otherwise {
            for (part, less) in
                [(PlacePart::Brought, false), (PlacePart::Sold, true), (PlacePart::TakenAway, true), (PlacePart::Left, true)]
            {
                let step = self.moved_at(place, thing, part, level.saturating_add(1))?;
                let count = step.count.map_or(Decimal::ZERO, |(count, _)| count);
                if count.is_zero() {
                    continue;
                }
                steps.push(match less {
                    false => step,
                    true => less_counted(step, count, unit),
                });
            }
        } else {
            each_move(of.books, &mut |one| {
                if (one.place, one.thing, one.part) == (place, thing, part) {
                    let lot = one.lot.map_or_else(String::new, |lot| format!(" as lot {}", which(of.names.lot(lot))));
                    let says = format!("{} {}{lot}", one.date, one.how);
                    steps.push(Step::new(says, Sum::default(), WhyRule::Said, one.line).counted(one.quantity, unit));
                }
                Some(())
            })?;
        }
        let title = &of.books.book.place(place).named.title;
        let mut step = Step::sum_of(says_of(part, title), steps)?;
        step.count = step.count.or(Some((Decimal::ZERO, unit)));
        let figure = FigureName::Places(PlaceFigure { place, of: PlaceOf::Thing(thing, part) });
        let steps = std::mem::take(&mut step.steps);
        if self.enters(&mut step, figure, level) {
            step.steps = steps;
        }
        Some(step)
    }

    /// What is left of a thing at its asked price; of one without a price a step of nothing.
    fn at_price(&mut self, place: PlaceId, thing: ThingId, level: usize) -> Option<Step> {
        let of = self.of;
        let book = of.books.book;
        let left = self.moved_at(place, thing, PlacePart::Left, level.saturating_add(1))?;
        let (count, _) = left.count?;
        let marked = of.books.costed.until.and_then(|day| of.marked().on(book, place, thing, day));
        let says = format!("{} at the asked price", self.amount_of(thing, count));
        let Some(marked) = marked else { return Some(Step::nowhere(says, Sum::default(), WhyRule::Figured)) };
        let worth = line_total(marked.price, count, book.shop.currency).ok()?;
        let mut step = Step::nowhere(says, Sum::both(worth), WhyRule::Figured);
        let figure = FigureName::Places(PlaceFigure { place, of: PlaceOf::Thing(thing, PlacePart::LeftAtPrice) });
        if self.enters(&mut step, figure, level) {
            step.steps = vec![left, self.asked(thing, marked)?];
        }
        Some(step)
    }

    /// What goods at a place are marked at, and what says so.
    pub(super) fn asked(&self, thing: ThingId, marked: Marked) -> Option<Step> {
        let book = self.of.books.book;
        let price = price_text(book, marked.price);
        let (says, line) = match (marked.sale, marked.ended) {
            (Some((day, line)), _) => (format!("asked: {price}, as it was sold there on {day}"), line),
            (None, Some(ended)) => {
                let (last, why) = (price_text(book, ended.price), ended.why());
                let says = format!("asked: {price} by the list {why}; it was sold there last at {last} on {}", ended.sold);
                (says, book.thing(thing).named.span)
            }
            (None, None) => (format!("asked: {price}"), book.thing(thing).named.span),
        };
        Some(Step::new(says, Sum::both(Fixed6::round_from_decimal(marked.price)?), WhyRule::Said, line))
    }

    /// Things of which there is any at a place, by name.
    fn things_left(&self, place: PlaceId) -> Option<Vec<ThingId>> {
        let mut things = Vec::new();
        each_move(self.of.books, &mut |one| {
            if (one.place, one.part) == (place, PlacePart::Left) && !things.contains(&one.thing) {
                things.push(one.thing);
            }
            Some(())
        })?;
        things.sort_by_key(|thing| &self.of.books.book.thing(*thing).named.name);
        Some(things)
    }

    /// Sales whose bill is open on the last day: what each came to, less what was paid.
    fn open_bills(&mut self, place: PlaceId, level: usize) -> Option<Vec<Step>> {
        let Some(last) = self.of.books.costed.until else { return Some(Vec::new()) };
        let book = self.of.books.book;
        let mut steps = Vec::new();
        let of = self.of;
        for (at, bill) in of.names.all_owed() {
            if place_of_bill(book, bill) != Some(place) || !bill.open_on(last)?.is_positive() {
                continue;
            }
            let order = bill.reference.map_or_else(|| bill.date.to_string(), |label| book.label(label).to_owned());
            steps.push((bill.date, order, self.sale_step(place, at, OwedPart::Open, level)?));
        }
        steps.sort_by(|(day, order, _), (other_day, other, _)| (day, order).cmp(&(other_day, other)));
        Some(steps.into_iter().map(|(_, _, step)| step).collect())
    }
}

/// A bill of which something is open.
pub(super) fn open_bill(bill: &Bill, order: &str, last: chrono::NaiveDate) -> Option<Step> {
    let total = bill.total_on(last)?;
    let came = format!("{} order {order} came to {}", bill.date, total.to_fixed_text(2, 6));
    let whole = Step::new(came, Sum::both(total), WhyRule::Said, bill.line);
    less_paid(bill, last, whole, format!("{} order {order}, still owed", bill.date))
}

/// What of a bill is open: the whole of it, less what was paid up to a day.
pub(super) fn less_paid(bill: &Bill, last: chrono::NaiveDate, whole: Step, says: String) -> Option<Step> {
    let paid: Vec<_> = bill.paid.iter().filter(|(day, _)| *day <= last).collect();
    if paid.is_empty() {
        return Some(whole);
    }
    let mut steps = vec![whole];
    for (day, money) in paid {
        steps.push(Step::nowhere(format!("less what was paid on {day}"), Sum::both(money.checked_neg()?), WhyRule::Said));
    }
    Step::sum_of(says, steps)
}

/// A quantity that is taken off, with what it is below it.
pub(super) fn less_counted(step: Step, count: Decimal, unit: &'static str) -> Step {
    let mut less = Step::nowhere(format!("less {}", step.says), Sum::default(), WhyRule::PartOf).counted(-count, unit);
    less.figure = step.figure;
    if step.steps.is_empty() {
        less.rule = step.rule;
    } else {
        less.steps = vec![step];
    }
    less
}

fn says_of(part: PlacePart, title: &str) -> String {
    match part {
        PlacePart::Brought => format!("brought to {title}"),
        PlacePart::Sold => format!("sold at {title}"),
        PlacePart::TakenAway => format!("taken away from {title}"),
        PlacePart::Otherwise => format!("otherwise gone from {title}, below zero come"),
        PlacePart::Left | PlacePart::LeftAtPrice => format!("left at {title}"),
    }
}

/// Which of a thing's lots, of a lot's whole name.
fn which(lot: &str) -> &str {
    lot.split_once('/').map_or(lot, |(_, which)| which)
}
