//! Slips of working time: `1h48m`, `1:48`, `1h 48`, `2 hours`, `90`, and `45 m` where minutes are meant.

use std::ops::Range;

use super::slip::{Slip, SlipRule};
use super::typed::{Typed, is_digits, is_number};
use super::verb::step_of;
use crate::syntax::Verb;
use crate::syntax::slip_errors::TIME_SPELLING;

pub(super) const RULES: &[SlipRule] =
    &[step_in_the_past, time_at_a_place, clock, joined_or_long, in_words, minutes_without_unit, spaced_m, number_alone];

/// How many times of one line are mended at once.
const MOST_TIMES: usize = 20;

fn tell(typed: &Typed<'_>, words: Range<usize>, right: &str) -> Slip {
    let slip = Slip::new(TIME_SPELLING, typed.range(words.clone()), format!("a time is written `{right}`"));
    let mut line = typed.with(words, right);
    let mut others = Vec::new();
    while others.len() < MOST_TIMES {
        let again = Typed::of(&line, typed.context, typed.near_date);
        let Some((words, right)) = first_of_many(&again) else { break };
        line = again.with(words, &right);
        others.push(format!("`{right}`"));
    }
    let slip = if others.is_empty() { slip } else { slip.note(format!("so are the others of this line: {}", others.join(", "))) };
    slip.fix("write it so", line).sure()
}

/// The first time of a line that is joined or spelled out, and how it is written.
fn first_of_many(typed: &Typed<'_>) -> Option<(Range<usize>, String)> {
    let found = glued(typed).into_iter().chain(spelled_out(typed)).chain(an_hour(typed));
    found.min_by_key(|(words, _)| words.start)
}

/// `1h48m`, `2 hours` and all others of the line
fn joined_or_long(typed: &Typed<'_>) -> Option<Slip> {
    let (words, right) = first_of_many(typed)?;
    Some(tell(typed, words, &right))
}

/// A time as the book writes it.
pub(super) fn written(typed: &Typed<'_>, words: Range<usize>) -> String {
    match first_of_many(typed) {
        Some((found, right)) if found == words => right,
        _ => typed.slice(words).to_owned(),
    }
}

/// `threw for 2.5 hours`, `sanded 45m`
fn step_in_the_past(typed: &Typed<'_>) -> Option<Slip> {
    let in_batch = typed.verb().is_some_and(Verb::is_of_a_batch);
    let begins = 1 + usize::from(typed.word(1).is("for"));
    let length = time_at(typed, begins);
    if !(in_batch || typed.verb() == Some(Verb::Worked)) || !typed.is_detail() || length == 0 || typed.word(0).quoted {
        return None;
    }
    let step = step_of(&typed.word(0).text.to_lowercase())?;
    let took = if in_batch { "took " } else { "" };
    let rest = typed.slice(begins + length..typed.words.len());
    let right = format!("{took}{} {step} {rest}", written(typed, begins..begins + length));
    let message = format!("a step is said by its name, behind its time: `{step}`");
    Some(Slip::new(TIME_SPELLING, typed.range(0..begins + length), message).fix("write it so", right.trim_end().to_owned()))
}

/// `6h at fair`, `6 hours at the market`: a time without its step
fn time_at_a_place(typed: &Typed<'_>) -> Option<Slip> {
    let length = time_at(typed, 0);
    let article = usize::from(typed.word(length + 1).is_one_of(&["the", "my", "our"]));
    let name = typed.word(length + 1 + article);
    let fits = length > 0 && typed.word(length).is("at") && typed.words.len() == length + 2 + article;
    if !fits || !name.is_name() || typed.verb() != Some(Verb::Worked) || !typed.is_detail() {
        return None;
    }
    let right = format!("{} NAME on {}", written(typed, 0..length), name.text);
    let message = "behind a time stands the step's name, and behind `on` what it was for: a line, a channel or a batch";
    let slip = Slip::new(TIME_SPELLING, typed.range(length..typed.words.len()), message);
    Some(slip.fix("with the step's name", right))
}

/// `1:48`
fn clock(typed: &Typed<'_>) -> Option<Slip> {
    typed.words.iter().enumerate().find_map(|(at, word)| {
        let (hours, minutes) = word.text.split_once(':').filter(|(hours, minutes)| is_digits(hours) && is_digits(minutes))?;
        let minutes = minutes.trim_start_matches('0');
        let right = match (hours.trim_start_matches('0'), minutes) {
            ("", minutes) => format!("{}m", if minutes.is_empty() { "0" } else { minutes }),
            (hours, "") => format!("{hours}h"),
            (hours, minutes) => format!("{hours}h {minutes}m"),
        };
        // It may be the time of a day.
        Some(tell(typed, at..at + 1, &right).sure_if(false))
    })
}

