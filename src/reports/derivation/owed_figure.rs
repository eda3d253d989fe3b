//! What a place owes for a sale, and for how long: days from the entry of one day to the entry of another.
//!
//! A day stands as so many days after the first of the two, so that the steps of a time add up to it.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::place_figure::{less_counted, open_bill};
use super::{Step, Sum, Telling};
use crate::costing::Bill;
use crate::events::EventKind;
use crate::names::PlaceId;
use crate::reports::after_days;
use crate::reports::payment_line::payment_line;
use crate::reports::period::{quantity_text, said_money};
use crate::reports::report_place_papers::{paid_last, usual_days};
use crate::reports::{FigureName, OwedPart, PlaceFigure, PlaceOf, WhyRule};
use crate::sources::Span;
use crate::units::{Fixed6, checked_sub_exact};

/// The unit of times.
const DAYS: &str = "days";

impl Telling<'_> {
    /// A figure of what is owed, or of a time.
    pub(super) fn owed_by(&mut self, place: PlaceId, of: PlaceOf) -> Option<(String, Vec<Step>)> {
        let books = self.of.books;
        let title = &books.book.place(place).named.title;
        let days = |step: &Step| step.count.map_or_else(String::new, |(count, _)| quantity_text(count));
        Some(match of {
            PlaceOf::Sale(at, OwedPart::DaysLate) => {
                let order = self.of.names.owed(at);
                match self.days_late(place, at)? {
                    None => (format!("It is not known how late {order} is: {title} never paid a sale whole."), Vec::new()),
                    Some(step) => (format!("What {title} owes for {order} is {} days late.", days(&step)), vec![step]),
                }
            }
            PlaceOf::Sale(at, part) => {
                let step = self.sale_step(place, at, part, 0)?;
                let order = self.of.names.owed(at);
                let answer = match part {
                    OwedPart::Total => {
                        format!("What {title} sold with {order} came to {}.", said_money(books.book, step.sum.paid))
                    }
                    OwedPart::Open => format!("{title} owes {} for {order}.", said_money(books.book, step.sum.paid)),
                    OwedPart::Days | OwedPart::DaysLate => {
                        format!("What {title} owes for {order} has been owed for {} days.", days(&step))
                    }
                };
                (answer, vec![step])
            }
            PlaceOf::UsualDays => match self.usual_days_step(place, 0)? {
                None => (format!("It is not known how long {title} takes to pay: it never paid a sale whole."), Vec::new()),
                Some(step) => (format!("{title} usually pays {}.", after_days(days(&step))), vec![step]),
            },
            PlaceOf::DaysSinceCount => match self.days_since_count(place)? {
                None => (format!("{title} was never counted."), Vec::new()),
                Some(step) => (format!("{title} was counted {} days before the book’s end.", days(&step)), vec![step]),
            },
            PlaceOf::Owed
            | PlaceOf::LeftAtPrice
            | PlaceOf::SlipTogether
            | PlaceOf::SlipOn(..)
            | PlaceOf::Missing(..)
            | PlaceOf::Thing(..)
            | PlaceOf::Paper(..) => {
                return None;
            }
        })
    }

    /// What a sale came to, what of it is open, or for how long.
    pub(super) fn sale_step(&mut self, place: PlaceId, at: u32, part: OwedPart, level: usize) -> Option<Step> {
        let of = self.of;
        let (bill, last) = (of.names.owed_bill(at)?, of.books.costed.until?);
        let order = of.names.owed(at);
        let mut step = match part {
            OwedPart::Total => came_to(bill, order, last)?,
            OwedPart::Open => open_bill(bill, order, last)?,
            OwedPart::Days | OwedPart::DaysLate => self.days_owed(bill, order, last)?,
        };
        let steps = std::mem::take(&mut step.steps);
        let is_said = steps.is_empty();
        let figure = FigureName::Places(PlaceFigure { place, of: PlaceOf::Sale(at, part) });
        let rule = step.rule;
        if self.enters(&mut step, figure, level) {
            (step.rule, step.steps) = (rule, steps);
        } else if is_said {
            // A line of the book says it, and nothing stands below.
            step.rule = rule;
        }
        Some(step)
    }

    /// Days since a sale, up to today or the book's last day.
    fn days_owed(&self, bill: &Bill, order: &str, last: NaiveDate) -> Option<Step> {
        let today = self.of.today.filter(|today| *today > last);
        let to = today.unwrap_or(last);
        let first = if bill.opened { "owed before the book began, on" } else { "sold on" };
        let until = match today {
            Some(today) => (format!("counted to {today}, today"), Span::default()),
            None => (format!("counted to {last}, the day of the last entry"), self.last_entry(last)),
        };
        let says = format!("days since {} {order}", bill.date);
        between((bill.date, format!("{first} {} {order}", bill.date), bill.line), (to, until.0, until.1), says)
    }

    /// By how many days a sale is owed for longer than the place usually takes; nothing where it never paid one whole.
    fn days_late(&mut self, place: PlaceId, at: u32) -> Option<Option<Step>> {
        let days = self.sale_step(place, at, OwedPart::Days, 1)?;
        let Some(usual) = self.usual_days_step(place, 1)? else { return Some(None) };
        let [owed, takes] = [&days, &usual].map(|step| step.count.map_or(Decimal::ZERO, |(count, _)| count));
        let late = checked_sub_exact(owed, takes).ok()?;
        let says = format!("days late, of {}", self.of.names.owed(at));
        let mut step = Step::nowhere(says, Sum::default(), WhyRule::SumOf).counted(late.max(Decimal::ZERO), DAYS);
        // What is not late yet is no day late.
        if late.is_sign_negative() && !late.is_zero() {
            step.rule = WhyRule::Figured;
        }
        step.figure = Some(FigureName::Places(PlaceFigure { place, of: PlaceOf::Sale(at, OwedPart::DaysLate) }));
        step.steps = vec![days, less_counted(usual, takes, DAYS)];
        Some(Some(step))
    }

    /// After how many days a place usually pays, sale by sale; nothing where it never paid one whole.
    fn usual_days_step(&mut self, place: PlaceId, level: usize) -> Option<Option<Step>> {
        let of = self.of;
        let last = of.books.costed.until?;
        let Some(days) = usual_days(of.books, place, last) else { return Some(None) };
        let paid = paid_last(of.books, place, last);
        let says = format!("mean of the last {} sales that are paid whole, rounded up", paid.len());
        let mut step = Step::nowhere(says, Sum::default(), WhyRule::Figured).counted(Decimal::from(days), DAYS);
        let figure = FigureName::Places(PlaceFigure { place, of: PlaceOf::UsualDays });
        if !self.enters(&mut step, figure, level) {
            return Some(Some(step));
        }
        for (bill, day) in paid {
            let order = bill.reference.map_or_else(|| bill.date.to_string(), |label| of.books.book.label(label).to_owned());
            let line = payment_line(of.books.log, bill.reference, day).unwrap_or(bill.line);
            let says = format!("{order}, paid after so many days");
            let sold = (bill.date, format!("sold on {} {order}", bill.date), bill.line);
            step.steps.push(between(sold, (day, format!("paid whole on {day}"), line), says)?);
        }
        Some(Some(step))
    }

    /// Days from the last count of a place to the book's last day; nothing where none was made.
    fn days_since_count(&self, place: PlaceId) -> Option<Option<Step>> {
        let books = self.of.books;
        let counted = books.costed.last_counts.iter().find(|(at, _)| *at == place).map(|(_, day)| *day);
        let (Some(day), Some(last)) = (counted, books.costed.until) else { return Some(None) };
        let is_count = |kind: &EventKind| matches!(kind, EventKind::Counted(counted) if counted.place == place);
        let entry = books.log.events.iter().rev().find(|event| event.date == day && is_count(&event.kind));
        let head = entry.map_or_else(Span::default, |event| event.head);
        let until = (last, format!("the day of the last entry: {last}"), self.last_entry(last));
        let step = between((day, format!("counted on {day}"), head), until, "days since the last count".to_owned())?;
        let figure = FigureName::Places(PlaceFigure { place, of: PlaceOf::DaysSinceCount });
        Some(Some(step.named(figure)))
    }

    /// The head of the book's last entry up to a day.
    pub(super) fn last_entry(&self, last: NaiveDate) -> Span {
        let entry = self.of.books.log.events.iter().rev().find(|event| event.date <= last);
        entry.map_or_else(Span::default, |event| event.head)
    }
}

