//! `kerfbook plan 6 pull-cart 4 village-set`: what a run of builds would need, take and cost.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use super::show::show;
use super::{Done, compile};
use crate::cli::args::PlanArgs;
use crate::cli::asked_name::thing_asked;
use crate::cli::clock;
use crate::cli::compile::Compiled;
use crate::cli::faults::too_large;
use crate::cli::outcome::Outcome;
use crate::cli::streams::Streams;
use crate::events::Output;
use crate::names::{ThingId, ThingKind};
use crate::render::html::Pages;
use crate::render::text::text_plan;
use crate::reports::{MOST_PIECES, PlanAsked, PlanFault, report_plan};
use crate::units::{read_date, read_decimal};

/// Runs it.
pub(super) fn run(args: &PlanArgs, streams: &Streams) -> Done {
    let by = args.by.as_deref().map(|typed| day("--by", typed)).transpose().map_err(Outcome::refused)?;
    let from = args.book.today.as_deref().map(|typed| day("--today", typed)).transpose().map_err(Outcome::refused)?;
    let pairs = pairs(&args.what).map_err(Outcome::refused)?;
    let book = compile(&args.book, streams)?;
    let compiled = &book.compiled;
    let mut asked = PlanAsked::default();
    for (count, name) in pairs {
        let thing = thing_asked(&compiled.book, &name, "product or material", |_| true).map_err(Outcome::refused)?;
        match asked.builds.iter_mut().find(|(one, _)| *one == thing) {
            Some((_, sum)) => *sum = sum.checked_add(count).ok_or_else(too_large)?,
            None => asked.builds.push((thing, count)),
        }
    }
    let from = from.or_else(clock::latest_today).or(compiled.costed.until);
    if let (Some(from), Some(by)) = (from, by) {
        if by < from {
            return Err(Outcome::refused(format!("`--by {by}` is before {from}")));
        }
        if let Some(first) = compiled.log.first_day.filter(|first| by < *first) {
            return Err(Outcome::refused(format!("the book begins on {first}, so nothing of it can be built by {by}")));
        }
        asked.by = Some((from, by));
    }
    let report = report_plan(compiled.books(), &asked).map_err(|fault| refused(compiled, fault))?;
    show(&report, &book, &args.show, streams, text_plan, Pages::render_plan)
}

/// `6 pull-cart 4 village-set` as counts and names.
fn pairs(what: &[String]) -> Result<Vec<(Decimal, String)>, String> {
    let wants = "say how many of what, as in `kerfbook plan 6 pull-cart 4 village-set`";
    let mut pairs = Vec::new();
    let mut words = what.iter();
    while let Some(count) = words.next() {
        let read = read_decimal(count).ok().filter(|count| *count > Decimal::ZERO && count.is_integer());
        let read = read.ok_or_else(|| format!("`{count}` is no number of pieces; {wants}"))?;
        if read > MOST_PIECES {
            return Err(format!("{count} pieces are more than a plan is made for: at most {MOST_PIECES}"));
        }
        let name = words.next().ok_or_else(|| format!("{count} of what? {wants}"))?;
        pairs.push((read, name.clone()));
    }
    if pairs.is_empty() { Err(wants.to_owned()) } else { Ok(pairs) }
}

/// Reads the day of an option.
pub(super) fn day(option: &str, typed: &str) -> Result<NaiveDate, String> {
    read_date(typed).map_err(|fault| format!("`{option} {typed}`: {fault}"))
}

/// Whether batches made a material, which has no recipe.
fn is_made_here(compiled: &Compiled, thing: ThingId) -> bool {
    let made = |what: Output| what == Output::Thing(thing);
    compiled.book.thing(thing).kind != ThingKind::Product
        && compiled.costed.batches.iter().any(|batch| batch.outputs.iter().any(|output| made(output.what)))
}

/// Why there is no plan, as it is told.
pub(super) fn refused(compiled: &Compiled, fault: PlanFault) -> Outcome {
    let name = |thing: ThingId| compiled.book.thing(thing).named.name.as_str();
    match fault {
        PlanFault::TooLarge => too_large(),
        PlanFault::Empty => Outcome::refused("the book has no entry yet, so there is nothing to plan from"),
        PlanFault::NoRecipe(thing) if is_made_here(compiled, thing) => Outcome::refused(format!(
            "`{0}` is made here without a recipe, and a plan goes by recipes: a `product {0}` says what it `needs` and what it `takes`",
            name(thing)
        )),
        PlanFault::NoRecipe(thing) if compiled.book.thing(thing).kind != ThingKind::Product => {
            Outcome::refused(format!("`{}` is bought and has no recipe; a plan is of what the shop builds", name(thing)))
        }
        PlanFault::NoRecipe(thing) => Outcome::refused(format!(
            "`{}` has no recipe: say in `product {}` what it `needs` and what it `takes`",
            name(thing),
            name(thing)
        )),
        PlanFault::Round(round) => {
            let names: Vec<String> = round.into_iter().map(|thing| format!("`{}`", name(thing))).collect();
            Outcome::refused(format!("a recipe needs itself: {}", names.join(" needs ")))
        }
    }
}
