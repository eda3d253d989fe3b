//! Hours at a step, entry by entry: in batches, and on lines, channels and the shop at large. And what an hour earns beyond the owner's rate.

use chrono::{Datelike, NaiveDate};

use super::by_months::{by_months, month_of};
use super::{Step, Sum, Telling};
use crate::costing::Flow;
use crate::names::{ResolvedBook, StepId, Target};
use crate::reports::pays_part::PaysOf;
use crate::reports::period::{minutes_text, money_text};
use crate::reports::report_pays::owner_rate;
use crate::reports::{FigureName, PaysColumn, PaysFigure, Period, WhyRule};
use crate::units::Fixed6;

impl Telling<'_> {
    /// The owner's hours at a step, or those bought in.
    pub(super) fn hours_at(&mut self, step: StepId, year: Option<i32>, own: bool) -> Option<(String, Vec<Step>)> {
        let books = self.of.books;
        let covers = |day: NaiveDate| year.is_none_or(|year| day.year() == year);
        let mut steps = Vec::new();
        for hour in &books.costed.hours {
            if hour.step == step && hour.own == own && covers(hour.date) {
                let says = format!("{} {}", hour.date, self.worked_on(hour.on));
                steps.push((hour.date, Step::new(says, Sum::own_minutes(hour.minutes), WhyRule::Said, hour.line)));
            }
        }
        for movement in books.costed.movements.iter().filter(|one| one.flow == Flow::Time && covers(one.date)) {
            for one in movement.vector.minutes().iter().filter(|one| one.step == Some(step)) {
                let minutes = if own { one.own } else { one.bought_in };
                if !minutes.is_zero() {
                    let batch = movement.batch.map_or("", |batch| books.book.batch(batch).name.as_str());
                    let says = format!("{} in batch {batch}", movement.date);
                    let at = Step::new(says, Sum::own_minutes(minutes), WhyRule::Said, movement.line);
                    steps.push((movement.date, at));
                }
            }
        }
        steps.sort_by_key(|(day, _)| *day);
        let steps = steps.into_iter().map(|(day, step)| (month_of(day), step)).collect();
        let title = &books.book.step(step).named.title;
        let when = year.map_or_else(String::new, |year| format!(" in {year}"));
        let whose = if own { "own" } else { "bought-in" };
        let mut top = Step::sum_of(format!("{whose} minutes of {title}{when}"), by_months(steps)?)?;
        if top.steps.is_empty() {
            top.rule = WhyRule::Said;
        }
        top.figure = Some(FigureName::Pays(PaysFigure::Hours { step, year, own }));
        let minutes = minutes_text(top.sum.parts.own_minutes());
        Some((format!("{minutes} {whose} minutes were worked at {title}{when}."), vec![top]))
    }

    fn worked_on(&self, on: Option<Target>) -> String {
        let book = self.of.books.book;
        match on {
            None => "for the shop at large".to_owned(),
            Some(Target::Line(line)) => format!("on {}", book.line(line).name),
            Some(Target::Channel(channel)) => format!("on {}", book.channel(channel).named.name),
            Some(Target::Product(thing)) => format!("on {}", book.thing(thing).named.name),
            Some(Target::Batch(batch)) => format!("in batch {}", book.batch(batch).name),
        }
    }

    /// What an hour of a group earns beyond the owner's rate; below zero: short of it.
    pub(super) fn over_rate(&mut self, of: PaysOf, year: Option<i32>) -> Option<(String, Vec<Step>)> {
        let books = self.of.books;
        let name = match of {
            PaysOf::Fair(channel, day) => format!("{} on {day}", books.book.channel(channel).named.name),
            of => of.named(books.book).1.name.clone(),
        };
        let period = year.map_or_else(Period::default, Period::year);
        let Some(rate) = owner_rate(books.book, books.costed, period) else {
            return Some((format!("There is no figure for {name}: the shop states no `owner time`."), Vec::new()));
        };
        let Some(earned) = self.earned_step(of, year)? else {
            return Some((
                format!("There is no figure for {name}: no own minutes are in what was sold, or not all are known."),
                Vec::new(),
            ));
        };
        let over = earned.sum.paid.checked_sub(rate)?;
        let less = Sum::both(rate.checked_neg()?);
        let less = Step::new("less the owner’s rate", less, WhyRule::Said, books.book.shop.span);
        let mut top = Step::sum_of(format!("what an hour of {name} earns over the owner’s rate"), vec![earned, less])?;
        top.figure = Some(FigureName::Pays(PaysFigure::OverRate { of, year }));
        Some((said(books.book, &name, over), vec![top]))
    }

    /// What an hour of a group earned; nothing inside where it has no figure.
    fn earned_step(&mut self, of: PaysOf, year: Option<i32>) -> Option<Option<Step>> {
        let index = self.of.pays()?;
        let Some(margin) = index.margin(Some(of), year) else { return Some(None) };
        match super::pays_figure::sum_of_column(margin, PaysColumn::EarnedPerHour)? {
            None => Some(None),
            Some(_) => self.column((Some(of), year), PaysColumn::EarnedPerHour, 1).map(Some),
        }
    }
}

fn said(book: &ResolvedBook, name: &str, over: Fixed6) -> String {
    let beyond = if over.is_negative() { "less" } else { "more" };
    let money = money_text(book, over);
    format!("An hour of {name} earns {} {beyond} than the owner’s rate.", money.trim_start_matches('-'))
}
