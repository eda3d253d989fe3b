//! Slips of what is said behind goods without a form: `(two bent)`, `size 10`, `10 cart, sold 7`, `1 stool lost, frame split`.

use std::ops::Range;

use super::no_entry::as_text;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::spoken_lines::SPOILED;
use super::typed::{Typed, is_digits};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{NAME_SPELLING, OWN_LINE, QUANTITY_FIRST};

pub(super) const RULES: &[SlipRule] = &[in_brackets, sold_of_those_taken, lost_with_reason, lost_what, of_a_size];

/// `made 20 taper-pair (two bent)`, `2 stool (gift for Ann) at 18.00`
fn in_brackets(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.is_detail() || typed.words.iter().any(|word| word.quoted) {
        return None;
    }
    let start = (1..typed.words.len()).find(|at| typed.word(*at).text.starts_with('('))?;
    let end = (start..typed.words.len()).find(|at| typed.word(*at).text.ends_with(')'))? + 1;
    let said = typed.slice(start..end).trim_matches(['(', ')', ' ']);
    if said.is_empty() || said.contains(['(', ')', '"']) {
        return None;
    }
    let front = typed.slice(0..start).trim_end_matches([',', ' ']);
    let behind = typed.slice(end..typed.words.len());
    if let Some(slip) = of_a_customer(typed, said, start..end) {
        return Some(slip);
    }
    if behind.contains('(') {
        return None;
    }
    // `(35.00 each)`, `(7 back)`, `(unpaid)` say more than a remark.
    let told = said.chars().any(|letter| letter.is_ascii_digit())
        || ["each", "back", "unpaid", "returned", "counted", "both", "paid"]
            .iter()
            .any(|word| said.split_whitespace().any(|said| said == *word));
    if told {
        let slip = Slip::new(NAME_SPELLING, typed.range(start..end), "what is in brackets is said without them");
        if said == "unpaid" && behind.is_empty() {
            return Some(slip.fix("write it so", format!("{front}\nunpaid")));
        }
        let comma = if said.ends_with("back") { "," } else { "" };
        return Some(slip.fix("write it so", format!("{front}{comma} {said} {behind}").trim_end().to_owned()));
    }
    let of_work = typed.word(0).is("took") || typed.verb() == Some(Verb::Worked);
    if of_work && !said.contains(' ') && behind.is_empty() {
        let slip = Slip::new(NAME_SPELLING, typed.range(start..end), "who did it is said with `by`; a remark stands in quotes");
        return Some(
            slip.fix(format!("where `{said}` did it"), format!("{front} by {said}"))
                .fix("or as a remark", format!("{front} \"{said}\"")),
        );
    }
    let line = format!("{front} {behind}").trim_end().to_owned();
    let message = format!("a remark stands in quotes, at the end of its line: `\"{said}\"`");
    let slip = Slip::new(NAME_SPELLING, typed.range(start..end), message);
    Some(slip.fix("write it so", format!("{line} \"{said}\"")))
}

/// `used 2 yd velvet, 1 sheet clear (customer's own)`: what belongs to somebody else
fn of_a_customer(typed: &Typed<'_>, said: &str, brackets: Range<usize>) -> Option<Slip> {
    let small = said.to_lowercase();
    let whose =
        ["customer", "client", "her own", "his own", "their own", "hers", "theirs"].iter().any(|whose| small.contains(whose));
    let used = typed.word(0).is_one_of(&["used", "needs"]) && !small.contains("for ");
    if !used || !whose {
        return None;
    }
    let begins = (1..brackets.start).rfind(|at| typed.word(*at - 1).comma || *at == 1)?;
    let message = "what belongs to a customer is no stock of the shop: it is left out";
    let slip = Slip::new(OWN_LINE, typed.range(begins..brackets.end), message);
    let before = typed.slice(0..begins).trim_end_matches([',', ' ']);
    let behind = typed.slice(brackets.end..typed.words.len()).trim_start_matches([',', ' ']);
    let line = match (begins, behind.is_empty()) {
        (1, true) => String::new(),
        (1, false) => format!("{before} {behind}"),
        (_, true) => before.to_owned(),
        (_, false) => format!("{before}, {behind}"),
    };
    Some(slip.fix("leave it out", line).fix("or, where it is yours, with a remark", typed.with(brackets, &format!("\"{said}\""))))
}

