//! Slips of money in a currency that is not the shop's: `35 euros`, `€35`, `CAD 45.00, which came to 32.85`.

use super::money::SIGNS;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::{Typed, is_number};
use crate::sources::SourceSet;
use crate::syntax::slip_errors::MONEY_SPELLING;
use crate::units::Currency;

pub(super) const RULES: &[SlipRule] = &[came_to, foreign];

/// The currency of a book, as its `shop` says it.
pub(super) fn currency_of_shop(sources: &SourceSet) -> Option<Currency> {
    const WORD: &str = "currency ";
    let whole = sources.whole();
    whole.match_indices(WORD).find_map(|(at, _)| {
        let before = whole.get(..at)?.rsplit('\n').next()?;
        let code = whole.get(at + WORD.len()..)?.split_whitespace().next()?;
        Currency::parse(code).filter(|_| before.trim().is_empty())
    })
}

/// Whether a line says a currency at all.
pub(super) fn says_currency(line: &str) -> bool {
    line.contains(SIGNS) || line.split([' ', ',', '\t']).any(|word| is_code(word) || code_of(word).is_some())
}

fn is_code(word: &str) -> bool {
    let letters = word.trim_matches(|letter: char| letter.is_ascii_digit() || letter == '.');
    Currency::parse(letters).is_some()
}

/// The code that a word or a sign stands for; `$` and dollars stand for the dollars of several countries.
fn code_of(word: &str) -> Option<&'static str> {
    match word.to_lowercase().as_str() {
        "€" | "euro" | "euros" => Some("EUR"),
        "£" | "quid" | "sterling" => Some("GBP"),
        "¥" | "yen" => Some("JPY"),
        "$" | "dollar" | "dollars" | "bucks" => Some("$"),
        _ => None,
    }
}

/// The currency that a word says, with or without its figure: `EUR`, `€35`, `35EUR`.
fn currency_in(word: &str) -> Option<&str> {
    let letters = word.trim_matches(|letter: char| letter.is_ascii_digit() || letter == '.');
    code_of(letters).or_else(|| Currency::parse(letters).map(|_| letters))
}

/// The line without its currency, and the code of that.
fn without_currency(typed: &Typed<'_>) -> Option<(String, String)> {
    let mut code: Option<String> = None;
    let mut line = typed.text.to_owned();
    for (at, word) in typed.words.iter().enumerate().rev().filter(|(_, word)| !word.quoted) {
        let Some(found) = currency_in(word.text) else { continue };
        let figures = word.text.trim_matches(|letter: char| !letter.is_ascii_digit());
        // `2 CUP flour` is no money.
        let is_pack = figures.is_empty() && typed.word(at + 1).is_name();
        let beside = at.checked_sub(1).is_some_and(|before| typed.word(before).is_number()) || typed.word(at + 1).is_number();
        if is_pack || figures.is_empty() && !beside || !figures.is_empty() && !is_number(figures) {
            continue;
        }
        if code.as_deref().is_some_and(|code| code != found) {
            return None;
        }
        code = Some(found.to_owned());
        let (start, end) = match figures.is_empty() {
            true if typed.word(at + 1).is_number() => (word.start, typed.word(at + 1).start),
            true => (at.checked_sub(1).map_or(word.start, |before| typed.word(before).end()), word.end()),
            false => (word.start, word.end()),
        };
        line.replace_range(start..end, figures);
    }
    Some((line, code?))
}

/// `1 hat for 35 euros`, `1 hat for €35`, `10 labels for 35 GBP`
fn foreign(typed: &Typed<'_>) -> Option<Slip> {
    if typed.word(0).is("currency") || typed.words.iter().any(|word| word.text == "=") {
        return None;
    }
    let (line, code) = without_currency(typed)?;
    // A book that says no currency is in this one.
    let shop = typed.currency.unwrap_or(Currency::USD).code();
    // `$` is the sign of the shop's own dollars, where it has any.
    let code = match (code.as_str(), shop) {
        ("$", shop) if shop.ends_with('D') => return None,
        ("$", _) => "USD",
        (code, _) => code,
    };
    if shop == code {
        return None;
    }
    let at = typed.words.iter().find(|word| !word.quoted && currency_in(word.text).is_some())?;
    let message = format!("money is a bare number in the shop's currency; of {code} the entry says the rate too");
    let slip = Slip::new(MONEY_SPELLING, at.start..at.end(), message);
    if !typed.is_detail() || typed.verb().is_none() {
        let slip = match typed.verb() {
            Some(_) => slip.note(format!("else a line of the entry says the rate of that day: `1 {code} = 1.0842`")),
            None => slip,
        };
        return Some(slip.fix("leave the currency out, where the sum is in the shop's", line));
    }
    let slip = slip
        .note(format!("RATE is what one {code} was worth that day in the shop's currency; the line stands once in the entry"));
    let slip = slip.fix("with the rate", format!("{line}\n1 {code} = RATE"));
    Some(slip.fix("where the sum is in the shop's currency, leave the other out", line))
}

/// `1 hat for CAD 45.00, which came to 32.85`
fn came_to(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1)?;
    let sum = sum_of(typed, last).filter(|_| typed.is_detail())?;
    let at = (2..last).find(|at| currency_in(typed.word(*at).text).is_some())?;
    let begins = if typed.word(at - 1).is_number() && typed.word(at - 1).start > 0 { at - 1 } else { at };
    let behind =
        (at..last).find(|at| typed.word(*at).is_one_of(&["came", "comes", "makes", "made", "is", "was", "being", "="]))?;
    let end = behind - usize::from(typed.word(behind - 1).is_one_of(&["which", "that", "it"]));
    let word = typed.word(begins - 1).is_one_of(&["for", "at"]);
    if !word || end <= begins {
        return None;
    }
    let text = typed.slice(begins..end).trim_end_matches([',', ' ']);
    let slip = Slip::new(MONEY_SPELLING, typed.range(begins..last + 1), "money is a bare number in the shop's currency");
    Some(slip.fix("with the other as a text behind it", format!("{} {sum} \"{text}\"", typed.slice(0..begins))))
}
