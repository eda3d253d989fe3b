//! What the last count of a place found missing: what it cost, piece by piece, and what the place would owe for it at the agreed terms.

use super::{Step, Sum, Telling};
use crate::names::{ChannelShare, PlaceId, ThingId};
use crate::reports::period::said_money;
use crate::reports::place_shortage::{Short, WouldOwe, share_of, short_of};
use crate::reports::report_place_papers::count_lines;
use crate::reports::{FigureName, MissingPart, PlaceFigure, PlaceOf, WhyRule};

impl Telling<'_> {
    /// A figure of what is missing at a place, of a thing or of all.
    pub(super) fn missing(&mut self, place: PlaceId, thing: Option<ThingId>, part: MissingPart) -> Option<(String, Vec<Step>)> {
        let book = self.of.books.book;
        let title = &book.place(place).named.title;
        let (day, short) = short_of(self.of.books, place)?;
        let short: Vec<Short> = short.into_iter().filter(|one| thing.is_none_or(|thing| thing == one.thing)).collect();
        let Some(day) = day.filter(|_| !short.is_empty()) else {
            return Some((format!("Nothing was missing at the last count of {title}."), Vec::new()));
        };
        let mut steps = Vec::new();
        for one in &short {
            let level = usize::from(thing.is_none());
            steps.extend(match part {
                MissingPart::Paid => Some(self.missing_paid(place, one, level)?),
                MissingPart::Owed => self.missing_owed(place, one, level)?,
            });
        }
        if steps.is_empty() {
            let why = "no price, or no part of it, was agreed for what is missing";
            return Some((format!("What {title} would owe is not known: {why}."), Vec::new()));
        }
        let top = match thing {
            Some(_) => steps.pop()?,
            None => {
                let says = match part {
                    MissingPart::Paid => format!("missing at {title} on {day}"),
                    MissingPart::Owed => format!("what {title} would owe for what was missing on {day}"),
                };
                let mut top = Step::sum_of(says, steps)?;
                top.figure = Some(named(place, None, part));
                top
            }
        };
        let money = said_money(book, top.sum.paid);
        let answer = match part {
            MissingPart::Paid => format!("What was missing at {title} on {day} cost {money}, paid."),
            MissingPart::Owed => format!("Had {title} sold what was missing on {day}, it would owe {money} for it."),
        };
        Some((answer, vec![top]))
    }

    /// What is missing of a thing, by the pieces that the count took off.
    fn missing_paid(&mut self, place: PlaceId, short: &Short, level: usize) -> Option<Step> {
        let count = count_lines(self.of.books, place);
        let mut steps = Vec::new();
        for movement in count.movements.into_iter().filter(|one| one.thing == Some(short.thing)) {
            let says = format!("{} {}", movement.date, self.moved_what(movement));
            let mut step = Step::new(says, Sum::of(&movement.vector)?, WhyRule::Said, movement.line);
            self.pieces_moved(&mut step, movement, level.saturating_add(1))?;
            steps.push(step);
        }
        let mut step = Step::sum_of(format!("{} missing", self.amount_of(short.thing, short.missing)), steps)?;
        let steps = std::mem::take(&mut step.steps);
        if self.enters(&mut step, named(place, Some(short.thing), MissingPart::Paid), level) {
            step.steps = steps;
        }
        Some(step)
    }

    /// What the place would owe for what is missing of a thing; nothing inside where that is not known.
    fn missing_owed(&mut self, place: PlaceId, short: &Short, level: usize) -> Option<Option<Step>> {
        let Some((WouldOwe { whole, kept, fees, owed }, price)) = short.owed.zip(short.price) else { return Some(None) };
        let book = self.of.books.book;
        let much = self.amount_of(short.thing, short.missing);
        let mut step = Step::nowhere(format!("{much} missing, as if sold"), Sum::both(owed), WhyRule::SumOf);
        if self.enters(&mut step, named(place, Some(short.thing), MissingPart::Owed), level) {
            let count = count_lines(self.of.books, place);
            let missing = count.missing.iter().filter(|one| one.thing == short.thing);
            let unit = book.thing(short.thing).unit.as_str();
            let lines =
                missing.map(|one| Step::new("missing", Sum::default(), WhyRule::Said, one.line).counted(one.quantity, unit));
            let mut at_price = Step::nowhere(format!("{much} at the price"), Sum::both(whole), WhyRule::Figured);
            at_price.steps = lines.collect();
            at_price.steps.push(self.asked(short.thing, price)?);
            let channel = book.channels.iter().find(|channel| channel.place == Some(place))?;
            let day = count.day?;
            let part = match share_of(self.of.books, place, day) {
                ChannelShare::Consignment(percent) => format!("less the {} % that it keeps", percent.normalize()),
                ChannelShare::Wholesale(percent) => format!("less all but the {} % that it pays", percent.normalize()),
                ChannelShare::None => return None,
            };
            let part = Step::new(part, Sum::both(kept.checked_neg()?), WhyRule::Said, channel.named.span);
            step.steps = vec![at_price, part];
            if !fees.is_zero() {
                let says = "less its part of the fees of such a sale";
                step.steps.push(Step::new(says, Sum::both(fees.checked_neg()?), WhyRule::Said, channel.named.span));
            }
        }
        Some(Some(step))
    }
}

fn named(place: PlaceId, thing: Option<ThingId>, part: MissingPart) -> FigureName {
    FigureName::Places(PlaceFigure { place, of: PlaceOf::Missing(thing, part) })
}
