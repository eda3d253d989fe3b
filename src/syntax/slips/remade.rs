//! Slips of heads that make goods by another word: packed into kits, taken apart for their material, exchanged for others.

use super::no_entry::day_of;
use super::slip::{Slip, SlipRule};
use super::time::time_at;
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::slip_errors::{SMALL_WORD, UNKNOWN_HEAD};

pub(super) const RULES: &[SlipRule] = &[packed, taken_apart, exchanged, got_back];

const PACKED: [&str; 6] = ["packed", "bundled", "kitted", "bagged", "boxed", "bottled"];
const APART: [&str; 9] =
    ["unravelled", "unraveled", "frogged", "unpicked", "dismantled", "disassembled", "unmade", "undid", "recycled"];

/// What stands behind the day of a head, where it begins with a count.
fn goods_behind_day<'t>(typed: &Typed<'t>) -> Option<&'t str> {
    let begins = 1 + usize::from(typed.word(1).is_date());
    let counted = typed.word(begins).text.starts_with(|letter: char| letter.is_ascii_digit());
    let end =
        (begins..typed.words.len()).find(|at| *at > begins && typed.word(*at).is_one_of(&["on", "for", "into", "to", "from"]));
    let end = end.unwrap_or(typed.words.len());
    (counted && !typed.word(begins).is_date() && time_at(typed, begins) == 0 && end > begins + 1)
        .then(|| typed.slice(begins..end).trim_end_matches([',', ' ']))
}

/// `packed 2026-02-05 10 hat-kits`
fn packed(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.context.column_one || !typed.word(0).is_one_of(&PACKED) {
        return None;
    }
    let day = day_of(typed);
    let message = "what is put together for sale is `built`: what went in, and what was made of it";
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), message);
    Some(match goods_behind_day(typed) {
        Some(goods) => slip
            .fix("what its recipe needs was used", format!("built {day}\nmade {goods}\nused as planned"))
            .fix("or with what was used", format!("built {day}\nmade {goods}\nused 1 NAME")),
        None => slip.fix("write `built`", format!("built {day}")),
    })
}

/// `unravelled 2026-08-10 1 hat`
fn taken_apart(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.context.column_one || !typed.word(0).is_one_of(&APART) {
        return None;
    }
    let day = day_of(typed);
    let message = "what is taken apart for its material is a batch: `used` says what went in, `made` what came of it";
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), message);
    Some(match goods_behind_day(typed) {
        // What came of it may stand below.
        Some(goods) if !typed.below.is_empty() => {
            slip.note("below it, what came of it: `made 1 NAME`").fix("write `built`", format!("built {day}\nused {goods}"))
        }
        Some(goods) => slip.fix("write `built`", format!("built {day}\nused {goods}\nmade 1 NAME")),
        None => slip.fix("write `built`", format!("built {day}")),
    })
}

/// `got back 1 madder-skein`, `back 1 madder-skein` in a batch
fn got_back(typed: &Typed<'_>) -> Option<Slip> {
    let words = match () {
        () if typed.word(0).is_one_of(&["got", "gave", "recovered", "saved"]) && typed.word(1).is("back") => 2,
        () if typed.word(0).is_one_of(&["got", "recovered", "back"]) => 1,
        () => return None,
    };
    let counted = typed.word(words).text.starts_with(|letter: char| letter.is_ascii_digit());
    (counted && typed.is_detail() && typed.verb().is_some_and(Verb::is_of_a_batch)).then(|| {
        let slip = Slip::new(SMALL_WORD, typed.range(0..words), "what came of a batch is said with `made`");
        slip.fix("write `made`", typed.with(0..words, "made"))
    })
}

/// `exchanged 2026-06-05 1 hat for 1 hat other colour`
fn exchanged(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.context.column_one || !is_exchange(typed.text) {
        return None;
    }
    let day = day_of(typed);
    let parts = goods_behind_day(typed);
    let other = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["for", "into"]));
    let other = other.map(|at| (at + 1..typed.words.len(), typed.word(at + 1))).filter(|(_, word)| word.is_number());
    // Of what went out the count and the name are known, what is said of it besides is not.
    let other = other.map(|(words, _)| typed.slice(words.start..words.end.min(words.start + 2)).to_owned());
    let (back, out) = (parts.unwrap_or("1 NAME"), other.unwrap_or_else(|| "1 NAME".to_owned()));
    let message = "a buyer's exchange is two entries: `returned` for what came back, `sold` for what went out";
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), message)
        .note(format!("the other of them is `sold {day} via NAME` with a line `{out}`, at its full price, without a line `paid`: what was refunded makes up the difference"))
        .note("goods against other goods, and no buyer's, are `swapped`");
    let slip = slip.fix("what the buyer brought back", format!("returned {day} via NAME\n{back}, refunded SUM, back to stock"));
    Some(slip.fix("or a barter", format!("swapped {day} with NAME\ngave {back}\ngot {out}")))
}

/// Whether a head says that goods were exchanged, and not with whom, as a barter is said.
pub(super) fn is_exchange(text: &str) -> bool {
    let mut words = text.split_whitespace();
    let first = words.next().unwrap_or("").to_lowercase();
    let has_with = words.any(|word| word == "with");
    ["exchanged", "exchange"].contains(&first.as_str()) && !has_with
}

/// Whether a head begins a batch by another word.
pub(super) fn is_batch(text: &str) -> bool {
    let first = text.split_whitespace().next().unwrap_or("").to_lowercase();
    PACKED.contains(&first.as_str()) || APART.contains(&first.as_str())
}
