//! Slips of remarks: what was meant for people, without its quotes.

use super::name::is_unit;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::time::time_at;
use super::typed::{Typed, Word, is_number};
use crate::syntax::Verb;
use crate::syntax::corrected_line::reads;
use crate::syntax::slip_errors::NAME_SPELLING;

/// Before words are joined to a name.
pub(super) const RULES: &[SlipRule] = &[paid_later, remark];
/// Where nothing else fits.
pub(super) const END_RULES: &[SlipRule] = &[rest_as_remark];

/// Words with which a remark begins, and no name does.
const REMARK_WORDS: [&str; 34] = [
    "because", "since", "it", "they", "that", "which", "was", "were", "had", "got", "when", "after", "broke", "cracked", "split",
    "dropped", "damaged", "too", "not", "is", "has", "but", "mold", "mould", "moldy", "mouldy", "rot", "rotted", "rotten",
    "warped", "burnt", "burned", "worm", "worms",
];

/// Whether a remark begins with a word, as `2 stool split`.
pub(crate) fn is_remark_word(word: &str) -> bool {
    REMARK_WORDS.contains(&word)
}

/// How people say that a bill is paid later.
const PAID_LATER: [&[&str]; 7] = [
    &["on", "account"],
    &["on", "credit"],
    &["not", "paid"],
    &["not", "paid", "yet"],
    &["unpaid"],
    &["paid", "later"],
    &["to", "be", "paid"],
];

/// `10 bf walnut at 11 on account`, `not paid`
fn paid_later(typed: &Typed<'_>) -> Option<Slip> {
    let says = |at: usize| {
        let rest = typed.words.get(at..).unwrap_or_default();
        PAID_LATER.iter().any(|words| rest.len() == words.len() && rest.iter().zip(*words).all(|(word, said)| word.is(said)))
    };
    let at = (0..typed.words.len()).find(|at| says(*at))?;
    let is_whole = at == 0 && !typed.word(0).is("unpaid");
    let begins = at >= 2 && is_number(typed.word(0).text);
    if !typed.is_detail() || !(is_whole || begins) || !reads("unpaid", false, typed.context.block) {
        return None;
    }
    let words = at..typed.words.len();
    let slip = Slip::new(NAME_SPELLING, typed.range(words.clone()), "what is paid later has a line of its own: `unpaid`");
    let right = if is_whole { "unpaid".to_owned() } else { format!("{}\n    unpaid", typed.slice(0..at)) };
    Some(slip.fix("write it so", right))
}

/// `1 serving-board because it cracked`, `45m sanding the knots were hard`
pub(super) fn remark(typed: &Typed<'_>) -> Option<Slip> {
    let at = (2..typed.words.len()).find(|at| {
        let (word, before) = (typed.word(*at), typed.word(at - 1));
        let named = before.is_name() && !is_unit(before.text);
        named && word.is_one_of(&REMARK_WORDS)
    })?;
    let rest = typed.words.get(at..)?;
    let begins = typed.word(0).is_number() || time_at(typed, 0) > 0 || typed.word(0).is("lost") && typed.word(1).is_number();
    if !typed.is_detail() || !begins || rest.iter().any(|word| word.quoted) {
        return None;
    }
    if let Some(slip) = money_behind(typed, at) {
        return Some(slip);
    }
    const BROKEN: [&str; 9] = ["broke", "cracked", "split", "damaged", "warped", "burnt", "burned", "mold", "moldy"];
    if typed.verb() == Some(Verb::Returned) && typed.word(at).is_one_of(&BROKEN) && goes_on_at(typed, at).is_none() {
        let said = typed.slice(at..typed.words.len());
        let goods = typed.slice(0..at).trim_end_matches([',', ' ']);
        let message = "a returned piece goes `back to stock`, is `scrapped`, or is `left with buyer`";
        let slip = Slip::new(NAME_SPELLING, typed.range(at..typed.words.len()), message);
        let slip = slip.fix("where it is no good any more", format!("{goods}, scrapped \"{said}\""));
        return Some(slip.fix("or where it is sold again", format!("{goods}, back to stock \"{said}\"")));
    }
    let end = goes_on_at(typed, at).unwrap_or(typed.words.len());
    let words = at..end;
    let right = format!("\"{}\"", typed.slice(words.clone()));
    let slip = Slip::new(NAME_SPELLING, typed.range(words.clone()), format!("a remark stands in quotes: `{right}`"));
    if end == typed.words.len() {
        return Some(slip.fix("write quotes", typed.with(words, &right)));
    }
    let slip = slip.note("it ends the line");
    Some(slip.fix("write quotes, behind all that is said", behind_all(typed, at, end, &right)))
}