/// What a sale came to: at first, less what it was lowered by since.
fn came_to(bill: &Bill, order: &str, last: NaiveDate) -> Option<Step> {
    let total = bill.total_on(last)?;
    let lowered: Vec<(NaiveDate, Fixed6)> = bill.lowered.iter().copied().filter(|(day, _)| *day <= last).collect();
    let first = total.checked_add(Fixed6::checked_sum(lowered.iter().map(|(_, money)| *money))?)?;
    let whole = Step::new(format!("{} {order} came to", bill.date), Sum::both(first), WhyRule::Said, bill.line);
    if lowered.is_empty() {
        return Some(whole);
    }
    let mut steps = vec![whole];
    for (day, money) in lowered {
        steps.push(Step::nowhere(
            format!("less what it was lowered by on {day}"),
            Sum::both(money.checked_neg()?),
            WhyRule::Said,
        ));
    }
    Step::sum_of(format!("{} {order}", bill.date), steps)
}

/// The days from one entry to another.
pub(super) fn between(from: (NaiveDate, String, Span), to: (NaiveDate, String, Span), says: String) -> Option<Step> {
    let days = Decimal::from(to.0.signed_duration_since(from.0).num_days());
    let day = |says: String, at: Span, days: Decimal| Step::new(says, Sum::default(), WhyRule::Said, at).counted(days, DAYS);
    Step::sum_of(says, vec![day(from.1, from.2, Decimal::ZERO), day(to.1, to.2, days)])
}
