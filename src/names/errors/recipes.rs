//! What is wrong, or looks wrong, with recipes and wear.

use chrono::NaiveDate;

use crate::diagnostics::Diagnostic;
use crate::names::errors::counting::time_in_words;
use crate::names::errors::{NEED_FALLS_OUT, PER, RING, WEARS_NO_WEAR, WORN_BY_NO_STEP, behind};
use crate::names::rings::Ring;
use crate::names::{Lookup, Named, Thing};
use crate::sources::Span;
use crate::syntax::{Amount, Item};

/// Things that a change of the recipe leaves out, all of one change together.
pub(crate) fn needs_fall_out(product: &str, gone: &[&str], line: Span, day: NaiveDate) -> Diagnostic {
    let (quoted, names) = (in_quotes(gone), gone.join(", … "));
    Diagnostic::new(NEED_FALLS_OUT, line, format!("from {day} on `{product}` no longer needs {quoted}"))
        .label("all `needs` lines of a change together replace the recipe")
        .note(format!("what it still needs is said in this change too: `needs … {names}`"))
}

/// Steps that a change of the recipe leaves out, all of one change together.
pub(crate) fn takes_fall_out(product: &str, gone: &[&str], line: Span, day: NaiveDate) -> Diagnostic {
    let (quoted, names) = (in_quotes(gone), gone.join(", … "));
    Diagnostic::new(NEED_FALLS_OUT, line, format!("from {day} on `{product}` no longer takes {quoted}"))
        .label("all `takes` lines of a change together replace the times of the recipe")
        .note(format!("what it still takes is said in this change too: `takes … {names}`"))
}

/// Names between backticks, the last behind `and`.
fn in_quotes(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, first)) => format!("{} and {last}", first.join(", ")),
        None => String::new(),
    }
}

pub(crate) fn wear_without_per(lookup: &Lookup<'_>, item: &Item) -> Diagnostic {
    let text = lookup.sources.text(item.span);
    Diagnostic::new(PER, item.span, format!("`{text}` in how much time?")).label("a step wears something by the time worked").fix(
        "in so many minutes",
        behind(item.span),
        " per 40 min",
    )
}

pub(crate) fn wear_per_no_time(lookup: &Lookup<'_>, per: &Amount) -> Diagnostic {
    if let Some(time) = time_in_words(lookup, per).filter(|_| !per.value.is_zero()) {
        let told = Diagnostic::new(PER, per.span, format!("a time is written `{time}`"));
        return told.fix("write it so", per.span, time);
    }
    let text = lookup.sources.text(per.span);
    Diagnostic::new(PER, per.span, format!("a time above zero belongs here, and `{text}` is none"))
        .note("a step wears something by the time worked: `wears 1 blade-no7 per 40 min`")
        .note("what wears by the piece stands in the recipe of the product: `needs 1 blade-no7 per 25 ea`")
}

/// `head` is the first line of its definition.
pub(crate) fn wears_what_is_no_wear(worn: &Named, head: Span, item: Span) -> Diagnostic {
    let name = &worn.name;
    Diagnostic::new(WEARS_NO_WEAR, item, format!("`{name}` is worn here, but its definition doesn't say `as wear`"))
        .also(worn.span, "defined here")
        .note("it is taken all the same, and counted as a material, not as wear")
        .fix("if it is used up in making, say so in its definition", behind(head), "\n    as wear")
}

pub(crate) fn worn_by_no_step(worn: &Named) -> Diagnostic {
    let name = &worn.name;
    Diagnostic::new(WORN_BY_NO_STEP, worn.span, format!("`{name}` is `as wear`, but no step wears it"))
        .note(format!("a step's line says how fast: `wears 1 {name} per 40 min`, or a recipe for how many pieces: `needs 1 {name} per 200 ea`"))
        .note("until then only `used` and `used-up` take it")
}

pub(crate) fn ring(things: &[Thing], ring: &Ring, day: Option<NaiveDate>) -> Diagnostic {
    let name = |at: usize| things.get(at).map_or("", |thing| thing.named.name.as_str());
    let (first, place) = ring.first().map_or(("", Span::default()), |(at, span)| (name(*at), *span));
    let told = Diagnostic::new(RING, place, format!("`{first}` needs itself"));
    let told = if ring.len() > 1 {
        let way: Vec<String> = ring.iter().map(|(at, _)| format!("`{}`", name(*at))).collect();
        told.note(format!("{} and again `{first}`", way.join(" needs ")))
    } else {
        told
    };
    let told = ring.iter().skip(1).take(5).fold(told, |told, (at, span)| told.also(*span, format!("`{}` needs this", name(*at))));
    match day {
        Some(day) => told.note(format!("so it is from {day} on")),
        None => told,
    }
}

pub(crate) fn ring_of_offcuts(things: &[Thing], ring: &Ring) -> Diagnostic {
    let name = |at: usize| things.get(at).map_or("", |thing| thing.named.name.as_str());
    let (first, place) = ring.first().map_or(("", Span::default()), |(at, span)| (name(*at), *span));
    let told = Diagnostic::new(RING, place, format!("`{first}` is an offcut of itself"));
    let way: Vec<String> = ring.iter().map(|(at, _)| format!("`{}`", name(*at))).collect();
    told.note(format!("{} and again from `{first}`", way.join(" comes from ")))
}
