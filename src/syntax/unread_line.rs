//! What can still be known of a line that no form fits: its names, its date, and whether it was meant as a head.

use chrono::NaiveDate;

use crate::diagnostics::near_names;
use crate::sources::{SourceSet, Span};
use crate::syntax::line_context::BlockWord;
use crate::syntax::placement_table::{HEADS, VERBS};
use crate::syntax::slips::{is_no_entry, month_number, verb_for, verb_of_the_trade};
use crate::syntax::words::{first_word, head_word, is_name, is_reserved};
use crate::syntax::{DefinitionWord, Verb};
use crate::units::{read_date, read_decimal};

/// What parts words here.
fn is_gap(c: char) -> bool {
    matches!(c, ' ' | '\t' | '\u{a0}' | '\u{202f}' | ',' | '\n')
}

/// What begins and ends a text here.
fn is_quote(c: char) -> bool {
    matches!(c, '"' | '“' | '”' | '„')
}

/// The block of a line at column 1 whose first word is known.
pub(crate) fn known_head(text: &str) -> Option<BlockWord> {
    let mut words = text.split(is_gap).filter(|word| !word.is_empty());
    // `sent back` is one word, and no `sent`.
    if words.next() == Some("sent") && words.next() == Some("back") {
        return Some(BlockWord::Entry(Verb::SentBack));
    }
    head_word(first_word(text))
}

/// The verb of a line at column 1 that begins with one.
pub(crate) fn verb_of_line(text: &str) -> Option<Verb> {
    match known_head(text)? {
        BlockWord::Entry(verb) => Some(verb),
        BlockWord::Definition(_) => None,
    }
}

/// The entry that an indented line was meant to begin: its first word is a verb, and a date follows. `paid` and `gave` begin
/// lines of entries too and are not taken for heads.
pub(crate) fn indented_bad_head(text: &str) -> Option<BlockWord> {
    let mut words = text.split(is_gap).filter(|word| !word.is_empty());
    let first = words.next()?;
    match head_word(first)? {
        BlockWord::Entry(verb) if !matches!(verb, Verb::Paid | Verb::Gave) => {
            let day = words.next()?;
            // `received 57.60` is a sum.
            let is_sum = words.next().is_none_or(|next| next == "from")
                && day.split_once('.').is_some_and(|(whole, part)| {
                    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
                    digits(whole) && digits(part) && part.len() == 2
                });
            (looks_like_date(day) && !is_sum).then_some(BlockWord::Entry(verb))
        }
        _ => None,
    }
}

/// Whether an indented line says since when the shop is: `started 2026-01-01` below it is no batch, which would need a name, and `opened
/// 2026-01-01` without goods below it opens nothing.
pub(crate) fn says_since_when(sources: &SourceSet, block: Option<BlockWord>, line: Span) -> bool {
    let mut words = sources.text(line).split_whitespace();
    let first = words.next();
    if block != Some(BlockWord::Definition(DefinitionWord::Shop)) || words.count() != 1 {
        return false;
    }
    let goods_below = || {
        let file = sources.file_at(line.start).map_or(line, |file| file.span);
        let below = sources.text(Span::new(line.end.min(file.end), file.end));
        let next = below.lines().skip(1).map(str::trim).find(|line| !line.is_empty() && !line.starts_with('#'));
        next.is_some_and(|next| next.starts_with(|letter: char| letter.is_ascii_digit()))
    };
    first == Some("started") || first == Some("opened") && !goods_below()
}

/// Whether a line at column 1 without a known first word was meant to begin a block: a date or a text follows its first words.
pub(crate) fn begins_unknown_block(text: &str) -> bool {
    let mut words = text.split(is_gap).filter(|word| !word.is_empty());
    let Some(first) = words.next() else { return false };
    if !first.starts_with(char::is_alphabetic) {
        return false;
    }
    let (second, third) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    // `threw away 1.2 bf maple 2026-03-01`: another word for a verb, and the day at the end.
    let dated = || text.split(is_gap).any(|word| read_date(word).is_ok());
    if known_head(text).is_none() && (other_verb_of(text).is_some() || is_no_entry(text)) && dated() {
        return true;
    }
    // `threw away 2026-03-01`: the day of a verb of two words.
    looks_like_date(second) || is_name(second) && (third.starts_with(is_quote) || read_date(third).is_ok())
}

/// The head that stands behind its day, and at which byte it begins: `2026-01-05 bought from …`, `Jan 5: sold …`.
pub(crate) fn head_behind_its_day(text: &str) -> Option<(BlockWord, usize)> {
    let mut words = text.split_whitespace().map(|word| word.trim_end_matches([':', ',']));
    let (first, second, third) = (words.next()?, words.next()?, words.next().unwrap_or(""));
    let is_day = |word: &str| matches!(word.len(), 1..=4) && word.starts_with(|c: char| c.is_ascii_digit());
    let is_year = |word: &str| word.len() == 4 && word.bytes().all(|byte| byte.is_ascii_digit());
    let in_words = || month_number(first).is_some() && is_day(second) || is_day(first) && month_number(second).is_some();
    let day = match () {
        () if looks_like_date(first) => 1,
        () if in_words() => 2 + usize::from(is_year(third)),
        () => return None,
    };
    let rest = text.split_whitespace().nth(day).filter(|word| *word != "-").or_else(|| text.split_whitespace().nth(day + 1))?;
    let block = head_word(rest).or_else(|| verb_for(rest).and_then(head_word))?;
    // The word is a part of the text.
    Some((block, rest.as_ptr().addr().checked_sub(text.as_ptr().addr())?))
}

