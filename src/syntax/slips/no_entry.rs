//! What happens in a shop and is no entry of the book: a check that bounced, change put into the cash box, a mistake that is mended.

use std::ops::Range;

use super::slip::{Slip, SlipRule};
use super::spoken::{near_day, sum_of};
use super::sums::total;
use super::typed::{Typed, is_quote};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{DETAIL_FORM, UNKNOWN_HEAD};

pub(super) const RULES: &[SlipRule] = &[bounced, bounced_line, change_in_the_box, float, float_beside, corrected];
/// Those of lines that read and stand where they may not.
pub(super) const MISPLACED: &[SlipRule] = &[bounced_line, change_in_the_box];

const BOUNCED: [&str; 3] = ["bounced", "bounce", "dishonored"];
const CORRECTED: [&str; 9] =
    ["corrected", "correct", "correction", "corrections", "mistake", "error", "erratum", "amended", "oops"];
/// Where the money for change is kept.
const BOX: [&str; 7] = ["box", "cash-box", "cashbox", "till", "drawer", "tin", "register"];

/// Some words as the text of a note: without the day, and without quotes.
pub(super) fn as_text(typed: &Typed<'_>, words: Range<usize>) -> String {
    let mut text = String::new();
    // The day of the head; another is a part of what is said.
    let day = typed.words.iter().position(|word| word.is_date());
    for at in words {
        let word = typed.word(at);
        if Some(at) == day || word.is("on") && Some(at + 1) == day {
            continue;
        }
        text.push_str(if text.is_empty() { "" } else { " " });
        text.extend(word.text.chars().filter(|letter| !is_quote(*letter)));
        text.push_str(if word.comma { "," } else { "" });
    }
    text.trim_end_matches([',', ' ']).to_owned()
}

/// The day that a line names, or that of the entry beside it, or a word that asks for one.
pub(super) fn day_of(typed: &Typed<'_>) -> String {
    typed.words.iter().find(|word| word.is_date()).map_or_else(|| near_day(typed), |word| word.text.to_owned())
}

/// A whole head as a text that is noted.
pub(super) fn noted(typed: &Typed<'_>, text: &str) -> String {
    format!("noted {} \"{text}\"", day_of(typed))
}

/// A head of what no entry keeps, with the text that keeps it all the same.
pub(super) fn kept_as_text(typed: &Typed<'_>, message: &str) -> Slip {
    let text = as_text(typed, 0..typed.words.len());
    let slip = Slip::new(UNKNOWN_HEAD, 0..typed.text.len(), message);
    // What stands below it is a part of the text, where it is short.
    let said: Vec<String> = typed.below.lines().map(line_as_text).filter(|line| !line.is_empty()).collect();
    if said.is_empty() || typed.below.len() > MOST_BELOW || !typed.comment.is_empty() {
        return slip.fix("to keep it as a text, which counts nothing", noted(typed, &text));
    }
    let text = format!("{text}: {}", said.join(", "));
    slip.over_below().fix("to keep it as a text, which counts nothing, in place of the entry and its lines", noted(typed, &text))
}

/// How much of the lines below a head is taken into a text, in bytes.
const MOST_BELOW: usize = 200;

