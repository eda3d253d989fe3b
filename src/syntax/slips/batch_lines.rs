//! Slips of lines of a batch: a time without its step, pieces of which some were spoiled, work that is paid by the piece.

use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::sums::product;
use super::time::{time_at, written};
use super::typed::{Typed, is_digits};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{OWN_LINE, PRICE_WORDS, SMALL_WORD, TIME_SPELLING};

pub(super) const RULES: &[SlipRule] = &[some_of_them, on_another_day, made_for, made_by, by_the_piece, another, time_alone];
/// Those of lines that read and stand where they may not.
pub(super) const MISPLACED: &[SlipRule] = &[made_by, time_alone];

fn in_batch(typed: &Typed<'_>) -> bool {
    typed.is_detail() && typed.verb().is_some_and(Verb::is_of_a_batch)
}

/// `made 6 journals, 1 of them spoiled "crooked case"`
fn some_of_them(typed: &Typed<'_>) -> Option<Slip> {
    let of = (3..typed.words.len())
        .find(|at| typed.word(*at).is("of") && typed.word(at + 1).is_one_of(&["them", "these", "which", "those"]))?;
    let (made, some) = (typed.word(1).text, typed.word(of - 1).text);
    let thing = typed.word(2);
    let begins = in_batch(typed) && typed.word(0).is("made") && is_digits(made) && is_digits(some) && thing.is_name();
    let rest = typed.words.get(of + 2..)?;
    let (memo, how) = match rest.split_last() {
        Some((memo, how)) if memo.quoted => (Some(memo.text), how),
        _ => (None, rest),
    };
    let spoiled = how.iter().any(|word| super::spoken_lines::SPOILED.iter().any(|known| word.is(known)));
    let (made_of, lost) = (made.parse::<u64>().ok()?, some.parse::<u64>().ok()?);
    let good = made_of.checked_sub(lost).filter(|_| begins && spoiled && how.len() <= 3)?;
    let memo =
        memo.map_or_else(|| format!("\"{}\"", how.iter().map(|word| word.text).collect::<Vec<_>>().join(" ")), str::to_owned);
    let lost_line = format!("lost {some} {} {memo}", thing.text);
    let made_line = |good: &str| if good == "0" { "made nothing".to_owned() } else { format!("made {good} {}", thing.text) };
    let slip = Slip::new(
        OWN_LINE,
        typed.range(of - 1..typed.words.len()),
        format!("what was spoiled is a line of its own: `{lost_line}`"),
    );
    let slip = slip.note("`made` counts the good ones alone");
    let slip = slip.fix(format!("{good} good ones of {made}"), format!("{}\n{lost_line}", made_line(&good.to_string())));
    Some(slip.fix(format!("{made} good ones besides"), format!("{}\n{lost_line}", made_line(made))))
}

const BY_THE_PIECE: &str = "work that is paid by the piece is a time with the sum for it: `took 2h STEP by NAME for 25.00`";
const OF_WHICH: &str = "TIME is how long it took, as in `2h`; the sum is for all pieces";

/// `took 3h turning on 2026-10-23`: work of another day
fn on_another_day(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1)?;
    let at = if typed.word(last - usize::from(last > 0)).is("on") { last.checked_sub(1)? } else { last };
    let begins = in_batch(typed) && typed.word(0).is("took") && typed.word(last).is_date() && at > 2;
    begins.then(|| {
        let day = typed.word(last).text;
        let slip = Slip::new(OWN_LINE, typed.range(at..last + 1), "the time of a batch is of the day of its entry");
        slip.note(format!("a batch over several days has an entry for each: `started {day} batch NAME` with what was used and took that day, then `finished DATE batch NAME` with the same name, and what was made"))
            .fix("where the day does not matter", typed.slice(0..at).to_owned())
    })
}

/// `made 2 chair-job for "Mrs Hale"`, `made 4 stool for order "S-3"`
fn made_for(typed: &Typed<'_>) -> Option<Slip> {
    let begins = in_batch(typed) && typed.word(0).is("made") && is_digits(typed.word(1).text) && typed.word(2).is_name();
    let length = typed.words.len();
    if !begins || !typed.word(3).is_one_of(&["for", "to"]) || length < 5 || (3..length).any(|at| typed.word(at).comma) {
        return None;
    }
    let said = super::no_entry::as_text(typed, 3..length);
    let slip =
        Slip::new(SMALL_WORD, typed.range(3..length), "for whom it was made is a remark; the sale names the buyer and the order");
    Some(slip.fix("write it so", format!("{} \"{said}\"", typed.slice(0..3))))
}

