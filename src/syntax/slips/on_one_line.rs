//! Slips of entries that were typed on one line: sums, things and changes in the head, where they need a line of their own.

use super::head::{PART_WORDS, verb_of};
use super::money::SIGNS;
use super::name::corrected_name;
use super::slip::Slip;
use super::spoken::sum_of;
use super::time::time_at;
use super::typed::{Typed, is_name, is_number, is_quote};
use crate::syntax::Verb;
use crate::syntax::placement_table::LINES;
use crate::syntax::slip_errors::OWN_LINE;

/// `paid 2026-04-02 yard 30.00`, `received 2026-04-01 from web 30.00 "May"`, `paid 2026-04-02 30.00`
pub(super) fn sum_in_head(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed).filter(|verb| matches!(verb, Verb::Paid | Verb::Received))?;
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_number()).filter(|_| typed.word(1).is_date())?;
    let sum = typed.word(at);
    let purpose = match typed.words.get(at + 1..)? {
        [] => "NAME".to_owned(),
        [memo] if memo.quoted => format!("NAME {}", memo.text),
        [name] if name.is_name() && at > 2 => name.text.to_owned(),
        _ => return None,
    };
    let right = if verb == Verb::Paid { "to" } else { "from" };
    let first = if typed.word(2).is(right) { 3 } else { 2 };
    let party = match typed.words.get(first..at)? {
        [] if verb == Verb::Received => String::new(),
        [] => format!(" {right} NAME"),
        [one] if one.quoted || one.is_name() => format!(" {right} {}", one.text),
        several if several.iter().any(|word| word.quoted || PART_WORDS.iter().any(|part| word.is(part))) => return None,
        _ => format!(" {right} \"{}\"", typed.slice(first..at)),
    };
    let head = format!("{}{party}", typed.slice(0..2));
    let slip = Slip::new(OWN_LINE, sum.start..typed.text.len(), "the sum goes on a line of its own, indented");
    let asked = match verb {
        Verb::Received => format!(
            "what the sum was for follows `for`: an order (`{0} for order \"W-0031\"`), the day of a sale (`{0} for sold 2026-03-20`), or the name of an income",
            sum.text
        ),
        _ => format!(
            "what the sum was for follows `for`: the name of an expense, a bill (`{0} for receipt \"A-1182\"`) or the day of one (`{0} for bought 2026-03-02`)",
            sum.text
        ),
    };
    let slip = if purpose.starts_with("NAME") { slip.note(asked) } else { slip };
    let slip = slip.fix("begin a line with it", format!("{head}\n{} for {purpose}", sum.text));
    // `paid 2026-02-28 to electricity 48.20`
    let party = typed.word(first);
    Some(match purpose == "NAME" && verb == Verb::Paid && at == first + 1 && party.is_name() {
        true => {
            let line = format!("{} to NAME\n{} for {}", typed.slice(0..2), sum.text, party.text);
            slip.fix(format!("if `{}` is what it was for", party.text), line)
        }
        false => slip,
    })
}

/// `received 2026-03-15 $35 commission from tool company`, `paid 2026-03-05 85.00 for booth-fee to county-fair`
pub(super) fn sum_before_party(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed).filter(|verb| matches!(verb, Verb::Paid | Verb::Received) && typed.word(1).is_date())?;
    let sum = typed.word(2).text.trim_matches(SIGNS);
    let right = if verb == Verb::Paid { "to" } else { "from" };
    let at = (3..typed.words.len()).find(|at| typed.word(*at).is(right)).filter(|_| is_number(sum))?;
    // What it was for stands before who it was, or behind.
    let behind = (at + 2..typed.words.len()).find(|behind| typed.word(*behind).is("for")).filter(|_| at == 3);
    let (purpose, party) = match behind {
        Some(behind) => (behind + 1..typed.words.len(), at + 1..behind),
        None => (3 + usize::from(typed.word(3).is("for"))..at, at + 1..typed.words.len()),
    };
    let told = typed.range(2..if behind.is_some() { typed.words.len() } else { at });
    let is_part = |at: usize| PART_WORDS.iter().any(|part| typed.word(at).is(part));
    let plain = |at: usize| !typed.word(at).quoted && !typed.word(at).comma && !is_part(at);
    let purpose_words = purpose.clone();
    let purpose = typed.slice(purpose).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    let one_text = party.len() == 1 && (typed.word(at + 1).quoted || typed.word(at + 1).is_name());
    if purpose_words.is_empty()
        || !purpose_words.clone().all(plain)
        || !is_name(&purpose)
        || party.is_empty()
        || !one_text && !party.clone().all(plain)
    {
        return None;
    }
    let party = if one_text { typed.slice(party).to_owned() } else { format!("\"{}\"", typed.slice(party)) };
    let slip = Slip::new(OWN_LINE, told, "the sum goes on a line of its own, indented");
    Some(slip.fix("begin a line with it", format!("{} {right} {party}\n{sum} for {purpose}", typed.slice(0..2))))
}