/// `1h48m`, `1h30`, `2hrs`, `45mins`, `1hr30`
fn glued(typed: &Typed<'_>) -> Option<(Range<usize>, String)> {
    typed.words.iter().enumerate().find_map(|(at, word)| {
        let (hours, rest) = number_at_start(word.text)?;
        let letters = rest.len() - rest.trim_start_matches(|letter: char| letter.is_ascii_alphabetic()).len();
        let (unit, rest) = rest.split_at(letters);
        let right = match (short_unit(unit)?, rest) {
            (unit_short, "") if unit_short == unit => return None,
            (short, "") => format!("{hours}{short}"),
            ("h", rest) => {
                let (minutes, unit) = number_at_start(rest)?;
                if !unit.is_empty() && short_unit(unit) != Some("m") {
                    return None;
                }
                format!("{hours}h {minutes}m")
            }
            _ => return None,
        };
        Some((at..at + 1, right))
    })
}

/// `2 hours`, `1 hr 30`, `90 minutes`, `1 hour and 20 minutes`, `18.00 per hour`
pub(super) fn in_words(typed: &Typed<'_>) -> Option<Slip> {
    let at = long_unit(typed)?;
    let short = short_unit(typed.word(at).text)?;
    if typed.word(at - 1).is("per") {
        let unit = if short == "m" { "min" } else { short };
        let slip = Slip::new(TIME_SPELLING, typed.range(at..at + 1), format!("the unit is written `{unit}`"));
        return Some(slip.fix("write it so", typed.with(at..at + 1, unit)).sure());
    }
    let (words, right) = first_of_many(typed)?;
    let slip = tell(typed, words.clone(), &right);
    // `takes 2 hours`
    let lists = typed.word(0).is_one_of(&["took", "takes"]);
    if !lists || words.start != 1 || typed.words.len() != words.end {
        return Some(slip);
    }
    let line = format!("{} {right} NAME", typed.word(0).text);
    let slip = Slip::new(TIME_SPELLING, slip.at, format!("a time is written `{right}`, and its step follows: `{right} cutting`"));
    Some(slip.note("a step is defined in any file: `step cutting \"Cutting\"`").fix("with the step's name", line))
}

/// Where a unit of time stands in words, behind a number or `per`.
fn long_unit(typed: &Typed<'_>) -> Option<usize> {
    let is_long = |text: &str| short_unit(text).is_some_and(|short| short != text) && text != "min";
    (0..typed.words.len()).find(|at| {
        let before = at.checked_sub(1).map(|before| typed.word(before));
        is_long(typed.word(*at).text) && before.is_some_and(|before| (before.is_number() && !before.comma) || before.is("per"))
    })
}

/// The first time of a line with its unit in words, and how it is written.
fn spelled_out(typed: &Typed<'_>) -> Option<(Range<usize>, String)> {
    let at = long_unit(typed).filter(|at| !typed.word(at - 1).is("per"))?;
    let short = short_unit(typed.word(at).text)?;
    let start = if at >= 2 && typed.word(at - 1).is_fraction() && is_digits(typed.word(at - 2).text) { at - 2 } else { at - 1 };
    let figure = typed.slice(start..at);
    let and = usize::from(typed.word(at + 1).is("and"));
    let next = at + 1 + and;
    let minutes_follow = short == "h" && is_digits(typed.word(next).text) && !typed.word(at).comma;
    if minutes_follow {
        let unit = usize::from(short_unit(typed.word(next + 1).text) == Some("m"));
        return Some((start..next + 1 + unit, format!("{figure}h {}m", typed.word(next).text)));
    }
    let right = if figure.contains(' ') { format!("{figure} {short}") } else { format!("{figure}{short}") };
    Some((start..at + 1, right))
}

/// Times without a number, the longest first.
const SPOKEN: [(&str, &str); 9] = [
    ("three quarters of an hour", "45m"),
    ("a quarter of an hour", "15m"),
    ("quarter of an hour", "15m"),
    ("an hour and a half", "1h 30m"),
    ("half an hour", "30m"),
    ("a half hour", "30m"),
    ("half hour", "30m"),
    ("one hour", "1h"),
    ("an hour", "1h"),
];

