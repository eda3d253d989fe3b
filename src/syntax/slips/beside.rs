//! Slips of sums and terms said behind goods where each is a line of its own: `1 stool 34.00 plus 6.00 shipping`, `2 stools at 18.00, net 30`,
//! `1 stool, refunded 32.00 plus tax 2.56, good`.

use super::how_paid::{HOW_IT_WAS_PAID, is_how_paid};
use super::paying::is_line_word;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::{Typed, is_digits};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{OWN_LINE, QUANTITY_FIRST};

pub(super) const RULES: &[SlipRule] = &[
    cash_beside_a_swap,
    fate_in_words,
    back_in_one_line,
    plus_a_sum,
    to_be_paid_later,
    barter_in_one_line,
    instead_of,
    half_price,
    said_behind,
];
/// Those that are tried where no other rule knows more.
pub(super) const END_RULES: &[SlipRule] = &[goods_without_count];

/// Whether a line is one of goods, or of a buyer, below a head of goods.
fn is_of_goods(typed: &Typed<'_>) -> bool {
    let first = typed.word(0);
    let begins = first.is_number() || first.is_fraction() || first.is("to");
    typed.is_detail() && begins && matches!(typed.verb(), Some(Verb::Bought | Verb::Sold | Verb::Returned | Verb::SentBack))
}

/// The line that a sum beside goods is: its word and where its figures stand, where that begins at a word: `6.00 shipping`, `shipping 6.00`.
fn sum_beside<'t>(typed: &Typed<'t>, at: usize) -> Option<(&'static str, &'t str)> {
    let line = |word: usize| {
        let word = typed.word(word);
        match typed.verb() {
            Some(Verb::Sold) if word.is_one_of(&["shipping", "freight", "delivery", "s&h"]) => Some("shipping"),
            Some(Verb::Sold) if word.is("postage") => Some("shipping"),
            Some(Verb::Bought) if word.is_one_of(&["shipping", "freight", "delivery", "postage", "s&h"]) => Some("freight"),
            _ if word.is_one_of(&["tax", "sales-tax", "salestax"]) => Some("sales-tax"),
            _ => None,
        }
    };
    let (first, second) = (at, at + 1);
    match (sum_of(typed, first), sum_of(typed, second)) {
        (Some(sum), None) => Some((line(second)?, sum)),
        (None, Some(sum)) => Some((line(first)?, sum)),
        _ => None,
    }
}

/// `1 stool 34.00 plus 6.00 shipping`, `2 bf oak at 5.00 and freight 4.00`
fn plus_a_sum(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let joins = |at: usize| typed.word(at).is_one_of(&["plus", "and", "+", "with", "&"]);
    let at = (2..length).find(|at| joins(*at) && is_of_goods(typed))?;
    let begins = at + 1;
    let (line, sum) = sum_beside(typed, begins).filter(|_| begins + 2 == length)?;
    let right = format!("{line} {sum}");
    let slip =
        Slip::new(OWN_LINE, typed.range(at..length), format!("what comes beside the goods is a line of its own: `{right}`"));
    let goods = typed.slice(0..at).trim_end_matches([',', ' ']);
    Some(slip.fix("begin a line with it", format!("{goods}\n{right}")))
}

