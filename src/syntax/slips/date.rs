//! Slips of dates: other orders and signs, months in words, days that do not exist.

use std::ops::Range;

use chrono::NaiveDate;

use super::signs::with_figures;
use super::slip::{Slip, SlipRule};
use super::typed::{Typed, is_digits};
use crate::syntax::errors::NO_SUCH_DATE;
use crate::syntax::line_context::BlockWord;
use crate::syntax::slip_errors::{DATE_SPELLING, HEAD_DATE};
use crate::syntax::unread_line::head_behind_its_day;
use crate::units::{DateFault, read_date};

/// What is looked for before all else: a line that begins with its day has its head behind it.
pub(super) const FIRST_RULES: &[SlipRule] = &[day_first];

pub(super) const RULES: &[SlipRule] = &[letter_in_date, month_in_words, other_order, no_such_day, day_in_words];

/// `2026-01-05 bought from ridgeline-lumber`, `Jan 5: sold …`, `2026-01-01 material ash "Ash"`
fn day_first(typed: &Typed<'_>) -> Option<Slip> {
    let (block, at) = head_behind_its_day(typed.text).filter(|_| typed.context.column_one)?;
    let (day, head) = (typed.text.get(..at)?.trim_end_matches([' ', '\t', ':', ',', '-']), typed.text.get(at..)?);
    if let BlockWord::Definition(_) = block {
        let slip = Slip::new(DATE_SPELLING, 0..day.len(), "a definition has no day: it holds from the book's first");
        let slip = slip.note("what changes from a day on is said by `changed DATE NAME`");
        return Some(slip.fix("leave it out", head.to_owned()).sure());
    }
    let (verb, rest) = head.split_once([' ', '\t']).unwrap_or((head, ""));
    let slip = Slip::new(HEAD_DATE, 0..day.len(), "the date comes right after the verb");
    let slip = slip.fix("put it there", format!("{verb} {day} {}", rest.trim_start()).trim_end().to_owned());
    Some(if read_date(day).is_ok() { slip.sure() } else { slip })
}

/// `2026-O1-12`
fn letter_in_date(typed: &Typed<'_>) -> Option<Slip> {
    let (at, word, date) = typed.words.iter().enumerate().find_map(|(at, word)| {
        let mended = with_figures(word.text).filter(|_| !word.quoted)?;
        Some((at, word, read_date(&mended).ok()?))
    })?;
    let slip = Slip::new(DATE_SPELLING, word.start..word.end(), format!("a letter stands in the date: `{date}`"));
    Some(slip.fix("with a figure", typed.with(at..at + 1, &date.to_string())))
}

/// `3/20/2026`, `2026-3-20`, `20.03.2026`, `3/9`, `26-03-02`
fn other_order(typed: &Typed<'_>) -> Option<Slip> {
    let found = typed.words.iter().enumerate().filter(|(_, word)| !word.quoted).find_map(|(at, word)| {
        let after_verb = typed.context.column_one && at == 1;
        let mut dates = read_other_order(word.text, typed.near_date.filter(|_| after_verb));
        let is_code =
            at.checked_sub(1).is_some_and(|before| typed.word(before).is_one_of(&["receipt", "order", "batch", "lot", "on"]));
        if dates.is_empty() && !is_code {
            dates.extend(short_year(word.text, typed.near_date));
        }
        (!dates.is_empty()).then_some((at, word, dates))
    });
    let (at, word, dates) = found?;
    Some(tell(typed, at..at + 1, word.text, &dates))
}

fn tell(typed: &Typed<'_>, words: Range<usize>, found: &str, dates: &[NaiveDate]) -> Slip {
    let shown: Vec<_> = dates.iter().map(|date| format!("`{date}`")).collect();
    let message = format!("a date is written year-month-day: {}", shown.join(" or "));
    let mut slip = Slip::new(DATE_SPELLING, typed.range(words.clone()), message);
    if dates.len() > 1 {
        slip = slip.note(format!("`{found}` reads as two days, by whether the month or the day comes first"));
    }
    for (date, order) in dates.iter().zip(["the month first", "the day first"]) {
        let what = if dates.len() > 1 { format!("with {order}") } else { "write it so".to_owned() };
        slip = slip.fix(what, typed.with(words.clone(), &date.to_string()));
    }
    slip
}

/// Dates that a text of three numbers (two with a year near by) may mean, that with the month first at the front.
fn read_other_order(text: &str, near: Option<NaiveDate>) -> Vec<NaiveDate> {
    if let Some(whole) = Some(text).filter(|text| is_digits(text) && text.len() == 8) {
        let numbers = (whole.get(..4), whole.get(4..6), whole.get(6..));
        let (Some(year), Some(month), Some(day)) = numbers else { return Vec::new() };
        return read(year, month, day).into_iter().collect();
    }
    let Some(sign) = ['/', '.', '-', '\''].into_iter().find(|sign| text.contains(*sign)) else { return Vec::new() };
    let parts: Vec<_> = text.split(sign).collect();
    if !parts.iter().all(|part| is_digits(part)) {
        return Vec::new();
    }
    let mut dates: Vec<NaiveDate> = match parts.as_slice() {
        [year, month, day] if year.len() == 4 => read(year, month, day).into_iter().collect(),
        [one, two, year] if year.len() == 4 || year.len() == 2 && sign != '-' => {
            let year = if year.len() == 2 { format!("20{year}") } else { (*year).to_owned() };
            let month_first = read(&year, one, two);
            let day_first = read(&year, two, one);
            // A point stands between the parts where the day comes first.
            let order = if sign == '.' { [day_first, None] } else { [month_first, day_first] };
            order.into_iter().flatten().collect()
        }
        [one, two] if sign == '/' => {
            let year = near.map(|near| near.format("%Y").to_string()).unwrap_or_default();
            [read(&year, one, two), read(&year, two, one)].into_iter().flatten().collect()
        }
        _ => Vec::new(),
    };
    dates.dedup();
    // What is written as the language writes it is no other order.
    dates.retain(|date| date.to_string() != text);
    dates
}