/// A line without its comment and its quotes.
fn line_as_text(line: &str) -> String {
    let said = line.split('#').next().unwrap_or("");
    let said: String = said.chars().filter(|letter| !is_quote(*letter)).collect();
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A line of what no entry keeps, taken out or kept as a text.
pub(super) fn left_out(typed: &Typed<'_>, at: Range<usize>, message: &str) -> Slip {
    let text = as_text(typed, 0..typed.words.len());
    let slip = Slip::new(DETAIL_FORM, at, message).fix("leave it out", "");
    slip.fix("or keep it as a text, which counts nothing", format!("note \"{text}\""))
}

const NEVER_CAME: &str = "money that did not come is no entry: what says that it came is taken out";
pub(super) const NEVER_CAME_HOW: &str = "take out the `received` that was written for it, or in the sale write `unpaid` for `paid`: then it is owed again; \
     what the bank asks for it is `paid DATE to NAME` with a line `12.00 for NAME`, an expense";

/// `bounced 2026-05-09 check from yarn-barn 84.00`
fn bounced(typed: &Typed<'_>) -> Option<Slip> {
    let begins = typed.context.column_one && typed.word(0).is_one_of(&BOUNCED);
    begins.then(|| kept_as_text(typed, NEVER_CAME).note(NEVER_CAME_HOW))
}

/// `84.00 check bounced`, `check 84.00 bounced`
fn bounced_line(typed: &Typed<'_>) -> Option<Slip> {
    let meant = typed.words.iter().any(|word| word.is_one_of(&BOUNCED));
    let sum = typed.words.iter().any(|word| word.is_number());
    let purpose = typed.words.iter().any(|word| word.is("for"));
    (typed.is_detail() && meant && sum && !purpose).then(|| left_out(typed, 0..typed.text.len(), NEVER_CAME).note(NEVER_CAME_HOW))
}

const STILL_THE_SHOPS: &str = "change that is put into the cash box is still the shop's money: it is no entry";
const CASH_OF_SALES: &str = "`cash 200.00` in a sale is what the sales brought, without the change";

/// `change 100.00 in the cash box`, `float 100.00`, `100.00 change for the till`
fn change_in_the_box(typed: &Typed<'_>) -> Option<Slip> {
    let sums = (0..typed.words.len()).filter(|at| sum_of(typed, *at).is_some()).count();
    let first = typed.word(usize::from(sum_of(typed, 0).is_some()));
    let boxed = typed.words.iter().any(|word| word.is_one_of(&BOX));
    let meant = first.is("float") || first.is("change") && (boxed || typed.words.len() == 2);
    let here = typed.is_detail() && typed.verb().is_some_and(|verb| verb != Verb::Changed);
    (here && meant && sums == 1).then(|| left_out(typed, 0..typed.text.len(), STILL_THE_SHOPS).note(CASH_OF_SALES))
}

/// `cash 205.00 incl float 40.00`: what was taken, and the change that was there before
fn float_beside(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold) && typed.word(0).is("cash");
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["float", "change", "till"])).filter(|_| here)?;
    let other = sum_of(typed, at + 1).or_else(|| sum_of(typed, at - 1).filter(|_| at > 2))?;
    let taken = total([(sum_of(typed, 1)?, false), (other, true)].into_iter())?;
    let slip = Slip::new(DETAIL_FORM, typed.range(2..typed.words.len()), STILL_THE_SHOPS).note(CASH_OF_SALES);
    Some(slip.fix("what the sales brought", format!("cash {taken}")))
}

/// `float 2026-02-14 100.00`, `change 2026-02-14 100.00 in the cash box`
fn float(typed: &Typed<'_>) -> Option<Slip> {
    is_float(typed.words.iter().map(|word| word.text), typed.context.column_one)
        .then(|| kept_as_text(typed, STILL_THE_SHOPS).note(CASH_OF_SALES))
}

fn is_float<'t>(mut words: impl Iterator<Item = &'t str>, column_one: bool) -> bool {
    match words.next() {
        Some("float") => column_one && words.any(|word| word.starts_with(|letter: char| letter.is_ascii_digit())),
        Some("change") => column_one && words.any(|word| BOX.contains(&word)),
        _ => false,
    }
}

/// `corrected 2026-08-05 thread was 8.50`, `mistake 2026-08-05`
fn corrected(typed: &Typed<'_>) -> Option<Slip> {
    let begins = typed.context.column_one && typed.word(0).is_one_of(&CORRECTED);
    begins.then(|| {
        let message =
            "what was written wrong is written right where it stands: an entry may be changed as long as its year is not closed";
        let slip = kept_as_text(typed, message);
        slip.note("nothing else needs to be done: all figures follow from the entries; a `note \"…\"` in that entry may say why")
    })
}

/// `84.00 never came` below `noted`, where nothing else fits
pub(super) fn below_a_note(typed: &Typed<'_>) -> Option<Slip> {
    let text = as_text(typed, 0..typed.words.len());
    (typed.is_detail() && typed.verb() == Some(Verb::Noted) && !text.is_empty()).then(|| {
        let message = "`noted` moves nothing: below it stand texts, and no goods and no sums";
        Slip::new(DETAIL_FORM, 0..typed.text.len(), message).fix("as a text", format!("note \"{text}\""))
    })
}

/// Whether a head begins with what is no entry.
pub(super) fn is_no_entry(text: &str) -> bool {
    let first = text.split_whitespace().next().unwrap_or("").to_lowercase();
    BOUNCED.contains(&first.as_str())
        || CORRECTED.contains(&first.as_str())
        || is_float(text.split_whitespace().map(|word| word.trim_end_matches(',')), true)
}
