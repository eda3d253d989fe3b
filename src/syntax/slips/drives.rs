//! Slips of drives: miles in words, one way of two, what the drive was for without its quotes.

use super::head::verb_of;
use super::no_entry::as_text;
use super::slip::{Slip, SlipRule};
use super::sums::times;
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::slip_errors::HEAD_PART_WORD;

pub(super) const RULES: &[SlipRule] = &[drove_words];

/// How a unit of distance is written.
fn unit_of(word: &str) -> Option<&'static str> {
    match word.to_lowercase().as_str() {
        "mi" | "mile" | "miles" => Some("mi"),
        "km" | "kilometre" | "kilometres" | "kilometers" | "kms" => Some("km"),
        _ => None,
    }
}

/// A distance with what is said behind it, as it stands in a head: `22 mi "11 mi each way to the fair"`; `None` where none stands there.
/// What is said one way of two is doubled.
pub(in crate::syntax) fn distance_said(text: &str) -> Option<String> {
    let mut words = text.split_whitespace();
    let (figure, unit) = (words.next()?, unit_of(words.next()?)?);
    times("1", figure)?;
    let rest: Vec<&str> = words.collect();
    let said = rest.join(" ");
    let twice = said.contains("each way") || said.contains("either way");
    if said.contains('"') {
        return (!twice).then(|| format!("{figure} {unit} {said}"));
    }
    // `on fair` stands outside the text.
    let on = rest.iter().position(|word| *word == "on").filter(|at| rest.len() > at + 1);
    let target = on.and_then(|at| rest.get(at + 1)).map_or_else(String::new, |name| format!(" on {name}"));
    let left: Vec<&str> =
        rest.iter().enumerate().filter(|(at, _)| on.is_none_or(|on| *at != on && *at != on + 1)).map(|(_, word)| *word).collect();
    let left = left.join(" ");
    Some(match () {
        () if said.is_empty() => format!("{figure} {unit}"),
        () if twice => format!("{} {unit}{target} \"{figure} {unit} {left}\"", times("2", figure)?),
        () if left.is_empty() => format!("{figure} {unit}{target}"),
        () => format!("{figure} {unit}{target} \"{left}\""),
    })
}

/// `drove 2026-03-02 38 miles to the fair`, `drove 2026-03-02 11 mi each way to the fair`
fn drove_words(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| *verb == Verb::Drove)?;
    let length = typed.words.len();
    if length < 5 || typed.words.iter().any(|word| word.quoted) || typed.word(4).is("on") && length < 7 {
        return None;
    }
    let text = &as_text(typed, 4..length);
    let right = distance_said(typed.slice(2..length))?;
    let twice = text.contains("each way") || text.contains("either way");
    let message = match twice {
        true => "the distance is of the whole drive, there and back".to_owned(),
        false => format!("what the drive was for stands in quotes: `\"{text}\"`"),
    };
    let slip = Slip::new(HEAD_PART_WORD, typed.range(4..length), message);
    Some(slip.fix(if twice { "write it so" } else { "write quotes" }, typed.with(2..length, &right)))
}