/// A day whose year has lost its first two digits, near to the day of another entry where one is known.
fn short_year(text: &str, near: Option<NaiveDate>) -> Option<NaiveDate> {
    let [year, month, day] = text.split('-').collect::<Vec<_>>().try_into().ok()?;
    let date = [year, month, day].iter().all(|part| is_digits(part) && part.len() == 2).then(|| format!("20{year}"));
    let date = read(&date?, month, day)?;
    near.is_none_or(|near| near.years_since(date).or(date.years_since(near)).is_some_and(|years| years < 3)).then_some(date)
}

fn read(year: &str, month: &str, day: &str) -> Option<NaiveDate> {
    read_date(&format!("{year}-{month:0>2}-{day:0>2}")).ok()
}

/// `Mar 9`, `9 March 2026`, `March 9, 2026`, `9th of March`
fn month_in_words(typed: &Typed<'_>) -> Option<Slip> {
    let (at, month) =
        typed.words.iter().enumerate().find_map(|(at, word)| Some((at, month_number(word.text).filter(|_| !word.quoted)?)))?;
    let day_of = |at: Option<usize>| {
        let text = typed.word(at?).text.trim_end_matches(['.']);
        let bare = ["st", "nd", "rd", "th"].into_iter().find_map(|end| text.strip_suffix(end)).unwrap_or(text);
        (is_digits(bare) && bare.len() <= 2).then_some(bare)
    };
    let is_year = |at: usize| is_digits(typed.word(at).text) && typed.word(at).text.len() == 4;
    let of_before = at.checked_sub(1).filter(|before| typed.word(*before).is("of"));
    let before = of_before.map_or(at.checked_sub(1), |of| of.checked_sub(1));
    let (day, start, mut end) = match (day_of(before), day_of(Some(at + 1))) {
        (Some(day), _) => (day, before?, at + 1),
        (None, Some(day)) => (day, at, at + 2),
        (None, None) => return None,
    };
    let year = if is_year(end) {
        end += 1;
        typed.word(end - 1).text.to_owned()
    } else {
        typed.near_date?.format("%Y").to_string()
    };
    let date = read(&year, &month.to_string(), day)?;
    let found = typed.slice(start..end).to_owned();
    Some(tell(typed, start..end, &found, &[date]))
}

/// The month that a word names, in full or in three letters; 1 for January.
pub(crate) fn month_number(word: &str) -> Option<usize> {
    const MONTHS: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    const NAMES: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let word = word.trim_end_matches('.').to_lowercase();
    let short = if word == "sept" { "sep" } else { word.as_str() };
    let at = MONTHS.iter().position(|month| *month == short).or_else(|| NAMES.iter().position(|name| *name == word))?;
    Some(at + 1)
}

/// `2026-02-29`, `2026-13-01`
fn no_such_day(typed: &Typed<'_>) -> Option<Slip> {
    let (at, word, fault) = typed.words.iter().enumerate().find_map(|(at, word)| match read_date(word.text) {
        Err(fault @ (DateFault::NoSuchDay { .. } | DateFault::NoSuchMonth(_) | DateFault::YearOutOfRange(_))) => {
            Some((at, word, fault))
        }
        _ => None,
    })?;
    let slip = Slip::new(NO_SUCH_DATE, word.start..word.end(), fault.to_string());
    let DateFault::NoSuchDay { year, month, days } = fault else { return Some(slip) };
    let last = NaiveDate::from_ymd_opt(year, month, days)?;
    let slip = slip.fix("the last day of the month", typed.with(at..at + 1, &last.to_string()));
    Some(match last.succ_opt() {
        Some(next) => slip.fix("or the first of the next", typed.with(at..at + 1, &next.to_string())),
        None => slip,
    })
}

/// `bought today from …`
fn day_in_words(typed: &Typed<'_>) -> Option<Slip> {
    let (at, word) = typed.words.iter().enumerate().find(|(at, word)| {
        let day = ["today", "yesterday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
        *at == 1 && typed.context.column_one && word.is_one_of(&day)
    })?;
    let slip =
        Slip::new(DATE_SPELLING, word.start..word.end(), format!("`{}` is another day whenever the book is read", word.text));
    let slip = slip.note("a date is written year-month-day, like `2026-03-02`");
    Some(match typed.near_date {
        Some(near) => slip.fix("the day of the entry beside it, if that is it", typed.with(at..at + 1, &near.to_string())),
        None => slip,
    })
}
