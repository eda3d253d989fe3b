//! What lies long: lot by lot what is on hand, and entry by entry what went in the last 365 days.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::owed_figure::between;
use super::{Step, Sum, Telling};
use crate::costing::StockLot;
use crate::names::ThingId;
use crate::reports::period::{quantity_text, said_money};
use crate::reports::report_slow_stock::{age_of, each_gone, is_slow, months_left, months_words, pace_days, pace_words};
use crate::reports::{FigureName, SlowFigure, SlowPart, WhyRule};
use crate::sources::Span;

/// The unit of how long something lasts.
const MONTHS: &str = "months";

impl Telling<'_> {
    /// A figure of what lies long.
    pub(super) fn slow(&mut self, figure: SlowFigure) -> Option<(String, Vec<Step>)> {
        let book = self.of.books.book;
        let Some(last) = self.of.books.costed.until else {
            return Some(("There is no entry yet, so nothing lies long.".to_owned(), Vec::new()));
        };
        match figure {
            SlowFigure::Age(at) => {
                let words = age_words(at);
                let steps = self.lots_left(true, |lot| age_of(lot.origin.date, last) == at)?;
                let top = Step::sum_of(format!("goods on hand on {last} that came {words}"), steps)?;
                let top = top.named(FigureName::Slow(figure));
                Some((format!("Goods on hand that came {words} cost {}.", said_money(book, top.sum.paid)), vec![top]))
            }
            SlowFigure::Thing(thing, SlowPart::LastsMonths) => self.lasts(thing, last),
            SlowFigure::Thing(thing, SlowPart::OldestDays) => self.oldest(thing, last),
            SlowFigure::Thing(thing, part) => {
                let top = self.slow_of(thing, part, last, 0)?;
                let says = &top.says;
                let answer = match top.count {
                    Some((count, _)) => format!("{}: {}.", sentence(says), self.amount_of(thing, count)),
                    None => format!("{}: {}.", sentence(says), said_money(book, top.sum.paid)),
                };
                Some((answer, vec![top]))
            }
        }
    }

    /// For how long what is on hand of a thing lasts.
    fn lasts(&mut self, thing: ThingId, last: NaiveDate) -> Option<(String, Vec<Step>)> {
        let there = self.slow_of(thing, SlowPart::Quantity, last, 1)?;
        let gone = self.slow_of(thing, SlowPart::GoneInAYear, last, 1)?;
        let [quantity, went] = [&there, &gone].map(|step| step.count.map_or(Decimal::ZERO, |(count, _)| count));
        let name = &self.of.books.book.thing(thing).named.name;
        let days = pace_days(self.of.books.log.first_day, last);
        let Some(months) = months_left(quantity, went, days)? else {
            let answer = format!("Nothing of {name} went in {}, so it is not known how long it lasts.", pace_words(days));
            return Some((answer, Vec::new()));
        };
        let says = match days {
            365 => "what is on hand, times twelve, by what went in a year, rounded to a tenth of a month".to_owned(),
            _ => format!(
                "what is on hand, times {days} days of the book, by what went in them, as months of which twelve are 365 days, rounded to a tenth of a month"
            ),
        };
        let mut top = Step::nowhere(says, Sum::default(), WhyRule::Figured).counted(months, MONTHS);
        top.figure = Some(FigureName::Slow(SlowFigure::Thing(thing, SlowPart::LastsMonths)));
        top.steps = vec![there, gone];
        Some((
            format!(
                "At the pace of {} {name} lasts {}.",
                if days == 365 { "the last year".to_owned() } else { pace_words(days) },
                months_words(months)
            ),
            vec![top],
        ))
    }

    /// How long the oldest of a thing has lain.
    fn oldest(&mut self, thing: ThingId, last: NaiveDate) -> Option<(String, Vec<Step>)> {
        let of = self.of;
        let name = &of.books.book.thing(thing).named.name;
        let slow = of.books.costed.stock.iter();
        let slow = slow.filter(|lot| lot.thing == thing && is_slow(lot.origin.date, last) && !lot.quantity.is_zero());
        let Some(lot) = slow.min_by_key(|lot| (lot.origin.date, lot.origin.number)) else {
            return Some((format!("Nothing of {name} has lain for over 180 days."), Vec::new()));
        };
        let line = of.trace.lot(lot.origin.number).map_or_else(Span::default, |made| made.line);
        let came = format!("lot {} came on {}", of.names.lot(lot.origin.number), lot.origin.date);
        let until = (last, format!("the day of the last entry: {last}"), self.last_entry(last));
        let top = between((lot.origin.date, came, line), until, format!("days that the oldest of {name} has lain"))?;
        let days = quantity_text(top.count.map_or(Decimal::ZERO, |(days, _)| days));
        let figure = FigureName::Slow(SlowFigure::Thing(thing, SlowPart::OldestDays));
        Some((format!("The oldest of {name} has lain for {days} days."), vec![top.named(figure)]))
    }

    /// A part of a thing that is a sum of lots, or of what went.
    fn slow_of(&mut self, thing: ThingId, part: SlowPart, last: NaiveDate, level: usize) -> Option<Step> {
        let unit = self.of.books.book.thing(thing).unit.as_str();
        let steps = match part {
            SlowPart::Quantity => self.lots_left(false, |lot| lot.thing == thing)?,
            SlowPart::SlowQuantity => self.lots_left(false, |lot| lot.thing == thing && is_slow(lot.origin.date, last))?,
            SlowPart::SlowPaid => self.lots_left(true, |lot| lot.thing == thing && is_slow(lot.origin.date, last))?,
            SlowPart::GoneInAYear | SlowPart::LastsMonths | SlowPart::OldestDays => {
                let mut steps = Vec::new();
                each_gone(self.of.books.costed, last, &mut |went| {
                    if went.thing == thing {
                        let says = format!("{} {}", went.date, went.how);
                        steps.push(Step::new(says, Sum::default(), WhyRule::Said, went.line).counted(went.quantity, unit));
                    }
                    Some(())
                })?;
                steps
            }
        };
        let title = &self.of.books.book.thing(thing).named.title;
        let mut step = Step::sum_of(part_words(part, title, last), steps)?;
        if part != SlowPart::SlowPaid {
            step.count = step.count.or(Some((Decimal::ZERO, unit)));
        }
        let steps = std::mem::take(&mut step.steps);
        if self.enters(&mut step, FigureName::Slow(SlowFigure::Thing(thing, part)), level) {
            step.steps = steps;
        }
        Some(step)
    }

    /// Lots on hand, each at its paid cost or as so many of its unit, with the line that brought it.
    fn lots_left(&self, at_cost: bool, wanted: impl Fn(&StockLot) -> bool) -> Option<Vec<Step>> {
        let of = self.of;
        let mut steps = Vec::new();
        let mut lots: Vec<&StockLot> = of.books.costed.stock.iter().filter(|lot| wanted(lot)).collect();
        lots.sort_by_key(|lot| (lot.origin.date, lot.origin.number));
        for lot in lots {
            let line = of.trace.lot(lot.origin.number).map_or_else(Span::default, |made| made.line);
            let place = &of.books.book.place(lot.place).named.name;
            let named = format!("{} left at {place} of lot {}", lot.origin.date, of.names.lot(lot.origin.number));
            steps.push(match at_cost {
                true => {
                    let says = format!("{named}: {}", self.amount_of(lot.thing, lot.quantity));
                    Step::new(says, Sum::both(lot.vector.paid()?), WhyRule::Said, line)
                }
                false => {
                    let unit = of.books.book.thing(lot.thing).unit.as_str();
                    Step::new(named, Sum::default(), WhyRule::Said, line).counted(lot.quantity, unit)
                }
            });
        }
        Some(steps)
    }
}

fn age_words(at: usize) -> &'static str {
    match at {
        0 => "in the last 90 days",
        1 => "91 to 180 days before",
        2 => "181 to 365 days before",
        _ => "over 365 days before",
    }
}

fn part_words(part: SlowPart, title: &str, last: NaiveDate) -> String {
    match part {
        SlowPart::Quantity => format!("{title} on hand on {last}"),
        SlowPart::SlowQuantity => format!("{title} on hand that came over 180 days before {last}"),
        SlowPart::SlowPaid => format!("paid cost of {title} that came over 180 days before {last}"),
        SlowPart::GoneInAYear | SlowPart::LastsMonths | SlowPart::OldestDays => {
            format!("{title} sold, packed or used in the 365 days up to {last}")
        }
    }
}

/// Words as a sentence begins.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
