//! Slips of names: several words, quotes, underscores, a digit in front, a word of the language.

use super::slip::{Slip, SlipRule};
use super::time::time_at;
use super::typed::{Typed, Word, is_name};
use crate::syntax::Verb;
use crate::syntax::errors::{MISSPELLED_NAME, RESERVED_NAME};
use crate::syntax::slip_errors::NAME_SPELLING;
use crate::syntax::words::is_reserved;
use crate::units::Unit;

pub(super) const RULES: &[SlipRule] = &[to_in_quotes, misspelled, lumber_size, in_quotes, two_words, reserved];

/// A name as the language would spell it, for one that it can't read: `red_oak`, `4/4-oak`, `red-oak.`.
pub(super) fn corrected_name(word: &str) -> Option<String> {
    let joined: String =
        word.trim().chars().map(|letter| if letter == '_' || letter.is_whitespace() { '-' } else { letter }).collect();
    let kept: String = joined.chars().filter(|letter| letter.is_alphanumeric() || matches!(letter, '-' | '.' | '/')).collect();
    let bare = kept.trim_matches(['-', '.', '/']);
    let mut name = String::new();
    for letter in bare.chars() {
        if matches!(letter, '-' | '.' | '/') && name.ends_with(['-', '.', '/']) {
            continue;
        }
        name.push(letter);
    }
    if name.starts_with(|letter: char| letter.is_ascii_digit()) {
        // `4/4-oak` turned round is `oak-4/4`.
        let (figures, rest) = name.split_once('-')?;
        name = format!("{rest}-{figures}");
    }
    (is_name(&name) && name != word).then_some(name)
}

/// Whether a word stands where a name is expected: after a number, a unit, or a word that names something.
fn expects_name(typed: &Typed<'_>, at: usize) -> bool {
    let Some(before) = at.checked_sub(1).map(|before| typed.word(before)) else { return false };
    let after_word =
        before.is_one_of(&["for", "on", "via", "by", "batch", "line", "pattern", "off", "lot", "at", "from", "to", "with"]);
    let after_unit = at >= 2 && typed.word(at - 2).is_number() && (is_unit(before.text) || before.is_name());
    let defines = at == 1 && typed.context.column_one && typed.definition().is_some();
    !before.comma && !before.quoted && (before.is_number() || after_word || after_unit || defines)
}

pub(super) fn is_unit(text: &str) -> bool {
    Unit::parse(text).is_some() || matches!(text, "sq" | "cu" | "fl")
}

/// `red_oak`, `4/4-oak`, `80-grit`, `oak(dry)`, `red-oak.`
fn misspelled(typed: &Typed<'_>) -> Option<Slip> {
    let at = (0..typed.words.len()).find(|at| {
        let word = typed.word(*at);
        let has_letter = word.text.contains(char::is_alphabetic);
        let is_size = word.text.chars().all(|letter| letter.is_ascii_digit() || matches!(letter, 'x' | '/' | '.'));
        !word.quoted
            && has_letter
            && !is_size
            && !is_name(word.text)
            && expects_name(typed, *at)
            && corrected_name(word.text).is_some()
    })?;
    let word = typed.word(at);
    let name = corrected_name(word.text)?;
    let why = if word.text.starts_with(|letter: char| letter.is_ascii_digit()) {
        "a name begins with a letter"
    } else {
        "a name is letters and digits, with `-` `.` `/` only between two of those"
    };
    let slip = Slip::new(MISSPELLED_NAME, word.start..word.end(), format!("{why}: `{name}`"));
    Some(slip.fix("write it so, where it is defined too", typed.with(at..at + 1, &name)))
}

/// `6 2x4 for 10.00`
fn lumber_size(typed: &Typed<'_>) -> Option<Slip> {
    let at = (1..typed.words.len()).find(|at| {
        let word = typed.word(*at);
        let sides = word.text.split_once('x').filter(|(one, two)| super::typed::is_digits(one) && super::typed::is_digits(two));
        sides.is_some() && !word.comma && expects_name(typed, *at)
    })?;
    let word = typed.word(at);
    let name = format!("stud-{}", word.text);
    let slip = Slip::new(MISSPELLED_NAME, word.start..word.end(), format!("a name begins with a letter: `{name}`"));
    Some(
        slip.note("sizes of a board follow its name, with blanks around each `x`")
            .fix("if that is its name", typed.with(at..at + 1, &name)),
    )
}

/// `to J. in Dover` in a sale
fn to_in_quotes(typed: &Typed<'_>) -> Option<Slip> {
    let rest = typed.words.get(1..).filter(|rest| typed.is_detail() && typed.word(0).is("to") && !rest.is_empty())?;
    if rest.iter().any(|word| word.quoted || word.comma) {
        return None;
    }
    let name = typed.slice(1..typed.words.len());
    let slip = Slip::new(
        NAME_SPELLING,
        typed.range(1..typed.words.len()),
        format!("what is no name of the book stands in quotes: `to \"{name}\"`"),
    );
    Some(slip.fix("write quotes", format!("to \"{name}\"")))
}