/// `half an hour`, and how it is written.
fn an_hour(typed: &Typed<'_>) -> Option<(Range<usize>, String)> {
    (0..typed.words.len()).find_map(|at| {
        let before = at.checked_sub(1).map(|before| typed.word(before));
        // `18.00 an hour` is a rate.
        let rate = before.is_some_and(|before| before.is("per") || before.is_number() && !before.comma);
        let said = |text: &str| text.split(' ').enumerate().all(|(step, word)| typed.word(at + step).is(word));
        let (text, right) = SPOKEN.iter().find(|(text, _)| !rate && said(text))?;
        Some((at..at + text.split(' ').count(), (*right).to_owned()))
    })
}

/// `1h 48 cutting`, `1 h 48`
fn minutes_without_unit(typed: &Typed<'_>) -> Option<Slip> {
    let at = (1..typed.words.len()).find(|at| {
        let (before, word, next) = (typed.word(at - 1), typed.word(*at), typed.word(at + 1));
        let hours = before.text.strip_suffix('h').is_some_and(|hours| is_number(hours) || hours.is_empty() && *at >= 2);
        hours && !before.comma && is_digits(word.text) && short_unit(next.text).is_none()
    })?;
    let start = if typed.word(at - 1).text == "h" { at - 2 } else { at - 1 };
    let hours = typed.word(start).text.trim_end_matches('h');
    Some(tell(typed, start..at + 1, &format!("{hours}h {}m", typed.word(at).text)))
}

/// `45 m sanding` in `worked`
fn spaced_m(typed: &Typed<'_>) -> Option<Slip> {
    let in_time = typed.verb() == Some(Verb::Worked) || typed.word(0).is_one_of(&["took", "takes"]);
    let at = (1..typed.words.len()).find(|at| in_time && typed.word(*at).is("m") && typed.word(at - 1).is_number())?;
    let figure = typed.word(at - 1).text;
    let slip = Slip::new(TIME_SPELLING, typed.range(at - 1..at + 1), format!("`m` with a blank is metres: `{figure}m`"));
    Some(slip.fix("join it", typed.with(at - 1..at + 1, &format!("{figure}m"))))
}

/// `took 90`, `took 90 sanding`
fn number_alone(typed: &Typed<'_>) -> Option<Slip> {
    let (at, following) = match typed.verb() {
        _ if typed.word(0).is_one_of(&["took", "takes"]) => (1, 2),
        Some(Verb::Worked) if typed.is_detail() => (0, 1),
        _ => return None,
    };
    let (word, next) = (typed.word(at), typed.word(following));
    if !is_digits(word.text) || !(next.text.is_empty() || next.is_name()) {
        return None;
    }
    let figure = word.text;
    let slip = Slip::new(
        TIME_SPELLING,
        word.start..word.end(),
        format!("{figure} of what? a time is written `{figure}m` or `{figure}h`"),
    );
    let slip = slip.fix("minutes", typed.with(at..at + 1, &format!("{figure}m")));
    Some(slip.fix("hours", typed.with(at..at + 1, &format!("{figure}h"))))
}

/// How many words from a place on are a time: `1h`, `1h 20m`, `45 min`, `2 hours`.
pub(super) fn time_at(typed: &Typed<'_>, from: usize) -> usize {
    let mut at = from;
    loop {
        let (word, next) = (typed.word(at), typed.word(at + 1));
        let joined = word.text.strip_suffix(['h', 'm']).is_some_and(is_number);
        let unit = next.is_one_of(&["h", "hr", "hrs", "hour", "hours", "m", "min", "mins", "minutes"]);
        match () {
            () if joined => at += 1,
            () if word.is_number() && unit => at += 2,
            () => return at - from,
        }
    }
}

/// `h` or `m` for a word for hours or minutes.
fn short_unit(word: &str) -> Option<&'static str> {
    match word.trim_end_matches('.').to_lowercase().as_str() {
        "h" | "hr" | "hrs" | "hour" | "hours" => Some("h"),
        "m" | "min" | "mins" | "minute" | "minutes" => Some("m"),
        _ => None,
    }
}

/// A number with which a text begins, and the rest.
fn number_at_start(text: &str) -> Option<(&str, &str)> {
    let length = text.len() - text.trim_start_matches(|letter: char| letter.is_ascii_digit() || letter == '.').len();
    let (number, rest) = text.split_at(length);
    is_number(number).then_some((number, rest))
}
