//! Slips of sums in hundredths of the currency: `fee 20 cents per item`, `at 50¢`.

use super::slip::{Slip, SlipRule};
use super::typed::{Typed, is_digits, is_number};
use crate::syntax::slip_errors::MONEY_SPELLING;

pub(super) const RULES: &[SlipRule] = &[dollars_and_cents, cents];

/// `at 9 dollars 50`, `9 euros and 50 cents`
fn dollars_and_cents(typed: &Typed<'_>) -> Option<Slip> {
    let (at, end) = (0..typed.words.len()).find_map(|at| {
        let whole = typed.word(at + 1).is_one_of(&["dollars", "dollar", "euros", "euro", "pounds", "bucks"]);
        let and = usize::from(typed.word(at + 2).is("and"));
        let part = typed.word(at + 2 + and);
        let cents = typed.word(at + 3 + and).is_one_of(&["cents", "cent", "pence", "p"]);
        let fits = is_digits(typed.word(at).text) && is_digits(part.text) && part.text.len() <= 2;
        (whole && fits && !typed.word(at).comma && !typed.word(at + 1).comma).then_some((at, at + 3 + and + usize::from(cents)))
    })?;
    let cents = typed.words.get(at + 2..end)?.iter().find(|word| word.is_number())?.text;
    let right = format!("{}.{cents:0>2}", typed.word(at).text);
    let slip = Slip::new(MONEY_SPELLING, typed.range(at..end), format!("money is a bare number: `{right}`"));
    Some(slip.fix("write it so", typed.with(at..end, &right)).sure())
}

/// `20 cents`, `2.5 cents`, `50¢`
fn cents(typed: &Typed<'_>) -> Option<Slip> {
    let (words, right) = (0..typed.words.len()).find_map(|at| {
        let word = typed.word(at);
        let in_words = typed.word(at + 1).is_one_of(&["cent", "cents", "pence", "penny", "pennies"]) && !word.comma;
        let (figures, end) = match word.text.strip_suffix('¢') {
            Some("") | None if !in_words => return None,
            Some(figures) if !figures.is_empty() => (figures, at + 1),
            _ => (word.text, at + 2),
        };
        hundredth(figures).filter(|_| !word.quoted).map(|right| (at..end, right))
    })?;
    let message = format!("money is written in whole units of the currency: `{right}`");
    let slip = Slip::new(MONEY_SPELLING, typed.range(words.clone()), message);
    Some(slip.fix("write it so", typed.with(words, &right)).sure())
}

/// A hundredth of a number, its point moved by two places.
fn hundredth(figures: &str) -> Option<String> {
    if !is_number(figures) || figures.len() > 9 {
        return None;
    }
    let (whole, part) = figures.split_once('.').unwrap_or((figures, ""));
    let whole = format!("{whole:0>3}");
    let (units, hundredths) = whole.split_at(whole.len() - 2);
    Some(format!("{units}.{hundredths}{part}"))
}
