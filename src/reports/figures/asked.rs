//! What a figure's name asks beside the book: the pieces of a plan, `plan/6_pull-cart+4_village-set/…`, and what is wanted of a price,
//! `price/pull-cart+earn_25+margin_30%+fixed_120+hours_16h/…`.
//!
//! In: the name as it was typed. Out: the names of the book's figures with those of that plan or price, and the name in its one spelling.

use std::sync::Arc;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::FigureNames;
use super::errors::{FigureFault, no_piece, no_wish, unknown};
use super::name_table::segment;
use super::plan_figure::day_of;
use crate::diagnostics::did_you_mean;
use crate::names::{ResolvedBook, ThingId};
use crate::reports::planning::Planned;
use crate::reports::{MOST_PIECES, PlanAsked, PlanFault, Wanted};
use crate::units::{Fixed6, SpacedM, read_decimal, read_percent, read_time};

/// Why nothing can be asked so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AskFault {
    /// The name is none.
    Figure(FigureFault),
    /// There is no plan of it.
    Plan(PlanFault),
}

impl<'a> FigureNames<'a> {
    /// The names with those of the plan or of the price that a name asks for, and the name as they spell it. `from` is the day from which a plan has
    /// time. Other names stay as they are.
    ///
    /// # Errors
    /// Where the pieces or wishes can't be read, and where there is no plan of them.
    pub fn asking(self, typed: &str, from: Option<NaiveDate>) -> Result<(Self, String), AskFault> {
        let segments: Vec<&str> = typed.split('/').collect();
        match segments.as_slice() {
            ["plan", pieces, rest @ ..] if !pieces.is_empty() => self.asking_plan(pieces, rest, from),
            ["price", thing, rest @ ..] if thing.contains('+') => self.asking_price(thing, rest).map_err(AskFault::Figure),
            _ => Ok((self, typed.to_owned())),
        }
    }

    fn asking_plan(mut self, pieces: &str, rest: &[&str], from: Option<NaiveDate>) -> Result<(Self, String), AskFault> {
        let builds = read_pieces(pieces, &self).map_err(AskFault::Figure)?;
        let begins = self.plan_of(&builds);
        let by = match (day_of(rest), from) {
            (Some(day), Some(from)) if day < from => {
                return Err(AskFault::Figure(FigureFault(format!("`by/{day}` is before {from}"))));
            }
            (Some(day), Some(_)) if self.books().log.first_day.is_some_and(|first| day < first) => {
                return Err(AskFault::Figure(FigureFault(format!("`by/{day}` is before the book begins"))));
            }
            (Some(day), Some(from)) => Some((from, day)),
            _ => None,
        };
        let planned = Planned::of(self.books(), &PlanAsked { builds, by }).map_err(AskFault::Plan)?;
        self.set_plan(Arc::new(planned));
        let spelled: Vec<&str> = std::iter::once(begins.as_str()).chain(rest.iter().copied()).collect();
        Ok((self, spelled.join("/")))
    }

    fn asking_price(mut self, asked: &str, rest: &[&str]) -> Result<(Self, String), FigureFault> {
        let (name, wishes) = asked.split_once('+').unwrap_or((asked, ""));
        let thing = self.read_thing(name)?;
        self.set_price(thing, read_wishes(wishes)?);
        let begins = self.price_of(thing, true);
        let spelled: Vec<&str> = std::iter::once(begins.as_str()).chain(rest.iter().copied()).collect();
        Ok((self, spelled.join("/")))
    }
}

/// `6_pull-cart+4_village-set`; pieces of one thing are gathered.
fn read_pieces(typed: &str, names: &FigureNames<'_>) -> Result<Vec<(ThingId, Decimal)>, FigureFault> {
    let mut builds: Vec<(ThingId, Decimal)> = Vec::new();
    for piece in typed.split('+') {
        let Some((count, name)) = piece.split_once('_') else { return Err(no_piece(piece)) };
        let read = read_decimal(count).ok().filter(|count| *count > Decimal::ZERO && count.is_integer());
        let count = read.ok_or_else(|| no_piece(piece))?;
        let thing = names.read_thing(name).map_err(|_| {
            let book = names.book();
            let near = did_you_mean(name, book.things.iter().map(|thing| thing.named.name.as_str()));
            let near = near.map_or_else(String::new, |near| format!("; {near}"));
            FigureFault(format!("{}{near}", unknown("product or material", name).0))
        })?;
        match builds.iter_mut().find(|(one, _)| *one == thing) {
            // Each count is small, since a larger one is refused at once.
            Some((_, sum)) => *sum = sum.saturating_add(count),
            None => builds.push((thing, count)),
        }
        if builds.iter().any(|(_, count)| *count > MOST_PIECES) {
            return Err(FigureFault(format!("`{piece}`: a plan is made for at most {MOST_PIECES} pieces")));
        }
    }
    Ok(builds)
}

/// `earn_25+margin_30%+fixed_120+hours_16h`, in any order.
fn read_wishes(typed: &str) -> Result<Wanted, FigureFault> {
    let mut wanted = Wanted::default();
    let (mut fixed, mut minutes) = (None, None);
    for wish in typed.split('+') {
        let fault = || no_wish(wish);
        let (what, figure) = wish.split_once('_').ok_or_else(fault)?;
        let is_new = match what {
            "earn" => wanted.per_hour.replace(money(figure).ok_or_else(fault)?).is_none(),
            "margin" => {
                let percent = read_percent(figure).map_err(|_| fault())?.figure();
                if percent >= Decimal::ONE_HUNDRED || percent < Decimal::ZERO {
                    return Err(fault());
                }
                wanted.margin.replace(percent).is_none()
            }
            "fixed" => fixed.replace(money(figure).ok_or_else(fault)?).is_none(),
            "hours" => {
                let read = read_time(figure, SpacedM::Minutes).map_err(|_| fault())?;
                minutes.replace(read).is_none()
            }
            _ => false,
        };
        if !is_new {
            return Err(fault());
        }
    }
    if fixed.is_some() || minutes.is_some() {
        wanted.fixed = Some((fixed.unwrap_or_default(), minutes.unwrap_or_default()));
    }
    Ok(wanted)
}

fn money(typed: &str) -> Option<Fixed6> {
    Fixed6::from_decimal_exact(read_decimal(typed).ok()?).filter(|money| !money.is_negative())
}

/// How the names of a price's figures begin, with what is wanted of it behind the name of the thing: `price/pull-cart+earn_25+fixed_120`.
pub(crate) fn price_name(book: &ResolvedBook, thing: ThingId, wanted: Wanted) -> String {
    let mut text = format!("price/{}", segment(&book.thing(thing).named.name));
    if let Some(rate) = wanted.per_hour {
        text.push_str(&format!("+earn_{}", rate.to_fixed_text(0, 6)));
    }
    if let Some(percent) = wanted.margin {
        text.push_str(&format!("+margin_{}%", percent.normalize()));
    }
    if let Some((money, minutes)) = wanted.fixed {
        text.push_str(&format!("+fixed_{}", money.to_fixed_text(0, 6)));
        if !minutes.is_zero() {
            text.push_str(&match minutes.micros().checked_rem(60_000_000) {
                Some(0) => format!("+hours_{}h", minutes.micros() / 60_000_000),
                _ => format!("+hours_{}m", minutes.to_fixed_text(0, 6)),
            });
        }
    }
    text
}
