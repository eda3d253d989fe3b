//! Slips of counts that say what is gone: `missing 18 brass-pin`, `2 hooks stolen`, where a count says what is there.

use super::apart::Apart;
use super::name::is_unit;
use super::no_entry::as_text;
use super::slip::{Slip, SlipRule};
use super::typed::Typed;
use super::verb::verb_for;
use crate::syntax::Verb;
use crate::syntax::slip_errors::{HEAD_PART_WORD, OWN_LINE};

pub(super) const RULES: &[SlipRule] = &[gone, gone_at_a_sale, lost_somewhere];

/// How people say that something is no longer there.
const GONE: [&str; 15] = [
    "missing",
    "stolen",
    "broken",
    "gone",
    "lost",
    "damaged",
    "ruined",
    "spoiled",
    "spoilt",
    "theft",
    "vanished",
    "disappeared",
    "unaccounted",
    "shattered",
    "broke",
];

/// Whether a word says so, as in `2 hooks stolen`.
pub(in crate::syntax) fn is_gone_word(word: &str) -> bool {
    GONE.contains(&word)
}

/// `missing 18 brass-pin`, `18 brass-pin missing`, `2 ft bar-1084, stolen` below `counted`
pub(super) fn gone(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Counted);
    let last = typed.words.len().checked_sub(1).filter(|last| here && *last >= 2)?;
    let (at, goods) = match () {
        () if typed.word(0).is_one_of(&GONE) => (0, 1..last + 1),
        () if typed.word(last).is_one_of(&GONE) => (last, 0..last),
        // `18 brass-pin short`: too few by so many, or all that there is.
        () if typed.word(last).is("short") && !typed.word(last - 1).comma => (last, 0..last),
        () if typed.word(0).is("short") => (0, 1..last + 1),
        // `2 stolen hooks`
        () if last == 2 && typed.word(1).is_one_of(&GONE) && typed.word(2).is_name() => {
            let goods = format!("{} {}", typed.word(0).text, typed.word(2).text);
            return typed.word(0).is_number().then(|| told(typed, 1, &goods));
        }
        () => return None,
    };
    let counted = typed.word(goods.start);
    let plain = goods.clone().skip(1).all(|at| typed.word(at).is_name() && (at + 1 == goods.end || !typed.word(at).comma));
    if !(counted.is_number() || counted.is_fraction()) || goods.len() < 2 || !plain {
        return None;
    }
    // `2 lb broken`: a thing by its measure.
    if at == last && is_unit(typed.word(last - 1).text) {
        return None;
    }
    Some(told(typed, at, typed.slice(goods).trim_end_matches([',', ' '])))
}

/// `1 moon stolen`, `2 jars broken` below `sold`
pub(super) fn gone_at_a_sale(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold) && typed.words.len() == 3;
    let (count, thing, word) = (typed.word(0), typed.word(1), typed.word(2));
    let plain = count.is_number() && thing.is_name() && !is_unit(thing.text);
    if !here || !plain || !word.is_one_of(&GONE) {
        return None;
    }
    let message = "what is gone is no sale; it is an entry of its own, `scrapped`";
    let slip = Slip::new(OWN_LINE, word.start..word.end(), message);
    let line = format!("{} {} \"{}\"", count.text, thing.text, word.text.to_lowercase());
    let what = "an entry of its own in place of the line";
    Some(slip.in_an_entry(Apart { what, verb: "scrapped", line, behind: Some(String::new()) }))
}

/// `lost 2026-11-18 in the post to "Dee Marsh" via web`, `broken 2026-10-03 at the fair`: where or how, and no goods
fn lost_somewhere(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0).text.to_lowercase();
    let is_gone = first == "scrapped" || GONE.contains(&first.as_str()) || verb_for(&first) == Some("scrapped");
    let small = ["in", "on", "during", "by"];
    let said = typed.word(2).is_one_of(&small) || typed.word(2).is("at") && typed.word(3).is_one_of(&["the", "a", "my"]);
    if !typed.context.column_one || !is_gone || !typed.word(1).is_date() || !said {
        return None;
    }
    let text = as_text(typed, 2..typed.words.len());
    let text = if first == "scrapped" { text } else { format!("{first} {text}") };
    let slip = Slip::new(
        HEAD_PART_WORD,
        typed.range(2..typed.words.len()),
        "how it was lost is a text below the head, beside the goods",
    );
    let slip = slip
        .note("a piece that was sold and lost on its way stays sold; one that is sent in its place is `used-up DATE on CHANNEL`");
    Some(slip.fix("write it so", format!("scrapped {}\nnote \"{text}\"", typed.word(1).text)))
}

/// What is gone as an entry of its own.
fn told(typed: &Typed<'_>, at: usize, goods: &str) -> Slip {
    let word = typed.word(at);
    let goods = &goods.split_whitespace().collect::<Vec<_>>().join(" ");
    let message = "a count says what is there; what is gone is an entry of its own, `scrapped`";
    let slip = Slip::new(OWN_LINE, word.start..word.end(), message);
    let slip = slip.note(format!("where `{goods}` is what is still there, the line is `{goods}` alone"));
    let line = format!("{goods} \"{}\"", word.text.to_lowercase());
    let what = "an entry of its own in place of the line";
    slip.in_an_entry(Apart { what, verb: "scrapped", line, behind: None })
}