/// `2 jar, credited 16.00, thrown away "leaking"`, `1 stool, cracked, refunded 70.00` below `returned`
fn fate_in_words(typed: &Typed<'_>) -> Option<Slip> {
    const GONE: [&str; 12] = [
        "thrown",
        "tossed",
        "trashed",
        "binned",
        "broken",
        "cracked",
        "damaged",
        "ruined",
        "destroyed",
        "split",
        "leaking",
        "chipped",
    ];
    let here = typed.is_detail() && typed.verb() == Some(Verb::Returned) && typed.word(0).is_number();
    let comma = (1..3).find(|at| typed.word(*at).comma).filter(|_| here)?;
    let length = typed.words.len();
    let memo = typed.words.last().filter(|word| word.quoted);
    let end = length - usize::from(memo.is_some());
    let (mut said, mut changed, mut scrapped, mut as_another) = (Vec::new(), false, None, false);
    let mut at = comma + 1;
    while at < end {
        let word = typed.word(at);
        let next = (at..end).find(|at| typed.word(*at).comma).map_or(end, |comma| comma + 1);
        let sum = (at..next).find_map(|at| sum_of(typed, at));
        match () {
            () if word.is_one_of(&GONE) => {
                scrapped = Some(typed.slice(at..next).trim_end_matches(','));
                changed = true;
            }
            () if word.is_one_of(&["credited", "credit", "refund", "refunding", "money"]) && sum.is_some() => {
                said.push(format!("refunded {}", sum.unwrap_or_default()));
                changed = true;
            }
            () if word.is("back") && typed.word(at + 1).is("as") => {
                scrapped = Some(typed.slice(at..next).trim_end_matches(','));
                as_another = true;
                changed = true;
            }
            () if word.is("restocked") || word.is_one_of(&["back", "put"]) && typed.slice(at..next).contains("shelf") => {
                said.push("back to stock".to_owned());
                changed = true;
            }
            () => said.push(typed.slice(at..next).trim_end_matches(',').to_owned()),
        }
        at = next;
    }
    if !changed {
        return None;
    }
    let remark = memo.map(|memo| memo.text.to_owned()).or_else(|| scrapped.map(|why| format!("\"{why}\"")));
    let goods = typed.slice(0..comma + 1).trim_end_matches([',', ' ']);
    if scrapped.is_some() && !said.iter().any(|one| one == "scrapped") {
        said.push("scrapped".to_owned());
    }
    let line =
        |said: &[String]| format!("{goods}, {} {}", said.join(", "), remark.clone().unwrap_or_default()).trim_end().to_owned();
    let message =
        "the money that goes back is `refunded 16.00`; the goods go `back to stock`, are `scrapped`, or are `left with buyer`";
    let slip = Slip::new(OWN_LINE, typed.range(comma + 1..length), message);
    let slip = match as_another {
        true => slip.note(
            "what is sold as a second then is another product: it comes in by `found DATE` with a line `1 NAME worth 5.00`",
        ),
        false => slip,
    };
    Some(slip.fix("write it so", line(&said)))
}

/// `gave 2 stool, 10.00 cash`, `got 1 bowl and 10.00 cash` below `swapped`
pub(super) fn cash_beside_a_swap(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Swapped) && typed.word(0).is_one_of(&["gave", "got"]);
    let at = (2..typed.words.len()).find(|at| {
        let money = sum_of(typed, *at).is_some() && typed.word(at + 1).is_one_of(&["cash", "money", "dollars"]);
        here && (money || typed.word(*at).is("cash") && sum_of(typed, at + 1).is_some())
    })?;
    let end = if typed.word(at - 1).is_one_of(&["and", "plus", "+", "&", "with"]) { at - 1 } else { at };
    let goods = typed.slice(0..end).trim_end_matches([',', ' ']);
    let note = match typed.word(0).text {
        "gave" => {
            "where money went beside the goods, what it bought is a purchase: `bought DATE from NAME`, with a part of what you got `for` that sum"
        }
        _ => {
            "where money came beside the goods, what it paid is a sale: `sold DATE via NAME`, with a part of what you gave `for` that sum"
        }
    };
    let slip = Slip::new(OWN_LINE, typed.range(end..at + 2), "a swap is goods for goods, and has no money").note(note);
    Some(slip.fix("without the money, which has its own entry", goods.to_owned()))
}

/// `1 stool, refunded 32.00 plus tax 2.56, good`: what came back, its tax, and what becomes of it
fn back_in_one_line(typed: &Typed<'_>) -> Option<Slip> {
    if typed.verb() != Some(Verb::Returned) || !is_of_goods(typed) {
        return None;
    }
    let length = typed.words.len();
    let refunded = (1..length).find(|at| typed.word(*at).is("refunded") && sum_of(typed, at + 1).is_some())?;
    let rest = refunded + 2;
    let plus = typed.word(rest).is_one_of(&["plus", "and", "+", "with"]);
    let tax = sum_beside(typed, rest + usize::from(plus)).filter(|(line, _)| *line == "sales-tax");
    let behind = if tax.is_some() { rest + usize::from(plus) + 2 } else { rest };
    let fate = match typed.words.get(behind..)? {
        [] if tax.is_some() => String::new(),
        [one] if one.is_one_of(&["good", "fine", "ok", "undamaged", "resellable", "sellable"]) => ", back to stock".to_owned(),
        [one] if one.is_one_of(&["broken", "damaged", "ruined", "bad"]) => ", scrapped".to_owned(),
        [.., last] if last.is_one_of(&["stock", "buyer", "scrapped"]) => format!(", {}", typed.slice(behind..length)),
        _ => return None,
    };
    let goods = format!("{}{fate}", typed.slice(0..rest).trim_end_matches([',', ' ']));
    let slip = match tax {
        Some(_) => Slip::new(OWN_LINE, typed.range(rest..behind), "tax that goes back is a line of its own"),
        None => Slip::new(
            OWN_LINE,
            typed.range(behind..length),
            "a returned piece goes `back to stock`, is `scrapped`, or is `left with buyer`",
        ),
    };
    let line = tax.map_or(goods.clone(), |(_, sum)| format!("{goods}\nsales-tax {sum}"));
    Some(slip.fix("write it so", line))
}

