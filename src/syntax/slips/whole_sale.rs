//! Slips of a whole sale on one line: `2 broadsides for 30.00, sales tax 2.40, paid by card, fee 1.10`.

use std::ops::Range;

use super::how_paid::is_how_paid;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::sums::{product, total};
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::slip_errors::OWN_LINE;

pub(super) const RULES: &[SlipRule] = &[on_one_line];

/// Lines of a sale or a purchase that are a word and a sum, and whether they lower what is paid; `None` where they don't change it.
const LINES: [(&str, Option<bool>); 9] = [
    ("sales-tax", Some(false)),
    ("shipping", Some(false)),
    ("freight", Some(false)),
    ("discount", Some(true)),
    ("postage", None),
    ("fee", None),
    ("cash", None),
    ("card", None),
    ("check", None),
];

/// `2 broadsides for 30.00, sales tax 2.40, paid by card, fee 1.10`
fn on_one_line(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Bought));
    let parts = parts(typed);
    let (goods, rest) = parts.split_first().filter(|(goods, rest)| here && !rest.is_empty() && goods.len() >= 2)?;
    if !typed.word(goods.start).is_number() {
        return None;
    }
    let mut lines = vec![typed.slice(goods.clone()).to_owned()];
    let mut sums: Vec<(String, bool)> = paid_for(typed, goods).map(|sum| (sum, false)).into_iter().collect();
    let known = sums.len() == 1;
    let mut by = None;
    for part in rest {
        match line(typed, part)? {
            Line::Sum(word, sum, lowers) => {
                lines.push(format!("{word} {sum}"));
                sums.extend(lowers.map(|lowers| (sum, lowers)));
            }
            Line::Paid(how) => {
                by = Some(how);
                lines.push(String::new());
            }
        }
    }
    if rest.len() == 1 && by.is_none() {
        return None;
    }
    // How much came by card is all that was paid.
    if let Some(how) = by {
        let all = total(sums.iter().map(|(sum, off)| (sum.as_str(), *off))).filter(|_| known);
        let said = match (how, typed.verb()) {
            ("", _) | (_, Some(Verb::Bought)) => "paid".to_owned(),
            (how, _) => format!("{how} {}", all.as_deref().unwrap_or("SUM")),
        };
        lines.iter_mut().filter(|line| line.is_empty()).for_each(|line| line.clone_from(&said));
    }
    let behind = typed.range(goods.end..typed.words.len());
    Some(Slip::new(OWN_LINE, behind, "each of these is a line of its own").fix("begin a line with each", lines.join("\n")))
}

/// What stands between the commas.
fn parts(typed: &Typed<'_>) -> Vec<Range<usize>> {
    let mut parts = Vec::new();
    let mut start = 0;
    for at in 0..typed.words.len() {
        if typed.word(at).comma || at + 1 == typed.words.len() {
            parts.push(start..at + 1);
            start = at + 1;
        }
    }
    parts
}

/// What was paid for goods, where their line says it.
fn paid_for(typed: &Typed<'_>, goods: &Range<usize>) -> Option<String> {
    let word = (goods.start..goods.end).find(|at| typed.word(*at).is_one_of(&["for", "at"]))?;
    let sum = sum_of(typed, word + 1).filter(|_| word + 2 == goods.end)?;
    match typed.word(word).is("at") {
        true => product(typed.word(goods.start).text, sum).filter(|_| word == goods.start + 2),
        false => Some(sum.to_owned()),
    }
}

/// A part of the line as a line.
enum Line {
    /// A word, its sum, and whether that lowers what is paid.
    Sum(&'static str, String, Option<bool>),
    /// How it was paid.
    Paid(&'static str),
}

fn line(typed: &Typed<'_>, part: &Range<usize>) -> Option<Line> {
    let word = |at: usize| typed.word(part.start + at);
    let two_words = word(0).is("sales") && word(1).is("tax");
    let name = if two_words || word(0).is("tax") { "sales-tax".to_owned() } else { word(0).text.to_lowercase() };
    let behind = part.start + 1 + usize::from(two_words);
    if let Some((known, lowers)) = LINES.iter().find(|(known, _)| *known == name) {
        let sum = sum_of(typed, behind).filter(|_| behind + 1 == part.end);
        if let Some(sum) = sum {
            return Some(Line::Sum(known, sum.to_owned(), *lowers));
        }
    }
    let last = typed.word(part.end.checked_sub(1)?);
    let small = |at: usize| typed.word(at).is_one_of(&["paid", "by", "in", "with"]);
    let before = (part.start..part.end - 1).all(small);
    Some(Line::Paid(match () {
        () if !before => return None,
        () if last.is("paid") => "",
        () if last.is("cash") => "cash",
        () if last.is("card") => "card",
        () if last.is_one_of(&["check", "cheque"]) => "check",
        () if is_how_paid(last.text) => "",
        () => return None,
    }))
}
