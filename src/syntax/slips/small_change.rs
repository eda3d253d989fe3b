//! Slips of a word too many, or in place of a figure, in lines of goods: `packed with a box`, `10 lb beeswax 95.00 total`, `about 100 lb wax`, `less 2.00`,
//! `640.00 reupholstery for wing chair`.

use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::slip_errors::{DETAIL_FORM, NUMBER_SPELLING, PRICE_WORDS, SUM_WITHOUT_FOR};

pub(super) const RULES: &[SlipRule] =
    &[packed_with_a, sum_in_all, one_or_other, for_all_of_them, free_of_charge, about, less_a_sum, sum_name_for];

/// `packed with a ship-box`
fn packed_with_a(typed: &Typed<'_>) -> Option<Slip> {
    let begins = typed.is_detail() && typed.word(0).is("packed") && typed.word(1).is_one_of(&["with", "in"]);
    let named = typed.word(2).is_one_of(&["a", "an", "one"]) && typed.word(3).is_name();
    (begins && named).then(|| {
        let slip = Slip::new(NUMBER_SPELLING, typed.range(2..3), "a count stands before what it was packed with: `1`");
        slip.fix("write it so", typed.with(1..3, "with 1"))
    })
}

/// `10 lb beeswax 95.00 total`, `3 boards 40.00 in all`
fn sum_in_all(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let last = length.checked_sub(1)?;
    let in_all = typed.word(last).is("all") && typed.word(last.checked_sub(1)?).is("in");
    let at = last.checked_sub(if in_all { 2 } else { 1 })?;
    let said = in_all || typed.word(last).is_one_of(&["total", "altogether", "together"]);
    let goods = matches!(typed.verb(), Some(Verb::Bought | Verb::Sold | Verb::Opened)) && typed.is_detail();
    let sum = sum_of(typed, at).filter(|_| said && goods && at > 1 && typed.word(0).is_number())?;
    let before = typed.word(at - 1);
    let end = if before.is_one_of(&["for", "at"]) { at - 1 } else { at };
    if !typed.word(end - 1).is_name() || (1..end).any(|at| typed.word(at).comma) {
        return None;
    }
    let right = format!("for {sum}");
    let slip =
        Slip::new(PRICE_WORDS, typed.range(end..length), format!("the money for the whole line is said with `for`: `{right}`"));
    Some(slip.fix("write it so", format!("{} {right}", typed.slice(0..end))))
}

/// `2 cart at 80.00 for both`, `3 stool 90.00 for the lot`: the money for all of them
fn for_all_of_them(typed: &Typed<'_>) -> Option<Slip> {
    const ALL: [&str; 7] = ["both", "all", "everything", "lot", "pair", "set", "three"];
    let last = typed.words.len().checked_sub(1)?;
    let article = usize::from(typed.word(last - usize::from(last > 0)).is_one_of(&["the", "all"]));
    let at = last.checked_sub(1 + article)?;
    let sum = sum_of(typed, at.checked_sub(1)?)?;
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Bought)) && typed.word(0).is_number();
    let said = typed.word(last).is_one_of(&ALL) && typed.word(at).is("for");
    let end = at - 1 - usize::from(at > 2 && typed.word(at - 2).is_one_of(&["at", "for"]));
    (here && said && end > 1).then(|| {
        let right = format!("for {sum}");
        let slip = Slip::new(
            PRICE_WORDS,
            typed.range(end..last + 1),
            format!("the money for the whole line is said with `for`: `{right}`"),
        );
        slip.fix("write it so", format!("{} {right}", typed.slice(0..end).trim_end_matches(',')))
    })
}

/// `free shipping` below `sold`
fn free_of_charge(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Bought)) && typed.words.len() == 2;
    let free = typed.words.iter().any(|word| word.is_one_of(&["free", "no"]));
    let what = typed.words.iter().any(|word| word.is_one_of(&["shipping", "postage", "delivery", "freight", "tax", "sales-tax"]));
    (here && free && what).then(|| {
        let slip = Slip::new(DETAIL_FORM, 0..typed.text.len(), "what cost nothing needs no line");
        slip.note("what you paid the carrier yourself is `postage 7.85`").fix("leave it out", "")
    })
}