/// `2 stools at 18.00, net 30`, `to "the library", pays in 30 days`
fn to_be_paid_later(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let at = (2..length).find(|at| {
        let word = typed.word(*at);
        let days = |at: usize| {
            is_digits(typed.word(at).text) && (at + 1 == length || typed.word(at + 1).is_one_of(&["days", "day", "d"]))
        };
        match () {
            () if word.is("net") => days(at + 1),
            () if word.is_one_of(&["pay", "pays", "payable", "due", "paying"]) => {
                let small =
                    |at: &usize| typed.word(*at).is_one_of(&["in", "within", "by", "next", "end", "of", "on", "later", "the"]);
                (at + 1..length).all(|at| {
                    small(&at) || days(at) || typed.word(at).is_one_of(&["days", "month", "week"]) || typed.word(at).is_date()
                })
            }
            () => false,
        }
    })?;
    if !is_of_goods(typed) || !matches!(typed.verb(), Some(Verb::Bought | Verb::Sold)) {
        return None;
    }
    let slip = Slip::new(OWN_LINE, typed.range(at..length), "what is paid later has a line of its own: `unpaid`")
        .note("the day on which it is paid has an entry of its own then; the days allowed are not kept");
    let goods = typed.slice(0..at).trim_end_matches([',', ' ']);
    Some(slip.fix("write it so", format!("{goods}\nunpaid")))
}

/// `family album 280.00`, `loom second-hand 850` below `sold` or `bought`: a thing without its count, and its sum
fn goods_without_count(typed: &Typed<'_>) -> Option<Slip> {
    const SAID: [&str; 8] = ["second-hand", "secondhand", "used", "new", "old", "small", "large", "big"];
    let length = typed.words.len();
    // How it was paid is not kept of what is bought.
    let how = typed.verb() == Some(Verb::Bought) && length > 3 && is_how_paid(typed.word(length - 1).text);
    let length = length - usize::from(how) - usize::from(how && typed.word(length - 2).is_one_of(&["by", "in"]));
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Bought | Verb::Sold)) && (3..=4).contains(&length);
    let sum = sum_of(typed, length.checked_sub(1)?).filter(|_| here)?;
    let words = 0..length - 1;
    if words.clone().any(|at| !typed.word(at).is_name() || typed.word(at).comma || is_line_word(typed.word(at).text)) {
        return None;
    }
    let named: Vec<&str> = words.clone().map(|at| typed.word(at).text).filter(|word| !SAID.contains(word)).collect();
    let said: Vec<&str> = words.map(|at| typed.word(at).text).filter(|word| SAID.contains(word)).collect();
    let name = named.join("-").to_lowercase();
    if name.is_empty() {
        return None;
    }
    let remark = if said.is_empty() { String::new() } else { format!(" \"{}\"", said.join(" ")) };
    let slip = Slip::new(
        QUANTITY_FIRST,
        typed.range(0..length),
        format!("how many? goods are a count and one name: `1 {name} for {sum}`"),
    );
    let slip = if how { slip.note(HOW_IT_WAS_PAID) } else { slip };
    let slip = slip.fix("one piece of goods", format!("1 {name} for {sum}{remark}"));
    if said.iter().any(|said| said.ends_with("hand")) {
        return Some(slip);
    }
    Some(slip.fix("or money for work, or for an expense", format!("{sum} for {name}{remark}")))
}

