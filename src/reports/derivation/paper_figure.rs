//! Papers of a place: what was handed over on a day, line by line and at its prices, and the last count against what the books had.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::{Step, Sum, Telling};
use crate::names::{PlaceId, ThingId};
use crate::reports::period::said_money;
use crate::reports::report_place_papers::{PaperLine, count_lines, slip_lines};
use crate::reports::{FigureName, PaperPart, PlaceFigure, PlaceOf, WhyRule};
use crate::units::line_total;

/// The last papers of a place, or its slip of a day.
type Paper = (PlaceId, Option<NaiveDate>);

impl Telling<'_> {
    /// All that the slip of a day says, else the last of a place, at the prices of its day.
    pub(super) fn slip(&mut self, place: PlaceId, on: Option<NaiveDate>) -> Option<(String, Vec<Step>)> {
        let book = self.of.books.book;
        let title = &book.place(place).named.title;
        let Some((day, lines)) = slip_lines(self.of.books, place, on) else {
            return Some((format!("Nothing was ever sent to {title}."), Vec::new()));
        };
        let mut things: Vec<ThingId> = lines.iter().map(|one| one.thing).collect::<BTreeSet<_>>().into_iter().collect();
        things.sort_by_key(|thing| &book.thing(*thing).named.name);
        let mut steps = Vec::new();
        for thing in things {
            steps.extend(self.slip_at_price((place, on), thing, (day, &lines), 1)?);
        }
        let mut top = Step::sum_of(format!("handed over at {title} on {day}, at the prices of that day"), steps)?;
        let of = on.map_or(PlaceOf::SlipTogether, |day| PlaceOf::SlipOn(day, None));
        top.figure = Some(FigureName::Places(PlaceFigure { place, of }));
        let answer =
            format!("What was handed over at {title} on {day} comes to {} at the prices.", said_money(book, top.sum.paid));
        Some((answer, vec![top]))
    }

    /// A figure of a thing on the papers of a place.
    pub(super) fn paper(&mut self, (place, on): Paper, thing: ThingId, part: PaperPart) -> Option<(String, Vec<Step>)> {
        let book = self.of.books.book;
        let (title, name) = (&book.place(place).named.title, &book.thing(thing).named.name);
        let slip = slip_lines(self.of.books, place, on);
        let top = match (part, &slip) {
            (PaperPart::SlipQuantity | PaperPart::SlipTogether, None) => {
                return Some((format!("Nothing was ever sent to {title}."), Vec::new()));
            }
            (PaperPart::SlipTogether, Some((day, lines))) => {
                let Some(top) = self.slip_at_price((place, on), thing, (*day, lines), 0)? else {
                    return Some((format!("There is no price of {name} on {day}, so it has no worth on the slip."), Vec::new()));
                };
                let money = said_money(book, top.sum.paid);
                return Some((format!("{name} on the slip of {day} comes to {money}."), vec![top]));
            }
            (PaperPart::SlipQuantity, Some((_, lines))) => self.on_paper((place, on), thing, part, lines, 0)?,
            (PaperPart::Counted | PaperPart::Booked | PaperPart::Difference, _) => self.in_count(place, thing, part, 0)?,
        };
        let (count, _) = top.count?;
        Some((format!("At {title}, {}: {}.", says_of(part), self.amount_of(thing, count)), vec![top]))
    }

    /// Goods of a slip at their price; `None` inside where there is none.
    fn slip_at_price(
        &mut self,
        paper: Paper,
        thing: ThingId,
        (day, lines): (NaiveDate, &[PaperLine]),
        level: usize,
    ) -> Option<Option<Step>> {
        let book = self.of.books.book;
        let Some(marked) = self.of.marked().on(book, paper.0, thing, day) else { return Some(None) };
        let handed = self.on_paper(paper, thing, PaperPart::SlipQuantity, lines, level.saturating_add(1))?;
        let (count, _) = handed.count?;
        let worth = line_total(marked.price, count, book.shop.currency).ok()?;
        let says = format!("{} at the price", self.amount_of(thing, count));
        let mut step = Step::nowhere(says, Sum::both(worth), WhyRule::Figured);
        if self.enters(&mut step, of_paper(paper, thing, PaperPart::SlipTogether), level) {
            step.steps = vec![handed, self.asked(thing, marked)?];
        }
        Some(Some(step))
    }

    /// What was counted of a thing, what was missing, or both together: what the books had.
    fn in_count(&mut self, place: PlaceId, thing: ThingId, part: PaperPart, level: usize) -> Option<Step> {
        let lines = count_lines(self.of.books, place);
        let below = level.saturating_add(1);
        match part {
            PaperPart::Difference => self.on_paper((place, None), thing, part, &less(&lines.missing), level),
            PaperPart::Booked => {
                let unit = self.of.books.book.thing(thing).unit.as_str();
                let counted = self.on_paper((place, None), thing, PaperPart::Counted, &lines.counted, below)?;
                let missing = lines.missing.iter().filter(|one| one.thing == thing);
                let missing = missing.map(|one| {
                    let says = if one.quantity.is_sign_negative() { "less what was found more" } else { "what was missing" };
                    Step::new(says, Sum::default(), WhyRule::Said, one.line).counted(one.quantity, unit)
                });
                let steps: Vec<Step> = std::iter::once(counted).chain(missing).collect();
                let mut top = Step::sum_of(says_of(part), steps)?;
                top.figure = Some(of_paper((place, None), thing, part));
                Some(top)
            }
            PaperPart::Counted | PaperPart::SlipQuantity | PaperPart::SlipTogether => {
                self.on_paper((place, None), thing, part, &lines.counted, level)
            }
        }
    }

    /// A thing's lines on a paper.
    fn on_paper(&mut self, paper: Paper, thing: ThingId, part: PaperPart, lines: &[PaperLine], level: usize) -> Option<Step> {
        let unit = self.of.books.book.thing(thing).unit.as_str();
        let words = match part {
            PaperPart::SlipQuantity | PaperPart::SlipTogether => "sent there",
            PaperPart::Counted | PaperPart::Booked => "counted",
            PaperPart::Difference => "against the books",
        };
        let of_thing = lines.iter().filter(|one| one.thing == thing);
        let steps =
            of_thing.map(|one| Step::new(words, Sum::default(), WhyRule::Said, one.line).counted(one.quantity, unit)).collect();
        let mut step = Step::sum_of(says_of(part), steps)?;
        step.count = step.count.or(Some((Decimal::ZERO, unit)));
        let steps = std::mem::take(&mut step.steps);
        if self.enters(&mut step, of_paper(paper, thing, part), level) {
            step.steps = steps;
        }
        Some(step)
    }
}

fn of_paper((place, on): Paper, thing: ThingId, part: PaperPart) -> FigureName {
    let of = on.map_or(PlaceOf::Paper(thing, part), |day| PlaceOf::SlipOn(day, Some((thing, part))));
    FigureName::Places(PlaceFigure { place, of })
}

/// Counted less booked: what was missing is less than nothing.
fn less(missing: &[PaperLine]) -> Vec<PaperLine> {
    missing.iter().map(|one| PaperLine { quantity: -one.quantity, ..*one }).collect()
}

fn says_of(part: PaperPart) -> &'static str {
    match part {
        PaperPart::SlipQuantity | PaperPart::SlipTogether => "handed over last",
        PaperPart::Counted => "counted last",
        PaperPart::Booked => "in the books before the last count",
        PaperPart::Difference => "counted last less what was in the books",
    }
}