/// `5 or 6 lip-balm`, `5 to 6 lip-balm`
fn one_or_other(typed: &Typed<'_>) -> Option<Slip> {
    let at = usize::from(typed.word(0).is_one_of(&["used", "made", "lost", "kept"]));
    let (one, other) = (typed.word(at), typed.word(at + 2));
    let parted = typed.word(at + 1).is_one_of(&["or", "to", "-"]) && typed.word(at + 3).is_name();
    (typed.is_detail() && one.is_number() && other.is_number() && parted).then(|| {
        let slip = Slip::new(
            NUMBER_SPELLING,
            typed.range(at..at + 3),
            "a quantity is one figure: the best that is known; a count later tells the rest",
        );
        let slip = slip.fix(format!("as {}", other.text), typed.with(at..at + 3, other.text));
        slip.fix(format!("or as {}", one.text), typed.with(at..at + 3, one.text))
    })
}

/// `about 100 lb soy-wax`, `used approx. 3 bf oak`
fn about(typed: &Typed<'_>) -> Option<Slip> {
    const ABOUT: [&str; 9] = ["about", "approx", "approx.", "approximately", "around", "roughly", "ca", "ca.", "circa"];
    let at = (0..2).find(|at| typed.word(*at).is_one_of(&ABOUT) && typed.word(at + 1).is_number())?;
    let listed = at == 0 || typed.word(0).is_one_of(&["used", "made", "lost", "kept", "took", "needs"]);
    (typed.is_detail() && listed).then(|| {
        let slip = Slip::new(
            NUMBER_SPELLING,
            typed.range(at..at + 1),
            "a quantity is a figure: what is not known to the last bit is written as the best that is known",
        )
        .note("a count later tells the rest");
        slip.fix("without the word", typed.with(at..at + 2, typed.word(at + 1).text))
    })
}

/// `less 2.00` below `sold` or `bought`
fn less_a_sum(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Bought | Verb::Sold)) && typed.words.len() == 2;
    let less = typed.word(0).is_one_of(&["less", "minus", "off", "reduction", "rebate"]);
    let figure = typed.word(1).text;
    let percent = figure.strip_suffix('%').is_some_and(super::typed::is_number);
    let sum = if percent { Some(figure) } else { sum_of(typed, 1) };
    let sum = sum.filter(|_| here && less)?;
    let right = format!("discount {sum}");
    let slip =
        Slip::new(DETAIL_FORM, typed.range(0..2), format!("what is taken off is a line `{right}`")).fix("write it so", right);
    // A tenth is off the price, a third and more is what a shop keeps.
    let much = figure.strip_suffix('%').and_then(|figure| figure.parse::<u32>().ok()).is_some_and(|figure| figure >= 30);
    if percent && much && typed.verb() == Some(Verb::Sold) {
        let (what, line) = slip.fixes.first().cloned()?;
        let slip = super::slip::Slip { fixes: Vec::new(), ..slip };
        return Some(
            slip.fix("where that is the channel's part, which its terms take off, leave it out", "")
                .fix(format!("or, off the price, {what}"), line),
        );
    }
    Some(if percent && typed.verb() == Some(Verb::Sold) {
        slip.fix("or, where that is the channel's part, which its terms take off, leave it out", "")
    } else {
        slip
    })
}

/// `640.00 reupholstery for wing chair` below `sold`
fn sum_name_for(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold);
    let cents = typed.word(0).text.split_once('.').is_some_and(|(_, cents)| cents.len() == 2);
    let sum = sum_of(typed, 0).filter(|_| here && cents && typed.word(1).is_name() && typed.word(2).is("for"))?;
    let said = typed.slice(3..typed.words.len());
    if said.is_empty() || said.contains('"') || (3..typed.words.len()).any(|at| typed.word(at).is_number()) {
        return None;
    }
    let name = typed.word(1).text;
    let slip = Slip::new(
        SUM_WITHOUT_FOR,
        typed.range(1..typed.words.len()),
        format!("an amount of money stands before `for`: `{sum} for {name}`"),
    );
    Some(slip.fix("write it so", format!("{sum} for {name} \"{said}\"")))
}