/// Whether a text in quotes stands after an item's name and before more that is said of it.
pub(super) fn memo_in_between(typed: &Typed<'_>, at: usize) -> bool {
    let (word, before) = (typed.word(at), typed.word(at.saturating_sub(1)));
    let more = typed.words.len() > at + 1 && !typed.word(at + 1).is_number();
    word.quoted && word.comma && more && before.is_name() && !is_unit(before.text)
}

/// `31.5 bf "red oak"`
fn in_quotes(typed: &Typed<'_>) -> Option<Slip> {
    let stock = typed.is_detail() && !typed.word(0).is_one_of(&["note", "file", "to", "receipt", "seal"]);
    let at = (1..typed.words.len()).find(|at| {
        let before = typed.word(at - 1);
        let after_unit = *at >= 2 && typed.word(at - 2).is_number() && (is_unit(before.text) || before.is_name());
        stock
            && typed.word(*at).quoted
            && !before.comma
            && !memo_in_between(typed, *at)
            && (before.is_number() || after_unit || before.is_one_of(&["on", "batch", "lot"]))
    })?;
    let word = typed.word(at);
    let inner = word.text.trim_matches(super::typed::is_quote);
    if typed.word(at - 1).is_one_of(&["lot", "batch"]) {
        let code = inner.split_whitespace().collect::<Vec<_>>().join("-");
        let right = format!("{} {code}", typed.word(at - 1).text);
        let slip =
            Slip::new(NAME_SPELLING, word.start..word.end(), format!("a code stands without quotes and is one word: `{right}`"));
        return Some(slip.fix("write it so", typed.with(at..at + 1, &code)).sure_if(code == inner));
    }
    let name = if is_name(inner) && !is_reserved(inner) { Some(inner.to_owned()) } else { corrected_name(inner) }?;
    let slip =
        Slip::new(NAME_SPELLING, word.start..word.end(), format!("a name stands without quotes and is one word: `{name}`"));
    Some(slip.fix_joined("write it so", typed.with(at..at + 1, &name), name))
}

/// `31.5 bf red oak`, `sold … via web page`, `1h fine sanding`
fn two_words(typed: &Typed<'_>) -> Option<Slip> {
    let is_plain = |word: Word<'_>| {
        word.is_name() && !is_unit(word.text) && !word.is_one_of(&["and", "each", "a", "board", "boards", "piece", "pieces"])
    };
    let at = (1..typed.words.len()).find(|at| {
        let (word, next) = (typed.word(*at), typed.word(at + 1));
        let after_unit =
            *at >= 2 && typed.word(at - 2).is_number() && (is_unit(typed.word(at - 1).text) || is_plain(typed.word(at - 1)));
        let before = typed.word(at - 1);
        let named = !before.comma && (before.is_one_of(&["via", "for", "on", "off"]) || after_unit || after_time(typed, *at));
        named && is_plain(word) && !word.comma && is_plain(next)
    })?;
    let is_time = after_time(typed, at);
    // Behind a step may stand what it was for, without its `on`: a batch's code is no part of the step's name.
    let goes_on = |word: Word<'_>| is_plain(word) && (!is_time || word.text.chars().all(char::is_lowercase));
    let mut end = at + 1;
    while goes_on(typed.word(end)) && !typed.word(end - 1).comma {
        end += 1;
    }
    if end < at + 2 {
        return None;
    }
    let name = typed.slice(at..end).split_whitespace().collect::<Vec<_>>().join("-");
    let slip = Slip::new(NAME_SPELLING, typed.range(at..end), format!("a name is one word: `{name}`"));
    let slip = slip.fix_joined("join the words with hyphens", typed.with(at..end, &name), name);
    let ends = typed.word(at + 1).comma || typed.words.len() == at + 2;
    if !is_time || end != at + 2 || !ends || typed.verb() != Some(Verb::Worked) || !typed.is_detail() {
        return Some(slip);
    }
    let (step, what) = (typed.word(at).text, typed.word(at + 1).text);
    Some(slip.fix(format!("if it was for `{what}`"), typed.with(at..end, &format!("{step} on {what}"))))
}

/// Whether a time ends before a word: `1h 20m fine sanding`.
fn after_time(typed: &Typed<'_>, at: usize) -> bool {
    let of_times = typed.verb() == Some(Verb::Worked) || typed.word(0).is_one_of(&["took", "takes"]);
    of_times && (0..at).any(|start| start + time_at(typed, start) == at)
}

/// `2 order`, `on lot`
fn reserved(typed: &Typed<'_>) -> Option<Slip> {
    let at = (1..typed.words.len()).find(|at| {
        let before = typed.word(at - 1);
        let alone = typed.word(at + 1).text.is_empty() || typed.word(*at).comma;
        let after = before.is_number() || before.is_one_of(&["for", "on", "via", "by", "batch", "off", "lot"]);
        let word = typed.word(*at);
        !before.comma
            && after
            && alone
            && !word.quoted
            && is_reserved(word.text)
            && !is_unit(word.text)
            && !word.is_one_of(&["back", "home"])
    })?;
    let word = typed.word(at);
    let slip = Slip::new(
        RESERVED_NAME,
        word.start..word.end(),
        format!("`{}` is a word of the language and can't be a name", word.text),
    );
    Some(slip.note(format!("give the thing another name where it is defined, as in `material my-{} \"…\"`", word.text)))
}