/// `made 8 hats by ana at 7 per hat`, `made 8 hats by ana for 56`
fn made_by(typed: &Typed<'_>) -> Option<Slip> {
    let by =
        (3..typed.words.len()).find(|at| typed.word(*at).is("by")).filter(|_| in_batch(typed) && typed.word(0).is("made"))?;
    let (helper, count) = (typed.word(by + 1), typed.word(1).text);
    let price = sum_of(typed, by + 3);
    let sum = match typed.word(by + 2) {
        word if word.text.is_empty() => None,
        word if word.is("for") && typed.words.len() == by + 4 => price.map(str::to_owned),
        word if word.is("at") => Some(price.and_then(|price| product(count, price)).unwrap_or_else(|| "SUM".to_owned())),
        word if word.quoted => None,
        _ => return None,
    };
    if !helper.is_name() && !helper.quoted {
        return None;
    }
    let pay = sum.map(|sum| format!(" for {sum}")).unwrap_or_default();
    let slip = Slip::new(PRICE_WORDS, typed.range(by..typed.words.len()), BY_THE_PIECE).note(OF_WHICH);
    let made = typed.slice(0..by).trim_end_matches([',', ' ']);
    Some(slip.fix("as a line of its own", format!("{made}\ntook TIME NAME by {}{pay}", helper.text)))
}

/// `10 book-blocks folding by tom at 2.50 each on journal`
fn by_the_piece(typed: &Typed<'_>) -> Option<Slip> {
    let here = in_batch(typed) || typed.is_detail() && typed.verb() == Some(Verb::Worked);
    let begins = usize::from(typed.word(0).is("took"));
    let by = (begins + 2..typed.words.len()).find(|at| typed.word(*at).is("by")).filter(|_| here)?;
    let count = typed.word(begins).text;
    let price = sum_of(typed, by + 3).filter(|_| typed.word(by + 2).is("at") && is_digits(count))?;
    if time_at(typed, begins) > 0 || !typed.word(by + 1).is_name() || !typed.word(by - 1).is_name() {
        return None;
    }
    let mut end = by + 4;
    end += match typed.word(end) {
        word if word.is_one_of(&["each", "apiece", "ea"]) => 1,
        word if word.is_one_of(&["per", "a", "/"]) && !typed.word(end + 1).is_one_of(&["h", "hour"]) => 2,
        _ => return None,
    };
    let rest = typed.slice(end..typed.words.len());
    let on = if typed.verb() == Some(Verb::Worked) && typed.word(end).is("on") { format!(" {rest}") } else { String::new() };
    let sum = product(count, price).unwrap_or_else(|| "SUM".to_owned());
    let (step, helper) = (typed.word(by - 1).text, typed.word(by + 1).text);
    let took = if in_batch(typed) { "took " } else { "" };
    let what = typed.slice(begins..by - 1);
    let memo = if typed.words.iter().any(|word| word.quoted) { String::new() } else { format!(" \"{what} at {price}\"") };
    let slip = Slip::new(PRICE_WORDS, typed.range(begins..end), BY_THE_PIECE).note(OF_WHICH);
    Some(slip.fix("with its time", format!("{took}TIME {step}{on} by {helper} for {sum}{memo}")))
}

/// `took another 3 hours covering`
fn another(typed: &Typed<'_>) -> Option<Slip> {
    const MORE: [&str; 9] = ["another", "more", "about", "roughly", "around", "nearly", "almost", "only", "further"];
    let at = usize::from(typed.word(0).is("took"));
    let here = in_batch(typed) || typed.is_detail() && typed.verb() == Some(Verb::Worked);
    let word = typed.word(at);
    (here && word.is_one_of(&MORE) && time_at(typed, at + 1) > 0).then(|| {
        let message = format!("a time stands without `{}`: each line adds to those before", word.text);
        let end = at + 1 + time_at(typed, at + 1);
        let line = typed.with(at..end, &written(typed, at + 1..end));
        Slip::new(SMALL_WORD, word.start..word.end(), message).fix("leave it out", line)
    })
}

/// `8 hours`, `30 min` in a batch
fn time_alone(typed: &Typed<'_>) -> Option<Slip> {
    let length = time_at(typed, 0);
    let rest = typed.words.get(length..)?;
    let memo = match rest {
        [] => String::new(),
        [memo] if memo.quoted => format!(" {}", memo.text),
        _ => return None,
    };
    (in_batch(typed) && length > 0).then(|| {
        let time = written(typed, 0..length);
        let message = format!("a time of a batch has its step: `took {time} STEP`");
        let slip = Slip::new(TIME_SPELLING, 0..typed.text.len(), message);
        slip.note("a step is defined in any file: `step cutting \"Cutting\"`")
            .fix("with the step's name", format!("took {time} NAME{memo}"))
    })
}
