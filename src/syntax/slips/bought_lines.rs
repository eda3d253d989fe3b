//! Slips of purchases as they are spoken of: `15 lb rhubarb, free from the neighbour`, `kettle 340, lasts 5 years`, `groceries 22 private`.

use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::spoken_lines::is_spoiled_word;
use super::sums::{product, times};
use super::typed::{Typed, is_digits};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{OWN_LINE, SUM_WITHOUT_FOR};

pub(super) const RULES: &[SlipRule] =
    &[free_of_charge, lasts_years, private_sum, private_goods, half_for_home, some_broken, refund_on_the_bill];

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

/// `3 bags plaster for 61.00, half for home`: a half of the goods that the maker keeps
fn half_for_home(typed: &Typed<'_>) -> Option<Slip> {
    let at =
        (3..typed.words.len()).find(|at| typed.word(*at).is("half") && typed.word(at + 1).is_one_of(&["for", "is", "was"]))?;
    let home = typed.words.iter().skip(at).any(|word| word.is_one_of(&["home", "me", "myself", "private", "house"]));
    let (count, word, sum) = (typed.word(0).text, typed.word(at - 2), sum_of(typed, at - 1)?);
    if !is_bought(typed) || !home || !word.is_one_of(&["for", "at"]) {
        return None;
    }
    let whole = if word.is("at") { product(count, sum)? } else { sum.to_owned() };
    let (many, half) = (times(count, "0.5")?, product(&whole, "0.5")?);
    let goods = typed.slice(1..at - 2).trim_end_matches([',', ' ']);
    let slip = Slip::new(
        SUM_WITHOUT_FOR,
        typed.range(at..typed.words.len()),
        format!("what is on the bill for yourself is a line `{half} for home`"),
    );
    Some(slip.fix("a half for the shop, a half for home", format!("{many} {goods} for {half}\n{half} for home")))
}

/// `5 dozen wheels at 7.50, 4 split`: some of what came was broken
pub(super) fn some_broken(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 4)?;
    let (many, how) = (typed.word(last - 1), typed.word(last));
    let meant = is_bought(typed) && many.is_number() && is_spoiled_word(how.text) && typed.word(last - 2).comma;
    meant.then(|| {
        let front = typed.slice(0..last - 1).trim_end_matches([',', ' ']);
        let slip = Slip::new(OWN_LINE, typed.range(last - 1..last + 1), "what came broken is on the bill all the same");
        slip.note(format!("where it is thrown away, an entry of its own says so: `scrapped DATE` with a line `{} NAME \"{}\"`; what the supplier gives back for it is `credited DATE by NAME`", many.text, how.text))
            .fix("with the rest as a remark", format!("{front} \"{} {}\"", many.text, how.text))
    })
}

/// `refund 2.00` below `bought`: money that the supplier took off
fn refund_on_the_bill(typed: &Typed<'_>) -> Option<Slip> {
    let meant = is_bought(typed)
        && typed.word(0).is_one_of(&["refund", "refunded", "credit", "credited", "allowance"])
        && typed.words.len() == 2;
    let sum = sum_of(typed, 1).filter(|_| meant && !typed.word(0).is("credit"))?;
    let slip = Slip::new(OWN_LINE, 0..typed.text.len(), format!("what is taken off the bill is `discount {sum}`"));
    Some(
        slip.note("what comes back on another day is an entry of its own: `credited DATE by NAME`, and below it what it was for")
            .fix("write it so", format!("discount {sum}")),
    )
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
