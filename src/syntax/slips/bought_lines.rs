//! Slips of purchases as they are spoken of: `15 lb rhubarb, free from the neighbour`, `kettle 340, lasts 5 years`, `groceries 22 private`.

use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::{Typed, is_digits};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{OWN_LINE, SUM_WITHOUT_FOR};

pub(super) const RULES: &[SlipRule] = &[free_of_charge, lasts_years, private_sum, private_goods];

fn is_bought(typed: &Typed<'_>) -> bool {
    typed.is_detail() && typed.verb() == Some(Verb::Bought)
}

/// `15 lb rhubarb, free from the neighbour`, `3 boards free`
fn free_of_charge(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let at = (2..length).find(|at| typed.word(*at).is_one_of(&["free", "gratis"]))?;
    let named = typed.word(at - 1).is_name() || typed.word(at - 1).is("for");
    let here = is_bought(typed) || typed.is_detail() && typed.verb() == Some(Verb::Sold);
    if !here || !typed.word(0).is_number() || !named || (at..length).any(|at| typed.word(at).quoted) {
        return None;
    }
    let end = at - usize::from(typed.word(at - 1).is("for"));
    let goods = typed.slice(0..end).trim_end_matches([',', ' ']);
    let said = typed.slice(at + 1..length).trim_matches([',', ' ']);
    let remark = if said.is_empty() || said == "of charge" { String::new() } else { format!(" \"{said}\"") };
    let slip = Slip::new(OWN_LINE, typed.range(end..length), "what cost nothing is said so: `for 0.00`");
    let slip = match is_bought(typed) {
        true => {
            slip.note("what was found or came as a present is `found DATE` with a line of what it is; nobody needs to be named")
        }
        false => slip.note("what was given away, and to whom, may be an entry of its own: `gave DATE to \"…\" as gift`"),
    };
    Some(slip.fix("write it so", format!("{goods} for 0.00{remark}")))
}

/// `kettle 340, lasts 5 years`
fn lasts_years(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let at = (1..length)
        .find(|at| typed.word(*at).is_one_of(&["lasts", "last", "good", "should", "over"]) && typed.word(at - 1).comma)?;
    let years =
        (at..length).find(|at| is_digits(typed.word(*at).text) && typed.word(at + 1).is_one_of(&["years", "year", "yrs"]))?;
    let goods = typed.slice(0..at).trim_end_matches([',', ' ']);
    if !is_bought(typed) || years + 2 != length {
        return None;
    }
    let count = typed.word(years).text;
    let slip = Slip::new(
        OWN_LINE,
        typed.range(at..length),
        "over how many years a tool is recovered stands once, where it is defined",
    )
    .note(format!(
        "below `tool NAME \"…\"` stands `recovered over {count} years`; what the tax year allows its form's instructions say"
    ));
    let (one, sum) = (typed.word(0), sum_of(typed, at.checked_sub(1)?));
    let line = match sum.filter(|_| at == 2 && one.is_name()) {
        Some(sum) => format!("1 {} for {sum}", one.text),
        None => goods.to_owned(),
    };
    Some(slip.fix("without it", line))
}

/// `1 ball of yarn for my own knitting 12.00`, `2 mugs for me 18.00`: goods on the bill that the maker keeps
fn private_goods(typed: &Typed<'_>) -> Option<Slip> {
    let at = (2..typed.words.len()).find(|at| {
        let (next, third) = (typed.word(at + 1), typed.word(at + 2));
        typed.word(*at).is("for") && (next.is_one_of(&["me", "myself", "home", "us"]) || next.is("my") && third.is("own"))
    })?;
    let figures = (at + 1..typed.words.len()).find_map(|at| sum_of(typed, at)).or_else(|| sum_of(typed, at - 1));
    let figures = figures.filter(|sum| is_bought(typed) && (sum.contains('.') || !typed.word(0).is_number()))?;
    if typed.words.iter().any(|word| word.quoted) {
        return None;
    }
    let said = typed.words.iter().filter(|word| word.text != figures && !word.is_one_of(&["at"]));
    let said = said.map(|word| word.text).collect::<Vec<_>>().join(" ");
    let slip = Slip::new(
        SUM_WITHOUT_FOR,
        0..typed.text.len(),
        format!("what is on the bill for yourself is a line `{figures} for home`"),
    );
    Some(slip.fix("write it so", format!("{figures} for home \"{said}\"")))
}

/// `groceries 22 private`, `22.00 groceries for me`
fn private_sum(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let private = (1..length).find(|at| typed.word(*at).is_one_of(&["private", "privately", "personal", "household"]))?;
    let sum = (0..length).find(|at| sum_of(typed, *at).is_some())?;
    let others: Vec<&str> = (0..length).filter(|at| *at != private && *at != sum).map(|at| typed.word(at).text).collect();
    let plain = |word: &&&str| !word.chars().any(|letter| letter.is_ascii_digit() || letter == '"') && **word != "for";
    let money = others.iter().filter(plain).count() == others.len() && others.len() <= 2;
    let figures = sum_of(typed, sum).filter(|_| is_bought(typed) && money)?;
    let remark = if others.is_empty() { String::new() } else { format!(" \"{}\"", others.join(" ")) };
    let right = format!("{figures} for home{remark}");
    let slip = Slip::new(
        SUM_WITHOUT_FOR,
        0..typed.text.len(),
        format!("what is on the bill for yourself is a line `{figures} for home`"),
    );
    Some(slip.fix("write it so", right))
}