/// `paid 2026-04-02 for booth-fee 85.00`, `paid 2026-04-02 to county-fair for booth-fee 85.00`
pub(super) fn sum_last(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| *verb == Verb::Paid)?;
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 4 && typed.word(1).is_date())?;
    let (purpose, sum) = (typed.word(last - 1), typed.word(last));
    if !sum.is_number() || !purpose.is_name() || !typed.word(last - 2).is("for") {
        return None;
    }
    let party = match typed.words.get(2..last - 2)? {
        [] => "to NAME".to_owned(),
        [to, one] if to.is("to") && (one.quoted || one.is_name()) => format!("to {}", one.text),
        _ => return None,
    };
    let slip =
        Slip::new(OWN_LINE, typed.range(last - 2..last + 1), "the sum goes on a line of its own, indented, and comes first");
    Some(slip.fix("begin a line with it", format!("{} {party}\n{} for {}", typed.slice(0..2), sum.text, purpose.text)))
}

/// `bought 2026-12-13 tool "Band saw" for 450.00`, `bought 2026-12-13 from yard clamps for 24.00`
pub(super) fn thing_in_head(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| *verb == Verb::Bought)?;
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 4 && typed.word(1).is_date())?;
    if !typed.word(last).is_number() || !typed.word(last - 1).is("for") {
        return None;
    }
    let (party, from) = if typed.word(2).is("from") { (format!(" {}", typed.slice(2..4)), 4) } else { (String::new(), 2) };
    let from = from + usize::from(typed.word(from).is_one_of(&["tool", "a", "the", "material", "product"]));
    let words = typed.words.get(from..last - 1)?;
    let one_text = matches!(words, [word] if word.quoted);
    if words.is_empty() || words.iter().any(|word| word.comma || word.is_number() || word.quoted && !one_text) {
        return None;
    }
    let text = typed.slice(from..last - 1).trim_matches(is_quote).to_lowercase();
    let name = if is_name(&text) { text } else { corrected_name(&text)? };
    let slip = Slip::new(OWN_LINE, typed.range(from..last + 1), "what the entry holds goes on lines of its own, indented");
    Some(slip.fix("begin a line with it", format!("{}{party}\n1 {name} for {}", typed.slice(0..2), typed.word(last).text)))
}

/// `changed 2026-12-11 pull-cart price 42.00`
pub(super) fn change_in_head(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| *verb == Verb::Changed)?;
    let first = typed.words.get(3)?;
    let begins = LINES.iter().any(|row| row.blocks.has_some_definition() && row.words.split(' ').next() == Some(first.text));
    if !typed.word(1).is_date() || !typed.word(2).is_name() || !begins {
        return None;
    }
    let slip = Slip::new(OWN_LINE, typed.range(3..typed.words.len()), "what changes goes on a line of its own, indented");
    Some(slip.fix("begin a line with it", format!("{}\n{}", typed.slice(0..3), typed.slice(3..typed.words.len()))))
}

/// `paid 2026-03-05 85.00 for booth-fee`, `worked 2026-03-02 1h general`, `sold … via web-page 2 pull-cart`
pub(super) fn item_in_head(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed).filter(|verb| {
        !matches!(verb, Verb::Drove | Verb::Odometer | Verb::Retired | Verb::Noted | Verb::Answered | Verb::Changed)
    })?;
    const LINE_WORDS: [&str; 10] = ["used", "took", "made", "lost", "kept", "total", "paid", "unpaid", "discount", "shipping"];
    let at = (2..typed.words.len()).find(|at| {
        let (word, before) = (typed.word(*at), typed.word(at - 1));
        let number = word.text.starts_with(|letter: char| letter.is_ascii_digit()) && !word.is_date();
        let in_part = before.is_one_of(&PART_WORDS);
        !word.quoted && !in_part && (number || word.is_one_of(&LINE_WORDS))
    })?;
    let (head, tail) = (typed.text.get(..typed.word(at - 1).end())?, typed.text.get(typed.word(at).start..)?);
    // `gave 2026-03-22 1 pull-cart to school as donation`: what follows the item stays in the head.
    let part = (at + 2..typed.words.len()).find(|part| typed.word(*part).is_one_of(&["to", "from", "via", "with", "order"]));
    let in_head = part.filter(|_| !typed.word(at - 1).is_one_of(&PART_WORDS) && verb != Verb::Paid && verb != Verb::Received);
    let (head, tail) = match in_head {
        Some(part) => {
            // What it cost stands with the item: `… 10 bf ash from Mill for 50.00`.
            let end = typed.words.len().saturating_sub(2);
            let price = end > part + 1 && typed.word(end).is_one_of(&["for", "at"]) && sum_of(typed, end + 1).is_some();
            let (end, price) = match sum_of(typed, end + 1) {
                Some(sum) if price => (end, format!(" {} {sum}", typed.word(end).text)),
                _ => (typed.words.len(), String::new()),
            };
            (format!("{head} {}", typed.slice(part..end)), format!("{}{price}", typed.slice(at..part)))
        }
        None => (head.to_owned(), tail.to_owned()),
    };
    // A line of a batch begins with its word.
    let tail = match () {
        () if !verb.is_of_a_batch() || !typed.word(at).text.starts_with(|letter: char| letter.is_ascii_digit()) => tail,
        () if time_at(typed, at) > 0 => format!("took {tail}"),
        () => format!("made {tail}"),
    };
    let what = match verb {
        Verb::Paid | Verb::Received => "the sum goes on a line of its own, indented",
        _ => "what the entry holds goes on lines of its own, indented",
    };
    let slip = Slip::new(OWN_LINE, typed.word(at).start..typed.text.len(), what);
    let payee = if verb == Verb::Paid && at == 2 { " to NAME" } else { "" };
    Some(slip.fix("begin a line with it", format!("{head}{payee}\n{tail}")))
}