/// Digits parted by hyphens, strokes or points, as people write dates.
fn looks_like_date(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit())
        && word.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '/' | '.'))
        && word.contains(['-', '/', '.'])
}

/// The entry that a misspelled first word was probably meant to be; an entry that moves nothing where none is near.
pub(crate) fn verb_meant(text: &str) -> Verb {
    if is_no_entry(text) {
        return Verb::Noted;
    }
    let near = near_names(&first_word(text).to_lowercase(), VERBS.iter().map(|(word, _)| *word));
    match near.first().and_then(|word| head_word(word)) {
        Some(BlockWord::Entry(verb)) => verb,
        _ => Verb::Noted,
    }
}

/// The verb that a misspelled first word can only be meant for: no other word of the language is near it.
pub(crate) fn only_verb_meant(text: &str) -> Option<Verb> {
    if is_no_entry(text) {
        return None;
    }
    match other_verb_of(text).and_then(head_word) {
        Some(BlockWord::Entry(verb)) => Some(verb),
        _ => only_near_verb(first_word(text)),
    }
}

/// The verb for which another word stands, or two: `consigned`, `threw away`.
fn other_verb_of(text: &str) -> Option<&'static str> {
    if let Some(verb) = verb_of_the_trade(text) {
        return Some(verb);
    }
    let mut words = text.split(is_gap).filter(|word| !word.is_empty());
    let first = words.next()?;
    let two = words.next().map(|second| format!("{first}-{second}"));
    let joined = two.as_deref().and_then(|two| HEADS.into_iter().find(|head| *head == two).or_else(|| verb_for(two)));
    joined.or_else(|| verb_for(first))
}

fn only_near_verb(word: &str) -> Option<Verb> {
    match near_names(word, HEADS).as_slice() {
        [only] => match head_word(only)? {
            BlockWord::Entry(verb) => Some(verb),
            BlockWord::Definition(_) => None,
        },
        _ => None,
    }
}

/// Whether the next line that says something is indented and is a sum for something, as of a payment: `60.00 for booth-fee`, or `60 booth`, which
/// has no price and may be one.
pub(crate) fn has_sums_below(sources: &SourceSet, line: Span) -> bool {
    let Some(file) = sources.file_at(line.start) else { return false };
    let below = sources.text(Span::new(line.end.min(file.span.end), file.span.end));
    let says = |line: &&str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
    let Some(next) = below.lines().skip(1).find(says) else { return false };
    let mut words = next.split(is_gap).filter(|word| !word.is_empty());
    let is_number = words.next().is_some_and(|first| read_decimal(first.trim_start_matches('$')).is_ok());
    let is_sum = is_number && (words.next() == Some("for") || words.next().is_none_or(|word| word.starts_with('#')));
    next.starts_with([' ', '\t', '\u{a0}']) && is_sum
}

/// The first date in a line, and where it stands.
pub(crate) fn first_date(sources: &SourceSet, line: Span) -> Option<(NaiveDate, Span)> {
    words_of(sources, line).find_map(|(word, span)| read_date(word).ok().map(|date| (date, span)))
}

/// The words of a line that are spelled as names and not reserved, its first word and its texts aside.
pub(crate) fn names_in(sources: &SourceSet, line: Span) -> Vec<Span> {
    let mut in_text = false;
    let mut names = Vec::new();
    for (at, (word, span)) in words_of(sources, line).enumerate() {
        let begins_in_text = in_text || word.starts_with(is_quote);
        in_text ^= word.chars().filter(|c| is_quote(*c)).count() % 2 == 1;
        let is_head = at == 0 && head_word(word).is_some();
        if !begins_in_text && !is_head && is_name(word) && !is_reserved(word) {
            names.push(span);
        }
    }
    names
}

/// The second word of a line, where it is spelled as a name and not reserved: what a damaged definition defines.
pub(crate) fn second_name(sources: &SourceSet, line: Span) -> Option<Span> {
    let (word, span) = words_of(sources, line).nth(1)?;
    (is_name(word) && !is_reserved(word)).then_some(span)
}

/// The second word of a line, where it is a word of the language: the name that a definition may not give, by which its things are spoken of all the
/// same.
pub(crate) fn second_reserved(sources: &SourceSet, line: Span) -> Option<Span> {
    let (word, span) = words_of(sources, line).nth(1)?;
    is_reserved(word).then_some(span)
}

/// The words of a line with their places.
fn words_of(sources: &SourceSet, line: Span) -> impl Iterator<Item = (&str, Span)> {
    let text = sources.text(line);
    let at = move |position: usize| line.start.saturating_add(u32::try_from(position).unwrap_or(u32::MAX));
    let mut rest = 0;
    std::iter::from_fn(move || {
        let behind = text.get(rest..)?;
        let start = rest + behind.find(|c| !is_gap(c))?;
        let end = text.get(start..)?.find(is_gap).map_or(text.len(), |step| start + step);
        rest = end;
        Some((text.get(start..end)?, Span::new(at(start), at(end))))
    })
}

#[cfg(test)]
mod tests {
    use super::{only_verb_meant, verb_meant};
    use crate::syntax::Verb;

    #[test]
    fn a_misspelled_verb_is_near_by_one_measure() {
        for (typed, verb) in [("sodl 2026", Verb::Sold), ("Recieved 2026", Verb::Received), ("drovvv 2026", Verb::Drove)] {
            assert_eq!((verb_meant(typed), only_verb_meant(&typed.to_lowercase())), (verb, Some(verb)), "{typed}");
        }
        assert_eq!((verb_meant("xyzzy 2026"), only_verb_meant("xyzzy 2026")), (Verb::Noted, None));
    }
}