/// `2 block cracked, for 18`, `2 block cracked, 18 back` below `sent-back` or `returned`: the money that goes back
fn money_behind(typed: &Typed<'_>, at: usize) -> Option<Slip> {
    let here = matches!(typed.verb(), Some(Verb::SentBack | Verb::Returned));
    let end = typed.words.len().checked_sub(2).filter(|end| here && *end > at && typed.word(end - 1).comma)?;
    let sum = match () {
        () if typed.word(end).is("for") => sum_of(typed, end + 1)?,
        () if typed.word(end + 1).is_one_of(&["back", "refunded", "refund"]) => sum_of(typed, end)?,
        () => return None,
    };
    let said = typed.slice(at..end);
    let message = format!("the money that comes back is said with `refunded {sum}`, and a remark ends the line in quotes");
    let slip = Slip::new(NAME_SPELLING, typed.range(at..typed.words.len()), message);
    Some(slip.fix("write it so", format!("{}, refunded {sum} \"{said}\"", typed.slice(0..at))))
}

/// What is said of an item with a figure or a code behind it.
const SAID: [&str; 6] = ["at", "for", "refunded", "lot", "worth", "share"];

/// The line without the words of a remark, and that at its end.
fn behind_all(typed: &Typed<'_>, at: usize, end: usize, remark: &str) -> String {
    let comma = if typed.word(end - 1).comma { "," } else { "" };
    format!("{}{comma} {} {remark}", typed.slice(0..at), typed.slice(end..typed.words.len()))
}

/// Where what is said of the item goes on behind a remark that begins at a word: `cracked, refunded 18`.
fn goes_on_at(typed: &Typed<'_>, at: usize) -> Option<usize> {
    (at + 1..typed.words.len()).find(|end| {
        let said = typed.word(*end).is_one_of(&SAID) && !typed.word(end + 1).text.is_empty();
        let fate = typed.word(end - 1).comma
            && (typed.word(*end).is("back") || typed.word(*end).is("left") || typed.word(*end).is("scrapped"));
        (said || fate) && reads(&behind_all(typed, at, *end, "\"x\""), false, typed.context.block)
    })
}

/// `1 pull-cart for mother` in `took-home`, `2 stool at the market`
fn rest_as_remark(typed: &Typed<'_>) -> Option<Slip> {
    let begins = is_number(typed.word(0).text) || time_at(typed, 0) > 0;
    let is_plain =
        |word: &Word<'_>| !word.quoted && !word.comma && word.text.chars().all(|letter| letter.is_alphabetic() || letter == '\'');
    let plain = |at: usize| typed.words.len() >= at + 2 && typed.words.iter().skip(at).all(is_plain);
    if !typed.is_detail() || !begins {
        return None;
    }
    let at = (2..typed.words.len()).find(|at| plain(*at) && reads(typed.slice(0..*at), false, typed.context.block))?;
    let words = at..typed.words.len();
    let right = format!("\"{}\"", typed.slice(words.clone()));
    let slip = Slip::new(NAME_SPELLING, typed.range(words.clone()), format!("a remark stands in quotes: `{right}`"));
    Some(slip.fix("if that is a remark", typed.with(words, &right)))
}