/// `10 cedar-jar, sold 7` below `sold`: how many of those that were taken along were sold
fn sold_of_those_taken(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold) && typed.words.len() == 4;
    let (count, thing, two, three) = (typed.word(0).text, typed.word(1), typed.word(2), typed.word(3));
    let (word, other) = if is_digits(three.text) { (two, three.text) } else { (three, two.text) };
    if !here || !word.is_one_of(&["sold", "taken"]) || !is_digits(count) || !thing.is_name() || !thing.comma {
        return None;
    }
    let (taken, sold) = if word.is("taken") { (other, count) } else { (count, other) };
    let back = taken.parse::<u64>().ok()?.checked_sub(sold.parse::<u64>().ok()?)?;
    let right = if back == 0 { format!("{sold} {}", thing.text) } else { format!("{taken} {}, {back} back", thing.text) };
    let message = format!("what was taken along and not sold is said with `back`: `{right}`");
    let slip = Slip::new(OWN_LINE, typed.range(2..4), message);
    Some(slip.fix(format!("{taken} were taken along, and {sold} of them sold"), right))
}

/// `1 stool lost, frame split`, `2 jars broken in the kiln` in a batch
fn lost_with_reason(typed: &Typed<'_>) -> Option<Slip> {
    let in_batch = typed.is_detail() && typed.verb().is_some_and(Verb::is_of_a_batch);
    let (count, thing, lost) = (typed.word(0), typed.word(1), typed.word(2));
    let length = typed.words.len();
    if !in_batch || !is_digits(count.text) || !thing.is_name() || !lost.is_one_of(&SPOILED) || length < 4 {
        return None;
    }
    let why = if lost.is("lost") { as_text(typed, 3..length) } else { as_text(typed, 2..length) };
    let right = format!("lost {} {} \"{why}\"", count.text, thing.text);
    let slip = Slip::new(OWN_LINE, 0..typed.text.len(), format!("what was spoiled is said with `lost`: `{right}`"));
    Some(slip.note("`made` counts the good ones alone").fix("write it so", right))
}

/// `lost 1 "frame split"` in a batch
fn lost_what(typed: &Typed<'_>) -> Option<Slip> {
    let in_batch = typed.is_detail() && typed.verb().is_some_and(Verb::is_of_a_batch);
    let begins = typed.word(0).is_one_of(&["lost", "made"]) && is_digits(typed.word(1).text) && typed.word(2).quoted;
    (in_batch && begins && typed.words.len() == 3).then(|| {
        let (count, why) = (typed.word(1).text, typed.word(2).text);
        let message = format!("{count} of what? the name of the goods stands behind the count");
        let slip = Slip::new(QUANTITY_FIRST, typed.range(1..2), message);
        slip.fix("with the name of the goods", format!("{} {count} NAME {why}", typed.word(0).text))
    })
}

/// `2 belts size 10`, `1 ring no 6 at 40.00`
fn of_a_size(typed: &Typed<'_>) -> Option<Slip> {
    const WORDS: [&str; 8] = ["size", "no", "no.", "number", "model", "style", "nr", "nr."];
    let figure = |at: usize| typed.word(at).text.starts_with(char::is_alphanumeric);
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&WORDS) && figure(at + 1))?;
    let goods = typed.is_detail() && typed.word(0).is_number() && !typed.word(at).comma;
    let behind = at + 2;
    let rest = typed.slice(behind..typed.words.len());
    let plain = rest.is_empty() || typed.word(behind).is_one_of(&["at", "for"]) || sum_of(typed, behind).is_some();
    if !goods || !plain || typed.words.iter().any(|word| word.quoted) {
        return None;
    }
    let said = typed.slice(at..behind);
    let front = typed.slice(0..at).trim_end_matches([',', ' ']);
    let line = format!("{front} {rest}").trim_end().to_owned();
    let message = format!("a size is a remark, in quotes at the end of its line: `\"{said}\"`");
    let slip = Slip::new(NAME_SPELLING, typed.range(at..behind), message);
    let slip = slip.note("where sizes are counted or priced apart, each has a name of its own");
    Some(slip.fix("write it so", format!("{line} \"{said}\"")))
}