/// `1 scarf for 30 instead of 75`, `2 stools at 40, was 50`: the price of before
fn instead_of(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let at = (3..length).find(|at| {
        let instead = typed.word(*at).is("instead") && typed.word(at + 1).is("of");
        let was = typed.word(*at).is_one_of(&["was", "formerly", "normally", "usually", "reg", "not"]);
        (instead || was) && sum_of(typed, length - 1).is_some() && at + 2 + usize::from(instead) == length
    })?;
    if !is_of_goods(typed) || typed.verb() != Some(Verb::Sold) {
        return None;
    }
    let said = typed.slice(at..length);
    let goods = typed.slice(0..at).trim_end_matches([',', ' ']);
    let slip = Slip::new(OWN_LINE, typed.range(at..length), "a line has the price that was paid; what it was before is a remark");
    Some(slip.fix("write it so", format!("{goods} \"{said}\"")))
}

/// `2 syrup at half price`, `6 salt at half price 3`
fn half_price(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let at = (2..length).find(|at| typed.word(*at).is("half") && typed.word(at + 1).is_one_of(&["price", "off", "priced"]))?;
    if !is_of_goods(typed) || typed.verb() != Some(Verb::Sold) {
        return None;
    }
    let begins = at - usize::from(typed.word(at - 1).is_one_of(&["at", "for"]));
    let goods = typed.slice(0..begins).trim_end_matches([',', ' ']);
    let slip = Slip::new(
        OWN_LINE,
        typed.range(begins..length),
        "a lower price is written on the line, as it was paid: `at 4.00` for each, or `for 8.00`",
    );
    // `1 duck at 17.00 half price`
    if begins > 3 && sum_of(typed, begins - 1).is_some() && typed.word(begins - 2).is_one_of(&["at", "for"]) {
        return Some(slip.fix("the price is there already", format!("{goods} \"half price\"")));
    }
    match typed.words.get(at + 2..)? {
        [] => {
            let slip =
                slip.note("SUM is what was paid for one; where all goods of the sale are cheaper, a line `discount 50%` says so");
            Some(slip.fix("with the price that was paid", format!("{goods} at SUM")))
        }
        [_] => {
            let sum = sum_of(typed, at + 2)?;
            let slip = slip.fix("the price of one", format!("{goods} at {sum}"));
            Some(slip.fix("the money for the whole line", format!("{goods} for {sum}")))
        }
        _ => None,
    }
}

/// `4 sheets board, short`, `12 labels, all there` below `counted`
fn said_behind(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Counted) && typed.word(0).is_number();
    let at = (1..typed.words.len().saturating_sub(1)).find(|at| typed.word(*at).comma)? + 1;
    let words = at..typed.words.len();
    if !here
        || words
            .clone()
            .any(|at| typed.word(at).comma || typed.word(at).quoted || !typed.word(at).text.chars().all(char::is_alphabetic))
    {
        return None;
    }
    let said = typed.slice(words.clone());
    let goods = typed.slice(0..at).trim_end_matches([',', ' ']);
    let slip = Slip::new(
        OWN_LINE,
        typed.range(words),
        "a count says what is there, and the book tells what is short; a remark stands in quotes",
    );
    Some(slip.fix("write it so", format!("{goods} \"{said}\"")))
}

/// `1 album for 6 sq ft calfskin worth 60.00` below `swapped`
fn barter_in_one_line(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    if typed.verb() != Some(Verb::Swapped) || !typed.is_detail() || !typed.word(0).is_number() {
        return None;
    }
    let at = (2..length).find(|at| typed.word(*at).is_one_of(&["for", "against", "="]) && typed.word(at + 1).is_number())?;
    let worth = (at + 2..length).find(|at| typed.word(*at).is_one_of(&["worth", "at", "for"]) && sum_of(typed, at + 1).is_some());
    let (end, sum) = match worth.filter(|worth| worth + 2 == length) {
        Some(worth) => (worth, format!(" for {}", sum_of(typed, worth + 1)?)),
        None if worth.is_none() => (length, String::new()),
        None => return None,
    };
    // `1 album for 60.00` is a price.
    if end < at + 3 {
        return None;
    }
    let (gave, got) = (typed.slice(0..at), typed.slice(at + 1..end));
    let slip =
        Slip::new(OWN_LINE, typed.range(0..length), "what was given and what was got are lines of their own: `gave` and `got`");
    Some(slip.fix("write it so", format!("gave {gave}\ngot {got}{sum}")))
}
